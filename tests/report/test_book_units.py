"""Every number of the comparison workbook has its unit, by one rule that holds on every sheet.

A number under a heading has its unit in the row of units beneath the heading; where the rows are
measured differently, in the cell to its right, under the heading Unit; never in both. A number in
a list without headings has its unit to its right.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import openpyxl
import pytest

from budget.decide.outcome import Comparison
from budget.report.book import book
from budget.report.book.cells import UNIT
from budget.report.book.styles import HEAD

Build = Callable[..., Comparison]
_HEAD = f"FF{HEAD[1:]}"


def _is_head(cell: Any) -> bool:
    return bool(cell.fill.fgColor.rgb == _HEAD and cell.font.bold)


def _is_units(cell: Any) -> bool:
    return bool(cell.fill.fgColor.rgb == _HEAD and cell.font.italic and not cell.font.bold)


def _is_number(cell: Any) -> bool:
    return isinstance(cell.value, (int, float)) and not cell.is_date


def numbers(sheet: Any) -> Iterator[tuple[Any, str | None, str, str]]:
    """Each number, with its heading (None without), what is beneath that and what is beside it."""
    heads: dict[int, str] = {}
    under: dict[int, str] = {}
    for row in sheet.iter_rows():
        if _is_head(row[0]):
            heads = {c.column: str(c.value or "") for c in row if _is_head(c)}
            under = {}
        elif _is_units(row[0]):
            under = {c.column: str(c.value or "") for c in row if _is_units(c)}
        elif not any(c.value not in (None, "") for c in row):
            heads, under = {}, {}
        else:
            for cell in filter(_is_number, row):
                right = sheet.cell(cell.row, cell.column + 1).value
                beside = heads.get(cell.column + 1, UNIT) == UNIT
                yield (
                    cell,
                    heads.get(cell.column),
                    under.get(cell.column, ""),
                    str(right or "") if beside else "",
                )


def without_a_unit(path: Path) -> list[str]:
    """The numbers that have no unit, or two."""
    return [
        f"{sheet.title}!{cell.coordinate} under {head}: beneath {beneath!r}, beside {beside!r}"
        for sheet in openpyxl.load_workbook(path, data_only=True).worksheets
        for cell, head, beneath, beside in numbers(sheet)
        if bool(beneath) == bool(beside) or " or " in beneath.replace("1 or 0", "")
    ]


@pytest.mark.parametrize("name", ["terrace", "courtyard", "fire-bowl"])
def test_every_number_of_a_demo_has_one_unit(
    name: str, demo_comparison: Build, tmp_path: Path
) -> None:
    path = tmp_path / "demo.xlsx"
    book.write(demo_comparison(name), path)
    assert without_a_unit(path) == []
    sheets = openpyxl.load_workbook(path, data_only=True).worksheets
    seen = {sheet.title: len(list(numbers(sheet))) for sheet in sheets}
    assert sum(seen.values()) > 1000
    # The values of the one are words; of the other where no machine is priced.
    assert {title for title, many in seen.items() if not many} <= {"Assumptions", "Equipment"}


def test_units_beneath_headings_are_those_of_the_job(
    small_comparison: Build, tmp_path: Path
) -> None:
    path = tmp_path / "small.xlsx"
    book.write(small_comparison(), path)
    sheet = openpyxl.load_workbook(path)["Scenarios"]
    told = {a.value: b.value for a, b in zip(sheet[5], sheet[6], strict=True) if a.value}
    assert told == {
        "Plan": "", "Plan no.": "no.", "Cash": "USD", "Own hours": "h",
        "Total at your hour value": "USD", "Not yet priced": "costs", "May win": "1 or 0",
        "Ranked total": "USD", "Above the least": "USD", "Refundable deposits": "USD",
        "Remark": "",
    }  # fmt: skip


def test_a_number_without_a_unit_is_noticed(small_comparison: Build, tmp_path: Path) -> None:
    path = tmp_path / "small.xlsx"
    book.write(small_comparison(), path)
    workbook = openpyxl.load_workbook(path)
    workbook["Scenarios"]["C6"].value = ""
    workbook["Answer"]["C6"].value = ""
    workbook.save(path)
    stored = openpyxl.load_workbook(path)
    stored["Scenarios"]["C7"].value = 1.0
    stored["Answer"]["B6"].value = 2.0
    stored.save(path)
    found = without_a_unit(path)
    assert any("Scenarios!C7" in line for line in found)
    assert any("Answer!B6" in line for line in found)
