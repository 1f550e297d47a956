"""Cost lines that the job implies: each priced, not needed, in a bid, or still to price."""

from __future__ import annotations

from budget.job import ChecklistLine, Job
from budget.prices.options import ChecklistCost
from budget.quantities.needs.consumables import BLADES
from budget.quantities.needs.fire import has_fire
from budget.quantities.takeoff import Takeoff
from budget.reference import rows
from budget.units import COUNT, MONEY

OTHER = "Other costs"


def checklist(job: Job, takeoff: Takeoff) -> tuple[ChecklistCost, ...]:
    """Every line of ``reference/checklist.csv`` that the job implies, then the user's own.

    A line without an answer, or priced without an amount, is still to price; it is never zero.
    """
    answers = {row.line.casefold(): row for row in reversed(job.checklist)}
    found = []
    amounts = _amounts(job, takeoff)
    for row in rows("checklist"):
        answer = answers.pop(row["line"].casefold(), None)
        if answer is not None or _implied(row["when"], job, takeoff):
            hint = " ".join(text for text in (row["hint"], amounts.get(row["line"], "")) if text)
            found.append(_cost(row["line"], row["group"], hint, answer))
    own = sorted(answers.values(), key=lambda row: (row.line, row.place.row))
    return (*found, *(_cost(row.line, OTHER, "", row) for row in own))


def _implied(when: str, job: Job, takeoff: Takeoff) -> bool:
    match when:
        case "always":
            return True
        case "if cut":
            return any(row.step == "Cut" and row.amount.value > 0 for row in takeoff.steps)
        case "if geotextile":
            return any(need.kind == "geotextile" for need in takeoff.needs)
        case "if fire":
            return has_fire(job)
        case "if wall":
            return any(row.kind in ("wall", "steps") for row in job.walls)
        case "if pieces":
            return bool(job.pieces)
        case "if helpers":
            return job.settings.helpers + job.settings.paid_helpers > 0
    msg = f"unknown condition {when!r} in the checklist table"
    raise ValueError(msg)


def _amounts(job: Job, takeoff: Takeoff) -> dict[str, str]:
    """How much of what wears or is used up the job's own sizes ask for, by line."""
    found: dict[str, list[str]] = {}
    for line, figure in takeoff.consumables:
        amount = figure.words(job.settings.units)
        text = f"{figure.name}: {amount}" if figure.kind is COUNT else f"{amount} of {figure.name}"
        found.setdefault(line, []).append(text)
    said = {line: f"By this job's sizes, about {', '.join(t)}." for line, t in found.items()}
    if takeoff.way_to_cut:
        said[BLADES] = " ".join(filter(None, (takeoff.way_to_cut, said.get(BLADES))))
    return said


def _cost(line: str, group: str, hint: str, row: ChecklistLine | None) -> ChecklistCost:
    if row is None:
        return ChecklistCost(line, group, "to price", None, "", hint, "")
    amount = None if row.amount is None else row.figure("amount", MONEY, line)
    answer = "to price" if row.answer == "priced" and amount is None else row.answer
    return ChecklistCost(line, group, answer, amount, row.bid, hint, row.cell("amount"))
