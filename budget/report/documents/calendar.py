"""The calendar as JSON: one object by itself, or within that of the comparison.

Its schema is ``schema/calendar-2.json``.
"""

from __future__ import annotations

from typing import Any

from budget.decide.calendar.result import Calendar
from budget.job import Job
from budget.report.documents.parts import assumption, job_head, money, number

SCHEMA = "outdoor-room-budget/calendar/2"


def as_json(job: Job, calendar: Calendar) -> dict[str, Any]:
    """The whole calendar as plain values, with the job that it belongs to."""
    return {"schema": SCHEMA, "job": job_head(job), **calendar_json(calendar)}


def calendar_json(calendar: Calendar) -> dict[str, Any]:
    """The whole calendar as plain values. Days count from 1; dates are null without a start."""

    def at(day: int) -> dict[str, Any]:
        date = calendar.date(day)
        return {"day": day + 1, "date": date.isoformat() if date else None}

    delays = calendar.delays
    return {
        "scenario": calendar.title,
        "finish": at(calendar.finish),
        "soonest": at(calendar.soonest),
        "set_by": list(calendar.chain),
        "tasks": [
            {
                "task": e.name, "step": e.step, "how": e.how, "own": e.own, "from": at(e.first),
                "to": at(e.last), "clock_hours": number(e.hours),
                "own_hours": number(e.own_hours), "spare_days": e.spare,
                "sets_finish": e.binding, "waits_for": e.because.kind,
                "waits_for_name": e.because.name, "wait_hours": number(e.because.wait),
            }
            for e in calendar.entries
        ],
        "orders": [
            {
                "who": o.who, "what": list(o.what), "order_by": at(o.order),
                "arrives": at(o.arrives), "needed": at(o.needed), "fetched": o.fetched,
                "hired": o.hired, "price_ends": list(o.expires), "late": o.late,
                "lead_days": o.lead, "lead_days_reckoned": o.lead_sure,
            }
            for o in calendar.orders
        ],
        "machines": [
            {
                "equipment": m.equipment, "machine": m.machine, "way": m.way,
                "spells": [{"from": at(a), "to": at(b)} for a, b in m.spells],
                "days_used": m.used, "days_out": number(m.out), "cash": money(m.cash),
                "planned_cash": money(m.planned), "planned_spells": list(m.planned_spells),
                "there_to": None if m.there_to is None else at(m.there_to),
                "wait": None if m.wait is None else {
                    "task": m.wait.task, "from": at(m.wait.day),
                    "could_begin": at(m.wait.sooner), "would_finish": at(m.wait.finish),
                    "saves": money(m.wait.saves),
                },
            }
            for m in calendar.machines
        ],
        "weeks": [
            {
                "from": at(w.first), "cash": money(w.cash),
                "lines": [{"line": name, "cash": money(cents)} for name, cents in w.lines],
            }
            for w in calendar.weeks
        ],
        "delays": None if delays is None else {
            "draws": delays.draws, "seed": delays.seed, "causes": list(delays.causes),
            "wet_persistence": delays.persistence, "p50": at(delays.middle),
            "p80": at(delays.likely), "days_later": number(delays.later),
            "hours_again": number(delays.hours),
            "kept": [
                {"equipment": k.equipment, "days": number(k.days), "cash": money(k.cash)}
                for k in delays.kept
            ],
            "late": [
                {"who": late.who, "chance": number(late.chance),
                 "working_days": number(late.days), "cost": money(late.cost)}
                for late in delays.late
            ],
            "gone": [
                {"equipment": g.equipment, "there_to": at(g.day), "chance": number(g.chance)}
                for g in delays.gone
            ],
            "rain_billed_by": list(delays.billed),
            "cash_beyond": [money(cents) for cents in delays.cash],
        },
        "notes": list(calendar.notes),
        "assumed": [assumption(a) for a in calendar.assumed],
    }  # fmt: skip
