"""Rental terms: what each covers, and the cheapest mix of them for a number of days."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache

from budget.figures import Figure, constant, product, tier, whole
from budget.prices.options import Term
from budget.prices.sums import added, times
from budget.units import COUNT, MONEY, NUMBER, PACK_TOLERANCE

#: Hire is counted in half days: the shortest usual term is four hours.
HALF_DAYS = constant(2, NUMBER, "half days in a day")

#: The least number of half days that a price curve reaches, so that it can be recalculated.
SHORTEST_CURVE = 4


@dataclass(frozen=True, slots=True)
class Mix:
    """How many of each term to take, and what they cost together before waiver and tax."""

    counts: tuple[tuple[str, int], ...]  # term name and how many, longest first
    price: Figure  # cents

    def words(self) -> str:
        """The mix as people say it.

        >>> Mix((("week", 1), ("day", 2)), constant(50000, MONEY, "rent")).words()
        '1 week + 2 days'
        """
        return " + ".join(_counted(name, count) for name, count in self.counts)


def _counted(name: str, count: int) -> str:
    if name == "4 hours":
        return name if count == 1 else f"{count} × {name}"
    if name == "4 weeks":
        return f"{count} × {name}"
    return f"{count} {name}" + ("s" if count > 1 else "")


def half_days(days: float) -> int:
    """Days of use as whole half days, rounded up with the pack tolerance.

    >>> half_days(1), half_days(1.2), half_days(0)
    (2, 3, 0)
    """
    return max(0, math.ceil(days * 2 - PACK_TOLERANCE))


def cheapest_terms(terms: Sequence[Term], days: float) -> Mix:
    """The cheapest mix of terms that covers a number of days of use.

    :param terms: what the shop offers, each with the days of use it covers, in half days.
    :param days: days of use, rounded up to half days.
    :return: the mix; a longer term that is cheaper than the days alone is taken whole.
    :raises ValueError: if there are no terms.

    Exact: the least price for each number of half days is built up from the shorter ones.
    The clause read at several shops gives the lowest combination of rates.

    >>> day = Term("day", constant(10000, MONEY, "day"), 1)
    >>> week = Term("week", constant(30000, MONEY, "week"), 7)
    >>> cheapest_terms([day, week], 9).words()
    '1 week + 2 days'
    """
    return _mix(terms, _best_terms(terms, half_days(days)))


def _best_terms(terms: Sequence[Term], upto: int) -> list[Counter[int]]:
    """For every number of half days up to one: how often each term is taken."""
    if not terms:
        msg = "no rental terms to choose from"
        raise ValueError(msg)
    order = _longest_first(terms, range(len(terms)))
    cover = {i: max(1, math.floor(terms[i].days * 2 + PACK_TOLERANCE)) for i in order}
    price = {i: terms[i].price.value for i in order}
    cost = [0.0]
    chosen: list[Counter[int]] = [Counter()]
    for units in range(1, upto + 1):
        before = {i: max(0, units - cover[i]) for i in order}
        best = min(order, key=lambda i: price[i] + cost[before[i]])
        cost.append(price[best] + cost[before[best]])
        chosen.append(chosen[before[best]] + Counter([best]))
    return chosen


def _mix(terms: Sequence[Term], chosen: Sequence[Counter[int]]) -> Mix:
    counts = chosen[-1]
    taken = tuple((terms[i].name, counts[i]) for i in _longest_first(terms, counts))
    return Mix(taken, _price(terms, counts))


def _longest_first(terms: Sequence[Term], which: Iterable[int]) -> list[int]:
    return sorted(which, key=lambda i: (-terms[i].days, terms[i].name))


def _price(terms: Sequence[Term], counts: Counter[int]) -> Figure:
    parts = []
    for i in _longest_first(terms, counts):
        number = constant(counts[i], COUNT, f"times {terms[i].name}")
        parts.append(times(f"rent for {terms[i].name}", MONEY, number, terms[i].price))
    return added("rent", parts, MONEY)


def rent(terms: Sequence[Term], days: Figure) -> Figure:
    """Rent for some days of use [cents], as a figure that still holds when the days change.

    The days are rounded up to half days; each number of half days has its cheapest mix.
    Holds up to twice the days it was made for; past that it stays at its last price.
    """
    halves = whole("half days of hire", product("half days", NUMBER, days, HALF_DAYS))
    upto = max(SHORTEST_CURVE, 2 * int(halves.value))
    return tier("rent", halves, _curve(tuple(terms), upto))


@lru_cache(maxsize=4096)  # every pattern of use asks for the same few curves
def _curve(terms: tuple[Term, ...], upto: int) -> tuple[tuple[Figure, Figure], ...]:
    """What each number of half days up to one costs, from the numbers where the rent rises."""
    steps = [(constant(0, COUNT, "no hire"), constant(0.0, MONEY, "nothing"))]
    best = _best_terms(terms, upto)
    for units in range(1, upto + 1):
        mix = _mix(terms, best[: units + 1])
        if mix.price.value != steps[-1][1].value:
            steps.append((constant(units, COUNT, "half days from"), mix.price.called(mix.words())))
    return tuple(steps)
