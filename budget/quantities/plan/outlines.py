"""Outlines to draw, in metres, y upwards.

Placed shapes lie where they are on the plan. Shapes without a place stand side by side from left
to right, cut-outs inside the largest. Polygons keep their own corners, and lie together as their
corners say.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from budget.job import Area
from budget.quantities.formulas.shapes import Point
from budget.quantities.plan.parts import Part, Piece
from budget.quantities.plan.regions import region_of, rings
from budget.units import LENGTH, System, in_words

Outline = tuple[Point, ...]
Label = tuple[float, float, str]

_FULL_TURN = 96  # points on a full circle
_GAP = 0.4  # m between shapes that are not joined


def drawing(
    part: Part, system: System
) -> tuple[tuple[Outline, ...], tuple[Outline, ...], tuple[Label, ...]]:
    """Outlines, holes and labels of one part; nothing for shapes given by area alone."""
    outlines, holes = _on_the_plan(part)
    labels: list[Label] = []
    right = max((x for ring in outlines for x, _ in ring), default=0.0)
    loose = [piece for piece in part.added if not piece.placed]
    together = all(piece.row.shape == "polygon" for piece in loose) and not outlines
    for piece in loose:
        rings = rings_of(piece)
        if not rings:
            continue
        gap = _GAP if outlines and not piece.row.joined_edge else 0.0
        shift = (0.0, 0.0) if together else _beside(rings[0], right + gap)
        moved = [_moved(ring, shift) for ring in rings]
        outlines.append(moved[0])
        holes += moved[1:]
        labels += _labels(piece.row, moved[0], system)
        right = max(x for x, _ in moved[0])
    if outlines:
        off = [piece for piece in part.cut_out if not piece.placed]
        holes += _cut_outs(off, outlines, together)
    return tuple(outlines), tuple(holes), tuple(labels)


def _on_the_plan(part: Part) -> tuple[list[Outline], list[Outline]]:
    """Outlines and holes of the placed shapes of one part, in their true positions."""
    if not any(piece.region for piece in part.added):
        return [], []
    found = rings(region_of(part))
    return [region[0] for region in found], [hole for region in found for hole in region[1:]]


def rings_of(piece: Piece) -> list[Outline]:
    """The outline of one shape with its corner at the origin, and the hole of a ring."""
    row = piece.row
    length, width, diameter = row.length or 0.0, row.width or 0.0, row.diameter or 0.0
    r = diameter / 2
    match row.shape:
        case "rectangle":
            return [((0, 0), (length, 0), (length, width), (0, width))]
        case "triangle":
            return [((0, 0), (length, 0), (0, width))]
        case "circle":
            return [_arc(r, r, r, r, 1)]
        case "half circle":
            return [_arc(r, 0, r, r, 0.5)]
        case "quarter circle":
            return [((0.0, 0.0), *_arc(0, 0, r, r, 0.25))]
        case "ellipse":
            a, b = length / 2, width / 2
            return [_arc(a, b, a, b, 1)]
        case "ring":
            inner = (row.inner_diameter or 0.0) / 2
            return [_arc(r, r, r, r, 1), _arc(r, r, inner, inner, 1)]
        case "polygon" | "walked" | "offsets" | "curved offsets":
            return [piece.corners]
    return []


def _arc(x: float, y: float, a: float, b: float, turns: float) -> Outline:
    """Points of an ellipse around x, y, from the right and against the clock."""
    steps = round(_FULL_TURN * turns)
    last = steps if turns == 1 else steps + 1
    angles = [2 * math.pi * turns * i / steps for i in range(last)]
    return tuple((x + a * math.cos(t), y + b * math.sin(t)) for t in angles)


def _beside(ring: Outline, left: float) -> Point:
    return left - min(x for x, _ in ring), -min(y for _, y in ring)


def _moved(ring: Outline, shift: Point) -> Outline:
    return tuple((x + shift[0], y + shift[1]) for x, y in ring)


def _cut_outs(
    pieces: Sequence[Piece], outlines: Sequence[Outline], together: bool
) -> list[Outline]:
    """Cut-outs as holes: at their own corners, or side by side along the middle."""
    from shapely import Polygon

    around = max((Polygon(ring) for ring in outlines), key=lambda shape: float(shape.area))
    shapes = [(piece, rings_of(piece)[0]) for piece in pieces if rings_of(piece)]
    found: list[Outline] = []
    for number, (piece, ring) in enumerate(shapes, 1):
        if together and piece.corners and around.contains(Polygon(ring)):
            found.append(ring)
            continue
        left, low, right, high = around.bounds
        spot = left + (right - left) * number / (len(shapes) + 1), (low + high) / 2
        centre = Polygon(ring).centroid
        moved = _moved(ring, (spot[0] - centre.x, spot[1] - centre.y))
        if not around.contains(Polygon(moved)):
            inside = around.representative_point()
            moved = _moved(ring, (inside.x - centre.x, inside.y - centre.y))
        found.append(moved)
    return found


def _labels(row: Area, ring: Outline, system: System) -> list[Label]:
    """Where to write which dimension of one placed shape."""
    left, right = min(x for x, _ in ring), max(x for x, _ in ring)
    low, high = min(y for _, y in ring), max(y for _, y in ring)
    middle = (left + right) / 2, (low + high) / 2
    if row.shape in ("rectangle", "triangle", "ellipse") and row.length and row.width:
        return [
            (middle[0], low, in_words(row.length, LENGTH, system)),
            (left, middle[1], in_words(row.width, LENGTH, system)),
        ]
    if row.diameter:
        return [(middle[0], low, f"⌀ {in_words(row.diameter, LENGTH, system)}")]
    return []
