"""The filled examples that come with the tool: one folder each, one CSV per sheet."""

from __future__ import annotations

import csv
import datetime as dt
import re
from importlib import resources
from importlib.resources.abc import Traversable

from budget.units import System
from budget.workbook.sheets.describe import Column, Sheet, key

#: What an example puts into one cell: a text, a number, a ratio or a date.
Content = str | float | dt.date


def names() -> tuple[str, ...]:
    """The examples there are.

    >>> "fire-bowl" in names()
    True
    """
    return tuple(sorted(entry.name for entry in _folder().iterdir() if entry.is_dir()))


def _folder() -> Traversable:
    return resources.files(__package__) / "examples"


def rows(example: str, sheet: Sheet) -> list[dict[str, str]]:
    """The rows of one sheet as text by field (for Job: by setting), blanks left out."""
    path = _folder() / example / f"{sheet.name}.csv"
    if not path.is_file():
        return []
    table = list(csv.DictReader(path.read_text(encoding="utf-8").splitlines()))
    if sheet.settings:
        return [_settings(sheet, table)]
    return [_row(sheet, row) for row in table]


def _row(sheet: Sheet, row: dict[str, str]) -> dict[str, str]:
    fields = {key(c.title): c.field for c in sheet.columns}
    return {fields[key(title)]: text for title, text in row.items() if text}


def _settings(sheet: Sheet, table: list[dict[str, str]]) -> dict[str, str]:
    fields = {key(c.title): c.field for c in sheet.columns}
    return {fields[key(row["Setting"])]: row["Value"] for row in table if row["Value"]}


def system_of(example: str, job: Sheet, otherwise: System) -> System:
    """The unit system that an example is written in."""
    found = next(iter(rows(example, job)), {}).get("units", otherwise)
    return "metric" if found == "metric" else "imperial"


def content(column: Column, text: str) -> Content:
    """A cell's content as the spreadsheet should hold it: a number as number, a date as date.

    >>> content(Column("valid_until", "Valid until", "", "date"), "2026-04-06")
    datetime.date(2026, 4, 6)
    >>> content(Column("waiver", "Damage waiver", "", "share"), "12 %")
    0.12
    """
    if column.value == "date":
        return dt.date.fromisoformat(text)
    if column.value == "share":
        return round(float(text.replace("%", "")) / 100, 9)
    numeric = column.value in ("measure", "money", "number", "whole", "raw")
    if numeric and re.fullmatch(r"-?\d+(\.\d+)?", text):
        return float(text)
    return text
