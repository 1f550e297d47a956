"""Hired vehicles on the calendar: whether trips that share a hire fall on as few days as priced."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from budget.decide.arrivals import find_route
from budget.decide.calendar.days import Days
from budget.decide.calendar.network import Booked, day_of
from budget.decide.calendar.tasks import fetching
from budget.decide.plan import Priced
from budget.decide.vehicles import Shared, shared_hires
from budget.decide.wording import listed
from budget.prices.options import Options
from budget.units import whole_packs


def outing_notes(
    priced: Priced, options: Options, booked: Mapping[str, Booked], days: Mapping[str, Days]
) -> Iterator[str]:
    """A sentence for each hired vehicle that is out on more days than its hire is priced for."""
    routes = {a.supplier: find_route(options, a.supplier, a.route) for a in priced.arrivals}
    hours = {a.supplier: a.hours for a in priced.arrivals}
    for hire in shared_hires(routes):
        together = sum(hours[seller] for seller in hire.sellers)
        paid = whole_packs(together / options.hours_per_day.value)
        out = len(_days_out(hire, booked, days))
        if out > paid:
            yield (
                f"{hire.way.vehicle} is out on {out} days here and its hire is priced for {paid}: "
                f"fetch from {listed(hire.sellers)} in one go, or reckon with the days more."
            )


def _days_out(
    hire: Shared, booked: Mapping[str, Booked], days: Mapping[str, Days]
) -> frozenset[int]:
    found: set[int] = set()
    for seller in hire.sellers:
        trip = booked[fetching(seller)]
        first, last = day_of(trip.start), day_of(trip.finish, end=True)
        found |= {d for d in range(first, max(first, last) + 1) if days[trip.task.days].open[d]}
    return frozenset(found)
