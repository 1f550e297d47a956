"""Regions of the plan: some shapes together, and the rings of what they cover.

Shapes that a tape's width parts lie against each other, and so do those that are apart only by
the rounding of a turn: between them no edge is left.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TYPE_CHECKING

from budget.quantities.plan.own_corner import GRAIN

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

    from budget.quantities.plan.parts import Part, Ring

#: Areas below this are what a tape leaves (m²).
SLIGHT = 1e-3
#: Rings around less than this (m²) are not drawn.
_SPECK = 1e-4
#: Edges this near to each other (m) lie against each other: a tape is no better.
NEAR = 0.01
_HALF = NEAR / 2
#: How far closing a gap moves the points of an outline at most (m): what rounding does.
_ROUNDED = 1e-6
#: Corners keep their point up to so many times a side's way out; sharper ones are cut there.
_POINTED = 20

#: The least and most x and y of a region (m): of an empty one they are no numbers.
Bounds = tuple[float, float, float, float]
NOWHERE: Bounds = (math.nan, math.nan, math.nan, math.nan)

#: Regions whose bounds are further apart than this (m) have no edge or corner together.
_FAR = 0.5


def near(one: Bounds, other: Bounds) -> bool:
    """Whether two regions with these bounds may touch.

    >>> near((0, 0, 2, 1), (2, 0, 3, 1)), near((0, 0, 2, 1), (4, 0, 5, 1))
    (True, False)
    """
    return (
        one[0] <= other[2] + _FAR
        and other[0] <= one[2] + _FAR
        and one[1] <= other[3] + _FAR
        and other[1] <= one[3] + _FAR
    )


def close_by(bounds: Sequence[Bounds]) -> list[list[int]]:
    """For each of some regions the numbers of the others that it may touch, in order.

    The same as asking ``near`` of every two of them, in the time of a sorted search.

    >>> close_by([(0, 0, 2, 1), (9, 0, 9.5, 1), (2, 0, 3, 1), NOWHERE])
    [[2], [], [0], []]
    """
    import numpy as np
    import shapely

    known = [i for i, one in enumerate(bounds) if not math.isnan(one[0])]
    sides = np.array([bounds[i] for i in known]).reshape(len(known), 4)
    wide = sides + np.array([-_FAR, -_FAR, _FAR, _FAR])
    pairs = shapely.STRtree(shapely.box(*sides.T)).query(shapely.box(*wide.T))
    found: list[list[int]] = [[] for _ in bounds]
    for one, other in sorted(pairs.T.tolist()):
        if one != other:
            found[known[one]].append(known[other])
    return found


def union(shapes: Sequence[BaseGeometry]) -> BaseGeometry:
    """Some shapes together, each spot once, and gaps of a tape's width between them closed.

    >>> from shapely import box
    >>> joined = union([box(0, 0, 2, 1), box(0, 1.004, 2, 2)])
    >>> round(joined.area, 6), round(joined.length, 6)
    (4.0, 8.0)
    """
    from shapely import snap, unary_union

    plain = unary_union(shapes)
    if len(shapes) < 2:
        return plain
    # Grown before they are joined: edges that almost meet make the plain union fail.
    found = closed(shapes)
    if plain.length - found.length <= NEAR:
        return plain
    return snap(found, plain, _ROUNDED)


def closed(shapes: Sequence[BaseGeometry]) -> BaseGeometry:
    """Some shapes together, and gaps of a tape's width between them closed.

    >>> from shapely import box
    >>> round(closed([box(0, 0, 2, 1), box(0, 1.004, 2, 2)]).area, 6)
    4.0
    """
    return _wider(grown(shapes, _HALF), -_HALF)


def grown(shapes: Sequence[BaseGeometry], by: float) -> BaseGeometry:
    """Some shapes, each wider by some metres all round, together."""
    from shapely import transform, unary_union

    rounded = [transform(shape, lambda points: points.round(GRAIN)) for shape in shapes]
    return unary_union([_wider(shape, by) for shape in rounded])


def trimmed(shape: BaseGeometry) -> BaseGeometry:
    """A shape without hairs, which the rounding of a turn leaves where another ends in its line.

    >>> from shapely import Polygon
    >>> hair = Polygon([(0, 0), (2, 0), (2, 3), (1.999999999, 3), (1.999999999, 1), (0, 1)])
    >>> round(hair.length, 6), round(trimmed(hair).length, 6)
    (10.0, 6.0)
    """
    from shapely import snap

    found = _wider(_wider(shape, -_ROUNDED), _ROUNDED)
    if found.is_empty:
        return found
    if shape.length - found.length <= NEAR:
        return shape
    return snap(found, shape, _ROUNDED)


def _wider(shape: BaseGeometry, by: float) -> BaseGeometry:
    """A shape that much (m) wider all round, or narrower."""
    return shape.buffer(by, join_style="mitre", mitre_limit=_POINTED)


def rings(shape: BaseGeometry) -> tuple[tuple[Ring, ...], ...]:
    """The polygons of a region as rings: the outer one first, then its holes."""
    from shapely import Polygon
    from shapely.geometry.polygon import orient

    found = []
    for part in getattr(shape, "geoms", [shape]):
        if isinstance(part, Polygon) and part.area > _SPECK:
            turned = orient(part)
            lines = [turned.exterior, *turned.interiors]
            found.append(tuple(tuple((x, y) for x, y in line.coords[:-1]) for line in lines))
    return tuple(sorted(found))


def region_of(part: Part) -> BaseGeometry:
    """The paved region of a part's placed shapes, for plane geometry (empty if none are)."""
    from shapely import Polygon

    shapes = [Polygon(r[0], r[1:]) for piece in part.added for r in piece.region]
    return union(shapes)
