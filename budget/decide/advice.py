"""What filled next could change the answer most, in one sentence."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from budget.decide.model.model import Solved
from budget.decide.plan import METHOD, Missing, Priced, Scenario
from budget.decide.planner import Planner
from budget.decide.terms.situation import Situation
from budget.decide.wording import hours_in_words, round_money
from budget.job import Job, Quote
from budget.reference import coefficient
from budget.units import BULK_MASS, System, in_words
from budget.wording import listed

#: A cost line of the checklist counts as this share of the job: small, but not nothing.
CHECKLIST_SHARE = 0.02

#: A delivery, a machine or the spoil counts as this much more than its share: each is a bill
#: of its own, where a light thing such as a bag of spikes is not.
OWN_BILL = 0.05


@dataclass(frozen=True, slots=True)
class Wanted:
    """One gap: what may turn the answer (0), sizes (1), missing prices (2), guesses (3), more
    offers (4); then how big.
    """

    kind: int
    size: float
    sentence: str


def next_step(
    job: Job, planner: Planner, best: Solved | None, found: Sequence[Scenario], hour_value: float
) -> str:
    """One sentence that names the sheet, or nothing if there is nothing worth filling.

    First comes what may turn the answer: a price that only a scenario lacks that would be cheaper
    as far as it is priced. Then come a paver's size, on which its count hangs, missing prices,
    guessed ones, and steps nobody has offered to do.
    A missing price is as big as the share of the job that hangs on it: of all the weight that
    is moved, or of all the own hours.
    """
    if best is None:
        return "Fill the Quotes, Work or Bids sheet next: no plan can be built yet."
    plan = best.priced.plan
    situation = planner.situation(plan.bedding, planner.optional - plan.parts)
    wanted = [
        *_turning(found, best.priced, hour_value, job.settings.currency),
        *_unsized(job, situation),
        *_missing(situation, best.priced, job.settings.units),
        *_guesses(job, best.priced),
        *_unhired(situation, best.priced),
    ]
    if not wanted:
        return ""
    return min(wanted, key=lambda w: (w.kind, -w.size, w.sentence)).sentence


def _turning(
    found: Sequence[Scenario], best: Priced, hour_value: float, currency: str
) -> Iterator[Wanted]:
    """Prices that only a scenario lacks which is cheaper as far as it is priced, by how much.

    Plans with unequal gaps are not ranked, so none of these is called best.
    """
    known = {missing.what for missing in best.missing}
    mine = best.total(hour_value)
    for scenario in found:
        if scenario.priced is None or scenario.discouraged:
            continue
        total = scenario.priced.total(hour_value)
        lacking = [m for m in scenario.priced.missing if m.what not in known]
        if not lacking or total >= mine:
            continue
        have = "has no price" if len(lacking) == 1 else "have no prices"
        text = (
            f"Fill the {lacking[0].sheet} sheet next: {listed(m.what for m in lacking)} {have} "
            f"yet, without which “{scenario.title}” is not ranked. So far that comes to "
            f"{round_money(total, currency)}, this plan to {round_money(mine, currency)}, own "
            "hours counted."
        )
        yield Wanted(0, mine - total, text)


def _unsized(job: Job, situation: Situation) -> Iterator[Wanted]:
    """Pavers sold by the piece or pallet whose size is only assumed, by what they weigh."""
    given = [product for product in job.products if product.length and product.width]
    sized = {name.casefold() for product in given for name in (product.item, product.mix) if name}
    system = job.settings.units
    usual = [coefficient(f"paver {side}").figure().words(system) for side in ("length", "width")]
    for item, needs in situation.items.items():
        counted = any(offer.measure != "area" for offer in situation.offers(item))
        if needs[0].kind == "paver" and counted and item.casefold() not in sized:
            weight = sum(need.weight.value for need in needs if need.weight)
            text = (
                f"Fill the Products sheet next: the true size of {item} decides how many it takes; "
                f"{' by '.join(usual)} is assumed."
            )
            yield Wanted(1, weight, text)


def _missing(situation: Situation, priced: Priced, system: System) -> Iterator[Wanted]:
    weights = _weights(situation, priced)
    moved = sum(weights.values()) or 1.0
    lines = [m.what for m in priced.missing if m.sheet == "Checklist"]
    for missing in priced.missing:
        if missing.what in weights:
            weight = weights[missing.what]
            words = f" ({in_words(weight, BULK_MASS, system, 1)})" if weight > 100 else ""
            bill = 0.0 if missing.sheet == "Quotes" else OWN_BILL
            yield Wanted(2, bill + weight / moved, _fill(missing, words))
        elif missing.sheet == "Equipment":
            hours = _hours_of(situation, priced, missing.what)
            words = f" (used in {hours_in_words(hours)} of work)" if hours else ""
            share = hours / (priced.own_hours or 1.0)
            yield Wanted(2, OWN_BILL + share, _fill(missing, words))
        elif missing.sheet != "Checklist":
            share = priced.helper_hours / (priced.own_hours + priced.helper_hours or 1.0)
            yield Wanted(2, share, _fill(missing, ""))
    if lines:
        yield Wanted(2, CHECKLIST_SHARE * len(lines), _checklist(lines))


def _fill(missing: Missing, words: str) -> str:
    return f"Fill the {missing.sheet} sheet next: {missing.what}{words} has no price yet."


def _weights(situation: Situation, priced: Priced) -> dict[str, float]:
    """What weighs how much, by the name that a missing price has [kg]."""
    found = {
        item: sum(n.weight.value for n in needs if n.weight)
        for item, needs in situation.items.items()
    }
    found |= {f"Delivery from {a.supplier}": a.weight for a in priced.arrivals}
    if situation.spoil is not None:
        found["Spoil disposal"] = situation.spoil.value * situation.takeoff.spoil_density.value
    return found


def _checklist(lines: list[str]) -> str:
    if len(lines) == 1:
        return f"Fill the Checklist sheet next: {lines[0]} is not yet priced or marked not needed."
    return (
        f"Fill the Checklist sheet next: {len(lines)} cost lines are not yet priced or marked not "
        f"needed, beginning with {lines[0]}."
    )


def _hours_of(situation: Situation, priced: Priced, equipment: str) -> float:
    """Own hours of the steps that use a machine."""
    steps = {
        step
        for step, value in priced.plan.steps.items()
        for m in situation.methods(step)
        if m.machine == equipment and value == METHOD + m.key
    }
    return sum(line.own_hours for line in priced.lines if line.name in steps)


def _guesses(job: Job, priced: Priced) -> Iterator[Wanted]:
    """Prices that the plan rests on and that are guesses, by what the guess may be off."""
    for order in priced.orders:
        for quote in job.quotes:
            if not _is_bought(quote, order.supplier, order.per, order.price, order.packs):
                continue
            ends = (quote.price_low, quote.price, quote.price_high)
            known = [end for end in ends if end is not None]
            swing = (max(known) - min(known)) * order.packs
            if swing > 0:
                text = (
                    f"Firm up a price on the Quotes sheet next: {order.item} from "
                    f"{order.supplier} may move by {round_money(swing, job.settings.currency)}."
                )
                yield Wanted(3, swing, text)


def _is_bought(quote: Quote, supplier: str, per: str, price: int, packs: float) -> bool:
    if quote.price is None or quote.supplier.casefold() != supplier.casefold():
        return False
    each = [quote.price, *(step.price for step in quote.breaks)]
    alike = quote.per.casefold() == per.casefold()
    return alike and any(abs(one * packs - price) <= 1 for one in each)


def _unhired(situation: Situation, priced: Priced) -> Iterator[Wanted]:
    """The step of most own hours that no bid covers."""
    covered = {step for bid in situation.options.bids for step in bid.steps}
    for line in priced.lines:
        if line.name in situation.amounts and line.name not in covered and line.own_hours >= 1:
            text = (
                f"Ask for a price on the Bids sheet next: {line.name} takes "
                f"{hours_in_words(line.own_hours)} and nobody has offered to do it."
            )
            yield Wanted(4, line.own_hours, text)
