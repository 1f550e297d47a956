"""The plan: shapes that have a place are put together, so that nothing counts twice.

Where parts overlap, the part listed first keeps the overlap; a part that must be built goes
before an optional one. Cut-outs take off what lies inside their own part. Edges shared with
other paving need no restraint and no base beyond them; for a part that must be built, paving
that may be left out does not count as such. Shapes without a place are left as they are.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, Any

from budget.figures import Figure, laid_out, minus
from budget.job import Area, Notice
from budget.quantities.formulas.shapes import Measured
from budget.quantities.plan.edges_open import Edges, Lengths, edges_on_plan
from budget.quantities.plan.parts import Part, Piece
from budget.quantities.plan.placed_edges import corners_on_plan, lengths_on_plan
from budget.quantities.plan.placed_shapes import Footprint, footprint
from budget.quantities.plan.regions import (
    NOWHERE,
    SLIGHT,
    Bounds,
    close_by,
    near,
    rings,
    trimmed,
    union,
)
from budget.units import AREA, LENGTH, System, in_words

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

#: A difference below this share is rounding.
_SAME = 1e-6


@dataclass(slots=True)
class Laid:
    """One part on the plan while it is worked out."""

    part: Part
    added: list[tuple[Piece, Footprint]]
    cut_out: list[tuple[Piece, Footprint]]
    own: list[Any] = field(default_factory=list)  # region of each added shape, before cut-outs
    off: list[Any] = field(default_factory=list)  # what each cut-out takes off
    lost: dict[str, float] = field(default_factory=dict)  # area left to other parts, m²
    region: Any = None
    bounds: Bounds = NOWHERE  # of the region

    @property
    def optional(self) -> bool:
        """Whether the part may be left out."""
        return self.part.optional


def place(parts: Sequence[Part], system: System) -> tuple[tuple[Part, ...], tuple[Notice, ...]]:
    """Parts with their placed shapes put together, and notices about overlaps.

    Areas, edges and corners of placed shapes are those that are left; everything else is as it
    was. A part that nothing is left of is named as a problem and left out.
    """
    laid = [found for part in parts if (found := _laid(part))]
    if not laid:
        return tuple(parts), ()
    laid.sort(key=_listed)
    _share_out(laid)
    beside = close_by([entry.bounds for entry in laid])
    done = {
        entry.part.name: _put_together(entry, [laid[i] for i in others])
        for entry, others in zip(laid, beside, strict=True)
    }
    notices = [notice for entry in laid for notice in _notices(entry, system)]
    kept = []
    for part in parts:
        new = done.get(part.name, part)
        if new.area().value > SLIGHT:
            kept.append(new)
        else:
            row = new.added[0].row
            text = f"nothing of {part.name} is left"
            notices.append(_notice(row, "x", "no-area", text, "some paved area"))
    return tuple(kept), tuple(notices)


def _laid(part: Part) -> Laid | None:
    added = [(p, f) for p in part.added if (f := footprint(p))]
    if not added:
        return None
    added.sort(key=lambda pair: (pair[0].row.place.row, pair[0].row.name))
    return Laid(part, added, [(p, f) for p in part.cut_out if (f := footprint(p))])


def _reach(entry: Laid) -> Bounds:
    """The bounds of all shapes of a part, before any is cut."""
    every = [shape.polygon().bounds for _, shape in entry.added]
    left, low, right, top = zip(*every, strict=True)
    return min(left), min(low), max(right), max(top)


def _listed(entry: Laid) -> tuple[bool, int, str]:
    return entry.optional, entry.added[0][0].row.place.row, entry.part.name


def _share_out(laid: Sequence[Laid]) -> None:
    """Give every spot of the plan to one shape."""
    reach = [_reach(entry) for entry in laid]
    for number, (entry, beside) in enumerate(zip(laid, close_by(reach), strict=True)):
        before = [laid[i] for i in beside if i < number]
        taken: list[BaseGeometry] = []
        for _, shape in entry.added:
            free = whole = shape.polygon()
            for other in [o for o in before if near(free.bounds, o.bounds)]:
                common = free.intersection(other.region).area
                if common > 0:
                    name = other.part.name
                    entry.lost[name] = entry.lost.get(name, 0.0) + common
                    free = free.difference(other.region)
            for mine in taken:
                free = free.difference(mine)
            # A hair would make the cuts that follow fail.
            taken.append(free if free is whole else trimmed(free))
        entry.own = taken
        entry.region = union(taken)
        for _, shape in entry.cut_out:
            hole = shape.polygon().intersection(entry.region)
            entry.off.append(hole)
            entry.region = trimmed(entry.region.difference(hole))
        entry.bounds = entry.region.bounds


def _put_together(entry: Laid, near_by: Sequence[Laid]) -> Part:
    """The part with the area, the edges and the corners that its placed shapes have left."""
    others = [other for other in near_by if not other.optional]
    pieces = [*entry.added, *entry.cut_out]
    beside = {o.part.name: o.region for o in others}
    lengths = lengths_on_plan(entry.region, [f for _, f in pieces], beside)
    signs = [1] * len(entry.added) + [-1] * len(entry.cut_out)
    factors = corners_on_plan(entry.region, [f for _, f in pieces], list(beside.values()))
    shapes = [*entry.own, *entry.off]
    new = {
        id(piece): _piece(piece, foot, shape, entry, found, factor * sign)
        for (piece, foot), shape, found, factor, sign in zip(
            pieces, shapes, lengths, factors, signs, strict=True
        )
    }
    return replace(
        entry.part,
        added=tuple(new.get(id(p), p) for p in entry.part.added),
        cut_out=tuple(new.get(id(p), p) for p in entry.part.cut_out),
    )


def _piece(
    piece: Piece, foot: Footprint, shape: BaseGeometry, entry: Laid, found: Lengths, corners: float
) -> Piece:
    row, name = piece.row, piece.row.name or piece.row.shape
    area = _left(piece.shape.area, shape.area / foot.polygon().area, f"area of {name} left")
    straight = _as_found(piece.shape.straight, found.straight, f"straight edge of {name}", row)
    curved = _as_found(piece.shape.curved, found.curved, f"curved edge of {name}", row)
    measured = Measured(area, straight, curved, corners)
    edges: Edges = edges_on_plan(row, piece.shape, measured, found)
    net = shape if row.cut_out else shape.intersection(entry.region)
    return replace(piece, shape=measured, edges=edges, region=rings(net))


def _left(area: Figure, share: float, name: str) -> Figure:
    """What is left of an area on the plan [m²]."""
    if abs(share - 1) <= _SAME:
        return area
    gone = area.value * (1 - share)
    key = f"plan overlap of {name.removesuffix(' left')} {area.key}".strip()
    return minus(name, area, laid_out(gone, AREA, "already counted on the plan", key, "the plan"))


def _as_found(formula: Figure, found: float, name: str, row: Area) -> Figure:
    if abs(formula.value - found) <= _SAME * max(1.0, formula.value):
        return formula
    key = f"plan {name} {row.cell('x')}"
    return laid_out(found, LENGTH, f"{name} left on the plan", key, "the plan")


def _notices(entry: Laid, system: System) -> list[Notice]:
    found = []
    row = entry.added[0][0].row
    for name in sorted(entry.lost):
        if entry.lost[name] > SLIGHT:
            size = in_words(entry.lost[name], AREA, system)
            text = f"{entry.part.name} over {name} by {size}"
            found.append(_notice(row, "x", "overlap", text, "parts beside each other"))
    outside = [
        piece.row
        for (piece, foot), off in zip(entry.cut_out, entry.off, strict=True)
        if off.area < foot.polygon().area * (1 - 1e-3)
    ]
    for row in outside:
        text = f"a cut-out that lies partly outside {entry.part.name}"
        found.append(_notice(row, "x", "cut-out-outside", text, "a cut-out inside its part"))
    return found


_MENDS = {
    "overlap": "The part listed first keeps it, and one that must be built before one that is "
    "optional; it is counted once. Move one of them if that is not meant.",
    "cut-out-outside": "Only what lies inside is taken off. Check its x and y.",
    "no-area": "Other parts or cut-outs cover it. List it before them, cut its shape out of "
    "them, or check x and y.",
}


def _notice(row: Area, column: str, code: str, found: str, expected: str) -> Notice:
    place = row.place
    return Notice(
        place.sheet, place.row, row.cell(column), code, found, expected, _MENDS[code],
        "problem" if code == "no-area" else "warning",
    )  # fmt: skip
