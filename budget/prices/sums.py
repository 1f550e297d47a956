"""Sums that stay short to explain: one figure is itself, and nothing adds nothing."""

from __future__ import annotations

from collections.abc import Iterable

from budget.figures import Figure, constant, product, total
from budget.units import Kind


def added(name: str, figures: Iterable[Figure | None], kind: Kind) -> Figure:
    """Sum of the figures that are there; a single one keeps its own arithmetic.

    >>> from budget.units import MASS
    >>> added("weight", [None, constant(3, MASS, "sand"), constant(4, MASS, "stone")], MASS).value
    7
    """
    found = [figure for figure in figures if figure is not None]
    if not found:
        return constant(0, kind, name)
    return found[0] if len(found) == 1 else total(name, found)


def times(name: str, kind: Kind, count: Figure, each: Figure) -> Figure:
    """``each`` times a count; a fixed count of one leaves it as it is."""
    if count.origin == "constant" and count.value == 1:
        return each.called(name)
    return product(name, kind, count, each)
