"""Machines: spells that are joined, kept or handed back, and the cheapest of them."""

from __future__ import annotations

from dataclasses import replace
from types import SimpleNamespace

import pytest

from budget.decide.model.model import Model
from budget.decide.terms.situation import Situation
from budget.decide.terms.spells import hired, out_at_least, spell_days, spell_ways
from budget.decide.terms.work import MachineUse, days_on
from budget.figures import Figure
from budget.prices.options import DaysOut
from budget.units import DAYS

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
        # 110.00 + 30.00 kept, 2 x 40.00 + 2 x 30.00 handed back: it need not stand about
        pytest.param(0.4, 3000, 2, 14000, id="handed back where both cost the same"),
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


@pytest.mark.parametrize(
    ("coming", "saw", "cash", "spells"),
    [
        # kept for half a day, two and half a day: 3 x 70.00 + 150.00, and 2 x 190.00 handed back
        pytest.param(15000, 10000, 36000, 1, id="kept through a slow step"),
        # kept for two days: 2 x 70.00 + 150.00, and the saw for 50.00
        pytest.param(15000, 5000, 34000, 1, id="kept through a step that is hastened"),
        # 3 x 70.00 + 100.00 kept, 2 x 140.00 handed back
        pytest.param(10000, 10000, 28000, 2, id="handed back"),
    ],
)
def test_how_long_a_kept_machine_waits_is_chosen_with_it(
    make: SimpleNamespace, coming: int, saw: int, cash: int, spells: int
) -> None:
    """Base and Joint take a plate for half a day each, Lay between two days, or one with a saw."""
    steps = [make.amount("Base", 4.0), make.amount("Lay", 16.0), make.amount("Joint", 4.0)]
    options = make.options(
        methods=[
            make.method("Base", "roll", 1.0, machine="Plate"),
            make.method("Lay", "by hand", 1.0), make.method("Lay", "saw", 0.5, machine="Saw"),
            make.method("Joint", "roll", 1.0, machine="Plate"),
        ],
        machines=[
            make.machine("Plate", "rent", terms=[("4 hours", 4000, 0.5), ("day", 7000, 1)],
                         per_spell=coming),
            make.machine("Saw", "buy", once=saw),
        ],
    )  # fmt: skip
    solved = Model(Situation(make.takeoff([], steps), options, "sand", frozenset())).solve(0.0)
    assert solved is not None
    assert solved.priced.cash == cash
    (plate,) = [hire for hire in solved.priced.hires if hire.equipment == "Plate"]
    assert len(plate.spells) == spells


@pytest.mark.parametrize(
    ("weight", "cash"),
    [(2000.0, 4000), (2001.0, 7000), (6000.0, 11000), (400000.0, 700000)],
)
def test_a_loader_that_carries_is_paid_for_the_time_that_its_load_takes(
    make: SimpleNamespace, weight: float, cash: int
) -> None:
    """0.002 h a kilogram: half a day of 40.00 for two tonnes, a day of 70.00 for four.

    It burns no fuel, so that a hundred days cost no cent more.
    """
    options = make.options(
        offers=[make.offer("Bowl", "North", 0, measure="count", per="each", weight=weight)],
        routes=[make.drop("North", 0)],
        methods=[make.method("Carry", "loader", 0.002, machine="Loader")],
        machines=[make.machine("Loader", "rent", terms=[("4 hours", 4000, 0.5), ("day", 7000, 1)])],
    )
    needs = [make.need("Bowl", "Build", {"count": 1}, weight=weight)]
    solved = Model(Situation(make.takeoff(needs, []), options, "sand", frozenset())).solve(0.0)
    assert solved is not None
    assert solved.priced.cash == cash


@pytest.mark.parametrize(
    ("out", "days", "cash"),
    [
        ((), 1.0, 12000),  # its own hours: a day and once coming
        ((2.0, 3.0), 5.0, 45000),  # two spells of the calendar: 5 x 70.00 and twice coming
        ((3.0,), 3.0, 26000),
        ((1.0,), 1.0, 12000),  # as long as its own hours
    ],
)
def test_a_hire_is_paid_as_the_working_days_fall_where_that_is_longer(
    make: SimpleNamespace, out: tuple[float, ...], days: float, cash: int
) -> None:
    plate = make.machine("Plate", "rent", terms=[("day", 7000, 1)], per_spell=5000)
    used = DaysOut("Plate", "rent", frozenset(("Base",)), out)
    options = make.options(
        methods=[make.method("Base", "plate", 1.0, machine="Plate")], machines=[plate]
    )
    options = replace(options, days_out=(used,) if out else ())
    situation = Situation(
        make.takeoff([], [make.amount("Base", 8.0)]), options, "sand", frozenset()
    )
    found = hired(situation, plate, {"Base": MachineUse(make.fig(8, make.HOURS), None)}, _never)
    assert sum(figure.value for figure in found.days) == days
    assert found.cash.value == cash
    solved = Model(situation).solve(0.0)
    assert solved is not None
    assert solved.priced.cash == cash


def _never(step: str) -> Figure:
    raise AssertionError(step)


def test_days_of_the_calendar_that_cost_no_more_change_no_hire(make: SimpleNamespace) -> None:
    """Five days of use are a week's 300.00 already, as are six on the calendar."""
    plate = make.machine("Plate", "rent", terms=[("day", 7000, 1), ("week", 30000, 7)])
    used = DaysOut("Plate", "rent", frozenset(("Base",)), (6.0,))
    options = replace(make.options(machines=[plate]), days_out=(used,))
    situation = Situation(make.takeoff([], []), options, "sand", frozenset())
    found = hired(situation, plate, {"Base": MachineUse(make.fig(40, make.HOURS), None)}, _never)
    assert (found.cash.value, [figure.value for figure in found.days]) == (30000, [5.0])


def test_a_machine_is_there_as_long_as_each_of_its_steps_goes_on(make: SimpleNamespace) -> None:
    """It runs all of the 4 h of one, and 2 of the 10 h of another: 14 h of 8 are 1.75 days.

    An hour of carrying and a day on which it stands idle come on top.
    """
    plate = make.machine("Plate", "rent", terms=[("day", 7000, 1)])
    uses = {
        "Base": MachineUse(make.fig(4.0, make.HOURS), None),
        "Joint": MachineUse(make.fig(2.0, make.HOURS), make.fig(10.0, make.HOURS)),
    }
    options = make.options(machines=[plate])
    assert spell_days(plate, options, uses, []).value == pytest.approx(1.75)
    uses["Carry"] = MachineUse(make.fig(1.0, make.HOURS), None)
    idle = [make.fig(1.0, DAYS)]
    assert spell_days(plate, options, uses, idle).value == pytest.approx(1.75 + 0.125 + 1.0)


@pytest.mark.parametrize(
    ("equipment", "way", "steps", "days"),
    [
        ("Plate", "rent", ("Base", "Joint"), (2.0, 3.0)), ("Plate", "rent", ("Base",), ()),
        ("Plate", "borrow", ("Base", "Joint"), ()), ("Roller", "rent", ("Base", "Joint"), ()),
    ],
)  # fmt: skip
def test_days_of_the_calendar_are_those_of_one_machine_for_its_steps(
    make: SimpleNamespace, equipment: str, way: str, steps: tuple[str, ...], days: tuple[float, ...]
) -> None:
    plate = make.machine("Plate", "rent", terms=[("day", 7000, 1)])
    out = DaysOut(equipment, way, frozenset(steps), (2.0, 3.0))
    options = replace(make.options(machines=[plate]), days_out=(out,))
    found = out_at_least(plate, options, ["Joint", "Base"])
    assert tuple(figure.value for figure in found) == days


HALF_DAYS = [("4 hours", 4000, 0.5), ("day", 7000, 1)]


def test_a_machine_that_does_not_fit_through_the_way_in_is_not_used(make: SimpleNamespace) -> None:
    """Ten hours by hand, where a digger for nothing would take one."""
    ways = [make.method("Dig", "by hand", 10.0), make.method("Dig", "d", 1.0, machine="Digger")]
    options = make.options(methods=ways, machines=[make.machine("Digger", "lent", fits=False)])
    takeoff = make.takeoff([], [make.amount("Dig", 1.0)])
    solved = Model(Situation(takeoff, options, "sand", frozenset())).solve(2000.0)
    assert solved is not None
    assert (solved.priced.own_hours, solved.priced.plan.machines) == (10.0, {})


def test_one_machine_is_had_in_one_way_for_all_its_steps(make: SimpleNamespace) -> None:
    """Half a day for Base and two and a half for Joint, with ten days of laying between.

    By half days at 30.00: 30.00 and 150.00. Lent at 5.00 and 50.00 to come each time: 55.00 and
    75.00. For Base the one and for Joint the other would be 105.00.
    """
    amounts = {"Base": 4.0, "Lay": 80.0, "Joint": 20.0}
    options = make.options(
        methods=[
            make.method(step, "a way", 1.0, machine="" if step == "Lay" else "Plate")
            for step in amounts
        ],
        machines=[
            make.machine("Plate", "rent", terms=[("4 hours", 3000, 0.5)]),
            make.machine("Plate", "lent", terms=[("4 hours", 500, 0.5)], per_spell=5000),
        ],
    )  # fmt: skip
    takeoff = make.takeoff([], [make.amount(step, hours) for step, hours in amounts.items()])
    solved = Model(Situation(takeoff, options, "sand", frozenset())).solve(0.0)
    assert solved is not None
    assert (solved.priced.cash, solved.priced.plan.machines) == (13000, {"Plate": "lent"})


def test_a_machine_is_paid_for_the_steps_that_use_it_and_no_others(make: SimpleNamespace) -> None:
    """As the working days fall Base alone keeps a plate three days: 210.00 and 50.00 to come.

    With Joint, which a crew does for nothing, nobody looked at the days: two, 190.00, but eight
    hours more at 20.00.
    """
    plate = make.machine("Plate", "rent", terms=[("day", 7000, 1)], per_spell=5000)
    options = make.options(
        methods=[make.method(step, "plate", 1.0, machine="Plate") for step in ("Base", "Joint")],
        machines=[plate], bids=[make.bid("Crew", ["Joint"], 0)],
    )  # fmt: skip
    out = DaysOut("Plate", "rent", frozenset(("Base",)), (3.0,))
    takeoff = make.takeoff([], [make.amount("Base", 8.0), make.amount("Joint", 8.0)])
    situation = Situation(takeoff, replace(options, days_out=(out,)), "sand", frozenset())
    solved = Model(situation).solve(2000.0)
    assert solved is not None
    assert (solved.priced.cash, solved.priced.own_hours) == (26000, 8.0)


def test_a_kept_machine_waits_for_a_crew_as_for_the_fastest_own_way(make: SimpleNamespace) -> None:
    """Half a day for Base and for Joint. A crew lays for 20.00, in no more than the day and a half
    of a saw.

    Kept two days and a half with the crew it is 180.00 and 150.00 to come; three days with two by
    hand 360.00, two and a half with a saw for 100.00 430.00, and 380.00 handed back.
    """
    options = make.options(
        methods=[
            make.method("Base", "roll", 1.0, machine="Plate"),
            make.method("Lay", "by hand", 1.0), make.method("Lay", "saw", 0.75, machine="Saw"),
            make.method("Joint", "roll", 1.0, machine="Plate"),
        ],
        machines=[
            make.machine("Plate", "rent", terms=HALF_DAYS, per_spell=15000),
            make.machine("Saw", "buy", once=10000),
        ],
        bids=[make.bid("Crew", ["Lay"], 2000)],
    )  # fmt: skip
    steps = [make.amount("Base", 4.0), make.amount("Lay", 16.0), make.amount("Joint", 4.0)]
    solved = Model(Situation(make.takeoff([], steps), options, "sand", frozenset())).solve(0.0)
    assert solved is not None
    assert solved.priced.cash == 2000 + 18000 + 15000
    assert solved.priced.plan.steps["Lay"] == "bid: Crew"


def test_kept_over_one_gap_and_handed_back_over_another(make: SimpleNamespace) -> None:
    """Half a day each for Dig, Base and Joint; a day of spoil before Base, ten of laying after.

    Kept two days and half a day, 180.00, it comes twice, 300.00; three times it is 120.00 and
    450.00. A barrow for 500.00 would save half a day of the spoil.
    """
    options = make.options(
        methods=[
            *(make.method(s, "p", 1.0, machine="Plate") for s in ("Dig", "Base", "Joint")),
            make.method("Spoil", "by hand", 2.0),
            make.method("Spoil", "barrow", 1.0, machine="Barrow"),
            make.method("Lay", "by hand", 1.0),
        ],
        machines=[
            make.machine("Plate", "rent", terms=HALF_DAYS, per_spell=15000),
            make.machine("Barrow", "buy", once=50000),
        ],
    )  # fmt: skip
    hours = {"Dig": 4.0, "Spoil": 4.0, "Base": 4.0, "Lay": 80.0, "Joint": 4.0}
    takeoff = make.takeoff([], [make.amount(step, each) for step, each in hours.items()])
    solved = Model(Situation(takeoff, options, "sand", frozenset())).solve(0.0)
    assert solved is not None
    assert solved.priced.cash == 18000 + 30000
    assert len(solved.priced.hires[0].spells) == 2


@pytest.mark.parametrize(("saw", "cash", "lay"), [(50000, 12000, "by hand"), (2000, 11000, "saw")])
def test_a_machine_that_is_not_kept_hurries_nobody(
    make: SimpleNamespace, saw: int, cash: int, lay: str
) -> None:
    """3.8 h for Base and for Joint: two half days are 80.00 and 40.00 to come; kept for a day
    90.00, which leaves 0.4 h to lay between. By hand laying takes 16.2 h, with a saw 0.2 h.
    """
    options = make.options(
        methods=[
            make.method("Base", "roll", 1.0, machine="Plate"),
            make.method("Lay", "by hand", 16.2), make.method("Lay", "saw", 0.2, machine="Saw"),
            make.method("Joint", "roll", 1.0, machine="Plate"),
        ],
        machines=[
            make.machine("Plate", "rent", terms=HALF_DAYS, per_spell=2000),
            make.machine("Saw", "buy", once=saw),
        ],
    )  # fmt: skip
    steps = [make.amount("Base", 3.8), make.amount("Lay", 1.0), make.amount("Joint", 3.8)]
    solved = Model(Situation(make.takeoff([], steps), options, "sand", frozenset())).solve(0.0)
    assert solved is not None
    assert (solved.priced.cash, solved.priced.plan.steps["Lay"]) == (cash, f"own: {lay}")


def test_a_loader_is_paid_for_all_that_it_carries_from_everywhere(make: SimpleNamespace) -> None:
    """Three tonnes on the drive, two in the street and one of those: 12 h of 8, two half days and
    a day; beside 2 h of digging with it 14 h, which is as long."""
    weights = {"Bowl": 3000.0, "Bench": 2000.0, "Step": 1000.0}
    options = make.options(
        offers=[
            make.offer(item, item, 0, measure="count", per="each", weight=kg)
            for item, kg in weights.items()
        ],
        routes=[
            make.drop("Bowl", 0), make.drop("Bench", 0, point="street"),
            make.drop("Step", 0, point="street"),
        ],
        methods=[
            make.method("Dig", "loader", 1.0, machine="Loader"),
            make.method("Carry", "loader", 0.002, machine="Loader"),
        ],
        machines=[make.machine("Loader", "rent", terms=HALF_DAYS)],
    )  # fmt: skip
    needs = [make.need(i, "Build", {"count": 1}, weight=kg) for i, kg in weights.items()]
    for dug, cash in ((2.0, 14000), (None, 11000)):
        takeoff = make.takeoff(needs, [make.amount("Dig", dug)] if dug else [])
        solved = Model(Situation(takeoff, options, "sand", frozenset())).solve(0.0)
        assert solved is not None
        assert solved.priced.cash == cash
