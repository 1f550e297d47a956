"""How far a beam on two supports bends under a load spread along it.

The load is a weight (kg or lb), and stiffness is weight by area (lb per square inch), so that
no force has to be worked out from a mass. A check of bending alone: strength, bearing, fixings
and moving loads are a professional's matter.
"""

from __future__ import annotations

from budget.figures import Figure, constant, product, ratio
from budget.units import DEPTH, INCH, NUMBER, POUND, Kind, Unit

_LOAD_BY_SPAN = Kind(
    "load by span cubed", (3, 1, 0, 0),
    Unit("lb in³", POUND * INCH**3), Unit("kg cm³", 1e-6),
)  # fmt: skip
_RIGIDITY = Kind(
    "stiffness by inertia", (2, 1, 0, 0), Unit("lb in²", POUND * INCH**2), Unit("kg cm²", 1e-4)
)


def deflection(load: Figure, span: Figure, stiffness: Figure, inertia: Figure) -> Figure:
    """Bending in the middle under a load spread along the span: 5 W L³ / 384 E I [m].

    Source: beam formula table of a machine-shop text; W = w L.

    >>> from budget.units import INERTIA, LENGTH, MASS, STIFFNESS
    >>> beam = [constant(100 * 100 * POUND, MASS, "load"), constant(100 * INCH, LENGTH, "span"),
    ...         constant(29e6 * POUND / INCH**2, STIFFNESS, "steel"),
    ...         constant(285 * INCH**4, INERTIA, "section")]
    >>> round(deflection(*beam).value / INCH, 3)
    0.016
    """
    share = constant(5 / 384, NUMBER, "5 / 384")
    above = product("load by span cubed", _LOAD_BY_SPAN, share, load, span, span, span)
    below = product("stiffness by inertia", _RIGIDITY, stiffness, inertia)
    return ratio("bends in the middle", DEPTH, above, below)


def limit(span: Figure, part: Figure) -> Figure:
    """The most it may bend: the span over a number such as 240 [m]."""
    return ratio("may bend", DEPTH, span, part)
