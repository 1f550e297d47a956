"""The Drawing sheet: the measured plan to one scale, the laid patterns, and the points of both."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from budget.job import Job
from budget.quantities.takeoff import Takeoff
from budget.report.book.cells import Across, Cell, Chart, Column, Sheet, Stored, Table
from budget.report.book.pattern import pattern_tables
from budget.report.book.plan import LOOKS, Drawn, drawn
from budget.report.drawing.marks import KEY
from budget.report.drawing.site import notes
from budget.units import LENGTH, System, shown

DRAWING = "Drawing"
_CHART_ROWS = 24
#: Series that one chart of a workbook can have. [Excel specifications and limits, charts: 255]
_MOST = 255


def drawing_sheet(job: Job, takeoff: Takeoff) -> Sheet | None:
    """The plan with its lengths, edges, heights and drop points, and every laid pattern."""
    found = drawn(job, takeoff)
    if not found:
        return None
    placed = all(part.placed for part in takeoff.parts if part.outlines)
    where = (
        "Parts lie as on the plan."
        if placed
        else "Parts without X and Y on Areas stand side by side."
    )
    sheet = Sheet(DRAWING, "Measured drawing", f"To one scale both ways. {where}", frozen=False)
    columns = [Column("Part", 30), Column("Shape", 30), Column("Corner", 12),
               Column("X", 20, right=True), Column("Y", 20, right=True)]  # fmt: skip
    corners = Table(columns, _rows(found), title="Points, one after the other", on_paper=False)
    more = notes(job, takeoff)
    if len(found) > _MOST:
        more = (*more, f"A chart holds {_MOST} lines and signs; the page draws all {len(found):,}.")
    key = Table([Column("")], _key(found, more), headless=True,
                chart=_chart(found, 0, job.settings.units))  # fmt: skip
    sheet.tables += [key, *pattern_tables(takeoff), corners]
    first = sheet.first_row(len(sheet.tables) - 1) - 1  # only now known: the points come last
    sheet.tables[0] = replace(key, chart=_chart(found, first, job.settings.units))
    return sheet


def _rows(found: Sequence[Drawn]) -> list[list[Cell]]:
    return [
        [each.name, each.what, f"{number}", Stored(x, LENGTH, "laid out"),
         Stored(y, LENGTH, "laid out")]
        for each in found
        for number, (x, y) in enumerate(each.points, 1)
    ]  # fmt: skip


def _key(found: Sequence[Drawn], more: Sequence[str]) -> list[list[Cell]]:
    """What each kind of line and sign means, and what has no place on the drawing."""
    looks = {each.look.partition(" outline")[0] for each in found}
    key = "; ".join(f"{look}: {KEY[kind]}" for kind, look in LOOKS.items() if kind in looks)
    sentences = [f"{key[0].upper()}{key[1:]}."] if key else []
    return [[Across(words)] for words in (*sentences, *more)]


def _chart(found: Sequence[Drawn], top: int, system: System) -> Chart:
    """``top`` is the row of the first point, counted from 0."""
    found = found[:_MOST]
    names, xs, values = [], [], []
    row = top
    for each in found:
        last = row + len(each.points) - 1
        names.append((row, 0))
        xs.append((row, 3, last, 3))
        values.append((row, 4, last, 4))
        row = last + 1
    points = [(shown(x, LENGTH, system), shown(y, LENGTH, system))
              for each in found for x, y in each.points]  # fmt: skip
    unit = LENGTH.unit(system).label
    return Chart(
        "The plan", unit, DRAWING, xs[0], list(zip(names, values, strict=True)), _CHART_ROWS,
        "outlines", unit, "0", tuple(xs),
        (min(x for x, _ in points), max(x for x, _ in points),
         min(y for _, y in points), max(y for _, y in points)),
        looks=tuple(each.look for each in found),
        labels=tuple(each.words for each in found),
    )  # fmt: skip
