"""Fitting an answer to a small window: rows that are shortened, and how high things are."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from budget.report.blocks import (
    INDENT,
    LABEL_WIDTH,
    Block,
    Gap,
    Heading,
    Pair,
    Table,
    Text,
    fitted,
    wide,
    wrapped,
)


@dataclass(frozen=True, slots=True)
class Row:
    """A labelled row that may be shortened to fit a window: items, and how they are joined."""

    label: str
    items: tuple[str, ...]
    joint: str = "; "
    least: int = 1  # lines that it is given before others grow
    spare: bool = False  # left out where there is no room


def height(block: Block, columns: int) -> int:
    """How many lines a block takes in a window of so many columns."""
    match block:
        case Table():
            return _table_height(block, columns)
        case Pair(_, text):
            return len(wrapped(text, columns - LABEL_WIDTH - len(INDENT)))
        case Heading(text) | Text(text):
            return len(wrapped(text, columns))
        case Gap():
            return 1


def _table_height(block: Table, columns: int) -> int:
    """Lines of a table whose first column is folded where the window is too narrow."""
    rows = [block.titles, *block.rows]
    widths = [max(wide(row[i]) for row in rows) for i in range(len(block.titles))]
    over = max(0, sum(widths) + 2 * len(widths) + len(INDENT) - columns)
    return sum(len(wrapped(row[0], max(1, widths[0] - over))) for row in rows)


def fit(rows: Sequence[Row], width: int, room: int) -> list[Block]:
    """Rows shortened to ``room`` lines: each gets its least, then the most cut gets more.

    Where there is no room for the least of all, each has a line and those below it come first.
    Spare rows are there only if they fit whole when all others do.
    """
    needed = [row for row in rows if not row.spare]
    whole = sum(len(wrapped(row.joint.join(row.items), width)) for row in rows)
    kept = list(rows) if whole <= room else needed
    least = sum(_row_height(row, row.least, width) for row in kept)
    lines = [row.least if least <= room else 1 for row in kept]
    while (grows := _next_to_grow(kept, lines, width, room)) is not None:
        lines[grows] += 1
    return [
        Pair(row.label, fitted(row.items, width, n, row.joint))
        for row, n in zip(kept, lines, strict=True)
    ]


def _row_height(row: Row, lines: int, width: int) -> int:
    return len(wrapped(fitted(row.items, width, lines, row.joint), width))


def _next_to_grow(
    rows: Sequence[Row], lines: Sequence[int], width: int, room: int
) -> int | None:  # fmt: skip
    heights = [_row_height(row, n, width) for row, n in zip(rows, lines, strict=True)]
    for i in sorted(range(len(rows)), key=lambda i: (lines[i] >= rows[i].least, lines[i], i)):
        whole = len(wrapped(rows[i].joint.join(rows[i].items), width))
        taller = sum(heights) - heights[i] + _row_height(rows[i], lines[i] + 1, width)
        if lines[i] < whole and taller <= room:
            return i
    return None
