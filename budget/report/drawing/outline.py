"""What a drawn outline is made of: its straight edges and its curves.

Outlines are closed rings of points in metres; curves arrive as many short chords.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass
from statistics import median

Point = tuple[float, float]

_STRAIGHT = math.radians(0.4)  # a turn smaller than this is none
_CORNER = math.radians(25)  # a turn larger than this is a corner, else part of a curve
_LONG = 2.5  # a chord this many times the usual one is a straight edge beside a curve
_GRID = 16  # steps across a shape when a place for its name is looked for
_ROUND = 0.01  # points of an arc lie within this share of its radius


@dataclass(frozen=True, slots=True)
class Straight:
    """A straight edge, in m."""

    start: Point
    end: Point

    @property
    def length(self) -> float:
        """Its length in m."""
        return math.dist(self.start, self.end)


@dataclass(frozen=True, slots=True)
class Curve:
    """A curved edge; ``radius`` is None where it is no arc of a circle."""

    points: tuple[Point, ...]
    centre: Point
    radius: float | None
    full: bool

    @property
    def middle(self) -> Point:
        """The point half way along it."""
        return self.points[len(self.points) // 2]


def box(points: Sequence[Point]) -> tuple[Point, Point]:
    """The lower left and the upper right corner around points.

    >>> box([(0, 1), (2, 0)])
    ((0, 0), (2, 1))
    """
    xs, ys = [p[0] for p in points], [p[1] for p in points]
    return (min(xs), min(ys)), (max(xs), max(ys))


def inside(point: Point, ring: Sequence[Point]) -> bool:
    """Whether a point lies in a ring (a ray to the right crosses it an odd number of times).

    >>> inside((0.5, 0.5), [(0, 0), (1, 0), (1, 1), (0, 1)])
    True
    """
    x, y = point
    odd = False
    for (ax, ay), (bx, by) in zip(ring, [*ring[1:], ring[0]], strict=True):
        if (ay > y) != (by > y) and x < ax + (y - ay) * (bx - ax) / (by - ay):
            odd = not odd
    return odd


def heart(ring: Sequence[Point], holes: Sequence[Sequence[Point]] = ()) -> Point:
    """A point well inside a ring and away from its holes, where a name can be written.

    >>> heart([(0, 0), (4, 0), (4, 4), (0, 4)])
    (2.0, 2.0)
    """
    (x1, y1), (x2, y2) = box(ring)
    places = [
        (x1 + (x2 - x1) * i / _GRID, y1 + (y2 - y1) * j / _GRID)
        for i in range(1, _GRID)
        for j in range(1, _GRID)
    ]
    free = [p for p in places if inside(p, ring) and not any(inside(p, hole) for hole in holes)]
    middle = ((x1 + x2) / 2, (y1 + y2) / 2)
    if not free:
        return middle
    gaps = _gaps(free, (ring, *holes))
    best = min(range(len(free)), key=lambda i: (-gaps[i], math.dist(free[i], middle)))
    return free[best]


def _gaps(points: Sequence[Point], rings: Sequence[Sequence[Point]]) -> list[float]:
    """The distance from each point to the nearest edge of some rings, to a micrometre."""
    import numpy as np

    start = np.array([point for ring in rings for point in ring])
    run = np.array([point for ring in rings for point in (*ring[1:], ring[0])]) - start
    long = (run**2).sum(axis=1)
    to = np.array(points)[:, None, :] - start
    share = np.clip((to * run).sum(axis=2) / np.where(long, long, 1.0), 0.0, 1.0)
    away = np.hypot(*np.moveaxis(to - share[:, :, None] * run, 2, 0))
    found: list[float] = away.min(axis=1).round(6).tolist()
    return found


def edges(ring: Sequence[Point]) -> list[Straight | Curve]:
    """The straight edges and curves of a ring, in order around it.

    >>> [edge.length for edge in edges([(0, 0), (2, 0), (4, 0), (4, 3), (0, 3)])]
    [4.0, 3.0, 4.0, 3.0]
    """
    points = _without_straight_points(_open(ring))
    if len(points) < 3:
        return []
    count = len(points)
    corners = [i for i in range(count) if abs(_turn(points, i)) > _CORNER]
    if not corners:
        return _chain([*points, points[0]], closed=True)
    found: list[Straight | Curve] = []
    for here, after in zip(corners, [*corners[1:], corners[0] + count], strict=True):
        found += _chain([points[i % count] for i in range(here, after + 1)], closed=False)
    return found


def _open(ring: Sequence[Point]) -> list[Point]:
    """The ring without points given twice in a row, the closing one included."""
    points: list[Point] = []
    for point in ring:
        if not points or math.dist(points[-1], point) > 1e-9:
            points.append(point)
    while len(points) > 1 and math.dist(points[0], points[-1]) <= 1e-9:
        points.pop()
    return points


def _without_straight_points(points: list[Point]) -> list[Point]:
    return [p for i, p in enumerate(points) if abs(_turn(points, i)) > _STRAIGHT]


def _turn(points: Sequence[Point], i: int) -> float:
    before, here, after = points[i - 1], points[i], points[(i + 1) % len(points)]
    first = math.atan2(here[1] - before[1], here[0] - before[0])
    second = math.atan2(after[1] - here[1], after[0] - here[0])
    return (second - first + math.pi) % (2 * math.pi) - math.pi


def _chain(points: list[Point], *, closed: bool) -> list[Straight | Curve]:
    """The edges between two corners: one straight line, or a curve with straight lines."""
    if len(points) == 2:
        return [Straight(points[0], points[1])]
    usual = median(math.dist(a, b) for a, b in itertools.pairwise(points))
    found: list[Straight | Curve] = []
    run = [points[0]]
    for a, b in itertools.pairwise(points):
        if math.dist(a, b) > _LONG * usual:
            found += _curve(run, full=False)
            found.append(Straight(a, b))
            run = [b]
        else:
            run.append(b)
    return found + _curve(run, full=closed and len(run) == len(points))


def _curve(run: list[Point], *, full: bool) -> list[Straight | Curve]:
    if len(run) < 2:
        return []
    if len(run) == 2:
        return [Straight(run[0], run[1])]
    third = len(run) // 3
    centre = _centre(run[0], run[third], run[2 * third])
    if centre is None:
        return [Curve(tuple(run), run[len(run) // 2], None, full)]
    radius = math.dist(centre, run[0])
    arc = all(abs(math.dist(centre, p) - radius) <= _ROUND * radius for p in run)
    return [Curve(tuple(run), centre, radius if arc else None, full)]


def _centre(a: Point, b: Point, c: Point) -> Point | None:
    """The centre of the circle through three points, None if they lie in a line."""
    d = 2 * (a[0] * (b[1] - c[1]) + b[0] * (c[1] - a[1]) + c[0] * (a[1] - b[1]))
    if abs(d) < 1e-12:
        return None
    aa, bb, cc = (p[0] ** 2 + p[1] ** 2 for p in (a, b, c))
    return (
        (aa * (b[1] - c[1]) + bb * (c[1] - a[1]) + cc * (a[1] - b[1])) / d,
        (aa * (c[0] - b[0]) + bb * (a[0] - c[0]) + cc * (b[0] - a[0])) / d,
    )
