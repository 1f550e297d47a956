"""One sheet of the blank workbook: opening lines, titles, notes, checks, rows, helping columns."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from budget.font_widths import lines
from budget.units import System
from budget.workbook.example_jobs import Content
from budget.workbook.sheets.describe import Sheet
from budget.workbook.table import letter
from budget.workbook.template import paper
from budget.workbook.template.cell_checks import cell_rule
from budget.workbook.template.filled import HEADER, LAST_ROW, Filled, RowContent
from budget.workbook.template.lists import Lists
from budget.workbook.template.live import band, live_columns, ready_rows
from budget.workbook.template.marks import marks_of
from budget.workbook.template.styles import Styles

#: Rows that are ruled and printed even when blank.
PRINTED_ROWS = 25
#: Points of a further line; pixels beside the words of a cell, and those of an indent.
_LINE = 12.75
_FREE, _INDENT = 5, 11


@dataclass(frozen=True, slots=True)
class Setting:
    """What all sheets of one workbook share."""

    filled: Filled
    styles: Styles
    lists: Lists

    @property
    def system(self) -> System:
        """The unit system of the titles."""
        return self.filled.system

    @property
    def currency(self) -> str:
        """The currency of the titles."""
        return self.filled.currency


def lines_needed(text: str, width: float, bold: bool = False) -> int:
    """How many lines a text takes in a cell this many characters wide.

    >>> lines_needed("twelve words " * 4, 20)
    3
    >>> lines_needed("Garden paver, buff", 18), lines_needed("Garden paver, buff", 18, bold=True)
    (1, 2)
    """
    return lines(text.strip(), paper.pixels(width) - _FREE - _INDENT, bold)


def tall(found: int, least: float = 15.0) -> float:
    """How high a row of so many lines is, in points; one line takes ``least``.

    >>> tall(1), tall(3, least=20)
    (15.0, 45.5)
    """
    return least + (found - 1) * _LINE


def opening(page: Any, sheet: Sheet, widths: Sequence[float], setting: Setting) -> None:
    """The sheet's name, its purpose and when it is worth filling, on the first printed page."""
    styles, last = setting.styles, paper.first_page(widths, setting.system)
    page.hide_gridlines(2)
    page.write_string(0, 0, sheet.name, styles.look("sheet name"))
    texts = [(sheet.purpose, "purpose"), (sheet.worth, "worth")]
    for row, (text, look) in enumerate(texts):
        found = lines_needed(text, sum(widths[1 : last + 1]), look == "purpose")
        page.set_row(row, tall(found, least=20))
        page.merge_range(row, 1, row, last, "", styles.look(look))
        page.write_string(row, 1, text, styles.look(look))
    page.set_row(2, 6)
    if not sheet.settings:
        formula, text = band(sheet, setting.filled)
        page.set_row(2, 20)
        page.merge_range(2, 1, 2, last, "", styles.look("band"))
        page.write_formula(2, 1, formula, styles.look("band"), text)


def write_sheet(page: Any, sheet: Sheet, setting: Setting) -> None:
    """Write one sheet with the rows that are there already."""
    widths = [column.width for column in sheet.columns]
    filled = setting.filled.of(sheet.name)
    opening(page, sheet, widths, setting)
    _titles(page, sheet, setting)
    page.freeze_panes(HEADER, 1)
    for number, row in enumerate(filled, HEADER):
        _fill(page, sheet, number, row, setting)
    _live(page, sheet, setting)
    end = HEADER + max(PRINTED_ROWS, len(filled) + 5) - 1
    _marks(page, sheet, setting)
    # Last, since LibreOffice shows only the first rule that holds for a cell.
    ruled = {"type": "formula", "criteria": "=TRUE", "format": setting.styles.line()}
    page.conditional_format(HEADER, 0, end, len(widths) - 1, ruled)
    page.ignore_errors({"number_stored_as_text": f"A1:XFD{LAST_ROW}"})
    paper.set_up(page, setting.system, widths, HEADER - 1, end)


def _titles(page: Any, sheet: Sheet, setting: Setting) -> None:
    styles, height = setting.styles, 1
    for number, column in enumerate(sheet.columns):
        header = column.header(setting.system, setting.currency) + (" *" if column.required else "")
        height = max(height, lines_needed(header, column.width, bold=True))
        page.write_string(HEADER - 1, number, header, styles.header(column))
        page.set_column(number, number, column.width, styles.cell(column))
        cell = f"{letter(number + 1)}{HEADER + 1}"
        rule = cell_rule(sheet, column, setting.lists, setting.system, cell)
        page.data_validation(HEADER, number, LAST_ROW - 1, number, rule)
    page.set_row(HEADER - 1, tall(height, least=20))


def _fill(page: Any, sheet: Sheet, number: int, row: RowContent, setting: Setting) -> None:
    most = 1
    for at, column in enumerate(sheet.columns):
        if column.field in row:
            content = row[column.field]
            put(page, (number, at), content, setting.styles.cell(column))
            if column.width >= 20:
                most = max(most, lines_needed(str(content), column.width))
    if most > 1:
        page.set_row(number, tall(most))


def _live(page: Any, sheet: Sheet, setting: Setting) -> None:
    """The helping columns at the right, with the values that their formulas find."""
    styles, rows = setting.styles, setting.filled.of(sheet.name)
    last = HEADER + ready_rows(sheet, setting.filled) - 1
    for number, live in enumerate(live_columns(sheet, setting.filled), len(sheet.columns)):
        page.set_column(number, number, live.width)
        page.write_string(HEADER - 1, number, live.header, styles.look("live title"))
        rule = {"input_title": live.title, "input_message": live.note, "validate": "any"}
        page.data_validation(HEADER - 1, number, last, number, rule)
        look = styles.live(live.number_format)
        for row in range(HEADER, last + 1):
            content: RowContent = rows[row - HEADER] if row - HEADER < len(rows) else {}
            page.write_formula(row, number, live.formula(row + 1), look, live.value(content))


def _marks(page: Any, sheet: Sheet, setting: Setting) -> None:
    """Tint the cells that the last column speaks of."""
    columns = [c.field for c in sheet.columns]
    look = letter(len(columns) + len(sheet.live))
    inputs = f"$A{HEADER + 1}:${letter(len(columns))}{HEADER + 1}"
    for mark in marks_of(sheet):
        at = columns.index(mark.field)
        if mark.elsewhere:  # some programs cannot look at other sheets here
            criteria = f'=ISNUMBER(SEARCH("{mark.words}",${look}{HEADER + 1}))'
        else:
            criteria = f"=AND(COUNTA({inputs})>0,{mark.formula(sheet, HEADER + 1)})"
        rule = {"type": "formula", "criteria": criteria, "format": setting.styles.marked()}
        page.conditional_format(HEADER, at, LAST_ROW - 1, at, rule)


def put(page: Any, place: tuple[int, int], value: Content, look: Any) -> None:
    """Write a cell as what it is; text is never taken for a formula or a link."""
    if isinstance(value, str):
        page.write_string(*place, value, look)
    elif isinstance(value, (int, float)):
        page.write_number(*place, int(value) if value == math.floor(value) else value, look)
    else:
        page.write_datetime(*place, value, look)
