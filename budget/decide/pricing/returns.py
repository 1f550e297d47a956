"""Whole packs that a plan buys beyond its need: what they bring when they go back unopened."""

from __future__ import annotations

import math
from collections.abc import Iterator

from budget.decide.plan import Order, Priced
from budget.decide.wording import round_money
from budget.job import Job, Supplier
from budget.numerals import how_many, percent, trimmed
from budget.prices.options import Offer, Options
from budget.units import PACK_TOLERANCE

#: What is said of packs that go back: of one or less, and of more.
_ONE = ("it brings", "it", "does it count")
_SOME = ("they bring", "them", "do they count")


def going_back(job: Job, options: Options, priced: Priced) -> list[str]:
    """A sentence for each order with unopened packs to spare that its seller takes back.

    Packs beyond the need, its extra for waste included, come from a least order. Where the quote
    tells what the seller keeps, the plan's cash is without what comes back; where only days to
    return goods are known, the money is beside it. Taking the goods there is in neither.
    """
    offers = {offer.key: offer for offer in options.offers}
    sellers = {row.supplier.casefold(): row for row in job.suppliers}
    found = []
    for order in priced.orders:
        offer, seller = offers[order.offer], sellers.get(order.supplier.casefold())
        if order.credit:
            found.append(_counted(order, offer, seller, job.settings.currency))
            continue
        spare = math.floor(order.packs * order.left_over / offer.step + PACK_TOLERANCE) * offer.step
        unsaid = offer.restocking is None and seller is not None and seller.return_days
        if unsaid and spare and not offer.bulk and not offer.breaks:
            found.append(_beside(order, seller, spare, job.settings.currency))
    return [*found, *_paid_first(job, priced)]


def _counted(order: Order, offer: Offer, seller: Supplier | None, currency: str) -> str:
    terms = [f"less {percent(offer.restocking or 0.0)} that it keeps", *_days(seller)]
    money, keeps = round_money(order.credit, currency), ", ".join(terms)
    bring, them, count = _SOME if order.back > 1 else _ONE
    return (
        f"{_spare(order, order.back)} Left unopened, {bring} {money} back from "
        f"{order.supplier} ({keeps}), which is taken off the cash; taking {them} there is not "
        f"counted, nor {count} towards a free delivery."
    )


def _beside(order: Order, seller: Supplier | None, spare: float, currency: str) -> str:
    each = (order.price + order.tax) / order.packs
    terms = ["ask what it keeps", *_days(seller)]
    bring, _, _ = _SOME if spare > 1 else _ONE
    return (
        f"{_spare(order, spare)} Left unopened, {bring} about "
        f"{round_money(spare * each, currency)} back from {order.supplier} ({', '.join(terms)}); "
        "this is not taken off the total."
    )


def _spare(order: Order, packs: float) -> str:
    if order.packs == 1:
        return f"{order.item}: {trimmed(packs)} of the one pack bought is beyond the need."
    verb = "are" if packs > 1 else "is"
    return (
        f"{order.item}: {trimmed(packs)} of the {trimmed(order.packs)} packs bought {verb} beyond "
        "the need."
    )


def _days(seller: Supplier | None) -> Iterator[str]:
    if seller is not None and seller.return_days:
        yield f"within {how_many(seller.return_days, 'day')}"


def _paid_first(job: Job, priced: Priced) -> Iterator[str]:
    """Where the spending limit holds only once the money for goods is back."""
    limit, paid = job.settings.spending_limit, priced.cash + priced.comes_back
    if priced.comes_back and limit is not None and priced.cash <= limit < paid:
        money = round_money(paid - limit, job.settings.currency)
        yield (
            f"Until the money for goods that go back is here, {money} more is out than the "
            "spending limit allows."
        )
