"""Digging: how deep, how much in the ground, and how much in the heap."""

from __future__ import annotations

from budget.figures import Figure, product, total
from budget.units import BANK_VOLUME, LOOSE_VOLUME


def dig_depth(paver: Figure, bedding: Figure, base: Figure) -> Figure:
    """Depth of the dig when the paving finishes level with the ground [m].

    :param paver: thickness of the paver [m]
    :param bedding: depth of the bedding [m]
    :param base: depth of the base [m]

    >>> from budget.figures import constant
    >>> from budget.units import DEPTH, INCH
    >>> stack = [constant(n * INCH, DEPTH, "layer") for n in (2.375, 0.75, 2)]
    >>> round(dig_depth(*stack).value / INCH, 3)
    5.125
    """
    return total("dig depth", (paver, bedding, base))


def bank_volume(area: Figure, depth: Figure) -> Figure:
    """Soil as it lies in the ground [m³], from area of the dig [m²] and depth [m]."""
    return product("soil in the ground", BANK_VOLUME, area, depth)


def loose_volume(bank: Figure, swell: Figure) -> Figure:
    """Dug soil as it lies in a heap [m³], from bank volume [m³] and swell (1.25 for earth).

    Source of the factors: US Army FM 5-434, Table 1-1.

    >>> from budget.figures import constant
    >>> from budget.reference.tables import grounds
    >>> earth = grounds()["common earth"].swell_figure()
    >>> loose_volume(constant(100, BANK_VOLUME, "dig"), earth).value
    125.0
    """
    return product("dug soil, loose", LOOSE_VOLUME, bank, swell)
