"""The Job sheet of the blank workbook: one row a setting."""

from __future__ import annotations

from typing import Any

from budget.workbook.describe import Column, Sheet
from budget.workbook.example_jobs import content
from budget.workbook.lists import HEADER
from budget.workbook.sheets import SETTING_TITLES
from budget.workbook.template_sheet import Setting, cell_rule, lines_needed, opening, put

_WIDTHS = (28, 24, 13, 68)


def write_job(page: Any, sheet: Sheet, filled: dict[str, str], setting: Setting) -> None:
    """Write every setting with its unit and note, and the values of an example."""
    styles = setting.styles
    opening(page, sheet, sum(_WIDTHS), len(_WIDTHS) - 1, styles)
    for number, (title, width) in enumerate(zip(SETTING_TITLES, _WIDTHS, strict=True)):
        page.set_column(number, number, width)
        page.write_string(HEADER - 1, number, title, styles.look("optional"))
    page.freeze_panes(HEADER, 1)
    for row, column in enumerate(sheet.columns, HEADER):
        note = f"{column.note} Blank: {column.blank}." if column.blank else column.note
        unit = column.unit_text(setting.system, setting.currency)
        page.set_row(row, 15 * lines_needed(note, _WIDTHS[3] * 1.1) + 5)
        page.write_string(row, 0, column.title, styles.look("label"))
        page.write_string(row, 2, unit, styles.look("grey"))
        page.write_string(row, 3, note, styles.look("grey"))
        page.data_validation(row, 1, row, 1, cell_rule(sheet, column, setting))
        _value(page, row, column, filled.get(column.field, ""), setting)
    setting.print_set_up(page, HEADER - 1, HEADER + len(sheet.columns) - 1, len(_WIDTHS) - 1)


def _value(page: Any, row: int, column: Column, text: str, setting: Setting) -> None:
    look = setting.styles.cell(column, boxed=True)
    always = {"units": setting.system, "currency": setting.currency}
    text = text or always.get(column.field, "")
    if text:
        put(page, (row, 1), content(column, text), look)
    else:
        page.write_blank(row, 1, None, look)
