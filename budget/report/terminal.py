"""Printing blocks: with rich where a terminal is attached, as plain text in a pipe."""

from __future__ import annotations

import contextlib
import math
import os
import shutil
import sys
from collections.abc import Callable, Iterable, Iterator
from typing import TYPE_CHECKING, TextIO

from budget.report.blocks import (
    INDENT,
    LABEL_WIDTH,
    Block,
    Gap,
    Heading,
    Pair,
    Table,
    Text,
    plain,
    wrapped,
)

if TYPE_CHECKING:
    from rich.console import Console, RenderableType

#: The window every answer is made to fit.
LINES, COLUMNS = 24, 80

_STYLES = {"plain": "", "warning": "yellow", "problem": "red"}


def attached(stream: TextIO) -> bool:
    """True where a person's terminal reads the stream."""
    return stream.isatty()


def window(stream: TextIO) -> tuple[int, int] | None:
    """Columns and lines of the terminal that reads the stream, None in a pipe."""
    if not attached(stream):
        return None
    size = shutil.get_terminal_size((COLUMNS, LINES))
    return max(40, size.columns), max(10, size.lines)


def show(blocks: Iterable[Block], stream: TextIO | None = None) -> None:
    """Print blocks: wrapped to the window on a terminal, plain and whole elsewhere."""
    out = stream or sys.stdout
    if not attached(out):
        out.write(plain(blocks) + "\n")
        out.flush()
        return
    console = _console(out)
    for block in blocks:
        console.print(_rich(block, console.width), highlight=False, soft_wrap=False)


def _console(out: TextIO) -> Console:
    from rich.console import Console

    columns, _ = window(out) or (COLUMNS, LINES)
    plain_terminal = bool(os.environ.get("NO_COLOR")) or os.environ.get("TERM") == "dumb"
    if os.environ.get("TERM") == "dumb":
        return Console(file=out, width=columns, color_system=None, markup=False, emoji=False)
    return Console(
        file=out, width=columns, no_color=plain_terminal or None, markup=False, emoji=False
    )


def _rich(block: Block, columns: int) -> RenderableType:
    """A block for rich. Lines are broken by us, as :func:`fitting.height` counts them: rich
    would break a sum of money before the sign that follows it.
    """
    from rich.padding import Padding
    from rich.table import Table as Grid
    from rich.text import Text as Styled

    match block:
        case Heading(text):
            return Styled("\n".join(wrapped(text, columns)), style="bold")
        case Text(text, style):
            return Styled("\n".join(wrapped(text, columns)), style=_STYLES[style])
        case Pair(label, text):
            grid = Grid.grid(padding=(0, 1, 0, 0))
            grid.add_column(width=LABEL_WIDTH - 1, no_wrap=True)
            grid.add_column(overflow="fold")
            room = columns - LABEL_WIDTH - len(INDENT)
            lines = "\n".join(wrapped(text, room))
            grid.add_row(Styled(label, style="dim"), Styled(lines))
            return Padding(grid, (0, 0, 0, len(INDENT)), expand=False)
        case Table():
            return Padding(_grid(block), (0, 0, 0, len(INDENT)), expand=False)
        case Gap():
            return ""


def _grid(block: Table) -> RenderableType:
    from rich.table import Table as Grid
    from rich.text import Text as Styled

    grid = Grid(box=None, pad_edge=False, padding=(0, 2, 0, 0), header_style="dim")
    for i, title in enumerate(block.titles):
        number = i in block.right
        grid.add_column(
            Styled(title), justify="right" if number else "left", overflow="fold", no_wrap=number
        )
    for i, row in enumerate(block.rows):
        last = block.total and i == len(block.rows) - 1
        grid.add_row(*(Styled(cell) for cell in row), style="bold" if last else "")
    return grid


@contextlib.contextmanager
def working(message: str, quiet: bool = False) -> Iterator[None]:
    """Say what is being worked on, on a terminal's error stream, until it is done."""
    if quiet or not attached(sys.stderr) or os.environ.get("TERM") == "dumb":
        yield
        return
    with _console(sys.stderr).status(message):
        yield


@contextlib.contextmanager
def planning(message: str, quiet: bool = False) -> Iterator[None]:
    """The same while plans are searched for; a long search tells how far it has come."""
    from budget.decide.search import told

    if quiet or not attached(sys.stderr) or os.environ.get("TERM") == "dumb":
        yield
        return
    with (
        _console(sys.stderr).status(message) as status,
        told(lambda seconds, gap: status.update(f"{message} {progress(seconds, gap)}")),
    ):
        yield


def progress(seconds: float, gap: float) -> str:
    """How far one search has come.

    >>> progress(3.2, 0.0241), progress(0.6, float("inf"))
    ('this search takes 3 s so far, best so far, gap 2.4 %', 'this search takes 1 s so far')
    """
    from budget.decide.wording import so_far

    taken = f"this search takes {max(1, round(seconds))} s so far"
    return f"{taken}, {so_far(gap)}" if math.isfinite(gap) else taken


@contextlib.contextmanager
def counting(message: str, count: int, quiet: bool = False) -> Iterator[Callable[[str], None]]:
    """A bar on a terminal's error stream; the function given is called for each that is done."""
    if quiet or not attached(sys.stderr) or os.environ.get("TERM") == "dumb":
        yield lambda _name: None
        return
    from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn

    columns = (TextColumn("{task.description}", markup=False), BarColumn(), MofNCompleteColumn())
    with Progress(*columns, console=_console(sys.stderr), transient=True) as bar:
        task = bar.add_task(message, total=count)
        yield lambda name: bar.update(task, advance=1, description=f"{message}, done: {name}")
