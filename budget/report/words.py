"""Numbers and choices in words, in one place, so that every output reads the same.

Nothing here depends on the machine's language or time zone.
"""

from __future__ import annotations

import datetime as dt
import re

from budget import numerals
from budget.numerals import grouped, in_currency
from budget.units import HOURS, RATIO, in_words, round_half_up
from budget.units import money as money
from budget.wording import listed


def money_round(cents: float, currency: str) -> str:
    """Money to the whole dollar, euro or pound, for sentences that are not a bill.

    >>> money_round(123456, "USD"), money_round(-149, "GBP")
    ('$1,235', '-£1')
    """
    amount = round_half_up(abs(cents) / 100)
    return in_currency(grouped(amount), currency, cents < 0 < amount)


def an_hour(cents: float | None, currency: str) -> str:
    """What an hour is worth or earns.

    >>> an_hour(2050, "USD"), an_hour(None, "USD")
    ('$20.50 an hour', 'not set')
    """
    return "not set" if cents is None else f"{money(cents, currency)} an hour"


def hours(number: float) -> str:
    """Hours of work, to a tenth.

    >>> hours(12.25), hours(1), hours(0.02), hours(0)
    ('12.3 hours', '1 hour', '0.02 hours', '0 hours')
    """
    text = in_words(number, HOURS, "metric").removesuffix(" h")
    return f"{text} hour" if text == "1" else f"{text} hours"


def percent(ratio: float) -> str:
    """A ratio as a percentage.

    >>> percent(0.07), percent(0.125)
    ('7 %', '12.5 %')
    """
    return in_words(ratio, RATIO, "metric")


def share(ratio: float) -> str:
    """A share that nobody needs finer than a whole per cent.

    >>> share(0.0), share(0.00092), share(0.124)
    ('none', 'under 1 %', '12 %')
    """
    if not ratio:
        return "none"
    return "under 1 %" if ratio < 0.005 else numerals.percent(ratio)


def date(day: dt.date) -> str:
    """A date as the job writes it, the same on every machine.

    >>> date(dt.date(2026, 4, 6))
    '6 April 2026'
    """
    return numerals.date(day)


def count(number: int, one: str, many: str = "") -> str:
    """A counted noun.

    >>> count(1, "line"), count(3, "line"), count(2, "delivery", "deliveries")
    ('1 line', '3 lines', '2 deliveries')
    """
    return numerals.how_many(number, one, many)


def every(number: int, one: str, many: str = "") -> str:
    """All of some things, as people say it.

    >>> every(1, "choice"), every(2, "choice"), every(7, "choice")
    ('The one choice', 'Both choices', 'All 7 choices')
    """
    if number == 1:
        return f"The one {one}"
    return f"{'Both' if number == 2 else f'All {grouped(number)}'} {many or one + 's'}"


#: A number, and behind it the sign of its unit, of one word or two.
_MEASURE = re.compile(
    r"(?<=\d) (?:%|(?:sq|cu) (?:ft|yd|in)|(?:lb|kg|tons?|tonnes?|h)(?: per (?:(?:sq|cu) )?\w+)?|"
    r"lb/\S+|kg/\S+|t/m³|[cmk]?m[²³]?|mi|ft|yd|in|mL|L|gal|h|min|[€£])(?![\w/])|"
    r"(?<=per sq|per cu) (?:ft|yd|in)\b"
)


_MONTH = (
    "(?:Jan(?:uary)?|Feb(?:ruary)?|Mar(?:ch)?|Apr(?:il)?|May|June?|July?|Aug(?:ust)?|"
    "Sep(?:tember)?|Oct(?:ober)?|Nov(?:ember)?|Dec(?:ember)?)"
)

#: A day as plans and tables write it, with or without its weekday and its year.
DAY = re.compile(
    r"(?:\b(?:Mon|Tue|Wed|Thu|Fri|Sat|Sun) )?"
    rf"\b(?:\d{{1,2}} {_MONTH}|{_MONTH} \d{{1,2}})\b(?:,? \d{{4}}\b)?"
)


def unbroken(text: str) -> str:
    """A text whose measures and days are not torn apart at the end of a line.

    >>> unbroken("add 7 % to 3.02 cu yd").split(" ")
    ['add', '7\\xa0%', 'to', '3.02\\xa0cu\\xa0yd']
    >>> unbroken("$44.83 per cu yd").split(" ")
    ['$44.83', 'per', 'cu\\xa0yd']
    >>> unbroken("starts Fri 5 Jun").split(" ")
    ['starts', 'Fri\\xa05\\xa0Jun']
    >>> unbroken("valid on April 6, 2026").split(" ")
    ['valid', 'on', 'April\\xa06,\\xa02026']
    """
    return _MEASURE.sub(_joined, DAY.sub(_joined, text))


def _joined(found: re.Match[str]) -> str:
    return found.group().replace(" ", "\u00a0")


def choice(name: str, value: str) -> tuple[str, str]:
    """A choice and its value in plain words: what it is about, and what is decided.

    >>> choice("step:Dig", "own: By hand")
    ('Dig', 'own hands, by hand')
    >>> choice("step:Dig", "bid: Excavation")
    ('Dig', 'hire Excavation')
    >>> choice("goods:North Yard", "deliver to drive")
    ('Goods from North Yard', 'deliver to drive')
    >>> choice("bedding", "sand"), choice("machine:Loader", "")
    (('Bedding', 'sand'), ('Loader', 'do without it'))
    """
    kind, _, subject = name.partition(":")
    value = value or _ABSENT.get(kind, "nothing")
    if kind == "step":
        return subject, step_value(value)
    if kind == "item":
        return f"Buy {subject}", quotes_bought(subject, value)
    about = {
        "goods": f"Goods from {subject}",
        "machine": subject,
        "part": f"Part {subject}",
        "bedding": "Bedding",
        "disposal": "Where the spoil goes",
    }
    return about.get(kind, name), value


_ABSENT = {
    "goods": "buy nothing there",
    "machine": "do without it",
    "disposal": "leave it to a bid",
    "item": "leave it to a bid",
    "part": "leave it out",
}


def quotes_bought(item: str, value: str) -> str:
    """Which quotes an item is bought of.

    >>> quotes_bought("Sand", "Sand @ North, bag")
    'North, bag'
    >>> quotes_bought("Sand", "5 of Sand @ South, bag + rest of Sand @ North, bag")
    '5 of South, bag and the rest of North, bag'
    """
    from budget.decide.shares import read_shared  # the rest of this module needs no decision

    rest, shares = read_shared(value)
    start = f"{item} @ "
    if not shares:
        return value.removeprefix(start)
    parts = [f"{packs:g} of {key.removeprefix(start)}" for key, packs in shares.items()]
    return listed([*parts, f"the rest of {rest.removeprefix(start)}"])


def step_value(value: str) -> str:
    """How a step is done, in plain words.

    >>> step_value("own: Plate compactor, rented"), step_value("hire"), step_value("own")
    ('own hands, plate compactor, rented', 'hired', 'own hands')
    """
    kind, _, name = value.partition(":")
    name = name.strip()
    if kind == "own":
        return f"own hands, {name[:1].lower()}{name[1:]}" if name else "own hands"
    if kind == "bid":
        return f"hire {name}"
    return "hired" if kind == "hire" else value
