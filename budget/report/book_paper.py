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
    short, long = _SHEETS[system]
    wide, high = (short, long) if upright else (long, short)
    taken = sum(width * _CHARACTER + _EDGE for width in widths)
    scale = min(1.0, (wide - 144 * SIDE) / taken)
    return (high - 72 * (TOP + BOTTOM)) / scale * (1 - _SPARE)


def breaks(stretches: Sequence[Stretch], heights: Mapping[int, float], page: float) -> list[int]:
    """The rows before which a new page begins; ``heights`` of rows that are not usual.

    >>> breaks([Stretch(0, 9), Stretch(10, 29), Stretch(30, 39)], {}, 400)
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
        if used and (stretch.new_page or torn):
            found.append(stretch.first)
            used = 0.0
        else:
            used += gap
        used = (used + tall) % page if used + tall > page else used + tall
        row = stretch.last + 1
    return found
