"""The Drawing sheet: the outlines to one scale, with the corners they are drawn from."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from budget.quantities.takeoff import Takeoff
from budget.report.book_cells import Cell, Chart, Column, Sheet, Stored, Table
from budget.units import LENGTH, System, shown

DRAWING = "Drawing"
_CHART_ROWS = 25
_GAP = 2.5  # m between parts whose places are not given

Ring = tuple[tuple[float, float], ...]
Drawn = tuple[str, str, Ring]  # part or feature, what it is, corners in m


def drawing_sheet(takeoff: Takeoff, system: System) -> Sheet | None:
    """Every outline, cut-out and feature with a known shape; nothing if there is none."""
    shapes = list(_shapes(takeoff))
    if not shapes:
        return None
    placed = all(part.placed for part in takeoff.parts if part.outlines)
    where = (
        "Parts lie as on the plan."
        if placed
        else "Parts without X and Y on Areas stand side by side."
    )
    opening = f"To one scale both ways. {where} The summary page draws the same with its lengths."
    sheet = Sheet(DRAWING, "Measured drawing", opening, frozen=False)
    rows: list[list[Cell]] = [
        [name, what, f"{number}", Stored(x, LENGTH, "laid out"), Stored(y, LENGTH, "laid out")]
        for name, what, ring in shapes
        for number, (x, y) in enumerate((*ring, ring[0]), 1)
    ]
    columns = [Column("Part", 30), Column("Shape", 30), Column("Corner", 12),
               Column("X", 20, right=True), Column("Y", 20, right=True)]  # fmt: skip
    corners = Table(columns, rows, title="Corners, one after the other", on_paper=False)
    empty = Table([Column("")], [], headless=True, chart=_chart(shapes, 0, system))
    sheet.tables += [empty, corners]
    first = sheet.first_row(1) - 1  # only now known: the drawing stands above its corners
    sheet.tables[0] = replace(empty, chart=_chart(shapes, first, system))
    return sheet


def _shapes(takeoff: Takeoff) -> Iterator[Drawn]:
    right = 0.0
    for part in sorted(takeoff.parts, key=lambda part: (not part.placed, part.part)):
        largest_first = sorted(part.outlines, key=_size, reverse=True)
        rings = [("outline", ring) for ring in largest_first]
        rings += [("cut-out", ring) for ring in part.holes]
        if not rings:
            continue
        points = [point for _, ring in rings for point in ring]
        shift = 0.0 if part.placed else right + _GAP - min(x for x, _ in points)
        right = max(right, max(x for x, _ in points) + shift)
        for number, (what, ring) in enumerate(rings, 1):
            name = part.part if number == 1 else f"{part.part}, {number}"
            yield (
                name if what == "outline" else "cut out",
                f"{what}, {part.part}",
                tuple((x + shift, y) for x, y in ring),
            )
    for name, ring in takeoff.features:
        yield name, "wall, ring, column or steps", ring


def _unnamed(shapes: list[Drawn]) -> frozenset[int]:
    """Shapes without a label: cut-outs, and all but the largest outline of each part."""
    return frozenset(
        number
        for number, (name, what, _) in enumerate(shapes)
        if what.partition(", ")[0] in ("outline", "cut-out") and what.partition(", ")[2] != name
    )


def _size(ring: Ring) -> float:
    """The area within corners, by the shoelace formula."""
    pairs = zip(ring, (*ring[1:], ring[0]), strict=True)
    return abs(sum(x * v - u * y for (x, y), (u, v) in pairs)) / 2


def _chart(shapes: list[Drawn], top: int, system: System) -> Chart:
    """``top`` is the row of the first corner, counted from 0."""
    names, xs, values = [], [], []
    row = top
    for _, _, ring in shapes:
        last = row + len(ring)
        names.append((row, 0))
        xs.append((row, 3, last, 3))
        values.append((row, 4, last, 4))
        row = last + 1
    points = [(shown(x, LENGTH, system), shown(y, LENGTH, system))
              for _, _, ring in shapes for x, y in ring]  # fmt: skip
    unit = LENGTH.unit(system).label
    return Chart(
        "The plan", unit, DRAWING, xs[0], list(zip(names, values, strict=True)), _CHART_ROWS,
        "outlines", unit, "0", tuple(xs),
        (min(x for x, _ in points), max(x for x, _ in points),
         min(y for _, y in points), max(y for _, y in points)),
        _unnamed(shapes),
    )  # fmt: skip
