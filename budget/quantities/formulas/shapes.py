"""Area and edges of one shape, by the formulas of plane geometry.

Each function takes lengths in m as figures and returns :class:`Measured`. The corner factor
tells how much a strip around the shape gains at its corners: a strip of width ``w`` along the
whole edge covers ``edge × w + corners × w²``. It is 4 for a rectangle (four squares) and π for
a circle; a corner that turns by an angle ``t`` adds ``tan(t / 2)``, a corner that turns inwards
takes as much off.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from budget.figures import Figure, constant, laid_out, minus, product, total
from budget.units import AREA, LENGTH, NUMBER, System, in_words

#: A corner sharper than this gains no more (its point would be a needle).
MOST_CORNER = 4.0

Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Measured:
    """A shape's area, its straight and its curved edge, and its corner factor."""

    area: Figure  # m²
    straight: Figure  # m
    curved: Figure  # m
    corners: float


def _pi(share: float, words: str) -> Figure:
    return constant(math.pi * share, NUMBER, words)


def _none(words: str) -> Figure:
    return constant(0, LENGTH, words)


_NO_CURVE = "no curved edge"
_NO_STRAIGHT = "no straight edge"


def rectangle(length: Figure, width: Figure) -> Measured:
    """Area and edge of a rectangle.

    :param length: one side [m]
    :param width: the other side [m]

    >>> from budget.units import FOOT
    >>> shape = rectangle(constant(20 * FOOT, LENGTH, "l"), constant(10 * FOOT, LENGTH, "w"))
    >>> round(shape.area.value / FOOT**2, 6), round(shape.straight.value / FOOT, 6)
    (200.0, 60.0)
    """
    sides = total("length and width", (length, width))
    edge = product("edge", LENGTH, constant(2, NUMBER, "two of each"), sides)
    return Measured(product("area", AREA, length, width), edge, _none(_NO_CURVE), 4.0)


def triangle(base: Figure, height: Figure) -> Measured:
    """Area of any triangle by base and height [m]; its edge as that of a right-angled one.

    >>> shape = triangle(constant(3, LENGTH, "base"), constant(4, LENGTH, "height"))
    >>> shape.area.value, shape.straight.value
    (6.0, 12.0)
    """
    half = constant(0.5, NUMBER, "half")
    third = math.hypot(base.value, height.value)
    slope = laid_out(third, LENGTH, "third side", f"third side of {base.key}", "right-angled")
    edge = total("edge", (base, height, slope))
    corners = [(0.0, 0.0), (base.value, 0.0), (0.0, height.value)]
    area = product("area", AREA, half, base, height)
    return Measured(area, edge, _none(_NO_CURVE), corner_factor(corners))


def circle(diameter: Figure) -> Measured:
    """Area and circumference of a circle by its diameter [m].

    >>> from budget.units import FOOT
    >>> round(circle(constant(12 * FOOT, LENGTH, "d")).area.value / FOOT**2, 2)
    113.1
    """
    area = product("area", AREA, _pi(1 / 4, "pi / 4"), diameter, diameter)
    edge = product("curved edge", LENGTH, _pi(1, "pi"), diameter)
    return Measured(area, _none(_NO_STRAIGHT), edge, math.pi)


def half_circle(diameter: Figure) -> Measured:
    """Area and edges of a half circle by the diameter of the whole one [m]."""
    area = product("area", AREA, _pi(1 / 8, "pi / 8"), diameter, diameter)
    edge = product("curved edge", LENGTH, _pi(1 / 2, "pi / 2"), diameter)
    return Measured(area, diameter.called("straight edge"), edge, math.pi / 2 + 2)


def quarter_circle(diameter: Figure) -> Measured:
    """Area and edges of a quarter circle by the diameter of the whole one [m].

    Its two straight sides are a radius each, together one diameter.
    """
    area = product("area", AREA, _pi(1 / 16, "pi / 16"), diameter, diameter)
    edge = product("curved edge", LENGTH, _pi(1 / 4, "pi / 4"), diameter)
    return Measured(area, diameter.called("straight edge"), edge, math.pi / 4 + 3)


def ring(outer: Figure, inner: Figure) -> Measured:
    """Area and both edges of a ring by its outer and inner diameter [m].

    What a strip gains outside the outer edge it loses inside the inner one, so the corner
    factor is 0 (as long as the inner radius is wider than the strip).

    >>> shape = ring(constant(10, LENGTH, "outer"), constant(3, LENGTH, "inner"))
    >>> round(shape.area.value, 4)
    71.4712
    """
    area = minus("area", circle(outer).area, circle(inner).area)
    edge = total("curved edge", (circle(outer).curved, circle(inner).curved))
    return Measured(area, _none(_NO_STRAIGHT), edge, 0.0)


def ellipse(length: Figure, width: Figure) -> Measured:
    """Area and circumference of an ellipse by its two axes [m].

    The circumference is Ramanujan's second approximation (1914, from memory), good to a
    millionth for axes up to 4 to 1.

    >>> round(ellipse(constant(12, LENGTH, "l"), constant(8, LENGTH, "w")).area.value, 4)
    75.3982
    """
    area = product("area", AREA, _pi(1 / 4, "pi / 4"), length, width)
    a, b = length.value / 2, width.value / 2
    h = ((a - b) / (a + b)) ** 2
    around = math.pi * (a + b) * (1 + 3 * h / (10 + math.sqrt(4 - 3 * h)))
    key = f"circumference of {length.key}"
    edge = laid_out(around, LENGTH, "curved edge", key, "Ramanujan 1914 (from memory)")
    return Measured(area, _none(_NO_STRAIGHT), edge, math.pi)


def polygon(
    corners: Sequence[Point], key: str, system: System = "metric", taken: str = ""
) -> Measured:
    """Area (shoelace rule) and edge of a polygon by its corners [m], in order around it.

    ``taken`` says how the corners were found, if not measured as such.

    :raises ValueError: if there are fewer than three corners or the outline crosses itself

    >>> from budget.units import AREA
    >>> polygon([(30, 28), (30, 33), (50, 30)], "Outline!A4").area.value
    50.0
    """
    fault = crossing(corners, system)
    if fault:
        raise ValueError(fault)
    around = sum(math.dist(*pair) for pair in _sides(corners))
    source = f"shoelace rule on the corners{taken}"
    area = laid_out(_shoelace(corners), AREA, "area", key, source)
    edge = laid_out(around, LENGTH, "edge", f"{key} edge", "sum of the sides")
    return Measured(area, edge, _none(_NO_CURVE), corner_factor(corners))


def under_curve(area: float, outline: Sequence[Point], key: str) -> Measured:
    """A shape between a base line and a curve, its area [m²] by Simpson's rule.

    ``outline`` lies on its base line (y = 0) with upright ends; the rest follows the curve.
    """
    straight = bent = 0.0
    for side in _sides(outline):
        upright = abs(side[0][0] - side[1][0]) < 1e-9
        if upright or side[0][1] == side[1][1] == 0:
            straight += math.dist(*side)
        else:
            bent += math.dist(*side)
    return Measured(
        laid_out(area, AREA, "area", key, "Simpson's rule on the offsets"),
        laid_out(straight, LENGTH, "straight edge", f"{key} edge", "base line and ends"),
        laid_out(bent, LENGTH, "curved edge", f"{key} curve", "chords of the curve"),
        corner_factor(outline),
    )


def measured(area: Figure, perimeter: Figure | None) -> Measured:
    """A shape that is given by its area; without a perimeter, its edge is that of a square."""
    edge = perimeter or laid_out(
        4 * math.sqrt(area.value), LENGTH, "edge", f"edge of {area.key}", "as of a square"
    )
    return Measured(area, edge, _none(_NO_CURVE), 4.0)


def crossing(corners: Sequence[Point], system: System = "metric") -> str:
    """What is wrong with an outline, in words, or nothing.

    >>> crossing([(0, 0), (1, 1), (1, 0), (0, 1)])
    'an outline that crosses itself at x 0.5 m, y 0.5 m'
    """
    if len(corners) < 3:
        return f"{len(corners)} corners"
    from shapely import Polygon
    from shapely.validation import explain_validity

    shape = Polygon(corners)
    if shape.convex_hull.area <= 0:
        return "corners on one line"
    if not shape.is_valid:
        words = explain_validity(shape)
        x, y = (float(n) for n in words[words.index("[") + 1 : -1].split())
        at = f"x {in_words(x, LENGTH, system)}, y {in_words(y, LENGTH, system)}"
        return f"an outline that crosses itself at {at}"
    return ""


def corner_factor(corners: Sequence[Point]) -> float:
    """Sum over the corners of tan(half the turn), inward corners negative.

    >>> round(corner_factor([(0, 0), (3, 0), (3, 2), (0, 2)]), 6)
    4.0
    """
    turn_sign = 1 if _signed(corners) > 0 else -1
    found = 0.0
    count = len(corners)
    for i in range(count):
        before, here, after = corners[i - 1], corners[i], corners[(i + 1) % count]
        entering = math.atan2(here[1] - before[1], here[0] - before[0])
        leaving = math.atan2(after[1] - here[1], after[0] - here[0])
        turn = math.remainder(leaving - entering, 2 * math.pi) * turn_sign
        found += max(-MOST_CORNER, min(MOST_CORNER, math.tan(turn / 2)))
    return found


def _sides(corners: Sequence[Point]) -> list[tuple[Point, Point]]:
    return list(zip(corners, [*corners[1:], corners[0]], strict=True))


def _signed(corners: Sequence[Point]) -> float:
    return sum(a[0] * b[1] - b[0] * a[1] for a, b in _sides(corners)) / 2


def _shoelace(corners: Sequence[Point]) -> float:
    return abs(_signed(corners))
