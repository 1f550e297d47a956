"""Room for lettering on a drawing: no word is written over another one."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, field

from budget.report.drawing.outline import Point

_LETTER = 6.6  # px, the usual width of one character
_BOLD = 7.6
_HIGH = 12.0  # px, the height of a line of lettering

Box = tuple[float, float, float, float]


@dataclass(slots=True)
class Room:
    """The boxes on a drawing that are written on already, in px."""

    taken: list[Box] = field(default_factory=list)

    def take(self, words: str, at: Point, turn: float = 0.0, bold: bool = False) -> None:
        """Write over whatever is there: words about a point."""
        self.taken.append(box_of(words, at, turn, bold))

    def take_sign(self, at: Point, size: float = 6.0) -> None:
        """Keep a small square about a point free of words."""
        self.taken.append((at[0] - size, at[1] - size, at[0] + size, at[1] + size))

    def first_free(self, words: str, places: Iterable[tuple[Point, float]]) -> int | None:
        """The first place (a middle point and a turn in degrees) that is free; it is then taken.

        >>> room = Room()
        >>> places = [((10.0, 10.0), 0.0), ((10.0, 40.0), 0.0)]
        >>> room.first_free("one", places), room.first_free("two", places)
        (0, 1)
        """
        for index, (at, turn) in enumerate(places):
            box = box_of(words, at, turn)
            if not any(_meet(box, other) for other in self.taken):
                self.taken.append(box)
                return index
        return None

    def crossed(self, start: Point, end: Point) -> bool:
        """Whether a straight line runs over something that is there already.

        >>> room = Room()
        >>> room.take("name", (0.0, 0.0))
        >>> room.crossed((-90.0, 0.0), (90.0, 0.0)), room.crossed((-90.0, 40.0), (90.0, 40.0))
        (True, False)
        """
        steps = max(1, int(math.dist(start, end) // 2))
        (ax, ay), (bx, by) = start, end
        along = [(ax + (bx - ax) * i / steps, ay + (by - ay) * i / steps) for i in range(steps + 1)]
        return any(_meet((x, y, x, y), box) for x, y in along for box in self.taken)


def box_of(words: str, at: Point, turn: float = 0.0, bold: bool = False) -> Box:
    """The upright box around words about their middle point, turned by degrees."""
    wide, high = len(words) * (_BOLD if bold else _LETTER), _HIGH
    cos, sin = abs(math.cos(math.radians(turn))), abs(math.sin(math.radians(turn)))
    across, up = (wide * cos + high * sin) / 2, (wide * sin + high * cos) / 2
    return at[0] - across, at[1] - up, at[0] + across, at[1] + up


def reading(angle: float) -> float:
    """The same direction turned so that words read from the left or from below (degrees).

    >>> reading(180.0), reading(90.0), reading(-100.0)
    (0.0, -90.0, 80.0)
    """
    if angle > 90 or angle <= -90:
        angle -= math.copysign(180, angle)
    return -90.0 if abs(angle - 90) < 1e-6 else angle


def _meet(a: Box, b: Box) -> bool:
    return a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3]
