"""How one accepted plan looks: titled tables one below the other, to read and to print."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Literal

from budget.font_widths import lines
from budget.numerals import cell_date
from budget.page_breaks import BOTTOM, ROW, SIDE, TOP, Paper, Stretch, falls
from budget.units import System

_WIDTHS = (32, 16, 18, 12, 12, 22, 20, 10, 10, 26)
#: Headings over numbers; so many points a line of words takes.
_NUMBERS = frozenset(("Cash", "Own hours", "Packs", "Amount", "Days", "Days ahead"))
_LINE = 13.5
#: Pixels of a digit, by which widths of columns count, and of an indent.
_PIXELS, _INDENT = 7, 9
#: Letters are printed at no less than this share of their 10 points.
_LEAST = 0.6
_LETTER, _A4 = 1, 9

Look = Literal["title", "heading", "row"]
Line = tuple[tuple[Any, ...], Look]


@dataclass(frozen=True, slots=True)
class Titled:
    """A table: its title, its headings (none: a list of label and value), and its rows.

    ``nothing`` is said in place of headings where there are no rows.
    """

    title: str
    headings: tuple[str, ...]
    rows: tuple[tuple[Any, ...], ...]
    nothing: str = ""

    @property
    def lines(self) -> list[tuple[Any, ...]]:
        """All that is written of it, from the title on."""
        if not self.rows:
            return [(self.title,), (self.nothing,)]
        return [(self.title,), *([self.headings] if self.headings else ()), *self.rows]

    def look(self, number: int) -> Look:
        """How one of its lines looks."""
        if number == 0:
            return "title"
        return "heading" if number == 1 and self.headings and self.rows else "row"


def in_our_font(book: Any) -> None:
    """Let widths of columns count in digits of the font that the sheets are written in."""
    from openpyxl.styles import Font

    book._named_styles["Normal"].font = Font(name="Arial", size=10)


def fill(page: Any, tables: Sequence[Titled], system: System) -> None:
    """Write tables on an empty sheet of openpyxl, ready for paper of a unit system.

    A table that goes over a page has its headings again on each: written again where that page
    begins or, for the last table of the sheet, repeated by the program that prints it.
    """
    for column, width in enumerate(_WIDTHS):
        page.column_dimensions[chr(65 + column)].width = width
    paper = Paper(system, False, _WIDTHS)
    scale, found = falls(paper, _stretches(tables), _heights(tables), _LEAST)
    laid, starts = _laid(tables, found)
    for row, (line, look) in enumerate(laid, 1):
        _put(page, row, line, look)
    _set_up(page, paper, scale, starts)
    headings = len(laid) - len(tables[-1].rows)  # of the last table; rows from 1
    if tables[-1].rows and any(start > headings for start in starts):
        page.print_title_rows = f"{headings}:{headings}"


def _stretches(tables: Sequence[Titled]) -> list[Stretch]:
    """The rows of each table, a blank one between any two."""
    found, row = [], 0
    for table in tables:
        high = len(table.lines)
        head = high - len(table.rows)
        again = int(bool(table.headings and table.rows))
        found.append(Stretch(row, row + high - 1, head=head, again=again))
        row += high + 1
    return found


def _heights(tables: Sequence[Titled]) -> Mapping[int, float]:
    """The height in points of each row, before headings are written again."""
    heights, row = {}, 0
    for table in tables:
        for number, line in enumerate(table.lines):
            heights[row] = _height(line, table.look(number))
            row += 1
        row += 1
    return heights


def _height(row: Sequence[Any], look: Look) -> float:
    """As many lines as the words of a row need."""
    high = [
        lines(value, _PIXELS * width - (_INDENT if number else 0), bold=look != "row")
        for number, (value, width) in enumerate(zip(row, _WIDTHS, strict=False))
        if isinstance(value, str) and _wraps(number, row)
    ]
    return max(ROW, _LINE * max(high, default=1))


def _wraps(number: int, row: Sequence[Any]) -> bool:
    """Whether words stay in their cell: those that end a shorter row run over blank cells."""
    return number + 1 < len(row) or len(row) == len(_WIDTHS)


def _laid(tables: Sequence[Titled], found: Sequence[int]) -> tuple[list[Line], list[int]]:
    """All lines of a sheet, headings written again; before which of them a page begins."""
    laid: list[Line] = []
    starts = []
    row = 0
    for table in tables:
        last = table is tables[-1]
        for number, line in enumerate((*table.lines, *([] if last else [()]))):
            if row in found:
                starts.append(len(laid))
                if table.headings and 1 < number < len(table.lines) and not last:
                    laid.append((table.headings, "heading"))
            laid.append((line, table.look(number)))
            row += 1
    return laid, starts


def _put(page: Any, row: int, line: Sequence[Any], look: Look) -> None:
    """Write one line; rows are counted from 1."""
    page.row_dimensions[row].height = _height(line, look)
    for number, value in enumerate(line):
        cell = page.cell(row, number + 1, _safe(value))
        _style(cell, look, _wraps(number, line))


def _style(cell: Any, look: Look, wraps: bool) -> None:
    """How one cell looks: numbers to the right but off the edge, words to the left."""
    from openpyxl.styles import Alignment, Border, Font, PatternFill, Side

    value = cell.value
    number = isinstance(value, (int, float)) or (look == "heading" and value in _NUMBERS)
    cell.font = Font(name="Arial", size=12 if look == "title" else 10, bold=look != "row")
    cell.alignment = Alignment(
        horizontal="right" if number else "left", vertical="center",
        indent=0 if number else int(cell.column > 1), wrap_text=wraps,
    )  # fmt: skip
    if look == "heading":
        cell.fill = PatternFill("solid", fgColor="FFE4EAED")
        cell.border = Border(bottom=Side("thin"))
    if isinstance(value, str) and value.startswith("="):
        cell.data_type = "s"
    if isinstance(value, dt.date):
        cell.number_format = cell_date()
    elif isinstance(value, (int, float)):  # a digit's width off the edge
        alike = cell.column <= 5 and isinstance(value, float)  # sums, hours and amounts
        cell.number_format = f"{'#,##0.00' if alike else '0.0##' if value % 1 else '0'}_0"


def _safe(value: Any) -> Any:
    """A text without characters that a workbook cannot hold."""
    if not isinstance(value, str):
        return value
    return "".join(c for c in value if c >= " " or c in "\t\n")


def _set_up(page: Any, paper: Paper, scale: float, starts: Sequence[int]) -> None:
    """Paper, margins, footer, and where pages begin."""
    from openpyxl.worksheet.page import PageMargins
    from openpyxl.worksheet.pagebreak import Break

    page.page_setup.orientation = "landscape"
    page.page_setup.paperSize = _LETTER if paper.system == "imperial" else _A4
    page.page_margins = PageMargins(left=SIDE, right=SIDE, top=TOP, bottom=BOTTOM)
    page.oddFooter.left.text, page.oddFooter.right.text = "&A", "Page &P of &N"
    if starts:
        page.page_setup.scale = paper.percent(scale)
    else:
        page.page_setup.fitToWidth = page.page_setup.fitToHeight = 1
        page.sheet_properties.pageSetUpPr.fitToPage = True
    for start in starts:
        page.row_breaks.append(Break(id=start))
