"""The cutting plan as a drawing: a bar for each stock length, to one scale, with its pieces."""

from __future__ import annotations

from typing import TYPE_CHECKING

from budget.report.drawing.svg import lettering, picture, share, tag
from budget.units import System, in_words

if TYPE_CHECKING:
    from markupsafe import Markup

    from budget.quantities.takeoff import Cut, CuttingPlan

ROW = 58
_BAR = 24
_LETTER = 0.023  # of the narrowest drawing's width that one character takes


def cutting(key: str, title: str, plan: CuttingPlan, system: System) -> Markup:
    """Bars of stock from end to end; lengths are shares of the longest one, text never shrinks."""
    longest = max(cut.stock for cut in plan.cuts)
    rows = [_row(n * ROW, cut, plan, longest, system) for n, cut in enumerate(plan.cuts)]
    height = len(plan.cuts) * ROW
    return picture(key, title, *rows, class_="chart cutting", width="100%", height=height)


def _row(top: float, cut: Cut, plan: CuttingPlan, longest: float, system: System) -> Markup:
    y = top + 24
    words = f"{cut.times} × {cut.item}, {in_words(cut.stock, plan.size, system)}"
    pieces = [lettering(0, top + 16, words, "strong")]
    pieces.append(
        tag("rect", x=0, y=y, width=share(cut.stock, longest), height=_BAR, class_="waste")
    )
    start = 0.0
    for name, length in zip(cut.names, cut.lengths, strict=True):
        size = in_words(length, plan.size, system)
        pieces.append(_piece(start / longest, length / longest, y, name, size))
        start += length + plan.kerf
    return tag("g", *pieces)


def _piece(start: float, wide: float, y: float, name: str, size: str) -> Markup:
    """One piece, its start and width as shares of the longest stock."""
    told = tag("title", f"{name}, {size}")
    bar = tag("rect", told, x=share(start, 1), y=y, width=share(wide, 1), height=_BAR,
              class_="sawn")  # fmt: skip
    bare = size.rpartition(" ")[0]  # the unit stands with the stock above it
    words = next((w for w in (f"{name} {size}", size, bare) if len(w) * _LETTER < wide), "")
    if not words:
        return bar
    middle = share(start + wide / 2, 1)
    return tag("g", bar, lettering(middle, y + _BAR / 2 + 4, words, "middle dimension"))
