"""Geotextile under the base: strips cut from a roll, or an allowance for the overlaps.

Of several ways to lay the strips the one that takes least is taken, or one of fewer strips that
takes little more (``fewer strips`` of the reference): every lap is pinned, and may open.
"""

from __future__ import annotations

from collections.abc import Sequence

from budget.figures import Figure, constant, largest, minus, product, ratio, whole
from budget.reference import coefficient
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

    A narrow strip of land takes one strip along it, rather than many across.

    >>> from budget.units import FOOT, LENGTH
    >>> sizes = [constant(n * FOOT, LENGTH, "ft") for n in (21, 11, 6, 1)]
    >>> round(strip_area(*sizes).value / FOOT**2)
    252
    """
    counts = strips(width, roll, overlap), strips(length, roll, overlap)
    best = better([(count.value, count.value * side.value)
                   for count, side in zip(counts, (length, width), strict=True)])  # fmt: skip
    return product("geotextile in strips", AREA, counts[best], (length, width)[best], roll)


def better(ways: Sequence[tuple[float, float]]) -> int:
    """The better of several ways to lay strips, each with its number of strips and length [m].

    >>> better([(4, 10.0), (2, 11.0), (1, 14.0)])
    1
    """
    least = min(length for _, length in ways)
    most = least * (1 + coefficient("fewer strips").likely) + 1e-6
    fitting = [i for i, (_, length) in enumerate(ways) if length <= most]
    return min(fitting, key=lambda i: (ways[i][0], round(ways[i][1], 6), i))


def lapped_area(area: Figure, roll: Figure, overlap: Figure) -> Figure:
    """Geotextile for any outline: the area times roll / (roll - overlap) [m²].

    :raises ValueError: if the roll is not wider than the overlap
    """
    if roll.value <= overlap.value:
        msg = f"a roll {roll.value:.3g} m wide cannot overlap by {overlap.value:.3g} m"
        raise ValueError(msg)
    share = ratio("roll over cover", NUMBER, roll, minus("roll less overlap", roll, overlap))
    return product("geotextile with overlaps", AREA, area, share)
