"""Quotes side by side: what each costs at the work, delivered or fetched the cheapest way."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from budget.figures import Figure, constant, minus, ratio, total
from budget.job import Measure
from budget.prices.delivery import allowed, drop_fee, shipment
from budget.prices.hauling import haul
from budget.prices.options import Drop, Haul, Offer, Options, Route
from budget.prices.packs import Purchase, buy
from budget.prices.sums import added
from budget.quantities.takeoff import Need, Takeoff
from budget.units import HOURS, MONEY, per


@dataclass(frozen=True, slots=True)
class Landed:
    """One offer for the whole of one item, bought alone. Money is cents."""

    item: str
    supplier: str
    offer: str  # its key
    per: str
    pack_price: Figure
    packs: Figure
    goods: Figure  # before tax
    tax: Figure
    route: str  # the cheapest way it comes, blank if no way is priced
    delivery: Figure | None  # with tax; None if no way is priced
    hours: Figure  # own hours to fetch, handle and pick it through, carrying on the plot apart
    cash: Figure | None  # goods, tax and delivery, less what comes back for packs beyond the need
    landed: Figure | None  # cash for each unit placed
    expired: bool
    back: Figure | None = None  # cents that come back for packs beyond the need


def landed(options: Options, takeoff: Takeoff) -> tuple[Landed, ...]:
    """Every offer landed, by item, the cheapest for each unit placed first.

    Each item is bought alone and whole: every part, under the bedding that asks for most of
    it. The way it comes is the one of least cash plus own hours at the user's hour value.
    Offers that cannot be landed stand last.
    """
    amounts = _amounts(takeoff)
    found = [_land(options, offer, amounts[offer.item]) for offer in options.offers]
    return tuple(sorted(found, key=lambda row: (row.item, *_rank(row), row.offer)))


def _rank(row: Landed) -> tuple[float, float]:
    landed = float("inf") if row.landed is None else row.landed.value
    return (landed, row.goods.value + row.tax.value)


def _amounts(takeoff: Takeoff) -> dict[str, tuple[Need, ...]]:
    """The needs of each item, under the bedding that asks for most."""
    found = {}
    for item in sorted({need.item for need in takeoff.needs}):
        mine = [need for need in takeoff.needs if need.item == item]
        beddings = sorted({need.bedding for need in mine if need.bedding}) or [""]
        found[item] = max(
            (tuple(n for n in mine if n.bedding in ("", bedding)) for bedding in beddings),
            key=lambda needs: sum(need.net.value for need in needs),
        )
    return found


def amount_in(needs: Sequence[Need], measure: Measure) -> Figure:
    """What some needs of one item ask for together, in the measure a quote is sold in."""
    parts = [need.measures[measure] for need in needs]
    return added("needed in all", parts, parts[0].kind)


def _land(options: Options, offer: Offer, needs: Sequence[Need]) -> Landed:
    buying = buy(offer, amount_in(needs, offer.measure))
    best = way_of(options, offer, buying)
    cash = None if best is None else total("paid", [buying.cash, best.cash])
    if cash is not None and buying.back is not None and buying.credit:
        cash = minus("landed", cash, buying.back.credit)
    placed = added("placed", [need.net for need in needs], needs[0].net.kind)
    each = None
    if cash is not None and placed.value > 0:
        each = ratio("landed for each unit placed", per(MONEY, placed.kind), cash, placed)
    hours = constant(0.0, HOURS, "no own hours") if best is None else best.hours
    if buying.picking is not None:
        hours = total("own hours with picking stones out", [hours, buying.picking])
    return Landed(
        item=offer.item,
        supplier=offer.supplier,
        offer=offer.key,
        per=offer.per,
        pack_price=offer.price,
        packs=buying.packs,
        goods=buying.price,
        tax=buying.tax,
        route="" if best is None else best.key,
        delivery=None if best is None else best.cash,
        hours=hours,
        cash=cash,
        landed=each,
        expired=offer.expired,
        back=buying.back.credit if buying.back and buying.credit else None,
    )


@dataclass(frozen=True, slots=True)
class Way:
    """One purchase on its way: cents with tax, and own hours."""

    key: str
    cash: Figure
    hours: Figure

    def worth(self, hour_value: float) -> tuple[float, str]:
        """Cash plus own hours at an hour value [cents], then the name."""
        return (self.cash.value + self.hours.value * hour_value, self.key)


def way_of(options: Options, offer: Offer, buying: Purchase) -> Way | None:
    """The way of least cash plus own hours that one purchase comes by, None if none is priced."""
    routes = options.routes.get(offer.supplier, ())
    ways = [way for r in routes if (way := _by_way(options, offer, buying, r)) is not None]
    return min(ways, key=lambda way: way.worth(options.hour_value.value), default=None)


def _by_way(options: Options, offer: Offer, buying: Purchase, way: Route) -> Way | None:
    """One purchase by one route, None where the route cannot bring it or has no price."""
    if isinstance(way, Drop):
        load = shipment(way, [(offer, buying)])
        if not way.priced or not allowed(way, load):
            return None
        return Way(way.key, drop_fee(way, load), constant(0.0, HOURS, "no own hours"))
    return _fetched(options, offer, buying, way)


def _fetched(options: Options, offer: Offer, buying: Purchase, way: Haul) -> Way | None:
    if buying.weight is None:
        return None
    found = haul(way, buying.weight, buying.volume, options.hours_per_day)
    return Way(way.key, found.cash, found.hours)
