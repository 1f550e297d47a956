"""Regions of the plan, and what a feature that stands on paving changes there."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from budget.figures import Figure, constant, laid_out
from budget.quantities.parts import Part, Ring
from budget.units import AREA, LENGTH

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

#: Areas below this are what a tape leaves (m²).
SLIGHT = 1e-3


def union(shapes: Sequence[BaseGeometry]) -> BaseGeometry:
    """Some shapes together, each spot once."""
    from shapely import unary_union

    return unary_union(shapes)


def rings(shape: BaseGeometry) -> tuple[tuple[Ring, ...], ...]:
    """The polygons of a region as rings: the outer one first, then its holes."""
    from shapely import Polygon
    from shapely.geometry.polygon import orient

    found = []
    for part in getattr(shape, "geoms", [shape]):
        if isinstance(part, Polygon) and part.area > SLIGHT / 10:
            turned = orient(part)
            lines = [turned.exterior, *turned.interiors]
            found.append(tuple(tuple((x, y) for x, y in line.coords[:-1]) for line in lines))
    return tuple(sorted(found))


def region_of(part: Part) -> BaseGeometry:
    """The paved region of a part's placed shapes, for plane geometry (empty if none are)."""
    from shapely import Polygon

    shapes = [Polygon(r[0], r[1:]) for piece in part.added for r in piece.region]
    return union(shapes)


@dataclass(frozen=True, slots=True)
class Stood:
    """What a feature that stands on paving changes: pavers taken off, and cuts to it."""

    off: Figure  # m²
    cut: Figure  # m


def stand_on(
    part: Part, outline: Ring, name: str, key: str, *, own_base: bool, placed: bool
) -> Stood:
    """Area taken off a part, and edge to cut, by a feature with this outline [m].

    A feature on a base of its own takes its pavers off, and they are cut to it; one that
    stands on the pavers takes none off and needs no cuts. A placed feature counts as far as it
    lies on the part's placed shapes; one without a place, or on a part without one, counts
    whole. The edge to cut is what lies inside the paving.
    """
    from shapely import Polygon

    nothing = Stood(
        constant(0, AREA, f"pavers under {name}"), constant(0, LENGTH, f"cuts to {name}")
    )
    if not own_base:
        return nothing
    shape = Polygon(outline)
    paved = region_of(part)
    if placed and not paved.is_empty:
        off, cut = shape.intersection(paved).area, shape.exterior.intersection(paved).length
    else:
        off, cut = shape.area, shape.exterior.length
    return Stood(
        laid_out(off, AREA, f"paving under {name}", f"{key} on the plan", "the plan"),
        laid_out(cut, LENGTH, f"cuts to {name}", f"{key} cuts", "the plan"),
    )
