"""What it costs to run short of something, and to have too much of it."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

from budget.decide.lost import lost_day, lost_hours
from budget.decide.plan import METHOD, Priced
from budget.decide.pricing.arrivals import coming
from budget.decide.risk.demand import Demand
from budget.decide.risk.ordering import Stakes
from budget.decide.terms.situation import Situation
from budget.figures import constant, product
from budget.job import Assumption, Job, Product, Supplier
from budget.numerals import trimmed
from budget.prices.equipment import hire_cost
from budget.prices.options import Drop, Haul, Route
from budget.prices.packs import buy
from budget.reference import Coefficient, coefficient, product_kinds
from budget.units import DAYS, HOURS, NUMBER

#: Whether an item can be had again, as on the Products sheet.
SAME, LOT, NO_MORE = "more of the same", "another lot", "no more"

#: Cutting goes on beside laying, and its machine waits when pavers run out.
_BESIDE = {"Lay": ("Cut",)}


@dataclass(frozen=True, slots=True)
class Loss:
    """What is at stake with one order. Money in cents, packs in the steps they are sold in."""

    stakes: Stakes
    one_short: tuple[tuple[str, float], ...]
    again: str
    note: str
    shared: float = 0.0  # of what running short costs: the trip, the day and machines that wait


class Losses:
    """What running short and running over costs in one plan; keeps a list of what it assumed."""

    def __init__(self, job: Job, situation: Situation, priced: Priced) -> None:
        """For the orders of ``priced``."""
        self._situation, self._priced = situation, priced
        self._settings = job.settings
        self._products: dict[str, Product] = {p.item.casefold(): p for p in job.products}
        self._suppliers: dict[str, Supplier] = {s.supplier.casefold(): s for s in job.suppliers}
        self._used: dict[str, Coefficient] = {}

    @property
    def assumed(self) -> tuple[Assumption, ...]:
        """The documented defaults used, by name."""
        system = self._settings.units
        return tuple(
            Assumption(c.what, c.figure().words(system), c.cited, c.sheet)
            for _, c in sorted(self._used.items())
        )

    def of(self, demand: Demand) -> Loss:
        """What is at stake with one order."""
        again = self._again(demand)
        each = self._pack(demand)
        breaks = self._breaks(demand)
        cheapest = min([each, *(price for _, price in breaks)])
        second = self._second(demand)
        lost = list(self._lost(demand))
        if second is not None and second[0] > 0:
            lost.insert(0, ("a second delivery or trip", second[0]))
        shared = sum(cents for _, cents in lost)
        if again == LOT:
            lost.append(("another lot may look different", self._mismatch(demand)))
        if again == NO_MORE:
            lost.append(("all of it bought anew in another make", self._whole(demand)))
        note = "" if second else "nobody has said what a second delivery costs; it is not counted"
        back, bring = self._back(demand)
        stakes = Stakes(
            each=each, again=each, short=sum(cents for _, cents in lost),
            least=second[1] if second else 1, back=min(back, cheapest), bring_back=bring,
            breaks=breaks, spares=demand.spares,
        )  # fmt: skip
        return Loss(stakes, tuple(lost), again, note, shared)

    def _assume(self, name: str) -> float:
        found = self._used.setdefault(name, coefficient(name))
        return found.likely

    def _again(self, demand: Demand) -> str:
        named = self._products.get(demand.order.item.casefold())
        if named is not None and named.if_short:
            return named.if_short
        return LOT if product_kinds()[demand.kind].lots else SAME

    def _pack(self, demand: Demand, price: float | None = None) -> float:
        """One step of packs with tax and the seller's card surcharge, at a price each."""
        offer = demand.offer
        card = self._situation.options.card_surcharge.get(offer.supplier)
        more = 1 + (card.value if card is not None else 0.0)
        before_tax = offer.price.value if price is None else price
        return before_tax * (1 + offer.tax.value) * offer.step * more

    def _breaks(self, demand: Demand) -> tuple[tuple[int, float], ...]:
        """From how many steps of packs on, one costs what."""
        return tuple(
            (math.ceil(start.value / demand.offer.step - 1e-9), self._pack(demand, each.value))
            for start, each in demand.offer.breaks
        )

    def _whole(self, demand: Demand) -> float:
        return float(demand.order.price + demand.order.tax)

    def _mismatch(self, demand: Demand) -> float:
        return self._assume("lot mismatch") * self._assume("lot loss") * self._whole(demand)

    def _second(self, demand: Demand) -> tuple[float, int] | None:
        """Cents and least steps of the cheapest way to have a little more; None if not known."""
        offer = demand.offer
        least = max(1, math.ceil(offer.least / offer.step))
        routes = self._situation.options.routes.get(offer.supplier, ())
        ways = [w for r in routes if (w := self._by(demand, r, least)) is not None]
        each = self._pack(demand)
        return min(ways, key=lambda w: (w[0] + w[1] * each, w[1]), default=None)

    def _by(self, demand: Demand, route: Route, least: int) -> tuple[float, int] | None:
        offer = demand.offer
        if isinstance(route, Drop):
            if not route.priced:
                return None
            if route.least > 0:
                if offer.weight is None or offer.weight.value <= 0:
                    return None
                step = offer.weight.value * offer.step
                least = max(least, math.ceil(route.least / step - 1e-9))
        return self._bring(demand, route, least), least

    def _bring(self, demand: Demand, route: Route, steps: int) -> float:
        """Fee, mileage and own hours to bring some steps of packs, or to take them back."""
        offer, options = demand.offer, self._situation.options
        packs = constant(steps * offer.step, NUMBER, "packs bought later")
        amount = product("bought later", offer.holds.kind, packs, offer.holds)
        way = coming(route, [(offer, buy(offer, amount))], options)
        cash = way.cash.value if way.cash else 0.0
        return cash + (way.hours.value if way.hours else 0.0) * options.hour_value.value

    def _back(self, demand: Demand) -> tuple[float, float]:
        """Cents that come back for one unopened pack, and what taking some back costs once."""
        offer = demand.offer
        seller = self._suppliers.get(offer.supplier.casefold())
        takes = offer.restocking is not None or (seller is not None and seller.return_days)
        routes = self._situation.options.routes.get(offer.supplier, ())
        hauls = [r for r in routes if isinstance(r, Haul)]
        if not takes or offer.bulk or not hauls:
            return 0.0, 0.0
        price = offer.price.value * (1 + offer.tax.value) * offer.step
        one = replace(demand, offer=replace(offer, least=0.0))  # no order, so without its least
        return price * (1 - (offer.restocking or 0.0)), min(
            self._bring(one, haul, 1) for haul in hauls
        )

    def _days(self, demand: Demand) -> float:
        """Days until more can be there."""
        seller = self._suppliers.get(demand.offer.supplier.casefold())
        lead = demand.offer.lead_days or (seller.lead_days if seller is not None else None)
        return lead or self._assume("lost days")

    def _lost(self, demand: Demand) -> Iterator[tuple[str, float]]:
        """The day on which work stops, and machines that wait."""
        if any(self._priced.plan.steps.get(s, "").startswith(METHOD) for s in demand.steps):
            yield "the day on which work stops", self._day()
        days = self._days(demand)
        yield from sorted(self._kept(demand, days).items())

    def _day(self) -> float:
        """What a lost day costs: as the Job sheet says, or hours of the owner and paid helpers."""
        options = self._situation.options
        if self._settings.lost_day is None:
            self._assume(lost_hours().name)
        return lost_day(self._settings, options).cost(options.hour_value.value)

    def _kept(self, demand: Demand, days: float) -> dict[str, float]:
        """Cents for each hired machine that the work waits with; handed back if that is cheaper."""
        steps = [*demand.steps, *(s for step in demand.steps for s in _BESIDE.get(step, ()))]
        kept: dict[str, float] = {}
        for step in steps:
            value = self._priced.plan.steps.get(step, "")
            for method in self._situation.methods(step):
                if METHOD + method.key == value and method.machine:
                    kept |= self._rented(method.machine, days)
        return kept

    def _rented(self, equipment: str, days: float) -> dict[str, float]:
        options = self._situation.options
        key = self._priced.plan.machines.get(equipment)
        ways = options.machines.get(equipment, ())
        machine = next((m for m in ways if m.key == key and m.way == "rent" and m.terms), None)
        if machine is None:
            return {}
        none = constant(0.0, HOURS, "no machine hours")
        kept, once_more = (
            hire_cost(machine, [constant(d, DAYS, "days kept longer")], none).value
            for d in (days, 1.0)
        )
        if once_more < kept:
            return {f"{equipment} handed back and hired once more": once_more}
        return {f"{equipment} kept {trimmed(days)} {'day' if days == 1 else 'days'} longer": kept}
