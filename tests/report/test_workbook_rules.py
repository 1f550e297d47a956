"""Rules of the file format that spreadsheet programs mend silently, or refuse, when broken.

Limits are those of ECMA-376 part 1 (SpreadsheetML) and of Excel's published "specifications and
limits"; the names of functions are openpyxl's list of those that Excel 2007 knows.
"""

from __future__ import annotations

import re
import zipfile
from collections.abc import Callable, Iterator
from itertools import combinations
from pathlib import Path
from typing import Any

import openpyxl
import pytest
from defusedxml import ElementTree
from openpyxl.utils import FORMULAE
from openpyxl.utils.cell import range_boundaries

from budget.decide.outcome import Comparison
from budget.quantities import take_off
from budget.report import ask_book
from budget.report.asking import letters
from budget.report.book import book
from budget.workbook import read, write_blank
from tests.report.cells_by_kind import counted

Build = Callable[..., Comparison]
Box = tuple[int, int, int, int]

#: Newer than that list, and stored with the prefix that the format asks for.
_NEWER = {"_xlfn.IFNA", "_xlfn.TEXTJOIN", "_xlfn.CONCAT"}


@pytest.fixture(scope="module")
def quotes(tmp_path_factory: pytest.TempPathFactory) -> list[Path]:
    """A blank quotes workbook of each unit system, and a filled one."""
    folder = tmp_path_factory.mktemp("quotes")
    made = [folder / f"{name}.xlsx" for name in ("imperial", "metric", "filled")]
    for path in made:
        units = "metric" if path.stem == "metric" else "imperial"
        write_blank(path, units, "terrace" if path.stem == "filled" else "")
    return made


@pytest.fixture
def files(quotes: list[Path], small_comparison: Build, tmp_path: Path) -> list[Path]:
    """Those, a comparison workbook and a workbook of questions."""
    compared, asked = tmp_path / "compared.xlsx", tmp_path / "asked.xlsx"
    book.write(
        small_comparison(job_name="[Odd] name: with */?\\ 'signs' that are long" * 3), compared
    )
    job = read(quotes[2]).job
    assert job is not None
    ask_book.write(job, letters(job, take_off(job)), asked)
    return [*quotes, compared, asked]


def boxes(ranges: Any) -> list[Box]:
    return [range_boundaries(part) for area in ranges for part in str(area).split()]


def overlapping(areas: list[Box]) -> list[tuple[Box, Box]]:
    return [
        (a, b)
        for a, b in combinations(areas, 2)
        if a[0] <= b[2] and b[0] <= a[2] and a[1] <= b[3] and b[1] <= a[3]
    ]


def formulas(path: Path) -> Iterator[str]:
    for sheet in openpyxl.load_workbook(path).worksheets:
        for row in sheet.iter_rows():
            yield from (str(cell.value) for cell in row if cell.data_type == "f")
        for rules in sheet.conditional_formatting:
            yield from (f"={text}" for rule in rules.rules for text in rule.formula)
        for check in sheet.data_validations.dataValidation:
            yield from (f"={text}" for text in (check.formula1, check.formula2) if text)


def test_sheet_names_are_allowed_and_differ(files: list[Path]) -> None:
    for path in files:
        names = openpyxl.load_workbook(path).sheetnames
        assert len({name.casefold() for name in names}) == len(names)
        for name in names:
            assert 1 <= len(name) <= 31
            assert not re.search(r"[\[\]:*?/\\]", name)
            assert not name.startswith("'")
            assert not name.endswith("'")


def test_defined_names_are_names_and_point_at_sheets_that_are_there(files: list[Path]) -> None:
    for path in files:
        workbook = openpyxl.load_workbook(path)
        names = list(workbook.defined_names)
        assert len({name.casefold() for name in names}) == len(names)
        for name, defined in workbook.defined_names.items():
            assert re.fullmatch(r"[A-Za-z_\\][A-Za-z0-9_.\\]{0,254}", name), name
            assert not re.fullmatch(r"[A-Za-z]{1,3}[0-9]+|[RrCc]|[Rr][0-9]*[Cc][0-9]*", name), name
            for sheet, area in defined.destinations:
                assert sheet in workbook.sheetnames
                assert range_boundaries(area)


def test_merged_cells_filters_and_checks_do_not_overlap(files: list[Path]) -> None:
    for path in files:
        for sheet in openpyxl.load_workbook(path).worksheets:
            filters = [sheet.auto_filter.ref] if sheet.auto_filter.ref else []
            tables = [table.ref for table in sheet.tables.values()]
            areas = boxes([*sheet.merged_cells.ranges, *filters, *tables])
            assert overlapping(areas) == [], (path.name, sheet.title)
            checks = [c.sqref for c in sheet.data_validations.dataValidation]
            assert overlapping(boxes(checks)) == [], (path.name, sheet.title)


def test_checks_keep_to_the_length_that_is_shown(files: list[Path]) -> None:
    for path in files:
        for sheet in openpyxl.load_workbook(path).worksheets:
            for check in sheet.data_validations.dataValidation:
                for text, most in (
                    (check.promptTitle, 32), (check.errorTitle, 32), (check.prompt, 255),
                    (check.error, 255), (check.formula1, 255), (check.formula2, 255),
                ):  # fmt: skip
                    assert len(text or "") <= most, (path.name, sheet.title, text)


def test_every_function_is_one_of_excel_s(files: list[Path]) -> None:
    known = {name.upper() for name in FORMULAE} | _NEWER
    for path in files:
        for text in formulas(path):
            assert len(text) <= 8192
            bare = re.sub(r'"[^"]*"', '""', text)
            used = set(re.findall(r"([A-Za-z_][A-Za-z0-9_.]*)\(", bare))
            assert {name for name in used if name.upper() not in known} == set(), (path.name, text)
            assert ";" not in bare  # the file keeps commas whatever the language


def test_links_lead_to_cells_of_the_workbook(files: list[Path]) -> None:
    for path in files:
        workbook = openpyxl.load_workbook(path)
        for sheet in workbook.worksheets:
            for row in sheet.iter_rows():
                for cell in row:
                    if cell.hyperlink is not None:
                        target, _, at = str(cell.hyperlink.location).rpartition("!")
                        assert target.strip("'") in workbook.sheetnames
                        assert range_boundaries(at)


def test_rows_columns_and_texts_are_within_limits(files: list[Path]) -> None:
    for path in files:
        for sheet in openpyxl.load_workbook(path).worksheets:
            assert all(0 < d.width <= 255 for d in sheet.column_dimensions.values())
            assert all((d.height or 1) <= 409.5 for d in sheet.row_dimensions.values())
            assert len(sheet.row_breaks.brk) < 1023
            header = sheet.oddFooter
            assert (
                sum(len(part.text or "") for part in (header.left, header.center, header.right))
                < 255
            )
            for row in sheet.iter_rows():
                assert all(len(c.value) <= 32767 for c in row if isinstance(c.value, str))


def test_parts_are_sound_xml_and_styles_and_drawings_are_there(files: list[Path]) -> None:
    for path in files:
        with zipfile.ZipFile(path) as archive:
            names = archive.namelist()
            assert len(set(names)) == len(names)
            for name in names:
                if name.endswith((".xml", ".rels", ".vml")):
                    ElementTree.fromstring(archive.read(name))
            styles = archive.read("xl/styles.xml").decode()
            most = int(re.findall(r'<cellXfs count="(\d+)"', styles)[0])
            assert most < 64000
            for name in names:
                if re.fullmatch(r"xl/worksheets/sheet\d+\.xml", name):
                    used = re.findall(r' s="(\d+)"', archive.read(name).decode())
                    assert max(map(int, used), default=0) < most
                    marks = re.findall(r'dxfId="(\d+)"', archive.read(name).decode())
                    count = re.findall(r'<dxfs count="(\d+)"', styles)
                    assert max(map(int, marks), default=-1) < int(count[0])


def test_kinds_of_cells_are_told_by_their_look(small_comparison: Build, tmp_path: Path) -> None:
    """Counted by fill, the inputs are those that a person may change: the cells left open."""
    path = tmp_path / "compared.xlsx"
    book.write(small_comparison(), path)
    workbook = openpyxl.load_workbook(path)
    found = counted(path)
    unlocked = [c for row in workbook["Inputs"].iter_rows() for c in row if not c.protection.locked]
    kinds = found["Inputs"]
    assert kinds["input"] + kinds["laid out"] + kinds["solved"] == len(unlocked)
    assert all(not kinds["input"] for sheet, kinds in found.items() if sheet != "Inputs")
    assert found["Workings"].keys() == {"formula"}
