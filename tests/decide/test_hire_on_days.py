"""On which days a machine is had, and what that costs: single rules worked out by hand."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from types import SimpleNamespace
from typing import Any

import pytest

from budget.decide.calendar.days import DAY, Days
from budget.decide.calendar.machines import (
    best_spells,
    fresh_starts,
    had,
    longer_costs,
    next_mornings,
    use_of,
)
from budget.decide.calendar.network import Because, Booked, Task
from budget.decide.calendar.result import Use
from budget.decide.plan import Hire, Plan, Priced
from budget.prices.options import Options


def booked(*tasks: tuple[str, float, float], machine: str = "Saw") -> dict[str, Booked]:
    """Tasks with the saw, each with its first and last moment; it runs for all of the time."""
    return {
        name: Booked(
            Task(name, name, end - start, 0, machine=machine, machine_hours=end - start),
            start, end, Because("start"),
        )
        for name, start, end in tasks
    }  # fmt: skip


def days(*opened: bool, hours: float = 6.0) -> dict[str, Days]:
    return {"": Days(opened, hours)}


DAILY = days(*[True] * 10)


@pytest.mark.parametrize(
    ("parts", "short"),
    [((2.0, 1.9), True), ((3.6, 0.4), True), ((3.0, 1.0), True), ((3.0, 1.5), False)],
)
def test_up_to_four_hours_in_all_are_a_short_day(parts: Sequence[float], short: bool) -> None:
    """Two tasks, one after the other, from eight on the second day."""
    middle = DAY + 8.0 + parts[0]
    found = use_of("Saw", booked(("A", DAY + 8.0, middle), ("B", middle, middle + parts[1])), DAILY)
    assert (found.days, found.short) == ((1,), frozenset((1,) if short else ()))
    assert found.hours == pytest.approx(sum(parts))
    assert found.steps == {"A", "B"}


@pytest.mark.parametrize(
    ("begin", "end", "short"), [(12.0, 14.0, {1}), (11.0, 11.0, {1, 2}), (9.0, 12.5, set())]
)
def test_each_day_of_one_task_is_short_by_its_own_hours(
    begin: float, end: float, short: set[int]
) -> None:
    """Six hours a day from eight: from noon on the second day there are two hours, from eleven
    three, from nine five; until two on the next day six, until eleven three, until half past
    twelve four and a half."""
    found = use_of("Saw", booked(("A", DAY + begin, 2 * DAY + end)), DAILY)
    assert (found.days, found.short) == ((1, 2), frozenset(short))


def test_work_until_midnight_needs_no_other_day() -> None:
    found = use_of("Saw", booked(("A", 8.0, DAY)), days(True, True, hours=16.0))
    assert (found.days, found.short) == ((0,), frozenset())


def _of_plan(options: Options, work: dict[str, Booked], way: str) -> Any:
    hires = (Hire("Saw", way, (), 500, 0),)
    plan = Plan("sand", frozenset(), {}, {}, {}, {"Saw": way}, "")
    return had(Priced(plan, (), (), (), (), hires, 500, 0, 0, 0, 0, ()), options, work, DAILY)


def test_a_loan_is_one_time_of_whole_days_and_rent_goes_by_halves(make: SimpleNamespace) -> None:
    """Two hours on the first day and six on the fourth: half a day and a day of hire, with the
    machine taken back between; a loan is out for four days."""
    work = booked(("A", 8.0, 10.0), ("B", 3 * DAY + 8.0, 3 * DAY + 14.0))
    rent = make.machine("Saw", "rent", terms=[("half", 3000, 0.5), ("day", 5000, 1)])
    for machine, way, spells, out, cash in (
        (rent, "rent", ((0, 0), (3, 3)), 1.5, 8000),
        (make.machine("Saw", "borrow"), "borrow", ((0, 3),), 4.0, 0),
    ):
        (saw,) = _of_plan(make.options(machines=[machine]), work, way)
        assert (saw.spells, saw.used, saw.out, saw.cash) == (spells, 2, out, cash)
        assert (saw.equipment, saw.planned, saw.way) == ("Saw", 500, way)


@pytest.mark.parametrize("way", ["rent", "borrow"])
def test_a_machine_that_no_task_needs_is_not_on_the_calendar(
    make: SimpleNamespace, way: str
) -> None:
    terms = [("day", 5000, 1)] if way == "rent" else ()
    options = make.options(machines=[make.machine("Saw", way, terms=terms)])
    assert _of_plan(options, booked(("A", 8.0, 10.0), machine="Drill"), way) == ()
    assert _of_plan(replace(options, machines={}), booked(("A", 8.0, 10.0)), way) == ()


@pytest.mark.parametrize(
    ("terms", "used", "spells"),
    [
        # two days apart are 100.00 as three in a row are: the machine is out for fewer days
        ([("day", 5000, 1), ("three days", 10000, 3)], (0, 2), ((0, 0), (2, 2))),
        # two days in a row cost the same in one time and in two
        ([("day", 5000, 1)], (0, 1), ((0, 1),)),
        # three days in a row are cheaper than two apart
        ([("day", 5000, 1), ("three days", 9900, 3)], (0, 2), ((0, 2),)),
    ],
)
def test_of_spells_alike_in_cash_the_fewest_days_then_the_fewest_times(
    make: SimpleNamespace, terms: Any, used: tuple[int, ...], spells: tuple[tuple[int, int], ...]
) -> None:
    assert best_spells(make.machine("Saw", "rent", terms=terms), Use(used, 8.0)) == spells


def test_a_waiver_is_paid_on_the_rent_of_days_longer_too(make: SimpleNamespace) -> None:
    """60.00 a day and 200.00 a week, 10 % waiver, 30.00 there and back, 10 % tax. On top of one
    day one more is 66.00 before tax, two are 96.00, as one day anew. The seventh beside six is
    nothing more."""
    saw = make.machine("Saw", "rent", terms=[("day", 6000, 1), ("week", 20000, 7)], per_spell=3000,
                       waiver=0.1, tax=0.1)  # fmt: skip
    assert longer_costs(saw, 1.0, 2) == pytest.approx([0.0, 7260.0, 10560.0])
    assert longer_costs(saw, 6.0, 1) == pytest.approx([0.0, 0.0])


def test_when_a_task_with_a_machine_may_begin_instead() -> None:
    """Open on days 0, 1, 3, 4 and 6: from day 0 the next is day 1, and the next after a rest is
    day 3; from day 3 they are day 4 and day 6. After the last there is none."""
    open_ = days(True, True, False, True, True, False, True)
    first, second, last = ("A", 8.0, 9.0), ("B", 3 * DAY + 8.0, 3 * DAY + 9.0), ("C", 152.0, 153.0)
    work = {**booked(first, second, last), **booked(("D", 8.0, 9.0), machine="Drill")}
    assert next_mornings(work, open_, ["Saw"]) == [("A", DAY), ("B", 4 * DAY)]
    assert fresh_starts(work, open_, "Saw") == [("A", 3 * DAY), ("B", 6 * DAY)]
