"""Where walls, rings, columns and steps lie, and what those in the paving take off it."""

from __future__ import annotations

import math
from dataclasses import replace

from budget.job import Area, Job, Place, Wall
from budget.quantities.formulas.rings import outer_diameter
from budget.quantities.formulas.shapes import Point
from budget.quantities.materials import Materials
from budget.quantities.needs.wall_counts import risers, size, tread
from budget.quantities.needs.wall_sizes import unit_of

_SIDES = 48  # of a circle as drawn


def with_features(job: Job, materials: Materials) -> Job:
    """The job with a cut-out for everything that stands in the paving.

    Its pavers are left out, and those around it are cut to it; its own base takes the place of
    theirs. An edge against it needs no restraint, as an edge against a house. Below something
    optional the paving is counted as if it were not there, so that it never runs short.
    """
    holes = [
        hole
        for row in job.walls
        if row.stands == "in the paving" and not row.optional
        for hole in _holes(row, materials)
    ]
    return replace(job, areas=(*job.areas, *holes)) if holes else job


def _holes(row: Wall, materials: Materials) -> list[Area]:
    sides = _sides(row, materials)
    if sides is None:
        return []
    place = Place(row.place.sheet, row.place.row, {"x": row.place.columns.get("x", "A")})
    names = [f"{row.name} {i + 1}" if row.count > 1 else row.name for i in range(row.count)]
    length, width = sides
    if row.kind == "ring":
        return [
            Area(place=place, part=row.part, name=name, shape="circle", diameter=length,
                 cut_out=True, house_edge=math.pi * length, x=row.x, y=row.y)
            for name in names
        ]  # fmt: skip
    x, y = _corner(row, width)
    return [
        Area(place=place, part=row.part, name=name, shape="rectangle", length=length, width=width,
             cut_out=True, house_edge=2 * (length + width), x=x, y=y, turn=row.turn)
        for name in names
    ]  # fmt: skip


def _sides(row: Wall, materials: Materials) -> tuple[float, float] | None:
    """Length and width of the footprint [m] (of a ring: its outer diameter, twice)."""
    unit = unit_of(row.unit, materials)
    if row.kind == "ring":
        if not row.diameter:
            return None
        across = outer_diameter(size(row, "diameter"), row.circle, unit.depth).value
        return across, across
    if not row.length:
        return None
    if row.kind == "wall":
        return row.length, unit.depth.value
    if row.kind == "column":
        return row.length, row.length
    if not row.height:
        return None
    return row.length, tread(row).value * max(1, int(risers(row).value) - 1)


def _corner(row: Wall, width: float) -> tuple[float | None, float | None]:
    """First corner of a rectangle; a column is placed by its middle."""
    if row.kind != "column" or row.x is None or row.y is None:
        return row.x, row.y
    turn = math.radians(row.turn)
    half = width / 2
    x = row.x - half * math.cos(turn) + half * math.sin(turn)
    y = row.y - half * math.sin(turn) - half * math.cos(turn)
    return x, y


def outlines(job: Job, materials: Materials) -> tuple[tuple[str, tuple[Point, ...]], ...]:
    """Name and outline [m] of every placed feature, to be drawn on the plan."""
    found = []
    for row in sorted(job.walls, key=lambda r: (r.part, r.name)):
        sides = _sides(row, materials)
        if sides is None or row.x is None or row.y is None:
            continue
        length, width = sides
        if row.kind == "ring":
            ring = tuple(
                (row.x + length / 2 * math.cos(a), row.y + length / 2 * math.sin(a))
                for a in (2 * math.pi * i / _SIDES for i in range(_SIDES))
            )
        else:
            x, y = _corner(row, width)
            ring = _turned(x or 0.0, y or 0.0, sides, math.radians(row.turn))
        found.append((row.name, ring))
    return tuple(found)


def _turned(x: float, y: float, sides: tuple[float, float], turn: float) -> tuple[Point, ...]:
    along = (math.cos(turn), math.sin(turn))
    corners = ((0.0, 0.0), (sides[0], 0.0), sides, (0.0, sides[1]))
    return tuple(
        (x + u * along[0] - v * along[1], y + u * along[1] + v * along[0]) for u, v in corners
    )
