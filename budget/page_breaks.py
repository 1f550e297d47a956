"""How a sheet falls on paper: one page wide, and no table torn that could stand whole.

Sizes are those of ISO 216 (A4) and of US letter paper, in points, less the margins set here.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from budget.units import System

#: Margins in inches: left and right, top, bottom.
SIDE, TOP, BOTTOM = 0.5, 0.6, 0.7
#: Points that a row takes if nothing is said.
ROW = 15.0
#: Points of a digit and around a column's digits, as LibreOffice has them: Arial's digits are 0.556
#: of its size. Excel rounds the 5.56 points of ours to 7 pixels, which are 5.25.
_CHARACTER, _EDGE = 5.56, 3.75
#: Programs measure fonts a little differently; so much of a page is left free.
_SPARE = 0.05
#: A sheet that is longer than a page by no more than this is shrunk to stand on one, in steps.
_SQUEEZE, _STEP, _STEPS = 1.42, 0.02, 16
#: Of so many pages nobody minds how the last is filled, of so many whether there is one more.
_MANY, _LONG = 8, 24
_TRIFLE = 0.01
#: So many rows of a torn table stand together on its first and on its last page.
_KEEP = 3
_SHEETS: Mapping[System, tuple[float, float]] = {
    "imperial": (612.0, 792.0),
    "metric": (595.3, 841.9),
}


@dataclass(frozen=True, slots=True)
class Stretch:
    """Rows that belong together, counted from 0; ``new_page`` where they must begin one.

    The first ``head`` rows are headings, of which the last ``again`` stand on each page. What
    ``stays`` is on the page of the rows before it, if one holds both.
    """

    first: int
    last: int
    new_page: bool = False
    head: int = 0
    again: int = 0
    stays: bool = False


@dataclass(frozen=True, slots=True)
class Paper:
    """Paper of one unit system, and how far a sheet's columns must be shrunk to its width."""

    system: System
    upright: bool
    widths: Sequence[int]

    @property
    def scale(self) -> float:
        """The share of its size at which a sheet is one page wide; 1 at most."""
        wide = min(_SHEETS[self.system]) if self.upright else max(_SHEETS[self.system])
        taken = sum(width * _CHARACTER + _EDGE for width in self.widths)
        return min(1.0, (wide - 144 * SIDE) / taken)

    @staticmethod
    def percent(scale: float) -> int:
        """What is asked of a program to print at, a trifle less so that no column is left over."""
        return int(100 * scale * (1 - _TRIFLE))

    def room(self, scale: float) -> float:
        """How many points of rows a page holds at a scale.

        >>> [round(Paper("imperial", True, [10]).room(scale)) for scale in (1, 0.5)]
        [663, 1327]
        """
        return self._high / scale * (1 - _SPARE)

    @property
    def spare(self) -> float:
        """How many points of a page are left free at full size; no fewer at a smaller one."""
        return self._high * _SPARE

    @property
    def _high(self) -> float:
        high = max(_SHEETS[self.system]) if self.upright else min(_SHEETS[self.system])
        return high - 72 * (TOP + BOTTOM)


def breaks(stretches: Sequence[Stretch], heights: Mapping[int, float], page: float) -> list[int]:
    """The rows before which a new page begins; ``heights`` of rows that are not usual.

    A table longer than a page is torn where a page is full, never close to its ends.

    >>> breaks([Stretch(0, 9), Stretch(10, 29), Stretch(31, 40)], {}, 400)
    [10, 30]
    >>> breaks([Stretch(0, 9), Stretch(10, 49)], {}, 400)
    [26]
    >>> breaks([Stretch(0, 27)], {}, 400)  # two rows would be left over
    [25]
    >>> breaks([Stretch(0, 9), Stretch(10, 19), Stretch(20, 29, stays=True)], {}, 400)
    [10]
    """
    found: list[int] = []
    used, row = 0.0, 0
    for stretch in _joined(stretches, heights, page):
        gap = _tall(heights, row, stretch.first)
        tall = _tall(heights, stretch.first, stretch.last + 1)
        least = _tall(heights, stretch.first, stretch.first + stretch.head + _KEEP)
        room = page - used - gap
        if row and (stretch.new_page or room < (tall if tall <= page else least)):
            # The blank row goes with what follows: alone on a page it would print an empty one.
            beyond = gap + tall > page >= tall
            found.append(stretch.first if beyond else row)
            used = 0.0 if beyond else gap
        else:
            used += gap
        torn = _torn(stretch, heights, page, used)
        found += torn
        again = _tall(heights, stretch.first + stretch.head - stretch.again,
                      stretch.first + stretch.head)  # fmt: skip
        used = (again if torn else used) + _tall(
            heights, torn[-1] if torn else stretch.first, stretch.last + 1
        )
        row = stretch.last + 1
    return found


def _joined(
    stretches: Sequence[Stretch], heights: Mapping[int, float], page: float
) -> list[Stretch]:
    """What stays with the rows before it made one with them, where a page holds both."""
    found: list[Stretch] = []
    for stretch in stretches:
        before = found[-1] if found and stretch.stays else None
        if before and _tall(heights, before.first, stretch.last + 1) <= page:
            found[-1] = replace(before, last=stretch.last)
        else:
            found.append(stretch)
    return found


def _tall(heights: Mapping[int, float], first: int, beyond: int) -> float:
    return sum(heights.get(row, ROW) for row in range(first, beyond))


def _torn(stretch: Stretch, heights: Mapping[int, float], page: float, used: float) -> list[int]:
    """The rows of one table before which a page begins; ``used`` are the points before it."""
    found: list[int] = []
    body = stretch.first + stretch.head
    again = _tall(heights, body - stretch.again, body)
    for row in range(stretch.first, stretch.last + 1):
        high = heights.get(row, ROW)
        if used + high > page:
            found.append(min(row, max(body + _KEEP, stretch.last + 1 - _KEEP)))
            used = again + _tall(heights, found[-1], row)
        used += high
    return list(dict.fromkeys(found))


def evenly(stretches: Sequence[Stretch], heights: Mapping[int, float], page: float) -> list[int]:
    """The breaks that fill as many pages as :func:`breaks` needs most alike.

    >>> evenly([Stretch(0, 9), Stretch(10, 19), Stretch(20, 24), Stretch(25, 29)], {}, 400)
    [20]
    """
    stretches = _joined(stretches, heights, page)
    found = breaks(stretches, heights, page)
    if len(found) >= _MANY:
        return found
    for share in range(95, 45, -5):
        tighter = breaks(stretches, heights, page * share / 100)
        if len(tighter) > len(found) or _tears(stretches, tighter) > _tears(stretches, found):
            break
        found = tighter
    return found


def falls(
    paper: Paper, stretches: Sequence[Stretch], heights: Mapping[int, float], least: float
) -> tuple[float, list[int]]:
    """The scale to print at, ``least`` or more, and the rows before which a new page begins.

    A sheet is shrunk further than its width asks for where that saves pages: by so much for the
    only page saved of two, by less where the page saved is one of many.

    >>> paper = Paper("imperial", True, [90])
    >>> tables = [Stretch(0, 29), Stretch(30, 45)]
    >>> scale, found = falls(paper, tables, {}, 0.6)
    >>> round(scale, 2), found
    (0.96, [])
    >>> falls(paper, tables, {}, 0.97)
    (1.0, [30])
    """
    widest = paper.scale
    best = widest, evenly(stretches, heights, paper.room(widest))
    pages = len(best[1]) + 1
    if pages > _LONG:
        return best
    for step in range(1, _STEPS):
        scale = widest * (1 - _STEP * step)
        found = evenly(stretches, heights, paper.room(scale))
        saved = pages - len(found) - 1
        allowed = 1 + (_SQUEEZE - 1) * saved / (len(found) + 1)
        if scale >= least and saved and widest <= scale * allowed and len(found) < len(best[1]):
            best = scale, found
    return best


def _tears(stretches: Sequence[Stretch], found: Sequence[int]) -> int:
    """How many tables are torn."""
    return sum(any(s.first < row <= s.last for row in found) for s in stretches)
