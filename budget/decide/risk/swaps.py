"""The best plan with one item from another seller, where a price is guessed: what firm quotes turn.

A guessed price matters where another seller would be taken once it is known. The scenarios keep
to one seller each, so these near relatives of the best plan stand beside them.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace

from budget.decide.plan import Order, Plan, Priced
from budget.decide.pricing.evaluation import evaluate_in
from budget.decide.terms.situation import Situation
from budget.job import Job
from budget.prices.options import Offer

#: How many are drawn at the most: the cheapest as written.
MOST = 8


def swaps(job: Job, situation: Situation, best: Priced) -> list[tuple[str, Priced]]:
    """What is swapped, and the plan with its price; the cheapest first."""
    value = situation.options.hour_value.value
    guessed = {
        q.cell("price") for q in job.quotes if q.price_low is not None or q.price_high is not None
    }
    missing = {m.what for m in best.missing}
    found = [
        (priced.total(value), f"{order.item} from {offer.supplier}, per {offer.per}", priced)
        for order in best.orders
        for offer, priced in _others(situation, best, order, guessed)
        if {m.what for m in priced.missing} == missing
    ]
    return [(title, priced) for _, title, priced in sorted(found, key=lambda f: f[:2])[:MOST]]


def _others(
    situation: Situation, best: Priced, order: Order, guessed: set[str]
) -> Iterator[tuple[Offer, Priced]]:
    offers = situation.offers(order.item)
    if not guessed.intersection(offer.cell for offer in offers):
        return
    for offer in offers:
        if offer.key != order.offer:
            ways = list(_by_each_route(situation, best, order, offer))
            if ways:
                value = situation.options.hour_value.value
                yield offer, min(ways, key=lambda priced: priced.total(value))


def _by_each_route(
    situation: Situation, best: Priced, order: Order, offer: Offer
) -> Iterator[Priced]:
    """The plan with one item from another quote, by each way that its seller's goods can come."""
    plan = best.plan
    used = {o.supplier for o in best.orders if o.item != order.item} | {offer.supplier}
    kept = {supplier: route for supplier, route in plan.routes.items() if supplier in used}
    if offer.supplier in kept:
        ways = [kept[offer.supplier]]
    else:
        ways = [route.key for route in situation.options.routes.get(offer.supplier, ())]
    for way in ways:
        priced = _priced(situation, plan, {order.item: offer.key}, kept | {offer.supplier: way})
        if priced is not None:
            yield priced


def _priced(
    situation: Situation, plan: Plan, offers: Mapping[str, str], routes: Mapping[str, str]
) -> Priced | None:
    """The changed plan with its price, None if a seller does not deliver so little."""
    shares = {item: parts for item, parts in plan.shares.items() if item not in offers}
    changed = replace(plan, offers={**plan.offers, **offers}, routes=routes, shares=shares)
    try:
        return evaluate_in(situation, changed)
    except ValueError:
        return None
