"""Lines of machines, helpers, soil and the checklist beside crews: single rules, by hand."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from types import SimpleNamespace

import pytest

from budget.decide.plan import Priced
from budget.decide.terms.situation import Situation
from budget.prices.options import Answer


@pytest.mark.parametrize(
    ("base", "joint", "spells"),
    [
        # the plate runs 2 h for each of 4 m³ and 0.1 h for each of 30 m², eight hours a day
        (True, True, None),
        (False, True, ("Base: 1 day",)),
        (True, False, ("Joint: 0.4 days",)),
        (False, False, ("Base: 1 day", "Joint: 0.4 days")),
    ],
)
def test_a_crew_without_machines_has_the_use_of_ours(
    make: SimpleNamespace, base: bool, joint: bool, spells: tuple[str, ...] | None
) -> None:
    """Whether each of two crews brings its own; the laying between them is done by hand."""
    takeoff = make.takeoff([], [make.amount("Base", 4.0), make.amount("Lay", 30.0),
                                make.amount("Joint", 30.0)])  # fmt: skip
    options = make.options(
        methods=[make.method("Base", "plate", 1.5, machine="Plate", machine_rate=2.0),
                 make.method("Lay", "by hand", 1.0),
                 make.method("Joint", "plate", 0.01, machine="Plate", machine_rate=0.1)],
        bids=[make.bid("Ground crew", ["Base"], 5000, equipment=base),
              make.bid("Joint crew", ["Joint"], 3000, equipment=joint)],
        machines=[make.machine("Plate", "borrow", fuel=300)],
    )  # fmt: skip
    found = make.all_priced(Situation(takeoff, options, "sand", frozenset()))
    ways = {"Base": "bid: Ground crew", "Lay": "own: by hand", "Joint": "bid: Joint crew"}
    (hired,) = (p for p in found if p.plan.steps == ways)
    assert [h.spells for h in hired.hires] == ([spells] if spells else [])
    # fuel at 3.00 for each hour that it runs
    lines = {x.name: (x.cash, x.quantity) for x in hired.lines}
    running = 8 * (not base) + 3 * (not joint)
    assert lines.get("Plate") == ((300 * running, "borrow") if running else None)


@pytest.mark.parametrize(
    ("hours", "days", "words"), [(3.0, 0.4, "0.4 days"), (8.0, 1.0, "1 day"), (11.0, 1.4, "1.4")]
)
def test_days_of_a_machine_are_told_to_a_tenth(
    make: SimpleNamespace, hours: float, days: float, words: str
) -> None:
    """Three hours of eight are 0.375 of a day, eleven 1.375."""
    takeoff = make.takeoff([], [make.amount("Base", 2.0)])
    options = make.options(
        methods=[make.method("Base", "plate", hours / 2, machine="Plate")],
        machines=[make.machine("Plate", "borrow")],
    )
    (found,) = make.all_priced(Situation(takeoff, options, "sand", frozenset()))
    (hire,) = found.hires
    assert hire.days == days
    assert hire.spells[0].startswith(f"Base: {words}")


@pytest.mark.parametrize("pay", [1800, None])
def test_helpers_are_paid_or_their_pay_is_missing(make: SimpleNamespace, pay: int | None) -> None:
    """Seven hours shared by two, one of them paid: 3.5 h at 18.00."""
    takeoff = make.takeoff([], [make.amount("Dig", 3.5)])
    options = make.options(
        methods=[make.method("Dig", "by hand", 2.0, people=2)], paid_helpers=1, helper_pay=pay
    )
    (found,) = make.all_priced(Situation(takeoff, options, "sand", frozenset()))
    told = [(x.cash, x.group) for x in found.lines if x.name == "Helpers' pay"]
    assert told == ([(6300, "Helpers")] if pay else [])
    assert [m.what for m in found.missing] == ([] if pay else ["Helpers' pay"])


@pytest.mark.parametrize("taken", [("Dig", "Spoil"), ("Dig",)])
def test_soil_that_a_crew_takes_away_costs_nothing_more(
    make: SimpleNamespace, taken: Sequence[str]
) -> None:
    """4 m³ in boxes of 5 at 90.00."""
    takeoff = make.takeoff([], [make.amount("Dig", 3.0), make.amount("Spoil", 4.0)], spoil=4.0)
    options = make.options(
        methods=[make.method("Dig", "by hand", 2.0), make.method("Spoil", "barrow", 0.5)],
        bids=[make.bid("Crew", taken, 5000), make.bid("Another", ["Dig"], 7000)],
        disposal=[make.disposal("box", 9000)],
    )
    hired = [
        p for p in make.all_priced(Situation(takeoff, options, "sand", frozenset()))
        if p.plan.steps["Dig"] == "bid: Crew"
    ]  # fmt: skip
    assert [p.cash for p in hired] == [5000 if "Spoil" in taken else 14000]


def _asked(make: SimpleNamespace, price: int | None, *asked: int | None) -> Priced:
    """A permit beside two crews that ask so much for it, nothing, or say no."""
    steps = ("Dig", "Base")
    takeoff = make.takeoff([], [make.amount(step, 3.0) for step in steps])
    bids = [
        replace(
            make.bid(f"{step} crew", [step], 5000),
            scope=(Answer("Permit", "no" if n is None else "extra",
                            None if n is None else make.cash(n)),),
        )
        for step, n in zip(steps, asked, strict=True)
    ]  # fmt: skip
    line = make.check_line("Permit", "priced" if price is not None else "to price", price)
    options = make.options(bids=bids, checklist=[line])
    found = make.all_priced(Situation(takeoff, options, "sand", frozenset()))
    (both,) = (p for p in found if len(set(p.plan.steps.values())) == 2)
    return both  # type: ignore[no-any-return]


@pytest.mark.parametrize(
    ("price", "asked", "cash", "of_whom"),
    [
        (7500, (7500, None), 7500, ""),  # no crew is asked to do what costs as much without
        (7500, (7499, None), 7499, "extra to Dig crew"),
        (7500, (6000, 5000), 5000, "extra to Base crew"),
        (7500, (6000, 6000), 6000, "extra to Base crew"),  # of two alike the first by name
        (7500, (None, None), 7500, ""),
        (None, (None, 9000), 9000, "extra to Base crew"),
    ],
)
def test_a_cost_line_is_had_of_whoever_asks_least(
    make: SimpleNamespace, price: int | None, asked: tuple[int | None, int | None], cash: int,
    of_whom: str,
) -> None:  # fmt: skip
    lines = _asked(make, price, *asked).lines
    assert [(x.cash, x.quantity) for x in lines if x.name == "Permit"] == [(cash, of_whom)]


@pytest.mark.parametrize(("ways", "hours"), [(["by hand"], 1.0), ([], None)])
def test_a_base_made_thinner_by_a_crew_is_made_up_beside_it(
    make: SimpleNamespace, ways: Sequence[str], hours: float | None
) -> None:
    """5 cm are missing under 20 m²: 1 m³ at an hour; nobody knows the hours of what has no way."""
    takeoff = make.takeoff([], [make.amount("Base", 3.0)], base_depth=0.15)
    thin = replace(make.bid("Crew", ["Base"], 90000), base_depth=make.fig(0.10, make.DEPTH))
    options = make.options(methods=[make.method("Base", w, 1.0) for w in ways], bids=[thin])
    found = make.all_priced(Situation(takeoff, options, "sand", frozenset()))
    (hired,) = (p for p in found if p.plan.steps["Base"] == "bid: Crew")
    (line,) = (x for x in hired.lines if x.quantity == "beside Crew")
    assert (line.name, line.group, line.cash) == ("Base made up to depth", "Base", 0)
    assert line.own_hours == pytest.approx(hours or 0.0)
    assert (line.time is None) is (hours is None)


@pytest.mark.parametrize("hours", [0.25, None])
def test_hours_to_drive_soil_away_stand_with_its_cash(
    make: SimpleNamespace, hours: float | None
) -> None:
    """4 m³ in boxes of 5 at 90.00, and 0.25 h for each to drive them off."""
    takeoff = make.takeoff([], [make.amount("Spoil", 4.0)], spoil=4.0)
    options = make.options(
        methods=[make.method("Spoil", "barrow", 0.5)],
        disposal=[make.disposal("box", 9000, hours=hours)],
    )
    (found,) = make.all_priced(Situation(takeoff, options, "sand", frozenset()))
    (line,) = (x for x in found.lines if x.name == "Spoil disposal")
    assert (line.cash, line.own_hours) == (9000, pytest.approx(4 * (hours or 0.0)))
    assert (line.time is None) is (hours is None)
    assert found.clock_hours == pytest.approx(2.0 + line.own_hours)


def test_what_is_had_without_a_deposit_has_none(make: SimpleNamespace) -> None:
    """Ten caps at a deposit of 0.20 each and a kit without; a plate at 150.00 and a saw without."""
    takeoff = make.takeoff(
        [make.need("Cap", "Base", {"count": 10}), make.need("Kit", "Base", {"count": 1})],
        [make.amount("Base", 1.0), make.amount("Cut", 1.0)],
    )
    options = make.options(
        offers=[make.offer("Cap", "North", 100, measure="count", per="each", deposit=20),
                make.offer("Kit", "North", 900, measure="count", per="each")],
        routes=[make.drop("North", 0)],
        methods=[make.method("Base", "plate", 1.0, machine="Plate"),
                 make.method("Cut", "saw", 1.0, machine="Saw")],
        machines=[make.machine("Plate", "borrow", deposit=15000), make.machine("Saw", "borrow")],
    )  # fmt: skip
    (found,) = make.all_priced(Situation(takeoff, options, "sand", frozenset()))
    assert {o.item: o.deposit for o in found.orders} == {"Cap": 200, "Kit": 0}
    assert {h.equipment: h.deposit for h in found.hires} == {"Plate": 15000, "Saw": 0}
    assert found.deposits == 15200
