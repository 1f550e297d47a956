"""Where pages of the comparison workbook begin on paper, and how small its letters get."""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise
from pathlib import Path
from typing import Any

import openpyxl
import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from budget.decide.outcome import Comparison
from budget.font_widths import wide
from budget.page_breaks import ROW, Paper, Stretch, breaks, evenly
from budget.report.book import book
from budget.report.book.styles import HEAD
from budget.units import System

PAGE = 40 * ROW
HEADS = 3  # rows of title, headings and units of each made-up table; the last two stand again
SYSTEMS: tuple[System, System] = ("imperial", "metric")
KEPT = 3  # rows of a torn table that stand together at its ends

lengths_of_tables = st.lists(st.integers(HEADS + 1, 150), min_size=1, max_size=8)


def tables(lengths: list[int]) -> list[Stretch]:
    """Tables of so many rows one below the other, with a blank row between."""
    found, row = [], 0
    for length in lengths:
        found.append(Stretch(row, row + length - 1, head=HEADS, again=2))
        row += length + 1
    return found


@given(lengths_of_tables)
def test_no_table_is_torn_that_fits_a_page(lengths: list[int]) -> None:
    stretches = tables(lengths)
    for found in (breaks(stretches, {}, PAGE), evenly(stretches, {}, PAGE)):
        for stretch, length in zip(stretches, lengths, strict=True):
            inside = [row for row in found if stretch.first < row <= stretch.last]
            assert length > 40 or not inside


@given(lengths_of_tables)
@example([40, 40])
def test_no_page_holds_more_than_it_has_room_for(lengths: list[int]) -> None:
    """Counted row by row, with the headings that a program repeats on the pages of a table.

    Of two tables that fill a page each, the blank row between them has no room on either: it
    stands in what is left free of every page, which is higher than a row.
    """
    stretches = tables(lengths)
    assert min(Paper(s, up, [10]).spare for s in SYSTEMS for up in (True, False)) > ROW
    end = stretches[-1].last + 1
    for found in (breaks(stretches, {}, PAGE), evenly(stretches, {}, PAGE)):
        assert found == sorted(set(found))
        for first, beyond in pairwise([0, *found, end]):
            again = any(s.first + HEADS <= first <= s.last for s in stretches)
            blank = beyond < end and not any(s.first < beyond <= s.last + 1 for s in stretches)
            assert (beyond - first + 2 * again - blank) * ROW <= PAGE


@given(lengths_of_tables)
def test_a_torn_table_leaves_no_row_alone(lengths: list[int]) -> None:
    stretches = tables(lengths)
    for found in (breaks(stretches, {}, PAGE), evenly(stretches, {}, PAGE)):
        for stretch in stretches:
            inside = [row for row in found if stretch.first < row <= stretch.last]
            assert all(row >= stretch.first + HEADS + KEPT for row in inside)
            assert all(row <= stretch.last + 1 - KEPT for row in inside)


@given(lengths_of_tables)
def test_pages_are_filled_alike_but_never_more_of_them(lengths: list[int]) -> None:
    stretches = tables(lengths)
    assert len(evenly(stretches, {}, PAGE)) <= len(breaks(stretches, {}, PAGE))


def test_what_must_begin_a_page_does_unless_it_is_the_first() -> None:
    stretches = [Stretch(0, 3, new_page=True), Stretch(5, 8, new_page=True), Stretch(10, 12)]
    assert breaks(stretches, {}, PAGE) == [4]  # with the blank row before it


@given(lengths_of_tables, st.integers(1, 30))
def test_a_chart_stands_on_the_page_of_its_table(lengths: list[int], high: int) -> None:
    """Where one page holds both; and then no more is torn than without it."""
    stretches = tables(lengths)
    last = stretches[-1]
    chart = Stretch(last.last + 1, last.last + high, stays=True)
    both = last.last - last.first + 1 + high
    for found in (breaks([*stretches, chart], {}, PAGE), evenly([*stretches, chart], {}, PAGE)):
        inside = [row for row in found if last.first < row <= chart.last]
        assert both > 40 or not inside
        assert not any(chart.first < row for row in inside)


def test_high_rows_count_as_high_as_they_are() -> None:
    stretches = [Stretch(0, 9), Stretch(11, 20)]
    assert breaks(stretches, {}, PAGE) == []
    assert breaks(stretches, {3: 30 * ROW}, PAGE) == [10]


#: Points of paper across and down, by Excel's number of the paper.
PAPER = {1: (612.0, 792.0), 9: (595.3, 841.9)}
#: Points of a digit of Arial at 10 points: 0.556 of its size (Adobe's metrics of Helvetica).
DIGIT = 5.56


def shrunk(sheet: Any) -> float:
    """How small a sheet is printed, as a share; it must then be one page wide."""
    across, down = PAPER[int(sheet.page_setup.paperSize)]
    if sheet.page_setup.orientation == "landscape":
        across, down = down, across
    margins = sheet.page_margins
    across -= 72 * (margins.left + margins.right)
    down -= 72 * (margins.top + margins.bottom)
    wide = sum((c.max - c.min + 1) * c.width * DIGIT for c in sheet.column_dimensions.values())
    last = sheet[sheet.print_area.rpartition("!")[2].replace("$", "")][-1][0].row
    tall = sum(sheet.row_dimensions[row].height or ROW for row in range(1, last + 1))
    breaking = [brk.id for brk in sheet.row_breaks.brk]
    fitted = sheet.sheet_properties.pageSetUpPr
    if fitted is not None and fitted.fitToPage:
        assert not breaking  # Excel takes no notice of breaks in a sheet that is fitted to pages
        return float(min(1.0, across / wide, down / tall))
    assert breaking
    scale = float(sheet.page_setup.scale) / 100
    assert wide * scale <= across
    return scale


@pytest.mark.parametrize("name", ["terrace", "courtyard", "fire-bowl"])
def test_every_sheet_is_one_page_wide_and_can_be_read(
    name: str, demo_comparison: Callable[[str], Comparison], tmp_path: Path
) -> None:
    """Letters of 8.5 points on the first sheet, of about 6 and more on all others."""
    path = tmp_path / "demo.xlsx"
    book.write(demo_comparison(name), path)
    sizes = {s.title: 10 * shrunk(s) for s in openpyxl.load_workbook(path).worksheets}
    assert sizes["Answer"] >= 8.5
    assert {title: size for title, size in sizes.items() if size < 5.9} == {}


@pytest.mark.parametrize("name", ["terrace", "courtyard"])
def test_no_word_of_a_heading_is_torn(
    name: str, demo_comparison: Callable[[str], Comparison], tmp_path: Path
) -> None:
    """By Adobe's widths of Helvetica Bold, which Arial's are, at 7 pixels to a column's digit."""
    path = tmp_path / "demo.xlsx"
    book.write(demo_comparison(name), path)
    torn, seen = [], 0
    for sheet in openpyxl.load_workbook(path).worksheets:
        widths = {n: c.width for c in sheet.column_dimensions.values()
                  for n in range(c.min, c.max + 1)}  # fmt: skip
        for cell in (cell for row in sheet.iter_rows() for cell in row):
            head = cell.font.bold and cell.fill.fgColor.rgb == f"FF{HEAD[1:]}"
            if head and cell.value and cell.alignment.wrap_text:
                seen += 1
                longest = max(wide(word, bold=True) for word in cell.value.split())
                if longest > 7 * widths[cell.column]:
                    torn.append((sheet.title, cell.coordinate, cell.value))
    assert torn == []
    assert seen > 100
