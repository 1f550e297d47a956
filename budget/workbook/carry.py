"""Carrying on from an earlier quotes workbook: what is about sellers and machines, not the job.

Cells are carried as they were typed. A number under a title of another unit keeps its unit, as
text. Areas, quotes, bids and spending start empty.
"""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass
from pathlib import Path
from typing import cast

from budget.units import System
from budget.workbook.example_jobs import Content
from budget.workbook.grid import Grid, load
from budget.workbook.reading import find_sheets
from budget.workbook.sheets.describe import Column, Sheet, key
from budget.workbook.sheets.tabs import JOB, SHEETS
from budget.workbook.table import Cell, Notes, records
from budget.workbook.template.filled import Filled, RowContent
from budget.workbook.template.template import always_asked, write_filled
from budget.workbook.values import read_cell

#: Sheets that are carried whole.
CARRIED = ("Suppliers", "Delivery", "Vehicles", "Equipment", "Products", "Work")
#: Settings that belong to the place and the person rather than to one job.
SETTINGS = ("currency", "units", "sales_tax", "tax_included", "hour_value", "hours_per_day")


@dataclass(frozen=True, slots=True)
class Carried:
    """What was carried on: rows by sheet, and cells that could not be."""

    system: System
    counts: tuple[tuple[str, int], ...]
    left_out: tuple[str, ...]  # addresses of cells with an error or an unworked formula


def carry_over(old: str | Path, new: str | Path, force: bool = False) -> Carried:
    """Write a quotes workbook that carries on from an earlier one.

    Raises :class:`~budget.workbook.problems.WorkbookError` if the earlier one cannot be read as a
    whole, and ``FileExistsError`` if the new one is there and ``force`` is not set.
    """
    notes = Notes()
    grids = find_sheets(load(Path(old)), notes)
    left_out: list[str] = []
    system, currency = _units(grids, notes)
    rows: dict[str, tuple[RowContent, ...]] = {}
    for name in ("Job", *CARRIED):
        sheet = next(s for s in SHEETS if s.name == name)
        if name in grids:
            rows[name] = _rows(sheet, grids[name], notes, left_out)
    rows["Job"] = tuple({f: row[f] for f in SETTINGS if f in row} for row in rows.get("Job", ()))
    rows["Checklist"] = always_asked()
    write_filled(new, Filled(system, currency, rows), force)
    counts = tuple((name, len(rows.get(name, ()))) for name in CARRIED)
    return Carried(system, counts, tuple(left_out))


def _units(grids: dict[str, Grid], notes: Notes) -> tuple[System, str]:
    """The units and the currency of the earlier workbook; the titles depend on them."""
    found = records(JOB, grids[JOB.name], notes) if JOB.name in grids else []
    cells = found[0].cells if found else {}
    said = {
        name: read_cell(JOB.column(name), cells[name], Notes())
        for name in ("units", "currency")
        if name in cells
    }
    system = cast(System, said.get("units") or "imperial")
    currency = str(said.get("currency") or "USD").upper()
    notes.system, notes.currency = system, currency
    return system, currency


def _rows(sheet: Sheet, grid: Grid, notes: Notes, left_out: list[str]) -> tuple[RowContent, ...]:
    found = []
    for record in records(sheet, grid, notes):
        row: dict[str, Content] = {}
        for column in sheet.columns:
            cell = record.cells.get(column.field)
            if cell is None:
                continue
            content = _content(column, cell, notes)
            if content is None:
                if not sheet.settings or column.field in SETTINGS:
                    left_out.append(cell.address)
            else:
                row[column.field] = content
        if row:
            found.append(row)
    return tuple(found)


def _content(column: Column, cell: Cell, notes: Notes) -> Content | None:
    """The cell as it goes into the new workbook, None if it shows nothing to carry."""
    seen = cell.seen
    if seen.kind in ("error", "uncalculated"):
        return None
    if seen.kind == "flag":
        return "yes" if seen.value else "no"
    if seen.kind == "time":
        return f"{float(seen.value):.10g} h"
    if seen.kind == "date":
        return cast(dt.date, seen.value)
    if seen.kind == "number":
        number = float(seen.value)
        ours = column.unit_text(notes.system, notes.currency)
        if column.value == "share":
            ratio = read_cell(column, cell, Notes(notes.system, notes.currency))
            return f"{number:.10g}" if ratio is None else float(ratio)
        of_its_own = column.value in ("measure", "money") and cell.unit
        if of_its_own and key(cell.unit) != key(ours):
            return f"{number:.10g} {cell.unit}"
        return f"{number:.10g}" if column.value in ("text", "choice", "list") else number
    return str(seen.value)
