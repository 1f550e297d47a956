"""Choices and differences in plain words."""

from __future__ import annotations

import math

from budget.decide.plan import BID, METHOD, Plan
from budget.decide.shares import read_shared
from budget.numerals import grouped, in_currency
from budget.units import HOURS, MONEY, in_words
from budget.wording import listed

#: Most changes named in one sentence; the rest are counted.
NAMED = 4


def round_money(cents: float, currency: str = "") -> str:
    """Money to whole units, with the sign of its currency (or its code before the number).

    >>> round_money(123456, "USD"), round_money(-149, "EUR"), round_money(12, "SEK")
    ('$1,235', '€1', 'SEK 0.12')
    """
    amount = abs(cents)
    number = in_words(amount, MONEY, "metric", 0 if amount >= 50 else 2)
    return in_currency(number, currency)


def hours_in_words(hours: float) -> str:
    """Hours to the nearest that matters.

    >>> hours_in_words(12.34), hours_in_words(1), hours_in_words(0.26)
    ('12 hours', '1 hour', '0.3 hours')
    """
    text = in_words(abs(hours), HOURS, "metric", 0 if abs(hours) >= 9.95 else 1)
    number = text.removesuffix(" h")
    return f"{number} hour" if number == "1" else f"{number} hours"


def so_far(gap: float) -> str:
    """What a plan is that was not proved to be the best.

    ``gap`` is the share of its total that a better one could save at most.

    >>> so_far(0.0132), so_far(float("inf"))
    ('best so far, gap 1.3 %', 'best so far, gap not known')
    """
    known = math.isfinite(gap)
    return f"best so far, gap {grouped(100 * gap, 1)} %" if known else "best so far, gap not known"


def value_in_words(choice: str, value: str) -> str:
    """One value of a choice as a short phrase.

    >>> value_in_words("step:Dig", "own: by hand"), value_in_words("step:Dig", "bid: Big Dig")
    ('own hands', 'hiring “Big Dig”')
    >>> value_in_words("step:Base", "own: plate compactor")
    'own hands (plate compactor)'
    >>> value_in_words("item:Base stone", "Base stone @ North Yard, ton")
    'from North Yard by the ton'
    >>> value_in_words("goods:North Yard", ""), value_in_words("goods:A", "deliver to drive")
    ('buying nothing there', 'delivery to the drive')
    >>> value_in_words("item:Sand", "5 of Sand @ South, bag + rest of Sand @ North, bag")
    '5 from South by the bag and the rest from North by the bag'
    >>> value_in_words("machine:Loader", "rent from Tool Barn")
    'renting from Tool Barn'
    """
    kind = choice.partition(":")[0]
    if not value:
        return _ABSENT.get(kind, "going without")
    if kind == "step":
        if value.startswith(BID):
            return f"hiring “{value.removeprefix(BID)}”"
        method = value.removeprefix(METHOD)
        return "own hands" if method == BY_HAND else f"own hands ({method})"
    if kind == "item":
        rest, shares = read_shared(value)
        parts = [f"{packs:g} {_offer(key)}" for key, packs in shares.items()]
        return listed([*parts, f"the rest {_offer(rest)}"]) if parts else _offer(rest)
    if kind == "bedding":
        return f"{value} bedding"
    for start, words in _BEGINNINGS.get(kind, ()):
        if value == start.strip() or value.startswith(start):
            return (words + value[len(start) :]).strip()
    return value


#: The usual way to do a step, which goes without saying.
BY_HAND = "by hand"


def _offer(value: str) -> str:
    """A quote by its seller and pack, from its name ``ITEM @ SELLER, PACK``."""
    _, at, place = value.partition(" @ ")
    seller, comma, pack = place.rpartition(", ")
    if not at or not comma:
        return value
    return f"from {seller} by the {'piece' if pack in ('each', 'piece') else pack}"


_BEGINNINGS = {
    "goods": (("deliver to ", "delivery to the "), ("haul with ", "hauling with ")),
    "machine": (("rent ", "renting "), ("borrow ", "borrowing "), ("buy ", "buying ")),
}


_ABSENT = {
    "goods": "buying nothing there",
    "machine": "doing without it",
    "disposal": "leaving it to a bid",
    "item": "not buying it",
    "step": "nothing to do",
    "part": "leaving it out",
}


def subject(choice: str) -> str:
    """What a choice is about.

    >>> subject("goods:North Yard"), subject("step:Dig"), subject("bedding")
    ('Goods from North Yard', 'Dig', 'Bedding')
    """
    kind, _, name = choice.partition(":")
    if kind == "goods":
        return f"Goods from {name}"
    if kind == "disposal":
        return "Spoil"
    return name or kind.capitalize()


def changed_choices(before: Plan, after: Plan) -> tuple[str, ...]:
    """Everything that is different between two plans, most telling choices first."""
    old, new = before.choices(), after.choices()
    differing = [c for c in {**old, **new} if old.get(c, "") != new.get(c, "")]
    if "step:Spoil" in differing and "disposal" not in new:  # the bid that takes it is named
        differing = [c for c in differing if c != "disposal"]
    differing.sort(key=lambda c: (_WEIGHT[c.partition(":")[0]], c))
    return tuple(_change(c, old.get(c, ""), new.get(c, "")) for c in differing)


def changes(before: Plan, after: Plan) -> str:
    """What is different between two plans, in words; most telling choices first."""
    differing = changed_choices(before, after)
    sentences = list(differing[:NAMED])
    rest = len(differing) - NAMED
    if rest > 0:
        sentences.append(f"and {rest} more change{'s' if rest > 1 else ''}")
    return "; ".join(sentences)


_WEIGHT = {"bedding": 0, "step": 1, "part": 2, "machine": 3, "goods": 4, "disposal": 5, "item": 6}


def _change(choice: str, old: str, new: str) -> str:
    """One change in words.

    >>> _change("step:Dig", "own: by hand", "bid: Big Dig")
    'Dig: hiring “Big Dig” instead of own hands'
    >>> _change("item:Joint sand", "Joint sand @ A, bag", ""), _change("machine:Saw", "", "buy")
    ('Joint sand: no longer bought', 'Saw: buying')
    """
    about, kind = subject(choice), choice.partition(":")[0]
    now = value_in_words(choice, new)
    if not new:
        return f"{about}: {_NO_LONGER.get(kind, now)}"
    if not old:
        return f"{about}: {'bought ' if kind == 'item' else ''}{now}"
    return f"{about}: {now} instead of {value_in_words(choice, old)}"


_NO_LONGER = {
    "goods": "none any more",
    "machine": "no longer needed",
    "disposal": "left to a bid",
    "item": "no longer bought",
    "step": "no longer to be done",
    "part": "left out",
}
