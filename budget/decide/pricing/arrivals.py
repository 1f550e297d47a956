"""How the goods bought of one supplier come, and what that costs in cash and own hours."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from budget.decide.wording import round_money
from budget.figures import Figure, total
from budget.job import DropPoint
from budget.prices.delivery import allowed, drop_fee, heap_drops, packed_drops, shipment
from budget.prices.hauling import haul
from budget.prices.options import Drop, Haul, Offer, Options, Route
from budget.prices.packs import Purchase
from budget.units import LOOSE_VOLUME, MASS

#: Where own trips unload.
HAULED_TO: DropPoint = "drive"

#: What is bought of one supplier: each offer with its purchase.
Goods = Sequence[tuple[Offer, Purchase]]


@dataclass(frozen=True, slots=True)
class Coming:
    """One supplier's goods on their way."""

    cash: Figure | None  # cents with tax, None when nobody has given a fee
    hours: Figure | None  # own hours, None when it is delivered
    drops: Figure  # drops or trips
    weight: Figure  # kg
    note: str


def point_of(route: Route) -> DropPoint:
    """Where the goods are set down."""
    return route.point if isinstance(route, Drop) else HAULED_TO


def weight_of(goods: Goods) -> Figure:
    """The weight of some goods [kg]; goods of unknown weight are left out."""
    return total("weight of the goods", [b.weight for _, b in goods if b.weight], MASS)


def find_route(options: Options, supplier: str, key: str) -> Route:
    """A supplier's route by its name; ``ValueError`` if there is none."""
    for route in options.routes.get(supplier, ()):
        if route.key == key:
            return route
    msg = f"{supplier} has no way called {key!r}"
    raise ValueError(msg)


def coming(route: Route, goods: Goods, options: Options, hire: bool = True) -> Coming:
    """Price one supplier's goods by one route; ``ValueError`` below its least delivery.

    Without ``hire`` the days of a hired vehicle are left out: several sellers share them.
    """
    if isinstance(route, Drop):
        return _delivered(route, goods, options.currency)
    return _fetched(route, goods, options, hire)


def _delivered(drop: Drop, goods: Goods, currency: str) -> Coming:
    load = shipment(drop, goods)
    if not allowed(drop, load):
        msg = f"{drop.supplier} does not deliver so little"
        raise ValueError(msg)
    drops = total("drops", [heap_drops(drop, load), packed_drops(drop, load)])
    if not drop.priced:
        return Coming(None, None, drops, load.weight, "delivery fee not yet priced")
    fee = drop_fee(drop, load)
    why = _why(drop, load.value.value, fee.value, currency)
    return Coming(fee, None, drops, load.weight, why)


def _why(drop: Drop, value: float, fee: float, currency: str) -> str:
    if drop.free_above is not None and value >= drop.free_above.value:
        return "free of charge at this order value" if not fee else "free but for the drop point"
    if drop.free_above is not None and fee:
        short = drop.free_above.value - value
        return f"{round_money(short, currency)} of goods short of free delivery"
    return ""


def _fetched(way: Haul, goods: Goods, options: Options, hire: bool) -> Coming:
    weight = weight_of(goods)
    volumes = [b.volume for offer, b in goods if offer.bulk and b.volume]
    volume = total("loose volume", volumes, LOOSE_VOLUME) if volumes else None
    trip = haul(way, weight, volume, options.hours_per_day)
    cash = trip.cash if hire else trip.mileage
    return Coming(cash, trip.hours, trip.trips, weight, f"a trip is limited by {trip.why}")
