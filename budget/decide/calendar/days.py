"""Working time: hours of work laid onto open days, forwards and backwards.

A moment is a number of hours since midnight of the first day.
"""

from __future__ import annotations

import itertools
from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from dataclasses import dataclass, field

#: Hours below this are no time at all.
TINY = 1e-6
#: When a working day begins. Only whole days are shown, so that the hour itself matters little.
MORNING = 8.0
DAY = 24.0


@dataclass(frozen=True)
class Days:
    """Which days are worked, from which hour, and for how many hours."""

    open: Sequence[bool]
    hours: float
    morning: float = MORNING
    before: list[float] = field(init=False)  # hours of work before each day

    def __post_init__(self) -> None:
        """Add the hours up."""
        each = (self.hours if day else 0.0 for day in self.open)
        object.__setattr__(self, "before", list(itertools.accumulate(each, initial=0.0)))

    def done(self, moment: float) -> float:
        """Hours of work there are before a moment."""
        day = int(moment // DAY)
        if day >= len(self.open):
            return self.before[-1]
        if not self.open[day]:
            return self.before[day]
        return self.before[day] + min(max(moment - day * DAY - self.morning, 0.0), self.hours)

    def advance(self, ready: float, hours: float, whole: bool = False) -> tuple[float, float]:
        """When some hours of work start and end that may begin at a moment.

        Work of no hours happens at that moment. ``whole`` work that fits a day is not begun on
        a day that has too little time left. ``OverflowError`` past the last day.

        >>> weekend = Days([False, True, True] + [False] * 5 + [True], 6)
        >>> weekend.advance(0.0, 12.0)
        (32.0, 62.0)
        >>> weekend.advance(0.0, 13.0)
        (32.0, 201.0)
        >>> weekend.advance(36.0, 3.0, whole=True)
        (56.0, 59.0)
        """
        if hours <= TINY:
            return ready, ready
        done = self.done(ready)
        if whole and hours <= self.hours:
            evening = self.before[min(bisect_right(self.before, done + TINY), len(self.open))]
            done = done if done + hours <= evening + TINY else evening
        return self._first(done), self._last(done + hours)

    def retreat(self, due: float, hours: float, whole: bool = False) -> tuple[float, float]:
        """When some hours of work start and end at the latest that must end by a moment.

        >>> weekend = Days([False, True, True] + [False] * 5 + [True], 6)
        >>> weekend.retreat(100.0, 6.0)
        (56.0, 62.0)
        """
        if hours <= TINY:
            return due, due
        done = self.done(due)
        if whole and hours <= self.hours:
            morning = self.before[max(0, bisect_left(self.before, done - TINY) - 1)]
            done = done if done - hours >= morning - TINY else morning
        return self._first(done - hours), self._last(done)

    def _first(self, done: float) -> float:
        """The latest moment with so many hours of work before it: a morning, not an evening."""
        day = bisect_right(self.before, done + TINY) - 1
        return day * DAY + self.morning + max(0.0, done - self.before[max(0, day)])

    def _last(self, done: float) -> float:
        """The earliest moment with so many hours of work before it: an evening."""
        day = bisect_left(self.before, done - TINY) - 1
        if day + 1 >= len(self.before):
            raise OverflowError
        return day * DAY + self.morning + (done - self.before[max(0, day)])
