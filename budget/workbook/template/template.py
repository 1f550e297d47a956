"""Writing a quotes workbook to fill: blank, or filled with one of the examples."""

from __future__ import annotations

import datetime as dt
from pathlib import Path
from typing import IO, Any

from budget import reference
from budget.numerals import written
from budget.units import System
from budget.whole_file import whole_bytes
from budget.workbook import example_jobs
from budget.workbook.sheets.tabs import JOB, SHEETS
from budget.workbook.template import paper
from budget.workbook.template.filled import Filled, RowContent
from budget.workbook.template.job import write_job
from budget.workbook.template.lists import Lists
from budget.workbook.template.sheet import Setting, write_sheet
from budget.workbook.template.start import write_start
from budget.workbook.template.styles import DEFAULT, MOSS, PALE, Styles

#: A fixed moment, so that the same input gives the same bytes.
_CREATED = dt.datetime(2026, 1, 1, tzinfo=dt.UTC)


def write_blank(path: str | Path, system: System, example: str = "", force: bool = False) -> None:
    """Write a quotes workbook to fill in, whole or not at all.

    ``example`` fills it with one of :func:`budget.workbook.example_jobs.names`; its own unit system
    then counts. Raises ``FileExistsError`` if the file is there and ``force`` is not set, and
    ``KeyError`` for an unknown example.
    """
    if example and example not in example_jobs.names():
        raise KeyError(example)
    if example:
        system = example_jobs.system_of(example, JOB, system)
    rows = _example(example) if example else {"Checklist": always_asked()}
    write_filled(path, Filled(system, _currency(system, example), rows), force)


def write_filled(path: str | Path, filled: Filled, force: bool = False) -> None:
    """Write a quotes workbook with some rows filled, whole or not at all.

    Raises ``FileExistsError`` if the file is there and ``force`` is not set.
    """
    path = Path(path)
    if path.exists() and not force:
        raise FileExistsError(f"{path} is there already")
    with written(filled.manner), whole_bytes(path) as buffer:
        _write(buffer, filled)


def _write(into: IO[bytes], filled: Filled) -> None:
    import xlsxwriter

    book = xlsxwriter.Workbook(
        into, {"in_memory": True, "default_format_properties": dict(DEFAULT)}
    )
    created = _CREATED.replace(tzinfo=None)
    book.set_properties({"title": "Quotes workbook", "created": created})
    styles = Styles(book)
    setting = Setting(filled, styles, Lists())
    start = book.add_worksheet("Start")
    for sheet in SHEETS:
        page = book.add_worksheet(sheet.name)
        page.set_tab_color(MOSS if sheet.required else PALE)
        if sheet.settings:
            write_job(page, sheet, setting)
        else:
            write_sheet(page, sheet, setting)
    write_start(start, setting)
    _write_lists(book.add_worksheet("Lists"), setting)
    start.activate()
    book.close()


def always_asked() -> tuple[RowContent, ...]:
    """What a blank workbook already holds: the costs that every job implies, to be answered."""
    always = [row for row in reference.rows("checklist") if row["when"] == "always"]
    return tuple({"line": row["line"]} for row in always)


def _example(name: str) -> dict[str, tuple[RowContent, ...]]:
    return {
        sheet.name: tuple(
            {f: example_jobs.content(sheet.column(f), text) for f, text in row.items()}
            for row in example_jobs.rows(name, sheet)
        )
        for sheet in SHEETS
    }


def _currency(system: System, example: str) -> str:
    filled = next(iter(example_jobs.rows(example, JOB)), {}) if example else {}
    return filled.get("currency", "USD" if system == "imperial" else "EUR")


def _write_lists(page: Any, setting: Setting) -> None:
    styles = setting.styles
    page.hide_gridlines(2)
    page.write_string(0, 0, "Lists", styles.look("title"))
    text = "What the drop-downs offer. Nothing here needs to be changed; it is never read back."
    page.write_string(1, 0, text, styles.look("label"))
    widths, last = setting.lists.write(page, styles, setting.filled)
    paper.side_by_side(page, setting.system, widths, last)
