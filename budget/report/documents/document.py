"""The comparison as one JSON object; its schema is ``schema/compare-2.json``.

Money is in major units of the job's currency rounded to the cent, hours in hours, ratios as
fractions of one, and measures in the units of the job's unit system, named beside them.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from budget.decide.outcome import Comparison
from budget.decide.plan import Flip, FrontierPoint, Line, Missing, Priced, Scenario
from budget.job import Notice
from budget.quantities.takeoff import Need
from budget.report.documents import deeper, risk
from budget.report.documents.calendar import calendar_json
from budget.report.documents.parts import assumption, job_head, money, number
from budget.units import System, shown

SCHEMA = "outdoor-room-budget/compare/2"


@dataclass(frozen=True, slots=True)
class Files:
    """Where the comparison workbook and the summary page were written."""

    workbook: Path
    page: Path


def as_json(comparison: Comparison, files: Files | None = None) -> dict[str, Any]:
    """The whole comparison as plain values ready for ``json.dumps``."""
    value = comparison.options.hour_value.value
    best = comparison.best
    return {
        "schema": SCHEMA,
        "job": job_head(comparison.job),
        "complete": comparison.complete,
        "best": None if best is None else _best(best, comparison),
        "scenarios": [_scenario(s, value) for s in comparison.scenarios],
        "flips": [_flip(f) for f in comparison.flips],
        "frontier": [_frontier(p) for p in comparison.frontier],
        "quantities": _quantities(comparison),
        "missing": [missing(m) for m in comparison.missing],
        "next_step": comparison.next_step,
        "warnings": [notice(n) for n in comparison.warnings],
        "assumed": [assumption(a) for a in comparison.assumed],
        "notes": list(comparison.notes),
        "fit": deeper.fit(comparison.fit),
        "deeper": deeper.as_json(comparison.deeper),
        "risk": risk.as_json(comparison.risk),
        "calendar": calendar_json(comparison.calendar) if comparison.calendar else None,
        "files": None
        if files is None
        else {"workbook": files.workbook.as_posix(), "page": files.page.as_posix()},
    }


def notice(found: Notice) -> dict[str, Any]:
    """A problem or a warning."""
    return {
        "code": found.code,
        "severity": found.severity,
        "sheet": found.sheet,
        "row": found.row,
        "cell": found.cell,
        "found": found.found,
        "expected": found.expected,
        "mend": found.mend,
        "message": found.message,
    }


def missing(cost: Missing) -> dict[str, Any]:
    """A cost that nobody has priced."""
    return {"what": cost.what, "sheet": cost.sheet, "hint": cost.hint}


def _best(best: Scenario, comparison: Comparison) -> dict[str, Any]:
    earns = comparison.hour_earns
    saving = comparison.saving
    priced = best.priced
    return {
        "scenario": best.name,
        "bedding": best.bedding,
        "cash": None if priced is None else money(priced.cash),
        "own_hours": None if priced is None else number(priced.own_hours),
        "saving": None if saving is None else money(saving),
        "hour_earns": None if earns is None else money(earns),
    }


def _scenario(scenario: Scenario, hour_value: float) -> dict[str, Any]:
    head: dict[str, Any] = {
        "name": scenario.name,
        "bedding": scenario.bedding,
        "pins": dict(scenario.pins),
        "feasible": scenario.feasible,
        "why_not": scenario.why_not,
        "discouraged": scenario.discouraged,
        "proved": scenario.proved,
        "gap": scenario.gap if math.isfinite(scenario.gap) else None,
        "hour_value": money(hour_value),
    }
    if scenario.priced is None:
        return head | _UNBUILT
    return head | _priced(scenario.priced, hour_value)


_UNBUILT: dict[str, Any] = {
    "choices": {}, "cash": None, "own_hours": None, "total": None, "helper_hours": None,
    "clock_hours": None, "deposits": None, "missing": [], "lines": [], "orders": [],
    "arrivals": [], "hires": [], "risks": [],
}  # fmt: skip


def _priced(priced: Priced, hour_value: float) -> dict[str, Any]:
    return {
        "choices": priced.plan.choices(),
        "cash": money(priced.cash),
        "own_hours": number(priced.own_hours),
        "total": money(priced.total(hour_value)),
        "helper_hours": number(priced.helper_hours),
        "clock_hours": number(priced.clock_hours),
        "deposits": money(priced.deposits),
        "missing": [missing(m) for m in priced.missing],
        "lines": [_line(line) for line in priced.lines],
        "orders": [
            {
                "item": o.item,
                "supplier": o.supplier,
                "packs": number(o.packs),
                "per": o.per,
                "price": money(o.price),
                "tax": money(o.tax),
                "deposit": money(o.deposit),
                "left_over": number(o.left_over),
            }
            for o in priced.orders
        ],
        "arrivals": [
            {
                "supplier": a.supplier,
                "route": a.route,
                "fee": money(a.fee),
                "times": a.drops,
                "own_hours": number(a.hours),
                "note": a.note,
            }
            for a in priced.arrivals
        ],
        "hires": [
            {
                "equipment": h.equipment,
                "machine": h.machine,
                "spells": list(h.spells),
                "cash": money(h.cash),
                "deposit": money(h.deposit),
            }
            for h in priced.hires
        ],
        "risks": list(priced.risks),
    }


def _line(line: Line) -> dict[str, Any]:
    return {
        "part": line.part,
        "group": line.group,
        "line": line.name,
        "cash": money(line.cash),
        "own_hours": number(line.own_hours),
        "supplier": line.supplier,
        "quantity": line.quantity,
        "choice": line.choice,
    }


def _flip(flip: Flip) -> dict[str, Any]:
    return {
        "choice": flip.choice,
        "value": flip.value,
        "alternative": flip.alternative,
        "cash_difference": money(flip.cash),
        "hours_difference": number(flip.hours),
        "hour_values": [money(v) for v in flip.hour_values],
        "sentence": flip.sentence,
        "small": flip.small,
    }


def _frontier(point: FrontierPoint) -> dict[str, Any]:
    end = point.to_value
    return {
        "hour_value": money(point.from_value),
        "to_hour_value": money(end) if math.isfinite(end) else None,
        "cash": money(point.priced.cash),
        "own_hours": number(point.priced.own_hours),
        "choices": point.priced.plan.choices(),
        "change": point.change,
    }


def _quantities(comparison: Comparison) -> list[dict[str, Any]]:
    system = comparison.job.settings.units
    best = comparison.best.priced if comparison.best else None
    shared = best.plan.shares if best else {}  # packs of several quotes are not added up
    bought = [o for o in (best.orders if best else ()) if o.item not in shared]
    orders = {o.item: (number(o.packs), o.per) for o in bought}
    rows = []
    for need in comparison.takeoff.needs:
        packs, per = orders.get(need.item, (None, None))
        rows.append(quantity(need, system) | {"order": packs, "order_unit": per})
    return rows


def quantity(need: Need, system: System) -> dict[str, Any]:
    """One need: ``net`` ends up in the work, ``need`` is net with overage."""
    weight = need.weight
    return {
        "part": need.part,
        "line": need.line,
        "item": need.item,
        "kind": need.kind,
        "step": need.step,
        "bedding": need.bedding,
        "optional": need.optional,
        "net": number(shown(need.net.value, need.net.kind, system)),
        "net_unit": need.net.kind.unit(system).label,
        "need": number(shown(need.order.value, need.order.kind, system)),
        "unit": need.order.kind.unit(system).label,
        "overage": number(need.overage.value),
        "why": need.why,
        "weight": None if weight is None else number(shown(weight.value, weight.kind, system)),
        "weight_unit": None if weight is None else weight.kind.unit(system).label,
    }
