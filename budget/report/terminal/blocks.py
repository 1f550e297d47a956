"""What a terminal answer is made of, and its plain text: headings, labelled rows, tables."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from budget.report.words import DAY

LABEL_WIDTH = 13
INDENT = "  "


@dataclass(frozen=True, slots=True)
class Heading:
    """A line that opens a section."""

    text: str


@dataclass(frozen=True, slots=True)
class Text:
    """A paragraph; ``style`` is plain, warning or problem."""

    text: str
    style: str = "plain"


@dataclass(frozen=True, slots=True)
class Pair:
    """A labelled line, such as ``Cash  $4,812.35``."""

    label: str
    text: str


@dataclass(frozen=True, slots=True)
class Table:
    """Rows of text under titles; ``right`` names the columns that hold numbers."""

    titles: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    right: frozenset[int] = frozenset()
    total: bool = False  # the last row sums up the others


@dataclass(frozen=True, slots=True)
class Gap:
    """An empty line."""


Block = Heading | Text | Pair | Table | Gap


def table(
    titles: Sequence[str],
    rows: Iterable[Sequence[str]],
    right: Iterable[int] = (),
    total: bool = False,
) -> Table:
    """A table from any rows."""
    return Table(tuple(titles), tuple(tuple(row) for row in rows), frozenset(right), total)


def plain(blocks: Iterable[Block]) -> str:
    """Blocks as plain text for a pipe or a file: nothing is cut and nothing is wrapped.

    >>> print(plain([Heading("Answer"), Pair("Cash", "$5.00"), Gap(), Text("Done.")]))
    Answer
      Cash         $5.00
    <BLANKLINE>
    Done.
    """
    lines: list[str] = []
    for block in blocks:
        match block:
            case Heading(text) | Text(text):
                lines.append(text)
            case Pair(label, text):
                lines.append(f"{INDENT}{label:<{LABEL_WIDTH - 1}} {text}")
            case Gap():
                lines.append("")
            case Table():
                lines.extend(_table_lines(block))
    return "\n".join(lines)


def _table_lines(block: Table) -> list[str]:
    rows = [block.titles, *block.rows]
    widths = [max(wide(row[i]) for row in rows) for i in range(len(block.titles))]
    return [aligned(row, widths, block.right) for row in rows]


def aligned(row: Sequence[str], widths: Sequence[int], right: frozenset[int]) -> str:
    """Cells side by side in columns of these widths, those of ``right`` against their right."""
    cells = []
    for i, cell in enumerate(row):
        space = " " * (widths[i] - wide(cell))
        cells.append(space + cell if i in right else cell + space)
    return (INDENT + "  ".join(cells)).rstrip()


def wide(text: str) -> int:
    """How many columns a text takes on a screen.

    >>> wide("sand"), wide("砂")
    (4, 2)
    """
    if text.isascii():
        return len(text)
    return sum(
        0 if unicodedata.combining(c) else 2 if unicodedata.east_asian_width(c) in "WF" else 1
        for c in text
    )


#: Stands for a space within a day while a text is parted.
_KEPT = "\x1f"

#: Where a line may end: not at a no-break space, nor between a number and its per cent.
_SPACE = re.compile(r"[ \t\n\r\f\v]+(?!%)")


def words_of(text: str) -> list[str]:
    """What of a text must not be parted at the end of a line.

    >>> words_of("about 5\u00a0€ an hour")
    ['about', '5\xa0€', 'an', 'hour']
    >>> words_of("order by Fri Dec 4")
    ['order', 'by', 'Fri Dec 4']
    """
    kept = DAY.sub(lambda day: day.group().replace(" ", _KEPT), text)
    return [word.replace(_KEPT, " ") for word in _SPACE.split(kept) if word]


def wrapped(text: str, width: int) -> list[str]:
    """A text in lines of at most ``width`` columns; only a word wider than that is broken.

    >>> wrapped("order from North Yard", 12)
    ['order from', 'North Yard']
    """
    lines = [""]
    for word in words_of(text):
        if lines[-1] and wide(lines[-1]) + 1 + wide(word) > width:
            lines.append("")
        head, rest = _broken(word, width - wide(lines[-1]) - bool(lines[-1]))
        lines[-1] += f" {head}" if lines[-1] else head
        while rest:
            head, rest = _broken(rest, width)
            lines.append(head)
    return lines


def _broken(word: str, width: int) -> tuple[str, str]:
    """As much of a word as so many columns hold, at least a letter, and the rest of it."""
    used = 0
    for n, letter in enumerate(word):
        used += wide(letter)
        if used > width and n:
            return word[:n], word[n:]
    return word, ""


def fitted(
    items: Sequence[str], width: int, lines: int, joint: str = "; ", counted: bool = True
) -> str:
    """As many items as fit in ``lines`` lines and, if ``counted``, how many more there are.

    The first item is always whole.

    >>> fitted(["Dig", "Base", "Lay", "Cut", "Joint"], 20, 1, ", ")
    'Dig, Base and 3 more'
    >>> fitted(["likely $5", "$6 is enough", "no doubt"], 28, 1)
    'likely $5; and 2 more'
    >>> fitted(["likely $5", "$6 is enough", "no doubt"], 28, 1, counted=False)
    'likely $5; $6 is enough'
    """
    and_ = " and" if joint == ", " else "; and"
    for shown in range(len(items), 1, -1):
        left = len(items) - shown
        more = f"{and_} {left} more" if left and counted else ""
        text = f"{joint.join(items[:shown])}{more}"
        if len(wrapped(text, width)) <= lines:
            return text
    return items[0] + (f"{and_} {len(items) - 1} more" if counted and len(items) > 1 else "")
