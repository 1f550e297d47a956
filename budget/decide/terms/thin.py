"""A bid that makes the base thinner than drawn: what the missing depth costs the owner.

The missing depth is a job of its own beside the plan: stone bought and brought as one order,
placed and compacted by own hands, with the digging and the spoil that the bid did not price
either. What the plan pays for in full anyway (a dig by somebody else, stone the owner buys) is
not counted again. The charge depends on nothing else that is chosen, at the user's hour value,
so that the programme holds it as a cost of the bid.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from budget.decide.terms.situation import CARRY, SPOIL, Situation
from budget.decide.terms.tariffs import ridding_of
from budget.decide.terms.work import helper_cost, machine_hours, own_work
from budget.figures import Figure, cents, constant, minus, product, ratio, total
from budget.prices.equipment import hire_cost
from budget.prices.landed import way_of
from budget.prices.options import Bid, Machine, Method, Offer
from budget.prices.packs import buy
from budget.quantities.takeoff import Need, PartGeometry
from budget.units import (
    COMPACTED_VOLUME,
    DAYS,
    HOURS,
    LOOSE_VOLUME,
    MONEY,
    RATIO,
)

BASE, DIG = "Base", "Dig"

ONCE = constant(1.0, RATIO, "as much")

#: A base that is thinner by less than this is no gap [m].
SAME_DEPTH = 1e-3


@dataclass(frozen=True, slots=True)
class Charge:
    """Cents and own hours of one piece of what is missing."""

    cash: Figure | None
    hours: Figure | None

    def worth(self, hour_value: float) -> float:
        """Both at an hour value [cents]."""
        cash = self.cash.value if self.cash else 0.0
        return cash + (self.hours.value * hour_value if self.hours else 0.0)


@dataclass(frozen=True, slots=True)
class Thin:
    """What a bid's missing depth of base comes to."""

    depth: float  # m, where it lacks most
    cash: Figure  # whole cents
    hours: Figure  # own


def too_thin(situation: Situation, bid: Bid) -> Thin | None:
    """The charge for one bid, None where it makes the base as deep as drawn, or none at all."""
    if bid.base_depth is None or BASE not in bid.steps or BASE not in situation.amounts:
        return None
    short = [(part, lack) for part in _parts(situation) if (lack := _lack(part, bid)) is not None]
    if not short:
        return None
    volume = total("missing base", [_volume(part, lack) for part, lack in short])
    found = [c for c in _charges(situation, bid, short, volume) if c is not None]
    cash = total("depth that the bid leaves out", [c.cash for c in found if c.cash], MONEY)
    hours = total("own hours on it", [c.hours for c in found if c.hours], HOURS)
    return Thin(max(lack.value for _, lack in short), cents("missing base", cash), hours)


def _parts(situation: Situation) -> list[PartGeometry]:
    parts = situation.takeoff.parts
    return [p for p in parts if not p.optional or p.part in situation.parts]


def _lack(part: PartGeometry, bid: Bid) -> Figure | None:
    """The depth that a bid leaves out under one part [m]."""
    if part.base_depth is None or bid.base_depth is None:
        return None
    lack = minus(f"depth missing under {part.part}", part.base_depth, bid.base_depth)
    return lack if lack.value > SAME_DEPTH else None


def _volume(part: PartGeometry, lack: Figure) -> Figure:
    return product(f"missing base, {part.part}", COMPACTED_VOLUME, part.base_area, lack)


def _charges(
    situation: Situation, bid: Bid, short: list[tuple[PartGeometry, Figure]], volume: Figure
) -> Iterator[Charge | None]:
    yield _work(situation, BASE, volume)
    if DIG in bid.steps and DIG in situation.amounts:
        yield _work(situation, DIG, volume)
        if SPOIL in bid.steps and situation.spoil is not None:
            yield from _spoil(situation, situation.spoil, volume)
    if bid.materials:
        for need in _stone(situation):
            share = _share(situation, need, short)
            if share is not None:
                yield _bought(situation, bid, need, share)


def _work(situation: Situation, step: str, volume: Figure) -> Charge | None:
    """The own way to do an amount of a step that costs least, its machine had for it alone."""
    measure = situation.amounts[step].kind
    amount = product(f"{step} for the missing base", measure, volume, ONCE)
    value = situation.options.hour_value.value
    ways = [_way(situation, m, amount) for m in situation.methods(step)]
    return min((w for w in ways if w is not None), key=lambda w: w.worth(value), default=None)


def _way(situation: Situation, method: Method, amount: Figure) -> Charge | None:
    options = situation.options
    work = own_work(method, amount, options)
    paid = [helper_cost(work.paid, options.helper_pay)] if work.paid and options.helper_pay else []
    if method.machine:
        hours = machine_hours(method, amount, options)
        known = options.machines.get(method.machine, ())
        rents = [hire_cost(m, [_days(m, hours)], hours) for m in known if m.fits]
        if known and not rents:
            return None
        paid += sorted(rents, key=lambda rent: rent.value)[:1]
    return Charge(total(f"{method.step}: paid", paid, MONEY) if paid else None, work.own)


def _days(machine: Machine, hours: Figure) -> Figure:
    return ratio("days of the machine", DAYS, hours, machine.hours_a_day)


def _spoil(situation: Situation, heap: Figure, volume: Figure) -> Iterator[Charge | None]:
    """Soil of the deeper dig: moved to the heap, and off the plot."""
    swell = ratio("loose for each dug", RATIO, heap, situation.amounts[DIG])
    loose = product("soil of the missing depth, loose", LOOSE_VOLUME, volume, swell)
    if SPOIL in situation.amounts:
        yield _work(situation, SPOIL, loose)
    ways = [ridding_of(situation, way, loose) for way in situation.options.disposal]
    charges = [Charge(w.cash, w.hours) for w in ways]
    value = situation.options.hour_value.value
    yield min(charges, key=lambda c: c.worth(value), default=None)


def _stone(situation: Situation) -> list[Need]:
    """The needs of the base under paving."""
    return [n for n in situation.needs if n.step == BASE and n.kind == "base" and not n.what]


def _share(
    situation: Situation, need: Need, short: Iterable[tuple[PartGeometry, Figure]]
) -> Figure | None:
    """The share of a part's stone that is missing."""
    found = next(((p, lack) for p, lack in short if p.part == need.part), None)
    if found is None or found[0].base_depth is None:
        return None
    return ratio(f"share of base missing, {need.part}", RATIO, found[1], found[0].base_depth)


def _bought(situation: Situation, bid: Bid, need: Need, share: Figure) -> Charge | None:
    """The missing stone as one order by the cheapest seller and way, carried to the work."""
    value = situation.options.hour_value.value
    charges = [_order(situation, bid, offer, need, share) for offer in situation.offers(need.item)]
    return min(charges, key=lambda c: c.worth(value), default=None)


def _order(situation: Situation, bid: Bid, offer: Offer, need: Need, share: Figure) -> Charge:
    kind = need.measures[offer.measure].kind
    amount = product(f"missing {need.item}", kind, need.measures[offer.measure], share)
    buying = buy(offer, amount)
    way = way_of(situation.options, offer, buying)
    cash = [buying.cash, *([way.cash] if way else [])]
    hours = [h for h in (buying.picking, way.hours if way else None) if h is not None]
    weight = buying.weight
    if weight is not None and CARRY not in bid.steps:
        hours += _carried(situation, weight)
    return Charge(total("stone, brought", cash), total("own hours", hours, HOURS))


def _carried(situation: Situation, weight: Figure) -> Iterator[Figure]:
    """Own hours of the fastest way to carry from the drive, without the walk of a machine."""
    found = []
    for method in situation.methods(CARRY):
        each = method.rate
        if method.walk is not None:
            walking = product("walk", each.kind, method.walk, situation.options.carry["drive"])
            each = total("hours for each weight", [each, walking])
        found.append(product("carrying the missing stone", HOURS, each, weight))
    if found:
        yield min(found, key=lambda hours: hours.value)
