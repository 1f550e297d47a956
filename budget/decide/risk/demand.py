"""What the best plan orders, with the need behind each order as a figure that can be redrawn."""

from __future__ import annotations

from dataclasses import dataclass

from budget.decide.plan import Order, Priced
from budget.decide.pricing.evaluation import chosen_bids
from budget.decide.risk.ordering import packs_of
from budget.decide.risk.unknowns import CUTS, WASTE, Unknown
from budget.decide.terms.situation import Situation
from budget.figures import Figure, ratio, recalculate, without
from budget.job import Settings
from budget.prices.options import Offer, Options
from budget.prices.packs import take
from budget.quantities.formulas.spares import spare_key
from budget.quantities.takeoff import Takeoff
from budget.units import NUMBER


@dataclass(frozen=True, slots=True)
class Demand:
    """One order of the plan: the offer, the packs that its need takes, and the work it is for."""

    order: Order
    offer: Offer
    asked: Figure  # packs, before they are rounded up
    needed: Figure  # packs that are used up: those asked for, less the spares to keep
    kind: str  # product kind of budget.reference
    steps: tuple[str, ...]

    def bare(self, found: tuple[Unknown, ...]) -> float:
        """The packs that it takes without anything spilled, cut off, broken or kept to spare."""
        none = {key: 0.0 for u in found if u.kind in (WASTE, CUTS) for key, _ in u.powers}
        return float(recalculate(self.needed, none))

    @property
    def spares(self) -> int:
        """Steps of packs that are ordered only to keep spares."""
        asked, used = packs_of([self.asked.value, self.needed.value], self.offer.step).tolist()
        return int(asked - used)


def situation_of(takeoff: Takeoff, options: Options, priced: Priced) -> Situation:
    """The job as a plan does it."""
    return Situation(takeoff, options, priced.plan.bedding, priced.plan.parts)


def demands(settings: Settings, situation: Situation, priced: Priced) -> tuple[Demand, ...]:
    """Every order of a plan with its need.

    What runs short is what cannot be finished: spares to keep may be laid, so they are no part
    of what is used up.
    """
    spares = spare_key(settings)
    bids = chosen_bids(situation, priced.plan)
    supplied = frozenset(step for bid in bids if bid.materials for step in bid.steps)
    offers = {offer.key: offer for offer in situation.options.offers}
    found = []
    for order in priced.orders:
        offer = offers[order.offer]
        needs = [n for n in situation.items[order.item] if n.step not in supplied]
        asked = _asked(situation, priced, order, offer, supplied)
        if asked is not None:
            steps = tuple(sorted({n.step for n in needs}))
            found.append(Demand(order, offer, asked, without(asked, spares), needs[0].kind, steps))
    return tuple(found)


def _asked(
    situation: Situation, priced: Priced, order: Order, offer: Offer, supplied: frozenset[str]
) -> Figure | None:
    """The packs that an order is to meet; parts bought beside the rest stay as they are."""
    shares = priced.plan.shares.get(order.item, {})
    if order.offer in shares:
        return take(offer, shares[order.offer]).packs
    offers = {o.key: o for o in situation.options.offers}
    parts = [(offers[key], take(offers[key], packs)) for key, packs in sorted(shares.items())]
    amount = situation.left(offer, parts, supplied)
    if amount is None:
        return None
    return ratio(f"packs of {order.item}", NUMBER, amount, offer.holds)
