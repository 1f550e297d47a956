"""Fitting an answer to a small window: rows that are shortened, and how high things are."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from budget.report.terminal.blocks import Block, Pair, fitted, wrapped
from budget.report.terminal.screen import lines


@dataclass(frozen=True, slots=True)
class Row:
    """A labelled row that may be shortened to fit a window: items, and how they are joined."""

    label: str
    items: tuple[str, ...]
    joint: str = "; "
    least: int = 1  # lines that it is given before others grow
    spare: bool = False  # left out where there is no room
    counted: bool = True  # tells how many items have no room; facts of one thing do not

    def within(self, width: int, lines: int) -> str:
        """As much of the row as fits so many lines; the first item is always whole."""
        return fitted(self.items, width, lines, self.joint, self.counted)


def height(block: Block, columns: int) -> int:
    """How many lines a block takes in a window of so many columns."""
    return len(lines(block, columns))


def fit(rows: Sequence[Row], width: int, room: int) -> list[Block]:
    """Rows shortened to ``room`` lines: each gets its least, then the most cut gets more.

    Where there is no room for the least of all, each has a line and those below it come first.
    Spare rows are there only if they fit whole when all others do.
    """
    needed = [row for row in rows if not row.spare]
    whole = sum(len(wrapped(row.joint.join(row.items), width)) for row in rows)
    kept = list(rows) if whole <= room else needed
    least = sum(_row_height(row, row.least, width) for row in kept)
    given = [row.least if least <= room else 1 for row in kept]
    while (grows := _next_to_grow(kept, given, width, room)) is not None:
        given[grows] += 1
    return [Pair(row.label, row.within(width, n)) for row, n in zip(kept, given, strict=True)]


def _row_height(row: Row, most: int, width: int) -> int:
    return len(wrapped(row.within(width, most), width))


def _next_to_grow(
    rows: Sequence[Row], given: Sequence[int], width: int, room: int
) -> int | None:  # fmt: skip
    heights = [_row_height(row, n, width) for row, n in zip(rows, given, strict=True)]
    for i in sorted(range(len(rows)), key=lambda i: (given[i] >= rows[i].least, given[i], i)):
        whole = len(wrapped(rows[i].joint.join(rows[i].items), width))
        taller = sum(heights) - heights[i] + _row_height(rows[i], given[i] + 1, width)
        if given[i] < whole and taller <= room:
            return i
    return None
