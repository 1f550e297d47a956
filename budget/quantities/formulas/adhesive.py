"""Adhesive in beads: tubes from the length of bead, its section and what a tube holds."""

from __future__ import annotations

from budget.figures import Figure, product, ratio
from budget.units import COUNT, LENGTH, SMALL_AREA, SMALL_VOLUME


def bead_length(length: Figure, beads: Figure, layers: Figure) -> Figure:
    """Length of bead along a wall [m]: so many beads on each glued layer."""
    return product("length of bead", LENGTH, length, beads, layers)


def bead_volume(length: Figure, side: Figure) -> Figure:
    """Adhesive in beads of a square section [m³]."""
    section = product("section of a bead", SMALL_AREA, side, side)
    return product("adhesive", SMALL_VOLUME, length, section)


def tubes(volume: Figure, tube: Figure) -> Figure:
    """Tubes for a volume, not rounded.

    Source of the tube volumes: a maker's yield table: 10.1 oz 18.3 cu in, 20 oz 36.6, 27 oz
    48.7, 30 oz 54.1.

    >>> from budget.figures import constant
    >>> from budget.units import FOOT, INCH, NUMBER
    >>> wall, side = constant(20 * FOOT, LENGTH, "wall"), constant(0.375 * INCH, LENGTH, "bead")
    >>> bead = bead_length(wall, constant(2, NUMBER, "beads"), constant(1, NUMBER, "layers"))
    >>> tube = constant(48.7 * INCH**3, SMALL_VOLUME, "27 oz tube")
    >>> round(tubes(bead_volume(bead, side), tube).value, 2)
    1.39
    """
    return ratio("tubes", COUNT, volume, tube)
