"""Points of two costs of which none is at or below another in both: the steps of a staircase.

What lies at or above a step in both is beaten by it. What is left lies below the corners between
neighbouring steps, each of which is at most so much cash and so many hours.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from budget.decide.programme.relaxation import Numbers

#: Cents and own hours by which a point must lie below another to be looked for. Of two such
#: differences, one left out by the search and one in what is shown, a minute is made.
CENT = 1.0
HALF_MINUTE = 1.0 / 120.0


@dataclass(frozen=True, slots=True)
class Corner:
    """The most cash [cents] and own hours of what lies below a corner."""

    cash: float
    hours: float

    def at(self, value: float) -> float:
        """The total at a value of an hour [cents]."""
        return self.cash + value * self.hours


@dataclass(frozen=True, slots=True)
class Point:
    """Cash [cents] and own hours, with the columns and the bedding of the plan that takes them."""

    cash: float
    hours: float
    bedding: str = ""
    values: Numbers | None = None  # None for a plan that was known before


class Staircase:
    """Points by rising cash and falling hours.

    >>> stairs, most = Staircase([Point(100, 9), Point(500, 2)]), Corner(450, 8)
    >>> [(c.cash, c.hours) for c in stairs.corners(most)]
    [(450, 8)]
    >>> stairs.add(Point(300, 4)), stairs.add(Point(320, 5))
    (True, False)
    >>> [(c.cash, round(c.hours, 3)) for c in stairs.corners(most)]
    [(299.0, 8), (450, 3.992)]
    >>> [(c.cash, c.hours) for c in stairs.corners(Corner(250, 8))]
    [(250, 8)]
    """

    def __init__(self, points: Iterable[Point]) -> None:
        """Begin with some points, none of which is at or below another in both."""
        self.points = sorted(points, key=lambda p: p.cash)

    def add(self, point: Point) -> bool:
        """Add a point that none is at or below, in place of those it beats; whether it was."""
        if any(p.cash <= point.cash and p.hours <= point.hours for p in self.points):
            return False
        kept = [p for p in self.points if p.cash < point.cash or p.hours < point.hours]
        self.points = sorted([*kept, point], key=lambda p: p.cash)
        return True

    def corners(self, most: Corner) -> Iterator[Corner]:
        """The corners below which something may lie, each cut to what lies below ``most``."""
        for before, after in itertools.pairwise(self.points):
            cash = min(after.cash - CENT, most.cash)
            hours = min(before.hours - HALF_MINUTE, most.hours)
            if cash >= before.cash and hours >= after.hours:
                yield Corner(cash, hours)
