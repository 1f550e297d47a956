"""How wide columns and how high rows must be, so that nothing is cut in any viewer."""

from __future__ import annotations

import math
from collections.abc import Sequence

from budget.font_widths import lines, wide
from budget.report.book.cells import (
    Across,
    Cell,
    Day,
    Entered,
    Formula,
    Go,
    Live,
    Sheet,
    Stored,
    SumAbove,
    Table,
    Text,
    UnitOf,
)
from budget.report.book.figures import Register, number_format
from budget.report.book.styles import GENERAL
from budget.report.book.units import unit_said, unit_under
from budget.units import Kind

_LEAST, _MOST = 7, 46
#: Points that one line of text takes, and the space around a row.
_LINE, _SPACE = 12.75, 3.0
#: Pixels that a column takes for each character of its width and around them, those that stay
#: free beside its words, and those of an indent.
_DIGIT, _AROUND, _FREE, _INDENT = 7, 5, 5, 11
#: The highest row that Excel keeps, in points.
_HIGHEST = 409.0
#: A sign is seldom wider than this: shorter words than so many fit without being measured.
_WIDE_SIGN = 9


class Sizes:
    """Measures cells as they will be shown."""

    def __init__(self, register: Register) -> None:
        """``register`` tells the units and the currency."""
        self._register = register

    def widths(self, sheet: Sheet) -> list[int]:
        """The width of each column in characters: as asked, else to fit the contents.

        Words wrap, so that a width that is asked for holds; numbers cannot, so that a column
        is never too narrow for them.
        """
        columns = max((_columns(table) for table in sheet.tables), default=1)
        fitting, numbers, asked = [_LEAST] * columns, [_LEAST] * columns, [0] * columns
        for table in sheet.tables:
            for number, heading in enumerate(table.columns):
                asked[number] = max(asked[number], heading.width)
                runs_on = table.runs_on(number)
                least = 0 if runs_on else _heading_width(heading.title)
                if heading.right:
                    least = max(least, len(self.unit_under(table, number)) + 3)
                fitting[number] = max(fitting[number], least)
                # No word of a heading is torn; over numbers a long one stands on two lines at most.
                word = least if heading.right else 0 if runs_on else _word_width(heading.title)
                numbers[number] = max(numbers[number], word)
            for row in (*table.body, *table.foot):
                for number, cell in enumerate(row):
                    found = numbers if _is_number(cell) else fitting
                    length = self._length(cell) + 2
                    if length > found[number]:
                        found[number] = length
        return [
            max(want or min(_MOST, fit), least)
            for want, fit, least in zip(asked, fitting, numbers, strict=True)
        ]

    def height(self, row: Sequence[Cell], widths: Sequence[int]) -> float:
        """The height of a row in points: as many lines as its longest text wraps to."""
        most = 1
        for number, cell in enumerate(row):
            words = self.words(cell)
            if words and not isinstance(cell, Go):  # links do not wrap
                taken = widths[number:] if isinstance(cell, Across) else widths[number : number + 1]
                room = _room(taken, indented=number > 0)
                if len(words) * _WIDE_SIGN > room or "\n" in words:
                    most = max(most, lines(words, room, _is_bold(cell)))
        return min(_HIGHEST, most * _LINE + _SPACE)

    def head_height(self, table: Table, widths: Sequence[int]) -> float:
        """The height of a heading row, whose words are bold."""
        most = 1
        for number, column in enumerate(table.columns):
            if table.runs_on(number):
                continue
            room = _room(widths[number : number + 1], indented=number > 0 or column.right)
            most = max(most, lines(column.title, room, bold=True))
        return most * _LINE + _SPACE

    def unit_under(self, table: Table, number: int) -> str:
        """What stands under the heading of a column: the unit of its numbers."""
        return unit_under(table, number, self.unit)

    def words(self, cell: Cell) -> str | None:
        """The text of a cell that wraps, or None for a number."""
        match cell:
            case str():
                return cell
            case Text(words, _) | Across(words, _, _):
                return words
            case Go(sheet, words, _):
                return words or sheet
            case UnitOf(kind):
                return f"  {self.unit(kind)}"
            case Formula(_, str() as value, _, _):
                return value
            case None:
                return ""
        return None

    def unit(self, kind: Kind) -> str:
        """What the unit column says."""
        return unit_said(kind, self._register.unit(kind))

    def format(self, kind: Kind, value: float) -> str:
        """The number format of a value."""
        return number_format(kind, self._register.system, value)

    def fixed(self, kind: Kind, value: float) -> str:
        """The number format of a value that stays as it is: with the decimals that it has."""
        found = self.format(kind, value)
        if found != GENERAL:
            return found
        places = len(f"{self.shown(value, kind):.3f}".rstrip("0").partition(".")[2])
        return "#,##0" + "." * bool(places) + "0" * places

    def shown(self, value: float, kind: Kind) -> float:
        """The number that a cell holds for a value in SI or cents."""
        return value / self._register.size(kind)

    def _length(self, cell: Cell) -> int:
        if type(cell) is str and "\n" not in cell:
            return len(cell)  # as most cells are
        match cell:
            case Across():
                return 0
            case Live(figure, _, _):
                return self._number(figure.value, figure.kind)
            case Stored(value, kind, _) | SumAbove(value, kind):
                return self._number(value, kind) + 1
            case Entered(value, kind, _, _, _):
                return self._number(value, kind) + 1
            case Day():
                return 13
            case Formula(_, float() | int() as value, kind, _):
                return self._number(value, kind) if kind else 4
        return max((len(line) for line in (self.words(cell) or "").splitlines()), default=0)

    def _number(self, value: float, kind: Kind) -> int:
        places = len(self.format(kind, value).partition(".")[2])
        return len(f"{self.shown(value, kind):,.{places}f}") + 1


def _columns(table: Table) -> int:
    return max(len(table.columns), *(len(row) for row in table.body), 0)


def _is_number(cell: Cell) -> bool:
    if isinstance(cell, Formula):
        return not isinstance(cell.value, str)
    return isinstance(cell, (Live, Stored, SumAbove, Entered, Day))


def _room(widths: Sequence[int], *, indented: bool) -> float:
    """The pixels that words have in columns of such widths."""
    around = _AROUND * len(widths)
    return sum(widths) * _DIGIT + around - _FREE - _INDENT * indented


def _is_bold(cell: Cell) -> bool:
    return isinstance(cell, (Text, Across, Formula)) and cell.look in ("strong", "good", "warn")


def _heading_width(title: str) -> int:
    """The least width of a heading: its longest word, and half of a long one."""
    half = math.ceil((min(wide(title, bold=True), 12 * _DIGIT) + _INDENT) / _DIGIT)
    return max(half, _word_width(title))


def _word_width(title: str) -> int:
    """The width of the longest word of a heading."""
    longest = max((wide(word, bold=True) for word in title.split()), default=0.0)
    return min(_MOST, math.ceil((longest + _INDENT) / _DIGIT))
