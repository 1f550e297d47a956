"""One shape as it lies on the plan: its rings in true position, and which sides are curved."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from budget.quantities.formulas.shapes import Point

if TYPE_CHECKING:
    from shapely import Polygon

    from budget.quantities.plan.parts import Piece, Ring

_CHORDS = 192  # on a full circle


@dataclass(frozen=True, slots=True)
class Side:
    """One straight side or one chord of a curve, in m."""

    start: Point
    end: Point
    curved: bool
    scale: float  # true length over the length of the chords

    @property
    def length(self) -> float:
        """Its length, along the curve if it is one."""
        return math.dist(self.start, self.end) * self.scale


@dataclass(frozen=True, slots=True)
class Footprint:
    """The outer ring of a shape, its hole if it is a ring, and every side."""

    rings: tuple[Ring, ...]
    sides: tuple[Side, ...]

    def polygon(self) -> Polygon:
        """The shape for plane geometry."""
        from shapely import Polygon

        return Polygon(self.rings[0], self.rings[1:])


def footprint(piece: Piece) -> Footprint | None:
    """Where a shape lies; nothing for one without a place or without an outline.

    The place is that of the first corner, of the middle of anything round, and of the start of
    a base line; the shape is turned about it, against the clock.
    """
    row = piece.row
    if row.x is None or row.y is None:
        return None
    rings = _rings(piece)
    if not rings:
        return None
    turn = math.radians(row.turn)
    cos, sin = round(math.cos(turn), 15), round(math.sin(turn), 15)
    x0, y0 = row.x, row.y
    moved = [
        tuple((x0 + x * cos - y * sin, y0 + x * sin + y * cos) for x, y in ring) for ring in rings
    ]
    curved = [_curved(piece, ring) for ring in rings]
    chords = sum(
        math.dist(ring[i], ring[(i + 1) % len(ring)])
        for ring, bent in zip(moved, curved, strict=True)
        for i in range(len(ring))
        if bent[i]
    )
    scale = piece.shape.curved.value / chords if chords else 1.0
    sides = [
        Side(ring[i], ring[(i + 1) % len(ring)], bent[i], scale if bent[i] else 1.0)
        for ring, bent in zip(moved, curved, strict=True)
        for i in range(len(ring))
    ]
    return Footprint(tuple(moved), tuple(sides))


def _rings(piece: Piece) -> list[Ring]:
    """The rings of a shape around its own zero point; circles hold their true area."""
    row = piece.row
    length, width, r = row.length or 0.0, row.width or 0.0, (row.diameter or 0.0) / 2
    match row.shape:
        case "rectangle":
            return [((0, 0), (length, 0), (length, width), (0, width))]
        case "triangle":
            return [((0, 0), (length, 0), (0, width))]
        case "circle":
            return [_arc(r, r, 1)]
        case "half circle":
            return [_arc(r, r, 0.5)]
        case "quarter circle":
            return [((0.0, 0.0), *_arc(r, r, 0.25))]
        case "ellipse":
            return [_arc(length / 2, width / 2, 1)]
        case "ring":
            inner = (row.inner_diameter or 0.0) / 2
            return [_arc(r, r, 1), _arc(inner, inner, 1)]
    return [piece.corners] if piece.corners else []


def _arc(a: float, b: float, turns: float) -> Ring:
    """Points of an ellipse around 0, from the right and against the clock.

    The points lie a hair outside, so that the chords enclose what the curve does; the ends of
    a part of a circle stay where they are, because straight sides end there.
    """
    steps = round(_CHORDS * turns)
    step = 2 * math.pi / _CHORDS
    out = math.sqrt(step / math.sin(step))
    whole = turns == 1
    found = []
    for i in range(steps if whole else steps + 1):
        f = out if whole or 0 < i < steps else 1.0
        found.append((a * f * math.cos(step * i), b * f * math.sin(step * i)))
    return tuple(found)


def _curved(piece: Piece, ring: Ring) -> list[bool]:
    """For each side of a ring whether it is a chord of a curve."""
    count = len(ring)
    match piece.row.shape:
        case "circle" | "ellipse" | "ring":
            return [True] * count
        case "half circle":
            return [i < count - 1 for i in range(count)]
        case "quarter circle":
            return [0 < i < count - 1 for i in range(count)]
        case "curved offsets":
            return [_bent(ring[i], ring[(i + 1) % count]) for i in range(count)]
    return [False] * count


def _bent(start: Point, end: Point) -> bool:
    return abs(start[0] - end[0]) >= 1e-9 and not start[1] == end[1] == 0
