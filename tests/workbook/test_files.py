"""Files that cannot be read as a whole: one exception, in words a person understands."""

from __future__ import annotations

import zipfile
from pathlib import Path
from typing import Any

import pytest

from budget.workbook import WorkbookError, read
from budget.workbook.grid import clean


def _rezip(path: Path, change: dict[str, bytes | None]) -> None:
    parts = {i.filename: zipfile.ZipFile(path).read(i) for i in zipfile.ZipFile(path).infolist()}
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, data in {**parts, **change}.items():
            if data is not None:
                archive.writestr(name, data)


def test_a_missing_file(tmp_path: Path) -> None:
    with pytest.raises(WorkbookError, match="There is no file"):
        read(tmp_path / "nowhere.xlsx")


def test_a_folder(tmp_path: Path) -> None:
    with pytest.raises(WorkbookError, match="is a folder"):
        read(tmp_path)


def test_an_empty_file(tmp_path: Path) -> None:
    (tmp_path / "empty.xlsx").write_bytes(b"")
    with pytest.raises(WorkbookError, match="is empty"):
        read(tmp_path / "empty.xlsx")


def test_a_csv_renamed(tmp_path: Path) -> None:
    (tmp_path / "quotes.xlsx").write_text("Item,Price\nBase,3\n")
    with pytest.raises(WorkbookError, match="not an Excel workbook"):
        read(tmp_path / "quotes.xlsx")


def test_an_old_or_locked_workbook(tmp_path: Path) -> None:
    # [MS-CFB] 2.2: both .xls files and encrypted .xlsx files are compound files
    (tmp_path / "old.xls").write_bytes(bytes.fromhex("d0cf11e0a1b11ae1") + b"\0" * 600)
    with pytest.raises(WorkbookError, match="password"):
        read(tmp_path / "old.xls")


def test_a_truncated_workbook(make: Any) -> None:
    path = make()
    path.write_bytes(path.read_bytes()[:-400])
    with pytest.raises(WorkbookError, match="damaged or cut short"):
        read(path)


@pytest.mark.parametrize("part", ["xl/workbook.xml", "xl/worksheets/sheet1.xml"])
def test_broken_xml(make: Any, part: str) -> None:
    path = make()
    _rezip(path, {part: b"<worksheet><sheetData><row"})
    with pytest.raises(WorkbookError, match="damaged"):
        read(path)


def test_a_zip_without_a_workbook(tmp_path: Path) -> None:
    with zipfile.ZipFile(tmp_path / "photos.xlsx", "w") as archive:
        archive.writestr("a.txt", "hello")
    with pytest.raises(WorkbookError, match="damaged"):
        read(tmp_path / "photos.xlsx")


def test_an_opendocument_file(tmp_path: Path) -> None:
    with zipfile.ZipFile(tmp_path / "job.xlsx", "w") as archive:
        archive.writestr("mimetype", "application/vnd.oasis.opendocument.spreadsheet")
        archive.writestr("content.xml", "<x/>")
    with pytest.raises(WorkbookError, match="OpenDocument"):
        read(tmp_path / "job.xlsx")


def test_a_small_file_that_unpacks_to_a_huge_one(make: Any) -> None:
    path = make()
    _rezip(path, {"xl/huge.xml": b" " * 60_000_000})
    assert path.stat().st_size < 200_000
    with pytest.raises(WorkbookError, match="unpacks to 60 MB"):
        read(path)


def test_nested_entities_are_refused(make: Any) -> None:
    path = make()
    bomb = (
        b'<?xml version="1.0"?><!DOCTYPE x [<!ENTITY a "aaaa"><!ENTITY b "&a;&a;">]><sst>&b;</sst>'
    )
    _rezip(path, {"xl/workbook.xml": bomb})
    with pytest.raises(WorkbookError, match="damaged"):
        read(path)


def test_one_formatted_cell_far_away_costs_nothing(make: Any) -> None:
    import openpyxl
    from openpyxl.styles import Font

    path = make()
    book = openpyxl.load_workbook(path)
    book["Areas"].cell(1_048_576, 3).font = Font(bold=True)
    book.save(path)
    assert read(path).problems == ()


def test_a_formula_whose_result_is_an_empty_text_is_a_blank(make: Any) -> None:
    path = make()
    part = "xl/worksheets/sheet2.xml"
    xml = zipfile.ZipFile(path).read(part).decode()
    cell = '<c r="F2" t="str"><f>IF(1,"","")</f><v></v></c></row></sheetData>'
    title = '<c r="F1" t="inlineStr"><is><t>Worth (USD)</t></is></c></row><row r="2"'
    xml = xml.replace('</row><row r="2"', title).replace("</row></sheetData>", cell)
    _rezip(path, {part: xml.encode()})
    reading = read(path)
    assert reading.job is not None
    assert reading.job.areas[0].worth is None
    assert reading.warnings == ()


def test_a_file_open_elsewhere_is_not_held(make: Any) -> None:
    path = make()
    read(path)
    path.rename(path.with_name("moved.xlsx"))
    assert not path.exists()


def test_hidden_characters_are_stripped() -> None:
    assert clean("\ufeffNorth\u200b\u00a0\n Yard_x000D_") == "North Yard"
    assert clean("\u200b ") == ""


def test_reading_takes_a_path_as_text(make: Any) -> None:
    assert read(str(make())).job is not None
