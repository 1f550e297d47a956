"""The bedding under the pavers: its loose volume and its weight."""

from __future__ import annotations

from budget.figures import Figure, product
from budget.units import BULK_MASS, LOOSE_VOLUME


def bedding_volume(area: Figure, depth: Figure) -> Figure:
    """Bedding to the finished depth, neat [m³], from paved area [m²] and depth [m].

    >>> from budget.figures import constant
    >>> from budget.units import AREA, DEPTH, FOOT, INCH, YARD
    >>> area = constant(200 * FOOT**2, AREA, "area")
    >>> round(bedding_volume(area, constant(INCH, DEPTH, "depth")).value / YARD**3, 2)
    0.62
    """
    return product("bedding, neat", LOOSE_VOLUME, area, depth)


def bedding_mass(volume: Figure, density: Figure) -> Figure:
    """Weight of bedding [kg], from loose volume [m³] and loose density [kg/m³]."""
    return product("weight of bedding", BULK_MASS, volume, density)
