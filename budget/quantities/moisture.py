"""What water does to goods sold by weight: the same heap weighs more wet than dry.

Weights are worked out from dry densities. A ton bought wet holds less of the goods, so whoever
buys by the ton should know by how much, and ask which ton the seller means.
"""

from __future__ import annotations

from budget.figures import Figure, constant, product, total
from budget.numerals import grouped
from budget.quantities.materials import Materials
from budget.reference import coefficient
from budget.units import RATIO, in_words


def wet_mass(dry: Figure, water: Figure) -> Figure:
    """Weight of goods with water in them [kg], dry weight × (1 + water).

    :param dry: weight of the dry goods [kg]
    :param water: free water as a share of the dry weight

    Source: WSDOT Design Manual M 22-01, Exhibit 620-1, notes on water.

    >>> from budget.units import BULK_MASS
    >>> tons = constant(4.57, BULK_MASS, "base"), constant(0.05, RATIO, "water")
    >>> round(wet_mass(*tons).value, 2)
    4.8
    """
    once = constant(1.0, RATIO, "dry")
    return product("weight when wet", dry.kind, dry, total("dry and water", (once, water)))


def water_in(kind: str, item: str, materials: Materials) -> Figure | None:
    """Free water that a kind of bulk goods may hold; nothing where the job says what it weighs."""
    sold = materials.for_need(kind, item)
    if sold is not None and sold.density:
        return None
    return coefficient(f"water {kind}").figure()


def wet_words(kind: str, item: str, materials: Materials) -> str:
    """A sentence on buying by weight, with its numbers; blank where the job gives a weight."""
    water = water_in(kind, item, materials)
    if water is None:
        return ""
    range_ = coefficient(f"water {kind}")
    low, likely, high = (round(n * 100) for n in (range_.low, range_.likely, range_.high))
    ton = "ton" if materials.job.settings.units == "imperial" else "tonne"
    return (
        f" Weights are of dry goods. Wet ones weigh about {likely} % more ({low} to {high} %), so "
        f"that a {ton} bought wet holds {grouped(1 / (1 + water.value), 2)} {ton} of dry goods."
    )


def wet_and_dry(kind: str, item: str, mass: Figure, materials: Materials) -> str:
    """The weight of one order in words, dry and wet; blank where the job gives a weight."""
    water = water_in(kind, item, materials)
    if water is None:
        return ""
    system = materials.job.settings.units
    wet = wet_mass(mass, water)
    return (
        f" To order it weighs {mass.words(system)} dry and {wet.words(system)} with "
        f"{in_words(water.value, RATIO, system, 0)} water."
    )
