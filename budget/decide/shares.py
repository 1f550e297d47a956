"""A need bought of several quotes at once: how a plan writes it, and how it is read again.

So many packs of some quotes are bought first; one quote has the rest, whatever that is.
"""

from __future__ import annotations

import re
from collections.abc import Mapping

#: Stands for every way to buy an item of more than one quote.
SEVERAL = "several quotes"

_JOINT = re.compile(r" \+ (?=(?:[0-9.]+|(?:the )?rest) of )", re.IGNORECASE)
_PART = re.compile(r"([0-9]*\.?[0-9]+) of (.+)", re.IGNORECASE)
_REST = re.compile(r"(?:the )?rest of (.+)", re.IGNORECASE)


def shared_value(rest: str, shares: Mapping[str, float]) -> str:
    """The value of a choice that buys some packs of several quotes.

    :param rest: the quote that has the rest.
    :param shares: packs bought of each other quote.

    >>> shared_value("Sand @ North, bag", {"Sand @ South, bag": 5.0})
    '5 of Sand @ South, bag + rest of Sand @ North, bag'
    >>> shared_value("Sand @ North, bag", {})
    'Sand @ North, bag'
    """
    if not shares:
        return rest
    parts = [f"{packs:.12g} of {key}" for key, packs in sorted(shares.items())]
    return " + ".join([*parts, f"rest of {rest}"])


def read_shared(value: str) -> tuple[str, dict[str, float]]:
    """The quote that has the rest (or all of it), and the packs of each other one.

    >>> read_shared("5 of Sand @ South, bag + rest of Sand @ North, bag")
    ('Sand @ North, bag', {'Sand @ South, bag': 5.0})
    >>> read_shared("Sand @ North, bag")
    ('Sand @ North, bag', {})
    """
    *parts, last = _JOINT.split(value)
    found = [_PART.fullmatch(part.strip()) for part in parts]
    rest = _REST.fullmatch(last.strip())
    if not parts or rest is None or not all(found):
        return value, {}
    return rest[1], {part[2]: float(part[1]) for part in found if part}
