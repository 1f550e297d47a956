"""One sheet of the blank workbook: its two opening lines, titles, notes, drop-downs, rows."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

from budget.units import System
from budget.workbook.describe import Column, Sheet
from budget.workbook.example_jobs import Content, content
from budget.workbook.lists import HEADER, LAST_ROW, Lists, closed
from budget.workbook.styles import Styles

#: Rows that are ruled and printed even when blank.
READY_ROWS = 25
_LETTER, _A4 = 1, 9


@dataclass(frozen=True, slots=True)
class Setting:
    """What all sheets of one workbook share."""

    system: System
    currency: str
    styles: Styles
    lists: Lists

    def print_set_up(self, page: Any, header: int, last_row: int, last_column: int) -> None:
        """Landscape, one page wide, titles on every page; rows counted from 0."""
        page.set_landscape()
        page.set_paper(_LETTER if self.system == "imperial" else _A4)
        page.fit_to_pages(1, 0)
        page.set_margins(left=0.5, right=0.5, top=0.6, bottom=0.6)
        page.set_footer("&L&A&RPage &P of &N")
        page.print_area(0, 0, last_row, last_column)
        if header:
            page.repeat_rows(header)


def lines_needed(text: str, width: float) -> int:
    """How many lines a text takes in a cell this many characters wide.

    >>> lines_needed("twelve words " * 4, 20)
    3
    """
    lines, room = 1, width
    for word in text.split():
        if len(word) > room:
            lines, room = lines + 1, width
        room -= len(word) + 1
    return lines


def opening(page: Any, sheet: Sheet, width: float, last: int, styles: Styles) -> None:
    """The sheet's purpose and when it is worth filling, above the titles."""
    page.hide_gridlines(2)
    for row, (text, look) in enumerate(((sheet.purpose, "purpose"), (sheet.worth, "worth"))):
        size = 17 * lines_needed(text, width * 0.9) + 3
        page.set_row(row, size)
        page.merge_range(row, 0, row, last, "", styles.look(look))
        page.write_string(row, 0, text, styles.look(look))
    page.set_row(2, 6)


def write_sheet(page: Any, sheet: Sheet, filled: list[dict[str, str]], setting: Setting) -> None:
    """Write one sheet with its rows, if an example gives any."""
    styles = setting.styles
    last = len(sheet.columns) - 1
    opening(page, sheet, sum(c.width for c in sheet.columns), last, styles)
    height = 1
    for number, column in enumerate(sheet.columns):
        header = column.header(setting.system, setting.currency) + (" *" if column.required else "")
        height = max(height, lines_needed(header, column.width - 2))
        page.write_string(HEADER - 1, number, header, styles.header(column))
        page.set_column(number, number, column.width, styles.cell(column))
        rule = cell_rule(sheet, column, setting)
        page.data_validation(HEADER, number, LAST_ROW - 1, number, rule)
    page.set_row(HEADER - 1, 16 * height + 4)
    page.freeze_panes(HEADER, 1)
    _fill(page, sheet, filled, setting)
    end = HEADER + max(READY_ROWS, len(filled) + 5) - 1
    rule = {"type": "formula", "criteria": "=TRUE", "format": styles.line()}
    page.conditional_format(HEADER, 0, end, last, rule)
    page.ignore_errors({"number_stored_as_text": f"A1:XFD{LAST_ROW}"})
    setting.print_set_up(page, HEADER - 1, end, last)


def _fill(page: Any, sheet: Sheet, filled: list[dict[str, str]], setting: Setting) -> None:
    for row, values in enumerate(filled):
        lines = 1
        for number, column in enumerate(sheet.columns):
            text = values.get(column.field, "")
            if text:
                place = (HEADER + row, number)
                put(page, place, content(column, text), setting.styles.cell(column))
                if column.width >= 20:
                    lines = max(lines, lines_needed(text, column.width * 1.1))
        if lines > 1:
            page.set_row(HEADER + row, 15 * lines + 1)


def put(page: Any, place: tuple[int, int], value: Content, look: Any) -> None:
    """Write a cell as what it is; text is never taken for a formula or a link."""
    if isinstance(value, str):
        page.write_string(*place, value, look)
    elif isinstance(value, float):
        page.write_number(*place, int(value) if value == math.floor(value) else value, look)
    else:
        page.write_datetime(*place, value, look)


def cell_rule(sheet: Sheet, column: Column, setting: Setting) -> dict[str, Any]:
    """The drop-down and the note of a column's cells."""
    rule: dict[str, Any] = {"input_title": column.title[:32], "input_message": note_of(column)}
    source = setting.lists.source(sheet, column, setting.system)
    if source is None:
        return rule | {"validate": "any"}
    rule |= {"validate": "list", "source": source}
    if not closed(sheet, column):
        return rule | {"show_error": False}
    return rule | {
        "error_type": "warning",
        "error_title": column.title[:32],
        "error_message": "This word is not on the list. Pick one of the list if you can.",
    }


def note_of(column: Column) -> str:
    """The note shown beside a cell: what to write, and what a blank means."""
    if column.required:
        return f"{column.note} Must be filled."
    return f"{column.note} Blank: {column.blank}." if column.blank else column.note
