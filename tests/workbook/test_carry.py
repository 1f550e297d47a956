"""Carrying on from an earlier workbook."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import openpyxl
import pytest

from budget.job import Place
from budget.workbook import WorkbookError, carry_over, read, write_blank
from budget.workbook.sheets.tabs import SHEETS

Make = Callable[..., Path]
KEPT = ("suppliers", "delivery", "vehicles", "equipment", "products", "work")


def rows_of(path: Path, target: str) -> list[Any]:
    job = read(path, may_be_empty=("Areas", "Quotes")).job
    assert job is not None
    return [replace(row, place=Place("", 0)) for row in getattr(job, target)]


@pytest.mark.parametrize("name", ["terrace", "courtyard"])
def test_sellers_machines_and_products_are_the_same(tmp_path: Path, name: str) -> None:
    old, new = tmp_path / "old.xlsx", tmp_path / "new.xlsx"
    write_blank(old, "imperial", name)
    carried = carry_over(old, new)
    for target in KEPT:
        assert rows_of(new, target) == rows_of(old, target)
    counts = {s.name: len(rows_of(old, s.target)) for s in SHEETS if s.target in KEPT}
    assert dict(carried.counts) == counts
    assert carried.left_out == ()
    job = read(new, may_be_empty=("Areas", "Quotes")).job
    assert job is not None
    for s in SHEETS:
        if not s.settings and s.target not in (*KEPT, "checklist"):
            assert getattr(job, s.target) == ()
    before = read(old).job
    assert before is not None
    kept = ("currency", "units", "sales_tax", "tax_included", "hour_value", "hours_per_day")
    assert [getattr(job.settings, n) for n in kept] == [getattr(before.settings, n) for n in kept]
    assert job.settings.name == "My outdoor room"


def test_areas_and_quotes_must_then_be_filled(tmp_path: Path) -> None:
    write_blank(tmp_path / "old.xlsx", "imperial", "terrace")
    carry_over(tmp_path / "old.xlsx", tmp_path / "new.xlsx")
    problems = read(tmp_path / "new.xlsx").problems
    assert [(n.code, n.sheet) for n in problems] == [
        ("sheet-empty", "Areas"),
        ("sheet-empty", "Quotes"),
    ]


def test_numbers_under_other_units_keep_their_size(make: Make, tmp_path: Path) -> None:
    old = make({
        "Suppliers": [
            ["Note", "Distance (km)", "Supplier", "Delivery fee (USD)", "Pickup allowed", "Mine"],
            ["=1+", 10, "North Pit", 70, False, "x"],
            ["far", "3 1/2 mi", 42, "12.50", "no", None],
        ],
        "Vehicles": [["Vehicle", "Payload (kg)"], ["Cart", 100]],
        "Equipment": [
            ["Equipment", "Way", "Day (USD)", "Damage waiver", "Valid until"],
            ["Plate", "rent", 60, "12 %", "2026-05-31"],
        ],
    })  # fmt: skip
    new = tmp_path / "new.xlsx"
    carry_over(old, new)
    first, second = rows_of(new, "suppliers")
    assert first.distance == pytest.approx(10_000)
    assert second.distance == pytest.approx(3.5 * 1609.344)
    assert (first.delivery_fee, second.delivery_fee) == (7000, 1250)
    assert (first.pickup, second.pickup) == (False, False)
    assert second.supplier == "42"
    assert rows_of(new, "vehicles")[0].payload == pytest.approx(100)
    assert rows_of(new, "equipment")[0].waiver == pytest.approx(0.12)
    # Text that looks like a formula stays the text it was.
    page = openpyxl.load_workbook(new)["Suppliers"]
    assert page.cell(5, 1).data_type == "s"


def test_errors_and_unworked_formulas_are_named_and_left_out(make: Make, tmp_path: Path) -> None:
    old = make({
        "Suppliers": [["Supplier", "Distance (mi)"], ["North Pit", "=1+4"], ["South Pit", 9]],
    })  # fmt: skip
    carried = carry_over(old, tmp_path / "new.xlsx")
    assert carried.left_out == ("Suppliers!B2",)
    assert [row.distance for row in rows_of(tmp_path / "new.xlsx", "suppliers")] == [
        None,
        pytest.approx(9 * 1609.344),
    ]


def test_a_file_that_is_there_is_kept(make: Make, tmp_path: Path) -> None:
    old, new = make(), tmp_path / "new.xlsx"
    new.write_text("mine")
    with pytest.raises(FileExistsError):
        carry_over(old, new)
    assert new.read_text() == "mine"


def test_what_is_no_workbook_is_said_so(tmp_path: Path) -> None:
    (tmp_path / "old.xlsx").write_text("no workbook")
    with pytest.raises(WorkbookError):
        carry_over(tmp_path / "old.xlsx", tmp_path / "new.xlsx")
    assert [p.name for p in tmp_path.iterdir()] == ["old.xlsx"]
