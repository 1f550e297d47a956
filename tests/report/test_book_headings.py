"""No heading of a printed workbook stands alone: below each is a row, or words that say why not."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import openpyxl
import pytest
import xlsxwriter

from budget.decide.outcome import Comparison
from budget.report.book import book
from budget.report.book.cells import Across, Column, Sheet, Table
from budget.report.book.figures import Register
from budget.report.book.styles import HEAD
from budget.report.book.writer import Writer

Build = Callable[..., Comparison]
_BAND = f"FF{HEAD[1:]}"


def alone(path: Path) -> list[str]:
    """Titles and headings of a comparison workbook below which nothing stands."""
    found = []
    for sheet in openpyxl.load_workbook(path).worksheets:
        rows = list(sheet.iter_rows(min_col=1, max_col=1))
        for (cell,), (below,) in zip(rows, [*rows[1:], (None,)], strict=True):
            if cell.value and _heads(cell) and not (below and _says(sheet, below)):
                found.append(f"{sheet.title}!{cell.coordinate} {cell.value}")
    return found


def _heads(cell: Any) -> bool:
    """Whether it is the title of a table, or its headings or units."""
    return bool(cell.font.bold and cell.font.size == 12) or cell.fill.fgColor.rgb == _BAND


def _says(sheet: Any, below: Any) -> bool:
    """Whether a row says something: headings and units too, whose own row is looked at."""
    if below.fill.fgColor.rgb == _BAND and not below.font.bold:  # units, blank in this column
        return _says(sheet, sheet.cell(below.row + 1, 1))
    return any(cell.value not in (None, "") for cell in sheet[below.row])


@pytest.mark.parametrize("name", ["terrace", "courtyard", "fire-bowl"])
def test_no_heading_of_a_demo_stands_alone(
    name: str, demo_comparison: Build, tmp_path: Path
) -> None:
    path = tmp_path / "demo.xlsx"
    book.write(demo_comparison(name), path)
    assert alone(path) == []


def written(table: Table, path: Path) -> Any:
    """The sheet of a workbook that holds one table, and a second one below it."""
    after = Table([Column("Next", 9)], [["one"]], title="After")
    sheet = Sheet("Made up", "Made up", "A table and what follows.", [table, after])
    with xlsxwriter.Workbook(path) as workbook:
        register = Register("imperial", "USD")
        register.settle()
        writer = Writer(workbook, register, "A job")
        writer.open([sheet.name])
        writer.fill(sheet)
    assert openpyxl.load_workbook(path)["Made up"][f"A{sheet.first_row(1)}"].value == "one"
    return openpyxl.load_workbook(path)["Made up"]


@pytest.mark.parametrize("headless", [False, True])
def test_a_table_without_rows_says_so(headless: bool, tmp_path: Path) -> None:
    columns = [Column("What", 9), Column("Price", 9, right=True)]
    table = Table(columns, [], "Offers", headless=headless, filters=True, nothing="No offer yet.")
    path = tmp_path / "made-up.xlsx"
    page = written(table, path)
    texts = [row[0].value for row in page.iter_rows() if row[0].value]
    assert texts.index("No offer yet.") == texts.index("Offers") + (1 if headless else 2)
    assert alone(path) == []
    assert not page.auto_filter.ref


def test_a_heading_that_stands_alone_is_noticed(tmp_path: Path) -> None:
    path = tmp_path / "made-up.xlsx"
    written(Table([Column("What", 9)], [[Across("said")]], "Offers"), path)
    workbook = openpyxl.load_workbook(path)
    said = next(c for row in workbook["Made up"] for c in row if c.value == "said")
    said.value = None
    workbook.save(path)
    assert alone(path) == [f"Made up!A{said.row - 1} What"]
