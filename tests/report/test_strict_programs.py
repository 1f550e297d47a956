"""What spreadsheet programs are strict about when they open a file, read from its parts.

Excel and Google's sheets are not at hand; these are rules of ECMA-376 part 1 (SpreadsheetML) and of
Excel's published "specifications and limits", each of which makes a program mend a file, drop a
part of it or refuse it. What the parts mean is tested in ``test_workbook_rules``.
"""

from __future__ import annotations

import math
import re
import zipfile
from collections.abc import Callable, Iterator
from functools import cached_property
from pathlib import Path, PurePosixPath
from typing import Any

import pytest
from defusedxml import ElementTree
from openpyxl.utils.cell import column_index_from_string, range_boundaries

from budget.decide.outcome import Comparison
from budget.quantities import take_off
from budget.report import ask_book
from budget.report.asking import letters
from budget.report.book import book
from budget.spend import baseline_book
from budget.spend.standing import stand
from budget.workbook import read, write_blank

MAIN = "{http://schemas.openxmlformats.org/spreadsheetml/2006/main}"
LINKED = "{http://schemas.openxmlformats.org/officeDocument/2006/relationships}"
WORKBOOKS = Path(__file__).parents[2] / "workbooks"

#: The order of a worksheet's parts (ECMA-376 part 1, 18.3.1.99).
ORDER = (
    "sheetPr", "dimension", "sheetViews", "sheetFormatPr", "cols", "sheetData", "sheetCalcPr",
    "sheetProtection", "protectedRanges", "scenarios", "autoFilter", "sortState", "dataConsolidate",
    "customSheetViews", "mergeCells", "phoneticPr", "conditionalFormatting", "dataValidations",
    "hyperlinks", "printOptions", "pageMargins", "pageSetup", "headerFooter", "rowBreaks",
    "colBreaks", "customProperties", "cellWatches", "ignoredErrors", "smartTags", "drawing",
    "legacyDrawing", "legacyDrawingHF", "picture", "oleObjects", "controls", "webPublishItems",
    "tableParts", "extLst",
)  # fmt: skip


class Parts:
    """The parts of one file."""

    def __init__(self, path: Path) -> None:
        with zipfile.ZipFile(path) as archive:
            self.raw = {name: archive.read(name) for name in archive.namelist()}

    def xml(self, name: str) -> Any:
        return ElementTree.fromstring(self.raw[name])

    @cached_property
    def sheets(self) -> dict[str, Any]:
        """The worksheets by name."""
        targets = self.targets("xl/workbook.xml")
        return {
            sheet.get("name"): self.xml(targets[sheet.get(f"{LINKED}id")])
            for sheet in self.xml("xl/workbook.xml").iter(f"{MAIN}sheet")
        }

    @cached_property
    def styles(self) -> Any:
        return self.xml("xl/styles.xml")

    def targets(self, part: str) -> dict[str, str]:
        """The parts that one refers to, by their ids."""
        at = PurePosixPath(part)
        links = f"{at.parent}/_rels/{at.name}.rels"
        if links not in self.raw:
            return {}
        found = {}
        for link in self.xml(links):
            target = link.get("Target")
            whole = target[1:] if target.startswith("/") else str(at.parent / target)
            steps: list[str] = []
            for step in whole.split("/"):
                steps = steps[:-1] if step == ".." else [*steps, step]
            found[link.get("Id")] = "/".join(steps)
        return found


@pytest.fixture(scope="module")
def files(
    tmp_path_factory: pytest.TempPathFactory, demo_comparison: Callable[[str], Comparison]
) -> dict[str, Parts]:
    """A file of each sort that the tool writes, of the terrace and its diary."""
    folder = tmp_path_factory.mktemp("strict")
    write_blank(folder / "quotes.xlsx", "imperial", "terrace")
    write_blank(folder / "blank.xlsx", "metric")
    job = read(folder / "quotes.xlsx").job
    assert job is not None
    ask_book.write(job, letters(job, take_off(job)), folder / "questions.xlsx")
    diary = WORKBOOKS / "terrace-diary.xlsx"
    kept = read(diary).job
    assert kept is not None
    book.write(demo_comparison("terrace"), folder / "comparison.xlsx", stand(kept, diary))
    baselines = baseline_book.read(baseline_book.path_for(diary))
    baseline_book.write(baselines, folder / "baseline.xlsx")
    return {path.stem: Parts(path) for path in sorted(folder.glob("*.xlsx"))}


def each_sheet(files: dict[str, Parts]) -> Iterator[tuple[str, Parts, Any]]:
    for name, parts in files.items():
        for title, sheet in parts.sheets.items():
            yield f"{name}: {title}", parts, sheet


def test_the_parts_of_a_sheet_stand_in_the_order_of_the_standard(files: dict[str, Parts]) -> None:
    for where, _, sheet in each_sheet(files):
        places = [ORDER.index(part.tag.removeprefix(MAIN)) for part in sheet]
        assert places == sorted(places), where


def test_everything_referred_to_is_there_and_has_its_type(files: dict[str, Parts]) -> None:
    for name, parts in files.items():
        for part in [p for p in parts.raw if not p.endswith(".rels")]:
            for target in parts.targets(part).values():
                assert target in parts.raw, (name, part, target)
        types = parts.xml("[Content_Types].xml")
        named = {t.get("PartName", "").lstrip("/") for t in types}
        endings = {t.get("Extension") for t in types}
        for part in parts.raw:
            assert part in named or part.rpartition(".")[2] in endings, (name, part)
        assert {part for part in named if part} <= set(parts.raw)


def test_rows_and_cells_come_in_order_and_once(files: dict[str, Parts]) -> None:
    for where, _, sheet in each_sheet(files):
        rows = [int(row.get("r")) for row in sheet.iter(f"{MAIN}row")]
        assert rows == sorted(set(rows)), where
        for row in sheet.iter(f"{MAIN}row"):
            names = [cell.get("r") for cell in row.iter(f"{MAIN}c")]
            columns = [column_index_from_string(n.rstrip("0123456789")) for n in names]
            assert columns == sorted(set(columns)), (where, names)
            assert all(n.endswith(row.get("r")) for n in names)


def test_stored_values_are_finite_and_never_errors(files: dict[str, Parts]) -> None:
    for where, _, sheet in each_sheet(files):
        for cell in sheet.iter(f"{MAIN}c"):
            value = cell.find(f"{MAIN}v")
            kind = cell.get("t", "n")
            assert kind in {"n", "s", "str", "inlineStr", "b"}, (where, cell.get("r"), kind)
            if kind == "n" and value is not None and value.text:
                assert math.isfinite(float(value.text)), (where, cell.get("r"))


def test_words_hold_no_sign_that_xml_forbids_and_keep_their_blanks(
    files: dict[str, Parts],
) -> None:
    for name, parts in files.items():
        if "xl/sharedStrings.xml" not in parts.raw:
            continue
        for text in parts.xml("xl/sharedStrings.xml").iter(f"{MAIN}t"):
            words = text.text or ""
            assert not re.search(r"[\x00-\x08\x0b\x0c\x0e-\x1f]", words), (name, words)
            if words != words.strip():
                space = text.get("{http://www.w3.org/XML/1998/namespace}space")
                assert space == "preserve", (name, words)


def date_styles(styles: Any) -> set[str]:
    """The numbers of the cell styles that show a date."""
    codes = {f.get("numFmtId"): f.get("formatCode") for f in styles.iter(f"{MAIN}numFmt")}
    dates = {n for n, code in codes.items() if re.search(r"[dy]", re.sub(r'"[^"]*"', "", code))}
    dates |= {str(n) for n in range(14, 23)}  # built-in dates and times (18.8.30)
    found = styles.find(f"{MAIN}cellXfs")
    return {str(n) for n, style in enumerate(found) if style.get("numFmtId") in dates}


def test_dates_are_numbers_after_the_day_that_never_was(files: dict[str, Parts]) -> None:
    """Serial 60 is 29 February 1900; a date stored as words sorts and filters as words."""
    seen = 0
    for where, parts, sheet in each_sheet(files):
        dates = date_styles(parts.styles)
        for cell in sheet.iter(f"{MAIN}c"):
            value = cell.find(f"{MAIN}v")
            if cell.get("s") in dates and value is not None:
                assert cell.get("t", "n") == "n", (where, cell.get("r"))
                assert float(value.text or 0) > 60, (where, cell.get("r"))
                seen += 1
    assert seen > 100


def test_tints_follow_their_first_cell(files: dict[str, Parts]) -> None:
    """A rule's rows are those of the first cell of its range, or fixed: else it tints askew."""
    seen = 0
    for where, _, sheet in each_sheet(files):
        for tint in sheet.iter(f"{MAIN}conditionalFormatting"):
            areas = [range_boundaries(area) for area in tint.get("sqref").split()]
            for rule in tint.iter(f"{MAIN}formula"):
                bare = re.sub(r"'[^']*'!|\w+!", "", re.sub(r'"[^"]*"', "", rule.text or ""))
                rows = {int(n) for n in re.findall(r"(?<![\w$])\$?[A-Z]{1,3}([0-9]+)\b", bare)}
                assert rows <= {areas[0][1]}, (where, rule.text)
                seen += 1
    assert seen > 20


def test_drop_downs_name_whole_lists(files: dict[str, Parts]) -> None:
    """Words of at most 255 letters, or a range with every part fixed, of a sheet that is there."""
    seen = 0
    for where, parts, sheet in each_sheet(files):
        for check in sheet.iter(f"{MAIN}dataValidation"):
            if check.get("type") != "list":
                continue
            source = check.find(f"{MAIN}formula1").text
            if source.startswith('"'):
                assert len(source) - 2 <= 255, (where, source)
                assert all(word.strip() for word in source.strip('"').split(",")), (where, source)
            else:
                found = re.fullmatch(r"'?([^'!]+)'?!\$[A-Z]+\$\d+:\$[A-Z]+\$\d+", source)
                assert found is not None, (where, source)
                assert found[1] in parts.sheets, (where, source)
            seen += 1
    assert seen > 30


def test_formulas_of_arrays_fill_the_cell_they_stand_in(files: dict[str, Parts]) -> None:
    for where, _, sheet in each_sheet(files):
        for cell in sheet.iter(f"{MAIN}c"):
            formula = cell.find(f"{MAIN}f")
            if formula is not None and formula.get("t") == "array":
                assert formula.get("ref") == cell.get("r"), (where, cell.get("r"))


def test_filters_and_tables_have_words_as_headings(files: dict[str, Parts]) -> None:
    """The row a filter or a table begins with holds words, no formula and no merged cell."""
    seen = 0
    for where, parts, sheet in each_sheet(files):
        assert not list(sheet.iter(f"{MAIN}tablePart")), where  # filters do here
        filters = [f.get("ref") for f in sheet.iter(f"{MAIN}autoFilter")]
        merged = [range_boundaries(m.get("ref")) for m in sheet.iter(f"{MAIN}mergeCell")]
        cells = {cell.get("r"): cell for cell in sheet.iter(f"{MAIN}c")}
        for area in filters:
            first, top, last, _ = range_boundaries(area)
            for name, cell in cells.items():
                left, row, _, _ = range_boundaries(name)
                if row == top and first <= left <= last:
                    assert cell.get("t") in ("s", "inlineStr"), (where, name)
                    assert cell.find(f"{MAIN}f") is None, (where, name)
            assert not [m for m in merged if m[1] <= top <= m[3]], where
            seen += 1
        assert parts.sheets
    assert seen > 5


def test_looks_are_fewer_than_programs_keep(files: dict[str, Parts]) -> None:
    """64,000 cell styles and 1,024 fonts are kept, and 200 formats of numbers in any language."""
    for name, parts in files.items():
        count = {tag: len(list(parts.styles.find(f"{MAIN}{tag}") or ())) for tag in
                 ("cellXfs", "fonts", "numFmts", "fills", "borders")}  # fmt: skip
        assert count["cellXfs"] < 64000, name
        assert count["fonts"] < 1024, name
        assert count["numFmts"] < 200, name
        most = {"fontId": "fonts", "fillId": "fills", "borderId": "borders"}
        for style in parts.styles.find(f"{MAIN}cellXfs"):
            for key, tag in most.items():
                assert int(style.get(key, "0")) < max(1, count[tag]), name


def test_printed_areas_and_titles_lie_on_their_own_sheet(files: dict[str, Parts]) -> None:
    seen = 0
    for name, parts in files.items():
        titles = list(parts.sheets)
        for defined in parts.xml("xl/workbook.xml").iter(f"{MAIN}definedName"):
            if defined.get("name") in ("_xlnm.Print_Area", "_xlnm.Print_Titles"):
                sheet = titles[int(defined.get("localSheetId"))]
                for area in re.findall(r"('[^']*(?:''[^']*)*'|[^,'!]+)!", defined.text):
                    assert area.strip("'").replace("''", "'") == sheet, (name, defined.text)
                seen += 1
    assert seen > 50


def test_notes_have_their_drawings(files: dict[str, Parts]) -> None:
    for name, parts in files.items():
        notes = [part for part in parts.raw if re.fullmatch(r"xl/comments\d+\.xml", part)]
        shapes = [part for part in parts.raw if part.endswith(".vml")]
        assert len(notes) == len(shapes), name
        for part in notes:
            for text in parts.xml(part).iter(f"{MAIN}comment"):
                assert range_boundaries(text.get("ref")), name
