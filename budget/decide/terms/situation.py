"""The job under one bedding with the optional parts that are kept: what there is to do and buy."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from functools import cached_property

from budget.figures import Figure, total
from budget.job import Measure
from budget.prices.options import Bid, Method, Offer, Options
from budget.prices.packs import Purchase, buy, left_to_buy, take
from budget.quantities.needs.handling import share_for_two
from budget.quantities.takeoff import Need, StepAmount, Takeoff
from budget.reference import steps as step_kinds
from budget.units import AREA, LOOSE_VOLUME, PACK_TOLERANCE

CARRY = "Carry"
SPOIL = "Spoil"


def step_order(step: str) -> tuple[int, str]:
    """Where a step comes in the work; steps that are not known come last, by name."""
    kinds = step_kinds()
    return (kinds[step].order if step in kinds else len(kinds) + 1, step)


def summed(name: str, figures: Iterable[Figure]) -> Figure:
    """The sum of some figures of one kind; a single one stays as it is."""
    parts = tuple(figures)
    return parts[0] if len(parts) == 1 else total(name, parts)


def optional_parts(takeoff: Takeoff) -> frozenset[str]:
    """The names of everything that may be left out: parts, and items beside a kept part."""
    named = {need.optional for need in takeoff.needs}
    named |= {row.optional for row in (*takeoff.steps, *takeoff.spoil)}
    return frozenset(named - {""} | {p.part for p in takeoff.parts if p.optional})


# Compared by identity: a situation is a place to work out each thing once.
@dataclass(frozen=True, eq=False)
class Situation:
    """One bedding and one set of optional parts kept: needs, steps and amounts in force."""

    takeoff: Takeoff
    options: Options
    bedding: str
    parts: frozenset[str]

    def _in_force(self, row: Need | StepAmount) -> bool:
        fits = not row.bedding or row.bedding == self.bedding
        return fits and (not row.optional or row.optional in self.parts)

    @cached_property
    def needs(self) -> tuple[Need, ...]:
        """The needs in force, of more than nothing, by item and part."""
        found = [n for n in self.takeoff.needs if self._in_force(n) and n.order.value > 0]
        return tuple(sorted(found, key=lambda n: (n.item, n.part, n.step, n.line)))

    @cached_property
    def items(self) -> dict[str, tuple[Need, ...]]:
        """The needs of each item."""
        found: dict[str, list[Need]] = {}
        for need in self.needs:
            found.setdefault(need.item, []).append(need)
        return {item: tuple(needs) for item, needs in found.items()}

    @cached_property
    def amounts(self) -> dict[str, Figure]:
        """The amount of each step in force, in order of work. Carrying depends on purchases."""
        found: dict[str, list[Figure]] = {}
        for row in self.takeoff.steps:
            if self._in_force(row) and row.amount.value > 0 and row.step != CARRY:
                found.setdefault(row.step, []).append(row.amount)
        return {
            step: summed(f"{step}, all parts", found[step])
            for step in sorted(found, key=step_order)
        }

    @cached_property
    def spoil(self) -> Figure | None:
        """The loose volume to be rid of, None if there is none."""
        found = [r.amount for r in self.takeoff.spoil if self._in_force(r) and r.amount.value > 0]
        return total("spoil, loose", found, LOOSE_VOLUME) if found else None

    @cached_property
    def area(self) -> Figure:
        """The paved area of the parts that are kept."""
        kept = [p.area for p in self.takeoff.parts if not p.optional or p.part in self.parts]
        return total("paved area", kept, AREA)

    @cached_property
    def coverable(self) -> frozenset[str]:
        """Steps that a bid can take off the owner: those with work or with goods to bring."""
        needed = {need.step for need in self.needs}
        return frozenset({*self.amounts, *needed, *({CARRY} if self.needs else ())})

    @cached_property
    def bids(self) -> tuple[Bid, ...]:
        """The bids that cover anything of this job, by name."""
        found = [b for b in self.options.bids if self.coverable.intersection(b.steps)]
        return tuple(sorted(found, key=lambda b: b.key))

    def covered(self, bid: Bid) -> tuple[str, ...]:
        """The steps of this job that a bid covers, in order of work."""
        return tuple(sorted(self.coverable.intersection(bid.steps), key=step_order))

    def methods(self, step: str) -> tuple[Method, ...]:
        """The own ways to do a step under this bedding, by name."""
        found = [
            replace(m, second=self._second) if m.alone and self._second is not None else m
            for m in self.options.methods.get(step, ())
            if not m.bedding or m.bedding == self.bedding
        ]
        return tuple(sorted(found, key=lambda m: m.key))

    @cached_property
    def _second(self) -> Figure | None:
        """The share of the pavers in force that two must lift."""
        return share_for_two(self.needs)

    @cached_property
    def _offers(self) -> dict[str, tuple[Offer, ...]]:
        found: dict[str, list[Offer]] = {}
        for offer in sorted(self.options.offers, key=lambda o: o.key):
            needs = self.items.get(offer.item, ())
            if needs and all(offer.measure in need.measures for need in needs):
                found.setdefault(offer.item, []).append(offer)
        return {item: tuple(offers) for item, offers in found.items()}

    def offers(self, item: str) -> tuple[Offer, ...]:
        """The offers that can meet every need of an item, by name."""
        return self._offers.get(item, ())

    def demand(self, item: str, measure: Measure, supplied: frozenset[str]) -> Figure | None:
        """What is needed of an item beside the steps whose materials a bid brings."""
        found = [n.measures[measure] for n in self.items[item] if n.step not in supplied]
        return summed(f"{item} needed", found) if found else None

    @cached_property
    def _purchases(self) -> dict[tuple[str, frozenset[str]], Purchase | None]:
        return {}  # filled as they are asked for

    def purchase(self, offer: Offer, supplied: frozenset[str]) -> Purchase | None:
        """What is bought of an offer beside the steps whose materials a bid brings.

        ``None`` where nothing is left to buy. Each purchase is worked out once.
        """
        steps = supplied.intersection(need.step for need in self.items[offer.item])
        key = (offer.key, steps)
        if key not in self._purchases:
            amount = self.demand(offer.item, offer.measure, steps)
            self._purchases[key] = None if amount is None else buy(offer, amount)
        return self._purchases[key]

    def left(
        self, offer: Offer, shares: Iterable[tuple[Offer, Purchase]], supplied: frozenset[str]
    ) -> Figure | None:
        """What an offer has to meet once parts of its need are bought at other offers."""
        amount = self.demand(offer.item, offer.measure, supplied)
        if amount is None:
            return None
        taken = []
        for other, purchase in shares:
            need = self.demand(offer.item, other.measure, supplied)
            taken += [(need, other, purchase)] if need is not None else []
        return left_to_buy(amount, taken)

    def bought(
        self, item: str, key: str, shares: Mapping[str, float], supplied: frozenset[str]
    ) -> list[tuple[Offer, Purchase]]:
        """What a plan buys of an item: its offer first, then the parts bought at others.

        Nothing where bids bring it all. An offer that is left nothing to meet is not bought of.

        :param key: the offer that meets the need, or what is left of it.
        :param shares: packs of other offers.
        :raises ValueError: if there is no such offer, or its goods may not be bought in part.
        """
        offers = {offer.key: offer for offer in self.offers(item)}
        if key not in offers or not offers.keys() >= shares.keys():
            msg = f"the plan does not say which quote meets {item}"
            raise ValueError(msg)
        if not shares:
            whole = self.purchase(offers[key], supplied)
            return [] if whole is None else [(offers[key], whole)]
        parts = [(offers[k], _take(offers[k], packs)) for k, packs in sorted(shares.items())]
        left = self.left(offers[key], parts, supplied)
        if left is None:
            return []
        if not offers[key].in_part or key in shares:
            msg = f"{item} may not be bought in part at {key}"
            raise ValueError(msg)
        return [(offers[key], buy(offers[key], left)), *parts] if left.value > 0 else parts


def _take(offer: Offer, packs: float) -> Purchase:
    steps = packs / offer.step
    whole = abs(steps - round(steps)) <= PACK_TOLERANCE
    if not offer.in_part or packs < max(offer.least, offer.step) or not whole:
        msg = f"{packs:g} packs may not be bought of {offer.key}"
        raise ValueError(msg)
    return take(offer, packs)
