"""The lines of the plan: which edges are held, lie against other paving or against the house.

Only parts that have a place on the plan have such lines; they are worked out when they are drawn.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from budget.job import Area, Job
from budget.quantities.formulas.levels import Plane
from budget.quantities.formulas.shapes import Point
from budget.quantities.plan.parts import piece_of
from budget.quantities.plan.placed_shapes import Side, footprint
from budget.quantities.plan.regions import NEAR, close_by
from budget.quantities.site_levels import finish_of, rows_of
from budget.quantities.takeoff import PartGeometry, Takeoff

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

Line = tuple[Point, ...]

#: Sides together as long as the edge against the house within this share are that edge.
_SAME = 0.01
#: Sides of one shape that are tried together; no shape is against the house with more.
_MOST = 8


@dataclass(frozen=True, slots=True)
class PlanLines:
    """Edges of one part by what lies beyond them, as lines in m."""

    held: tuple[Line, ...]  # open: held by a restraint
    joined: tuple[Line, ...]  # against other paving, or something standing in it
    house: tuple[Line, ...]
    unsure: float = 0.0  # m against the house of which the workbook does not say where


def plan_lines(job: Job, takeoff: Takeoff) -> dict[str, PlanLines]:
    """The lines of every placed part, by its name.

    For a part that must be built, paving that may be left out counts as none.
    """
    placed = [part for part in takeoff.parts if part.placed]
    regions = {part.part: _region(part) for part in placed}
    inside = {row.name for row in job.walls if row.stands == "in the paving"}
    standing = [ring for name, ring in takeoff.features if name in inside]
    close = close_by([regions[part.part].bounds for part in placed])
    found = {}
    for part, others in zip(placed, close, strict=True):
        beside = [
            regions[placed[i].part] for i in others if part.optional or not placed[i].optional
        ]
        rows = [row for row in job.areas if row.part == part.part and not row.cut_out]
        found[part.part] = lines_of(regions[part.part], beside, standing, rows, job)
    return found


def falls(job: Job, takeoff: Takeoff) -> dict[str, Plane]:
    """The finish plane of every placed part with measured heights, where it can be known."""
    found = {}
    for part in takeoff.parts:
        rows = rows_of(job, part.part) if part.placed else []
        plane = finish_of(rows, _region(part)) if rows else None
        if plane and plane.fall > 0:
            found[part.part] = plane
    return found


def _region(part: PartGeometry) -> BaseGeometry:
    from shapely import Polygon, unary_union

    whole = unary_union([Polygon(ring) for ring in part.outlines])
    return whole.difference(unary_union([Polygon(ring) for ring in part.holes]))


def lines_of(
    region: BaseGeometry,
    beside: Sequence[BaseGeometry],
    standing: Sequence[Sequence[Point]],
    rows: Sequence[Area],
    job: Job,
) -> PlanLines:
    """The lines of one paved region.

    :param beside: regions of other paving
    :param standing: outlines of what stands in the paving
    :param rows: the placed shapes that the region is made of
    """
    from shapely import LineString, Polygon, unary_union

    edge = region.boundary
    near = unary_union([*beside, *(Polygon(ring).boundary for ring in standing)]).buffer(NEAR)
    free = edge.difference(near)
    sides, unsure = _house_sides(free, rows, job)
    wall = unary_union([LineString([side.start, side.end]) for side in sides]).buffer(NEAR)
    return PlanLines(
        _drawn(free.difference(wall)),
        _drawn(edge.intersection(near)),
        _drawn(free.intersection(wall)),
        unsure,
    )


def _drawn(lines: BaseGeometry) -> tuple[Line, ...]:
    """Lines in a settled order, without specks that rounding leaves."""
    from shapely import LineString, line_merge

    found = []
    for line in getattr(lines, "geoms", [lines]):
        if isinstance(line, LineString) and line.length > 2 * NEAR:
            found.append(line)
    if not found:
        return ()
    from shapely import MultiLineString

    merged = line_merge(MultiLineString(found))
    parts = getattr(merged, "geoms", [merged])
    return tuple(sorted(tuple((x, y) for x, y in line.coords) for line in parts))


def _house_sides(free: BaseGeometry, rows: Iterable[Area], job: Job) -> tuple[list[Side], float]:
    """The sides that are against the house, and how much of that edge cannot be told."""
    sides: list[Side] = []
    unsure = 0.0
    for row in sorted(rows, key=lambda r: (r.name, r.place.row)):
        if row.house_edge <= 0:
            continue
        chosen = _matching(_straight(free, row, job), row.house_edge, _sill(row, job))
        sides += chosen
        if not chosen:
            unsure += row.house_edge
    return sides, unsure


def _straight(free: BaseGeometry, row: Area, job: Job) -> list[Side]:
    """Straight sides of a shape that lie on free edge of its part, whole."""
    from shapely import LineString

    foot = footprint(piece_of(row, job))
    found = [side for side in (foot.sides if foot else ()) if not side.curved]
    around = free.buffer(NEAR)
    return [s for s in found if around.covers(LineString([s.start, s.end]))][:_MOST]


def _sill(row: Area, job: Job) -> Point | None:
    """Where the door is: the house is there."""
    for level in job.levels:
        mine = level.part.casefold() in ("", row.part.casefold())
        if mine and level.what == "sill" and level.x is not None and level.y is not None:
            return level.x, level.y
    return None


def _matching(sides: Sequence[Side], length: float, sill: Point | None) -> list[Side]:
    """The sides that together are as long as the edge against the house, if only those are.

    Fewer sides go before more of them, and then those at the door.
    """
    fitting = [
        list(some)
        for count in range(1, len(sides) + 1)
        for some in itertools.combinations(sides, count)
        if math.isclose(sum(side.length for side in some), length, rel_tol=_SAME)
    ]
    fitting = [some for some in fitting if len(some) == len(fitting[0])]
    if len(fitting) > 1 and sill:
        away = [min(_away(side, sill) for side in some) for some in fitting]
        nearest = min(away)
        fitting = [s for s, far in zip(fitting, away, strict=True) if far <= nearest + NEAR]
    return fitting[0] if len(fitting) == 1 else []


def _away(side: Side, point: Point) -> float:
    from shapely import LineString
    from shapely import Point as At

    return float(LineString([side.start, side.end]).distance(At(point)))
