"""The checks of cells as they are typed: a list, a number that is not negative, a date ..."""

from __future__ import annotations

from typing import Any

from budget.units import System
from budget.workbook.sheets.describe import Column, Sheet
from budget.workbook.template.filled import HEADER, LAST_ROW, column_letter
from budget.workbook.template.lists import Lists, closed

#: The first day taken for a date, as spreadsheets count: 1 January 2000.
_FIRST_DAY = 36526


def cell_rule(
    sheet: Sheet, column: Column, lists: Lists, system: System, cell: str
) -> dict[str, Any]:
    """The drop-down, the check and the note of a column; ``cell`` is its first cell."""
    rule: dict[str, Any] = {"input_title": column.title[:32], "input_message": note_of(column)}
    source = lists.source(sheet, column, system)
    if source is not None:
        rule |= {"validate": "list", "source": source}
        if not closed(sheet, column):
            return rule | {"show_error": False}
        words = "This word is not on the list. Pick one of the list if you can."
        return rule | _error(column, "warning", words)
    formula, strict, words = _check(sheet, column, cell)
    if not formula:
        return rule | {"validate": "any"}
    return rule | {"validate": "custom", "value": formula} | _error(column, strict, words)


def _error(column: Column, strict: str, words: str) -> dict[str, Any]:
    return {"error_type": strict, "error_title": column.title[:32], "error_message": words}


def _check(sheet: Sheet, column: Column, cell: str) -> tuple[str, str, str]:
    """The formula that must hold, how strictly (stop or warning), and what to say."""
    if column.value == "date":
        words = "This is not a date. Write it as 2026-05-31, or as your program writes dates."
        return f"=AND(ISNUMBER({cell}),{cell}>={_FIRST_DAY})", "warning", words
    if column.value == "whole":
        words = "A whole number is expected here: 0, 1, 2 and so on."
        return f"=AND(ISNUMBER({cell}),{cell}>=0,{cell}=INT({cell}))", "stop", words
    if column.value == "share" and column.most is not None:
        words = (
            f"A share from 0 % to {column.most * 100:.0f} % is expected. Write it with the sign, "
            "such as 7 %; 0.07 is the same."
        )
        return f"=OR(ISTEXT({cell}),AND({cell}>=0,{cell}<={column.most}))", "stop", words
    if column.value in ("money", "measure", "number") and column.sign != "any":
        return _number(column, cell)
    if sheet.unique == (column.field,) and column.required:
        at = column_letter(sheet, column.field)
        words = "This name is on this sheet already. Each row needs a name of its own."
        names = f"${at}${HEADER + 1}:${at}${LAST_ROW}"
        return f"=COUNTIF({names},{cell})<=1", "warning", words
    return "", "", ""


def _number(column: Column, cell: str) -> tuple[str, str, str]:
    """Below zero is refused; a text with a unit is looked at by the tool when it reads."""
    not_below = f'LEFT(TRIM({cell}),1)<>"-"'
    if column.sign == "positive":
        formula = f'=AND({not_below},{cell}<>0,TRIM({cell})<>"0")'
        return formula, "stop", "More than 0 is expected here; leave it blank if not known."
    words = "0 or more is expected here"
    blank = f" Leave it blank for: {column.blank}." if column.blank else ""
    return f"={not_below}", "stop", f"{words}, without a minus sign.{blank}"


def note_of(column: Column) -> str:
    """The note shown beside a cell: what to write, and what a blank means."""
    if column.required:
        return f"{column.note} Must be filled."
    return f"{column.note} Blank: {column.blank}." if column.blank else column.note
