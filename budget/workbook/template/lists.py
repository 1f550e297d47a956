"""The drop-down lists: short ones written into the cell's rule, the others on the Lists sheet."""

from __future__ import annotations

from typing import Any

from budget import reference
from budget.units import System
from budget.workbook.rules import bases
from budget.workbook.sheets.describe import Column, Sheet
from budget.workbook.table import letter
from budget.workbook.template.feeds import ROOM, Feed, feed_of
from budget.workbook.template.filled import HEADER, Filled

#: A list written into a cell's rule may take 255 characters in common spreadsheet programs.
MOST_LETTERS = 255
MOST_SHORT = 8

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
    if place == ("Quotes", "per"):
        return _UNITS[system]
    if place in (("Work", "unit"), ("Bids", "unit")):
        return _RATES[system]
    if place == ("Delivery", "basis"):
        return bases(system)
    if place == ("Checklist", "line"):
        return tuple(row["line"] for row in reference.rows("checklist"))
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
    """The longer lists, each a column of the Lists sheet."""

    def __init__(self) -> None:
        """No list yet."""
        self._titles: dict[Feed, str] = {}

    def source(self, sheet: Sheet, column: Column, system: System) -> str | list[str] | None:
        """What a drop-down draws on: a short list, a range, or nothing."""
        feed = feed_of(sheet, column)
        if feed is None:
            words = offered(sheet, column, system)
            if not words:
                return None
            if len(words) <= MOST_SHORT and len(",".join(words)) <= MOST_LETTERS:
                return list(words)
            feed = Feed(words)
        self._titles.setdefault(feed, f"{sheet.name}: {column.title}")
        name = letter(list(self._titles).index(feed) + 1)
        last = HEADER + len(feed.words) + (1 + ROOM if feed.sources else 0)
        return f"=Lists!${name}${HEADER + 1}:${name}${last}"

    def write(self, page: Any, styles: Any, filled: Filled) -> tuple[list[int], int]:
        """Fill the Lists sheet: the widths of its columns, and its last row (from 0) in use."""
        widths, last = [], HEADER
        look = styles.look("list")
        for number, (feed, title) in enumerate(self._titles.items()):
            page.write_string(HEADER - 1, number, title, styles.look("optional"))
            names = feed.names(filled)
            first = HEADER + (1 if feed.sources else 0)
            for row, word in enumerate(feed.words, first):
                page.write_string(row, number, word, look)
            if feed.sources:
                start = first + len(feed.words)
                fed = names[len(feed.words) :]
                for at, formula in enumerate(feed.cells(letter(number + 1))):
                    value = fed[at] if at < len(fed) else ""
                    row = start + at
                    page.write_array_formula(row, number, row, number, formula, look, value)
            last = max(last, first + len(names) - 1)
            widths.append(max(len(w) for w in (*names, title, "x" * 18)) + 2)
            page.set_column(number, number, widths[-1])
        return widths, last
