"""How wide columns and how high rows must be, so that nothing is cut in any viewer."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence
from functools import lru_cache

from budget.report.book_cells import (
    Across,
    Cell,
    Column,
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
from budget.report.book_figures import Register, number_format
from budget.units import Kind

_LEAST, _MOST = 7, 46
#: Points that one line of text takes, and the space around a row.
_LINE, _SPACE = 12.75, 3.0
#: Characters of plain and of bold words that fit where one digit counts as one.
_PLAIN, _BOLD = 1.12, 1.0


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
                fitting[number] = max(fitting[number], _heading_width(heading))
            for row in (*table.rows, *table.foot):
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
        lines = 1
        for number, cell in enumerate(row):
            words = self.words(cell)
            if words and not isinstance(cell, Go):  # links do not wrap
                room = sum(widths[number:]) if isinstance(cell, Across) else widths[number]
                room -= number > 0  # the indent
                if len(words) < room and "\n" not in words:
                    continue
                lines = max(lines, _lines(words, room * _PLAIN))
        return lines * _LINE + _SPACE

    def head_height(self, columns: Sequence[Column], widths: Sequence[int]) -> float:
        """The height of a heading row, whose words are bold."""
        room = [width * _BOLD - (number > 0) for number, width in enumerate(widths)]
        pairs = zip(columns, room, strict=False)
        return max(_lines(column.title, width) for column, width in pairs) * _LINE + _SPACE

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
        return self._register.unit(kind)

    def format(self, kind: Kind, value: float) -> str:
        """The number format of a value."""
        return number_format(kind, self._register.system, value)

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
            case Formula(_, float() | int() as value, kind, _):
                return self._number(value, kind) if kind else 4
        return max((len(line) for line in (self.words(cell) or "").splitlines()), default=0)

    def _number(self, value: float, kind: Kind) -> int:
        places = len(self.format(kind, value).partition(".")[2])
        return len(f"{self.shown(value, kind):,.{places}f}") + 1


def _columns(table: Table) -> int:
    return max(len(table.columns), *(len(row) for row in table.rows), 0)


def _is_number(cell: Cell) -> bool:
    if isinstance(cell, Formula):
        return not isinstance(cell.value, str)
    return isinstance(cell, (Live, Stored, SumAbove, Entered))


def _heading_width(heading: Column) -> int:
    longest = max((len(word) for word in heading.title.split()), default=0)
    return max(longest, min(len(heading.title), 12)) + 3


@lru_cache(maxsize=16384)
def _lines(words: str, width: float) -> int:
    """How many lines words take in a column of a width in characters."""
    room = max(4, int(width))
    if len(words) <= room and "\n" not in words:
        return 1
    return sum(max(1, len(textwrap.wrap(line, room))) for line in words.splitlines() or [""])
