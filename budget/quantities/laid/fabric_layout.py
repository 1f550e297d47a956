"""Strips of fabric laid out on an outline: along one of its edges, or arm by arm.

Strips lie side by side along or across a direction that an edge of the outline has, from either
side. Where the outline turns inwards it may also be parted there, so that each arm has strips of
its own; one arm's strips then lap over the other's by the overlap. Each strip is as long as what
it covers; where that is in two pieces, so is the strip.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import TYPE_CHECKING, Any

from budget.quantities.formulas.geotextile import better
from budget.quantities.plan.own_corner import GRAIN

if TYPE_CHECKING:
    from shapely import LineString, Polygon
    from shapely.geometry.base import BaseGeometry

_SLIVER = 1e-6  # m², of an outline that a strip only touches
_FINE = 0.001  # m, no fabric is laid to less
_STRAIGHT = 0.01  # m, how far a point must stand out to be a corner
_HOLLOW, _SQUARE = math.radians(15), math.radians(60)  # turns inwards of a bend, of a corner
_DIRECTIONS = 2  # of edges, the longest first
_CORNERS = 4  # hollow ones at which arms are parted, the sharpest first
_PARTINGS = 2  # one after another
_LONGER = 1 + 1e-6  # times the length of a cut, which rounding may end short of the edge
_CLOSE = 1.1  # times the area: so little fabric that parting the outline gains nothing


@dataclass(frozen=True, slots=True)
class LaidStrip:
    """One strip: its length and its first corner [m], in a frame turned by some degrees."""

    length: float
    x: float
    y: float
    roll: float
    turn: float

    def moved(self, x: float, y: float) -> LaidStrip:
        """The same strip elsewhere on the plan [m].

        >>> LaidStrip(2.0, 0.0, 0.0, 1.0, 90.0).moved(5.0, 3.0).corners[0]
        (5.0, 3.0)
        """
        cos, sin = math.cos(math.radians(self.turn)), math.sin(math.radians(self.turn))
        return replace(self, x=self.x + x * cos + y * sin, y=self.y - x * sin + y * cos)

    @property
    def corners(self) -> tuple[tuple[float, float], ...]:
        """Its corners on the plan, to a micrometre."""
        cos, sin = math.cos(math.radians(self.turn)), math.sin(math.radians(self.turn))
        ends = ((0.0, 0.0), (self.length, 0.0), (self.length, self.roll), (0.0, self.roll))
        moved = [(self.x + along, self.y + across) for along, across in ends]
        return tuple((round(x * cos - y * sin, 6), round(x * sin + y * cos, 6)) for x, y in moved)


def strips_on(outline: BaseGeometry, roll: float, overlap: float) -> tuple[LaidStrip, ...]:
    """The strips that cover an outline with least fabric, or with few strips for little more.

    Equal outlines are laid out once, wherever they lie.

    :param outline: what is to be covered [m]
    :param roll: width of the roll [m], wider than the overlap
    :param overlap: overlap of neighbours [m]
    :raises ValueError: if the roll is not wider than the overlap

    >>> from shapely import box
    >>> [strip.length for strip in strips_on(box(0, 0, 21, 11), 6, 1)]
    [21.0, 21.0]
    """
    if roll <= overlap:
        msg = f"a roll {roll:.3g} m wide cannot overlap by {overlap:.3g} m"
        raise ValueError(msg)
    from shapely import set_precision, transform

    plain = outline.simplify(_FINE)
    left, low = plain.bounds[:2]
    # Not by rounding each corner: edges that almost meet would cross.
    seen = set_precision(transform(plain, lambda points: points - (left, low)), 10**-GRAIN)
    return tuple(strip.moved(left, low) for strip in _strips(seen, roll, overlap))


@lru_cache(maxsize=256)
def _strips(outline: BaseGeometry, roll: float, overlap: float) -> tuple[LaidStrip, ...]:
    """The strips on an outline whose corner is at 0, 0, the longest first."""
    found: list[LaidStrip] = []
    for part in _polygons(outline):
        found += _covered(part, roll, overlap, _PARTINGS)
    return tuple(sorted(found, key=lambda strip: (-strip.length, strip.corners)))


def _covered(outline: Polygon, roll: float, overlap: float, partings: int) -> list[LaidStrip]:
    """The best of all ways: one direction for the whole, or arms one by one."""
    whole = _one_way(outline, roll, overlap)
    laid = roll * sum(strip.length for strip in whole)
    if not partings or laid <= _CLOSE * outline.area:
        return whole
    pairs = list(_arms(outline, overlap))
    if not pairs:
        return whole
    parted = [[s for arm in arms for s in _one_way(arm, roll, overlap)] for arms in pairs]
    arms = pairs[_best(parted)]
    both = [s for arm in arms for s in _covered(arm, roll, overlap, partings - 1)]
    return (whole, both)[_best([whole, both])]


def _best(ways: list[list[LaidStrip]]) -> int:
    return better([(len(way), sum(strip.length for strip in way)) for way in ways])


def _one_way(outline: Polygon, roll: float, overlap: float) -> list[LaidStrip]:
    ways: list[list[LaidStrip]] = []
    for lean in _leans(outline):
        for turn in (lean, lean + 90):
            ways.append(_bands(outline, turn, roll, overlap))
            if len(ways[-1]) > 1:  # one strip is the same from either side
                ways.append(_bands(outline, turn + 180, roll, overlap))
    return ways[_best(ways)]


def _leans(outline: Polygon) -> list[float]:
    """Directions to try, in degrees from 0 to 90: those of long edges, and of the narrowest box."""
    from shapely import minimum_rotated_rectangle

    plain = _sides(outline.simplify(_STRAIGHT))
    box = _sides(minimum_rotated_rectangle(outline))
    longest = sorted(plain, key=lambda side: -round(math.dist(*side), 6))[:_DIRECTIONS]
    sides = (box[0], *longest)
    leans = (math.degrees(math.atan2(b[1] - a[1], b[0] - a[0])) for a, b in sides)
    return list(dict.fromkeys(round(lean, 6) % 90 for lean in leans))


def _bands(outline: Polygon, turn: float, roll: float, overlap: float) -> list[LaidStrip]:
    """Strips along one direction, from one side of the outline."""
    import numpy as np
    import shapely

    cos, sin = math.cos(math.radians(turn)), math.sin(math.radians(turn))
    back = np.array([[cos, sin], [-sin, cos]])  # from the turned frame to the plan
    shape = shapely.transform(outline, lambda points: points @ back.T)
    left, low, right, high = shape.bounds
    count = max(1, math.ceil((high - low - overlap) / (roll - overlap) - 1e-9))
    start = low + np.arange(count) * (roll - overlap)
    covered = shapely.intersection(shape, shapely.box(left - 1, start, right + 1, start + roll))
    pieces, band = shapely.get_parts(covered, return_index=True)
    wide = shapely.area(pieces) > _SLIVER
    reach = zip(shapely.bounds(pieces[wide]).tolist(), start[band[wide]].tolist(), strict=True)
    return [LaidStrip(round(end - x, 6), x, y, roll, turn) for (x, _, end, _), y in reach]


def _arms(outline: Polygon, overlap: float) -> Iterator[tuple[Polygon, Polygon]]:
    """The outline in two arms, parted at each hollow corner, either arm lapping the other."""
    for cut in _partings(outline):
        for one, other in _parted(outline, cut):
            lap = outline.intersection(cut.buffer(overlap, cap_style="flat"))
            yield _polygons(one.union(lap))[0], other


def _partings(outline: Polygon) -> Iterator[LineString]:
    """Lines from hollow corners into the outline: on along either side, or at a bend between."""
    from shapely import LineString, Point
    from shapely.geometry.polygon import orient

    plain = orient(outline.simplify(_STRAIGHT))
    ring = list(plain.exterior.coords)[:-1]
    left, low, right, high = plain.bounds
    far = right - left + high - low
    for turned, before, here, after in sorted(_hollow(ring))[:_CORNERS]:
        entering = math.atan2(here[1] - before[1], here[0] - before[0])
        back = math.atan2(here[1] - after[1], here[0] - after[0])
        between = entering + turned + (math.pi - turned) / 2
        for angle in (between,) if turned > -_SQUARE else (entering, back):
            end = here[0] + far * math.cos(angle), here[1] + far * math.sin(angle)
            for line in _lines(LineString([here, end]).intersection(outline)):
                if line.length > _STRAIGHT and line.distance(Point(here)) < _STRAIGHT:
                    yield line
                    break


def _hollow(ring: list[tuple[float, float]]) -> Iterator[tuple[float, Any, Any, Any]]:
    """Corners that turn inwards, each after its turn [rad, below 0] with the points beside it."""
    for i, here in enumerate(ring):
        before, after = ring[i - 1], ring[(i + 1) % len(ring)]
        entering = math.atan2(here[1] - before[1], here[0] - before[0])
        leaving = math.atan2(after[1] - here[1], after[0] - here[0])
        turned = math.remainder(leaving - entering, math.tau)
        if turned < -_HOLLOW:
            yield round(turned, 9), before, here, after


def _parted(outline: Polygon, cut: LineString) -> Iterator[tuple[Polygon, Polygon]]:
    """Both ways to tell the two sides of a cut."""
    from shapely.affinity import scale
    from shapely.ops import split

    sides = _polygons(split(outline, scale(cut, _LONGER, _LONGER)))
    if len(sides) == 2:
        yield sides[0], sides[1]
        yield sides[1], sides[0]


def _sides(shape: BaseGeometry) -> list[tuple[tuple[float, float], tuple[float, float]]]:
    return list(itertools.pairwise(shape.exterior.coords))


def _polygons(shape: BaseGeometry) -> list[Polygon]:
    from shapely import Polygon

    parts: Iterable[Any] = getattr(shape, "geoms", [shape])
    found = [part for part in parts if isinstance(part, Polygon) and part.area > _SLIVER]
    return sorted(found, key=lambda part: (-round(part.area, 6), part.bounds))


def _lines(shape: BaseGeometry) -> list[LineString]:
    from shapely import LineString

    parts: Iterable[Any] = getattr(shape, "geoms", [shape])
    return [part for part in parts if isinstance(part, LineString)]
