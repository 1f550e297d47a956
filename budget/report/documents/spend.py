"""The JSON of ``accept``, ``record``, ``statement`` and ``spend``."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import Any

from budget.job import Job, Spend
from budget.report.documents import commands
from budget.report.documents.parts import job_head, money, number
from budget.spend.again import Again
from budget.spend.baseline import Baseline
from budget.spend.coming import Coming
from budget.spend.earned import Earned
from budget.spend.matching import Proposal
from budget.spend.standing import Standing
from budget.spend.tracking import Tracked, Week, Why

_PREFIX = "outdoor-room-budget"


def accepted(job: Job, baseline: Baseline, path: Path) -> dict[str, Any]:
    """What ``accept`` wrote."""
    return {
        "schema": f"{_PREFIX}/accept/1",
        "job": job_head(job),
        "baseline": path.as_posix(),
        "number": baseline.number,
        "accepted": baseline.accepted.isoformat(),
        "scenario": baseline.scenario,
        "reason": baseline.reason,
        "because": baseline.because,
        "cash": money(baseline.cash),
        "comes_back": money(baseline.comes_back),
        "own_hours": number(baseline.own_hours),
        "finish": baseline.finish.isoformat() if baseline.finish else None,
    }


def recorded(job: Job, entries: Iterable[Spend], path: Path) -> dict[str, Any]:
    """What ``record`` wrote."""
    return {
        "schema": f"{_PREFIX}/record/1",
        "job": job_head(job),
        "journal": path.as_posix(),
        "entries": [_entry(entry) for entry in entries],
    }


def _entry(entry: Spend) -> dict[str, Any]:
    return {
        "date": entry.date.isoformat(),
        "line": entry.line,
        "supplier": entry.supplier,
        "what": entry.what,
        "quantity": entry.quantity,
        "amount": None if entry.amount is None else money(entry.amount),
        "tax": None if entry.tax is None else money(entry.tax),
        "state": entry.state,
        "own_hours": entry.own_hours,
        "receipt": entry.receipt,
        "reason": entry.reason,
        "due": entry.due.isoformat() if entry.due else None,
    }


def matched(
    job: Job,
    proposals: Sequence[Proposal],
    taken: Sequence[Proposal],
    path: Path,
    left_out: Sequence[int],
) -> dict[str, Any]:
    """What ``statement`` proposes, what was taken, and the rows without a date."""
    return {
        "schema": f"{_PREFIX}/statement/1",
        "job": job_head(job),
        "journal": path.as_posix(),
        "rows": [
            {
                "row": p.booked.row,
                "date": p.booked.date.isoformat(),
                "text": p.booked.text,
                "amount": money(p.booked.cents),
                "line": p.line or None,
                "state": p.state,
                "deposit": money(p.deposit),
                "sure": p.sure,
                "reason": p.reason,
                "entered": p.entered,
                "taken": p in taken,
            }
            for p in proposals
        ],
        "left_out": list(left_out),
    }


def spend(found: Standing) -> dict[str, Any]:
    """Entries against the plan, with the forecast, the weeks and what comes next."""
    tracking = found.tracking
    document = commands.spend(found.job, tracking)
    lines = [line | _more(t) for line, t in zip(document["lines"], tracking.lines, strict=True)]
    return document | {
        "lines": lines,
        "on_both": found.on_both,
        "day": tracking.day.isoformat(),
        "proved": found.stick.proved,
        "gap": _gap(found.stick.gap) if found.stick.proved is not None else None,
        "accepted": tracking.accepted,
        "accepted_on": tracking.accepted_on.isoformat() if tracking.accepted_on else None,
        "unforeseen": money(tracking.unforeseen),
        "why": _why(tracking.why),
        "will_hours": number(tracking.will_hours),
        "contingency": None if tracking.contingency is None else money(tracking.contingency),
        "contingency_used": money(tracking.contingency_used),
        "work_done": None if tracking.work_done is None else number(tracking.work_done),
        "weeks": [_week(w) for w in tracking.weeks],
        "coming": [_coming(c) for c in found.coming],
        "open_choices": _again(found.again) if found.again else None,
        "earned_value": _earned(found.earned),
    }


def _more(line: Tracked) -> dict[str, Any]:
    return {
        "unforeseen": money(line.unforeseen),
        "over": money(line.over),
        "why": _why(line.why),
        "will_hours": number(line.will_hours),
        "why_hours": {
            "quantity": number(line.why_hours.quantity),
            "scope": number(line.why_hours.scope),
            "pace": number(line.why_hours.pace),
        },
        "done": None if line.done is None else number(line.done),
        "need": None if line.need is None else number(line.need),
        "to_buy": None if line.to_buy is None else number(line.to_buy),
        "per": line.per,
    }


def _why(why: Why) -> dict[str, Any]:
    return {
        "price": money(why.price),
        "quantity": money(why.quantity),
        "scope": money(why.scope),
        "pace": money(why.pace),
    }


def _week(week: Week) -> dict[str, Any]:
    left = week.contingency_left
    return {
        "end": week.end.isoformat(),
        "paid": money(week.paid),
        "will_come_to": money(week.will_come_to),
        "contingency_left": None if left is None else money(left),
        "work_done": None if week.work_done is None else number(week.work_done),
        "cash_out": money(week.cash_out),
        "cash_in": money(week.cash_in),
        "own_hours": number(week.own_hours),
    }


def _coming(item: Coming) -> dict[str, Any]:
    return {
        "kind": item.kind,
        "day": item.day.isoformat() if item.day else None,
        "line": item.line,
        "who": item.who,
        "amount": money(item.cents),
        "note": item.note,
    }


def _again(again: Again) -> dict[str, Any]:
    return {
        "changes": [
            {"choice": c.choice, "before": c.before, "after": c.after} for c in again.changes
        ],
        "saves_cash": money(again.cash),
        "saves_hours": number(again.hours),
        "saves_in_all": money(again.total),
        "held": list(again.fixed),
        "why_not": again.why_not,
        "proved": again.proved,
        "gap": _gap(again.gap),
    }


def _gap(share: float) -> float | None:
    return number(share) if math.isfinite(share) else None


def _earned(found: Earned) -> dict[str, Any]:
    def cash(cents: float | None) -> float | None:
        return None if cents is None else money(cents)

    def ratio(value: float | None) -> float | None:
        return None if value is None else number(value)

    return {
        "budget_at_completion": cash(found.budget),
        "planned_value": cash(found.planned),
        "earned_value": cash(found.earned),
        "actual_cost": cash(found.actual),
        "cost_variance": cash(found.cost_variance),
        "schedule_variance": cash(found.schedule_variance),
        "cost_performance_index": ratio(found.cost_index),
        "schedule_performance_index": ratio(found.schedule_index),
        "estimate_at_completion": cash(found.forecast_typical),
        "estimate_if_rest_as_planned": cash(found.forecast_atypical),
        "estimate_with_both_indices": cash(found.forecast_late),
        "estimate_to_complete": cash(found.to_complete),
        "variance_at_completion": cash(found.variance_at_completion),
        "to_complete_performance_index": ratio(found.index_to_budget),
        "doubts": list(found.doubts),
    }
