"""Regions of the plan: some shapes together, and the rings of what they cover."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from budget.quantities.parts import Part, Ring

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
