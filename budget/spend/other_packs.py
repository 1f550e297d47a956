"""Quantities of entries in the packs of the plan, where goods were bought in other packs.

A yard may sell pavers by the pallet and by the square foot, and an order may go to another
seller than the plan's. The quote that an entry follows is the one of its seller whose price is
nearest to the entry's; an entry without an amount follows the order before it.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace

from budget.decide.outcome import Comparison
from budget.decide.plan import Plan
from budget.decide.pricing.goods import share_line
from budget.job import Measure, Spend
from budget.prices.options import Offer
from budget.spend.finding import folded
from budget.spend.yardstick import PlanLine, Yardstick


def in_plan_packs(
    comparison: Comparison, stick: Yardstick, entries: Sequence[Spend]
) -> list[Spend]:
    """The entries, in the order of time, with the quantities of goods in the plan's packs."""
    if stick.now is None:
        return list(entries)
    plan = stick.now.plan
    offers: dict[str, list[Offer]] = {}
    for offer in comparison.options.offers:
        offers.setdefault(folded(offer.item), []).append(offer)
    planned = {
        key: next((o for o in found if o.key == plan.offers.get(o.item)), None)
        for key, found in offers.items()
    }
    followed: dict[tuple[str, str], Offer] = {}
    result = []
    for entry in (_on_its_line(plan, offers, entry) for entry in entries):
        key = folded(entry.line)
        own = planned.get(key)
        if not entry.quantity or own is None:
            result.append(entry)
            continue
        seller = folded(entry.supplier or own.supplier)
        offer = _followed(entry, offers[key], own, seller) or followed.get((key, seller), own)
        followed[key, seller] = offer
        if offer.key == own.key:
            result.append(entry)
            continue
        line = stick.lines[key]
        many = _converted(comparison, stick, line, entry.quantity, offer, own)
        result.append(replace(entry, quantity=many))
    return result


def _on_its_line(plan: Plan, offers: Mapping[str, Sequence[Offer]], entry: Spend) -> Spend:
    """An entry of an item bought at several quotes, on the line of its own seller's part."""
    found = offers.get(folded(entry.line), ())
    shares = {key for o in found for key in plan.shares.get(o.item, {})}
    rest = {folded(o.supplier) for o in found if o.key == plan.offers.get(o.item)}
    theirs = [o for o in found if o.key in shares and folded(o.supplier) == folded(entry.supplier)]
    if len(theirs) != 1 or folded(entry.supplier) in rest:
        return entry
    return replace(entry, line=share_line(theirs[0]))


def _followed(entry: Spend, offers: Sequence[Offer], own: Offer, seller: str) -> Offer | None:
    """The seller's quote whose price is nearest to the entry's, None if that cannot be told."""
    theirs = [o for o in offers if folded(o.supplier) == seller and o.price.value > 0]
    if not theirs:
        return None
    if len(theirs) == 1:
        return theirs[0]
    if not entry.amount or not entry.quantity or entry.amount / entry.quantity <= 0:
        return None
    each = entry.amount / entry.quantity
    return min(theirs, key=lambda o: (abs(math.log(each / o.price.value)), o.key != own.key, o.key))


def _converted(
    comparison: Comparison, stick: Yardstick, line: PlanLine, many: float, offer: Offer, own: Offer
) -> float | None:
    """So many packs of an offer as packs of the plan's; None where they cannot be compared."""
    if offer.measure == own.measure:
        return many * offer.holds.value / own.holds.value
    bought, planned = (_demand(comparison, stick, line, o.measure) for o in (offer, own))
    if not bought or not planned:
        return None
    share = many * offer.holds.value / bought
    packs = line.now.packs
    return share * (packs if packs and share >= 1.0 - 1e-6 else planned / own.holds.value)


def _demand(
    comparison: Comparison, stick: Yardstick, line: PlanLine, measure: Measure
) -> float | None:
    """How much of a line's goods the plan needs, in one measure."""
    if stick.now is None:
        return None
    plan = stick.now.plan
    amounts = [
        need.measures.get(measure)
        for need in comparison.takeoff.needs
        if folded(need.item) == folded(line.name)
        and need.bedding in ("", plan.bedding)
        and (not need.optional or need.optional in plan.parts)
    ]
    if any(amount is None for amount in amounts):
        return None
    return sum(amount.value for amount in amounts if amount is not None)
