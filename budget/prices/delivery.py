"""Delivery: how many drops an order takes, and what they cost to one drop point."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from budget.figures import (
    Figure,
    constant,
    largest,
    minus,
    product,
    ratio,
    smallest,
    tier,
    total,
    whole,
)
from budget.prices.options import Drop, Offer
from budget.prices.packs import Purchase
from budget.prices.sums import added, times
from budget.prices.tax import NOTHING, with_tax
from budget.units import COUNT, LOOSE_VOLUME, MASS, MONEY, NUMBER


@dataclass(frozen=True, slots=True)
class Shipment:
    """What one supplier brings. Goods whose weight nobody knows count as no weight."""

    value: Figure  # cents before tax of what is kept: what decides free delivery
    heaps: tuple[Figure, ...]  # kg of each bulk item
    packed: Figure | None  # kg of the goods in packs, None if there are none
    volume: Figure  # m³ of the bulk goods
    pallets: Figure  # pallets of the goods in packs

    @property
    def weight(self) -> Figure:
        """Weight of everything [kg]."""
        return added("weight delivered", [*self.heaps, self.packed], MASS)


def shipment(drop: Drop, goods: Iterable[tuple[Offer, Purchase]]) -> Shipment:
    """Gather what is bought of one supplier into one shipment.

    What goes back is brought too, but does not count towards a delivery free above a sum.
    """
    bought = [(offer, buying) for offer, buying in goods if buying.packs.value > 0]
    heaps = [_weight(buying) for offer, buying in bought if offer.bulk]
    packed = [_weight(buying) for offer, buying in bought if not offer.bulk]
    return Shipment(
        value=added("order value", [buying.kept for _, buying in bought], MONEY),
        heaps=tuple(heaps),
        packed=added("weight of packed goods", packed, MASS) if packed else None,
        volume=added("bulk volume", [b.volume for o, b in bought if o.bulk], LOOSE_VOLUME),
        pallets=added("pallets", [pallets(drop, *pair) for pair in bought], COUNT),
    )


def _weight(buying: Purchase) -> Figure:
    return buying.weight or constant(0.0, MASS, "weight not known")


def pallets(drop: Drop, offer: Offer, buying: Purchase) -> Figure:
    """Pallets one purchase takes on the truck: bulk goods none, goods of unknown weight one."""
    if offer.bulk:
        return constant(0, COUNT, "no pallets")
    if offer.per.casefold() == "pallet":
        return whole("pallets", buying.packs)
    if buying.weight is None or drop.pallet_load is None:
        one = constant(1, buying.packs.kind, "one pallet")
        return whole("pallets", smallest("one pallet at most", buying.packs, one))
    return whole("pallets", ratio("pallet loads", NUMBER, buying.weight, drop.pallet_load))


@dataclass(frozen=True, slots=True)
class Drops:
    """How often the truck comes."""

    heaps: Figure  # drops of bulk goods
    packed: Figure  # drops of goods in packs

    @property
    def all(self) -> Figure:
        """Every drop."""
        some = [figure for figure in (self.heaps, self.packed) if figure.value]
        return added("drops", some, COUNT)


def drops(drop: Drop, shipment: Shipment) -> Drops:
    """The drops an order takes: bulk goods apart from goods in packs."""
    return Drops(heaps=heap_drops(drop, shipment), packed=packed_drops(drop, shipment))


def heap_drops(drop: Drop, shipment: Shipment) -> Figure:
    """Drops of bulk goods: a heap each, or together where heaps may share.

    Each is split into as many drops as one truck needs (``most`` [kg] a drop).
    """
    heaps = [*shipment.heaps]
    if drop.heaps_share and heaps:
        heaps = [added("bulk weight", heaps, MASS)]
    return added("bulk drops", [_split(drop, heap) for heap in heaps], COUNT)


def packed_drops(drop: Drop, shipment: Shipment) -> Figure:
    """Drops of goods in packs: one, or as many as one truck needs."""
    packed = [] if shipment.packed is None else [shipment.packed]
    return added("drops of packed goods", [_split(drop, goods) for goods in packed], COUNT)


def _split(drop: Drop, weight: Figure) -> Figure:
    one = constant(1, COUNT, "one drop")
    if drop.most is None:
        return one
    loads = whole("truck loads", ratio("loads by weight", NUMBER, weight, drop.most))
    return largest("drops", one, loads)


def allowed(drop: Drop, shipment: Shipment) -> bool:
    """Whether the order reaches the least weight the seller delivers."""
    return shipment.weight.value >= drop.least - 1e-6


def drop_fee(drop: Drop, shipment: Shipment) -> Figure:
    """What one supplier's delivery costs, tax included [cents].

    Fees by drop, by order value, by weight [kg], volume [m³] and pallets beyond the free ones
    are added up; from ``free_above`` they fall away, and only the extra for the drop point
    stays. Rounded to the cent, the tax apart. A drop that is not ``priced`` has no fee to
    tell: it raises ``ValueError``, since an unknown price is never zero.
    """
    if not drop.priced:
        msg = f"nobody has given a delivery fee for {drop.supplier}"
        raise ValueError(msg)
    count = drops(drop, shipment)
    fees = added("delivery fees", _fees(drop, shipment, count), MONEY)
    if drop.free_above is not None:
        start = constant(0.0, MONEY, "any order")
        steps = [(start, fees), (drop.free_above, NOTHING)]
        fees = tier("delivery fees, free above a sum", shipment.value, steps)
    if drop.point_fee is not None:
        place = times("extra for the drop point", MONEY, count.all, drop.point_fee)
        fees = total("delivery", [fees, place])
    return with_tax(f"delivery by {drop.supplier}", fees, drop.tax)


def _fees(drop: Drop, shipment: Shipment, count: Drops) -> Iterable[Figure]:
    if shipment.heaps:
        yield times("fee for bulk drops", MONEY, count.heaps, drop.per_heap or drop.per_drop)
    if shipment.packed is not None:
        yield times("fee for drops of packed goods", MONEY, count.packed, drop.per_drop)
    if drop.value_steps:
        each = tier("fee at this order value", shipment.value, drop.value_steps)
        yield times("fee by order value", MONEY, count.all, each)
    if drop.per_mass is not None:
        yield product("fee by weight", MONEY, drop.per_mass, _charged_weight(drop, shipment))
    if drop.per_volume is not None:
        yield product("fee by volume", MONEY, drop.per_volume, shipment.volume)
    if drop.per_pallet is not None:
        yield product("fee by pallet", MONEY, drop.per_pallet, _charged_pallets(drop, shipment))


def _charged_weight(drop: Drop, shipment: Shipment) -> Figure:
    if drop.mass_of == "bulk":
        return added("bulk weight", shipment.heaps, MASS)
    if drop.mass_of == "packs":
        return added("weight of packed goods", [shipment.packed], MASS)
    return shipment.weight


def _charged_pallets(drop: Drop, shipment: Shipment) -> Figure:
    if not drop.free_pallets:
        return shipment.pallets
    free = constant(drop.free_pallets, COUNT, "free pallets")
    beyond = minus("pallets less the free ones", shipment.pallets, free)
    return largest("pallets charged", beyond, constant(0, COUNT, "least possible"))
