"""Machines: spells that are joined, kept or handed back, and the cheapest of them."""

from __future__ import annotations

from types import SimpleNamespace

import pytest

from budget.decide.model.model import Model
from budget.decide.terms.situation import Situation
from budget.decide.terms.spells import spell_ways
from budget.decide.terms.work import days_on

STEPS = ["Dig", "Spoil", "Base", "Lay", "Joint"]


@pytest.fixture
def situation(make: SimpleNamespace) -> Situation:
    takeoff = make.takeoff([], [make.amount(step, 10.0) for step in STEPS])
    return Situation(takeoff, make.options(), "sand", frozenset())


def test_uses_with_no_step_between_are_one_spell(situation: Situation) -> None:
    assert list(spell_ways(situation, ["Dig", "Spoil"])) == [(("Dig", "Spoil"),)]


def test_over_a_gap_the_machine_is_handed_back_or_kept(situation: Situation) -> None:
    assert list(spell_ways(situation, ["Dig", "Spoil", "Lay"])) == [
        (("Dig", "Spoil"), ("Lay",)),
        (("Dig", "Spoil", "Lay"),),
    ]
    assert len(list(spell_ways(situation, ["Dig", "Base", "Joint"]))) == 4


@pytest.mark.parametrize(
    ("lay_rate", "transport", "spells", "cash"),
    [
        # Base 4 h and Joint 4 h: half a day each. Lay between takes 4 h: half a day.
        # Kept: 1.5 days = day + 4 hours = 110.00, once 50.00 there and back -> 160.00
        # Twice: 2 x 40.00 + 2 x 50.00 = 180.00
        pytest.param(0.4, 5000, 1, 16000, id="kept over a short gap"),
        # Lay takes 40 h: five days; kept would be six days at 70.00
        pytest.param(4.0, 5000, 2, 18000, id="handed back over a long gap"),
        # Without transport two times 40.00 beat 110.00
        pytest.param(0.4, 0, 2, 8000, id="handed back where coming costs nothing"),
    ],
)
def test_kept_or_handed_back(
    make: SimpleNamespace, lay_rate: float, transport: float, spells: int, cash: int
) -> None:
    steps = [make.amount("Base", 4.0), make.amount("Lay", 10.0), make.amount("Joint", 4.0)]
    options = make.options(
        methods=[
            make.method("Base", "roll", 1.0, machine="Compactor"),
            make.method("Lay", "by hand", lay_rate),
            make.method("Joint", "roll", 1.0, machine="Compactor"),
        ],
        machines=[
            make.machine("Compactor", "rent", terms=[("4 hours", 4000, 0.5), ("day", 7000, 1)],
                         per_spell=transport),
        ],
    )  # fmt: skip
    situation = Situation(make.takeoff([], steps), options, "sand", frozenset())
    solved = Model(situation).solve(2000.0)
    assert solved is not None
    assert solved.priced.cash == cash
    assert len(solved.priced.hires[0].spells) == spells


def test_short_working_days_stretch_a_hire(make: SimpleNamespace) -> None:
    # 8 machine hours, but only 4 own hours a day: two days out, not one
    steps = [make.amount("Dig", 8.0)]
    options = make.options(
        methods=[make.method("Dig", "loader", 1.0, machine="Loader")],
        machines=[make.machine("Loader", "rent", terms=[("day", 9000, 1)])],
        hours_per_day=4,
    )
    situation = Situation(make.takeoff([], steps), options, "sand", frozenset())
    solved = Model(situation).solve(2000.0)
    assert solved is not None
    assert solved.priced.cash == 18000


def test_one_machine_bought_serves_two_steps(make: SimpleNamespace) -> None:
    # hired: 2 x 60.00; bought once for 100.00
    steps = [make.amount("Base", 4.0), make.amount("Lay", 80.0), make.amount("Joint", 4.0)]
    options = make.options(
        methods=[
            make.method("Base", "roll", 1.0, machine="Compactor"),
            make.method("Lay", "by hand", 1.0),
            make.method("Joint", "roll", 1.0, machine="Compactor"),
        ],
        machines=[
            make.machine("Compactor", "rent", terms=[("day", 6000, 1)]),
            make.machine("Compactor", "buy", once=10000),
        ],
    )
    situation = Situation(make.takeoff([], steps), options, "sand", frozenset())
    solved = Model(situation).solve(2000.0)
    assert solved is not None
    assert solved.priced.plan.machines == {"Compactor": "buy"}
    assert solved.priced.cash == 10000


def test_a_machine_that_runs_now_and_then_is_wanted_for_all_of_its_step(
    make: SimpleNamespace,
) -> None:
    """Base takes 20 h, at 8 h a day 2.5 days, and its plate runs 4 h: 2.5 days at 70.00 a day.

    A plate that runs the whole 20 h costs the same, but not more.
    """
    machines = [
        make.machine("Plate", "rent", terms=[("4 hours", 4000, 0.5), ("day", 7000, 1)]),
    ]
    found = []
    for rate in (0.2, None):
        takeoff = make.takeoff([], [make.amount("Base", 20.0)])
        method = make.method("Base", "plate", 1.0, machine="Plate", machine_rate=rate)
        options = make.options(methods=[method], machines=machines, hours_per_day=8)
        (priced,) = make.all_priced(Situation(takeoff, options, "sand", frozenset()))
        solved = Model(Situation(takeoff, options, "sand", frozenset())).solve(2000.0, {})
        assert solved is not None
        assert solved.priced.cash == priced.cash
        found.append((priced.cash, priced.hires[0].spells))
    # two days and a half: 2 x 70.00 + 40.00
    assert found == [(18000, ("Base: 2.5 days",))] * 2


def test_a_machine_waits_for_the_fastest_own_way_of_a_step(make: SimpleNamespace) -> None:
    """10 m³ at 1 h or at half an hour each: 5 h are the fastest, of 8 h a day 0.625 days."""
    ways = [make.method("Dig", "by hand", 1.0), make.method("Dig", "with a digger", 0.5)]
    options = make.options(methods=ways)
    found = Situation(make.takeoff([], [make.amount("Dig", 10.0)]), options, "sand", frozenset())
    assert days_on(found, "Dig", None).value * options.hours_per_day.value == pytest.approx(5)
    assert days_on(found, "Dig", ways[0]).value * options.hours_per_day.value == pytest.approx(10)
