"""From the cells of a sheet to records: which title stands above which cell."""

from __future__ import annotations

import re
from dataclasses import dataclass, field

from budget.job import Notice
from budget.units import System
from budget.workbook.grid import Grid, Seen
from budget.workbook.problems import nearest, notice
from budget.workbook.sheets.describe import Column, Sheet, key
from budget.workbook.sheets.tabs import SETTING_TITLES

#: The row of titles is looked for within this many rows from the top.
HEADER_ROWS = 30


@dataclass(frozen=True, slots=True)
class Cell:
    """One filled cell, with its address and the unit that its header names."""

    seen: Seen
    sheet: str
    row: int
    letter: str
    unit: str = ""

    @property
    def address(self) -> str:
        """Such as ``Areas!D5``."""
        return f"{self.sheet}!{self.letter}{self.row}"


@dataclass(frozen=True, slots=True)
class Record:
    """One row (or the whole Job sheet): its filled cells by field."""

    sheet: Sheet
    row: int
    cells: dict[str, Cell]
    letters: dict[str, str]  # the column of every field that has a title
    blank: dict[str, int] = field(default_factory=dict)  # rows of settings left blank

    def address(self, name: str) -> str:
        """The cell of one field, filled or not."""
        if name in self.cells:
            return self.cells[name].address
        return f"{self.sheet.name}!{self.letters.get(name, 'A')}{self.row_of(name)}"

    def row_of(self, name: str) -> int:
        """The row of one field: a setting left blank may have one of its own."""
        return self.blank.get(name, self.row)


@dataclass
class Notes:
    """What every check needs to know, and the problems found so far."""

    system: System = "imperial"
    currency: str = "USD"
    found: list[Notice] = field(default_factory=list)
    left_out: dict[str, list[dict[str, object]]] = field(default_factory=dict)  # rows, by sheet
    _said: set[tuple[str, str]] = field(default_factory=set)  # codes said once, and where

    def say(
        self, code: str, sheet: str, row: int, cell: str, found: str = "", /, **words: str
    ) -> None:
        """Add one problem or warning."""
        self.found.append(notice(code, sheet, row, cell, found, **words))

    def unread(self) -> set[str]:
        """Sheets whose names are not known, because the sheet or a column of it is missing."""
        codes = ("sheet-missing", "header-missing", "column-missing")
        return {n.sheet for n in self.found if n.code in codes}

    def first(self, code: str, where: str = "") -> bool:
        """Whether a code has not been asked for here before."""
        asked = (code, where)
        new = asked not in self._said
        self._said.add(asked)
        return new

    def once(self, cell: Cell, code: str, **words: str) -> None:
        """Add one about the unit above or beside a cell, but only once for its column."""
        if self.first(code, f"{cell.sheet}!{cell.letter}"):
            shown = f"'({cell.unit})'"
            self.say(code, cell.sheet, cell.row, cell.address, shown, **words)

    def at(self, cell: Cell, code: str, **words: str) -> None:
        """Add one about a filled cell."""
        self.say(code, cell.sheet, cell.row, cell.address, cell.seen.shown, **words)

    def about(self, record: Record, name: str, code: str, found: str = "", **words: str) -> None:
        """Add one about a field of a row, filled or blank."""
        cell = record.cells.get(name)
        shown = found or (cell.seen.shown if cell else "")
        row = record.row_of(name)
        self.say(code, record.sheet.name, row, record.address(name), shown, **words)


@dataclass(frozen=True, slots=True)
class _Title:
    column: int
    text: str
    unit: str

    @property
    def letter(self) -> str:
        return letter(self.column)


def letter(column: int) -> str:
    """The letters of a column number.

    >>> letter(1), letter(28)
    ('A', 'AB')
    """
    letters = ""
    while column:
        column, rest = divmod(column - 1, 26)
        letters = chr(65 + rest) + letters
    return letters


def _split(text: str) -> tuple[str, str]:
    match = re.fullmatch(r"(.*?)\s*[(\[]([^()\[\]]*)[)\]]\s*\*?", text)
    return (match[1], match[2].strip()) if match and match[1] else (text, "")


def _titles(grid: Grid, row: int) -> list[_Title]:
    return [
        _Title(column, *_split(str(seen.value)))
        for column, seen in grid.rows[row].items()
        if seen.kind == "text"
    ]


def header_row(grid: Grid, known: set[str], least: int) -> int:
    """The row with most of some titles (as keys), 0 if none has at least so many."""
    best, most = 0, least - 1
    for row in [r for r in grid.rows if r <= HEADER_ROWS]:
        hits = len({key(t.text) for t in _titles(grid, row)} & known)
        if hits > most:
            best, most = row, hits
    return best


def _check_merged(grid: Grid, sheet: Sheet, header: int, notes: Notes) -> None:
    for cells, first, last in grid.merged:
        if last > header and last > first:
            place = f"{sheet.name}!{cells}"
            notes.say("merged-cells", sheet.name, first, place, f"merged cells {cells}")


def _check_hidden(grid: Grid, sheet: Sheet, header: int, notes: Notes) -> None:
    """What cannot be seen counts too, so it is said."""
    rows = [row for row in grid.hidden if row > header]
    if rows:
        shown = f"{len(rows)} hidden row{'s' if rows[1:] else ''}"
        notes.say("rows-hidden", sheet.name, rows[0], f"{sheet.name}!A{rows[0]}", shown)
    if not grid.shown and any(row > header for row in grid.rows):
        notes.say("sheet-hidden", sheet.name, 1, f"{sheet.name}!A1", "a hidden sheet")


def records(sheet: Sheet, grid: Grid, notes: Notes) -> list[Record]:
    """The rows of one sheet. The header may stand lower down, its order is free."""
    if sheet.settings:
        return _settings(sheet, grid, notes)
    titles = {key(c.title): c for c in sheet.columns}
    header = header_row(grid, set(titles), 2)
    if not header:
        if grid.rows:
            shown = ", ".join(c.title for c in sheet.columns if c.required)
            notes.say("header-missing", sheet.name, 1, f"{sheet.name}!A1", titles=shown)
        return []
    _check_merged(grid, sheet, header, notes)
    _check_hidden(grid, sheet, header, notes)
    columns = _columns(sheet, grid, header, titles, notes)
    if grid.beyond:
        place = f"{sheet.name}!A{grid.beyond}"
        notes.say("rows-beyond-gap", sheet.name, grid.beyond, place, f"row {grid.beyond}")
    letters = {name: title.letter for name, title in columns.items()}
    places = [(name, t.column, t.letter, t.unit) for name, t in columns.items()]
    found = []
    for row in sorted(r for r in grid.rows if r > header):
        filled = grid.rows[row]
        cells = {
            name: Cell(filled[column], sheet.name, row, at, unit)
            for name, column, at, unit in places
            if column in filled
        }
        if cells:
            found.append(Record(sheet, row, cells, letters))
    return found


def _columns(
    sheet: Sheet, grid: Grid, header: int, known: dict[str, Column], notes: Notes
) -> dict[str, _Title]:
    columns: dict[str, _Title] = {}
    strange: list[_Title] = []
    live = {key(title) for title in sheet.live}
    for title in _titles(grid, header):
        column = known.get(key(title.text))
        if key(title.text) in live:
            continue
        if column is None:
            strange.append(title)
        elif column.field in columns:
            place = f"{sheet.name}!{title.letter}{header}"
            notes.say(
                "column-twice", sheet.name, header, place, f"'{title.text}'", title=column.title
            )
        else:
            columns[column.field] = title
    _check_titles(sheet, grid, header, notes)
    missing = [c for c in sheet.columns if c.field not in columns]
    for title in strange:
        _strange(sheet, grid, header, title, missing, notes)
    for column in missing:
        if column.required:
            near = nearest(column.title, [t.text for t in strange], "Is it the column titled")
            place = f"{sheet.name}!A{header}"
            notes.say("column-missing", sheet.name, header, place, title=column.title, near=near)
    return columns


def _check_titles(sheet: Sheet, grid: Grid, header: int, notes: Notes) -> None:
    """Filled columns under an error, under a number, or under nothing: they are not read."""
    titles = grid.rows[header]
    filled = {column for row, cells in grid.rows.items() if row > header for column in cells}
    for column in sorted(filled):
        seen = titles.get(column)
        place = f"{sheet.name}!{letter(column)}{header}"
        if seen is None:
            notes.say("column-untitled", sheet.name, header, place)
        elif seen.kind in ("error", "uncalculated"):
            notes.say("title-error", sheet.name, header, place, seen.shown)
        elif seen.kind != "text":
            notes.say("column-not-read", sheet.name, header, place, seen.shown)


def _strange(
    sheet: Sheet, grid: Grid, header: int, title: _Title, missing: list[Column], notes: Notes
) -> None:
    place = f"{sheet.name}!{title.letter}{header}"
    filled = any(title.column in cells for row, cells in grid.rows.items() if row > header)
    near = nearest(title.text, [c.title for c in missing if not c.required])
    shown = f"'{title.text}'"
    if near and filled:
        name = near.removeprefix(" Did you mean ").removesuffix("?")
        notes.say("column-misspelt", sheet.name, header, place, shown, title=name)
    else:
        notes.say("column-not-read", sheet.name, header, place, shown)


def _settings(sheet: Sheet, grid: Grid, notes: Notes) -> list[Record]:
    """The Job sheet: each row is one setting, in any order."""
    named = {key(t): i for i, t in enumerate(SETTING_TITLES)}
    header = header_row(grid, set(named), 2)
    if not header:
        titles = ", ".join(SETTING_TITLES)
        notes.say("header-missing", sheet.name, 1, f"{sheet.name}!A1", titles=titles)
        return []
    _check_merged(grid, sheet, header, notes)
    _check_hidden(grid, sheet, header, notes)
    place = {named[key(t.text)]: t.column for t in _titles(grid, header) if key(t.text) in named}
    label, value, unit = (place.get(i, 0) for i in range(3))
    for title, column in zip(SETTING_TITLES[:2], (label, value), strict=True):
        if not column:
            home = f"{sheet.name}!A{header}"
            notes.say("column-missing", sheet.name, header, home, title=title, near="")
    cells: dict[str, Cell] = {}
    blank: dict[str, int] = {}
    fields = {key(c.title): c.field for c in sheet.columns}
    for row in sorted(r for r in grid.rows if r > header):
        filled = grid.rows[row]
        if label not in filled:
            continue
        title, in_title = _split(str(filled[label].value))
        if value not in filled:
            blank.setdefault(fields.get(key(title), ""), row)
        else:
            beside = str(filled[unit].value) if unit in filled else in_title
            cell = Cell(filled[value], sheet.name, row, letter(value), beside)
            _setting(sheet, title, f"{sheet.name}!{letter(label)}{row}", cell, cells, notes)
    letters = {c.field: letter(value) for c in sheet.columns} if value else {}
    return [Record(sheet, header, cells, letters, blank)]


def _setting(
    sheet: Sheet, title: str, address: str, cell: Cell, cells: dict[str, Cell], notes: Notes
) -> None:
    column = next((c for c in sheet.columns if key(c.title) == key(title)), None)
    shown = f"'{title}'"
    if column is None:
        near = nearest(title, [c.title for c in sheet.columns])
        near = near or "Remove the row, or put it on a sheet of your own."
        notes.say("setting-unknown", sheet.name, cell.row, address, shown, near=near)
    elif column.field in cells:
        notes.say("setting-twice", sheet.name, cell.row, address, shown, title=column.title)
    else:
        cells[column.field] = cell
