"""Timber and steel sections: nominal and true sizes, strips out of a board, true surface.

Dressed timber is smaller than its name (PS 20); a square steel tube is as large as its name
(ASTM A500), so its wall is all that must be taken off.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

from budget.figures import Figure, constant, default, minus, product, total
from budget.job import Product
from budget.reference import rows
from budget.units import AREA, DEPTH, INCH, INERTIA, LENGTH, NUMBER


@dataclass(frozen=True, slots=True)
class Dressed:
    """A nominal size and the true size behind it [m]."""

    nominal: str
    thickness: float
    width: float
    source: str

    def figure(self, which: str) -> Figure:
        """The true ``thickness`` or ``width``, as a default with its source."""
        key = f"reference:lumber {self.nominal} {which}"
        return default(getattr(self, which), DEPTH, f"true {which} of a {self.nominal}", key,
                       self.source)  # fmt: skip


@lru_cache(maxsize=1)
def dressed_sizes() -> dict[str, Dressed]:
    """Every nominal size of the table."""
    return {
        row["nominal"]: Dressed(
            row["nominal"], float(row["thickness"]) * INCH, float(row["width"]) * INCH,
            row["source"],
        )
        for row in rows("lumber")
    }  # fmt: skip


def nominal_of(text: str) -> str:
    """A nominal size as the table writes it; blank if it is none.

    >>> nominal_of("2 X 4"), nominal_of("two by four")
    ('2x4', '')
    """
    name = text.casefold().replace(" ", "").replace("×", "x").replace("by", "x")
    return name if name in dressed_sizes() else ""


def section(stock: Product) -> tuple[Figure, Figure] | None:
    """True thickness and width of a stock: as measured, else from its nominal size [m]."""
    nominal = nominal_of(stock.size) if stock.kind == "timber" else ""
    known = dressed_sizes().get(nominal)
    if stock.height:
        thick = stock.figure("height", DEPTH, f"thickness of {stock.item}")
    elif known:
        thick = known.figure("thickness")
    else:
        return None
    if stock.width:
        return thick, stock.figure("width", DEPTH, f"width of {stock.item}")
    return (thick, known.figure("width")) if known else None


def strips(board: float, strip: float, kerf: float) -> int:
    """Strips of a width that a board gives, the saw taking its kerf between two.

    >>> strips(5.5, 2.75, 0), strips(5.5, 2.75, 0.125), strips(5.5, 2.6875, 0.125)
    (2, 1, 2)
    """
    return math.floor((board + kerf) / (strip + kerf) + 1e-6)


def surface(thickness: Figure, width: Figure, length: Figure) -> Figure:
    """The sides of a piece with its ends [m²], from true sizes."""
    two = constant(2, NUMBER, "two of each side")
    around = product("around the piece", LENGTH, two, total("two sides", (thickness, width)))
    sides = product("long sides", AREA, around, length)
    ends = product("both ends", AREA, two, thickness, width)
    return total("surface of a piece", (sides, ends))


def inertia(base: Figure, height: Figure) -> Figure:
    """Moment of inertia of a full rectangle: base x height³ / 12 [m⁴].

    >>> two_by_four = dressed_sizes()["2x4"]
    >>> on_edge = inertia(two_by_four.figure("thickness"), two_by_four.figure("width"))
    >>> round(on_edge.value / INCH**4, 3)
    5.359
    """
    twelfth = constant(1 / 12, NUMBER, "1 / 12")
    return product("moment of inertia", INERTIA, twelfth, base, height, height, height)


def tube_inertia(base: Figure, height: Figure, wall: Figure) -> Figure:
    """Moment of inertia of a tube: the full rectangle less the one inside [m⁴]."""
    two = constant(2, NUMBER, "both walls")
    off = product("both walls", DEPTH, two, wall)
    inside = inertia(minus("clear width", base, off), minus("clear height", height, off))
    return minus("moment of inertia", inertia(base, height), inside)
