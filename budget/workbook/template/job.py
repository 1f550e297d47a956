"""The Job sheet of the blank workbook: one row a setting."""

from __future__ import annotations

from typing import Any

from budget.workbook.example_jobs import Content
from budget.workbook.sheets.describe import Sheet
from budget.workbook.sheets.tabs import SETTING_TITLES
from budget.workbook.template import paper
from budget.workbook.template.cell_checks import cell_rule
from budget.workbook.template.filled import HEADER
from budget.workbook.template.sheet import Setting, lines_needed, opening, put, tall

_WIDTHS = (28, 24, 13, 68)
#: Settings whose blank changes every answer.
_MATTER = ("sales_tax", "hour_value", "as_of")


def write_job(page: Any, sheet: Sheet, setting: Setting) -> None:
    """Write every setting with its unit and note, and the values that are there already."""
    styles = setting.styles
    opening(page, sheet, _WIDTHS, setting)
    for number, (title, width) in enumerate(zip(SETTING_TITLES, _WIDTHS, strict=True)):
        page.set_column(number, number, width)
        page.write_string(HEADER - 1, number, title, styles.look("optional"))
    page.freeze_panes(HEADER, 1)
    always: dict[str, Content] = {"units": setting.system, "currency": setting.currency}
    filled = always | dict(next(iter(setting.filled.of(sheet.name)), {}))
    for row, column in enumerate(sheet.columns, HEADER):
        note = f"{column.note} Blank: {column.blank}." if column.blank else column.note
        note = note.replace(" %", "\N{NO-BREAK SPACE}%")
        unit = column.unit_text(setting.system, setting.currency)
        page.set_row(row, tall(lines_needed(note, _WIDTHS[3]), least=20))
        page.write_string(row, 0, column.title, styles.look("label"))
        page.write_string(row, 2, unit, styles.look("grey"))
        page.write_string(row, 3, note, styles.look("grey"))
        rule = cell_rule(sheet, column, setting.lists, setting.system, f"B{row + 1}")
        page.data_validation(row, 1, row, 1, rule)
        look = styles.cell(column, boxed=True)
        if column.field in filled:
            put(page, (row, 1), filled[column.field], look)
        else:
            page.write_blank(row, 1, None, look)
        if column.field in _MATTER:
            blank = {"type": "formula", "criteria": f'=$B{row + 1}=""', "format": styles.marked()}
            page.conditional_format(row, 1, row, 1, blank)
    paper.set_up(page, setting.system, _WIDTHS, HEADER - 1, HEADER + len(sheet.columns) - 1)
