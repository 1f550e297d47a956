"""What the formulas of a workbook rest on, and those that rest on themselves."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

#: Cells as sheet, row and column number, first and last.
Range = tuple[str, int, int, int, int]
#: One cell: its sheet, row and column number.
Place = tuple[str, int, int]
#: Ranges of more cells than this are searched for formulas instead of walked.
_WIDE = 2000


def references(book: Any, sheet: str, formula: Any) -> tuple[tuple[Range, ...], bool]:
    """The cells that a formula rests on, and whether every reference was understood."""
    from openpyxl.formula import Tokenizer

    text = getattr(formula, "text", formula)
    found: list[Range] = []
    sure = True
    for token in Tokenizer(str(text)).items:
        if token.type == "FUNC" and token.value.upper() in ("INDIRECT(", "OFFSET("):
            sure = False
        if token.type != "OPERAND" or token.subtype != "RANGE":
            continue
        named = book.defined_names.get(token.value)
        parts = named.attr_text.split(",") if named else [token.value]
        ranges = [_range(sheet, part) for part in parts]
        found += [r for r in ranges if r is not None]
        sure = sure and all(r is not None for r in ranges)
    return tuple(found), sure


def _range(sheet: str, text: str) -> Range | None:
    """The cells that a reference names, None if that is not told by the reference alone."""
    from openpyxl.utils import range_boundaries

    home, mark, cells = text.rpartition("!")
    try:
        left, top, right, bottom = range_boundaries(cells)
    except ValueError:
        return None
    title = home.strip("'").replace("''", "'") if mark else sheet
    return title, top or 1, left or 1, bottom or 10**7, right or 10**5


def circular(book: Any, starts: Iterable[Place]) -> set[Place]:
    """The cells among ``starts`` whose formula rests on itself, over others or at once.

    A spreadsheet program stores 0 for such a cell, which would be read as a true nought.
    """
    formulas = {
        (str(page.title), row, column): cell.value
        for page in book.worksheets
        for (row, column), cell in page._cells.items()
        if cell.data_type == "f"
    }
    rests: dict[Place, list[Place]] = {}
    return {start for start in starts if _reaches_itself(book, start, formulas, rests)}


def _reaches_itself(
    book: Any, start: Place, formulas: dict[Place, Any], rests: dict[Place, list[Place]]
) -> bool:
    seen: set[Place] = set()
    todo = [start]
    while todo:
        place = todo.pop()
        if place not in rests:
            ranges, _ = references(book, place[0], formulas[place])
            rests[place] = [found for r in ranges for found in _formulas_in(r, formulas)]
        if start in rests[place]:
            return True
        todo += [found for found in rests[place] if found not in seen]
        seen.update(rests[place])
    return False


def _formulas_in(cells: Range, formulas: dict[Place, Any]) -> Iterable[Place]:
    sheet, top, left, bottom, right = cells
    if (bottom - top + 1) * (right - left + 1) <= _WIDE:
        walked = ((sheet, r, c) for r in range(top, bottom + 1) for c in range(left, right + 1))
        return [place for place in walked if place in formulas]
    return [
        place for place in formulas
        if place[0] == sheet and top <= place[1] <= bottom and left <= place[2] <= right
    ]  # fmt: skip
