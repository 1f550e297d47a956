"""What if: cells and settings changed for one run, while the file stays as it is."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from budget.workbook.grid import Grid, Seen, clean
from budget.workbook.links import Range, references
from budget.workbook.problems import nearest
from budget.workbook.sheets.describe import key
from budget.workbook.sheets.tabs import JOB, SETTING_TITLES, SHEETS
from budget.workbook.table import header_row

_CELL = re.compile(r"(?P<sheet>[^!]+)!\$?(?P<letters>[A-Za-z]{1,3})\$?(?P<row>[0-9]+)")


class ChangeError(ValueError):
    """A change that cannot be made; ``str`` is the sentence to show."""


@dataclass(frozen=True, slots=True)
class Change:
    """One value for one run: a cell such as ``Quotes!F12``, or a setting such as ``Job:Name``."""

    target: str
    value: str


def parse(texts: Iterable[str]) -> tuple[Change, ...]:
    """Changes as they are typed.

    >>> parse(["Quotes!C12=4.10"])
    (Change(target='Quotes!C12', value='4.10'),)
    """
    return tuple(_parse(text) for text in texts)


def _parse(text: str) -> Change:
    target, equals, value = (part.strip() for part in text.partition("="))
    cell, setting = _CELL.fullmatch(target), target.casefold().startswith("job:")
    if equals and value and not (cell or setting):
        near = nearest(target, [c.title for c in JOB.columns], "Did you mean Job:")
        msg = (
            f"“{target}” is no cell or setting. Write SHEET!CELL or Job:SETTING, such as "
            f"Quotes!C12 or 'Job:Value of an own hour'.{near.replace('Job: ', 'Job:')}"
        )
        raise ChangeError(msg)
    if not equals or not value:
        msg = (
            f"“{text}” is not a change. Write SHEET!CELL=VALUE or Job:SETTING=VALUE, such as "
            "Quotes!C12=4.10 or 'Job:Value of an own hour=35'."
        )
        raise ChangeError(msg)
    return Change(target, value)


def changed(path: Path, grids: Sequence[Grid], changes: Sequence[Change]) -> list[Grid]:
    """The sheets with some cells changed.

    :raises ChangeError: for a sheet or setting that is not there, for a cell that is not read,
        and where a formula that is read depends on the cell: its stored result would no longer
        be true.
    """
    found = list(grids)
    links = list(_links(path)) if changes else []
    for change in changes:
        index, row, column = _place(found, change)
        grid = found[index]
        _refuse_dependents(found, links, (grid.title, row, column), change)
        if not _is_read(found, (grid.title, row, column)):
            raise ChangeError(
                f"Nothing is read from {change.target}, so that a change there changes nothing. "
                "Name a cell below a column title that the tool knows."
            )
        rows = {number: dict(cells) for number, cells in grid.rows.items()}
        rows.setdefault(row, {})[column] = _seen(change.value)
        found[index] = replace(grid, rows=rows)
    return found


def _seen(text: str) -> Seen:
    """What is typed, as a cell holds it; a point that may mark thousands is left to its reader."""
    if re.fullmatch(r"[+-]?[1-9]\d{0,2}\.\d{3}", text):
        return Seen(text, "text")
    try:
        return Seen(float(text), "number")
    except ValueError:
        return Seen(clean(text), "text")


def _place(grids: list[Grid], change: Change) -> tuple[int, int, int]:
    """The sheet by its place in the list, the row and the column of a change."""
    match = _CELL.fullmatch(change.target)
    title = match["sheet"].strip("'") if match else JOB.name
    index = next((i for i, g in enumerate(grids) if key(g.title) == key(title)), None)
    if index is None:
        near = nearest(title, [g.title for g in grids])
        raise ChangeError(f"There is no sheet named {title}.{near}")
    if match is None:
        return (index, *_setting(grids[index], change.target.partition(":")[2].strip()))
    return index, int(match["row"]), _number(match["letters"])


def _number(letters: str) -> int:
    number = 0
    for letter in letters.upper():
        number = number * 26 + ord(letter) - 64
    return number


def _setting(grid: Grid, name: str) -> tuple[int, int]:
    header = header_row(grid, {key(t) for t in SETTING_TITLES}, 2)
    titles = {key(str(seen.value)): column for column, seen in grid.rows.get(header, {}).items()}
    label, value = (titles.get(key(title)) for title in SETTING_TITLES[:2])
    if not header or label is None or value is None:
        raise ChangeError(f"The {grid.title} sheet has no columns Setting and Value.")
    if key(name) not in {key(c.title) for c in JOB.columns}:
        near = nearest(name, [c.title for c in JOB.columns])
        raise ChangeError(f"There is no setting named {name}.{near}")
    for row, cells in grid.rows.items():
        if label in cells and key(re.sub(r"\s*[(\[].*", "", str(cells[label].value))) == key(name):
            return row, value
    raise ChangeError(f"The {grid.title} sheet has no row for {name}; add one.")


@dataclass(frozen=True, slots=True)
class _Link:
    """A formula cell and the cells that it rests on."""

    sheet: str
    row: int
    column: int
    ranges: tuple[Range, ...]
    sure: bool  # every reference was understood


def _refuse_dependents(
    grids: list[Grid], links: list[_Link], at: tuple[str, int, int], change: Change
) -> None:
    reached, todo = {at}, [at]
    while todo:
        cell = todo.pop()
        for link in links:
            place = (link.sheet, link.row, link.column)
            if place in reached or not (_rests_on(link, cell) or not link.sure):
                continue
            reached.add(place)
            todo.append(place)
            if _is_read(grids, place):
                from openpyxl.utils import get_column_letter

                home = f"{link.sheet}!{get_column_letter(link.column)}{link.row}"
                why = "depends on it" if link.sure else "may depend on it"
                raise ChangeError(
                    f"{change.target} cannot be changed for one run: the formula in {home} {why}, "
                    "and only a spreadsheet program can work it out anew. Change the workbook."
                )


def _rests_on(link: _Link, cell: tuple[str, int, int]) -> bool:
    sheet, row, column = cell
    return any(
        key(r[0]) == key(sheet) and r[1] <= row <= r[3] and r[2] <= column <= r[4]
        for r in link.ranges
    )


def _is_read(grids: list[Grid], place: tuple[str, int, int]) -> bool:
    """Whether a cell is one that is read: on a known sheet, not under a live helper's title."""
    title, row, column = place
    known = next((s for s in SHEETS if key(s.name) == key(title)), None)
    grid = next((g for g in grids if g.title == title), None)
    if known is None or grid is None:
        return False
    titles = {key(t) for t in SETTING_TITLES[:3]} if known.settings else {
        key(c.title) for c in known.columns
    }  # fmt: skip
    header = header_row(grid, titles, 2)
    if not header or row <= header or column not in grid.rows[header]:
        return False
    above = re.sub(r"\s*[(\[].*", "", str(grid.rows[header][column].value))
    return key(above) in titles


def _links(path: Path) -> Iterator[_Link]:
    """Every formula of a workbook with what it rests on."""
    import warnings

    import openpyxl

    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        book = openpyxl.load_workbook(path)
    for page in book.worksheets:
        for (row, column), cell in sorted(page._cells.items()):
            if cell.data_type == "f":
                ranges, sure = references(book, page.title, cell.value)
                yield _Link(page.title, row, column, ranges, sure)
