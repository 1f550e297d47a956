"""The calendar as bars over days: who works when, and for how long each machine is had."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from budget.report.drawing.svg import (
    LINE,
    fill,
    lettering,
    lines_of,
    name_above,
    picture,
    share,
    tag,
)

if TYPE_CHECKING:
    from markupsafe import Markup

ROW = 38
_BAR = 14
_TOP = 26
_LEAST = 1.2  # per cent of the width, so that a short task is still seen
_MARKS = 3  # days named at the top, at most: more would not fit a phone


@dataclass(frozen=True, slots=True)
class Bar:
    """One row: its name, the spans of days (first, last), its fill, and what to say of it."""

    name: str
    spans: Sequence[tuple[int, int]]
    number: int  # of its fill
    words: str
    strong: bool = False  # sets the finish


def bars(key: str, title: str, rows: Sequence[Bar], marks: Sequence[tuple[int, str]]) -> Markup:
    """The chart. Lengths are shares of the width; ``marks`` are days to name, first to last."""
    first = min(a for row in rows for a, _ in row.spans)
    last = max(b for row in rows for _, b in row.spans) + 1
    more = LINE * (lines_of(row.words for row in rows) - 1)  # for words in several lines
    tall = ROW + more
    height = _TOP + len(rows) * tall
    drawn = [_mark(day, words, first, last, height) for day, words in _some(marks)]
    drawn += [_row(row, _TOP + i * tall + more, first, last) for i, row in enumerate(rows)]
    return picture(key, title, *drawn, class_="chart", width="100%", height=height)


def _some(marks: Sequence[tuple[int, str]]) -> Sequence[tuple[int, str]]:
    every = -(-len(marks) // _MARKS)
    return marks[:: max(1, every)]


def _mark(day: int, words: str, first: int, last: int, height: int) -> Markup:
    at = share(day - first, last - first)
    line = tag("line", x1=at, y1=18, x2=at, y2=height, class_="rule")
    side = "end" if day - first > 0.75 * (last - first) else "start"
    return tag("g", line, lettering(at, 12, words, f"quiet {side}"))


def _row(row: Bar, top: float, first: int, last: int) -> Markup:
    whole = last - first
    label = name_above(top + 13, row.words, "strong" if row.strong else "")
    spans = [
        tag(
            "rect",
            tag("title", row.words),
            x=share(min(a - first, whole * (1 - _LEAST / 100)), whole),
            y=top + 18,
            width=share(max(b + 1 - a, whole * _LEAST / 100), whole),
            height=_BAR,
            class_=fill(row.number),
        )
        for a, b in row.spans
    ]
    return tag("g", label, *spans)
