"""Dates as people type them, read only where they cannot mean two days."""

from __future__ import annotations

import datetime as dt
import re

_MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
_NAMES = (
    "january", "february", "march", "april", "may", "june", "july", "august", "september",
    "october", "november", "december", *_MONTHS, "sept",
)  # fmt: skip
_DAY = r"(?P<day>\d{1,2})(?:st|nd|rd|th|\.)?"
_MONTH, _YEAR = r"(?P<month>[a-z]+)\.?", r"(?P<year>\d{4})"
_FORMS = (
    r"(?P<year>\d{4})-(?P<month>\d\d)-(?P<day>\d\d)",
    rf"{_DAY}[ -]{_MONTH}(?:,? |-){_YEAR}",
    rf"{_MONTH} {_DAY},? {_YEAR}",
)


def as_date(text: str) -> dt.date | None:
    """A date such as ``2026-05-15``, ``15 May 2026`` or ``May 15, 2026``; else nothing.

    A date in numbers is read as ISO 8601 writes it alone: 5/6/2026 is two days in two countries.

    >>> as_date("2026-05-15") == as_date("15th May 2026") == as_date("May 15, 2026")
    True
    >>> as_date("15-May-2026") == as_date("15. May 2026") == as_date("2026-05-15")
    True
    >>> as_date("5/6/2026") is None and as_date("31 June 2026") is None
    True
    """
    plain = " ".join(text.casefold().split())
    for form in _FORMS:
        match = re.fullmatch(form, plain, re.ASCII)
        if match:
            month = _month(match["month"])
            return _day(int(match["year"]), month, int(match["day"])) if month else None
    return None


def meant(text: str) -> list[dt.date]:
    """The days that a date in numbers such as ``5/6/2026`` may mean, earliest first.

    >>> [d.isoformat() for d in meant("5/6/2026")], [d.isoformat() for d in meant("4.15.26")]
    (['2026-05-06', '2026-06-05'], ['2026-04-15'])
    """
    match = re.fullmatch(r"(\d{1,2})([/.-])(\d{1,2})\2(\d{4}|\d\d)", text.strip(), re.ASCII)
    if match is None:
        return []
    one, other, year = int(match[1]), int(match[3]), int(match[4])
    year += 2000 if year < 100 else 0
    days = {_day(year, one, other), _day(year, other, one)}
    return sorted(day for day in days if day is not None)


def _month(text: str) -> int:
    if text.isdigit():
        return int(text)
    return _MONTHS.index(text[:3]) + 1 if text in _NAMES else 0


def _day(year: int, month: int, day: int) -> dt.date | None:
    try:
        return dt.date(year, month, day)
    except ValueError:
        return None
