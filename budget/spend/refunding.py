"""Which refunds give back the price of goods sent back, and which make a line cheaper."""

from __future__ import annotations

import datetime as dt
from collections import Counter, defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import groupby


@dataclass(frozen=True, slots=True)
class Back:
    """One entry of goods sent back, or of money refunded. Cents with tax."""

    date: dt.date
    goods: bool  # False: money
    cents: int


@dataclass(frozen=True, slots=True)
class MoneyBack:
    """The refunds of one line, told apart. Cents."""

    for_nothing: int = 0  # refunds that answer for no goods
    awaited: int = 0  # goods sent back since the last refund for goods


def money_back(entries: Iterable[Back]) -> MoneyBack:
    """Tell the refunds of a line apart; ``entries`` in the order of their days.

    A refund answers for goods sent back by its day. What is above those makes the line cheaper,
    and so does a refund before anything went back, unless goods of its very sum go back later:
    some yards pay before they fetch. Money back of 30.00, then goods for 100.00 sent back:

    >>> first, later = dt.date(2026, 5, 2), dt.date(2026, 5, 9)
    >>> money_back([Back(first, False, 3000), Back(later, True, 10000)])
    MoneyBack(for_nothing=3000, awaited=10000)
    >>> money_back([Back(first, False, 10000), Back(later, True, 10000)])
    MoneyBack(for_nothing=0, awaited=0)
    """
    found = _Sorting()
    for _, group in groupby(_standing(tuple(entries)), lambda e: e.date):
        day = list(group)
        found.send_back([e.cents for e in day if e.goods])
        found.refund([e.cents for e in day if not e.goods])
    return MoneyBack(found.for_nothing, found.awaited)


def _standing(entries: Sequence[Back]) -> list[Back]:
    """The entries without those that were taken back by the same with a minus."""
    gone: set[int] = set()
    places: defaultdict[tuple[bool, int], list[int]] = defaultdict(list)
    for place, entry in enumerate(entries):
        same = places[entry.goods, -entry.cents]
        if entry.cents < 0 and same:
            gone.update((same.pop(), place))
        else:
            places[entry.goods, entry.cents].append(place)
    return [entry for place, entry in enumerate(entries) if place not in gone]


class _Sorting:
    """What is open after each day."""

    def __init__(self) -> None:
        self.for_nothing = self.awaited = self._open = 0
        self._early: Counter[int] = Counter()

    def send_back(self, goods: Iterable[int]) -> None:
        for cents in goods:
            if self._early[cents] > 0:
                self._early[cents] -= 1
                self.for_nothing -= cents
            else:
                self._open += cents
                self.awaited = max(0, self.awaited + cents)
        if self._open < 0:  # fewer goods went back than were refunded
            self.for_nothing -= self._open
            self._open = 0

    def refund(self, money: Sequence[int]) -> None:
        if not self._open:
            self._early.update(money)
        total = sum(money)
        answered = min(self._open, total)
        self._open -= answered
        self.for_nothing += total - answered
        if answered > 0:
            self.awaited = 0
