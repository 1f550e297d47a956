"""How stock is cut, and which beams hold, in the words of an explanation."""

from __future__ import annotations

from itertools import groupby

from budget.decide.outcome import Comparison
from budget.quantities.takeoff import Cut, CuttingPlan, SpanCheck
from budget.report import words
from budget.spend.finding import folded
from budget.units import DEPTH, Kind, System, in_words
from budget.wording import listed


def cutting_remarks(comparison: Comparison, typed: str) -> list[str]:
    """Cutting plans and span checks of one stock, by its name or its size."""
    settings = comparison.job.settings
    found = []
    for plan in comparison.takeoff.cutting:
        items = {folded(cut.item) for cut in plan.cuts} | {folded(plan.stock)}
        if typed in items:
            found += _plan(plan, settings.units)
    for check in comparison.takeoff.spans:
        if typed in (folded(check.item), folded(check.piece)):
            found.append(_span(check, settings.units, settings.currency))
    return found


def _plan(plan: CuttingPlan, system: System) -> list[str]:
    saw = f"the saw takes {in_words(plan.kerf, DEPTH, system)} a cut; " if plan.kerf else ""
    lengths = words.count(plan.count, plan.unit)
    heading = f"Cutting plan of {plan.stock} for {listed(plan.parts)}: {lengths}"
    return [f"{heading}; {saw}{plan.bound}.", *(_cut(cut, plan.size, system) for cut in plan.cuts)]


def _cut(cut: Cut, size: Kind, system: System) -> str:
    pieces = []
    for (name, length), group in groupby(zip(cut.names, cut.lengths, strict=True)):
        pieces.append(f"{len(list(group))} x {name} {in_words(length, size, system)}")
    stock = in_words(cut.stock, size, system)
    left = in_words(cut.left, size, system)
    return f"{cut.times} x {cut.item} ({stock}): {', '.join(pieces)}; {left} left."


def _span(check: SpanCheck, system: System, currency: str) -> str:
    price = "not quoted" if check.price is None else words.money(check.price, currency)
    verdict = "holds" if check.holds else "bends too far"
    limit = check.limit.words(system)
    return (
        f"{check.item} as {check.piece} {verdict}: {check.bends.words(system)} in the middle, at "
        f"most {limit}; {price} each. Bending alone: structures are a professional's matter."
    )
