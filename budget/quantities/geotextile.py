"""Geotextile under the base: strips cut from a roll, or an allowance for the overlaps."""

from __future__ import annotations

from budget.figures import Figure, constant, largest, minus, product, ratio, smallest, whole
from budget.units import AREA, COUNT, NUMBER


def strips(across: Figure, roll: Figure, overlap: Figure) -> Figure:
    """Strips to cover a width, n = (width - overlap) / (roll - overlap), rounded up.

    :param across: width to cover [m]
    :param roll: width of the roll [m], wider than the overlap
    :param overlap: overlap of neighbours [m]
    :raises ValueError: if the roll is not wider than the overlap

    >>> from budget.units import LENGTH
    >>> metres = [constant(n, LENGTH, "m") for n in (20, 4.5, 1.2)]
    >>> int(strips(*metres).value)
    6
    """
    if roll.value <= overlap.value:
        msg = f"a roll {roll.value:.3g} m wide cannot overlap by {overlap.value:.3g} m"
        raise ValueError(msg)
    exact = ratio(
        "strips, exact",
        NUMBER,
        minus("width less overlap", across, overlap),
        minus("roll less overlap", roll, overlap),
    )
    return largest("strips", constant(1, COUNT, "at least one"), whole("strips", exact))


def strip_area(length: Figure, width: Figure, roll: Figure, overlap: Figure) -> Figure:
    """Geotextile for a rectangle in strips, the better of both directions [m²].

    >>> from budget.units import FOOT, LENGTH
    >>> sizes = [constant(n * FOOT, LENGTH, "ft") for n in (21, 11, 6, 1)]
    >>> round(strip_area(*sizes).value / FOOT**2)
    252
    """
    along = product("strips along", AREA, strips(width, roll, overlap), length, roll)
    across = product("strips across", AREA, strips(length, roll, overlap), width, roll)
    return smallest("geotextile in strips", along, across)


def lapped_area(area: Figure, roll: Figure, overlap: Figure) -> Figure:
    """Geotextile for any outline: the area times roll / (roll - overlap) [m²].

    :raises ValueError: if the roll is not wider than the overlap
    """
    if roll.value <= overlap.value:
        msg = f"a roll {roll.value:.3g} m wide cannot overlap by {overlap.value:.3g} m"
        raise ValueError(msg)
    share = ratio("roll over cover", NUMBER, roll, minus("roll less overlap", roll, overlap))
    return product("geotextile with overlaps", AREA, area, share)
