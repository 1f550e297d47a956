"""What a plan counts for compacting the base, beside what lifts and passes ask of the plate."""

from __future__ import annotations

from budget.decide.outcome import Comparison
from budget.decide.plan import METHOD, Priced
from budget.decide.terms.situation import Situation
from budget.decide.terms.work import machine_hours
from budget.figures import total
from budget.numerals import grouped
from budget.quantities.formulas.compaction import Compaction
from budget.quantities.needs.tamping import by_hand
from budget.spend.finding import folded

#: The step that compacts the base.
BASE = "Base"


def plate_runs(comparison: Comparison, plan: Priced, typed: str) -> list[Compaction]:
    """How the base of each part of the plan is compacted, if the base is what is asked about."""
    if typed not in (folded(BASE), folded(f"step:{BASE}")):
        return []
    if _by_hand(comparison, plan):
        return []
    kept = plan.plan.parts
    return [c for c in comparison.takeoff.compaction if not c.optional or c.optional in kept]


def _by_hand(comparison: Comparison, plan: Priced) -> bool:
    """Whether the plan's way to compact the base is one of the Work sheet's without a machine."""
    method = plan.plan.steps.get(BASE, "").removeprefix(METHOD)
    ways = [row for row in comparison.job.work if folded(row.step) == folded(BASE)]
    return any(row.method == method and by_hand(row.method, row.equipment) for row in ways)


def plate_remarks(comparison: Comparison, plan: Priced, typed: str) -> list[str]:
    """Lifts and passes, and how the running that they ask for stands against the plan's pace."""
    runs = plate_runs(comparison, plan, typed)
    if not runs:
        return []
    system = comparison.job.settings.units
    found = [f"{run.part}: {run.words(system)}." for run in runs]
    counted = _counted(comparison, plan)
    if counted is None:
        return found
    machine, hours = counted
    running = total("plate running", [run.hours for run in runs]).value
    asked = f"That is {grouped(running, 1)} h of running in all"
    if hours < running:
        short = f"the pace of {BASE} counts only {grouped(hours, 1)} h of the {machine}"
        return [*found, f"{asked}, and {short}: look at machine hours on Work."]
    pace = f"the pace of {BASE} counts {grouped(hours, 1)} h of the {machine}"
    pace += ", waiting for stone included"
    return [*found, f"{asked}; {pace}. The running is a check and adds no hours."]


def _counted(comparison: Comparison, plan: Priced) -> tuple[str, float] | None:
    """The machine of the base in a plan of own hands, and the hours that the plan counts of it."""
    chosen = plan.plan
    situation = Situation(comparison.takeoff, comparison.options, chosen.bedding, chosen.parts)
    amount = situation.amounts.get(BASE)
    value = chosen.steps.get(BASE, "")
    method = next((m for m in situation.methods(BASE) if METHOD + m.key == value), None)
    if amount is None or method is None or not method.machine:
        return None
    hours = machine_hours(method, amount, comparison.options).value
    return method.machine.lower(), hours
