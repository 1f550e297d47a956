"""The units of a border in their places, to draw: whole ones, and cut ones as they are cut."""

from __future__ import annotations

import itertools
import math
from typing import TYPE_CHECKING, Any

from budget.quantities.laid.borders import Border, Face, Run, runs
from budget.quantities.plan.parts import Ring
from budget.quantities.plan.regions import union

if TYPE_CHECKING:
    from numpy.typing import NDArray
    from shapely.geometry.base import BaseGeometry

#: Corners sharper than this share of a straight line are drawn as if no sharper.
_SHARPEST = 0.07
_NOTHING = 1e-7  # m²


def border_units(border: Border) -> tuple[tuple[Ring, ...], tuple[Ring, ...]]:
    """Whole and cut units of a border on the plan, as rings of corners [m]."""
    from shapely import Polygon

    whole: list[Ring] = []
    cut: list[Ring] = []
    field = union([Polygon(ring[0], ring[1:]) for ring in border.field])
    for outline in border.outlines:
        strip = Polygon(outline[0], outline[1:]).difference(field)
        for run in runs(outline[0], border.face.reach):
            mitred = run.cut(border.face)
            for number, unit in enumerate(_units(run, border.face, strip)):
                (cut if number in mitred else whole).extend(_corners(unit))
    return tuple(whole), tuple(cut)


def _units(run: Run, face: Face, strip: BaseGeometry) -> NDArray[Any]:
    """Every unit of a run, clipped to the run's own share of the strip."""
    import numpy as np
    import shapely

    count = run.units(face)
    step = face.pitch if len(run.points) == 2 else _outer(run) / count
    at = np.array([_along(run.points, i * step - run.past[0]) for i in range(count + 1)])
    chord = np.diff(at, axis=0)
    unit = chord / np.hypot(*chord.T)[:, None]
    inward = np.column_stack([-unit[:, 1], unit[:, 0]])
    ends = (inward[-1:], inward[:1]) if not run.turns else (inward[:1], inward[-1:])
    normal = np.vstack([ends[0], inward]) + np.vstack([inward, ends[1]])
    deep = at + normal / np.hypot(*normal.T)[:, None] * face.reach
    gap = unit * face.joint / 2
    quads = np.stack([at[:-1] + gap, at[1:] - gap, deep[1:] - gap, deep[:-1] + gap], axis=1)
    _pointed(quads, unit)
    share = strip if not run.turns else strip.intersection(_share(run, face))
    found: NDArray[Any] = shapely.intersection(shapely.polygons(quads), share)
    return found


def _pointed(quads: NDArray[Any], along: NDArray[Any]) -> None:
    """End units in the point where their sides meet, around a bend tighter than they are deep."""
    wide, narrow = (((quads[:, a] - quads[:, b]) * along).sum(axis=1) for a, b in ((1, 0), (2, 3)))
    crossed = narrow < 0
    reach = wide[crossed] / (wide[crossed] - narrow[crossed])
    outer, deep = quads[crossed, 0], quads[crossed, 3]
    quads[crossed, 2] = quads[crossed, 3] = outer + (deep - outer) * reach[:, None]


def _outer(run: Run) -> float:
    sides = itertools.pairwise(run.points)
    return sum(math.dist(a, b) for a, b in sides) + sum(run.past)


def _along(line: Ring, far: float) -> tuple[float, float]:
    """The point so far along a line; before its start and past its end straight on [m]."""
    sides = list(itertools.pairwise(line))
    for number, (a, b) in enumerate(sides, 1):
        long = math.dist(a, b)
        if far <= long or number == len(sides):
            share = far / long
            return a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share
        far -= long
    raise AssertionError("a line without sides")


def _share(run: Run, face: Face) -> BaseGeometry:
    """The run's share of the strip: its outer side, and between the mitres its inner one."""
    from shapely import Polygon, make_valid

    sides = [_direction(a, b) for a, b in itertools.pairwise(run.points)]
    before = _turned(sides[0], -run.turns[0])
    after = _turned(sides[-1], run.turns[1])
    around = [before, *sides, after]
    inner = [
        _mitre(point, one, two, face.deep)
        for point, (one, two) in zip(run.points, itertools.pairwise(around), strict=True)
    ]
    return make_valid(Polygon([*run.points, *reversed(inner)]))


def _direction(a: tuple[float, float], b: tuple[float, float]) -> tuple[float, float]:
    long = math.dist(a, b)
    return (b[0] - a[0]) / long, (b[1] - a[1]) / long


def _turned(side: tuple[float, float], by: float) -> tuple[float, float]:
    cos, sin = math.cos(by), math.sin(by)
    return side[0] * cos - side[1] * sin, side[0] * sin + side[1] * cos


def _mitre(
    point: tuple[float, float], one: tuple[float, float], two: tuple[float, float], deep: float
) -> tuple[float, float]:
    """The point where two sides, moved inwards, meet."""
    even = max(1 + one[0] * two[0] + one[1] * two[1], _SHARPEST)
    x, y = -(one[1] + two[1]), one[0] + two[0]
    return point[0] + deep * x / even, point[1] + deep * y / even


def _corners(unit: BaseGeometry) -> list[Ring]:
    """The corners of one unit, to a tenth of a millimetre; none where nothing is left of it."""
    import shapely

    parts = [part for part in shapely.get_parts(unit) if part.area > _NOTHING]
    return [
        tuple((round(x, 4), round(y, 4)) for x, y in part.exterior.coords[:-1]) for part in parts
    ]
