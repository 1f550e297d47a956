"""Heights: the finish plane, the ground between measured spots, and what lies between them.

Heights are in m above one mark, positions in m on the plan. A surface is a set of triangles;
spots on a full grid of rows and columns give cells whose volume is the mean of their four
corners times their area, as the grid method has it.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from budget.quantities.formulas.shapes import Point

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

Spot = tuple[float, float, float]  # x, y, height
Triangle = tuple[Spot, Spot, Spot]

_FAR = 1e4  # m, beyond any job


@dataclass(frozen=True, slots=True)
class Plane:
    """A flat surface: height at the zero point, and its rise along x and along y."""

    at_zero: float
    along_x: float = 0.0
    along_y: float = 0.0

    def height(self, x: float, y: float) -> float:
        """Height at a point [m]."""
        return self.at_zero + self.along_x * x + self.along_y * y

    @property
    def fall(self) -> float:
        """How steeply it falls, as a ratio."""
        return math.hypot(self.along_x, self.along_y)


def falling(x: float, y: float, height: float, toward: float, fall: float) -> Plane:
    """A plane through a point that falls by a ratio toward a direction [degrees from x].

    >>> plane = falling(0, 0, 1.0, 90, 0.02)
    >>> round(plane.height(5, 10), 9)
    0.8
    """
    a, b = -fall * math.cos(math.radians(toward)), -fall * math.sin(math.radians(toward))
    return Plane(height - a * x - b * y, a, b)


def plane_through(spots: Sequence[Spot]) -> Plane | None:
    """The plane nearest to some spots (least squares); through one or two, the plainest one.

    One spot gives a level plane, two (or several in a line) a plane that slopes along that
    line only.

    >>> tilted = plane_through([(0, 0, 0), (10, 0, 1), (0, 10, 2)])
    >>> round(tilted.along_x, 9), round(tilted.along_y, 9)
    (0.1, 0.2)
    """
    if not spots:
        return None
    import numpy as np

    points = np.array(spots, dtype=float)
    middle = points.mean(axis=0)
    around = points - middle
    slope, *_ = np.linalg.lstsq(around[:, :2], around[:, 2], rcond=1e-6)
    a, b = float(slope[0]), float(slope[1])
    return Plane(float(middle[2] - a * middle[0] - b * middle[1]), a, b)


def surface(spots: Sequence[Spot]) -> list[Triangle]:
    """Triangles between spots; none if fewer than three or all in a line.

    >>> len(surface([(0, 0, 1), (1, 0, 1), (0, 1, 1)]))
    1
    """
    ordered = sorted(spots)
    cells = _cells(ordered)
    if cells:
        return cells
    from shapely import MultiPoint, delaunay_triangles

    heights = {(x, y): z for x, y, z in ordered}
    if len(heights) < 3:
        return []
    net = delaunay_triangles(MultiPoint(list(heights)))
    return [
        _triangle([(x, y, heights[x, y]) for x, y in part.exterior.coords[:3]])
        for part in net.geoms
        if part.area > 0
    ]


def _triangle(spots: Sequence[Spot]) -> Triangle:
    a, b, c = spots
    return a, b, c


def _cells(spots: Sequence[Spot]) -> list[Triangle]:
    """Four triangles around the middle of each cell of a full grid, or nothing."""
    xs, ys = sorted({x for x, _, _ in spots}), sorted({y for _, y, _ in spots})
    heights = {(x, y): z for x, y, z in spots}
    if len(xs) < 2 or len(ys) < 2 or len(heights) != len(xs) * len(ys):
        return []
    found: list[Triangle] = []
    for (x0, x1), (y0, y1) in itertools.product(itertools.pairwise(xs), itertools.pairwise(ys)):
        ring = [(x, y, heights[x, y]) for x, y in ((x0, y0), (x1, y0), (x1, y1), (x0, y1))]
        middle = ((x0 + x1) / 2, (y0 + y1) / 2, sum(z for _, _, z in ring) / 4)
        found += [(ring[i - 1], ring[i], middle) for i in range(4)]
    return found


@dataclass(frozen=True, slots=True)
class Means:
    """Mean heights over a region: ground above the finish, and ground that must be filled [m]."""

    above: float  # signed
    fill: float


def means(
    region: BaseGeometry, ground: Sequence[Triangle], finish: Plane, beyond: Plane, stack: float
) -> Means:
    """Mean height of the ground above the finish over a region, and mean fill, in m.

    Between the spots the ground is as the triangles; past them it runs on as ``beyond``.

    :param stack: from the finish down to the bottom of the dig [m]; ground below that is filled
    """
    from shapely import Polygon, unary_union

    above = fill = 0.0
    covered = []
    for triangle in ground:
        cell = Polygon([(x, y) for x, y, _ in triangle])
        covered.append(cell)
        part = region.intersection(cell)
        if part.area > 0:
            plane = _less(_through(triangle), finish)
            above += _volume(part, plane)
            fill += _below(part, plane, stack)
    rest = region.difference(unary_union(covered)) if covered else region
    if rest.area > 0:
        plane = _less(beyond, finish)
        above += _volume(rest, plane)
        fill += _below(rest, plane, stack)
    return Means(above / region.area, fill / region.area)


def _through(triangle: Triangle) -> Plane:
    (x0, y0, z0), (x1, y1, z1), (x2, y2, z2) = triangle
    twice = (x1 - x0) * (y2 - y0) - (x2 - x0) * (y1 - y0)
    a = ((z1 - z0) * (y2 - y0) - (z2 - z0) * (y1 - y0)) / twice
    b = ((z2 - z0) * (x1 - x0) - (z1 - z0) * (x2 - x0)) / twice
    return Plane(z0 - a * x0 - b * y0, a, b)


def _less(first: Plane, second: Plane) -> Plane:
    return Plane(
        first.at_zero - second.at_zero,
        first.along_x - second.along_x,
        first.along_y - second.along_y,
    )


def _volume(region: BaseGeometry, plane: Plane) -> float:
    """Volume under a plane over a region: its area times the height at its centroid."""
    middle = region.centroid
    return float(region.area * plane.height(middle.x, middle.y))


def _below(region: BaseGeometry, plane: Plane, stack: float) -> float:
    """Volume between the bottom of the dig and the ground where the ground lies lower."""
    deep = Plane(plane.at_zero + stack, plane.along_x, plane.along_y)
    low = _low_side(deep)
    if low is None:
        return 0.0
    part = region.intersection(low)
    return -_volume(part, deep) if part.area > 0 else 0.0


def _low_side(plane: Plane) -> BaseGeometry | None:
    """Where a plane is below zero, as a large polygon."""
    from shapely import Polygon

    corners = [(-_FAR, -_FAR), (_FAR, -_FAR), (_FAR, _FAR), (-_FAR, _FAR)]
    kept = list(_clip(corners, plane))
    return Polygon(kept) if len(kept) > 2 else None


def _clip(corners: Sequence[Point], plane: Plane) -> Iterable[Point]:
    for i, here in enumerate(corners):
        before = corners[i - 1]
        z0, z1 = plane.height(*before), plane.height(*here)
        if (z0 < 0) != (z1 < 0):
            share = z0 / (z0 - z1)
            yield (
                before[0] + (here[0] - before[0]) * share,
                before[1] + (here[1] - before[1]) * share,
            )
        if z1 < 0:
            yield here


def average_depth(above: Sequence[float], stack: float) -> Means:
    """Means of spots without a place: each stands for the same share of the area.

    >>> found = average_depth([0.1, -0.3], 0.2)
    >>> round(found.above, 9), round(found.fill, 9)
    (-0.1, 0.05)
    """
    count = len(above)
    return Means(sum(above) / count, sum(max(0.0, -(d + stack)) for d in above) / count)
