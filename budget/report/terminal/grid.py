"""A table in a window: columns as wide as there is room, or each row in lines of its own."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

from budget.report.terminal.blocks import INDENT, Table, aligned, wide, words_of, wrapped

#: Cells up to so many columns, such as a date, stay on one line wherever there is room.
_WHOLE = 12

#: A table is stacked where that takes so much less of its height.
_MUCH_LOWER = 1.5

#: Columns are widened until titles, and rows, take fewer than so many lines.
_TITLE_LINES, _ROW_LINES = 4, 24


@dataclass(frozen=True)
class _Column:
    """The cells of one column, and how narrow they may be."""

    title: str
    cells: tuple[str, ...]
    number: bool

    @cached_property
    def _words(self) -> tuple[tuple[int, ...], ...]:
        return tuple(tuple(map(wide, words_of(cell))) for cell in dict.fromkeys(self.cells))

    def least(self, whole: int) -> int:
        """The width at which no word is broken, nor a cell that takes at most ``whole``."""
        found = max((wide(word) for word in words_of(self.title)), default=0)
        for cell in self.cells:
            width = wide(cell)
            if self.number or width <= whole:
                found = max(found, width)
        return max([found, *(max(words, default=0) for words in self._words)])

    def within(self, lines: int) -> int:
        """The least width at which no cell takes more than so many lines."""
        return max((_narrowest(words, lines) for words in self._words), default=0)

    def titled_within(self, lines: int) -> int:
        """The least width at which the title takes at most so many lines."""
        return _narrowest(tuple(map(wide, words_of(self.title))), lines)


def _narrowest(words: Sequence[int], lines: int) -> int:
    """The least width at which words of these widths take at most so many lines."""
    low, high = max(words, default=0), sum(words) + len(words) - 1
    while low < high:
        middle = (low + high) // 2
        if _lines_of(words, middle) <= lines:
            high = middle
        else:
            low = middle + 1
    return max(0, low)


def _lines_of(words: Sequence[int], width: int) -> int:
    lines, used = 1, -1
    for word in words:
        if used + 1 + word > width and used >= 0:
            lines, used = lines + 1, -1
        used += 1 + word
    return lines


def widths(block: Table, columns: int) -> list[int] | None:
    """How wide each column is, with rows as low as they can be; None where a word would break.

    >>> widths(Table(("Task", "From"), (("Lay the pavers", "Sat May 2"),)), 22)
    [9, 9]
    """
    room = columns - len(INDENT) - 2 * (len(block.titles) - 1)
    every = [
        _Column(title, tuple(row[i] for row in block.rows), i in block.right)
        for i, title in enumerate(block.titles)
    ]
    for whole in (_WHOLE, 0):
        least = [column.least(whole) for column in every]
        if sum(least) <= room:
            return _spread(every, _titled(every, _low(every, least, room), room), room)
    return None


def _low(every: Sequence[_Column], least: list[int], room: int) -> list[int]:
    """Widths at which the highest row is as low as can be."""
    for lines in range(1, _ROW_LINES):
        found = [max(a, c.within(lines)) for a, c in zip(least, every, strict=True)]
        if sum(found) <= room:
            return found
    return least


def _titled(every: Sequence[_Column], found: list[int], room: int) -> list[int]:
    """The same, widened for the titles as far as there is room."""
    for lines in range(1, _TITLE_LINES):
        wider = [max(a, c.titled_within(lines)) for a, c in zip(found, every, strict=True)]
        if sum(wider) <= room:
            return wider
    return found


def _spread(every: Sequence[_Column], found: list[int], room: int) -> list[int]:
    """The same with what room is left: columns that lack least have it first, the last the rest."""
    lacking = {i: max(0, c.within(1) - found[i]) for i, c in enumerate(every)}
    for i in sorted(lacking, key=lambda i: (lacking[i], i)):
        more = min(lacking[i], room - sum(found))
        found[i] += more
    return found


def grid(block: Table, columns: int) -> list[list[str]]:
    """The lines of the titles, then of each row, in a window of so many columns.

    A column without any text is left out. A table whose words would be broken, or that is much
    higher than its rows one below the other, is stacked: it then has no titles above it.
    """
    block = _filled(block)
    found, stacked = widths(block, columns), _stacked(block, columns)
    if found is None:
        return stacked
    rows = [_row(row, found, block.right) for row in block.rows]
    if sum(map(len, rows)) > _MUCH_LOWER * sum(map(len, stacked)):
        return stacked
    titles = _row(block.titles, found, block.right) if any(block.titles) else []
    return [titles, *rows]


def _filled(block: Table) -> Table:
    """The table without the columns in which no row says anything."""
    told = [i for i in range(len(block.titles)) if not i or any(row[i] for row in block.rows)]
    if len(told) == len(block.titles):
        return block
    right = frozenset(n for n, i in enumerate(told) if i in block.right)
    rows = tuple(tuple(row[i] for i in told) for row in block.rows)
    return Table(tuple(block.titles[i] for i in told), rows, right, block.total)


def _row(row: Sequence[str], found: Sequence[int], right: frozenset[int]) -> list[str]:
    cells = [wrapped(cell, max(1, width)) for cell, width in zip(row, found, strict=True)]
    return [
        aligned([cell[n] if n < len(cell) else "" for cell in cells], found, right)
        for n in range(max(map(len, cells)))
    ]


def _stacked(block: Table, columns: int) -> list[list[str]]:
    """Each row as its first cell, and beneath it the others with their titles."""
    room = columns - 2 * len(INDENT)
    found: list[list[str]] = [[]]
    for first, *others in block.rows:
        head = [INDENT + line for line in wrapped(first, columns - len(INDENT)) if line]
        said = "; ".join(_said(block.titles[1:], others))
        found.append([*head, *(2 * INDENT + line for line in wrapped(said, room) if line)])
    return found


def _said(titles: Sequence[str], cells: Sequence[str]) -> list[str]:
    """Each value with its titles; columns that say the same are told together."""
    alike: dict[str, list[str]] = {}
    for title, cell in zip(titles, cells, strict=True):
        if cell:
            alike.setdefault(cell, []).append(title)
    return [f"{', '.join(names)}: {cell}".removeprefix(": ") for cell, names in alike.items()]
