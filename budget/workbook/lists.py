"""The drop-down lists: short ones written into the cell's rule, long ones on the Lists sheet."""

from __future__ import annotations

from typing import Any

from budget import reference
from budget.units import System
from budget.workbook.describe import Column, Sheet
from budget.workbook.rules import bases
from budget.workbook.sheets import sheet as sheet_named
from budget.workbook.table import letter

#: A list written into a cell's rule may take 255 characters in common spreadsheet programs.
MOST_LETTERS = 255
MOST_SHORT = 8
#: Drop-downs and notes reach down to this row.
LAST_ROW = 500
#: The row of titles on every sheet but Start and Lists, counted from 1.
HEADER = 4

_UNITS: dict[System, tuple[str, ...]] = {
    "imperial": ("each", "ton", "cu yd", "sq ft", "ft", "bag", "box", "pallet", "roll"),
    "metric": ("each", "tonne", "m³", "m²", "m", "bag", "big bag", "box", "pallet", "roll"),
}
_RATES: dict[System, tuple[str, ...]] = {
    "imperial": ("cu yd", "sq ft", "100 sq ft", "ft", "ton", "h"),
    "metric": ("m³", "m²", "m", "tonne", "h"),
}


def offered(sheet: Sheet, column: Column, system: System) -> tuple[str, ...]:
    """The words a drop-down offers, none if it has no list (or names of another sheet)."""
    place = (sheet.name, column.field)
    if place == ("Quotes", "item"):
        kinds = reference.product_kinds().values()
        return tuple(kind.item for kind in kinds if kind.kind != "extra")
    if place == ("Quotes", "per"):
        return _UNITS[system]
    if place in (("Work", "unit"), ("Bids", "unit")):
        return _RATES[system]
    if place == ("Delivery", "basis"):
        return bases(system)
    if place == ("Checklist", "line"):
        return tuple(row["line"] for row in reference.rows("checklist"))
    if place == ("Scenarios", "choice"):
        return ("bedding", *(f"step:{step}" for step in reference.steps()), "disposal")
    if column.value == "list":
        return ("all", *column.options())
    return column.options()


def closed(sheet: Sheet, column: Column) -> bool:
    """Whether only the offered words make sense."""
    return column.value in ("choice", "flag") or (sheet.name, column.field) == (
        "Delivery",
        "basis",
    )


class Lists:
    """The long lists, each a column of the Lists sheet."""

    def __init__(self) -> None:
        """No list yet."""
        self.columns: dict[tuple[str, ...], tuple[int, str]] = {}

    def source(self, sheet: Sheet, column: Column, system: System) -> str | list[str] | None:
        """What a drop-down draws on: a short list, a range, or nothing."""
        words = offered(sheet, column, system)
        if words and len(words) <= MOST_SHORT and len(",".join(words)) <= MOST_LETTERS:
            return list(words)
        if words:
            number, _ = self.columns.setdefault(
                words, (len(self.columns) + 1, f"{sheet.name}: {column.title}")
            )
            name = letter(number)
            return f"=Lists!${name}${HEADER + 1}:${name}${HEADER + len(words)}"
        if column.names is not None:
            return names_range(column.names.sheet, column.names.field)
        return None

    def write(self, page: Any, styles: Any) -> None:
        """Fill the Lists sheet."""
        for words, (number, title) in self.columns.items():
            page.write_string(HEADER - 1, number - 1, title, styles.look("optional"))
            for row, word in enumerate(words):
                page.write_string(HEADER + row, number - 1, word, styles.look("list"))
            page.set_column(number - 1, number - 1, max(len(w) for w in (*words, "x" * 16)) + 2)


def names_range(sheet: str, name: str) -> str:
    """The cells of another sheet that define names.

    >>> names_range("Build-up", "name")
    "='Build-up'!$A$5:$A$500"
    """
    described = sheet_named(sheet)
    number = next(i for i, c in enumerate(described.columns, 1) if c.field == name)
    quoted = f"'{sheet}'" if not sheet.isalpha() else sheet
    column = letter(number)
    return f"={quoted}!${column}${HEADER + 1}:${column}${LAST_ROW}"
