"""Three drawings of how sure a sum is: ranges side by side, a curve of chances, and swings.

Lengths are shares of the width, so that the lettering keeps its size on a phone and on paper.
What matters is told by place, shape and words; colour only helps.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING

from budget.report.drawing.svg import LINE, lettering, lines_of, name_above, picture, share, tag

if TYPE_CHECKING:
    from markupsafe import Markup

_ROW = 64
_BAR = 12
_LEFT, _RIGHT = 2.0, 98.0  # per cent of the width


@dataclass(frozen=True, slots=True)
class Scale:
    """Where sums lie across a drawing."""

    low: float
    high: float

    def at(self, value: float) -> float:
        """A sum's place in per cent of the width, kept inside the drawing."""
        wide = self.high - self.low
        along = (value - self.low) / wide if wide > 0 else 0.5
        return _LEFT + (_RIGHT - _LEFT) * min(1.0, max(0.0, along))


@dataclass(frozen=True, slots=True)
class _Row:
    """How tall a row is, and how much of it the further lines of long names take."""

    more: int

    @classmethod
    def of(cls, names: Sequence[str]) -> _Row:
        return cls(LINE * (lines_of(names) - 1))

    @property
    def tall(self) -> int:
        return _ROW + self.more

    def top(self, index: int) -> int:
        """Where a row begins, further lines of its name above it."""
        return index * self.tall + self.more


@dataclass(frozen=True, slots=True)
class Range:
    """One plan: its name, the ends of its bar, its middle and its safe sum, and words."""

    name: str
    low: float
    middle: float
    high: float
    safe: float
    words: str
    marked: bool = False


@dataclass(frozen=True, slots=True)
class Mark:
    """A sum to point at, with what it is."""

    value: float
    words: str


@dataclass(frozen=True, slots=True)
class Swing:
    """One unknown: the sums at its low and its high end, with words for each."""

    name: str
    low: float
    high: float
    low_words: str
    high_words: str


def ranges(
    key: str, title: str, plans: Sequence[Range], ends: tuple[str, str], limit: Mark | None
) -> Markup:
    """Cost ranges: a bar for each plan, a stroke in its middle, a diamond at its safe sum."""
    low, high = min(p.low for p in plans), max(p.high for p in plans)
    scale = Scale(low, high)
    row = _Row.of([plan.name for plan in plans])
    bottom = len(plans) * row.tall
    rows = [_range(scale, row.top(i), plan) for i, plan in enumerate(plans)]
    inside = limit is not None and low < limit.value < high
    line = (
        _beside_bars(scale, limit, len(plans), row, "yours") if limit is not None and inside else []
    )
    line += [_below(scale, limit, bottom + 42)] if limit is not None and inside else []
    return picture(
        key, title, *line, *rows, *_axis(bottom + 8, ends),
        class_="chart", width="100%", height=bottom + 32 + (18 if line else 0),
    )  # fmt: skip


def _range(scale: Scale, top: float, plan: Range) -> Markup:
    y = top + 40
    start, end = scale.at(plan.low), scale.at(plan.high)
    middle = share(scale.at(plan.middle), 100)
    return tag(
        "g",
        tag("title", f"{plan.name}: {plan.words}"),
        name_above(top + 16, plan.name, "halo strong" if plan.marked else "halo"),
        lettering(0, top + 32, plan.words, "halo quiet"),
        tag(
            "rect", x=share(start, 100), y=y, width=share(max(0.4, end - start), 100),
            height=_BAR, class_="fill-0" if plan.marked else "hours-bar",
        ),
        tag("line", x1=middle, y1=y - 4, x2=middle, y2=y + _BAR + 4, class_="link"),
        _diamond(scale.at(plan.safe), y + _BAR + 7),
    )  # fmt: skip


def _diamond(at: float, y: float) -> Markup:
    """A small square on its corner; the inner drawing lets it sit at a share of the width."""
    corners = "0,-5 5,0 0,5 -5,0"
    return tag(
        "svg", tag("polygon", points=corners, class_="other"), x=share(at, 100), y=y,
        overflow="visible",
    )  # fmt: skip


def _beside_bars(scale: Scale, mark: Mark, count: int, row: _Row, style: str) -> list[Markup]:
    """An upright stroke at a sum beside every bar, none through the words between them."""
    x = share(scale.at(mark.value), 100)
    tops = [row.top(i) + 36 for i in range(count)]
    return [tag("line", x1=x, y1=y, x2=x, y2=y + 28, class_=style) for y in tops]


def _below(scale: Scale, mark: Mark, y: float) -> Markup:
    at, side = _beside(scale.at(mark.value), mark.words)
    return lettering(share(at, 100), y, mark.words, f"quiet {side}")


_NARROW = 288.0  # px: the narrowest a drawing is shown
_LETTER = 6.6  # px that a letter takes on average


def _beside(at: float, words: str) -> tuple[float, str]:
    """Where words about a place stand, and by which end, so that a narrow drawing holds them."""
    wide = 100 * len(words) * _LETTER / _NARROW
    if at >= wide / 2 and at + wide / 2 <= 100:
        return at, "middle"
    if at + wide <= 100:
        return at, "start"
    return (at, "end") if at >= wide else (0.0, "start")


def _axis(y: float, ends: tuple[str, str]) -> list[Markup]:
    return [
        tag("line", x1=0, y1=y, x2="100%", y2=y, class_="axis"),
        lettering(0, y + 16, ends[0], "quiet"),
        lettering("100%", y + 16, ends[1], "quiet end"),
    ]


_TALL = 192.0  # px that the curve is high
_FLAG = 18  # px: a flag, and what each further pole is shorter by


def chances(
    key: str, title: str, curve: Sequence[float], ends: tuple[str, str], marks: Sequence[Mark]
) -> Markup:
    """The chance of staying within a sum: ``curve`` at equal steps of chance, 0 to all cases.

    Every mark is a pole with a numbered flag; the numbers are told below. Poles get shorter to
    the right and flags fly right of them, so that no pole runs through a flag.
    """
    marks = sorted(marks, key=lambda mark: mark.value)
    scale = Scale(min(curve[0], marks[0].value), max(curve[-1], marks[-1].value))
    top = 8.0 + _FLAG * len(marks)
    bottom = top + _TALL
    steps = len(curve) - 1
    points = [(scale.at(v), bottom - _TALL * i / steps) for i, v in enumerate(curve)]
    drawn = [
        tag("line", x1=share(a, 100), y1=b, x2=share(c, 100), y2=d, class_="link")
        for (a, b), (c, d) in pairwise(points)
    ]
    levels = {tenths: bottom - _TALL * tenths / 10 for tenths in (2, 5, 8)}
    told = bottom + 40
    return picture(
        key, title,
        *(_level(y) for y in levels.values()),
        *(_pole(scale.at(m.value), 2 + _FLAG * i, bottom) for i, m in enumerate(marks)),
        *drawn,
        *(_flag(share(scale.at(m.value), 100), 2 + _FLAG * i, i) for i, m in enumerate(marks)),
        *(_level_name(y, tenths) for tenths, y in levels.items()),
        *_axis(bottom, ends),
        *(_told(told + _FLAG * i, i, mark) for i, mark in enumerate(marks)),
        class_="chart", width="100%", height=told + _FLAG * len(marks) - 8,
    )  # fmt: skip


def _level(y: float) -> Markup:
    return tag("line", x1=0, y1=y, x2="100%", y2=y, class_="axis", stroke_dasharray="2 4")


def _level_name(y: float, tenths: int) -> Markup:
    return lettering("97%", y - 4, f"{tenths} of 10 cases", "halo quiet end")


def _pole(at: float, top: float, bottom: float) -> Markup:
    return tag("line", x1=share(at, 100), y1=top, x2=share(at, 100), y2=bottom, class_="pole")


def _flag(x: str, y: float, index: int) -> Markup:
    """A small box with a number; the inner drawing lets it sit at a share of the width."""
    box = tag("rect", x=0, y=0, width=16, height=16, class_="other")
    return tag(
        "svg",
        box,
        lettering(8, 12, str(index + 1), "badge-text"),
        x=x,
        y=y,
        overflow="visible",
        aria_hidden="true",
    )


def _told(y: float, index: int, mark: Mark) -> Markup:
    return tag("g", _flag("0%", y - 12, index), lettering(24, y, mark.words))


def swings(key: str, title: str, found: Sequence[Swing], middle: Mark) -> Markup:
    """What each unknown does alone: a bar over the sums at its low end, as written and at its high.

    Both ends may lie on one side: whole loads and free deliveries make less dearer, too.
    """
    every = [v for s in found for v in (s.low, s.high)] + [middle.value]
    scale = Scale(min(every), max(every))
    row = _Row.of([swing.name for swing in found])
    bottom = len(found) * row.tall
    rows = [_swing(scale, row.top(i), swing, middle.value) for i, swing in enumerate(found)]
    return picture(
        key, title,
        *rows,
        *_beside_bars(scale, middle, len(found), row, "link"),
        _below(scale, middle, bottom + 20),
        class_="chart", width="100%", height=bottom + 28,
    )  # fmt: skip


def _swing(scale: Scale, top: float, swing: Swing, written: float) -> Markup:
    y = top + 40
    ends = [scale.at(value) for value in (swing.low, written, swing.high)]
    first, last = min(ends), max(ends)
    said = f"{swing.low_words} at its low end, {swing.high_words} at its high end"
    return tag(
        "g",
        tag("title", f"{swing.name}: {said}"),
        name_above(top + 16, swing.name, "halo"),
        lettering(0, top + 32, said, "halo quiet"),
        tag(
            "rect", x=share(first, 100), y=y, width=share(max(0.4, last - first), 100),
            height=_BAR, class_="piece fill-4",
        ),
    )  # fmt: skip
