"""What the plan buys, as figures: purchases by item, priced as the decision prices them."""

from __future__ import annotations

from collections.abc import Sequence

from budget.decide.outcome import Comparison
from budget.decide.plan import Priced
from budget.decide.pricing.arrivals import Coming, coming
from budget.decide.terms.situation import Situation
from budget.prices.options import Offer, Options, Route
from budget.prices.packs import Purchase

Goods = list[tuple[Offer, Purchase]]


def goods_bought(comparison: Comparison, priced: Priced) -> Goods:
    """Each offer of a plan with what is bought of it, by seller and item."""
    plan, options = priced.plan, comparison.options
    situation = Situation(comparison.takeoff, options, plan.bedding, plan.parts)
    supplied = supplied_steps(priced, options)
    known = {offer.key for offer in options.offers}
    found: Goods = []
    for item, key in plan.offers.items():
        if key not in known:
            continue
        found += situation.bought(item, key, plan.shares.get(item, {}), supplied)
    return sorted(found, key=lambda pair: (pair[0].supplier, pair[0].item, pair[0].key))


def supplied_steps(priced: Priced, options: Options) -> frozenset[str]:
    """The steps whose materials a bid of the plan brings."""
    chosen = bids_chosen(priced)
    bringing = [bid for bid in options.bids if bid.key in chosen and bid.materials]
    return frozenset(step for bid in bringing for step in bid.steps)


def bids_chosen(priced: Priced | None) -> frozenset[str]:
    """The names of the bids that a plan takes."""
    if priced is None:
        return frozenset()
    pairs = (value.partition(": ") for value in priced.plan.steps.values())
    return frozenset(name for kind, _, name in pairs if kind == "bid")


def ways_to_come(options: Options, goods: Goods, supplier: str) -> list[tuple[Route, Coming | str]]:
    """Every way one seller's goods could come, priced, or the reason why it cannot be."""
    theirs = [pair for pair in goods if pair[0].supplier == supplier]
    found: list[tuple[Route, Coming | str]] = []
    for route in options.routes.get(supplier, ()):
        found.append((route, _come(route, theirs, options)))
    return found


def _come(route: Route, goods: Sequence[tuple[Offer, Purchase]], options: Options) -> Coming | str:
    try:
        return coming(route, goods, options)
    except ValueError as problem:
        return str(problem)
