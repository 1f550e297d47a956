"""What should be done by a day: steps one after another, worked out by hand here."""

from __future__ import annotations

import datetime as dt

import pytest

from budget.spend.baseline import Baseline, PlannedDays
from budget.spend.earned import earned
from budget.spend.schedule import Schedule, schedule
from budget.spend.tracking import Tracked, Tracking
from budget.spend.yardstick import PlanLine, Side, Yardstick

ORDER = ("Dig", "Base", "Lay")
START, FINISH = dt.date(2026, 5, 1), dt.date(2026, 5, 20)  # twenty days


def line(name: str, cash: int, hours: float, *steps: str) -> PlanLine:
    side = Side(cash, hours, None, True)
    return PlanLine(name, "Group", "", "", "", side, side, steps=steps)


def may(*days: int) -> tuple[dt.date, ...]:
    return tuple(dt.date(2026, 5, day) for day in days)


def stick(
    *lines: PlanLine, finish: dt.date | None = FINISH, days: tuple[PlannedDays, ...] = ()
) -> Yardstick:
    latest = Baseline(
        1, START, "", "chosen", "Best", "USD", 2000.0, None, START, finish, (), (), {}, days=days
    )
    found = {one.name.casefold(): one for one in lines}
    return Yardstick("Best", found, latest, None, 2000.0, {}, hours_per_day=8.0)


#: Dig 8 h and lay 24 h by own hands; a firm does the base, which is given a day of 8 h.
LINES = (
    line("Dig", 0, 8.0, "Dig"),
    line("Base crew", 60000, 0.0, "Base"),
    line("Lay", 0, 24.0, "Lay"),
    line("Paver", 100000, 0.0, "Lay"),
    line("Permit", 10000, 0.0),
)


def on(day: int) -> Schedule:
    found = schedule(stick(*LINES), ORDER, dt.date(2026, 5, day))
    assert found is not None
    return found


@pytest.mark.parametrize(
    ("day", "dig", "base", "lay"),
    [
        (4, 1.0, 0.0, 0.0),  # a fifth of the time: 8 of 40 hours
        (6, 1.0, 0.5, 0.0),
        (8, 1.0, 1.0, 0.0),
        (14, 1.0, 1.0, 0.5),  # 28 hours gone, 12 of 24 at laying
        (20, 1.0, 1.0, 1.0),
        (31, 1.0, 1.0, 1.0),
    ],
)
def test_steps_follow_each_other(day: int, dig: float, base: float, lay: float) -> None:
    found = on(day)
    assert [found.share([step]) for step in ORDER] == pytest.approx([dig, base, lay])


#: Weekends from Saturday 2 May: dig on one, base on Monday 11 by a firm, lay on two more.
CALENDAR = (
    PlannedDays("Dig", may(2, 3)),
    PlannedDays("Base", may(11)),
    PlannedDays("Lay", may(16, 17, 23, 24)),
)


@pytest.mark.parametrize(
    ("day", "dig", "base", "lay"),
    [
        (1, 0.0, 0.0, 0.0),
        (2, 0.5, 0.0, 0.0),
        (3, 1.0, 0.0, 0.0),
        (10, 1.0, 0.0, 0.0),  # nobody works in the week, nor the next weekend
        (11, 1.0, 1.0, 0.0),
        (16, 1.0, 1.0, 0.25),
        (22, 1.0, 1.0, 0.5),
        (23, 1.0, 1.0, 0.75),
        (24, 1.0, 1.0, 1.0),
    ],
)
def test_steps_follow_the_calendar_that_was_accepted(
    day: int, dig: float, base: float, lay: float
) -> None:
    planned = stick(*LINES, finish=dt.date(2026, 5, 24), days=CALENDAR)
    found = schedule(planned, ORDER, dt.date(2026, 5, day))
    assert found is not None
    assert [found.share([step]) for step in ORDER] == pytest.approx([dig, base, lay])


def test_a_later_finish_stretches_the_calendar() -> None:
    """Twice the days, to 17 June: what was due on the evening of the 3rd is due on the 6th."""
    planned = stick(*LINES, finish=dt.date(2026, 6, 17), days=CALENDAR)
    shares = []
    for day in (4, 5, 6):
        found = schedule(planned, ORDER, dt.date(2026, 5, day))
        assert found is not None
        shares.append(found.share(["Dig"]))
    assert shares == pytest.approx([0.5, 0.75, 1.0])


def test_before_the_start_nothing_should_be_done() -> None:
    found = schedule(stick(*LINES), ORDER, dt.date(2026, 4, 20))
    assert found is not None
    assert [found.share([step]) for step in (*ORDER, "")] == [0.0, 0.0, 0.0, 0.0]


def test_what_is_bound_to_no_step_runs_with_the_time() -> None:
    assert on(5).share([]) == pytest.approx(0.25)


def test_without_a_finish_nothing_can_be_said() -> None:
    assert schedule(stick(*LINES, finish=None), ORDER, START) is None


def test_planned_value_is_not_a_straight_line() -> None:
    """On day 8 of 20: digging 160.00, base 600.00 and 0.4 of the permit are due; laying is not.

    8 h x 20.00 + 600.00 + 0.4 x 100.00 = 800.00, where a straight line would say 936.00
    (0.4 of 100.00 + 32 h x 20.00 + 600.00 + 1,000.00).
    """
    tracked = tuple(
        Tracked(one.name, "Group", one.first.cash, 0, 0, 0, 0, one.first.cash, 0, 0,
                one.first.hours, 0.0, True)
        for one in LINES
    )  # fmt: skip
    found = Tracking("", dt.date(2026, 5, 8), tracked, 0, 0, 0, 0, 0, 0, None, 0, 0, 0.0, 0.0, 0.0,
                     0, 0, 0, 0, (), ())  # fmt: skip
    assert earned(stick(*LINES), found).planned == pytest.approx(80000)
