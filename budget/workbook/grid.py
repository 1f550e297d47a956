"""From an .xlsx file to plain cells: what stands where, and what kind of thing it is.

The file is opened for its formulas, and where a cell that is read holds one, a second time for
values, so that a blank, an error and a formula that was never worked out are told apart. Its
unpacked size is looked at before opening.
"""

from __future__ import annotations

import datetime as dt
import difflib
import functools
import re
import unicodedata
import zipfile
import zlib
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Literal

from budget.workbook.lean import lean
from budget.workbook.links import circular
from budget.workbook.problems import WorkbookError
from budget.workbook.sheets.describe import key
from budget.workbook.sheets.tabs import NOT_READ, SHEETS

#: The most a workbook may unpack to. A large job takes about 1 MB.
MOST_BYTES = 50_000_000
#: Reading a sheet ends after this many blank rows.
BLANK_ROWS = 200
#: Columns further right are not looked at.
MOST_COLUMNS = 80

CellKind = Literal["text", "number", "flag", "date", "time", "error", "uncalculated"]
# The namespace of the strict form of the format (ISO/IEC 29500-1), which openpyxl does not read.
_STRICT = b"http://purl.oclc.org/ooxml/spreadsheetml/main"
_COMPOUND_FILE = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"  # [MS-CFB] 2.2: old .xls and passwords


@dataclass(frozen=True, slots=True)
class Seen:
    """One cell that is not blank."""

    value: Any
    kind: CellKind
    percent: bool = False  # shown with a % sign

    @property
    def shown(self) -> str:
        """The cell as it is quoted in a message."""
        if self.kind == "text":
            return f"'{self.value}'"
        if self.kind == "number":
            number = self.value * 100 if self.percent else self.value
            return f"{number:.10g}" + (" %" if self.percent else "")
        if self.kind == "flag":
            return "yes" if self.value else "no"
        if self.kind == "uncalculated":
            return "a formula without a result"
        return str(self.value)


@dataclass(frozen=True, slots=True)
class Grid:
    """The cells of one sheet, by row and column number."""

    title: str
    rows: dict[int, dict[int, Seen]]
    merged: tuple[tuple[str, int, int], ...] = ()  # range, first row, last row
    beyond: int = 0  # a row below a long gap that was not read, or 0
    hidden: tuple[int, ...] = ()  # filled rows that are hidden
    shown: bool = True  # whether the sheet's tab can be seen


def load(path: Path) -> list[Grid]:
    """Every sheet of a workbook. Raises :class:`WorkbookError` with the user's words."""
    _look_at(path)
    from xml.etree.ElementTree import ParseError

    from openpyxl.utils.exceptions import InvalidFileException

    try:
        _refuse_strict(path)
        return _grids(path)
    except (
        InvalidFileException, ParseError, zipfile.BadZipFile, KeyError, ValueError, TypeError,
        AttributeError, IndexError, EOFError, OSError, SyntaxError, zlib.error, RuntimeError,
        OverflowError,
    ) as error:  # fmt: skip
        raise _damaged(path) from error


def _refuse_strict(path: Path) -> None:
    with zipfile.ZipFile(path) as archive:
        if _STRICT in archive.read("xl/workbook.xml"):
            raise WorkbookError(
                f"{path} is saved as Strict Open XML. Save it as an Excel workbook (.xlsx), the "
                "plain one of the list, and try that file."
            )


def _grids(path: Path) -> list[Grid]:
    import warnings

    import openpyxl

    with lean(path, NOT_READ) as file, warnings.catch_warnings():
        warnings.simplefilter("ignore")  # parts of the file that only a spreadsheet program needs
        formulas = openpyxl.load_workbook(file, keep_links=False)
        ignored = {key(name) for name in NOT_READ}
        pages = [page for page in formulas.worksheets if key(str(page.title)) not in ignored]
        if not any(_has_formula(page) for page in pages):
            return [_grid(page) for page in pages]
        values = openpyxl.load_workbook(file, read_only=True, data_only=True, keep_links=False)
        found = [_grid(page, values[page.title]) for page in pages]
        values.close()
        return _without_circles(formulas, pages, found)


def _without_circles(book: Any, pages: list[Any], grids: list[Grid]) -> list[Grid]:
    """The sheets with formulas that rest on themselves told as errors: their 0 means nothing."""
    starts = [
        (grid.title, row, column)
        for page, grid in zip(pages, grids, strict=True)
        for row, cells in grid.rows.items()
        for column, seen in cells.items()
        if seen.kind == "number" and seen.value == 0 and page._cells[row, column].data_type == "f"
    ]
    wrong = circular(book, starts) if starts else set()
    for grid in grids:
        for title, row, column in wrong:
            if title == grid.title:
                grid.rows[row][column] = Seen("a formula that rests on itself", "error")
    return grids


def _has_formula(page: Any) -> bool:
    """Whether a cell that is read holds a formula: ours in the helping columns are not read."""
    described = next((s for s in SHEETS if key(s.name) == key(str(page.title))), None)
    live = {key(title) for title in described.live} if described else set()
    header, columns = 0, set[int]()
    if not any(cell.data_type == "f" for cell in page._cells.values()):
        return False
    cells = sorted(page._cells.items())
    for (row, column), cell in cells:
        if row <= 30 and cell.data_type == "s" and key(str(cell.value).split("(")[0]) in live:
            header = row
            columns.add(column)
    return any(
        cell.data_type == "f" and row > header and column not in columns
        for (row, column), cell in cells
    )


def _damaged(path: Path) -> WorkbookError:
    return WorkbookError(
        f"{path} is damaged or cut short. Open it in a spreadsheet program, save it again as "
        "an Excel workbook (.xlsx), and try that file."
    )


#: How workbooks end that are made from a quotes workbook.
_MADE = ("-baseline.xlsx", "-comparison.xlsx", "-questions.xlsx")


def _others_than(path: Path) -> str:
    """What to do about a name that no file has: the nearest workbooks of the same folder."""
    if not path.parent.is_dir():
        return f"There is no folder {path.parent} either. Check the name and the folder."
    names = [p.name for p in path.parent.glob("*.xlsx") if not p.name.startswith("~$")]
    names = [name for name in names if not name.endswith(_MADE)]
    near = [name for name in names if name.casefold() == f"{path.name}.xlsx".casefold()]
    near = near or difflib.get_close_matches(path.name, sorted(names), n=2, cutoff=0.6)
    if near:
        return f"Did you mean {' or '.join(near)}?"
    return "Check the name and the folder."


def _look_at(path: Path) -> None:
    if not path.exists():
        raise WorkbookError(f"There is no file {path}. {_others_than(path)}")
    if path.is_dir():
        raise WorkbookError(f"{path} is a folder. Name the workbook in it.")
    try:
        with path.open("rb") as file:
            start = file.read(8)
    except OSError as error:
        raise WorkbookError(f"{path} cannot be read: {error.strerror or error}.") from error
    if start == _COMPOUND_FILE:
        raise WorkbookError(
            f"{path} is an old .xls file or is protected by a password. Save it as an Excel "
            "workbook (.xlsx) without a password, and try that file."
        )
    if not start:
        raise WorkbookError(f"{path} is empty.")
    try:
        with zipfile.ZipFile(path) as archive:
            unpacked = sum(info.file_size for info in archive.infolist())
            names = set(archive.namelist())
    except zipfile.BadZipFile as error:
        if start.startswith(b"PK"):
            raise _damaged(path) from error
        raise WorkbookError(
            f"{path} is not an Excel workbook. Save it as .xlsx and try that file."
        ) from error
    if unpacked > MOST_BYTES:
        raise WorkbookError(
            f"{path} unpacks to {unpacked / 1e6:.0f} MB, more than the {MOST_BYTES / 1e6:.0f} MB "
            "that a job can need. Copy the filled cells into a blank workbook."
        )
    if "mimetype" in names and "content.xml" in names:
        raise WorkbookError(
            f"{path} is an OpenDocument file. Save it as an Excel workbook (.xlsx) and try that."
        )


def _grid(formulas: Any, values: Any = None) -> Grid:
    """The cells of one sheet; without ``values`` every cell that is read is a constant."""
    # Where something is stored; walking rows would make every blank cell up to a far one.
    stored = formulas._cells.items()
    filled = sorted(at for at, c in stored if c.value is not None and at[1] <= MOST_COLUMNS)
    last, beyond = 0, 0
    for row, _ in filled:
        if row - last > BLANK_ROWS:
            beyond = row
            break
        last = row
    rows: dict[int, dict[int, Seen]] = {}
    for row, column, value in _constants(formulas, last) if values is None else _all(values, last):
        if (row, column) in formulas._cells:
            seen = _seen(value, formulas._cells[row, column])
            if seen is not None:
                rows.setdefault(row, {})[column] = seen
    merged = tuple(
        (str(r.coord), int(r.min_row), int(r.max_row)) for r in formulas.merged_cells.ranges
    )
    dimensions = formulas.row_dimensions
    hidden = tuple(row for row in sorted(dimensions) if row in rows and dimensions[row].hidden)
    shown = formulas.sheet_state == "visible"
    return Grid(str(formulas.title), rows, tuple(sorted(merged)), beyond, hidden, shown)


def _constants(page: Any, last: int) -> Iterator[tuple[int, int, Any]]:
    for (row, column), cell in sorted(page._cells.items()):
        if row <= last and column <= MOST_COLUMNS and cell.data_type != "f":
            yield row, column, cell


def _all(values: Any, last: int) -> Iterator[tuple[int, int, Any]]:
    values.reset_dimensions()
    for row, cells in enumerate(values.iter_rows(max_row=last, max_col=MOST_COLUMNS), 1):
        for column, cell in enumerate(cells, 1):
            yield row, column, cell


def _seen(value: Any, formula: Any) -> Seen | None:
    content = value.value
    if content is None:
        empty_text = value.data_type == "str"  # a formula whose result is an empty text
        no_result = formula.data_type == "f" and not empty_text
        return Seen(None, "uncalculated") if no_result else None
    if value.data_type == "e":
        return Seen(str(content), "error")
    if isinstance(content, bool):
        return Seen(content, "flag")
    if isinstance(content, (int, float)):
        return Seen(content, "number", _in_percent(str(value.number_format)))
    if isinstance(content, dt.datetime):
        return Seen(content.date(), "date")
    if isinstance(content, dt.date):
        return Seen(content, "date")
    if isinstance(content, (dt.time, dt.timedelta)):
        return Seen(_hours(content), "time")
    text = clean(str(content))
    return Seen(text, "text") if text else None


@functools.cache
def _in_percent(number_format: str) -> bool:
    return "%" in re.sub(r'"[^"]*"|\\.', "", number_format)


def _hours(clock: dt.time | dt.timedelta) -> float:
    if isinstance(clock, dt.timedelta):
        return clock.total_seconds() / 3600
    return clock.hour + clock.minute / 60 + clock.second / 3600


def clean(text: str) -> str:
    """Text without hidden characters, blanks at its ends, or doubled blanks.

    >>> clean(" North\\u00a0 Yard\\u200b\\n")
    'North Yard'
    """
    if text.isascii() and text.isprintable() and "_x" not in text:
        return " ".join(text.split())  # as nearly all text is
    text = re.sub(r"_x[0-9A-Fa-f]{4}_", " ", text)
    kept = "".join(
        " " if c.isspace() else c for c in text if c.isspace() or unicodedata.category(c)[0] != "C"
    )
    return " ".join(kept.split())
