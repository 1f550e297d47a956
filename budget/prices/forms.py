"""The smaller forms of a bid: the same offer without steps that it would leave out for a deduct."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import combinations

from budget.figures import Figure, total
from budget.job import Bid as BidRow
from budget.job import Job
from budget.reference import steps
from budget.units import MONEY

#: Sets of steps with a deduct of their own that one bid is asked about: each may stay or go, so
#: that five make 31 smaller forms.
MOST_DEDUCTS = 5

#: Some steps, and how much the price falls without them [cents before tax].
Deduct = tuple[frozenset[str], Figure]


def deducts(job: Job, row: BidRow) -> list[Deduct]:
    """Every set of steps that a bid would leave out for a deduct of its own.

    The bid's own columns come first, then the rows of Bid scope that give a deduct.
    """
    found = []
    if row.may_leave and row.deduct is not None:
        found.append((frozenset(row.may_leave), row.figure("deduct", MONEY, "deduct")))
    for scope in job.bid_scope:
        if scope.deduct is not None and scope.bid.casefold() == row.bid.casefold():
            words = f"deduct for {scope.item}"
            found.append((frozenset(scope.steps), scope.figure("deduct", MONEY, words)))
    return found


def smaller_forms(job: Job, row: BidRow) -> list[tuple[frozenset[str], Figure]]:
    """What every smaller form of a bid leaves out, and its deduct; fewest steps left out first.

    A form leaves out one or several sets that share no step, and keeps one step at least. Where
    the same steps can be left out in two ways, the larger deduct holds.
    """
    asked = deducts(job, row)[:MOST_DEDUCTS]
    best: dict[frozenset[str], Figure] = {}
    for count in range(1, len(asked) + 1):
        for chosen in combinations(asked, count):
            left = frozenset[str]().union(*(names for names, _ in chosen))
            apart = len(left) == sum(len(names) for names, _ in chosen)
            if not apart or not left < set(row.steps):
                continue
            deduct = _together([figure for _, figure in chosen])
            if left not in best or deduct.value > best[left].value:
                best[left] = deduct
    return sorted(best.items(), key=lambda form: (len(form[0]), _orders(form[0])))


def _together(found: list[Figure]) -> Figure:
    return found[0] if len(found) == 1 else total("deducts together", found)


def _orders(names: Iterable[str]) -> list[int]:
    return sorted(steps()[name].order for name in names)


def in_order(names: Iterable[str]) -> list[str]:
    """Steps in the order of work.

    >>> in_order({"Lay", "Cut", "Dig"})
    ['Dig', 'Lay', 'Cut']
    """
    return sorted(names, key=lambda name: steps()[name].order)


def form_name(row: BidRow, left: frozenset[str]) -> str:
    """The name of an offer without some of its steps.

    >>> from budget.job import Place
    >>> form_name(BidRow(place=Place("Bids", 2), bid="Crew"), frozenset({"Joint", "Dig"}))
    'Crew without Dig and Joint'
    """
    return f"{row.bid} without {' and '.join(in_order(left))}"


def rows_by_bid(job: Job) -> dict[str, BidRow]:
    """The row of each bid by the bid's name, and by those of its smaller forms."""
    return {name: row for row in job.bids for name in _names(job, row)}


def _names(job: Job, row: BidRow) -> Iterator[str]:
    yield row.bid
    for left, _ in smaller_forms(job, row):
        yield form_name(row, left)
