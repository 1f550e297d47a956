"""The seller-and-delivery part of the programme: whose goods come by which way, at what fee.

A *lane* is one route of one supplier at one step of its fee by order value; a fee that falls
away above a sum is a lane of its own, open only to orders that reach the sum. Within a lane
everything is linear, so that lanes give a tight programme.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, fields

from budget.decide.model.build import Build, Outing
from budget.decide.pricing.arrivals import point_of
from budget.figures import Figure
from budget.job import DropPoint
from budget.prices.delivery import pallets
from budget.prices.options import Drop, Haul, Offer, Route
from budget.prices.packs import Purchase
from budget.units import PACK_TOLERANCE, whole_packs

#: A column, and how much of something each that it counts brings.
Counted = tuple[int, float]


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
    """Goods that may come by a lane, and what they put on the truck for each that a column counts.

    Goods bought as one have a column that is one when they come. Of goods bought in part the
    column counts steps of packs, and ``opener`` is one when any come.
    """

    column: int
    opener: int
    bulk: bool
    worth: tuple[Counted, ...]  # order value, cents: what stays of the goods
    weight: float  # kg
    volume: float  # loose m³
    pallets: Counted
    fewest: int = 1  # of what the column counts, when they come
    most: int = 1

    def loads(self, limit: float, bed: float = math.inf) -> tuple[int, int]:
        """Drops or trips that they take alone: at the least, and at the most."""
        each = max(self.weight / limit, self.volume / bed)
        return max(1, whole_packs(self.fewest * each)), max(1, whole_packs(self.most * each))


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
    names = (f.name for f in fields(Drop) if f.name not in ("key", "point", "point_fee"))
    return tuple(_valued(getattr(drop, name)) for name in names)


def _valued(entry: object) -> object:
    """A figure's value, in whatever it stands."""
    if isinstance(entry, tuple):
        return tuple(map(_valued, entry))
    return entry.value if isinstance(entry, Figure) else entry


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
    volumes = [purchase.volume.value for _, purchase in goods if purchase.volume and bulk]
    stacks = 0.0
    if isinstance(lane.route, Drop) and lane.route.per_pallet:
        stacks = sum(float(pallets(lane.route, *pair).value) for pair in goods)
    value = sum(purchase.kept.value for _, purchase in goods)
    cargo = Cargo(
        column, column, bulk, ((column, value),), math.fsum(weights), math.fsum(volumes),
        (column, stacks),
    )  # fmt: skip
    put_on(build, lane, goods[0][0].item, cargo, cargo.weight)


def put_on(build: Build, lane: Lane, item: str, cargo: Cargo, most: float) -> None:
    """Let goods come by a lane; ``most`` [kg] is what all goods of their item weigh at most."""
    lane.loads.append(cargo)
    build.programme.row([(cargo.opener, 1.0), (lane.column, -1.0)], high=0.0)
    if lane.spare:
        build.spare.add(cargo.opener)
    if cargo.weight:
        found = build.loads.setdefault(item, [])
        found.append((point_of(lane.route), cargo.column, cargo.weight))
        build.heaviest[item] = max(build.heaviest.get(item, 0.0), most)


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
    values = [term for x in lane.loads for term in x.worth]
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
            _heap_drops(build, x, most, heap * factor)
    if not lane.free:
        _by_amount(build, lane, drop, factor)


def _heap_drops(build: Build, heap: Cargo, most: float, cost: float) -> None:
    """The drops of a heap that comes alone."""
    fewest, many = heap.loads(most)
    if fewest == many:
        _add_cost(build, heap.opener, cost * fewest)
    else:
        _shared_drops(build, [heap], most, cost)


def _shared_drops(build: Build, loads: list[Cargo], most: float, cost: float) -> None:
    """A count of drops for all of these loads: one at least, and as many as the weight asks."""
    if not loads or not cost:
        return
    high = max(1.0, sum(x.loads(most)[1] for x in loads))
    count = build.amount(high, cash=cost, whole=True)
    _at_least(build, count, loads, [x.loads(most)[0] for x in loads])
    if math.isfinite(most):
        _add_up(build, count, loads, [x.weight / most for x in loads])


def _at_least(build: Build, count: int, loads: list[Cargo], fewest: Sequence[int]) -> None:
    """A count is no less than each load takes alone."""
    for x, least in zip(loads, fewest, strict=True):
        build.programme.row([(count, 1.0), (x.opener, -float(least))], low=0.0)


def _add_up(build: Build, count: int, loads: list[Cargo], each: Sequence[float]) -> None:
    """A count is no less than all loads take together, which one whole load says already."""
    if len(loads) > 1 or loads[0].most > 1:
        terms = [(x.column, -part) for x, part in zip(loads, each, strict=True)]
        build.programme.row([(count, 1.0), *terms], low=-PACK_TOLERANCE)


def _by_amount(build: Build, lane: Lane, drop: Drop, factor: float) -> None:
    for x in lane.loads:
        counted = not drop.mass_of or (drop.mass_of == "bulk") == x.bulk
        if drop.per_mass and counted:
            _add_cost(build, x.column, drop.per_mass.value * x.weight * factor)
        if drop.per_volume:
            _add_cost(build, x.column, drop.per_volume.value * x.volume * factor)
    if drop.per_pallet:
        stacks = [x.pallets for x in lane.loads if x.pallets[1]]
        if drop.free_pallets:
            high = sum(each * build.programme.highs[column] for column, each in stacks)
            charged = build.amount(high, cash=drop.per_pallet.value * factor)
            less = [(column, -each) for column, each in stacks]
            terms = [(charged, 1.0), (lane.column, float(drop.free_pallets)), *less]
            build.programme.row(terms, low=0.0)
        else:
            for column, each in stacks:
                _add_cost(build, column, each * drop.per_pallet.value * factor)


def _trips(build: Build, lane: Lane, way: Haul) -> Outing | None:
    """Trips by weight or by the bed, whichever is more; hours."""
    payload, bed = way.payload.value, way.bed.value if way.bed else math.inf
    for x in lane.loads:
        _add_hours(build, x.column, x.weight * way.handling.value)
    if not lane.loads:
        return None
    alone = [x.loads(payload, bed) for x in lane.loads]
    mileage = way.distance.value * way.cost_per_distance.value
    trips = build.amount(
        float(sum(many for _, many in alone)), cash=mileage, hours=way.drive_hours.value,
        whole=True,
    )  # fmt: skip
    _at_least(build, trips, lane.loads, [fewest for fewest, _ in alone])
    _add_up(build, trips, lane.loads, [x.weight / payload for x in lane.loads])
    if math.isfinite(bed):
        _add_up(build, trips, lane.loads, [x.volume / bed for x in lane.loads])
    return _outing(lane, way, trips, alone)


def _outing(lane: Lane, way: Haul, trips: int, alone: Sequence[tuple[int, int]]) -> Outing:
    """The hours of the trips, by which a hired vehicle is paid."""
    drive, handling = way.drive_hours.value, way.handling.value
    loading = [(x.column, x.weight * handling) for x in lane.loads]
    least, most = [], 0.0
    for x, (fewest, many) in zip(lane.loads, alone, strict=True):
        least.append((x.opener, fewest * drive + x.fewest * x.weight * handling))
        most += many * drive + x.most * x.weight * handling
    return Outing(way, [(trips, drive), *loading], most, least)


def _add_cost(build: Build, column: int, cents: float) -> None:
    _add(build, column, "cash", cents)


def _add_hours(build: Build, column: int, hours: float) -> None:
    _add(build, column, "hours", hours)


def _add(build: Build, column: int, name: str, value: float) -> None:
    old = build.programme.objectives[column]
    build.programme.objectives[column] = {**old, name: old.get(name, 0.0) + value}
