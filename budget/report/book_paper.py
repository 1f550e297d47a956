"""How a sheet falls on paper: one page wide, and no table torn that could stand whole.

Sizes are those of ISO 216 (A4) and of US letter paper, in points, less the margins set here.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from budget.units import System

#: Margins in inches: left and right, top, bottom.
SIDE, TOP, BOTTOM = 0.5, 0.6, 0.7
#: Points that a row takes if nothing is said; of a column's width in characters.
ROW = 15.0
_CHARACTER, _EDGE = 5.25, 3.75  # 7 pixels a digit and 5 around them, at 96 to the inch
#: Programs measure fonts a little differently; so much of a page is left free.
_SPARE = 0.05
#: A sheet that is longer than a page by no more than this is shrunk to stand on one, but never
#: below this share of its size: 10 points are then still about 6.
_SQUEEZE, _SMALLEST = 1.42, 0.58
_SHEETS: Mapping[System, tuple[float, float]] = {
    "imperial": (612.0, 792.0),
    "metric": (595.3, 841.9),
}


@dataclass(frozen=True, slots=True)
class Stretch:
    """Rows that belong together, counted from 0; ``new_page`` where they must begin one."""

    first: int
    last: int
    new_page: bool = False


def room(system: System, upright: bool, widths: Sequence[int]) -> float:
    """How many points of rows a page holds when the columns are shrunk to its width.

    >>> round(room("imperial", True, [10]))
    663
    >>> room("imperial", False, [100, 100]) > room("imperial", False, [60, 60])
    True
    """
    high = max(_SHEETS[system]) if upright else min(_SHEETS[system])
    return (high - 72 * (TOP + BOTTOM)) / _scale(system, upright, widths) * (1 - _SPARE)


def _scale(system: System, upright: bool, widths: Sequence[int]) -> float:
    """How far columns are shrunk to the width of a page."""
    wide = min(_SHEETS[system]) if upright else max(_SHEETS[system])
    taken = sum(width * _CHARACTER + _EDGE for width in widths)
    return min(1.0, (wide - 144 * SIDE) / taken)


def pages_down(system: System, upright: bool, widths: Sequence[int], tall: float) -> int:
    """On how many pages a sheet of so many points is better shrunk than left a few rows over.

    Nothing where it falls well by itself.

    >>> [pages_down("imperial", True, [90], tall) for tall in (600, 700, 999, 1400)]
    [0, 1, 0, 2]
    """
    pages = tall / room(system, upright, widths)
    whole = int(pages)
    most = 1 + (_SQUEEZE - 1) / whole if whole else 0.0
    smaller = min(most, _scale(system, upright, widths) / _SMALLEST)
    return whole if whole < pages <= whole * smaller else 0


def breaks(stretches: Sequence[Stretch], heights: Mapping[int, float], page: float) -> list[int]:
    """The rows before which a new page begins; ``heights`` of rows that are not usual.

    >>> breaks([Stretch(0, 9), Stretch(10, 29), Stretch(31, 40)], {}, 400)
    [10, 30]
    >>> breaks([Stretch(0, 9), Stretch(10, 49)], {}, 400)  # longer than a page: it must be torn
    []
    """
    found = []
    used = 0.0
    row = 0
    for stretch in stretches:
        gap = sum(heights.get(n, ROW) for n in range(row, stretch.first))
        tall = sum(heights.get(n, ROW) for n in range(stretch.first, stretch.last + 1))
        torn = used + gap + tall > page >= tall
        if row and (stretch.new_page or torn):
            # The blank row goes with what follows: alone on a page it would print an empty one.
            beyond = gap + tall > page >= tall
            found.append(stretch.first if beyond else row)
            used = 0.0 if beyond else gap
        else:
            used += gap
        used = (used + tall) % page if used + tall > page else used + tall
        row = stretch.last + 1
    return found
