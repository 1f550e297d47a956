"""The JSON of every command but ``compare``; schemas are ``schema/NAME-1.json``."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from budget.decide.outcome import Comparison
from budget.job import Job
from budget.report.documents.document import notice, quantity
from budget.report.documents.parts import assumption, job_head, money, number
from budget.report.documents.risk import shortfall
from budget.report.explain.lines import Explanation
from budget.report.letters import Asked
from budget.report.needs import Quantities
from budget.report.review import Review
from budget.report.starting import Begun
from budget.spend.tracking import Tracked, Tracking
from budget.units import shown

_PREFIX = "outdoor-room-budget"


def check(review: Review) -> dict[str, Any]:
    """The outcome of a check; ``ok`` is false when there are problems."""
    return {
        "schema": f"{_PREFIX}/check/1",
        "job": None if review.job is None else job_head(review.job),
        "ok": not review.problems,
        "problems": [notice(n) for n in review.problems],
        "warnings": [notice(n) for n in review.warnings],
        "assumed": [assumption(a) for a in review.assumed],
    }


def quantities(
    job: Job, found: Quantities, comparison: Comparison | None = None
) -> dict[str, Any]:  # fmt: skip
    """Needs, packs by quote, and amounts of work; with a comparison, what may run short too."""
    system = job.settings.units
    risk = comparison.risk if comparison else None
    return {
        "schema": f"{_PREFIX}/quantities/1",
        "job": job_head(job),
        "quantities": [quantity(need, system) for need in found.takeoff.needs],
        "packs": [
            {
                "item": p.item,
                "bedding": p.bedding,
                "supplier": p.supplier,
                "packs": number(p.packs.value),
                "per": p.per,
            }
            for p in found.packs
        ],
        "unquoted": list(found.unquoted),
        "running_short": None
        if comparison is None
        else [shortfall(short) for short in (risk.shortfalls if risk else ())],
        "work": [
            {
                "step": a.step,
                "part": a.part,
                "bedding": a.bedding,
                "amount": number(shown(a.amount.value, a.amount.kind, system)),
                "unit": a.amount.kind.unit(system).label,
            }
            for a in found.takeoff.steps
        ],
        "assumed": [assumption(a) for a in found.assumed],
        "warnings": [notice(n) for n in found.warnings],
    }


def names(job: Job, found: Mapping[str, Sequence[str]]) -> dict[str, Any]:
    """Every name that can be explained, by kind."""
    return {
        "schema": f"{_PREFIX}/explain-names/1",
        "job": job_head(job),
        "names": [{"kind": kind, "names": list(every)} for kind, every in found.items()],
    }


def explanation(job: Job, found: Explanation) -> dict[str, Any]:
    """The steps behind one line; numbers stand in words, as a person reads them."""
    return {
        "schema": f"{_PREFIX}/explain/1",
        "job": job_head(job),
        "line": found.name,
        "scenario": found.scenario.title,
        "parts": [
            {
                "title": part.title,
                "result": part.result,
                "steps": [
                    {
                        "number": n,
                        "what": step.name,
                        "how": step.arithmetic,
                        "result": step.result,
                        "source": step.source,
                    }
                    for n, step in part.steps
                ],
            }
            for part in found.parts
        ],
        "remarks": list(found.remarks),
    }


def spend(job: Job, found: Tracking) -> dict[str, Any]:
    """Entries against the plan."""
    return {
        "schema": f"{_PREFIX}/spend/1",
        "job": job_head(job),
        "scenario": found.against,
        "entries": found.entries,
        "lines": [_tracked(t) for t in found.lines],
        "planned": money(found.planned),
        "changes": money(found.changes),
        "ordered": money(found.ordered),
        "paid": money(found.paid),
        "to_come": money(found.to_come),
        "will_come_to": money(found.will_come_to),
        "limit": None if found.limit is None else money(found.limit),
        "left": money(found.left),
        "refund_due": money(found.refund_due),
        "planned_hours": number(found.planned_hours),
        "spent_hours": number(found.spent_hours),
        "hours_to_come": number(found.hours_to_come),
        "deposits_out": money(found.deposits_out),
        "deposits_back": money(found.deposits_back),
        "deposits_planned": money(found.deposits_planned),
        "unpriced": list(found.unpriced),
        "warnings": [notice(n) for n in found.warnings],
    }


def _tracked(line: Tracked) -> dict[str, Any]:
    return {
        "line": line.line,
        "group": line.group,
        "in_plan": line.in_plan,
        "planned": money(line.planned),
        "changes": money(line.changes),
        "ordered": money(line.ordered),
        "paid": money(line.paid),
        "to_come": money(line.to_come),
        "will_come_to": money(line.will_come_to),
        "left": money(line.left),
        "refund_due": money(line.refund_due),
        "planned_hours": number(line.planned_hours),
        "spent_hours": number(line.spent_hours),
    }


def start(begun: Begun) -> dict[str, Any]:
    """What ``start`` wrote."""
    document: dict[str, Any] = {
        "schema": f"{_PREFIX}/start/1",
        "workbook": begun.path.as_posix(),
        "units": begun.units,
        "example": begun.example or None,
    }
    if begun.carried is not None:
        document["carried"] = dict(begun.carried.counts)
        document["left_out"] = list(begun.carried.left_out)
    return document


def ask(asked: Asked) -> dict[str, Any]:
    """What ``ask`` wrote: one sheet for each who is asked."""
    return {
        "schema": f"{_PREFIX}/ask/1",
        "workbook": asked.path.as_posix(),
        "sheets": [
            {"name": letter.name, "kind": letter.kind, "items": len(letter.goods)}
            for letter in asked.letters
        ],
    }


def error(status: int, message: str) -> dict[str, Any]:
    """Why a command could not answer; ``status`` is its exit status."""
    return {"schema": f"{_PREFIX}/error/1", "status": status, "message": message}
