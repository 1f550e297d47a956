"""A pattern laid out on an outline and counted: whole pavers, cut pavers, offcuts that serve.

Laying starts at a corner of the rectangle around the outline, with a whole paver or half a
paver on; each start gives a count, and the largest is what to have at hand. Where every start
leaves strips too narrow to lay, quarters of a length and half a width are tried too, and the
start to draw is one without such strips if there is any.

The starts do not depend on the size, and cut pieces come out of as few pavers as they can. A
larger rectangle therefore never takes fewer: what paves it, cut down, paves the smaller one.

A paver that lies less than a joint over the edge is not cut, and a strip narrower than a joint
is left to the joint.
"""

from __future__ import annotations

import itertools
import math
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import TYPE_CHECKING, Any

from budget.quantities.laid import offcuts
from budget.quantities.laid.bonds import BONDS, Unit, cells
from budget.quantities.plan.own_corner import Drawn, Ring, Rings, from_corner

if TYPE_CHECKING:
    from numpy.typing import NDArray
    from shapely.geometry.base import BaseGeometry

CORNERS = ("lower left", "lower right", "upper left", "upper right")
_LEAST_EDGE = 0.05  # share of the way round that an edge must have to set the direction
_SAME_TURN = 1e-6  # degrees between directions that differ by rounding alone
_NOTHING = 1e-9  # m²
_HAIR = 2e-9  # m, what rounding may leave of a paver along an edge
MOST_DRAWN = 4000  # pavers on one outline that are still drawn one by one


@dataclass(frozen=True, slots=True)
class Laying:
    """One count: the pattern laid from one start."""

    start: str
    whole: int
    cut: int  # pieces that are cut to size
    reused: int  # of them, those that come from an offcut
    cut_length: float  # m
    laid: float  # m² of paver faces
    slivers: int  # strips too narrow to lay
    narrowest: float  # m, the narrowest strip of any length

    @property
    def units(self) -> int:
        """Pavers used up."""
        return self.whole + self.cut - self.reused


@dataclass(frozen=True, slots=True)
class Layout:
    """A pattern on one outline: the count from every start, and the best one drawn."""

    layings: tuple[Laying, ...]  # from the starts that every outline has
    area: float  # m² of the outline
    drawn: Drawn  # the pavers of the best start
    drawn_from: str = ""  # the start that is drawn; blank: the best one
    shifted: tuple[Laying, ...] = ()  # from more starts, where all those leave slivers

    @property
    def best(self) -> Laying:
        """The start with the fewest slivers, then the fewest pavers."""
        every = (*self.layings, *self.shifted)
        return min(every, key=lambda found: (found.slivers, found.units, found.cut))

    @property
    def worst(self) -> Laying:
        """The start that uses up most pavers, of those of every outline and the best."""
        return max((*self.layings, self.best), key=lambda found: (found.units, found.cut))


@dataclass(frozen=True, slots=True)
class Frame:
    """Where the pattern's own frame lies: its zero point and its turn in degrees."""

    x: float
    y: float
    turn: float

    def inward(self, shape: BaseGeometry) -> BaseGeometry:
        """A shape as seen from the pattern."""
        from shapely import affinity

        moved = affinity.translate(shape, -self.x, -self.y)
        return affinity.rotate(moved, -self.turn, origin=(0, 0)) if self.turn else moved

    def on_plan(self, x: float, y: float) -> tuple[float, float]:
        """One point of the pattern as it lies on the plan."""
        turn = math.radians(self.turn)
        cos, sin = math.cos(turn), math.sin(turn)
        return self.x + x * cos - y * sin, self.y + x * sin + y * cos

    def outward(self, points: NDArray[Any]) -> NDArray[Any]:
        """Points of the pattern as they lie on the plan."""
        import numpy as np

        turn = math.radians(self.turn)
        cos, sin = math.cos(turn), math.sin(turn)
        seen: NDArray[Any] = points @ np.array([[cos, sin], [-sin, cos]]) + (self.x, self.y)
        return seen


def lay_out(rings: Rings, pattern: str, unit: Unit, sliver: float) -> Layout:
    """Lay a pattern on one outline from every start; equal outlines are laid out once.

    :param rings: the outer ring, then holes [m]
    :param sliver: strips narrower than this [m] are named

    >>> room = ((0.0, 0.0), (2.0, 0.0), (2.0, 1.0), (0.0, 1.0))
    >>> found = lay_out((room,), "stack bond", Unit(0.2, 0.1, 0.2, 0.1), 0.01)
    >>> {laying.units for laying in found.layings}
    {100}
    """
    corner, seen = from_corner(rings)
    found = _laid_out(seen, pattern, unit, sliver)
    return replace(found, drawn=replace(found.drawn, corner=corner))


@lru_cache(maxsize=256)
def _laid_out(rings: Rings, pattern: str, unit: Unit, sliver: float) -> Layout:
    """A pattern laid out on an outline whose corner is at 0, 0."""
    region = region_in(rings)
    frames = _frames(region, pattern, unit)
    layings = [_counted(f.inward(region), pattern, unit, at, sliver) for at, f in frames.items()]
    shifted: list[Laying] = []
    if all(laying.slivers for laying in layings):
        moved = _shifted(frames["lower left corner"], unit, direction(region))
        more = {at: frame for at, frame in moved.items() if at not in frames}
        shifted = [_counted(f.inward(region), pattern, unit, at, sliver) for at, f in more.items()]
        frames |= more
    found = Layout(tuple(layings), float(region.area), Drawn(), shifted=tuple(shifted))
    return replace(found, drawn=_drawn(region, pattern, unit, frames[found.best.start]))


def region_in(rings: Rings) -> BaseGeometry:
    """The region in rings [m], also where rounding lets a hole that touches the edge cross it.

    >>> region_in((((0.0, 0.0), (2.0, 0.0), (2.0, 1.0), (0.0, 1.0)),)).area
    2.0
    """
    from shapely import Polygon

    region = Polygon(rings[0], rings[1:])
    return region if region.is_valid else region.buffer(0)


def _frames(region: BaseGeometry, pattern: str, unit: Unit) -> dict[str, Frame]:
    """The starts: each corner of the rectangle along the longest edge, two half a paver on."""
    lean = Frame(0, 0, direction(region))
    box = lean.inward(region).bounds
    slant = lean.turn + BONDS[pattern].slant
    found = {}
    for i, corner in enumerate(CORNERS):
        x, y = box[0] if i % 2 == 0 else box[2], box[1] if i < 2 else box[3]
        found[f"{corner} corner"] = Frame(*lean.on_plan(x, y), slant)
        if i % 2 == 0:
            at = lean.on_plan(x + unit.cell_length / 2, y)
            found[f"{corner} corner, half a paver on"] = Frame(*at, slant)
    return found


def _shifted(corner: Frame, unit: Unit, along: float) -> dict[str, Frame]:
    """Starts a quarter of a length, half a width, or both further in."""
    lean = Frame(corner.x, corner.y, along)
    found = {}
    for quarters, on in enumerate(
        ("", ", a quarter on", ", half a paver on", ", three quarters on")
    ):
        for half, inward in enumerate(("", ", half a width in")):
            at = lean.on_plan(quarters * unit.cell_length / 4, half * unit.cell_width / 2)
            found[f"lower left corner{on}{inward}"] = Frame(*at, corner.turn)
    return found


def direction(region: BaseGeometry) -> float:
    """The direction of the longest edge in degrees, from -90 to 90; 0 for anything round.

    >>> from shapely import Polygon
    >>> round(direction(Polygon([(0, 0), (3, 4), (2, 3)])), 6)
    53.130102
    """
    outer = [part.exterior for part in getattr(region, "geoms", [region])]
    sides = [
        (math.dist(a, b), math.degrees(math.atan2(b[1] - a[1], b[0] - a[0])))
        for ring in outer
        for a, b in itertools.pairwise(ring.coords)
    ]
    longest = max(long for long, _ in sides)
    if longest < _LEAST_EDGE * sum(ring.length for ring in outer):
        return 0.0
    turns = [90 - round(90 - turn, 9) % 180 for long, turn in sides if long > longest - 1e-6]
    least = min(map(abs, turns))
    return min(turn for turn in turns if abs(turn) <= least + _SAME_TURN)


def _faces(region: BaseGeometry, pattern: str, unit: Unit) -> tuple[NDArray[Any], NDArray[Any]]:
    """The face of the paver in each cell around a region as a box, and which stand upright."""
    import numpy as np
    import shapely

    found = cells(pattern, unit, region.bounds)
    upright = found[:, 2] > 0
    ja, jb = (unit.cell_length - unit.length) / 2, (unit.cell_width - unit.width) / 2
    x = found[:, 0] + np.where(upright, jb, ja)
    y = found[:, 1] + np.where(upright, ja, jb)
    wide = np.where(upright, unit.width, unit.length)
    tall = np.where(upright, unit.length, unit.width)
    return shapely.box(x, y, x + wide, y + tall), upright


@dataclass(frozen=True, slots=True)
class Sorted:
    """The pavers of one start: faces wholly inside, and pieces of those at the edge."""

    whole: NDArray[Any]
    pieces: NDArray[Any]
    points: NDArray[Any]  # corners of the pieces, each in the frame of its paver
    piece: NDArray[Any]  # the piece of each corner
    ring: NDArray[Any]  # its ring
    low: NDArray[Any]  # how far the pieces reach, of offcuts.spans
    high: NDArray[Any]
    full: NDArray[Any]  # pieces so nearly whole that they are not cut
    cut: NDArray[Any]  # pieces that are cut; the rest is left to the joint

    @property
    def narrow(self) -> NDArray[Any]:
        """How narrow each piece is [m]."""
        found: NDArray[Any] = (self.high - self.low).min(axis=1)
        return found


def sorted_out(
    region: BaseGeometry, unit: Unit, faces: NDArray[Any], upright: NDArray[Any]
) -> Sorted:
    """Pavers of one size sorted by how they lie on a region: whole, cut, or left to the joint.

    :param faces: the face of each as a box [m]
    :param upright: which of them stand upright
    """
    import numpy as np
    import shapely

    shapely.prepare(region)
    near = shapely.intersects(region, faces)
    upright, faces = upright[near], faces[near]
    inside = shapely.covers(region, faces)
    edge = np.flatnonzero(~inside)
    parts, of = shapely.get_parts(
        _without_hairs(shapely.intersection(faces[edge], region)), return_index=True
    )
    flat = shapely.area(parts) > 0
    pieces, at = parts[flat], edge[of[flat]]
    points, piece, ring = _corners(pieces, faces[at], upright[at], unit)
    low, high = offcuts.spans(points, piece, len(pieces))
    full = shapely.area(pieces) >= unit.face - unit.joint * unit.width
    wide = (high - low).min(axis=1) > unit.joint + _HAIR
    cut = ~full & wide & ~_thin(pieces, unit.joint)
    return Sorted(faces[inside], pieces, points, piece, ring, low, high, full, cut)


def _hollow(shapes: NDArray[Any]) -> NDArray[Any]:
    """Which shapes turn inwards somewhere, or are in parts."""
    import shapely

    found: NDArray[Any] = (
        shapely.area(shapely.convex_hull(shapes)) > shapely.area(shapes) + _NOTHING
    )
    return found


def _without_hairs(shapes: NDArray[Any]) -> NDArray[Any]:
    """Shapes without what rounding leaves beside a hollow corner."""
    import shapely

    hollow = _hollow(shapes)
    shapes[hollow] = shapely.set_precision(shapes[hollow], _HAIR)
    return shapes


def _thin(pieces: NDArray[Any], joint: float) -> NDArray[Any]:
    """Which pieces lie around a hollow corner and are nowhere as wide as a joint."""
    import numpy as np
    import shapely

    hollow = _hollow(pieces)
    found = np.zeros(len(pieces), dtype=bool)
    inner = shapely.buffer(pieces[hollow], -joint / 2, join_style="mitre")
    found[hollow] = shapely.is_empty(inner)
    return found


def _counted(region: BaseGeometry, pattern: str, unit: Unit, start: str, sliver: float) -> Laying:
    return counted(sorted_out(region, unit, *_faces(region, pattern, unit)), unit, start, sliver)


def counted(found: Sorted, unit: Unit, start: str, sliver: float) -> Laying:
    """The count of pavers of one size that are sorted out."""
    import shapely

    areas, cut = shapely.area(found.pieces), found.cut
    face = unit.length, unit.width
    strips = cut & ((found.high - found.low).max(axis=1) >= unit.width / 2)
    return Laying(
        start=start,
        whole=len(found.whole) + int(found.full.sum()),
        cut=int(cut.sum()),
        reused=offcuts.pairs(found.low[cut], found.high[cut], areas[cut], face),
        cut_length=_cut_length(found, unit),
        laid=len(found.whole) * unit.face + float(areas.sum()),
        slivers=int((strips & (found.narrow < sliver)).sum()),
        narrowest=float(found.narrow[strips].min(initial=math.inf)),
    )


def _corners(
    pieces: NDArray[Any], faces: NDArray[Any], upright: NDArray[Any], unit: Unit
) -> tuple[NDArray[Any], NDArray[Any], NDArray[Any]]:
    """Corners of pieces in the frame of their paver; the piece and the ring each belongs to."""
    import numpy as np
    import shapely

    rings, of = shapely.get_rings(pieces, return_index=True)
    points, ring = shapely.get_coordinates(rings, return_index=True)
    piece = of[ring]
    points = points - shapely.bounds(faces)[piece, :2]
    turned = np.column_stack([points[:, 1], unit.width - points[:, 0]])
    return np.where(upright[piece][:, None], turned, points), piece, ring


def _cut_length(found: Sorted, unit: Unit) -> float:
    """Edges of cut pieces that are no edge of the paver [m]."""
    import numpy as np

    start, end = found.points[:-1], found.points[1:]
    kept = (found.ring[:-1] == found.ring[1:]) & found.cut[found.piece[:-1]]
    for axis, size in ((0, unit.length), (1, unit.width)):
        for at in (0.0, size):
            on = (np.abs(start[:, axis] - at) < 1e-6) & (np.abs(end[:, axis] - at) < 1e-6)
            kept &= ~on
    return float(np.hypot(*(end - start)[kept].T).sum())


def _drawn(region: BaseGeometry, pattern: str, unit: Unit, frame: Frame) -> Drawn:
    """Whole and cut pavers as they lie; no whole ones where there are very many."""
    inward = frame.inward(region)
    return drawn(sorted_out(inward, unit, *_faces(inward, pattern, unit)), frame)


def drawn(found: Sorted, frame: Frame) -> Drawn:
    """Pavers that are sorted out as they lie where the frame does, whole ones and cut ones."""
    cut = _outlines(found.pieces[found.cut], frame)
    whole: list[Ring] = []
    if len(found.whole) + len(cut) <= MOST_DRAWN:
        whole = _outlines(found.whole, frame) + _outlines(found.pieces[found.full], frame)
    return Drawn(tuple(whole), tuple(cut))


def _outlines(shapes: NDArray[Any], frame: Frame) -> list[Ring]:
    """The outer corners of shapes as they lie where the frame does, to a tenth of a millimetre."""
    import numpy as np
    import shapely

    points, of = shapely.get_coordinates(shapely.get_exterior_ring(shapes), return_index=True)
    rounded = np.round(frame.outward(points), 4).tolist()
    ends = np.searchsorted(of, np.arange(len(shapes) + 1)).tolist()
    corners = [(x, y) for x, y in rounded]
    return [tuple(corners[a : b - 1]) for a, b in itertools.pairwise(ends)]
