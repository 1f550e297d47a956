"""Reading a quotes workbook: one typed job, or every problem that stands in its way."""

from __future__ import annotations

import datetime as dt
from collections.abc import Collection, Sequence
from dataclasses import dataclass
from pathlib import Path

from budget.garbage import collected_later
from budget.job import Job, Notice, Settings
from budget.numerals import written
from budget.workbook.build import Drafts, drafts, settings_draft, settle_names
from budget.workbook.changes import Change, changed
from budget.workbook.checks import check_all
from budget.workbook.grid import Grid, load
from budget.workbook.plausible import check_plausible, check_sheet
from budget.workbook.problems import nearest
from budget.workbook.sheets.describe import Sheet, key
from budget.workbook.sheets.tabs import JOB, NOT_READ, SHEETS
from budget.workbook.table import Notes, Record, header_row, records


@dataclass(frozen=True, slots=True)
class Reading:
    """What a workbook says: the job, or ``None`` and the problems that stop it."""

    job: Job | None
    problems: tuple[Notice, ...]
    warnings: tuple[Notice, ...]


def read(
    path: str | Path,
    today: dt.date | None = None,
    may_be_empty: Collection[str] = (),
    changes: Sequence[Change] = (),
) -> Reading:
    """Read and check a quotes workbook.

    All problems are reported at once, in the order of sheets and rows. ``today`` stands in for
    the current day where the as-of date is blank. ``may_be_empty`` names required sheets that
    need no row this time, as Quotes before anybody was asked. ``changes`` stand in for what
    the file says. Raises :class:`~budget.workbook.changes.ChangeError` for one that cannot be
    made, and
    :class:`~budget.workbook.problems.WorkbookError` if the file as a whole cannot be read.
    """
    with collected_later():
        return _read(Path(path), today, may_be_empty, changes)


def _read(
    path: Path, today: dt.date | None, may_be_empty: Collection[str], changes: Sequence[Change]
) -> Reading:
    notes = Notes()
    grids = find_sheets(changed(path, load(path), changes), notes)
    settings = _settings(grids, notes, today)
    with written(settings.manner):  # what is told of the job is written as the job does
        rows = _rows(grids, may_be_empty, notes)
        check_all(rows, settings, notes)
        check_plausible(rows, notes)
        settle_names(SHEETS, rows, notes)
    problems = _of("problem", notes)
    return Reading(None if problems else _job(settings, rows), problems, _of("warning", notes))


def _rows(grids: dict[str, Grid], may_be_empty: Collection[str], notes: Notes) -> Drafts:
    rows: Drafts = {}
    for sheet in SHEETS:
        if not sheet.settings:
            found = records(sheet, grids[sheet.name], notes) if sheet.name in grids else []
            rows[sheet.name] = drafts(sheet, found, notes)
            if sheet.name not in may_be_empty:
                _check_empty(sheet, grids, found, notes)
    return rows


def _of(severity: str, notes: Notes) -> tuple[Notice, ...]:
    order = {sheet.name: i for i, sheet in enumerate(SHEETS)}
    found = {n for n in notes.found if n.severity == severity}
    return tuple(sorted(found, key=lambda n: (order.get(n.sheet, len(order)), n)))


def find_sheets(grids: list[Grid], notes: Notes) -> dict[str, Grid]:
    """The sheets of a workbook that we describe, by our names for them."""
    known = {key(sheet.name): sheet for sheet in SHEETS}
    ignored = {key(name) for name in NOT_READ}
    found: dict[str, Grid] = {}
    strange: list[Grid] = []
    for grid in grids:
        sheet = known.get(key(grid.title))
        if sheet is None:
            if key(grid.title) not in ignored and grid.rows:
                strange.append(grid)
        elif sheet.name in found:
            place = f"{grid.title}!A1"
            notes.say("sheet-twice", sheet.name, 1, place, f"'{grid.title}'", sheet=sheet.name)
        else:
            found[sheet.name] = grid
    missing = [sheet for sheet in SHEETS if sheet.name not in found]
    for grid in strange:
        near = nearest(grid.title, [sheet.name for sheet in missing])
        place = f"{grid.title}!A1"
        notes.say("sheet-not-read", grid.title, 1, place, f"'{grid.title}'", near=near)
    for sheet in missing:
        if sheet.required:
            near = nearest(sheet.name, [g.title for g in strange], "Is it the sheet named")
            place = f"{sheet.name}!A1"
            notes.say("sheet-missing", sheet.name, 1, place, sheet=sheet.name, near=near)
    return found


def _settings(grids: dict[str, Grid], notes: Notes, today: dt.date | None) -> Settings:
    found = records(JOB, grids[JOB.name], notes) if JOB.name in grids else []
    record = found[0] if found else Record(JOB, 1, {}, {})
    draft = settings_draft(JOB, record, notes)
    if not draft.filled("sales_tax") and JOB.name in grids:
        notes.about(record, "sales_tax", "tax-not-said")
    check_sheet(JOB, [draft], notes)
    as_of = today or dt.datetime.now().astimezone().date()
    if not draft.filled("as_of"):
        draft.change(as_of=as_of)
    settings: Settings = draft.row
    return settings


def _check_empty(sheet: Sheet, grids: dict[str, Grid], found: list[Record], notes: Notes) -> None:
    said = any(n.code == "header-missing" and n.sheet == sheet.name for n in notes.found)
    if sheet.required and sheet.name in grids and not found and not said:
        row = header_row(grids[sheet.name], {key(c.title) for c in sheet.columns}, 2) + 1
        notes.say("sheet-empty", sheet.name, row, f"{sheet.name}!A{row}", sheet=sheet.name)


def _job(settings: Settings, rows: Drafts) -> Job:
    filled = {
        sheet.target: tuple(draft.row for draft in rows[sheet.name])
        for sheet in SHEETS
        if not sheet.settings
    }
    corners = sorted(filled.pop("corners"), key=lambda corner: (corner.area, corner.order))
    return Job(settings=settings, corners=tuple(corners), **filled)
