"""From the rows of Outline to the corners of one shape: a polygon, walked sides, or offsets."""

from __future__ import annotations

import itertools
from collections import defaultdict
from collections.abc import Callable, Sequence
from dataclasses import replace

from budget.job import Area, Corner, Job
from budget.quantities.formulas import surveyed
from budget.quantities.formulas.surveyed import Offsets, Point


def rows_of(area: Area, job: Job) -> tuple[Corner, ...]:
    """The rows of a shape in order, found by the shape's name or its part's."""
    names = {(area.name or area.part).casefold()}
    found = [c for c in job.corners if c.area.casefold() in names]
    if not found:
        found = [c for c in job.corners if c.area.casefold() == area.part.casefold()]
    return tuple(sorted(found, key=lambda c: c.order))


def narrowed(job: Job) -> Callable[[Area], Job]:
    """The job with no other rows of Outline than may be one shape's, which are few to look at."""
    by_area: dict[str, list[Corner]] = defaultdict(list)
    for corner in job.corners:
        by_area[corner.area.casefold()].append(corner)

    def for_shape(area: Area) -> Job:
        names = dict.fromkeys(((area.name or area.part).casefold(), area.part.casefold()))
        return replace(job, corners=tuple(c for n in names for c in by_area.get(n, ())))

    return for_shape


def corners_of(area: Area, job: Job) -> tuple[Point, ...]:
    """The corners of a listed shape in order around it [m]; none for any other shape.

    :raises ValueError: if a size is missing or the sides and diagonals cannot close; the
        message names the cells
    """
    rows = rows_of(area, job)
    match area.shape:
        case "polygon":
            return tuple((_filled(c, "x"), _filled(c, "y")) for c in rows)
        case "walked":
            return _walked(rows, job)
        case "offsets":
            return surveyed.straight_outline(offsets_of(area, job))
        case "curved offsets":
            return surveyed.curved_outline(offsets_of(area, job))
    return ()


def _walked(rows: Sequence[Corner], job: Job) -> tuple[Point, ...]:
    sides = [_filled(c, "length") for c in rows]
    diagonals = [_filled(c, "diagonal") for c in rows[2:-1]]
    try:
        return surveyed.walked(sides, diagonals, job.settings.units)
    except ValueError as fault:
        if not rows:
            raise
        cells = f"{rows[0].cell('length')} to {rows[-1].cell('length')}"
        raise ValueError(f"{fault} in {cells}") from fault


def offsets_of(area: Area, job: Job) -> Offsets:
    """The offsets of a shape along its base line [m].

    Where no row says how far along it lies, the offsets are spread evenly over the shape's
    length.

    :raises ValueError: if there are fewer than two, or their positions do not rise
    """
    rows = rows_of(area, job)
    if len(rows) < 2:
        raise ValueError(f"{len(rows)} offsets")
    away = tuple(_filled(c, "length") for c in rows)
    if not any(away):
        raise ValueError(f"offsets that are all 0 in {rows[0].cell('length')}")
    if all(c.x is None for c in rows):
        if not area.length:
            raise ValueError("offsets without x and without the length of their base line")
        step = area.length / (len(rows) - 1)
        return Offsets(tuple(step * i for i in range(len(rows))), away)
    along = tuple(_filled(c, "x") for c in rows)
    for row, (before, after) in zip(rows[1:], itertools.pairwise(along), strict=True):
        if before >= after:
            raise ValueError(f"offsets that do not run on along x in {row.cell('x')}")
    return Offsets(along, away)


def _filled(row: Corner, field: str) -> float:
    value: float | None = getattr(row, field)
    if value is None:
        raise ValueError(f"no {field} in {row.cell(field)}")
    return value


def crossing_cells(rows: Sequence[Corner]) -> str:
    """The cells of the first two sides of a polygon that cross, in words, or nothing."""
    from shapely import LineString

    points = [(_filled(c, "x"), _filled(c, "y")) for c in rows]
    count = len(points)
    sides = [LineString([points[i], points[(i + 1) % count]]) for i in range(count)]
    for i in range(count):
        for j in range(i + 2, count):
            if (j + 1) % count != i and sides[i].intersects(sides[j]):
                return f"; the sides after {rows[i].cell('x')} and {rows[j].cell('x')} meet"
    return ""
