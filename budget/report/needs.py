"""Packs of each quote that what is needed comes to, before any plan is chosen."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from budget.figures import Figure, total
from budget.job import Assumption, Job, Notice
from budget.prices.options import Offer, Options
from budget.prices.packs import packs_to_buy
from budget.quantities.takeoff import Need, Takeoff


@dataclass(frozen=True, slots=True)
class Packs:
    """How many packs of one quote cover one item."""

    item: str
    bedding: str  # only under this bedding; blank: always
    supplier: str
    per: str
    holds: Figure
    packs: Figure


@dataclass(frozen=True, slots=True)
class Quantities:
    """What the ``quantities`` command shows."""

    takeoff: Takeoff
    packs: tuple[Packs, ...]
    unquoted: tuple[str, ...]  # items that no quote meets
    assumed: tuple[Assumption, ...]
    warnings: tuple[Notice, ...]


def quantities_of(job: Job) -> Quantities:
    """Take off the job's quantities and set them against its quotes."""
    from budget.prices import flatten
    from budget.quantities import take_off

    takeoff = take_off(job)
    return quantities(takeoff, flatten(job, takeoff))


def quantities(takeoff: Takeoff, options: Options) -> Quantities:
    """The takeoff with the packs of every quote that can meet it."""
    packs = tuple(
        row
        for item in sorted({n.item for n in takeoff.needs})
        for row in _item(item, takeoff, options)
    )
    quoted = {offer.item for offer in options.offers}
    return Quantities(
        takeoff=takeoff,
        packs=packs,
        unquoted=tuple(sorted({n.item for n in takeoff.needs} - quoted)),
        assumed=merged(takeoff.assumed, options.assumed),
        warnings=tuple(sorted({*takeoff.warnings, *options.warnings})),
    )


def merged(*lists: Sequence[Assumption]) -> tuple[Assumption, ...]:
    """Assumptions of several stages, each once, in the order met."""
    return tuple(dict.fromkeys(a for found in lists for a in found))


def _item(item: str, takeoff: Takeoff, options: Options) -> list[Packs]:
    needs = [n for n in takeoff.needs if n.item == item]
    offers = sorted(
        (o for o in options.offers if o.item == item), key=lambda o: (o.supplier, o.per, o.key)
    )
    beddings = sorted({n.bedding for n in needs if n.bedding}) or [""]
    found = []
    for bedding in beddings:
        of_bedding = [n for n in needs if n.bedding in ("", bedding)]
        for offer in offers:
            amount = _amount(of_bedding, offer)
            if amount is not None:
                packs = packs_to_buy(offer, amount)
                found.append(Packs(item, bedding, offer.supplier, offer.per, offer.holds, packs))
    return found


def _amount(needs: Sequence[Need], offer: Offer) -> Figure | None:
    """The needs together in the offer's measure; None where it cannot be worked out."""
    if any(offer.measure not in need.measures for need in needs):
        return None
    return total(offer.item, [need.measures[offer.measure] for need in needs])
