"""A count of pavers in the pallets, layers and bands they come in, in words."""

from __future__ import annotations

from budget.job import Product
from budget.numerals import grouped
from budget.units import whole_packs
from budget.wording import listed

_PACKS = (("per_pallet", "pallet"), ("per_layer", "layer"), ("per_band", "band"))


def in_packs(product: Product | None, count: float) -> str:
    """A count as whole pallets, layers, bands and single pieces; blank if no pack is known.

    >>> from budget.job import Place
    >>> row = Product(place=Place("Products", 2), item="Cobble", kind="paver", per_pallet=400,
    ...               per_layer=40)
    >>> in_packs(row, 1338.2)
    '1,339 pieces are 3 pallets, 3 layers and 19 pieces. Take them from one lot.'
    """
    if product is None:
        return ""
    sizes = [(getattr(product, field), word) for field, word in _PACKS]
    known = sorted(((int(size), word) for size, word in sizes if size and size >= 1), reverse=True)
    if not known:
        return ""
    pieces = left = whole_packs(count)
    found = []
    for size, word in known:
        packs, left = divmod(left, size)
        found += [_several(packs, word)] if packs else []
    found += [_several(left, "piece")] if left or not found else []
    verb = "is" if pieces == 1 else "are"
    return f"{_several(pieces, 'piece')} {verb} {listed(found)}. Take them from one lot."


def _several(count: int, word: str) -> str:
    return f"{grouped(count)} {word}" if count == 1 else f"{grouped(count)} {word}s"
