"""How numbers, money and dates are usually written where a currency is at home."""

from __future__ import annotations

from functools import lru_cache

from budget.numerals import STYLES, Manner, Side
from budget.reference import rows
from budget.units import System


def manner_of(currency: str, units: System, numbers: str = "", dates: str = "") -> Manner:
    """The manner of a job; ``numbers`` and ``dates`` are the user's own choice, if any.

    Where the user's numbers differ from those usual with the currency, its sign stands after
    a number with a comma for decimals, and before one with a point.

    >>> manner_of("EUR", "metric")
    Manner(numbers='point and comma', dates='day month year', sign='after')
    >>> manner_of("USD", "imperial", dates="year month day").dates
    'year month day'

    :raises KeyError: for a style of numbers that nobody knows
    :raises ValueError: for an order of dates that nobody knows
    """
    usual = _usual().get((currency.strip().upper(), ""))
    row = usual or _usual()["", units]
    sign: Side = "after" if row["sign"] == "after" else "before"
    if numbers and numbers != row["numbers"]:
        sign = "after" if STYLES[numbers][1] == "," else "before"
    return Manner(numbers or row["numbers"], dates or row["dates"], sign)


@lru_cache(maxsize=1)
def _usual() -> dict[tuple[str, str], dict[str, str]]:
    return {(row["currency"], row["units"]): row for row in rows("manners")}
