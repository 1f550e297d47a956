"""Measures as people write them: ``12' 6 1/2"``, ``0.5 cu yd``, ``3,5 m``, ``40 min per ton``.

Numbers are read here; what a unit means is asked of the registry (:mod:`registry`).
"""

from __future__ import annotations

import difflib
import math
import re
from functools import lru_cache

from budget.units import MONEY, RATIO, Dimension, Kind, System
from budget.workbook.registry import size_of, spellings


class UnreadableError(ValueError):
    """A text that is no clear measure: what was expected, and how to mend it."""

    def __init__(self, expected: str, mend: str, unclear: bool = False) -> None:
        """``unclear`` tells a text with two readings from one with none."""
        super().__init__(f"expected {expected}. {mend}")
        self.expected = expected
        self.mend = mend
        self.unclear = unclear


_FRACTIONS = {"½": "1/2", "¼": "1/4", "¾": "3/4", "⅓": "1/3", "⅔": "2/3", "⅛": "1/8",
              "⅜": "3/8", "⅝": "5/8", "⅞": "7/8"}  # fmt: skip
_SIGNS = str.maketrans({"’": "'", "′": "'", "‘": "'", "”": '"', "″": '"', "“": '"', "²": "2",
                        "³": "3", "⁄": "/", "−": "-", "–": "-", "·": " ", "^": "",
                        "\u00a0": " ", "\u202f": " ", "\u2009": " "})  # fmt: skip

_FRACTION = r"(?:\d+[ -]+)?\d+\s*/\s*\d+"
_DECIMAL = r"\d[\d.,]*(?:\s\d{3}(?!\d))*(?:[.,]\d+)?|[.,]\d+"
_UNIT = r"(?:['\"]|[^\d\s'\"]+(?:[23](?![\da-z]))?)\s*"
_TERM = re.compile(rf"\s*({_FRACTION}|{_DECIMAL})\s*((?:{_UNIT})*)")


@lru_cache(maxsize=1024)  # titles and packs name the same few units on every row
def unit_size(text: str, system: System) -> tuple[float, Dimension]:
    """The SI size and the dimension of a unit such as ``cu yd``, ``100 sq ft`` or ``lb/ft3``.

    In an imperial job a bare ``t`` is asked about, in a metric one a ``ton``, because each may
    mean 2,000 lb or 1,000 kg.

    >>> unit_size("100 sq ft", "imperial")[0]
    9.290304
    >>> unit_size("t", "metric")
    (1000.0, (0, 1, 0, 0))
    """
    top, slash, bottom = re.sub(r"\bper\b(?! cent)", "/", _plain(text)).partition("/")
    size, dimension = _simple_unit(top.strip(), system) if top.strip() else (1.0, (0, 0, 0, 0))
    if slash:
        under, below = _simple_unit(bottom.strip(), system)
        a, b = dimension, below
        dimension = (a[0] - b[0], a[1] - b[1], a[2] - b[2], a[3] - b[3])
        size /= under
    return size, dimension


def _simple_unit(text: str, system: System) -> tuple[float, Dimension]:
    match = re.fullmatch(r"(\d[\d.,]*)\s+(\D.*)", text)
    times = number(match[1], system) if match else 1.0
    word = match[2] if match else text
    if (system, word) in (("imperial", "t"), ("metric", "ton"), ("metric", "tons")):
        expected = "a unit with one meaning"
        raise UnreadableError(
            expected, f"Write tonne for 1,000 kg or short ton for 2,000 lb instead of {word}.", True
        )
    found = size_of(word)
    if found is None:
        near = difflib.get_close_matches(word, spellings(), 1, 0.75)
        hint = f" Did you mean {near[0]}?" if near else ""
        msg = f"Units such as ft, in, m, cu yd, sq ft, lb, ton, kg, h or min are known.{hint}"
        raise UnreadableError(f"a known unit instead of {word!r}", msg)
    return times * found[0], found[1]


def _plain(text: str) -> str:
    for sign, plain in _FRACTIONS.items():
        text = text.replace(sign, f" {plain}")
    text = re.sub(r"(?<=[a-z'\"])[.,]", "", text.translate(_SIGNS).casefold())
    return re.sub(r"\s+", " ", text.replace("''", '"')).strip()


def number(text: str, system: System) -> float:
    """A number as people write it: ``1,234.5``, ``3,5``, ``6 1/2``, ``-4``.

    A comma or point before exactly three digits may be a decimal sign or mark thousands. In an
    imperial job it is read as English writes it; in a metric job it is asked about.

    >>> number("6 1/2", "imperial"), number("3,5", "metric"), number("1,250", "imperial")
    (6.5, 3.5, 1250.0)
    """
    plain = _plain(text)
    sign = -1 if plain.startswith("-") else 1
    body = re.sub(r"^[+-]", "", plain).strip()
    fraction = re.fullmatch(r"(?:(\d+)[ -]+)?(\d+)\s*/\s*(\d+)", body)
    if fraction and int(fraction[3]):
        return sign * (int(fraction[1] or 0) + int(fraction[2]) / int(fraction[3]))
    return sign * _decimal(re.sub(r"(?<=\d) (?=\d{3}(?!\d))", "", body), text, system)


def _decimal(body: str, text: str, system: System) -> float:
    marks = sorted(set(re.findall(r"[.,]", body)), key=body.rfind)
    if not re.fullmatch(r"[\d.,]*\d[.,]?", body):
        raise UnreadableError("a number", f"Write a plain number such as 3.5 instead of {text!r}.")
    if len(marks) == 2 and body.count(marks[1]) == 1:
        return float(body.replace(marks[0], "").replace(marks[1], "."))
    if len(marks) == 1:
        groups = re.fullmatch(r"([1-9]\d{0,2})(?:[.,]\d{3})+", body)
        if body.count(marks[0]) > 1 and groups:
            return float(body.replace(marks[0], ""))
        if groups and system == "metric":
            mend = "Write it with no sign between thousands, and a decimal sign only where meant."
            raise UnreadableError("a number with one meaning", mend, True)
        if body.count(marks[0]) == 1:
            as_thousands = groups and marks[0] == ","
            return float(body.replace(marks[0], "" if as_thousands else "."))
    if not marks:
        return float(body)
    raise UnreadableError("a number", f"Write a plain number such as 3.5 instead of {text!r}.")


def parse(text: str, kind: Kind, system: System, bare: float | None = None) -> float:
    """The SI value (or cents) of a measure as people write it.

    ``bare`` is the SI size of a number without a unit; by default the unit of ``kind`` in this
    system. Raises :class:`UnreadableError`, which says what was expected and how to mend it.

    >>> from budget.units import HOURS, LENGTH, MASS, VOLUME, per
    >>> round(parse("12' 6 1/2\\"", LENGTH, "imperial"), 4)
    3.8227
    >>> parse("3.8 m", LENGTH, "imperial"), parse("0.5 cu yd", VOLUME, "metric")
    (3.8, 0.382277428992)
    >>> parse("5 %", RATIO, "metric"), parse("90 min", HOURS, "metric")
    (0.05, 1.5)
    >>> round(parse("40 min per tonne", per(HOURS, MASS), "metric") * 1000, 4)
    0.6667
    """
    plain = _plain(text)
    sign = -1 if plain.startswith("-") else 1
    terms = _terms(re.sub(r"^[+-]", "", plain), text)
    values: list[float] = []
    last = math.inf
    for digits, unit in terms:
        size = _term_size(unit, kind, system, bare, alone=len(terms) == 1)
        if size >= last:
            raise UnreadableError(_example(kind, system), f"{text!r} names its units in no order.")
        values.append(number(digits, system) * size)
        last = size
    return sign * sum(values)


def _terms(plain: str, text: str) -> list[tuple[str, str]]:
    found: list[tuple[str, str]] = []
    at = 0
    while at < len(plain):
        match = _TERM.match(plain, at)
        if match is None:
            raise UnreadableError("a number with a unit", f"Write one measure instead of {text!r}.")
        found.append((match[1].strip(), match[2].strip()))
        at = match.end()
    if not found:
        raise UnreadableError("a number", "The text is empty.")
    return found


def _term_size(unit: str, kind: Kind, system: System, bare: float | None, alone: bool) -> float:
    if not unit:
        if not alone:
            mend = "Give every number its unit, as in 12 ft 6 in."
            raise UnreadableError(_example(kind, system), mend, True)
        return kind.unit(system).size if bare is None else bare
    size, dimension = unit_size(unit, system)
    money = kind.dimension[3]
    wanted = (*kind.dimension[:3], 0) if money else kind.dimension
    if dimension != wanted or (
        (size == RATIO.imperial.size) != (kind is RATIO) and not any(wanted)
    ):
        mend = f"{unit} does not measure {kind.name}."
        raise UnreadableError(_example(kind, system), mend)
    return size * (MONEY.imperial.size if money else 1.0)


def _example(kind: Kind, system: System) -> str:
    label = kind.unit(system).label
    return f"{kind.name}, a number or a text such as '3.5 {label}'" if label else "a number"
