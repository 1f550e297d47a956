"""Small workbooks written as text tables, so that a test shows the case it is about."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

import pytest

#: Run by the office program's own Python, not by pytest.
collect_ignore = ["office_typing.py"]

Rows = list[list[Any]]
Make = Callable[..., Path]

JOB: Rows = [
    ["Setting", "Value", "Unit", "Note"],
    ["Units", "imperial"],
    ["As-of date", dt.date(2026, 4, 6)],
    ["Sales tax", "7 %"],
]
AREAS: Rows = [
    ["Part", "Shape", "Length (ft)", "Width (ft)", "Paver"],
    ["Terrace", "rectangle", 20, 10, "Slate"],
]
QUOTES: Rows = [
    ["Item", "Supplier", "Price (USD)", "Per", "Pack holds", "Weight per pack (lb)"],
    ["Base stone", "North Pit", 30, "ton"],
    ["Base stone", "South Pit", 32, "ton"],
]
SUPPLIERS: Rows = [["Supplier", "Distance (mi)"], ["North Pit", 5], ["South Pit", 9]]
PRODUCTS: Rows = [["Item", "Kind", "Length (in)", "Width (in)"], ["Slate", "paver", 8, 4]]
SOUND: dict[str, Rows] = {
    "Job": JOB,
    "Areas": AREAS,
    "Quotes": QUOTES,
    "Suppliers": SUPPLIERS,
    "Products": PRODUCTS,
}


@pytest.fixture
def make(tmp_path: Path) -> Make:
    """Write a workbook: the sound one with some sheets replaced (``None`` leaves one out).

    ``job`` adds or replaces settings. A text that starts with ``=`` becomes a formula without a
    saved result; ``'=`` stays a text; ``#`` and an error name becomes that error.
    """

    def write(
        sheets: Mapping[str, Rows | None] | None = None,
        job: Mapping[str, Any] | None = None,
        base: Mapping[str, Rows] = SOUND,
    ) -> Path:
        import openpyxl

        book = openpyxl.Workbook()
        book.remove(book.active)
        wanted: dict[str, Rows | None] = {**base, **(sheets or {})}
        if job and wanted.get("Job"):
            kept = [row for row in wanted["Job"] or [] if row[0] not in job]
            wanted["Job"] = [*kept, *([name, value] for name, value in job.items())]
        for name, rows in wanted.items():
            if rows is None:
                continue
            page = book.create_sheet(name)
            for i, row in enumerate(rows, 1):
                for j, value in enumerate(row, 1):
                    cell = page.cell(i, j)
                    if isinstance(value, str) and value.startswith("'="):
                        cell.value = value[1:]
                        cell.data_type = "s"
                    elif value is not None:
                        cell.value = value
        path = tmp_path / "job.xlsx"
        book.save(path)
        return path

    return write


@pytest.fixture
def sound() -> dict[str, Rows]:
    """The tables of the sound workbook."""
    return {name: [list(row) for row in rows] for name, rows in SOUND.items()}
