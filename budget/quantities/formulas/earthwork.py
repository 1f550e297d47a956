"""Digging: how deep, how much in the ground, and how much in the heap."""

from __future__ import annotations

from budget.figures import Figure, constant, largest, product, ratio, total
from budget.units import BANK_VOLUME, DEPTH, INCH, LOOSE_VOLUME, NUMBER


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


def end_areas(first: Figure, second: Figure, length: Figure) -> Figure:
    """Soil between two cross-sections [m³], by their average area [m²] and distance [m].

    Source: Navy equipment operator text: (A1 + A2) x 1.85 x hundreds of feet, in cubic yards.

    >>> from budget.figures import constant
    >>> from budget.units import AREA, FOOT, LENGTH, YARD
    >>> ends = [constant(n * FOOT**2, AREA, "end") for n in (10, 14)]
    >>> found = end_areas(*ends, constant(50 * FOOT, LENGTH, "apart"))
    >>> round(found.value / YARD**3, 2)
    22.22
    """
    both = total("both end areas", (first, second))
    half = constant(0.5, NUMBER, "half")
    return product("soil between the ends", BANK_VOLUME, half, both, length)


def an_inch(area: Figure) -> Figure:
    """Soil in one inch of depth [m³ bank], over the area of a dig [m²].

    >>> from budget.figures import constant
    >>> from budget.units import AREA, FOOT, YARD
    >>> round(an_inch(constant(324 * FOOT**2, AREA, "dig")).value / YARD**3, 9)
    1.0
    """
    return product("an inch of depth", BANK_VOLUME, area, constant(INCH, DEPTH, "an inch"))


def put_back(compacted: Figure, factor: Figure, swell: Figure) -> Figure:
    """Heap of soil [m³ loose] that fills a room [m³ compacted].

    :param factor: compacted over bank volume
    :param swell: loose over bank volume

    >>> from budget.figures import constant
    >>> from budget.units import COMPACTED_VOLUME
    >>> room = constant(0.90, COMPACTED_VOLUME, "room")
    >>> factors = [constant(n, NUMBER, "earth") for n in (0.90, 1.25)]
    >>> put_back(room, *factors).value
    1.25
    """
    bank = ratio("soil back, as in the ground", BANK_VOLUME, compacted, factor)
    return loose_volume(bank, swell)


def not_below_zero(name: str, amount: Figure) -> Figure:
    """An amount of soil that cannot be less than none."""
    return largest(name, constant(0, amount.kind, "least possible"), amount)
