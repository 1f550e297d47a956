"""Hired vehicles on the calendar: whether trips that share a hire fall on as few days as priced."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping

from budget.decide.calendar.days import Days
from budget.decide.calendar.network import Booked, day_of
from budget.decide.calendar.tasks import fetching
from budget.decide.plan import Priced
from budget.decide.pricing.arrivals import find_route
from budget.decide.terms.vehicles import TIP, Shared, shared_hires
from budget.prices.options import Haul, Options
from budget.wording import listed

#: The task of being rid of spoil, named as its line.
TIPPED = "Spoil disposal"


def outing_notes(
    priced: Priced, options: Options, booked: Mapping[str, Booked], days: Mapping[str, Days]
) -> Iterator[str]:
    """A sentence for each hired vehicle that is out on more days than its hire is priced for."""
    routes = {a.supplier: find_route(options, a.supplier, a.route) for a in priced.arrivals}
    bill = {line.name: line.cash for line in priced.lines}
    for hire in shared_hires(routes, _tip(priced, options)):
        paid = _days_paid(hire, bill[f"Hire of {hire.way.vehicle}"])
        out = len(_days_out(hire, booked, days))
        if out > paid:
            yield (
                f"{hire.way.vehicle} is out on {out} days here and its hire is priced for {paid}: "
                f"make the trips to {listed(hire.places)} in one go, or reckon with the days more."
            )


def _tip(priced: Priced, options: Options) -> Haul | None:
    """The own trips to the tip that a plan makes."""
    if not any(line.name == TIPPED for line in priced.lines):
        return None
    return next((w.haul for w in options.disposal if w.key == priced.plan.disposal), None)


def _days_paid(hire: Shared, rent: int) -> float:
    """The days that a shared hire is priced for: any number of one that costs nothing."""
    day = hire.way.hire_per_day
    return round(rent / (day.value * (1 + hire.way.tax.value))) if day and day.value else math.inf


def _days_out(
    hire: Shared, booked: Mapping[str, Booked], days: Mapping[str, Days]
) -> frozenset[int]:
    found: set[int] = set()
    for seller in hire.sellers:
        trip = booked[TIPPED if seller == TIP else fetching(seller)]
        first, last = day_of(trip.start), day_of(trip.finish, end=True)
        found |= {d for d in range(first, max(first, last) + 1) if days[trip.task.days].open[d]}
    return frozenset(found)
