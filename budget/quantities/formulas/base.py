"""The base: compacted volume, its weight, its loose volume as sold, and its lifts.

One density is used for each state: the compacted one gives the weight, and the weight with the
loose one gives the volume to order, so that a weight and a volume always tell the same story.
"""

from __future__ import annotations

from budget.figures import Figure, product, ratio, whole
from budget.units import BULK_MASS, COMPACTED_VOLUME, LOOSE_VOLUME, NUMBER


def compacted_volume(area: Figure, depth: Figure) -> Figure:
    """Base as it lies compacted [m³], from base area with overrun [m²] and depth [m].

    >>> from budget.figures import constant
    >>> from budget.units import AREA, DEPTH, FOOT, INCH, YARD
    >>> area = constant(200 * FOOT**2, AREA, "area")
    >>> round(compacted_volume(area, constant(4 * INCH, DEPTH, "depth")).value / YARD**3, 2)
    2.47
    """
    return product("compacted base", COMPACTED_VOLUME, area, depth)


def base_mass(compacted: Figure, density: Figure) -> Figure:
    """Weight of the base [kg], from compacted volume [m³] and compacted density [kg/m³].

    Source of the documented density: WSDOT Design Manual M 22-01, Exhibit 620-1.
    """
    return product("weight of base", BULK_MASS, compacted, density)


def loose_base(mass: Figure, density: Figure) -> Figure:
    """Base as it is sold [m³ loose], from its weight [kg] and loose density [kg/m³]."""
    return ratio("base stone, loose", LOOSE_VOLUME, mass, density)


def lifts(depth: Figure, most: Figure) -> Figure:
    """Lifts to compact the base in, each at most ``most`` deep [m].

    >>> from budget.figures import constant
    >>> from budget.units import DEPTH, INCH
    >>> most = constant(4 * INCH, DEPTH, "lift")
    >>> [int(lifts(constant(d * INCH, DEPTH, "base"), most).value) for d in (4, 6)]
    [1, 2]
    """
    return whole("lifts", ratio("lifts, exact", NUMBER, depth, most))
