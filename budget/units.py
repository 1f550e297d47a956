"""Kinds of quantity, the two unit systems, and money in cents.

Inside the program every number is in SI (metre, square metre, cubic metre, kilogram, hour)
or in cents; a :class:`Kind` says what the number measures and in which unit people see it.
Text such as ``12' 6"`` is turned into SI at the edge, in the workbook reader.

Bank (in the ground), loose (in a heap or truck) and compacted volumes are different kinds,
so that they cannot be added by mistake.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cache
from typing import Literal

from budget.numerals import grouped, in_currency, localised

System = Literal["imperial", "metric"]

FOOT = 0.3048
INCH = 0.0254
YARD = 0.9144
MILE = 1609.344
POUND = 0.45359237
SHORT_TON = 2000 * POUND

#: The signs of currencies that have one in common use; others go by their code.

#: Exponents of length, mass, time and money. A count or a ratio has none.
Dimension = tuple[int, int, int, int]


@dataclass(frozen=True, slots=True)
class Unit:
    """A unit people read: its label, its size in SI, and how many decimals to show."""

    label: str
    size: float
    decimals: int = 2


@dataclass(frozen=True, slots=True)
class Kind:
    """What a number measures: a name, a dimension, and a unit in each system."""

    name: str
    dimension: Dimension
    imperial: Unit
    metric: Unit

    def unit(self, system: System) -> Unit:
        """The unit that people of this system read."""
        return self.imperial if system == "imperial" else self.metric


def _kind(name: str, dimension: Dimension, imperial: Unit, metric: Unit | None = None) -> Kind:
    return Kind(name, dimension, imperial, metric or imperial)


_CUBIC_YARD = Unit("cu yd", YARD**3)
_CUBIC_METRE = Unit("m³", 1.0)

LENGTH = _kind("length", (1, 0, 0, 0), Unit("ft", FOOT), Unit("m", 1.0))
DEPTH = _kind("depth", (1, 0, 0, 0), Unit("in", INCH, 3), Unit("mm", 0.001, 1))
DISTANCE = _kind("distance", (1, 0, 0, 0), Unit("mi", MILE, 1), Unit("km", 1000.0, 1))
AREA = _kind("area", (2, 0, 0, 0), Unit("sq ft", FOOT**2, 1), Unit("m²", 1.0))
SMALL_AREA = _kind("small area", (2, 0, 0, 0), Unit("sq in", INCH**2), Unit("cm²", 1e-4, 1))
VOLUME = _kind("volume", (3, 0, 0, 0), _CUBIC_YARD, _CUBIC_METRE)
SMALL_VOLUME = _kind("small volume", (3, 0, 0, 0), Unit("cu ft", FOOT**3), Unit("L", 0.001, 1))
FLUID = _kind("fluid volume", (3, 0, 0, 0), Unit("gal", 231 * INCH**3), Unit("L", 0.001))
TUBE_VOLUME = _kind("tube volume", (3, 0, 0, 0), Unit("cu in", INCH**3, 1), Unit("mL", 1e-6, 0))
INERTIA = _kind("moment of inertia", (4, 0, 0, 0), Unit("in⁴", INCH**4, 3), Unit("cm⁴", 1e-8, 1))
BANK_VOLUME = _kind("bank volume", (3, 0, 0, 0), _CUBIC_YARD, _CUBIC_METRE)
LOOSE_VOLUME = _kind("loose volume", (3, 0, 0, 0), _CUBIC_YARD, _CUBIC_METRE)
COMPACTED_VOLUME = _kind("compacted volume", (3, 0, 0, 0), _CUBIC_YARD, _CUBIC_METRE)
MASS = _kind("mass", (0, 1, 0, 0), Unit("lb", POUND, 0), Unit("kg", 1.0, 0))
BULK_MASS = _kind("bulk mass", (0, 1, 0, 0), Unit("ton", SHORT_TON), Unit("tonne", 1000.0))
DENSITY = _kind(
    "density", (-3, 1, 0, 0), Unit("lb/cu ft", POUND / FOOT**3, 1), Unit("kg/m³", 1.0, 0)
)
BULK_DENSITY = _kind(
    "bulk density", (-3, 1, 0, 0), Unit("ton/cu yd", SHORT_TON / YARD**3), Unit("t/m³", 1000.0)
)
AREA_MASS = _kind(
    "mass per area", (-2, 1, 0, 0), Unit("lb/sq ft", POUND / FOOT**2, 1), Unit("kg/m²", 1.0, 1)
)
#: Weight by area; in metric N/mm², as a weight under standard gravity, 9.80665 m/s².
STIFFNESS = _kind(
    "stiffness", (-2, 1, 0, 0), Unit("psi", POUND / INCH**2, 0), Unit("N/mm²", 1e6 / 9.80665, 0)
)
SPEED = _kind("speed", (1, 0, -1, 0), Unit("mph", MILE, 1), Unit("km/h", 1000.0, 1))
WALK = _kind("walking pace", (1, 0, -1, 0), Unit("ft/min", FOOT * 60, 0), Unit("m/min", 60.0, 0))
HOURS = _kind("hours", (0, 0, 1, 0), Unit("h", 1.0, 1))
DAYS = _kind("days", (0, 0, 0, 0), Unit("days", 1.0, 1))
MINUTES = _kind("minutes", (0, 0, 1, 0), Unit("min", 1 / 60, 1))
COUNT = _kind("count", (0, 0, 0, 0), Unit("", 1.0, 0))
NUMBER = _kind("number", (0, 0, 0, 0), Unit("", 1.0, 3))
RATIO = _kind("ratio", (0, 0, 0, 0), Unit("%", 0.01, 1))
MONEY = _kind("money", (0, 0, 0, 1), Unit("", 100.0, 2))

KINDS: dict[str, Kind] = {k.name: k for k in list(globals().values()) if isinstance(k, Kind)}


@cache
def per(top: Kind, bottom: Kind) -> Kind:
    """The kind of a rate, such as hours per square metre or money per ton.

    >>> per(HOURS, AREA).imperial.label
    'h per sq ft'
    >>> per(MONEY, MASS).dimension
    (0, -1, 0, 1)
    """
    a, b = top.dimension, bottom.dimension
    return Kind(
        f"{top.name} per {bottom.name}",
        (a[0] - b[0], a[1] - b[1], a[2] - b[2], a[3] - b[3]),
        _rate_unit(top.imperial, bottom.imperial),
        _rate_unit(top.metric, bottom.metric),
    )


def _rate_unit(top: Unit, bottom: Unit) -> Unit:
    label = f"{top.label} per {bottom.label or 'piece'}".strip()
    return Unit(label, top.size / bottom.size, 3 if top.label == "h" else 2)


def shown(value: float, kind: Kind, system: System) -> float:
    """The number people read for an SI value of this kind.

    >>> shown(0.3048, LENGTH, "imperial")
    1.0
    >>> round(shown(1, VOLUME, "imperial"), 3)
    1.308
    """
    return value / kind.unit(system).size


def stored(number: float, kind: Kind, system: System) -> float:
    """The SI value of a number that people wrote in this kind's unit.

    >>> stored(4, DEPTH, "imperial")
    0.1016
    """
    return number * kind.unit(system).size


#: Lifts what lies halfway, but for the noise of conversion, so that it is rounded up.
_HALVES_UP = 1 + 1e-12


def in_words(value: float, kind: Kind, system: System, decimals: int | None = None) -> str:
    """A value with its unit, rounded for reading; never rounds a real amount to zero.

    >>> in_words(0.1016, DEPTH, "imperial")
    '4 in'
    >>> in_words(3 / 16 * 0.0254, DEPTH, "imperial")
    '0.188 in'
    >>> in_words(21.4607, AREA, "imperial")
    '231 sq ft'
    >>> in_words(0.05, RATIO, "metric")
    '5 %'
    >>> in_words(123456, MONEY, "metric")
    '1,234.56'
    """
    unit = kind.unit(system)
    number = value / unit.size * _HALVES_UP
    places = unit.decimals if decimals is None else decimals
    if number and abs(number) < 10**-places:
        places = min(9, 1 - math.floor(math.log10(abs(number))))
    text = f"{number:,.{places}f}"
    if kind is not MONEY and "." in text:
        text = text.rstrip("0").rstrip(".")
    if text in ("-0", "-0.00"):
        text = text[1:]
    label = "day" if kind is DAYS and text == "1" else unit.label
    return f"{localised(text)} {label}".strip()


def round_half_up(cents: float) -> int:
    """Cents as a whole number, halves up; a millionth of a cent is taken as rounding noise.

    >>> [round_half_up(x) for x in (0.5, 1.49, 2.5, -0.5)]
    [1, 1, 3, 0]
    """
    return math.floor(cents + 0.5 + 1e-6)


#: Packs closer than this to a whole number count as whole (3.0000001 packs are 3).
PACK_TOLERANCE = 1e-6


def whole_packs(packs: float) -> int:
    """The whole packs to buy, rounded up, forgiving :data:`PACK_TOLERANCE`.

    >>> whole_packs(3.0000001), whole_packs(3.01), whole_packs(0)
    (3, 4, 0)
    """
    return max(0, math.ceil(packs - PACK_TOLERANCE))


def money(cents: float, currency: str) -> str:
    """Money to the cent, with the sign of the currency (or its code before the number).

    >>> money(123456, "USD"), money(-50, "EUR"), money(1999, "SEK")
    ('$1,234.56', '-€0.50', 'SEK 19.99')
    """
    amount = round_half_up(abs(cents))
    return in_currency(grouped(amount / 100, 2), currency, cents < 0 < amount)
