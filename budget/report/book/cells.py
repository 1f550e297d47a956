"""What a sheet of the comparison workbook holds, before it is written.

Sheets are described as values: titles, tables, columns, and cells that are text, a live
figure, a formula of the sheet itself, or a stored number. Writing them is one place
(:mod:`budget.report.book.writer`), so that every sheet looks and behaves the same.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from typing import Literal

from budget.figures import Figure
from budget.units import Kind

#: The heading of a column of units.
UNIT = "Unit"
#: Stands where there is nothing to say.
NONE = "–"

Look = Literal["plain", "strong", "quiet", "good", "warn", "head", "over", "unit"]


@dataclass(frozen=True, slots=True)
class Text:
    """Words in a cell, in one of our looks. Never a formula, never a link."""

    words: str
    look: Look = "plain"


@dataclass(frozen=True, slots=True)
class Live:
    """A figure: the cell links to where it is worked out. ``name`` names an input's cell."""

    figure: Figure
    look: Look = "plain"
    name: str = ""


@dataclass(frozen=True, slots=True)
class UnitOf:
    """The unit of a kind, in words."""

    kind: Kind


@dataclass(frozen=True, slots=True)
class Stored:
    """A number of the tool's answer that the workbook does not work out again (SI or cents)."""

    value: float
    kind: Kind
    origin: Literal["solved", "laid out", "fixed"] = "solved"


@dataclass(frozen=True, slots=True)
class Day:
    """A date of the tool's answer; with a ``formula``, the date is its stored result."""

    date: dt.date
    formula: str = ""
    origin: Literal["solved", "fixed"] = "solved"


@dataclass(frozen=True, slots=True)
class Formula:
    """A formula of the sheet's own, with its value (SI or cents) or its words.

    ``{row}`` in the text stands for the cell's own row.
    """

    text: str
    value: float | str
    kind: Kind | None = None
    look: Look = "plain"


@dataclass(frozen=True, slots=True)
class SumAbove:
    """The sum of the column's rows above, in the same table."""

    value: float
    kind: Kind


@dataclass(frozen=True, slots=True)
class Entered:
    """An input cell: a number that a person may change. ``name`` is its defined name."""

    value: float
    kind: Kind
    origin: Literal["given", "default", "laid out", "solved", "constant"]
    name: str = ""
    hint: str = ""


@dataclass(frozen=True, slots=True)
class Go:
    """A link to another sheet of the workbook."""

    sheet: str
    words: str = ""
    cell: str = "A1"


@dataclass(frozen=True, slots=True)
class Across:
    """A sentence from its column to the right end of the sheet; the last cell of its row.

    With a ``formula``, the words are its stored result.
    """

    words: str
    look: Look = "plain"
    formula: str = ""


Cell = str | Text | Across | Live | UnitOf | Stored | Day | Formula | SumAbove | Entered | Go | None


@dataclass(frozen=True, slots=True)
class Column:
    """One column of a table. ``name`` makes a defined name of its cells."""

    title: str
    width: int = 0  # characters; 0 fits the contents
    note: str = ""  # shown when the heading is pointed at
    name: str = ""
    right: bool = False  # heading over numbers
    unit: str = ""  # what its numbers count, where their kind does not say


#: Height in pixels that a chart counts for each row it takes.
CHART_ROW = 20


@dataclass(frozen=True, slots=True)
class Chart:
    """A native chart. Ranges are first row, column, last row, column, counted from 0."""

    title: str
    axis: str
    sheet: str
    categories: tuple[int, int, int, int]
    series: Sequence[tuple[tuple[int, int], tuple[int, int, int, int]]]  # name cell, values
    rows: int  # of the sheet, that the drawing takes
    kind: Literal["stacked bars", "lines", "columns", "outlines"] = "stacked bars"
    along: str = ""  # title of the axis of categories
    number_format: str = "#,##0"
    xs: Sequence[tuple[int, int, int, int]] = ()  # outlines: where each one's x stands
    spans: tuple[float, float, float, float] = (0, 0, 0, 0)  # outlines: least and most x and y
    longest: int = 0  # bars: letters of the longest name along the axis
    along_format: str = ""  # how its numbers are shown; blank: as in their cells
    looks: Sequence[str] = ()  # outlines: the kind of line or sign of each series
    labels: Sequence[Sequence[str]] = ()  # outlines: words at the points of each series, if any
    stays: bool = True  # on paper, on the page of the table above it, if one holds both


@dataclass(frozen=True, slots=True)
class Picture:
    """A PNG picture with its size on the sheet in pixels."""

    title: str  # what it shows, for those who do not see it
    png: bytes
    width: int
    height: int

    @property
    def rows(self) -> int:
        """Rows of the sheet that it takes."""
        return -(-self.height // CHART_ROW) + 1


@dataclass(frozen=True, slots=True)
class Table:
    """Rows under headings. ``foot`` rows come after the data and are not part of it."""

    columns: Sequence[Column]
    rows: Sequence[Sequence[Cell]]
    title: str = ""
    remark: str = ""
    foot: Sequence[Sequence[Cell]] = ()
    filters: bool = False
    headless: bool = False  # no heading row: a list of label and value
    chart: Chart | Picture | None = None  # drawn below
    new_page: bool = False  # begins a page on paper
    on_paper: bool = True  # False: neither it nor what follows is printed
    nothing: str = "Nothing to list here."  # said where there are no rows

    @property
    def body(self) -> Sequence[Sequence[Cell]]:
        """The rows below the headings; no heading stands alone."""
        headed = bool(self.title) or not self.headless
        return self.rows or ([[Across(self.nothing)]] if headed and self.chart is None else [])

    @property
    def goes_on(self) -> bool:
        """Whether it is no more than a chart of the table above it."""
        alone = self.headless and not self.body
        return alone and isinstance(self.chart, Chart) and self.chart.stays

    def runs_on(self, number: int) -> bool:
        """Whether a heading may reach over the next column, which has none."""
        return number + 1 < len(self.columns) and not self.columns[number + 1].title

    @property
    def measured(self) -> bool:
        """Whether a row of units stands under the headings: where any number needs one."""
        return not self.headless and any(map(self.unit_below, range(len(self.columns))))

    def unit_below(self, number: int) -> bool:
        """Whether the unit of a column's numbers stands below its heading, not beside them."""
        after = self.columns[number + 1].title if number + 1 < len(self.columns) else ""
        return self.columns[number].right and after != UNIT

    @property
    def heading_rows(self) -> int:
        """Rows of title, remark, headings and units above the data."""
        return bool(self.title) + bool(self.remark) + (not self.headless) + self.measured


@dataclass(slots=True)
class Sheet:
    """One sheet: its name, what it tells, and its tables from top to bottom."""

    name: str
    title: str
    opening: str
    tables: list[Table] = field(default_factory=list)
    frozen: bool = True  # keep the first table's headings in view
    upright: bool = False  # printed on upright paper
    least_size: float = 6.0  # points of letters on paper, below which it is not shrunk
    printed: int = 0  # only so many rows of the first table go on paper; 0: everything

    def live(self) -> Iterator[tuple[str, Live]]:
        """Every live cell on it, with what it is for."""
        for table in self.tables:
            for row in (*table.rows, *table.foot):
                for cell in row:
                    if isinstance(cell, Live):
                        yield _label(row), cell

    def first_row(self, index: int = 0) -> int:
        """The Excel row of the first data row of one table."""
        row = TOP_ROWS + 1
        for number, table in enumerate(self.tables):
            row += table.heading_rows
            if number == index:
                return row
            row += len(table.body) + len(table.foot) + 1
            row += table.chart.rows if table.chart else 0
        msg = f"{self.name} has no table {index}"
        raise IndexError(msg)

    def head_row(self, index: int = 0) -> int:
        """The Excel row of the headings of one table, which has some."""
        return self.first_row(index) - 1 - self.tables[index].measured

    def last_on_paper(self) -> int:
        """The last row that is printed, counted from 0; 0 where everything is."""
        if self.printed:
            return self.first_row() + self.printed - 2
        kept = (n for n, table in enumerate(self.tables) if not table.on_paper)
        beyond = next(kept, None)
        if beyond is None:
            return 0
        return self.first_row(beyond) - self.tables[beyond].heading_rows - 2

    def rows_of(self, index: int, column: str) -> str:
        """The absolute range of one column of one table, such as ``Scenarios!$F$9:$F$17``."""
        first = self.first_row(index)
        last = first + max(1, len(self.tables[index].rows)) - 1
        return f"{quoted(self.name)}!${column}${first}:${column}${last}"


def saying(words: str) -> Table:
    """A table of one sentence, where there is nothing to tabulate."""
    return Table([Column("")], [[Across(words)]], headless=True)


#: Rows that every sheet opens with: title, what it tells, the way back, a blank.
TOP_ROWS = 4


def quoted(sheet: str) -> str:
    """A sheet's name as formulas write it.

    >>> quoted("Buying list"), quoted("Inputs")
    ("'Buying list'", 'Inputs')
    """
    return f"'{sheet}'" if " " in sheet else sheet


def letter(column: int) -> str:
    """The letter of a column counted from 0.

    >>> letter(0), letter(27)
    ('A', 'AB')
    """
    name = ""
    column += 1
    while column:
        column, rest = divmod(column - 1, 26)
        name = chr(65 + rest) + name
    return name


def _label(row: Sequence[Cell]) -> str:
    words = [cell.words if isinstance(cell, Text) else cell for cell in row[:4]]
    return ", ".join(word for word in words if isinstance(word, str) and len(word) > 1)[:80]
