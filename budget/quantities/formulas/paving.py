"""Pavers: how many, what they weigh, and how much edge must be cut."""

from __future__ import annotations

from budget.figures import Figure, constant, minus, product, ratio, total
from budget.units import COUNT, LENGTH, MASS, RATIO, SMALL_AREA, per

#: Weight of one piece, shown to the hundredth.
PIECE_MASS = per(MASS, COUNT)


def module(length: Figure, width: Figure, joint: Figure) -> Figure:
    """Area that one paver takes with its joint [m²], from true sizes and joint [m].

    Source: Beall, Masonry and Concrete, p. 301: module = face and joint.

    >>> from budget.units import DEPTH, INCH
    >>> modular = [constant(n * INCH, DEPTH, "in") for n in (7.625, 3.625, 0.375)]
    >>> round(module(*modular).value / INCH**2, 6)
    32.0
    """
    long_side = total("length with joint", (length, joint))
    short_side = total("width with joint", (width, joint))
    return product("one paver with its joint", SMALL_AREA, long_side, short_side)


def count(area: Figure, one: Figure) -> Figure:
    """Pavers for an area, neat and not rounded, from the module of one [m²].

    >>> from budget.units import AREA, FOOT, INCH
    >>> area = constant(200 * FOOT**2, AREA, "area")
    >>> round(count(area, constant(32 * INCH**2, SMALL_AREA, "4 x 8 in")).value, 6)
    900.0
    """
    return ratio("pavers, neat", COUNT, area, one)


def overage(straight: Figure, curved: Figure, edge: Figure, curved_edge: Figure) -> Figure:
    """Extra pavers by pattern and edge: the straight and the curved share of the edge weigh.

    :param straight: extra at straight edges [ratio]
    :param curved: extra at curved edges [ratio]
    :param edge: whole edge [m]
    :param curved_edge: curved part of it [m]

    >>> figures = [constant(n, RATIO, "extra") for n in (0.05, 0.1)]
    >>> figures += [constant(n, LENGTH, "edge") for n in (10, 4)]
    >>> round(overage(*figures).value, 4)
    0.07
    """
    if not curved_edge.value:
        return straight
    share = ratio("curved share of the edge", RATIO, curved_edge, edge)
    rest = share_left("straight share of the edge", share)
    return total(
        "extra pavers",
        (
            product("extra at straight edges", RATIO, straight, rest),
            product("extra at curved edges", RATIO, curved, share),
        ),
    )


def share_left(name: str, share: Figure) -> Figure:
    """What a share leaves of the whole [ratio]."""
    return minus(name, constant(1, RATIO, "the whole"), share)


def with_extra(name: str, net: Figure, extra: Figure) -> Figure:
    """An amount with its overage, in the same kind, from overage as a ratio.

    >>> neat = constant(900, COUNT, "pavers")
    >>> with_extra("to order", neat, constant(0.05, RATIO, "extra")).value
    945.0
    """
    factor = total("with extra", (constant(1, RATIO, "the whole"), extra))
    return product(name, net.kind, net, factor)


def weight(length: Figure, width: Figure, height: Figure, density: Figure) -> Figure:
    """Weight of one paver [kg], from its true sizes [m] and density [kg/m³].

    >>> from budget.units import DENSITY, FOOT, INCH, POUND
    >>> sizes = [constant(n * INCH, LENGTH, "in") for n in (12, 12, 60 / 25.4)]
    >>> dense = constant(140 * POUND / FOOT**3, DENSITY, "concrete")
    >>> round(weight(*sizes, dense).value / POUND, 1)
    27.6
    """
    return product("weight of one paver", PIECE_MASS, length, width, height, density)


def cut_length(straight: Figure, curved: Figure, share: Figure) -> Figure:
    """Length of edge to cut pavers to [m].

    Every curved edge is cut all along; of the straight edge that is not joined to other paving
    the pattern's share is (``patterns.csv``; a rule of our own, common practice): half where a
    pattern ends on whole units at two sides, all of it where every edge is cut.

    :param straight: straight edge not joined to other paving [m]
    :param curved: curved edge not joined to other paving [m]
    :param share: the pattern's share of straight edge to cut [ratio]

    >>> edges = [constant(n, LENGTH, "edge") for n in (60, 10)]
    >>> cut_length(*edges, constant(0.5, RATIO, "share")).value
    40.0
    """
    cut = product("straight edge to cut", LENGTH, straight, share)
    return total("edge to cut", (cut, curved)) if curved.value else cut.called("edge to cut")
