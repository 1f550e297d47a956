"""What is said of each order, machine and bid: single rules worked out by hand."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest

from budget.decide.calendar.again import asked_again
from budget.decide.calendar.result import Calendar, Had, Use
from budget.decide.calendar.told import counted, dearer, left_out, still_away
from budget.decide.plan import Line
from budget.decide.risk.ordering import Order, Stakes
from budget.decide.risk.shortage import SAME, Loss
from budget.decide.risk.shortfalls import Decision, shortfall, shortfalls
from budget.decide.thorough.alike import Alike, _gap, _hourly
from budget.decide.thorough.leftover import Left
from budget.job import Job, Place, Settings
from budget.prices.options import DaysOut
from budget.units import RATIO

JOB = Job(settings=Settings(place=Place("Job", 2), currency="USD"))
SATURDAY = dt.date(2026, 5, 2)


def decided(item: str, planned: int, *, short: float = 40.0, step: float = 0.5) -> Decision:
    """Ten draws of 1 to 10 half packs; one costs 1.00 now, 1.30 later, and 0.90 comes back."""
    needs = np.arange(1, 11)
    stakes = Stakes(each=100, again=130, back=90, bring_back=7)
    loss = Loss(stakes, (("a trip", short),), SAME, "")
    order: Any = SimpleNamespace(item=item, supplier="Yard", per="bag", packs=planned * step)
    demand: Any = SimpleNamespace(
        order=order, offer=SimpleNamespace(step=step), spares=3, bare=lambda found: 2.0
    )
    return Decision(demand, loss, Order(needs, stakes), planned, needs * step)


def test_an_order_is_told_in_packs_and_against_the_best() -> None:
    """Eight halves are best: over by 7 ... 1 halves, 0.10 each but 0.07 for bringing any back (as
    far as 0.90 covers it), short by one and two at 0.30. Five are short in five of ten."""
    found = shortfall(decided("Stone", 5), ())
    assert (found.ordered, found.spares, found.best) == (2.5, 1.5, 4.0)
    assert (found.chance, found.best_chance) == (0.5, 0.2)
    assert found.one_over == pytest.approx(10.0)
    assert found.bring_back == 7
    # 1 to 10 halves: one, five, eight and nine of ten cases need no more
    assert found.needed == (0.5, 2.5, 4.0, 4.5)

    def mean(ordered: int) -> float:
        costs = (
            100 * ordered + 130 * max(0, n - ordered) - max(0.0, 90 * max(0, ordered - n) - 7)
            for n in range(1, 11)
        )
        return sum(costs) / 10

    assert found.saves == pytest.approx(mean(5) - mean(8))
    assert shortfall(decided("Stone", 8), ()).saves == 0.0


def test_orders_are_told_by_what_they_save_then_by_what_running_short_may_cost() -> None:
    """Two as good as can be: with one of five short, 0.80 or 0.40 a time; then by name."""
    rows = [decided("Sand", 8), decided("Lime", 8, short=80.0), decided("Gravel", 8),
            decided("Stone", 5)]  # fmt: skip
    told = shortfalls((), rows)
    assert [one.item for one in told] == ["Stone", "Lime", "Gravel", "Sand"]


def calendar(*machines: Had, start: dt.date | None = None) -> Calendar:
    return Calendar("", start, 9, (), (), (), machines, (), None, (), ())


SAW = Had("Saw", "loan", "borrow", ((2, 3), (8, 9)), 4, 4.0, 500, 500, (), there_to=0,
          use=Use((2, 3, 8, 9), 20.0, steps=frozenset(("Cut", "Base"))))  # fmt: skip


def test_days_of_machines_are_told_by_date_or_counted_from_one() -> None:
    for start, until, first, last in (
        (None, "day 1", "day 3", "day 10"),
        (SATURDAY, "Sat 2 May", "Mon 4 May", "Mon 11 May"),
    ):
        there = calendar(SAW, start=start)
        told = f"Saw (loan) is there until {until}; the work needs it to {last}"
        assert left_out(there) == [f"{told}: planned without it."]
        assert still_away(there) == [f"{told}, and no plan does without it."]
        assert f"Base and Cut takes less hire, but as the working days fall it is out for 4 days "\
            f"from {first}:" in counted(there, SAW)  # fmt: skip
    assert still_away(None) == []
    (later,) = left_out(calendar(replace(SAW, there_to=5)))
    assert "is there until day 6;" in later


def test_a_machine_at_the_planned_hire_is_not_dearer() -> None:
    more = replace(SAW, cash=501)
    assert dearer(calendar(SAW, more)) == [more]


@pytest.mark.parametrize(
    ("before", "machines", "again"),
    [(0, 1, True), (2, 1, True), (3, 1, False), (4, 1, False), (5, 2, True), (6, 2, False)],
)
def test_a_plan_is_made_again_up_to_three_times_for_each_machine(
    make: SimpleNamespace, before: int, machines: int, again: bool
) -> None:
    """The machine is then had for the days that it is out, at each shop."""
    shops = [make.machine(name, "rent", terms=[("day", 6000, 1)]) for name in ("Saw", "Plate")]
    known = tuple(DaysOut("Saw", "rent", frozenset((f"Step {n}",)), (1.0,)) for n in range(before))
    options = replace(make.options(machines=shops[:machines]), days_out=known)
    short = replace(SAW, machine="rent", way="rent", cash=9000, there_to=None)
    found = asked_again(options, calendar(short))
    assert (found is not None) is again
    if found is not None:
        out = DaysOut("Saw", "rent", short.use.steps, (2.0, 2.0))
        assert found[0].days_out == (*known, out)
        assert len(found[1]) == 1


def test_a_plan_that_pays_for_the_days_is_not_made_again(make: SimpleNamespace) -> None:
    saw = make.machine("Saw", "rent", terms=[("day", 6000, 1)])
    paid = replace(SAW, machine="rent", way="rent", there_to=None)
    assert asked_again(make.options(machines=[saw]), calendar(paid)) is None


def test_a_machine_that_must_go_back_is_left_out_beside_those_left_out_before(
    make: SimpleNamespace,
) -> None:
    ways = [make.machine("Saw", "loan"), replace(make.machine("Saw", "gift"), away=True),
            make.machine("Saw", "rent", terms=[("day", 6000, 1)])]  # fmt: skip
    found = asked_again(make.options(machines=ways), calendar(SAW))
    assert found is not None
    assert {m.key: m.away for m in found[0].machines["Saw"]} == {
        "loan": True, "gift": True, "rent": False,
    }  # fmt: skip


def test_a_bid_by_the_hour_tells_what_one_more_costs(make: SimpleNamespace) -> None:
    bid = replace(make.bid("Crew", ["Dig"], 5000, basis="hourly"), tax=make.fig(0.1, RATIO, "tax"))
    assert _hourly(bid, JOB).endswith("each one more than they reckon with costs you $55.")
    assert _hourly(make.bid("Crew", ["Dig"], 5000), JOB) == ""


@pytest.mark.parametrize(
    ("supplier", "gap"), [("North", "Bringing and carrying goods"), ("", "Costs outside any step")]
)
def test_what_hangs_on_no_choice_is_a_sellers_or_nobodys(
    make: SimpleNamespace, supplier: str, gap: str
) -> None:
    line = Line("", "", "Hire of Pickup", 100, 0.0, None, None, supplier)
    at: Any = SimpleNamespace(items={})
    assert _gap(at, line, make.bid("Crew", ["Dig"], 5000)) == gap


def test_risks_left_with_the_owner_are_in_the_total() -> None:
    """10.00, two hours at 5.00, and risks of 1.00 and 2.00."""
    left = tuple(Left(item, (), 0.5, 2 * money, money, False) for item, money in
                 (("rock", 100), ("rain", 200)))  # fmt: skip
    one = Alike("Crew", "", (), (), 0, 0.0, (), 1000, 2.0, 0.0, (), "", left, 0, False, True)
    assert (one.risk, one.total(500.0)) == (300, 2300.0)
