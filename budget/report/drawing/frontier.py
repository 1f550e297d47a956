"""Cash against own hours: the best plans joined by a line, other plans beside it."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING

from budget.report.drawing.svg import lettering, picture, share, tag

if TYPE_CHECKING:
    from markupsafe import Markup

HEIGHT = 320
_LEFT, _RIGHT = 5.0, 93.0  # per cent of the width
_TOP, _BOTTOM = 44.0, 268.0
_NARROW = 300.0  # px: the narrowest the chart is drawn; marks are kept apart for it
_APART = 23.0  # px between the middles of two numbers that can both be read
_LETTER_APART = 15.0  # px between the middles of two letters, or of a letter and a number


@dataclass(frozen=True, slots=True)
class Spot:
    """One plan: own hours, cash in cents, a short mark, and words to say about it."""

    hours: float
    cash: float
    mark: str
    words: str
    current: bool = False


@dataclass(frozen=True, slots=True)
class Ends:
    """What the ends of both axes are called."""

    least_cash: str
    most_cash: str
    least_hours: str
    most_hours: str


@dataclass(frozen=True, slots=True)
class _Scale:
    hours: tuple[float, float]
    cash: tuple[float, float]

    def x(self, hours: float) -> float:
        low, high = self.hours
        return _LEFT + (_RIGHT - _LEFT) * ((hours - low) / (high - low) if high > low else 0.5)

    def y(self, cash: float) -> float:
        low, high = self.cash
        return _BOTTOM - (_BOTTOM - _TOP) * ((cash - low) / (high - low) if high > low else 0.5)


def frontier(
    key: str, title: str, best: Sequence[Spot], others: Sequence[Spot], ends: Ends
) -> Markup:
    """The chart. ``best`` runs from the most own hours to the fewest; one of them is current."""
    spots = [*best, *others]
    scale = _Scale(
        (min(s.hours for s in spots), max(s.hours for s in spots)),
        (min(s.cash for s in spots), max(s.cash for s in spots)),
    )
    numbered = _numbered(scale, best)
    lettered = _lettered(scale, others, [best[i] for i in numbered])
    drawn = [_best(scale, i, spot, i in numbered) for i, spot in enumerate(best)]
    on_top = sorted(range(len(best)), key=lambda i: (best[i].current, i in numbered, i))
    return picture(
        key,
        title,
        *_frame(ends),
        *[_link(scale, a, b) for a, b in pairwise(best)],
        *[_other(scale, spot, i in lettered) for i, spot in enumerate(others)],
        *[drawn[i] for i in on_top],
        class_="chart",
        width="100%",
        height=HEIGHT,
    )


def _frame(ends: Ends) -> list[Markup]:
    edge = {"class_": "axis"}
    return [
        tag("line", x1=0, y1=_BOTTOM + 16, x2="100%", y2=_BOTTOM + 16, **edge),
        tag("line", x1=0, y1=_TOP - 16, x2=0, y2=_BOTTOM + 16, **edge),
        lettering(0, 16, f"cash, up to {ends.most_cash}", "quiet"),
        lettering(8, _BOTTOM + 8, ends.least_cash, "quiet"),
        lettering(0, _BOTTOM + 36, ends.least_hours, "quiet"),
        lettering("100%", _BOTTOM + 36, f"{ends.most_hours} of own work", "quiet end"),
    ]


def _link(scale: _Scale, a: Spot, b: Spot) -> Markup:
    return tag(
        "line",
        x1=share(scale.x(a.hours), 100),
        y1=scale.y(a.cash),
        x2=share(scale.x(b.hours), 100),
        y2=scale.y(b.cash),
        class_="link",
    )


def _numbered(scale: _Scale, best: Sequence[Spot]) -> set[int]:
    """The plans whose numbers have room: the current one, both ends, then the others in turn."""
    ends = (0, len(best) - 1)
    order = sorted(range(len(best)), key=lambda i: (not best[i].current, i not in ends, i))
    kept: list[int] = []
    for i in order:
        if all(math.dist(_at(scale, best[i]), _at(scale, best[j])) >= _APART for j in kept):
            kept.append(i)
    return set(kept)


def _lettered(scale: _Scale, others: Sequence[Spot], numbers: Sequence[Spot]) -> set[int]:
    """The other plans whose letters have room beside each other and beside the numbers."""
    taken = [_at(scale, spot) for spot in numbers]
    kept: set[int] = set()
    for i, spot in enumerate(others):
        x, y = _at(scale, spot)
        if all(math.dist((x, y - 13), place) >= _LETTER_APART for place in taken):
            taken.append((x, y - 13))
            kept.add(i)
    return kept


def _at(scale: _Scale, spot: Spot) -> tuple[float, float]:
    """Where a plan stands in px when the chart is at its narrowest."""
    return scale.x(spot.hours) / 100 * _NARROW, scale.y(spot.cash)


def _best(scale: _Scale, index: int, spot: Spot, numbered: bool) -> Markup:
    """A plan: a number in a ring, or a dot that grows to one when it is the current plan."""
    x, y = share(scale.x(spot.hours), 100), scale.y(spot.cash)
    kind = "point" if numbered else "point close"
    return tag(
        "g",
        tag("title", spot.words),
        tag("circle", cx=x, cy=y, r=11, class_="spot"),
        lettering(x, y + 4, spot.mark, "spot-text"),
        class_=f"{kind} current" if spot.current else kind,
        data_point=index,
    )


def _other(scale: _Scale, spot: Spot, lettered: bool) -> Markup:
    x, y = scale.x(spot.hours), scale.y(spot.cash)
    letter = [lettering(share(x, 100), y - 9, spot.mark, "quiet middle")] if lettered else []
    return tag(
        "g",
        tag("title", spot.words),
        tag("circle", cx=share(x, 100), cy=y, r=4, class_="other"),
        *letter,
    )


def ribbon(key: str, title: str, stops: Sequence[int], marks: Sequence[str], user: int) -> Markup:
    """A strip under the hour-value control: which plan is best at which of its stops.

    ``stops`` gives the plan of each stop in order; ``user`` is the stop of the user's own value.
    """
    last = max(1, len(stops) - 1)
    pieces: list[Markup] = []
    start = 0
    for i in range(1, len(stops) + 1):
        if i < len(stops) and stops[i] == stops[start]:
            continue
        pieces.append(_stretch(start, i, last, stops[start], marks[stops[start]]))
        start = i
    at = share(user, last)
    pieces.append(tag("line", x1=at, y1=28, x2=at, y2=35, class_="yours"))
    pieces.append(
        lettering(at, 46, "your value", "quiet " + _anchor(user / last)),
    )
    return picture(key, title, *pieces, class_="ribbon", width="100%", height=52)


def _anchor(along: float) -> str:
    if along < 0.15:
        return "start"
    return "end" if along > 0.85 else "middle"


def _stretch(start: int, end: int, last: int, plan: int, mark: str) -> Markup:
    low = max(0.0, start - 0.5)
    high = min(float(last), end - 0.5)
    bar = tag(
        "rect",
        x=share(low, last),
        y=2,
        width=share(high - low, last),
        height=26,
        class_="stretch",
        data_plan=plan,
    )
    if (high - low) / last < 0.045:
        return bar
    return tag("g", bar, lettering(share((low + high) / 2, last), 20, mark, "spot-text"))
