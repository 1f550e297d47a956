"""True sizes and weights of wall units and caps: of the product, else documented ones."""

from __future__ import annotations

from dataclasses import dataclass

from budget.figures import Figure
from budget.quantities.formulas.paving import PIECE_MASS, weight
from budget.quantities.materials import Materials
from budget.quantities.stones import density_of
from budget.reference import coefficient
from budget.units import DEPTH


@dataclass(frozen=True, slots=True)
class Block:
    """One wall unit or cap: length along the wall, depth through it, height [m], weight [kg]."""

    item: str
    length: Figure
    depth: Figure
    height: Figure
    weight: Figure
    back: Figure | None = None  # length at the back, if it is shorter there


def unit_of(item: str, materials: Materials) -> Block:
    """A wall unit by its name."""
    names = ("wall unit length", "wall unit depth", "wall unit height")
    return _block(item, names, materials)


def cap_of(item: str, materials: Materials) -> Block | None:
    """A cap by its name; none where there is no cap."""
    names = ("cap length", "cap width", "cap height")
    return _block(item, names, materials) if item else None


def _block(item: str, usual: tuple[str, str, str], materials: Materials) -> Block:
    product = materials.named(item)

    def size(field: str, name: str) -> Figure:
        if product is not None and getattr(product, field):
            return product.figure(field, DEPTH, f"{field} of {item}")
        return coefficient(name).figure()

    length, depth, height = (
        size(field, name) for field, name in zip(("length", "width", "height"), usual, strict=True)
    )
    if product is not None and product.weight:
        one = product.figure("weight", PIECE_MASS, f"weight of one {item}")
    else:
        one = weight(length, depth, height, density_of(product)).called(f"weight of one {item}")
    back = None
    if product is not None and product.back_width:
        back = product.figure("back_width", DEPTH, f"back length of {item}")
    return Block(item, length, depth, height, one, back)
