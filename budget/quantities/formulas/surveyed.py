"""Outlines taken on site with a tape: walked sides with diagonals, and offsets from a line."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass

from budget.units import LENGTH, System, in_words

Point = tuple[float, float]

#: Straight chords that stand for one curved interval of offsets.
_CHORDS = 8
#: Distances along a base line this close, as a share of the spacing, count as even.
_EVEN = 0.01


@dataclass(frozen=True, slots=True)
class Offsets:
    """Offsets from a straight base line: distances along it and away from it, in m."""

    along: tuple[float, ...]
    away: tuple[float, ...]


def walked(
    sides: Sequence[float], diagonals: Sequence[float], system: System = "metric"
) -> tuple[Point, ...]:
    """The corners of a shape measured by its sides and by diagonals from its first corner [m].

    The first corner is the origin, the second lies along x; the shape is put together from
    triangles that all share the first corner, so a shape with an inward corner starts there.

    :param sides: side from each corner to the next, all round [m]
    :param diagonals: from the first corner to the third and on to the last but one [m]
    :raises ValueError: if a diagonal is missing, too short or too long for its triangle

    >>> walked([3, 4, 3, 4], [5])
    ((0.0, 0.0), (3.0, 0.0), (3.0, 4.0), (0.0, 4.0))
    """
    count = len(sides)
    if count < 3:
        raise ValueError(f"{count} sides")
    if len(diagonals) != count - 3:
        needed = count - 3
        raise ValueError(f"{len(diagonals)} diagonals; a shape of {count} sides needs {needed}")
    rays = [sides[0], *diagonals, sides[-1]]
    found: list[Point] = [(0.0, 0.0)]
    angle = 0.0
    for i, ray in enumerate(rays):
        if i:
            angle += _between(rays[i - 1], sides[i], ray, i + 1, system)
        found.append((_tidy(ray * math.cos(angle)), _tidy(ray * math.sin(angle))))
    return tuple(found)


def _between(first: float, across: float, second: float, corner: int, system: System) -> float:
    """The angle at the first corner between two rays whose ends lie ``across`` apart."""
    longest = max(first, across, second)
    if longest >= first + across + second - longest - 1e-9:
        words = ", ".join(in_words(n, LENGTH, system) for n in (first, across, second))
        raise ValueError(
            f"a triangle that cannot close at corners 1, {corner} and {corner + 1} ({words})"
        )
    cosine = (first**2 + second**2 - across**2) / (2 * first * second)
    return math.acos(max(-1.0, min(1.0, cosine)))


def _tidy(value: float) -> float:
    return round(value, 9) + 0.0


def simpson(offsets: Offsets) -> float:
    """Area between the base line and a curve through evenly spaced offsets [m²].

    Simpson's rule; with an odd number of intervals the last one is a trapezoid, as survey
    textbooks do. With one interval that is all there is.

    :raises ValueError: if the offsets are not evenly spaced

    >>> curve = Offsets((0, 15, 30, 45, 60, 75, 90), (3.9, 4.5, 5.1, 6.5, 6.3, 5.1, 4.1))
    >>> round(simpson(curve), 1)
    476.0
    """
    step = spacing(offsets)
    away = offsets.away
    intervals = len(away) - 1
    even = intervals - intervals % 2
    area = 0.0
    if even:
        inner = 4 * sum(away[1:even:2]) + 2 * sum(away[2:even:2])
        area = step / 3 * (away[0] + away[even] + inner)
    if even < intervals:
        area += step * (away[-2] + away[-1]) / 2
    return area


def spacing(offsets: Offsets) -> float:
    """The even distance between offsets [m].

    :raises ValueError: if they are not evenly spaced
    """
    steps = [b - a for a, b in itertools.pairwise(offsets.along)]
    mean = sum(steps) / len(steps)
    if any(abs(step - mean) > _EVEN * mean for step in steps):
        raise ValueError("curved offsets that are not evenly spaced")
    return mean


def straight_outline(offsets: Offsets) -> tuple[Point, ...]:
    """The outline along the base line and back from offset to offset."""
    top = list(zip(offsets.along, offsets.away, strict=True))
    return _ring(offsets, top)


def curved_outline(offsets: Offsets) -> tuple[Point, ...]:
    """The outline with a parabola through each three offsets, as short chords."""
    top: list[Point] = []
    along, away = offsets.along, offsets.away
    for i in range(0, len(along) - 2, 2):
        points = list(zip(along[i : i + 3], away[i : i + 3], strict=True))
        top += [_parabola(points, k / (2 * _CHORDS)) for k in range(2 * _CHORDS)]
    top += list(zip(along, away, strict=True))[-1 if len(along) % 2 else -2 :]
    return _ring(offsets, top)


def _parabola(points: Sequence[Point], share: float) -> Point:
    (a, ya), (_, yb), (c, yc) = points
    t = 2 * share
    y = ya * (t - 1) * (t - 2) / 2 - yb * t * (t - 2) + yc * t * (t - 1) / 2
    return a + (c - a) * share, y


def _ring(offsets: Offsets, top: Sequence[Point]) -> tuple[Point, ...]:
    base = [(offsets.along[0], 0.0), (offsets.along[-1], 0.0)]
    ring: list[Point] = []
    for point in (*base, *reversed(top)):
        if not ring or math.dist(ring[-1], point) > 1e-9:
            ring.append(point)
    while len(ring) > 1 and math.dist(ring[0], ring[-1]) <= 1e-9:
        ring.pop()
    return tuple(ring)
