"""Hours of work laid onto open days, held against every half hour written out one by one."""

from __future__ import annotations

import random

import numpy as np
import pytest

from budget.decide.calendar.days import DAY, Days
from budget.decide.calendar.wet_pass import Open

HALF = 0.5


def _half_hours(opened: list[bool], hours: float) -> list[float]:
    """When each half hour of work begins: from eight in the morning on every open day."""
    each = range(round(hours / HALF))
    return [d * DAY + 8.0 + n * HALF for d, is_open in enumerate(opened) if is_open for n in each]


def _runs(slots: list[float], count: int, one_day: bool) -> list[tuple[float, float]]:
    """First and last moment of every run of so many half hours, those of one day alone if asked."""
    ends = zip(slots, slots[count - 1 :], strict=False)
    return [(a, b + HALF) for a, b in ends if not one_day or a // DAY == b // DAY]


@pytest.mark.parametrize("seed", range(30))
def test_work_begins_as_soon_and_ends_as_late_as_the_half_hours_say(seed: int) -> None:
    """Work that fits a day may be asked to be done on one."""
    r = random.Random(seed)
    hours = r.randint(2, 16) * HALF
    opened = [r.random() < 0.6 for _ in range(9)]
    days, slots = Days(opened, hours), _half_hours(opened, hours)
    for _ in range(40):
        count = r.randint(1, 24)
        moment = r.randrange(0, 9) * DAY + 7.0 + r.randint(0, 20) * HALF
        whole = r.random() < 0.5
        runs = _runs(slots, count, whole and count * HALF <= hours)
        after = [run for run in runs if run[0] >= moment]
        if after:
            assert days.advance(moment, count * HALF, whole) == after[0]
        else:
            with pytest.raises(OverflowError):
                days.advance(moment, count * HALF, whole)
        before = [run for run in runs if run[1] <= moment]
        if before:
            assert days.retreat(moment, count * HALF, whole) == before[-1]
        assert days.done(moment) == sum(slot < moment for slot in slots) * HALF


@pytest.mark.parametrize("seed", range(40))
def test_work_in_many_cases_at_once_lies_where_the_half_hours_of_each_case_say(seed: int) -> None:
    """Each case has its wet days, its moment and its hours; days beyond the known repeat a week.

    There is no answer where one case runs out of days. What fits a day in all cases may be asked
    to be done on one.
    """
    r = random.Random(seed)
    hours, cases, span = r.randint(4, 16) * HALF, 3, 17 if seed % 2 else 30
    week = [r.random() < 0.7 for _ in range(7)]
    days = Days([week[d % 7] for d in range(17)], hours)
    wet = np.array([[r.random() < 0.2 for _ in range(span)] for _ in range(cases)])
    slots = [_half_hours([week[d % 7] and not row[d] for d in range(span)], hours) for row in wet]
    rain, reached = Open(days, wet), 0
    for _ in range(40):
        counts = [r.randint(1, r.choice([6, 24])) for _ in range(cases)]
        late = r.choice([span // 2, span + 1])
        ready = [r.randrange(0, late) * DAY + 7.0 + r.randint(0, 20) * HALF for _ in range(cases)]
        whole = r.random() < 0.5
        one_day = whole and max(counts) * HALF <= hours
        runs = [
            [run for run in _runs(each, n, one_day) if run[0] >= moment]
            for each, n, moment in zip(slots, counts, ready, strict=True)
        ]
        found = rain.advance(np.array(ready), np.array(counts) * HALF, whole)
        if all(runs):
            assert found is not None
            reached += 1
            assert list(zip(*found, strict=True)) == [run[0] for run in runs]
        else:
            assert found is None
    assert 0 < reached < 40


def test_a_whole_day_of_work_is_not_begun_at_noon_nor_ended_there() -> None:
    """Six hours a day from eight. Begun after ten on the first day it is done on the second; due
    at eleven on the second it is done on the first."""
    days = Days([True] * 3, 6.0)
    assert days.advance(10.0, 6.0, whole=True) == (DAY + 8.0, DAY + 14.0)
    assert days.retreat(DAY + 11.0, 6.0, whole=True) == (8.0, 14.0)


def test_after_the_last_day_all_hours_are_done_and_no_work_begins() -> None:
    days = Days([False, True, True], 6.0)
    for moment in (3 * DAY, 3 * DAY + 11.0, 5 * DAY):
        assert days.done(moment) == 12.0
        with pytest.raises(OverflowError):
            days.advance(moment, 1.0)
