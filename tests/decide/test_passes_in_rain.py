"""One pass of the calendar for several cases of rain, each worked out on its days by hand."""

from __future__ import annotations

from collections.abc import Sequence
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest

from budget.decide.calendar.days import DAY, Days
from budget.decide.calendar.network import Because, Link, Task, forward
from budget.decide.calendar.wet_pass import Held, Wet
from budget.reference import coefficient

#: Six hours on every day, for own hands and crews alike.
DAILY = {"own": Days([True] * 30, 6.0), "crew": Days([True] * 30, 6.0)}
SOFT = coefficient("soft ground").likely


def passed(
    tasks: Sequence[Task], *cases: Sequence[int], drying: int = 0, span: int = 30,
    free: dict[str, tuple[float, Because]] | None = None,
    held: dict[str, list[Held]] | None = None,
) -> Wet | None:  # fmt: skip
    """The tasks, booked one after the other without rain, with rain on some days of each case."""
    wet = np.zeros((len(cases), span), bool)
    for row, days in enumerate(cases):
        wet[row, list(days)] = True
    booked = forward(tasks, DAILY, free or {})
    site: Any = SimpleNamespace(days=DAILY)
    return Wet(site, booked, wet, drying).passed(free or {}, held)


def task(name: str, hours: float, *after: Link, who: str = "own", **more: Any) -> Task:
    return Task(name, name, hours, 0, who, who, after, **more)


def at(day: int, hour: float) -> float:
    """A moment: some hours after eight on a day."""
    return day * DAY + 8.0 + hour


def moments(found: Wet | None, name: str) -> list[tuple[float, float]]:
    assert found is not None
    return list(zip(found.start[name].tolist(), found.finish[name].tolist(), strict=True))


def test_what_is_waited_for_is_waited_for_in_every_case() -> None:
    """Laid on the first dry day until two; 30 hours later it is eight in the evening of the next
    day, so that the joints follow on the day after that."""
    tasks = [task("Lay", 6.0), task("Joint", 3.0, Link("Lay", 30.0))]
    found = passed(tasks, [], [0], [0, 1])
    assert moments(found, "Lay") == [(at(d, 0), at(d, 6)) for d in (0, 1, 2)]
    assert moments(found, "Joint") == [(at(d, 0), at(d, 3)) for d in (2, 3, 4)]


def test_the_ground_is_dug_again_for_every_wet_day_before_the_base() -> None:
    """Dug for five hours on day 0; the base of two hours begins in the sixth hour of that day.

    Rain on the first day moves both to the second, and a share of the digging is done again with
    the base, at once and without a break. Rain on day 0 and 1 is two shares; rain after the base
    has begun is none.
    """
    tasks = [task("Dig", 5.0), task("Base", 2.0, Link("Dig"))]
    found = passed(tasks, [], [0], [0, 1], [1])
    assert found is not None
    again = [0.0, SOFT * 5.0, 2 * SOFT * 5.0, 0.0]
    assert found.again.tolist() == pytest.approx(again)
    assert [start for start, _ in moments(found, "Base")] == [at(d, 5) for d in (0, 1, 2, 0)]
    # an hour of the base is left for the next dry day, and what is done again
    ends = [at(d, 1 + extra) for d, extra in zip((1, 2, 3, 2), again, strict=True)]
    assert [end for _, end in moments(found, "Base")] == pytest.approx(ends)


def test_rain_before_the_day_to_dig_and_on_the_day_of_the_base_softens_nothing() -> None:
    """Roots are cleared on day 0, and day 1 is the day to dig: of wet days 0, 1, 2 and 4, three lie
    between that day and the base, which has to wait for the digging until day 5. Dug on day 0 in
    the rain, a base that begins with day 4, when its stone is there, has days 0 and 2 before it."""
    tasks = [task("Clear", 6.0), task("Dig", 6.0, Link("Clear")),
             task("Base", 0.0, Link("Dig"), wet="goes on")]  # fmt: skip
    free = {"Base": (4 * DAY, Because("goods", "North"))}
    found = passed(tasks, [0, 1, 2, 4], free=free)
    assert found is not None
    assert moments(found, "Dig") == [(at(5, 0), at(5, 6))]
    assert found.again.tolist() == pytest.approx([3 * SOFT * 6.0])
    dry = passed([task("Dig", 6.0, wet="goes on"), *tasks[2:]], [0, 2, 4], free=free)
    assert dry is not None
    assert dry.again.tolist() == pytest.approx([2 * SOFT * 6.0])


@pytest.mark.parametrize("hired", ["Dig", "Base"])
def test_what_a_crew_digs_or_builds_on_is_not_dug_again(hired: str) -> None:
    tasks = [
        task("Dig", 5.0, who="crew" if hired == "Dig" else "own"),
        task("Base", 2.0, Link("Dig"), who="crew" if hired == "Base" else "own"),
    ]
    found = passed(tasks, [0, 1])
    assert found is not None
    assert found.again.tolist() == [0.0]
    assert moments(found, "Base") == [(at(2, 5), at(3, 1))]


def test_open_ground_dries_for_days_after_rain() -> None:
    """Two days of drying: rain on day 0 keeps the ground shut until day 3, and laying for a day."""
    tasks = [task("Dig", 3.0, wet="ground"), task("Lay", 3.0, who="crew")]
    found = passed(tasks, [0], [1], drying=2)
    assert moments(found, "Dig") == [(at(3, 0), at(3, 3)), (at(0, 0), at(0, 3))]
    assert moments(found, "Lay") == [(at(1, 0), at(1, 3)), (at(0, 0), at(0, 3))]


def test_whoever_comes_late_holds_up_by_the_working_hours_that_go_by() -> None:
    """North comes at once, on the morning of day 2 and of day 5: nothing, 12 and 30 hours of six a
    day; rain on day 3 of the last case leaves 24. South, later in the second case, 18."""
    late = [Held("North", np.array([0.0, 2 * DAY, 5 * DAY])),
            Held("South", np.array([0.0, 3 * DAY, 0.0]))]  # fmt: skip
    found = passed([task("Base", 6.0)], [], [], [3], held={"Base": late})
    assert found is not None
    assert {who: hours.tolist() for who, hours in found.held.items()} == {
        "North": [0.0, 12.0, 24.0], "South": [0.0, 18.0, 0.0],
    }  # fmt: skip
    assert moments(found, "Base") == [(at(d, 0), at(d, 6)) for d in (0, 3, 5)]


def test_a_case_that_runs_out_of_days_is_no_answer() -> None:
    """Six hours on the sixth day at the latest; a call of no hours needs no day."""
    tasks = [task("Lay", 6.0), Task("Call", "", 0.0, 1, "", "own", (Link("Lay"),))]
    assert passed(tasks, [], range(6), span=6) is None
    last = passed(tasks, [], range(5), span=6)
    assert moments(last, "Call") == [(at(d, 6), at(d, 6)) for d in (0, 5)]
