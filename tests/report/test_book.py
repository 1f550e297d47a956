"""The comparison workbook: what stands in its cells, without an office program."""

from __future__ import annotations

import re
import zipfile
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import openpyxl
import pytest
import xlsxwriter

from budget.decide.outcome import Comparison
from budget.report.book import book
from budget.report.book.figures import FIRST_ROW
from budget.report.book.writer import plain_worksheet

Build = Callable[..., Comparison]


@pytest.fixture
def small_book(small_comparison: Build, tmp_path: Path) -> Path:
    path = tmp_path / "small-comparison.xlsx"
    book.write(small_comparison(), path)
    return path


def formulas(path: Path) -> Iterator[tuple[str, str, str]]:
    for sheet in openpyxl.load_workbook(path).worksheets:
        for row in sheet.iter_rows():
            for cell in row:
                if cell.data_type == "f":
                    yield sheet.title, cell.coordinate, str(cell.value)


def values(path: Path) -> dict[str, dict[str, Any]]:
    workbook = openpyxl.load_workbook(path, data_only=True)
    return {
        sheet.title: {c.coordinate: c.value for row in sheet.iter_rows() for c in row}
        for sheet in workbook.worksheets
    }


def beside(path: Path, sheet: str, label: str) -> Any:
    """The value to the right of a label."""
    found = values(path)[sheet]
    at = next(address for address, value in found.items() if value == label)
    return found["B" + at[1:]]


def test_sheets_stand_in_the_order_of_the_work(small_book: Path) -> None:
    assert openpyxl.load_workbook(small_book).sheetnames == [
        "Answer", "Scenarios", "Hour value", "Inputs", "Quantities", "Amounts of work",
        "Drawing", "Quotes", "Delivery or haul", "Equipment", "Own or hired", "Bedding",
        "Buying list", "Calendar", "Plan lines", "Workings", "Assumptions", "Checks",
    ]  # fmt: skip


def test_same_comparison_gives_the_same_bytes(small_comparison: Build, tmp_path: Path) -> None:
    for name in ("a.xlsx", "b.xlsx"):
        book.write(small_comparison(), tmp_path / name)
    assert (tmp_path / "a.xlsx").read_bytes() == (tmp_path / "b.xlsx").read_bytes()


def test_answer_shows_the_numbers_of_the_comparison(small_book: Path) -> None:
    # Goods 5 x 40.00 + 11 x 95.50, delivery 85.00, hire 90.00; hours 18 + 30 + 10.25.
    assert beside(small_book, "Answer", "Cash") == pytest.approx(1425.50, abs=0.001)
    assert beside(small_book, "Answer", "Own hours") == pytest.approx(58.25)
    # At 20.00 an hour.
    together = beside(small_book, "Answer", "Cash and hours together")
    assert together == pytest.approx(1425.50 + 58.25 * 20, abs=0.001)
    # The hired scenario pays 1,500.00 for the crew instead of 90.00 for the machine.
    assert beside(small_book, "Answer", "Saved against hiring it all") == pytest.approx(1410.0)
    assert beside(small_book, "Answer", "What an own hour earns") == pytest.approx(1410 / 40.25)
    assert beside(small_book, "Answer", "Do the sums hold?") == "OK"


def test_every_formula_is_stored_with_a_value(small_book: Path) -> None:
    stored = values(small_book)
    found = list(formulas(small_book))
    assert len(found) > 60
    assert [where for where in found if stored[where[0]][where[1]] is None] == []


def test_no_formula_hides_a_number(small_book: Path) -> None:
    hidden = []
    for sheet, cell, text in formulas(small_book):
        bare = re.sub(r'"[^"]*"', "", text)
        bare = re.sub(r"'[^']*'!", "", bare)
        bare = re.sub(r"\$?[A-Z]{1,3}\$?\d+", "", bare)
        bare = re.sub(r"[A-Za-z_][A-Za-z_0-9.]*", "", bare)
        hidden += [(sheet, cell, text) for n in re.findall(r"\d+\.?\d*", bare) if n not in "01"]
    assert hidden == []


@pytest.mark.parametrize(
    "hostile", ["=1+1", "@SUM(A1)", "+1", "http://example.org", "{=1}", "&L&P"]
)
def test_text_of_the_user_stays_text(hostile: str, small_comparison: Build, tmp_path: Path) -> None:
    path = tmp_path / "hostile.xlsx"
    book.write(small_comparison(job_name=hostile, part=hostile), path)
    workbook = openpyxl.load_workbook(path)
    found = [
        cell
        for sheet in workbook.worksheets
        for row in sheet.iter_rows()
        for cell in row
        if cell.value == hostile
    ]
    assert len(found) >= 2
    assert {cell.data_type for cell in found} == {"s"}
    assert all(cell.hyperlink is None for cell in found)


def test_links_stay_within_the_workbook(small_book: Path) -> None:
    with zipfile.ZipFile(small_book) as archive:
        parts = [archive.read(n).decode() for n in archive.namelist() if n.endswith(".rels")]
    assert not [part for part in parts if "hyperlink" in part or "External" in part]


def test_inputs_are_open_and_the_rest_is_locked(small_book: Path) -> None:
    workbook = openpyxl.load_workbook(small_book)
    for sheet in workbook.worksheets:
        assert sheet.protection.sheet
        assert sheet.protection.password is None
        for row in sheet.iter_rows():
            for cell in row:
                if not cell.protection.locked:
                    assert sheet.title == "Inputs"
                    assert isinstance(cell.value, (int, float))
    rows = {row[1].value: row for row in workbook["Inputs"].iter_rows(min_row=FIRST_ROW)}
    assert not rows["value of an own hour"][2].protection.locked
    assert rows["base depth"][4].value == "a published guide, table 2"
    assert rows["cents in one of the currency"][2].protection.locked


def test_an_input_shared_by_several_figures_stands_once(small_book: Path) -> None:
    cells = [row[4].value for row in openpyxl.load_workbook(small_book)["Inputs"].iter_rows()]
    assert cells.count("Areas!D2") == 1


@pytest.mark.parametrize(("units", "paper"), [("imperial", 1), ("metric", 9)])
def test_paper_follows_the_unit_system(
    units: str, paper: int, small_comparison: Build, tmp_path: Path
) -> None:
    import dataclasses

    comparison = small_comparison()
    settings = dataclasses.replace(comparison.job.settings, units=units)
    changed = dataclasses.replace(
        comparison, job=dataclasses.replace(comparison.job, settings=settings)
    )
    path = tmp_path / "paper.xlsx"
    book.write(changed, path)
    for sheet in openpyxl.load_workbook(path).worksheets:
        assert sheet.page_setup.paperSize == paper


def test_nothing_is_left_behind_when_writing_fails(
    small_comparison: Build, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    target = tmp_path / "kept.xlsx"
    target.write_bytes(b"before")

    def fail(*_: object) -> None:
        raise OSError("the disk is full")

    monkeypatch.setattr(book, "_write", fail)
    with pytest.raises(OSError, match="disk is full"):
        book.write(small_comparison(), target)
    assert [path.name for path in tmp_path.iterdir()] == ["kept.xlsx"]
    assert target.read_bytes() == b"before"


def test_no_plan_at_all_still_makes_a_workbook(small_comparison: Build, tmp_path: Path) -> None:
    import dataclasses

    comparison = small_comparison()
    empty = dataclasses.replace(
        comparison,
        scenarios=tuple(s for s in comparison.scenarios if not s.feasible),
        best=None,
        hired=None,
        frontier=(),
        flips=(),
        complete=False,
    )
    path = tmp_path / "empty.xlsx"
    book.write(empty, path)
    text = [value for value in values(path)["Answer"].values() if value]
    assert "No plan can be built yet." in text


@pytest.mark.parametrize(
    "formula",
    ["=A1 + B2", "=SUM(A1:A9)", "={A1 + B1}", "=FILTER(A1:A9, B1:B9)", '=IF(A1 = 1, "}", 2)'],
)
def test_formulas_are_stored_as_the_library_stores_them(formula: str, tmp_path: Path) -> None:
    """Our worksheet skips a search that most formulas do not need, and nothing else."""
    stored = []
    for worksheet in (None, plain_worksheet()):
        path = tmp_path / "one.xlsx"
        one = xlsxwriter.Workbook(str(path))
        one.add_worksheet("Sheet", worksheet).write_formula(0, 0, formula, None, 1)
        one.close()
        with zipfile.ZipFile(path) as archive:
            stored.append(archive.read("xl/worksheets/sheet1.xml"))
    assert stored[0] == stored[1]


def test_needs_of_one_part_are_told_apart(demo_comparison: Build, tmp_path: Path) -> None:
    """A bench of two pieces wants screws and stain for each."""
    path = tmp_path / "courtyard.xlsx"
    book.write(demo_comparison("courtyard"), path)
    sheet = openpyxl.load_workbook(path)["Quantities"]
    rows = [tuple(cell.value for cell in row[:3]) for row in sheet.iter_rows(min_row=6)]
    needs = [row for row in rows if row[1]]
    screws = {row[0] for row in needs if row[1] == "Screws"}
    assert screws == {"Bench, Larch board", "Bench, Larch post"}
    assert len(needs) == len(set(needs))
