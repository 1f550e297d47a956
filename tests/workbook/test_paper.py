"""The quotes workbook on paper: letters that can be read, rows as high as their words."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import openpyxl
import pytest
from openpyxl.utils import range_boundaries

from budget.font_widths import wide
from budget.workbook import example_jobs, write_blank
from budget.workbook.sheets.tabs import SHEETS

#: Points of the country's paper less the margins that all sheets have, long and short side.
PAPER = {1: (792 - 72, 612 - 86.4), 9: (841.9 - 72, 595.3 - 86.4)}
UPRIGHT = {1: (612 - 72, 792 - 86.4), 9: (595.3 - 72, 841.9 - 86.4)}
#: Points of a digit of Arial at 10 points: 0.556 of its size (Adobe's metrics of Helvetica).
DIGIT = 5.56
LETTERS = 10.0  # points of the sheets' letters at full size


@pytest.fixture(scope="module", params=["", *example_jobs.names()])
def book(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Any:
    path: Path = tmp_path_factory.mktemp("paper") / "job.xlsx"
    write_blank(path, "imperial", request.param)
    return openpyxl.load_workbook(path)


def width(page: Any, column: int) -> float:
    """The width of a column (from 1) in characters."""
    spans = page.column_dimensions.values()
    return next((float(c.width) for c in spans if c.min <= column <= c.max), 8.43)


def test_letters_are_of_seven_points_or_nearly(book: Any) -> None:
    for page in book.worksheets:
        setup, fitted = page.page_setup, page.sheet_properties.pageSetUpPr
        sides = UPRIGHT if setup.orientation == "portrait" else PAPER
        across, _ = sides[int(setup.paperSize)]
        last = range_boundaries(page.print_area.rpartition("!")[2])[2]
        if fitted is not None and fitted.fitToPage:
            taken = sum(width(page, column) * DIGIT for column in range(1, last + 1))
            scale = min(1.0, across / taken)
        else:
            scale = setup.scale / 100
        assert LETTERS * scale >= 6.9, page.title


def test_a_list_stands_whole_on_one_page(book: Any) -> None:
    page = book["Lists"]
    assert page.page_setup.orientation == "portrait"
    rows = range_boundaries(page.print_area.rpartition("!")[2])[3]
    _, down = UPRIGHT[int(page.page_setup.paperSize)]
    assert rows * 15 * page.page_setup.scale / 100 <= down


def wrapped(words: str, characters: float) -> int:
    """Lines of words in a cell so wide, word after word, by Adobe's widths of Helvetica.

    A character of a width is 7 pixels (ECMA-376, 18.3.1.13); 16 are the cell's edges and indent.
    """
    room, lines, used = 7 * characters - 16, 1, 0.0
    for word in words.split(" "):
        lines, used = (lines + 1, 0.0) if used and used + wide(word) > room else (lines, used)
        used += wide(word) + wide(" ")
    return lines


def cells_that_wrap(book: Any) -> Iterator[tuple[Any, int, float]]:
    """Page, row and lines of each cell that a person reads on the sheets to fill."""
    for sheet in SHEETS:
        page = book[sheet.name]
        for row in page.iter_rows(min_row=5, max_row=60):
            for cell in row[: len(sheet.columns)]:
                if isinstance(cell.value, str) and cell.alignment.wrap_text:
                    yield page, cell.row, wrapped(cell.value, width(page, cell.column))


def test_rows_are_as_high_as_their_words_and_no_higher(book: Any) -> None:
    """12 points a line of Arial at 10 (Helvetica's ascent and descent take 11.5)."""
    needed: dict[tuple[str, int], float] = {}
    heights = {}
    for page, row, lines in cells_that_wrap(book):
        place = page.title, row
        needed[place] = max(needed.get(place, 1), lines)
        heights[place] = page.row_dimensions[row].height or 15.0
    assert needed
    for place, lines in needed.items():
        assert 12 * lines <= heights[place] <= 13 * lines + 8, (place, lines)
    assert any(lines > 1 for lines in needed.values())
