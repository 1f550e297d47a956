"""Printing blocks: with rich where a terminal is attached, as plain text in a pipe."""

from __future__ import annotations

import contextlib
import math
import os
import shutil
import sys
from collections.abc import Callable, Iterable, Iterator
from typing import TYPE_CHECKING, TextIO

from budget.report.terminal.blocks import Block, plain
from budget.report.terminal.screen import Line, lines

if TYPE_CHECKING:
    from rich.console import Console
    from rich.text import Text as Styled

#: The window every answer is made to fit.
LINES, COLUMNS = 24, 80

_STYLES = {
    "plain": "", "warning": "yellow", "problem": "red", "strong": "bold", "faint": "dim",
}  # fmt: skip


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
        for line in lines(block, console.width):
            console.print(_rich(line), highlight=False, soft_wrap=True)


def _console(out: TextIO) -> Console:
    from rich.console import Console

    columns, _ = window(out) or (COLUMNS, LINES)
    plain_terminal = bool(os.environ.get("NO_COLOR")) or os.environ.get("TERM") == "dumb"
    if os.environ.get("TERM") == "dumb":
        return Console(file=out, width=columns, color_system=None, markup=False, emoji=False)
    return Console(
        file=out, width=columns, no_color=plain_terminal or None, markup=False, emoji=False
    )


def _rich(line: Line) -> Styled:
    """A line for rich, not to be broken: :mod:`budget.report.terminal.screen` has done so."""
    from rich.text import Text as Styled

    return Styled.assemble(*((piece.text, _STYLES[piece.style]) for piece in line))


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
    from budget.decide.programme.search import told

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
