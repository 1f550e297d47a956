"""The one unit registry: a few definitions of our own, read by pint.

Loaded only when a cell carries a unit in text that is not among the everyday ones. Sizes of
units: NIST Special Publication 811, appendix B.8. Pint's own thousand definitions are left out:
they load slowly and would take words such as ``t`` or ``yard`` in senses that a builder does not
mean.
"""

from __future__ import annotations

import re
from functools import lru_cache
from typing import Any

from budget.units import Dimension

#: Names and their spellings; the first of each line is the unit's own name.
DEFINITIONS = """
metre = [length] = m = metres = meter = meters
kilogram = [mass] = kg = kilograms = kgs = kilo = kilos
hour = [time] = h = hours = hr = hrs = person_hour = person_hours
foot = 0.3048 metre = ft = feet = lf = lin_ft = linear_foot = linear_feet = lineal_feet
inch = 0.0254 metre = in = inches
yard = 0.9144 metre = yd = yards = yds
mile = 1609.344 metre = mi = miles
millimetre = 0.001 metre = mm = millimetres = millimeter = millimeters
centimetre = 0.01 metre = cm = centimetres = centimeter = centimeters
kilometre = 1000 metre = km = kilometres = kilometer = kilometers
square_foot = foot ** 2 = sf = sqft
square_yard = yard ** 2 = sy = sqyd
square_metre = metre ** 2 = sqm
cubic_foot = foot ** 3 = cf = cuft
cubic_yard = yard ** 3 = cy = cuyd
cubic_metre = metre ** 3 = cbm
litre = 0.001 metre ** 3 = l = litres = liter = liters
millilitre = 0.000001 metre ** 3 = ml = millilitres = milliliter = milliliters
gallon = 231 inch ** 3 = gal = gallons
pound = 0.45359237 kilogram = lb = lbs = pounds
ounce = pound / 16 = oz = ounces
gram = 0.001 kilogram = g = grams
short_ton = 2000 pound = ton = tons = short_tons
tonne = 1000 kilogram = t = tonnes = metric_ton = metric_tons
minute = hour / 60 = min = mins = minutes
mph = mile / hour
percent = 0.01 = per_cent
piece = 1 = pieces = pc = pcs = each
"""

#: What the registry says of everyday units, so that it need not be loaded for them: SI size and
#: dimension (length, mass, time). A test holds the two together.
EVERYDAY: dict[str, tuple[float, tuple[int, int, int]]] = {
    "metre": (1.0, (1, 0, 0)),
    "foot": (0.3048, (1, 0, 0)),
    "inch": (0.0254, (1, 0, 0)),
    "yard": (0.9144, (1, 0, 0)),
    "mile": (1609.344, (1, 0, 0)),
    "millimetre": (0.001, (1, 0, 0)),
    "centimetre": (0.01, (1, 0, 0)),
    "kilometre": (1000.0, (1, 0, 0)),
    "litre": (0.001, (3, 0, 0)),
    "kilogram": (1.0, (0, 1, 0)),
    "pound": (0.45359237, (0, 1, 0)),
    "short_ton": (907.18474, (0, 1, 0)),
    "tonne": (1000.0, (0, 1, 0)),
    "hour": (1.0, (0, 0, 1)),
    "minute": (1 / 60, (0, 0, 1)),
}

_SIGNS = {"'": "foot", '"': "inch", "%": "percent"}
_POWERS = {"sq": 2, "square": 2, "cu": 3, "cubic": 3}


@lru_cache(maxsize=1)
def registry() -> Any:
    """The registry with our definitions and no others."""
    import pint

    units: Any = pint.UnitRegistry(None)
    units.load_definitions(DEFINITIONS.strip().splitlines())
    return units


@lru_cache(maxsize=1)
def spellings() -> tuple[str, ...]:
    """Every spelling of every unit, for offering the nearest one."""
    names = re.findall(r"[a-z_]+(?= =| \*|$)|(?<== )[a-z_]+", DEFINITIONS, re.MULTILINE)
    return tuple(sorted({name.replace("_", " ") for name in names}))


@lru_cache(maxsize=1)
def _own_names() -> dict[str, str]:
    """The unit's own name for every spelling of it."""
    own: dict[str, str] = {}
    for line in DEFINITIONS.strip().splitlines():
        name, _, *others = line.split(" = ")
        own |= dict.fromkeys((name, *others), name)
    return own


def _measured(name: str) -> tuple[float, tuple[int, int, int]]:
    """The SI size and the dimension of a unit, as the registry has them."""
    size = registry().Quantity(1.0, name).to_base_units()
    a, b, c = (round(size.dimensionality.get(k, 0)) for k in ("[length]", "[mass]", "[time]"))
    return float(size.magnitude), (a, b, c)


def size_of(word: str) -> tuple[float, Dimension] | None:
    """The SI size and dimension of one unit word such as ``cu yd`` or ``ft2``, None if unknown.

    >>> size_of("cu yd")
    (0.764554857984, (3, 0, 0, 0))
    >>> size_of("ft2") == size_of("sq ft") == size_of("square feet")
    True
    >>> size_of("furlong") is None
    True
    """
    first, _, rest = word.partition(" ")
    power = 1
    if first in _POWERS and rest:
        word, power = rest, _POWERS[first]
    elif word[-1:] in ("2", "3"):
        word, power = word[:-1], int(word[-1])
    name = _SIGNS.get(word, word.replace(" ", "_").replace("-", "_"))
    if name.replace("_", " ") not in spellings():
        return None
    size, dimension = EVERYDAY.get(_own_names().get(name, "")) or _measured(name)
    a, b, c = (d * power for d in dimension)
    if power > 1 and (a, b, c) != (power, 0, 0):
        return None
    return size**power, (a, b, c, 0)
