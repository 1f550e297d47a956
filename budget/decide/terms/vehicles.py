"""Hired vehicles: one hired for a day serves every seller fetched from, and the tip as well.

Days are counted over all trips with it; the calendar says where they fall on more days.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from budget.prices.options import Haul, Route

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
