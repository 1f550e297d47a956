"""Edges and corners of a region on the plan: whose they are, and what lies beside them."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import TYPE_CHECKING, Any

from budget.quantities.formulas.shapes import MOST_CORNER, Point
from budget.quantities.plan.edges_open import Lengths
from budget.quantities.plan.own_corner import GRAIN
from budget.quantities.plan.placed_shapes import Footprint, Side
from budget.quantities.plan.regions import NEAR, closed

if TYPE_CHECKING:
    from numpy.typing import NDArray
    from shapely.geometry.base import BaseGeometry

#: Two sides that turn by less than this against each other count as parallel.
_PARALLEL = math.radians(2)
#: Sides shorter than this (m) are rounding of crossings and make no corner.
_SPECK = 1e-4
#: Points of a joined outline lie on a grid this fine (m), so that no hairline is left open.
_GRID = 1e-6
#: How far from a corner (m) its sides are looked at.
_STEP = 0.02


def lengths_on_plan(
    region: BaseGeometry, shapes: Sequence[Footprint], beside: Mapping[str, BaseGeometry]
) -> list[Lengths]:
    """Edges of a region by the shape that each lies on.

    An edge that another shape has cut in belongs to the nearest shape. Edges of one region
    that face each other across a gap of a tape's width are inside it and do not count.
    """
    import numpy as np

    found = [Lengths() for _ in shapes]
    edges = _segments(region)
    if not len(edges):
        return found
    under = _Sides(shapes).under(edges.mean(axis=1))
    within = _Facing(edges).covered(edges)
    against = {n: _Facing(_segments(other)).covered(edges) for n, other in sorted(beside.items())}
    long = np.hypot(*(edges[:, 1] - edges[:, 0]).T).tolist()
    for i, (index, side) in enumerate(under):
        scale = long[i] * side.scale
        inside = within.get(i, [])
        covered = list(inside)
        mine = found[index]
        for name, spans in against.items():
            if i in spans:
                mine.beside.add(name)
                covered += spans[i]
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
    import numpy as np

    found = [0.0] * len(shapes)
    if region.is_empty:
        return found
    corners = [corner for ring in _rings(_joined([region, *beside])) for corner in _corners(ring)]
    if not corners:
        return found
    before, here, after = np.array(corners).transpose(1, 0, 2)
    turned = _turn(here - before, after - here)
    gain = np.clip(np.tan(turned / 2), -MOST_CORNER, MOST_CORNER)
    near = np.vstack([_toward(here, before), _toward(here, after)])
    mine = np.flatnonzero(_owned(near, region, beside))
    under = _Sides(shapes).under(near[mine])
    for i, (index, _) in zip(mine.tolist(), under, strict=True):
        found[index] += float(gain[i % len(here)]) / 2
    return found


def _joined(regions: Sequence[BaseGeometry]) -> BaseGeometry:
    """All paving as one region, with gaps of a tape's width closed."""
    from shapely import transform, unary_union

    if len(regions) == 1:
        # Rounded first: the union on a grid divides by a coordinate that is almost nought.
        rounded = transform(regions[0], lambda points: points.round(GRAIN))
        return unary_union([rounded], grid_size=_GRID)
    return closed(regions)


def _owned(
    points: NDArray[Any], region: BaseGeometry, beside: Iterable[BaseGeometry]
) -> NDArray[Any]:
    """Whether the edge at each point is the region's own rather than a neighbour's."""
    import numpy as np

    mine = _away(points, region)
    others = [_away(points, other) for other in beside if not other.is_empty]
    nearest = np.minimum.reduce(others) if others else np.inf
    found: NDArray[Any] = mine <= nearest
    return found


def _away(points: NDArray[Any], region: BaseGeometry) -> NDArray[Any]:
    """How far each point is from the edge of a region [m]."""
    import shapely

    tree = shapely.STRtree(shapely.linestrings(_segments(region)))
    _, far = tree.query_nearest(shapely.points(points), return_distance=True, all_matches=False)
    found: NDArray[Any] = far
    return found


def _rings(region: BaseGeometry) -> Iterator[NDArray[Any]]:
    """Closed rings of a region, outer ones against the clock and holes with it."""
    import shapely
    from shapely import Polygon
    from shapely.geometry.polygon import orient

    for part in getattr(region, "geoms", [region]):
        if isinstance(part, Polygon) and not part.is_empty:
            turned = orient(part)
            for line in (turned.exterior, *turned.interiors):
                yield shapely.get_coordinates(line)


def _segments(region: BaseGeometry) -> NDArray[Any]:
    """The sides of a region, each by its start and end."""
    import numpy as np

    pairs = [np.stack([ring[:-1], ring[1:]], axis=1) for ring in _rings(region)]
    sides: NDArray[Any] = np.concatenate([*pairs, np.array([]).reshape(0, 2, 2)])
    found: NDArray[Any] = sides[np.hypot(*(sides[:, 1] - sides[:, 0]).T) > 1e-9]
    return found


def _corners(ring: NDArray[Any]) -> list[tuple[Point, Point, Point]]:
    """Each corner of a ring with the points before and after it, specks left out."""
    points = [tuple(a) for a, b in itertools.pairwise(ring.tolist()) if math.dist(a, b) > _SPECK]
    count = len(points)
    return [(points[i - 1], points[i], points[(i + 1) % count]) for i in range(count)]


def _turn(entering: NDArray[Any], leaving: NDArray[Any]) -> NDArray[Any]:
    """The angle from one direction to another, left positive [rad]."""
    import numpy as np

    dot = (entering * leaving).sum(axis=1)
    found: NDArray[Any] = np.arctan2(_cross(entering, leaving), dot)
    return found


def _toward(here: NDArray[Any], other: NDArray[Any]) -> NDArray[Any]:
    """A little way from each point toward another."""
    import numpy as np

    along = other - here
    share = np.minimum(0.5, _STEP / np.hypot(*along.T))
    found: NDArray[Any] = here + along * share[:, None]
    return found


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
        import shapely

        self._all = [(i, side) for i, shape in enumerate(shapes) for side in shape.sides]
        ends = [(side.start, side.end) for _, side in self._all]
        self._tree: Any = shapely.STRtree(shapely.linestrings(ends))

    def under(self, points: NDArray[Any]) -> list[tuple[int, Side]]:
        """For each point the nearest shape and its side."""
        import shapely

        return [self._all[i] for i in self._tree.nearest(shapely.points(points)).tolist()]


class _Facing:
    """Segments of a region's edge, to find where others lie against them."""

    def __init__(self, segments: NDArray[Any]) -> None:
        import shapely

        self._all = segments
        self._tree: Any = shapely.STRtree(shapely.linestrings(segments))

    def covered(self, edges: NDArray[Any]) -> dict[int, list[tuple[float, float]]]:
        """The spans of each edge, as shares, that face one of these within a tape's width."""
        import shapely

        of, near = self._tree.query(shapely.linestrings(edges), "dwithin", NEAR)
        low, high, facing = _facing(edges[of], self._all[near])
        found: dict[int, list[tuple[float, float]]] = {}
        for i, start, end in zip(of[facing], low[facing], high[facing], strict=True):
            found.setdefault(int(i), []).append((float(start), float(end)))
        return found


def _facing(
    edges: NDArray[Any], others: NDArray[Any]
) -> tuple[NDArray[Any], NDArray[Any], NDArray[Any]]:
    """The share of each edge, from and to, that another lies against, running the other way.

    The last array tells where there is such a share at all. A region lies left of its edges: the
    far side of a narrow strip of paving lies left of the near one, that of a gap right of it.
    """
    import numpy as np

    start, run = edges[:, 0], edges[:, 1] - edges[:, 0]
    first, across = others[:, 0], others[:, 1] - others[:, 0]
    long, wide = np.hypot(*run.T), np.hypot(*across.T)
    unit = run / long[:, None]
    opposed = (unit * across).sum(axis=1) <= -math.cos(_PARALLEL) * wide
    low, high = [((others[:, end] - start) * unit).sum(axis=1) / long for end in (1, 0)]
    low, high = np.maximum(0.0, low), np.minimum(1.0, high)
    left = [_cross(across, start + run * at[:, None] - first) / wide for at in (low, high)]
    near = np.minimum(*np.abs(left)) <= NEAR
    across_a_gap = np.minimum(*left) <= _GRID
    return low, high, opposed & near & across_a_gap & (high - low > 1e-9)


def _cross(one: NDArray[Any], other: NDArray[Any]) -> NDArray[Any]:
    """The cross product of vectors: positive where the other turns to the left [m²]."""
    found: NDArray[Any] = one[:, 0] * other[:, 1] - one[:, 1] * other[:, 0]
    return found
