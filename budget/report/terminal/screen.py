"""The lines that a block takes in a window of so many columns, each in pieces with a style."""

from __future__ import annotations

from dataclasses import dataclass

from budget.report.terminal.blocks import (
    INDENT,
    LABEL_WIDTH,
    Block,
    Gap,
    Heading,
    Pair,
    Table,
    Text,
    wide,
    wrapped,
)
from budget.report.terminal.grid import grid


@dataclass(frozen=True, slots=True)
class Piece:
    """Text in one style: plain, warning, problem, strong or faint."""

    text: str
    style: str = "plain"


Line = tuple[Piece, ...]


def lines(block: Block, columns: int) -> list[Line]:
    """A block as lines of at most ``columns`` columns; only what has no space is broken.

    >>> [line[0].text for line in lines(Text("Dig and lay"), 8)]
    ['Dig and', 'lay']
    """
    match block:
        case Heading(text):
            return _styled(wrapped(text, columns), "strong")
        case Text(text, style):
            return _styled(wrapped(text, columns), style)
        case Pair(label, text):
            return _pair(label, text, columns)
        case Table():
            return _table(block, columns)
        case Gap():
            return [(Piece(""),)]


def _styled(texts: list[str], style: str) -> list[Line]:
    return [(Piece(text, style),) for text in texts]


def _pair(label: str, text: str, columns: int) -> list[Line]:
    """A label and its text; a long label has a line of its own."""
    room = columns - LABEL_WIDTH - len(INDENT)
    beside = INDENT + " " * LABEL_WIDTH
    said: list[Line] = [(Piece(beside + line),) for line in wrapped(text, room)]
    if wide(label) >= LABEL_WIDTH:
        return [(Piece(INDENT + label, "faint"),), *said]
    first = said[0][0].text[len(INDENT) + wide(label) :]
    return [(Piece(INDENT + label, "faint"), Piece(first)), *said[1:]]


def _table(block: Table, columns: int) -> list[Line]:
    titles, *rows = grid(block, columns)
    found = _styled(titles, "faint")
    for n, row in enumerate(rows):
        last = block.total and n == len(rows) - 1
        found += _styled(row, "strong" if last else "plain")
    return found
