"""How numbers, money and dates are written for people: one manner for a whole run.

The manner comes from the job (its settings, else its currency and units), never from the
machine, so that results do not depend on a locale. What programs read (JSON, CSV, numbers and
formulas in cells) is not touched by it: numbers are plain there and dates are ISO 8601.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from typing import Literal

#: What stands between thousands, and before decimals. A comma and a point are the English way;
#: the others are usual in much of Europe (BIPM, SI Brochure, 9th edition, section 5.4.4, allows
#: either mark of the decimal and thin spaces for thousands).
STYLES = {
    "comma and point": (",", "."),
    "point and comma": (".", ","),
    "space and comma": ("\u202f", ","),
    "apostrophe and point": ("\u2019", "."),
}
ENGLISH = "comma and point"

#: The order of a date's parts. The first two name the month, so that they cannot be mistaken
#: (Unicode CLDR 47, long dates of en_001 and en_US); the third is ISO 8601.
DAY_FIRST, MONTH_FIRST, YEAR_FIRST = "day month year", "month day year", "year month day"
DATES = (DAY_FIRST, MONTH_FIRST, YEAR_FIRST)

#: Where a currency's sign stands: ``$5``, ``5 €`` or, apart as its code always is, ``CHF 5``.
Side = Literal["before", "after"]

#: Currencies with a sign of their own; the others are written with their code (ISO 4217).
CURRENCY_SIGNS = {"USD": "$", "CAD": "$", "AUD": "$", "NZD": "$", "EUR": "€", "GBP": "£"}

_MONTHS = (
    "January", "February", "March", "April", "May", "June", "July", "August", "September",
    "October", "November", "December",
)  # fmt: skip
_WEEKDAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")


@dataclass(frozen=True, slots=True)
class Manner:
    """One way of writing numbers, money and dates.

    :raises KeyError: for a style of numbers that is not one of :data:`STYLES`
    :raises ValueError: for an order of dates that is not one of :data:`DATES`
    """

    numbers: str = ENGLISH
    dates: str = DAY_FIRST
    sign: Side = "before"

    def __post_init__(self) -> None:
        """Refuse what nobody knows."""
        STYLES[self.numbers]
        if self.dates not in DATES:
            msg = f"{self.dates} is not an order of dates"
            raise ValueError(msg)


_used = [Manner()]  # the last one is in use, in every thread of the run


@contextmanager
def written(manner: Manner) -> Iterator[None]:
    """Write numbers, money and dates in one manner inside a ``with`` block.

    >>> with written(Manner("point and comma", MONTH_FIRST, "after")):
    ...     grouped(1234.5, 2), date(dt.date(2026, 4, 6))
    ('1.234,50', 'April 6, 2026')
    """
    _used.append(manner)
    try:
        yield
    finally:
        _used.pop()


def from_now_on(manner: Manner) -> None:
    """Write numbers, money and dates in one manner until told otherwise."""
    _used[-1] = manner


def manner() -> Manner:
    """The manner in use."""
    return _used[-1]


def grouped(number: float, places: int = 0) -> str:
    """A number with its thousands apart.

    >>> grouped(1234567), grouped(0.5, 2)
    ('1,234,567', '0.50')
    """
    return localised(f"{number:,.{places}f}")


def trimmed(number: float, places: int = 2) -> str:
    """A number without the noughts that end its decimals.

    >>> trimmed(1200), trimmed(2.5)
    ('1,200', '2.5')
    """
    text = f"{number:,.{places}f}"
    return localised(text.rstrip("0").rstrip(".") if "." in text else text)


def how_many(number: float, one: str, many: str = "", places: int = 2) -> str:
    """A number with the noun it counts, in the singular only for exactly one.

    >>> how_many(1, "day"), how_many(2.5, "day"), how_many(2, "box", "boxes")
    ('1 day', '2.5 days', '2 boxes')
    """
    text = trimmed(number, places)
    return f"{text} {one if text == '1' else many or one + 's'}"


def percent(share: float) -> str:
    """A share in whole percent.

    >>> percent(0.074)
    '7 %'
    """
    return f"{grouped(100 * share)} %"


def localised(text: str) -> str:
    """A number written the English way, in the manner in use.

    >>> with written(Manner("apostrophe and point")):
    ...     localised("-1,234.5")
    '-1’234.5'
    """
    between, before = STYLES[_used[-1].numbers]
    return text.translate({ord(","): between, ord("."): before})


def in_currency(number: str, currency: str, negative: bool = False) -> str:
    """A number already in words with the sign of its currency, or its code.

    >>> in_currency("12", "USD", negative=True), in_currency("12", "SEK"), in_currency("12", "")
    ('-$12', 'SEK 12', '12')
    """
    minus = "-" if negative else ""
    code = currency.strip().upper()
    sign = CURRENCY_SIGNS.get(code)
    if _used[-1].sign == "after":
        return f"{minus}{number}\u00a0{sign or code}".strip()
    if sign:
        return f"{minus}{sign}{number}"
    return f"{code} {minus}{number}".strip()


def date(day: dt.date) -> str:
    """A date in full.

    >>> date(dt.date(2026, 4, 6))
    '6 April 2026'
    """
    return _date(day, _MONTHS[day.month - 1])


def short_date(day: dt.date) -> str:
    """A date with its year, short enough for a table.

    >>> short_date(dt.date(2026, 4, 6))
    '6 Apr 2026'
    """
    return _date(day, _MONTHS[day.month - 1][:3])


def date_format() -> str:
    """The format of a spreadsheet's cell that shows a date as :func:`short_date` does.

    >>> date_format()
    'd mmm yyyy'
    """
    known = {"month day year": "mmm d, yyyy", "year month day": "yyyy-mm-dd"}
    return known.get(_used[-1].dates, "d mmm yyyy")


def _date(day: dt.date, month: str) -> str:
    match _used[-1].dates:
        case "month day year":
            return f"{month} {day.day}, {day.year}"
        case "year month day":
            return day.isoformat()
    return f"{day.day} {month} {day.year}"


def day_of_year(day: dt.date) -> str:
    """A date whose year goes without saying.

    >>> day_of_year(dt.date(2026, 4, 6))
    '6 Apr'
    """
    month = _MONTHS[day.month - 1][:3]
    return f"{day.day} {month}" if _used[-1].dates == DAY_FIRST else f"{month} {day.day}"


def weekday(day: dt.date, year: bool = False) -> str:
    """A date of a plan: its weekday, its day and month, and its year where asked.

    >>> weekday(dt.date(2026, 4, 6)), weekday(dt.date(2026, 4, 6), year=True)
    ('Mon 6 Apr', 'Mon 6 Apr 2026')
    """
    return f"{_WEEKDAYS[day.weekday()]} {short_date(day) if year else day_of_year(day)}"


#: How a spreadsheet is told to show a date; it takes the months' names from its own language.
_IN_CELLS = {DAY_FIRST: "d mmm yyyy", MONTH_FIRST: "mmm d, yyyy", YEAR_FIRST: "yyyy-mm-dd"}


def cell_date() -> str:
    """The number format of dates in workbooks, in the manner in use.

    >>> cell_date()
    'd mmm yyyy'
    """
    return _IN_CELLS[_used[-1].dates]
