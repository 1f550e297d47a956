"""Rings of wall units, such as around a fire bowl: how many units close one course.

A unit that is narrower at its back closes tightly at one radius only. In a larger ring the
fronts touch and the backs gape; in a smaller one the backs touch first. Units are not cut:
the count is what fits, rounded up, which makes the ring a little larger.
"""

from __future__ import annotations

import math

from budget.figures import Figure, constant, minus, product, ratio, smallest, total, whole
from budget.units import LENGTH, NUMBER


def pi() -> Figure:
    """The circumference of a circle over its diameter."""
    return constant(math.pi, NUMBER, "pi")


def outer_diameter(diameter: Figure, circle: str, depth: Figure) -> Figure:
    """The outer diameter of a ring whose outer, middle or inner diameter is given [m].

    >>> from budget.units import DEPTH, INCH
    >>> inches = [constant(n * INCH, DEPTH, "in") for n in (32, 8)]
    >>> round(outer_diameter(inches[0], "inner", inches[1]).value / INCH, 6)
    48.0
    """
    if circle == "outer":
        return diameter.called("outer diameter")
    times = [depth] if circle == "middle" else [depth, depth]
    return total("outer diameter", (diameter, *times))


def inner_diameter(outer: Figure, depth: Figure) -> Figure:
    """The inner diameter of a ring [m]."""
    two = constant(2, NUMBER, "both sides")
    return minus("inner diameter", outer, product("both sides", outer.kind, two, depth))


def units(outer: Figure, depth: Figure, face: Figure, back: Figure | None = None) -> Figure:
    """Units in one course of a ring, uncut and rounded up.

    :param outer: outer diameter of the ring [m]
    :param depth: depth of a unit from face to back [m]
    :param face: width of its face [m]
    :param back: width of its back [m]; none: as wide as its face

    Source of the worked case: a question with its numbers: 12 in face, 9 in back, 8 in deep,
    123 in diameter: 32.2 fit, 33 are laid.

    >>> from budget.units import DEPTH, INCH
    >>> sizes = [constant(n * INCH, DEPTH, "in") for n in (123, 8, 12, 9)]
    >>> units(*sizes).value
    33
    """
    outside = ratio("faces around the outer circle", NUMBER,
                    product("outer circle", LENGTH, pi(), outer), face)  # fmt: skip
    inside = ratio("backs around the inner circle", NUMBER,
                   product("inner circle", LENGTH, pi(), inner_diameter(outer, depth)),
                   back or face)  # fmt: skip
    return whole("units in a course", smallest("units that fit", outside, inside))


def smallest_radius(depth: Figure, face: Figure, back: Figure) -> float:
    """The outer radius that a tapered unit closes without cutting [m].

    Source: similar triangles, face x depth over the taper; 12 in, 9 in, 8 in: 32 in.

    >>> from budget.units import DEPTH, INCH
    >>> sizes = [constant(n * INCH, DEPTH, "in") for n in (8, 12, 9)]
    >>> round(smallest_radius(*sizes) / INCH, 6)
    32.0
    """
    taper = face.value - back.value
    return math.inf if taper <= 0 else face.value * depth.value / taper


def open_joint(count: float, depth: float, face: float, back: float) -> float:
    """The widest gap between two units of a ring, at its front or back [m].

    With ``count`` units the ring closes on the side that touches first.

    >>> round(open_joint(13, 8, 8, 8), 2)  # square blocks: backs touch, fronts gape
    3.87
    """
    radius = max(count * face, count * back + 2 * math.pi * depth) / (2 * math.pi)
    front = 2 * math.pi * radius / count - face
    behind = 2 * math.pi * (radius - depth) / count - back
    return max(front, behind, 0.0)
