"""What filled next could change the answer most, in one sentence."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from budget.decide.model import Solved
from budget.decide.plan import METHOD, Missing, Priced
from budget.decide.planner import Planner
from budget.decide.situation import Situation
from budget.decide.wording import hours_in_words, listed, round_money
from budget.decide.work import machine_hours
from budget.job import Job, Quote
from budget.units import BULK_MASS, System, in_words


@dataclass(frozen=True, slots=True)
class Wanted:
    """One gap with what is known about its size: kinds of gap first, then how big."""

    kind: int
    size: float
    sentence: str


def next_step(job: Job, planner: Planner, best: Solved | None) -> str:
    """One sentence that names the sheet, or nothing if there is nothing worth filling.

    Missing prices come before guessed ones, and these before more offers. Among missing
    prices goods weigh by their mass and machines by their hours, since both stand for money.
    """
    if best is None:
        return "Fill the Quotes, Work or Bids sheet: no plan can be built yet."
    situation = planner.situation(
        best.priced.plan.bedding, planner.optional - best.priced.plan.parts
    )
    found = [
        *_missing(situation, best.priced, job.settings.units),
        *_guesses(job, best.priced),
        *_unhired(situation, best.priced),
    ]
    if not found:
        return ""
    return min(found, key=lambda w: (w.kind, -w.size, w.sentence)).sentence


def _missing(situation: Situation, priced: Priced, system: System) -> Iterator[Wanted]:
    by_sheet: dict[str, list[Missing]] = {}
    for missing in priced.missing:
        by_sheet.setdefault(missing.sheet, []).append(missing)
    for missing in by_sheet.get("Quotes", ()):
        mass = sum(n.weight.value for n in situation.items[missing.what] if n.weight)
        weighs = f", which weighs {in_words(mass, BULK_MASS, system, 1)}" if mass else ""
        text = f"Fill the Quotes sheet next: {missing.what}{weighs}, has no price yet."
        yield Wanted(0, mass, text)
    for missing in by_sheet.get("Equipment", ()):
        hours = _hours_of(situation, priced, missing.what)
        text = (
            f"Fill the Equipment sheet next: {missing.what}, used for about "
            f"{hours_in_words(hours)}, has no price yet."
        )
        yield Wanted(1, hours, text)
    for kind, sheet in enumerate(("Suppliers", "Disposal", "Job", "Work"), start=2):
        names = [m.what for m in by_sheet.get(sheet, ())]
        if names:
            yield Wanted(
                kind, len(names), f"Fill the {sheet} sheet next: {_are(names)} no price yet."
            )
    lines = [m.what for m in by_sheet.get("Checklist", ())]
    if lines:
        yield Wanted(6, len(lines), _checklist(lines))


def _are(names: list[str]) -> str:
    return f"{listed(names)} {'has' if len(names) == 1 else 'have'}"


def _checklist(lines: list[str]) -> str:
    if len(lines) == 1:
        return f"Fill the Checklist sheet next: {lines[0]} is not yet priced or marked not needed."
    return (
        f"Fill the Checklist sheet next: {len(lines)} cost lines are not yet priced or marked not "
        f"needed, beginning with {lines[0]}."
    )


def _hours_of(situation: Situation, priced: Priced, equipment: str) -> float:
    found = 0.0
    for step, amount in situation.amounts.items():
        for method in situation.methods(step):
            if method.machine == equipment and priced.plan.steps.get(step) == METHOD + method.key:
                found += machine_hours(method, amount, situation.options).value
    return found


def _guesses(job: Job, priced: Priced) -> Iterator[Wanted]:
    """Prices that the plan rests on and that are guesses, by what the guess may be off."""
    for order in priced.orders:
        for quote in job.quotes:
            if _is_bought(quote, order.supplier, order.per, order.price, order.packs):
                low = quote.price_low if quote.price_low is not None else quote.price
                high = quote.price_high if quote.price_high is not None else quote.price
                swing = ((high or 0.0) - (low or 0.0)) * order.packs
                if swing > 0:
                    text = (
                        f"Firm up a price on the Quotes sheet next: {order.item} from "
                        f"{order.supplier} may move by {round_money(swing)}."
                    )
                    yield Wanted(7, swing, text)


def _is_bought(quote: Quote, supplier: str, per: str, price: int, packs: float) -> bool:
    same = (quote.supplier.casefold(), quote.per.casefold()) == (
        supplier.casefold(),
        per.casefold(),
    )
    return same and quote.price is not None and abs(quote.price * packs - price) <= 1


def _unhired(situation: Situation, priced: Priced) -> Iterator[Wanted]:
    """The step of most own hours that no bid covers."""
    covered = {step for bid in situation.options.bids for step in bid.steps}
    for line in priced.lines:
        if line.name in situation.amounts and line.name not in covered and line.own_hours >= 1:
            text = (
                f"Ask for a price on the Bids sheet next: {line.name} takes "
                f"{hours_in_words(line.own_hours)} and nobody has offered to do it."
            )
            yield Wanted(8, line.own_hours, text)
