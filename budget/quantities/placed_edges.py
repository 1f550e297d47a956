"""Edges and corners of a region on the plan: whose they are, and what lies beside them."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from budget.quantities.placed_shapes import Footprint, Side
from budget.quantities.regions import NEAR, grown
from budget.quantities.shapes import MOST_CORNER, Point

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

#: Two sides that turn by less than this against each other count as parallel.
_PARALLEL = math.radians(2)
#: Sides shorter than this (m) are rounding of crossings and make no corner.
_SPECK = 1e-4
#: Points of a joined outline lie on a grid this fine (m), so that no hairline is left open.
_GRID = 1e-6
#: How far from a corner (m) its sides are looked at.
_STEP = 0.02


@dataclass(slots=True)
class Lengths:
    """Edge of one shape that shows on the plan, and how much of it is against other paving [m]."""

    straight: float = 0.0
    curved: float = 0.0
    shared_straight: float = 0.0
    shared_curved: float = 0.0
    beside: set[str] = field(default_factory=set)  # the parts it is shared with


def lengths_on_plan(
    region: BaseGeometry, shapes: Sequence[Footprint], beside: Mapping[str, BaseGeometry]
) -> list[Lengths]:
    """Edges of a region by the shape that each lies on.

    An edge that another shape has cut in belongs to the nearest shape. Edges of one region
    that face each other across a gap of a tape's width are inside it and do not count.
    """
    found = [Lengths() for _ in shapes]
    sides = _Sides(shapes)
    facing = {name: _Facing(_segments(other)) for name, other in sorted(beside.items())}
    itself = _Facing(_segments(region))
    for start, end in _segments(region):
        index, side = sides.under(_point(start, end, 0.5))
        scale = math.dist(start, end) * side.scale
        inside = itself.covered(start, end)
        covered = list(inside)
        mine = found[index]
        for name, other in facing.items():
            spans = other.covered(start, end)
            if spans:
                mine.beside.add(name)
                covered += spans
        show = (1 - _whole(inside)) * scale
        shared = (_whole(covered) - _whole(inside)) * scale
        if side.curved:
            mine.curved += show
            mine.shared_curved += shared
        else:
            mine.straight += show
            mine.shared_straight += shared
    return found


def corners_on_plan(
    region: BaseGeometry, shapes: Sequence[Footprint], beside: Sequence[BaseGeometry]
) -> list[float]:
    """The corner factor of a region's open edge, by the shape that each corner belongs to.

    Corners are those of all the paving together: where the open edges of two parts meet, each
    takes half of the corner.
    """
    found = [0.0] * len(shapes)
    sides = _Sides(shapes)
    corners = list(_corners(_joined([region, *beside])))
    points = [_toward(here, other) for before, here, after in corners for other in (before, after)]
    owned = _owned(points, region, beside)
    gains = [
        max(-MOST_CORNER, min(MOST_CORNER, math.tan(_turn(*corner) / 2))) for corner in corners
    ]
    for number, (point, mine) in enumerate(zip(points, owned, strict=True)):
        if mine:
            found[sides.under(point)[0]] += gains[number // 2] / 2
    return found


def _joined(regions: Sequence[BaseGeometry]) -> BaseGeometry:
    """All paving as one region, with gaps of a tape's width closed."""
    from shapely import transform, unary_union

    if len(regions) == 1:
        # Rounded first: the union on a grid divides by a coordinate that is almost nought.
        rounded = transform(regions[0], lambda points: points.round(9))
        return unary_union([rounded], grid_size=_GRID)
    return grown(regions, NEAR / 2).buffer(-NEAR / 2, join_style="mitre", mitre_limit=20)


def _owned(
    points: Sequence[Point], region: BaseGeometry, beside: Iterable[BaseGeometry]
) -> list[bool]:  # fmt: skip
    """Whether the edge at each point is the region's own rather than a neighbour's."""
    import numpy as np
    from shapely import distance
    from shapely import points as at

    places: Any = at(np.array(points).reshape(-1, 2))
    with np.errstate(all="ignore"):  # a sliver thinner than any number squared
        mine: Any = distance(region, places)
        away = [distance(other, places) for other in beside if not other.is_empty]
        return [bool(own) for own in np.all([mine >= 0, *(mine <= other for other in away)], 0)]


def _rings(region: BaseGeometry) -> Iterator[list[Point]]:
    """Closed rings of a region, outer ones against the clock and holes with it."""
    from shapely import Polygon
    from shapely.geometry.polygon import orient

    for part in getattr(region, "geoms", [region]):
        if isinstance(part, Polygon) and not part.is_empty:
            turned = orient(part)
            for line in (turned.exterior, *turned.interiors):
                yield [(x, y) for x, y in line.coords]


def _segments(region: BaseGeometry) -> list[tuple[Point, Point]]:
    return [
        (a, b)
        for ring in _rings(region)
        for a, b in itertools.pairwise(ring)
        if math.dist(a, b) > 1e-9
    ]


def _corners(region: BaseGeometry) -> Iterator[tuple[Point, Point, Point]]:
    for ring in _rings(region):
        points = [a for a, b in itertools.pairwise(ring) if math.dist(a, b) > _SPECK]
        count = len(points)
        for i in range(count):
            yield points[i - 1], points[i], points[(i + 1) % count]


def _turn(before: Point, here: Point, after: Point) -> float:
    entering = math.atan2(here[1] - before[1], here[0] - before[0])
    leaving = math.atan2(after[1] - here[1], after[0] - here[0])
    return math.remainder(leaving - entering, 2 * math.pi)


def _point(start: Point, end: Point, share: float) -> Point:
    return start[0] + (end[0] - start[0]) * share, start[1] + (end[1] - start[1]) * share


def _toward(here: Point, other: Point) -> Point:
    return _point(here, other, min(0.5, _STEP / math.dist(here, other)))


def _whole(spans: Iterable[tuple[float, float]]) -> float:
    """The share of a segment that spans cover together."""
    covered, reached = 0.0, 0.0
    for low, high in sorted(spans):
        covered += max(0.0, high - max(low, reached))
        reached = max(reached, high)
    return covered


class _Sides:
    """The sides of some shapes, to find the one that a point lies on."""

    def __init__(self, shapes: Sequence[Footprint]) -> None:
        from shapely import LineString, STRtree

        self._all = [(i, side) for i, shape in enumerate(shapes) for side in shape.sides]
        self._tree: Any = STRtree([LineString([s.start, s.end]) for _, s in self._all])

    def under(self, point: Point) -> tuple[int, Side]:
        """The shape and its side nearest to a point."""
        from shapely import Point as At

        return self._all[int(self._tree.nearest(At(point)))]


class _Facing:
    """Segments of a region's edge, to find where others lie against them."""

    def __init__(self, segments: Sequence[tuple[Point, Point]]) -> None:
        from shapely import LineString, STRtree

        self._all = segments
        self._tree: Any = STRtree([LineString(pair) for pair in segments])

    def covered(self, start: Point, end: Point) -> list[tuple[float, float]]:
        """The spans of a segment, as shares, that face one of these within a tape's width."""
        from shapely import LineString

        near = self._tree.query(LineString([start, end]), "dwithin", NEAR)
        spans = (_facing(start, end, *self._all[int(i)]) for i in sorted(near))
        return [span for span in spans if span]


def _facing(a: Point, b: Point, c: Point, d: Point) -> tuple[float, float] | None:
    """The share of ``a b`` that ``c d`` lies against, running the other way."""
    long = math.dist(a, b)
    ux, uy = (b[0] - a[0]) / long, (b[1] - a[1]) / long
    vx, vy = d[0] - c[0], d[1] - c[1]
    across = math.hypot(vx, vy)
    if ux * vx + uy * vy > -math.cos(_PARALLEL) * across:
        return None
    ends = []
    for x, y in (d, c):
        along = ((x - a[0]) * ux + (y - a[1]) * uy) / long
        away = abs((y - a[1]) * ux - (x - a[0]) * uy)
        ends.append((along, away))
    low, high = max(0.0, ends[0][0]), min(1.0, ends[1][0])
    if high - low <= 1e-9 or min(ends[0][1], ends[1][1]) > NEAR:
        return None
    return low, high
