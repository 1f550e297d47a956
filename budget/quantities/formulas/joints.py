"""Joint filler by the geometry of the joints, a first filling and a top-up."""

from __future__ import annotations

from budget.figures import Figure, constant, minus, product, ratio, total
from budget.units import MASS, RATIO, SMALL_AREA, SMALL_VOLUME


def joint_share(length: Figure, width: Figure, one: Figure) -> Figure:
    """Share of the paved area that is joint [ratio].

    :param length: true length of the paver [m]
    :param width: true width of the paver [m]
    :param one: area of one paver with its joint [m²]

    >>> from budget.units import INCH, LENGTH
    >>> sides = [constant(n * INCH, LENGTH, "in") for n in (8, 4)]
    >>> one = constant(8.125 * 4.125 * INCH**2, SMALL_AREA, "module")
    >>> round(joint_share(*sides, one).value, 4)
    0.0452
    """
    face = product("face of one paver", SMALL_AREA, length, width)
    covered = ratio("share covered by pavers", RATIO, face, one)
    return minus("share of joints", constant(1, RATIO, "the whole"), covered)


def first_fill(area: Figure, share: Figure, height: Figure, low: Figure) -> Figure:
    """Filler for the joints up to just below the top [m³].

    :param area: paved area [m²]
    :param share: share of joints [ratio]
    :param height: thickness of the pavers [m]
    :param low: how far below the top the filler ends [m]; at most 1/2 in by the ICPI guide
    """
    depth = minus("depth of filler", height, low)
    return product("first filling", SMALL_VOLUME, area, share, depth)


def with_top_up(first: Figure, share: Figure) -> Figure:
    """The first filling and the top-up after it has settled [m³]."""
    more = product("top-up", SMALL_VOLUME, first, share)
    return total("first filling and top-up", (first, more))


def filler_mass(volume: Figure, density: Figure) -> Figure:
    """Weight of filler [kg], from volume [m³] and loose density [kg/m³]."""
    return product("weight of joint filler", MASS, volume, density)
