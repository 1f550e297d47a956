"""Bars: money stacked by group with own hours beside it, one row for each scenario."""

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

ROW = 66
_BAR = 22
_MONEY_END = 66.0  # per cent of the width that the money bars may fill
_HOURS_START = 72.0
_HOURS_END = 99.0
_LABEL_LEAST = 5.0  # per cent of the width that a segment needs to carry its number


@dataclass(frozen=True, slots=True)
class Segment:
    """A piece of a stacked bar: which fill, how long, and what to say about it."""

    number: int  # of the group, counted from 1, as in the key
    value: float
    words: str


@dataclass(frozen=True, slots=True)
class Bar:
    """One row: a name, money in segments, and hours."""

    name: str
    segments: tuple[Segment, ...]
    money: str
    hours: float
    hours_words: str
    marked: bool = False


def stacked(key: str, title: str, bars: Sequence[Bar]) -> Markup:
    """The chart of all scenarios. Lengths are shares of the width, so text never shrinks."""
    most_money = max((sum(s.value for s in bar.segments) for bar in bars), default=0.0)
    most_hours = max((bar.hours for bar in bars), default=0.0)
    more = LINE * (lines_of(bar.name for bar in bars) - 1)  # for names in several lines
    tall = ROW + more
    rows = [_row(i * tall + more, bar, most_money, most_hours) for i, bar in enumerate(bars)]
    height = max(1, len(bars)) * tall
    return picture(key, title, *rows, class_="chart", width="100%", height=height)


def _row(top: float, bar: Bar, most_money: float, most_hours: float) -> Markup:
    y = top + 38
    pieces: list[Markup] = [
        name_above(top + 15, bar.name, "strong" if bar.marked else ""),
        lettering(0, top + 32, bar.money, "figure"),
        lettering(f"{_HOURS_START}%", top + 32, bar.hours_words, "figure"),
    ]
    start = 0.0
    for segment in bar.segments:
        wide = _MONEY_END * segment.value / most_money if most_money else 0.0
        pieces.append(_segment(start, wide, y, segment))
        start += wide
    hours = (_HOURS_END - _HOURS_START) * bar.hours / most_hours if most_hours else 0.0
    pieces.append(
        tag(
            "rect",
            tag("title", f"{bar.name}: {bar.hours_words}"),
            x=f"{_HOURS_START}%",
            y=y,
            width=share(hours, 100),
            height=_BAR,
            class_="hours-bar",
        )
    )
    return tag("g", *pieces)


def _segment(start: float, wide: float, y: float, segment: Segment) -> Markup:
    bar = tag(
        "rect",
        tag("title", segment.words),
        x=share(start, 100),
        y=y,
        width=share(wide, 100),
        height=_BAR,
        class_=f"piece {fill(segment.number - 1)}",
    )
    if wide < _LABEL_LEAST:
        return bar
    return tag("g", bar, _label(start + wide / 2, y + _BAR / 2, str(segment.number)))


def _label(at: float, y: float, number: str) -> Markup:
    """A number on a ground of its own, wide enough to keep every texture off the digits."""
    half = 5 + 3.5 * len(number)
    ground = tag("rect", x=-half, y=-8, width=2 * half, height=16, rx=3, class_="badge")
    text = lettering(0, 4, number, "badge-text")
    return tag("svg", ground, text, x=share(at, 100), y=y, overflow="visible", aria_hidden="true")
