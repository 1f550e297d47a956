"""The laid patterns as pictures for the Drawing sheet: every paver in its place, cut ones grey."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TYPE_CHECKING

from budget.quantities.takeoff import PatternDrawing, Takeoff
from budget.report.book.cells import Across, Cell, Column, Picture, Table
from budget.report.book.raster import Rings, blank, fill, outline, png
from budget.report.drawing.outline import box
from budget.report.laid import laid_of, laid_words

if TYPE_CHECKING:
    from budget.quantities.plan.parts import Ring

#: Dots for each pixel of a sheet, so that paper shows them fine.
_FINE = 2
_WIDE, _TALL, _FREE = 640, 440, 6  # pixels
_GREY, _LINE, _INK = 12, 7, 1


def pattern_tables(takeoff: Takeoff) -> list[Table]:
    """A picture with its count for every pattern laid out; what is too many to draw is said."""
    found = []
    for part, laid in laid_of(takeoff):
        words: list[list[Cell]] = [[Across(laid_words(laid, "grey"))]]
        title = f"{part}: {laid.item}, {laid.pattern}"
        found.append(Table([Column("")], words, title=title, headless=True,
                           chart=_picture(title, laid)))  # fmt: skip
    return found


def _picture(title: str, laid: PatternDrawing) -> Picture:
    low, high = box([point for ring in laid.outlines for point in ring])
    across, up = high[0] - low[0], high[1] - low[1]
    scale = min(_WIDE / across, _TALL / up) * _FINE
    free = _FREE * _FINE
    size = math.ceil(across * scale) + 2 * free, math.ceil(up * scale) + 2 * free

    def dots(rings: Sequence[Ring]) -> Rings:
        found = Rings.of(rings)
        moved = (found.corners - (low[0], high[1])) * (scale, -scale) + free
        return Rings(moved, found.counts)

    picture = blank(*size)
    whole, cut = (*laid.whole, *laid.border_whole), (*laid.cut, *laid.border_cut)
    fill(picture, dots(cut), _GREY)
    outline(picture, dots((*whole, *cut)), _LINE, 1)
    outline(picture, dots(laid.outlines), _INK, 3)
    return Picture(f"The laid pattern of {title}", png(picture), size[0] // _FINE,
                   size[1] // _FINE)  # fmt: skip
