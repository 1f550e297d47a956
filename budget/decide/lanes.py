"""The seller-and-delivery part of the programme: whose goods come by which way, at what fee.

A *lane* is one route of one supplier at one step of its fee by order value; a fee that falls
away above a sum is a lane of its own, open only to orders that reach the sum. Within a lane
everything is linear, so that lanes give a tight programme.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from budget.decide.arrivals import point_of
from budget.decide.build import Build, Outing
from budget.figures import Figure
from budget.job import DropPoint
from budget.prices.delivery import pallets
from budget.prices.options import Drop, Haul, Offer, Route
from budget.prices.packs import Purchase
from budget.units import PACK_TOLERANCE, whole_packs


@dataclass(slots=True)
class Lane:
    """One way for one supplier's goods, open when its column is one."""

    column: int
    route: Route
    surcharge: float  # one plus the card surcharge
    low: float = -math.inf  # order value from
    high: float = math.inf  # order value to
    fee: float = 0.0  # by order value, each drop
    free: bool = False
    spare: bool = False  # another route of the seller is no worse in anything
    loads: list[Cargo] = field(default_factory=list)


@dataclass(frozen=True, slots=True)
class Cargo:
    """One purchase that may come by a lane: its column and what it puts on the truck."""

    column: int
    bulk: bool
    value: float
    weight: float
    volume: float
    pallets: float


def lanes(build: Build, supplier: str) -> list[Lane]:
    """Every lane of one supplier, at most one of them open."""
    options = build.situation.options
    card = options.card_surcharge.get(supplier)
    surcharge = 1.0 + (card.value if card else 0.0)
    found = []
    routes = sorted(options.routes.get(supplier, ()), key=lambda r: r.key)
    for route in routes:
        spare = any(_no_worse(other, route, options.carry) for other in routes)
        for low, high, fee, free in _steps(route):
            missing = isinstance(route, Drop) and not route.priced
            column = build.choose({f"goods:{supplier}": route.key}, missing=missing)
            found.append(Lane(column, route, surcharge, low, high, fee, free, spare))
            if spare:
                build.spare.add(column)
    build.programme.row([(lane.column, 1.0) for lane in found], high=1.0)
    return found


def _no_worse(first: Route, second: Route, carry: Mapping[DropPoint, Figure]) -> bool:
    """Whether the first of two drops only differs by a nearer or cheaper drop point."""
    if not isinstance(first, Drop) or not isinstance(second, Drop) or first.key == second.key:
        return False
    if _but_for_the_point(first) != _but_for_the_point(second):
        return False
    one, two = ((_place(d), carry[d.point].value, d.key) for d in (first, second))
    return one[0] <= two[0] and one[1] <= two[1] and (one[:2] != two[:2] or one[2] < two[2])


def _place(drop: Drop) -> float:
    return drop.point_fee.value if drop.point_fee else 0.0


def _but_for_the_point(drop: Drop) -> tuple[object, ...]:
    """Everything that a drop costs and carries, without where it is set down."""
    figures = (drop.per_drop, drop.per_heap, drop.per_mass, drop.per_volume, drop.per_pallet,
               drop.free_above, drop.most, drop.pallet_load, drop.tax)  # fmt: skip
    values = tuple(None if f is None else f.value for f in figures)
    tiers = tuple((start.value, fee.value) for start, fee in drop.value_steps)
    rest = (drop.free_pallets, drop.least, drop.heaps_share, drop.mass_of, drop.priced)
    return (*values, tiers, *rest)


def _steps(route: Route) -> Iterator[tuple[float, float, float, bool]]:
    if not isinstance(route, Drop) or not route.priced:
        yield -math.inf, math.inf, 0.0, False
        return
    starts = [start.value for start, _ in route.value_steps]
    fees = [fee.value for _, fee in route.value_steps]
    lows = [-math.inf, *starts[1:]] if starts else [-math.inf]
    for low, high, fee in zip(lows, [*lows[1:], math.inf], fees or [0.0], strict=True):
        yield low, high, fee, False
    if route.free_above is not None:
        yield route.free_above.value, math.inf, 0.0, True


def load(build: Build, lane: Lane, column: int, goods: Sequence[tuple[Offer, Purchase]]) -> None:
    """Let some goods come by a lane when their column is one: one heap, or goods in packs."""
    bulk = goods[0][0].bulk
    weights = [purchase.weight.value for _, purchase in goods if purchase.weight]
    weight = math.fsum(weights)
    volumes = [purchase.volume.value for _, purchase in goods if purchase.volume and bulk]
    stacks = 0.0
    if isinstance(lane.route, Drop):
        stacks = sum(float(pallets(lane.route, *pair).value) for pair in goods)
    value = sum(purchase.price.value for _, purchase in goods)
    lane.loads.append(Cargo(column, bulk, value, weight, math.fsum(volumes), stacks))
    build.programme.row([(column, 1.0), (lane.column, -1.0)], high=0.0)
    if lane.spare:
        build.spare.add(column)
    if weight:
        found = build.loads.setdefault(goods[0][0].item, [])
        found.append((point_of(lane.route), column, weight))


def close(build: Build, lane: Lane) -> Outing | None:
    """Add the fee or the trips of a lane once all its loads are known; returns the trips."""
    if isinstance(lane.route, Haul):
        return _trips(build, lane, lane.route)
    _value_range(build, lane)
    least = lane.route.least
    if least > 0:
        terms = [(x.column, x.weight) for x in lane.loads]
        build.programme.row([*terms, (lane.column, -least + 1e-6)], low=0.0)
    if lane.route.priced:
        _drops(build, lane, lane.route)
    return None


def _value_range(build: Build, lane: Lane) -> None:
    values = [(x.column, x.value) for x in lane.loads]
    if math.isfinite(lane.low):
        build.programme.row([*values, (lane.column, -lane.low)], low=0.0)
    if math.isfinite(lane.high):
        # Order values are whole cents: below 500.00 is at most 499.99.
        most = math.ceil(lane.high) - 1.0
        build.programme.row([*values, (lane.column, -most)], high=0.0)


def _drops(build: Build, lane: Lane, drop: Drop) -> None:
    """Drops counted as :mod:`budget.prices.delivery` counts them, and the fees on them."""
    factor = (1.0 + drop.tax.value) * lane.surcharge
    place = drop.point_fee.value if drop.point_fee else 0.0
    each = place if lane.free else place + lane.fee + drop.per_drop.value
    heap_fee = (drop.per_heap or drop.per_drop).value
    heap = place if lane.free else place + lane.fee + heap_fee
    heaps = [x for x in lane.loads if x.bulk]
    packed = [x for x in lane.loads if not x.bulk]
    most = drop.most.value if drop.most else math.inf
    _shared_drops(build, packed, most, each * factor)
    if drop.heaps_share:
        _shared_drops(build, heaps, most, heap * factor)
    else:
        for x in heaps:
            _add_cost(build, x.column, heap * factor * max(1, whole_packs(x.weight / most)))
    if not lane.free:
        _by_amount(build, lane, drop, factor)


def _shared_drops(build: Build, loads: list[Cargo], most: float, cost: float) -> None:
    """A count of drops for all of these loads: one at least, and as many as the weight asks."""
    if not loads or not cost:
        return
    high = max(1.0, sum(max(1, whole_packs(x.weight / most)) for x in loads))
    count = build.amount(high, cash=cost, whole=True)
    for x in loads:
        least = max(1, whole_packs(x.weight / most))
        build.programme.row([(count, 1.0), (x.column, -float(least))], low=0.0)
    if math.isfinite(most) and len(loads) > 1:
        terms = [(x.column, -x.weight / most) for x in loads]
        build.programme.row([(count, 1.0), *terms], low=-PACK_TOLERANCE)


def _by_amount(build: Build, lane: Lane, drop: Drop, factor: float) -> None:
    for x in lane.loads:
        counted = not drop.mass_of or (drop.mass_of == "bulk") == x.bulk
        if drop.per_mass and counted:
            _add_cost(build, x.column, drop.per_mass.value * x.weight * factor)
        if drop.per_volume:
            _add_cost(build, x.column, drop.per_volume.value * x.volume * factor)
    if drop.per_pallet:
        stacks = [(x.column, -x.pallets) for x in lane.loads if x.pallets]
        if drop.free_pallets:
            high = sum(x.pallets for x in lane.loads)
            charged = build.amount(high, cash=drop.per_pallet.value * factor)
            terms = [(charged, 1.0), (lane.column, float(drop.free_pallets)), *stacks]
            build.programme.row(terms, low=0.0)
        else:
            for column, count in stacks:
                _add_cost(build, column, -count * drop.per_pallet.value * factor)


def _trips(build: Build, lane: Lane, way: Haul) -> Outing | None:
    """Trips by weight or by the bed, whichever is more; hours."""
    payload, bed = way.payload.value, way.bed.value if way.bed else math.inf
    for x in lane.loads:
        _add_hours(build, x.column, x.weight * way.handling.value)
    if not lane.loads:
        return None
    needed = [max(1, whole_packs(max(x.weight / payload, x.volume / bed))) for x in lane.loads]
    mileage = way.distance.value * way.cost_per_distance.value
    trips = build.amount(
        float(sum(needed)), cash=mileage, hours=way.drive_hours.value, whole=True
    )  # fmt: skip
    for x, least in zip(lane.loads, needed, strict=True):
        build.programme.row([(trips, 1.0), (x.column, -float(least))], low=0.0)
    limits = ((payload, "weight"), (bed, "volume"))
    for limit, name in limits:
        terms = [(x.column, -getattr(x, name) / limit) for x in lane.loads]
        if math.isfinite(limit) and len(terms) > 1:
            build.programme.row([(trips, 1.0), *terms], low=-PACK_TOLERANCE)
    return _outing(lane, way, trips, needed)


def _outing(lane: Lane, way: Haul, trips: int, needed: Sequence[int]) -> Outing:
    """The hours of the trips, by which a hired vehicle is paid."""
    drive, handling = way.drive_hours.value, way.handling.value
    loading = [(x.column, x.weight * handling) for x in lane.loads]
    least = [
        (column, count * drive + hours)
        for (column, hours), count in zip(loading, needed, strict=True)
    ]
    most = sum(hours for _, hours in least)
    return Outing(way, [(trips, drive), *loading], most, least)


def _add_cost(build: Build, column: int, cents: float) -> None:
    _add(build, column, "cash", cents)


def _add_hours(build: Build, column: int, hours: float) -> None:
    _add(build, column, "hours", hours)


def _add(build: Build, column: int, name: str, value: float) -> None:
    old = build.programme.objectives[column]
    build.programme.objectives[column] = {**old, name: old.get(name, 0.0) + value}
