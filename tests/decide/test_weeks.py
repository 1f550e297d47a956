"""In which week each line of a plan is paid: every rule with its day, worked out by hand."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping, Sequence
from typing import Any

import pytest

from budget.decide.calendar.cash import stages, weeks
from budget.decide.calendar.network import Because, Booked, Task
from budget.decide.calendar.result import Had, OrderBy, Week
from budget.decide.calendar.site import Site
from budget.decide.plan import Line, Plan, Priced
from budget.job import Bid, Job, Place, Settings

#: Weeks begin on Monday, so that a Sunday is the last day of its week and the next day a new one.
SUNDAY = dt.date(2026, 5, 3)
JOB = Job(settings=Settings(place=Place("Job", 2), start=SUNDAY))
#: The Monday before the first day, and those one, eight and fifteen days after the start.
BEFORE, FIRST, SECOND, THIRD = -6, 1, 8, 15


def line(name: str, choice: str = "", *, group: str = "goods", cash: int = 100,
         supplier: str = "") -> Line:  # fmt: skip
    return Line("", group, name, cash, 0.0, None, None, supplier, "", choice)


def had(equipment: str, way: str, *spells: tuple[int, int]) -> Had:
    return Had(equipment, way, way, spells, 1, 1.0, 0, 0, ())


def ordered(who: str, *, order: int = 0, needed: int = 0, arrives: int = 0,
            hired: bool = False) -> OrderBy:  # fmt: skip
    return OrderBy(who, (), order, needed, arrives, fetched=False, hired=hired)


def ends(**moments: float) -> dict[str, Booked]:
    """A task for each step with the moment at which it ends, by hands of the step's name."""
    return {
        step: Booked(Task(step, step, 1.0, 0, who=f"{step} crew"), 0.0, moment, Because("start"))
        for step, moment in moments.items()
    }


def found(
    *lines: Line, job: Job = JOB, booked: Mapping[str, Booked] | None = None,
    orders: Sequence[OrderBy] = (), machines: Sequence[Had] = (), start: dt.date | None = SUNDAY,
) -> tuple[Week, ...]:  # fmt: skip
    plan = Plan("sand", frozenset(), {}, {}, {}, {}, "")
    cash = sum(one.cash for one in lines)
    priced = Priced(plan, lines, (), (), (), (), cash, 0.0, 0.0, 0.0, 0, ())
    site = Site(start, {}, {}, ())
    told = weeks(job, site, priced, booked or {}, orders, machines)
    assert sum(week.cash for week in told) == cash
    return told


def week_of(one: Line, **rest: object) -> int:
    (week,) = found(one, **rest)  # type: ignore[arg-type]
    assert week.lines == ((one.name, one.cash),)
    return week.first


def test_what_has_no_day_of_its_own_is_paid_when_the_work_starts() -> None:
    """On Sunday the 3rd, so in the week before the first Monday."""
    unused = line("Mixer", "machine:Mixer"), line("Tip", "disposal"), line("Crew", "step:Carry")
    for one in (line("Permit"), *unused, line("Stone", "item:Stone", supplier="North")):
        assert week_of(one, booked=ends(Dig=200.0)) == BEFORE


def test_goods_are_paid_when_they_come() -> None:
    """A way of bringing that two sellers share is a line without a seller: its choice names one."""
    orders = [ordered("North", arrives=9), ordered("Crew", arrives=20, hired=True)]
    for one in (
        line("Stone", "item:Stone", supplier="North"),
        line("Pickup", "goods:North"),
    ):
        assert week_of(one, orders=orders) == SECOND


def test_rent_is_paid_when_the_machine_goes_back_and_a_price_when_it_is_bought() -> None:
    spells = (7, 9), (14, 15)
    for way, week in (("rent", THIRD), ("buy", FIRST)):
        machines = [had("Saw", way, *spells)]
        assert week_of(line("Saw", "machine:Saw"), machines=machines) == week


@pytest.mark.parametrize(
    ("one", "week"),
    [
        (line("Dig", "step:Dig"), FIRST),  # seven whole days and no more: the eighth is no work
        (line("Lay crew", "step:Lay"), THIRD),
        (line("Box", "disposal"), SECOND),
        (line("Son", group="Helpers"), THIRD),
        (line("Pavers taken back", "item:Paver", cash=-100, supplier="North"), THIRD),
    ],
)
def test_work_and_soil_are_paid_when_they_are_done_and_helpers_at_the_end(
    one: Line, week: int
) -> None:
    """Dig ends at midnight after the seventh day, Spoil on the ninth, Lay on the fifteenth."""
    booked = ends(Dig=8 * 24.0, Spoil=9 * 24.0 + 12, Lay=15 * 24.0 + 10)
    orders = [ordered("North", arrives=9)]
    assert week_of(one, booked=booked, orders=orders) == week


def test_the_end_at_midnight_belongs_to_the_day_before() -> None:
    helper = line("Son", group="Helpers")
    assert week_of(helper, booked=ends(Dig=100.0, Lay=8 * 24.0)) == FIRST


@pytest.mark.parametrize(
    ("paid", "told"),
    [
        ({"paid_yes": 0.25}, {BEFORE: "on your yes", SECOND: "when done"}),
        ({"paid_start": 0.25}, {FIRST: "at the start", SECOND: "when done"}),
        ({}, {SECOND: ""}),
    ],
)
def test_a_firm_is_paid_by_what_its_bid_says_and_no_more(
    paid: dict[str, Any], told: dict[int, str]
) -> None:
    """400.01 for Lay, of which a quarter is 100.00: told on day 0, begun on day 2, done on 9."""
    row = Bid(place=Place("Bids", 2), bid="Lay crew", steps=("Lay",), **paid)
    orders = [ordered("Lay crew", order=0, needed=2, hired=True)]
    one = line("Lay crew", "step:Lay", cash=40001)
    job = Job(settings=JOB.settings, bids=(row,))
    split = found(one, job=job, booked=ends(Lay=9 * 24.0 + 12), orders=orders)
    names = {week: f"Lay crew ({when})" if when else "Lay crew" for week, when in told.items()}
    assert {week.first: week.lines[0][0] for week in split} == names
    assert split[-1].cash == (30001 if paid else 40001)
    # only a line that is paid whole is named by its number
    assert [week.numbers for week in split] == ([(), ()] if paid else [(0,)])
    assert stages(row, 40001)[2] == split[-1].cash


def test_lines_of_one_week_are_added_up() -> None:
    (week,) = found(line("Permit"), line("Locate", cash=50), line("Permit", cash=0))
    assert (week.cash, week.lines, week.numbers) == (150, (("Permit", 100), ("Locate", 50)), (0, 1))


def test_without_dates_weeks_are_seven_days_from_the_first() -> None:
    booked = ends(Dig=6 * 24.0 + 12, Lay=7 * 24.0 + 12)
    told = found(line("Dig", "step:Dig"), line("Lay", "step:Lay"), booked=booked, start=None)
    assert [week.first for week in told] == [0, 7]
