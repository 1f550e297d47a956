"""Hired vehicles: one hired for a day serves every seller fetched from on that day.

Trips to the tip are not in it: they fall into the days of digging, before the goods come.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from budget.decide.build import Build
from budget.prices.options import Haul, Route
from budget.units import PACK_TOLERANCE, whole_packs

#: What makes two sellers' trips the same hire: the vehicle as it is named, its price and tax.
Vehicle = tuple[str, float, float]

#: Own hours of some trips, as terms of columns.
Hours = Sequence[tuple[int, float]]


@dataclass(frozen=True, slots=True)
class Shared:
    """One hired vehicle that fetches from several sellers."""

    way: Haul  # to the first of them
    sellers: tuple[str, ...]  # by name


@dataclass(frozen=True, slots=True)
class Outing:
    """Trips to one seller with a hired vehicle, as columns of the programme."""

    way: Haul
    hours: Hours
    most: float  # hours at most
    least: Hours  # for each purchase that may come: the hours it takes alone


def vehicle_of(route: Route) -> Vehicle | None:
    """The vehicle that is hired for a route; none where it is delivered or the vehicle is own."""
    if not isinstance(route, Haul) or route.hire_per_day is None:
        return None
    return (route.key, route.hire_per_day.value, route.tax.value)


def shared_hires(routes: Mapping[str, Route]) -> tuple[Shared, ...]:
    """The hired vehicles with which more than one seller's goods are fetched.

    :param routes: the way of each seller's goods, by seller.
    """
    found: dict[Vehicle, list[Haul]] = {}
    for seller in sorted(routes):
        way = routes[seller]
        vehicle = vehicle_of(way)
        if vehicle is not None and isinstance(way, Haul):
            found.setdefault(vehicle, []).append(way)
    return tuple(
        Shared(ways[0], tuple(way.supplier for way in ways))
        for _, ways in sorted(found.items())
        if len(ways) > 1
    )


def add_hire_days(build: Build, outings: Sequence[Outing]) -> None:
    """Days of each hired vehicle, counted over its trips to all sellers together."""
    by_vehicle: dict[Vehicle, list[Outing]] = {}
    for outing in outings:
        vehicle = vehicle_of(outing.way)
        if vehicle is not None:
            by_vehicle.setdefault(vehicle, []).append(outing)
    for (_, price, tax), mine in by_vehicle.items():
        _days(build, mine, price * (1.0 + tax))


def _days(build: Build, outings: Sequence[Outing], cost: float) -> None:
    day = build.situation.options.hours_per_day.value
    high = math.ceil(sum(outing.most for outing in outings) / day) + 1.0
    days = build.amount(high, cash=cost, whole=True)
    terms = [(c, -hours / day) for outing in outings for c, hours in outing.hours]
    build.programme.row([(days, 1.0), *terms], low=-PACK_TOLERANCE)
    if len(outings) == 1:
        return
    for outing in outings:
        for column, hours in outing.least:
            alone = float(whole_packs(hours / day))
            build.programme.row([(days, 1.0), (column, -alone)], low=0.0)
