"""Charts over weeks: lines of money or shares, and columns that go up and down from nought.

Every line has a dash and a mark of its own, so that no meaning hangs on a colour.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING

from budget.report.drawing.svg import fill, lettering, picture, share, tag

if TYPE_CHECKING:
    from markupsafe import Markup

HEIGHT = 260
_TOP, _BOTTOM = 24.0, 228.0
_SCALE = 15.0  # per cent of the width that the scale takes
_LEFT, _RIGHT = 17.0, 98.0  # per cent of the width, of the first and the last week
_TICKS = 5  # steps of the scale, at most
_DATES = 3  # dates under the chart, at most: more would not fit a phone
_COLUMN = 0.7  # of the room of one week
_WIDEST = 14.0  # per cent of the whole width, where there are few weeks

#: Looks of lines, in the order in which they are asked for: class, and what marks its points.
_LOOKS = (("trace first", "circle"), ("trace second", "square"), ("trace third", ""))


@dataclass(frozen=True, slots=True)
class Trace:
    """One line: a value for each week (None: not known) and what to say about each."""

    name: str
    values: Sequence[float | None]
    words: Sequence[str]


@dataclass(frozen=True, slots=True)
class Bars:
    """The columns of one kind: a value for each week, below nought downwards."""

    name: str
    values: Sequence[float]
    words: Sequence[str]
    number: int  # of its fill


@dataclass(frozen=True, slots=True)
class _Scale:
    low: float
    high: float
    weeks: int

    def x(self, week: int) -> float:
        return _LEFT + (_RIGHT - _LEFT) * (week / (self.weeks - 1) if self.weeks > 1 else 0.5)

    def y(self, value: float) -> float:
        return _BOTTOM - (_BOTTOM - _TOP) * (value - self.low) / (self.high - self.low)


#: A span below this is none: no money, hour or share is so small.
_NOTHING = 1e-9


def ticks(low: float, high: float) -> tuple[float, ...]:
    """Round values, evenly spaced, that reach from a low one to a high one and hold nought.

    >>> ticks(0, 6500)
    (0.0, 2000.0, 4000.0, 6000.0, 8000.0)
    >>> ticks(-0.2, 1)
    (-0.5, 0.0, 0.5, 1.0)
    >>> ticks(0, 0)
    (0.0, 1.0)
    """
    low, high = min(0.0, low), max(0.0, high)
    if high - low < _NOTHING:
        return tuple(map(float, range(math.floor(low), 2)))
    least = (high - low) / _TICKS
    power = 10.0 ** math.floor(math.log10(least))
    steps = (power * n for n in (1, 2, 5, 10, 20))
    for step in steps:
        first, last = math.floor(low / step + 1e-9), math.ceil(high / step - 1e-9)
        if last - first <= _TICKS:
            break
    return tuple(step * n for n in range(first, last + 1))


def lines(
    key: str, title: str, dates: Sequence[str], traces: Sequence[Trace], say: Callable[[float], str]
) -> Markup:
    """Lines over weeks; ``say`` puts a value of the scale in words."""
    known = [v for trace in traces for v in trace.values if v is not None]
    marks = ticks(min(known, default=0.0), max(known, default=0.0))
    scale = _Scale(marks[0], marks[-1], len(dates))
    drawn = [_trace(scale, trace, *_LOOKS[n]) for n, trace in enumerate(traces)]
    at = [scale.x(n) for n in range(len(dates))]
    return _whole(key, title, [*_grid(scale, marks, say), *drawn, *_dates(dates, at)])


def columns(
    key: str, title: str, dates: Sequence[str], kinds: Sequence[Bars], say: Callable[[float], str]
) -> Markup:
    """Columns over weeks, from nought upwards or downwards."""
    known = [value for bars in kinds for value in bars.values]
    marks = ticks(min(known, default=0.0), max(known, default=0.0))
    scale = _Scale(marks[0], marks[-1], len(dates))
    room = (100.0 - _SCALE) / max(1, len(dates))
    at = [_SCALE + room * (n + 0.5) for n in range(len(dates))]
    drawn = [_column(scale, at[n], room, n, bars) for bars in kinds for n in range(len(dates))]
    return _whole(key, title, [*_grid(scale, marks, say), *drawn, *_dates(dates, at)])


def _whole(key: str, title: str, children: Sequence[Markup]) -> Markup:
    return picture(key, title, *children, class_="chart", width="100%", height=HEIGHT)


def _grid(scale: _Scale, marks: Sequence[float], say: Callable[[float], str]) -> list[Markup]:
    found = []
    for mark in marks:
        y = scale.y(mark)
        class_ = "axis" if mark == 0 else "rule"
        start = share(_SCALE, 100)
        found.append(tag("line", x1=start, y1=y, x2="100%", y2=y, class_=class_))
        found.append(lettering(share(_SCALE - 1, 100), y + 4, say(mark), "quiet end"))
    return found


def _dates(dates: Sequence[str], at: Sequence[float]) -> list[Markup]:
    """The last date, and others as evenly before it as there is room for."""
    every = math.ceil(len(dates) / _DATES)
    shown = range((len(dates) - 1) % every, len(dates), every)
    return [
        lettering(share(at[n], 100), _BOTTOM + 22, dates[n], f"quiet {_anchor(at[n])}")
        for n in shown
    ]


def _anchor(along: float) -> str:
    return "end" if along > 90 else "middle"


def _trace(scale: _Scale, trace: Trace, class_: str, mark: str) -> Markup:
    spots = [(scale.x(n), scale.y(v)) for n, v in enumerate(trace.values) if v is not None]
    said = [w for v, w in zip(trace.values, trace.words, strict=True) if v is not None]
    links = [
        tag("line", x1=share(a[0], 100), y1=a[1], x2=share(b[0], 100), y2=b[1])
        for a, b in pairwise(spots)
    ]
    points = [_point(x, y, words, mark) for (x, y), words in zip(spots, said, strict=True)]
    return tag("g", tag("title", trace.name), *links, *points, class_=class_)


def _point(x: float, y: float, words: str, mark: str) -> Markup:
    """One week of a line; without a mark, room to point at."""
    told = tag("title", words)
    at = share(x, 100)
    if mark == "square":
        shape = tag("rect", told, x=-3.5, y=-3.5, width=7, height=7)
        return tag("svg", shape, x=at, y=y, overflow="visible", width=1, height=1)
    return tag("circle", told, cx=at, cy=y, r=4, class_="" if mark else "bare")


def _column(scale: _Scale, at: float, room: float, week: int, bars: Bars) -> Markup:
    nought, value = scale.y(0.0), scale.y(bars.values[week])
    width = min(room * _COLUMN, _WIDEST)
    return tag(
        "rect",
        tag("title", bars.words[week]),
        x=share(at - width / 2, 100),
        y=min(nought, value),
        width=share(width, 100),
        height=abs(value - nought),
        class_=fill(bars.number),
    )


def sample(number: int) -> Markup:
    """A short piece of one line, for a key beside the chart."""
    class_, mark = _LOOKS[number]
    line = tag("line", x1=0, y1=8, x2=28, y2=8)
    marks = {
        "circle": tag("circle", cx=14, cy=8, r=4),
        "square": tag("rect", x=10.5, y=4.5, width=7, height=7),
    }
    point = [marks[mark]] if mark else []
    group = tag("g", line, *point, class_=class_)
    return tag("svg", group, width=28, height=16, class_="sample", aria_hidden="true",
               focusable="false")  # fmt: skip
