"""Whole packs that a plan buys beyond its need: what they bring when they go back unopened."""

from __future__ import annotations

import math
from collections.abc import Iterator

from budget.decide.plan import Order, Priced
from budget.decide.wording import round_money
from budget.job import Job, Supplier
from budget.numerals import percent, trimmed
from budget.prices.options import Offer, Options
from budget.units import PACK_TOLERANCE


def going_back(job: Job, options: Options, priced: Priced) -> list[str]:
    """A sentence for each order with unopened packs to spare that its seller takes back.

    Packs beyond the need, its extra for waste included, come from a least order. The money is
    beside the plan and never in its total, since nobody knows before the work is done that
    they are left. A seller takes goods back where a restocking fee or return days are given;
    loose goods stay, and so do goods whose price hangs on the number bought.
    """
    offers = {offer.key: offer for offer in options.offers}
    sellers = {row.supplier.casefold(): row for row in job.suppliers}
    found = []
    for order in priced.orders:
        offer, seller = offers[order.offer], sellers.get(order.supplier.casefold())
        days = seller.return_days if seller is not None else None
        takes = offer.restocking is not None or bool(days)
        spare = math.floor(order.packs * order.left_over / offer.step + PACK_TOLERANCE) * offer.step
        if takes and spare and not offer.bulk and not offer.breaks:
            found.append(_sentence(order, offer, seller, spare, job.settings.currency))
    return found


def _sentence(
    order: Order, offer: Offer, seller: Supplier | None, spare: float, currency: str
) -> str:
    each = (order.price + order.tax) / order.packs
    back = round_money(spare * each * (1 - (offer.restocking or 0.0)), currency)
    terms = ", ".join(_terms(offer, seller))
    return (
        f"{order.item}: {trimmed(spare)} of the {trimmed(order.packs)} packs bought are beyond "
        f"the need. Left unopened, they bring about {back} back from {order.supplier} ({terms}); "
        "this is not taken off the total."
    )


def _terms(offer: Offer, seller: Supplier | None) -> Iterator[str]:
    if offer.restocking is None:
        yield "ask what it keeps"
    else:
        yield f"less {percent(offer.restocking)} that it keeps"
    if seller is not None and seller.return_days:
        yield f"within {trimmed(seller.return_days)} days"
