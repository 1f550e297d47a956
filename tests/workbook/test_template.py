"""The blank workbook: what stands on it, and that it reads back."""

from __future__ import annotations

import datetime as dt
import os
import subprocess
import zipfile
from itertools import pairwise
from pathlib import Path
from typing import Any

import openpyxl
import pytest
from openpyxl.utils import range_boundaries

from budget.workbook import example_jobs, read, write_blank
from budget.workbook.example_jobs import content
from budget.workbook.sheets.describe import key
from budget.workbook.sheets.tabs import SHEETS, sheet
from budget.workbook.template.start import QUESTIONS

EXAMPLES = example_jobs.names()


@pytest.fixture(params=["imperial", "metric"])
def blank(request: pytest.FixtureRequest, tmp_path: Path) -> tuple[str, Any]:
    path = tmp_path / "blank.xlsx"
    write_blank(path, request.param)
    return request.param, openpyxl.load_workbook(path)


def test_start_comes_first_and_lists_last(blank: Any) -> None:
    _, book = blank
    assert book.sheetnames == ["Start", *(s.name for s in SHEETS), "Lists"]


def test_the_start_sheet_names_three_sheets_then_asks_which_others_to_fill(blank: Any) -> None:
    _, book = blank
    page = book["Start"]
    counts = [page.cell(row, 5).value for row in range(8, 40)]
    assert counts.count("=COUNTA(Suppliers!$A$5:$A$500)") == 1
    assert [page.cell(row, 2).value for row in range(3, 7)] == [
        "Job", "Areas", "Quotes", "Save and run",
    ]  # fmt: skip
    asked = {
        page.cell(row, 2).value: row
        for row in range(9, 40)
        if str(page.cell(row, 5).value).startswith("=COUNTA")
    }
    assert set(asked) == {s.name for s in SHEETS if not s.required}
    for name, row in asked.items():
        assert str(page.cell(row, 3).value).endswith("?")
        assert page.cell(row, 2).hyperlink.location == f"'{name}'!A1"
    rules = page.data_validations.dataValidation
    assert [(r.type, r.formula1) for r in rules] == [("list", '"yes,no"')]
    assert page.sheet_properties.pageSetUpPr.fitToPage
    assert page.page_setup.fitToHeight in (None, 1)  # one page is what a blank says


def test_every_sheet_that_may_stay_empty_has_its_question() -> None:
    assert {name for name, _ in QUESTIONS} == {s.name for s in SHEETS if not s.required}


def test_every_sheet_opens_with_its_purpose_and_when_it_is_worth_filling(blank: Any) -> None:
    _, book = blank
    for described in SHEETS:
        page = book[described.name]
        assert page["A1"].value == described.name
        assert page["B1"].value == described.purpose
        assert page["B2"].value == described.worth


def test_titles_carry_units_and_stay_in_sight(blank: Any) -> None:
    system, book = blank
    page = book["Areas"]
    titles = [c.value for c in page[4]]
    assert titles[3] == ("Length (ft)" if system == "imperial" else "Length (m)")
    assert titles[0] == "Part *"
    for described in SHEETS:
        assert book[described.name].freeze_panes == "B5"
        assert book[described.name].print_title_rows == "$4:$4"
        assert book[described.name].page_setup.orientation == "landscape"


def test_paper_is_the_country_s(blank: Any) -> None:
    system, book = blank
    assert book["Quotes"].page_setup.paperSize == (1 if system == "imperial" else 9)


#: Points of paper across at the country's sizes, margins of half an inch off, and of a digit.
ACROSS = {"landscape": {1: 720.0, 9: 769.9}, "portrait": {1: 540.0, 9: 523.3}}
DIGIT = 5.56


def test_every_page_across_is_wide_enough_and_tells_its_rows(blank: Any) -> None:
    """By Adobe's widths of Arial's digits; numbers of rows take some 30 points more."""
    torn = 0
    for page in blank[1].worksheets:
        setup, breaks = page.page_setup, [brk.id for brk in page.col_breaks.brk]
        if not breaks:
            assert page.sheet_properties.pageSetUpPr.fitToPage
            continue
        lists = page.title == "Lists"  # its columns have nothing to do with one another
        assert (page.print_title_cols or "") == ("" if lists else "$A:$A")
        assert bool(page.print_options.headings) is not lists
        wide = {n: c.width * DIGIT for c in page.column_dimensions.values()
                for n in range(c.min - 1, c.max)}  # fmt: skip
        last = range_boundaries(page.print_area.rpartition("!")[2])[2]
        for start, end in pairwise([0, *breaks, last]):
            again = 0 if lists else 30 + wide[0] * (start > 0)
            taken = again + sum(wide[n] for n in range(start, end))
            room = ACROSS[setup.orientation][int(setup.paperSize)]
            assert taken * setup.scale / 100 <= room, (page.title, start)
        torn += 1
    assert torn > 5


def test_the_settings_are_read_at_full_size(blank: Any) -> None:
    """The Job sheet goes over pages rather than be shrunk to one; it is as wide as the paper."""
    job = blank[1]["Job"]
    assert job.sheet_properties.pageSetUpPr.fitToPage
    # ECMA-376, 18.3.1.63: without a number it is 1; 0 takes as many pages as are needed.
    assert job.page_setup.fitToWidth in (None, 1)
    assert int(job.page_setup.fitToHeight) == 0
    wide = sum((c.max - c.min + 1) * c.width for c in job.column_dimensions.values() if c.max < 9)
    assert ACROSS["landscape"][int(job.page_setup.paperSize)] / (wide * DIGIT) > 0.95


def test_every_column_has_a_note_and_every_closed_choice_a_list(blank: Any) -> None:
    _, book = blank
    for described in SHEETS:
        rules = book[described.name].data_validations.dataValidation
        assert all(rule.prompt for rule in rules)
        assert len(rules) >= len(described.columns) - 4  # equal rules may be stored together
        lists = [rule for rule in rules if rule.type == "list"]
        closed = [c for c in described.columns if c.value in ("choice", "flag")]
        assert len(lists) >= len({(c.options(), c.title) for c in closed})


def test_lists_point_at_cells_that_hold_them(blank: Any) -> None:
    _, book = blank
    for described in SHEETS:
        for rule in book[described.name].data_validations.dataValidation:
            if rule.type == "list" and "Lists!" in rule.formula1:
                area = rule.formula1.split("!")[1].replace("$", "")
                cells = [row[0] for row in book["Lists"][area]]
                fed = cells[-1].data_type == "f"
                # A fed list begins with a blank, so that the drop-down opens at its top.
                assert all(cell.value for cell in cells[1 if fed else 0 :])
                assert (cells[0].value is None) == fed


def test_sizes_are_text_cells_so_that_a_fraction_stays_a_fraction(blank: Any) -> None:
    _, book = blank
    column = book["Areas"].column_dimensions["D"]
    assert column.number_format == "@"


def test_formulas_stand_only_where_nothing_is_read(blank: Any) -> None:
    _, book = blank
    for described in SHEETS:
        titles = {c.column: str(c.value or "").split(" (")[0] for c in book[described.name][4]}
        for row in book[described.name].iter_rows():
            for cell in row:
                if cell.data_type == "f":
                    assert cell.row == 3 or titles[cell.column] in described.live


def test_titles_of_helping_columns_are_not_those_of_read_ones() -> None:
    for described in SHEETS:
        own = {key(c.title) for c in described.columns}
        assert not own & {key(title) for title in described.live}


def test_the_blank_asks_for_areas_and_quotes_only(tmp_path: Path) -> None:
    write_blank(tmp_path / "blank.xlsx", "metric")
    reading = read(tmp_path / "blank.xlsx")
    assert [n.code for n in reading.problems] == ["sheet-empty", "sheet-empty"]
    assert [n.code for n in reading.warnings] == ["tax-not-said"]


def test_the_same_input_gives_the_same_bytes(tmp_path: Path) -> None:
    for example in ("", *EXAMPLES):
        write_blank(tmp_path / "a.xlsx", "imperial", example, force=True)
        write_blank(tmp_path / "b.xlsx", "imperial", example, force=True)
        assert (tmp_path / "a.xlsx").read_bytes() == (tmp_path / "b.xlsx").read_bytes()


def test_a_file_that_is_there_is_kept_unless_forced(tmp_path: Path) -> None:
    path = tmp_path / "mine.xlsx"
    path.write_text("mine")
    with pytest.raises(FileExistsError):
        write_blank(path, "imperial")
    assert path.read_text() == "mine"
    write_blank(path, "imperial", force=True)
    assert zipfile.is_zipfile(path)
    assert [p.name for p in tmp_path.iterdir()] == ["mine.xlsx"]


def test_a_failed_write_leaves_nothing_behind(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fail(*_: Any) -> None:
        raise OSError("disk full")

    monkeypatch.setattr("budget.workbook.template.template.write_start", fail)
    with pytest.raises(OSError, match="disk full"):
        write_blank(tmp_path / "new.xlsx", "imperial")
    assert list(tmp_path.iterdir()) == []


def test_a_new_file_is_readable_as_any_other_new_file(tmp_path: Path) -> None:
    (tmp_path / "other").touch()
    write_blank(tmp_path / "new.xlsx", "imperial")
    modes = {p.stat().st_mode for p in tmp_path.iterdir()}
    assert len(modes) == 1


def test_an_unknown_example_is_refused(tmp_path: Path) -> None:
    with pytest.raises(KeyError):
        write_blank(tmp_path / "x.xlsx", "imperial", "castle")


@pytest.mark.parametrize("name", EXAMPLES)
def test_an_example_reads_back_without_a_problem(tmp_path: Path, name: str) -> None:
    write_blank(tmp_path / "x.xlsx", "imperial", name)
    reading = read(tmp_path / "x.xlsx")
    assert reading.problems == ()
    assert reading.job is not None
    for described in SHEETS:
        if not described.settings:
            rows = example_jobs.rows(name, described)
            assert len(getattr(reading.job, described.target)) == len(rows)


@pytest.mark.parametrize(
    ("place", "text", "expected"),
    [
        (("Areas", "length"), "20", 20.0),
        (("Areas", "length"), "12 ft 6 in", "12 ft 6 in"),
        (("Quotes", "item"), "3", "3"),
        (("Quotes", "price"), "12.50", 12.5),
        (("Quotes", "restocking"), "20 %", 0.2),
        (("Quotes", "valid_until"), "2026-05-31", dt.date(2026, 5, 31)),
        (("Quotes", "note"), "=1+1", "=1+1"),
    ],
)
def test_an_example_cell_is_kept_as_what_it_is(
    place: tuple[str, str], text: str, expected: Any
) -> None:
    assert content(sheet(place[0]).column(place[1]), text) == expected


@pytest.mark.office
def test_an_example_saved_by_an_office_program_reads_the_same(tmp_path: Path) -> None:
    path, out = tmp_path / "terrace.xlsx", tmp_path / "saved"
    write_blank(path, "imperial", "terrace")
    profile = f"-env:UserInstallation={(tmp_path / 'profile').as_uri()}"
    command = ["soffice", profile, "--headless", "--convert-to", "xlsx", "--outdir", str(out)]
    subprocess.run([*command, str(path)], check=True, capture_output=True, env=dict(os.environ))
    before, after = read(path), read(out / "terrace.xlsx")
    assert before.job is not None
    assert after == before
