"""What pavers, wall units and caps are made of: how heavy it is, and how fast it wears a blade."""

from __future__ import annotations

from budget.figures import Figure
from budget.job import Product
from budget.reference import coefficient

#: What a piece is taken to be of where Products is silent.
USUAL = "concrete"
#: What does not part cleanly along a splitter's edge (common practice).
NOT_SPLIT = ("porcelain",)


def material_of(product: Product | None) -> str:
    """What a product is made of, concrete unless Products says otherwise."""
    return (product.material if product else "") or USUAL


def density_of(product: Product | None) -> Figure:
    """Density of what a product is made of [kg/m³], documented.

    >>> from budget.units import POUND, FOOT
    >>> round(density_of(None).value / POUND * FOOT**3)
    140
    """
    material = material_of(product)
    return coefficient("density paver" if material == USUAL else f"density {material}").figure()


def blade_wear(material: str) -> tuple[Figure, ...]:
    """How much faster than concrete a material wears a blade made for it; nothing for concrete."""
    return () if material == USUAL else (coefficient(f"blade wear {material}").figure(),)
