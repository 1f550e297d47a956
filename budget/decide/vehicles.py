"""Hired vehicles: one hired for a day serves every seller fetched from, and the tip as well.

Days are counted over all trips with it; the calendar says where they fall on more days.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from budget.decide.build import Build, Outing
from budget.prices.options import Haul, Route
from budget.units import PACK_TOLERANCE, whole_packs

#: What makes two sellers' trips the same hire: the vehicle as it is named, its price and tax.
Vehicle = tuple[str, float, float]

#: Stands for the tip among the names of sellers.
TIP = ""


@dataclass(frozen=True, slots=True)
class Shared:
    """One hired vehicle that goes to several places."""

    way: Haul  # to the first of them
    sellers: tuple[str, ...]  # by name; the tip, where it goes there too, comes last

    @property
    def places(self) -> tuple[str, ...]:
        """Where it goes, in words."""
        return tuple("the tip" if s == TIP else s for s in self.sellers)


def vehicle_of(route: Route) -> Vehicle | None:
    """The vehicle that is hired for a route; none where it is delivered or the vehicle is own."""
    if not isinstance(route, Haul) or route.hire_per_day is None:
        return None
    return (route.key, route.hire_per_day.value, route.tax.value)


def shared_hires(routes: Mapping[str, Route], tip: Haul | None = None) -> tuple[Shared, ...]:
    """The hired vehicles that go to more than one place.

    :param routes: the way of each seller's goods, by seller. :param tip: own trips to the tip.
    """
    found: dict[Vehicle, dict[str, Haul]] = {}
    every = [(seller, routes[seller]) for seller in sorted(routes)]
    for place, way in [*every, *([(TIP, tip)] if tip else [])]:
        vehicle = vehicle_of(way)
        if vehicle is not None and isinstance(way, Haul):
            found.setdefault(vehicle, {})[place] = way
    return tuple(
        Shared(next(iter(ways.values())), tuple(ways))
        for _, ways in sorted(found.items(), key=lambda pair: pair[0])
        if len(ways) > 1
    )


def add_hire_days(build: Build, outings: Sequence[Outing]) -> None:
    """Days of each hired vehicle, counted over its trips to all sellers and to the tip."""
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
