"""How sure the answer is, as JSON: money in major units, chances and shares as ratios."""

from __future__ import annotations

from typing import Any

from budget.decide.risk.result import (
    PERCENTILES,
    Accuracy,
    Finding,
    Mover,
    Outcome,
    Risk,
    Shortfall,
)
from budget.report.documents.parts import money

_KEYS = [f"p{p}" for p in PERCENTILES]


def as_json(risk: Risk | None) -> dict[str, Any] | None:
    """The whole of it; None where nothing is unsure."""
    if risk is None:
        return None
    return {
        "draws": risk.draws,
        "seed": risk.seed,
        "confidence": risk.confidence,
        "best": risk.best,
        "safest": risk.safest,
        "middle": risk.middle,
        "scenarios": [_outcome(outcome) for outcome in risk.outcomes],
        "wins": [[round(share, 6) for share in row] for row in risk.wins],
        "safe_with_days": money(risk.with_days),
        "over_limit_with_days": risk.over_with_days,
        "curve": [money(cash) for cash in risk.curve],
        "accuracy": _accuracy(risk.accuracy),
        "movers": [_mover(mover) for mover in risk.movers],
        "running_short": [shortfall(short) for short in risk.shortfalls],
        "findings": [_finding(found) for found in risk.findings],
    }


def _outcome(outcome: Outcome) -> dict[str, Any]:
    return {
        "title": outcome.title,
        "cash": dict(zip(_KEYS, map(money, outcome.cash), strict=True)),
        "cash_errors": dict(zip(_KEYS, map(money, outcome.cash_errors), strict=True)),
        "hours": dict(zip(_KEYS, (round(h, 6) for h in outcome.hours), strict=True)),
        "hours_errors": dict(zip(_KEYS, (round(h, 6) for h in outcome.hours_errors), strict=True)),
        "mean_cash": money(outcome.mean_cash),
        "mean_hours": round(outcome.mean_hours, 6),
        "safe": money(outcome.safe),
        "safe_error": money(outcome.safe_error),
        "contingency": money(outcome.contingency),
        "over_limit": outcome.over_limit,
        "best_beats_it": outcome.beaten,
        "total_at_confidence": money(outcome.total_at_confidence),
    }


def _mover(mover: Mover) -> dict[str, Any]:
    return {
        "name": mover.name,
        "kind": mover.kind,
        "cash_share": round(mover.cash_share, 6),
        "hours_share": round(mover.hours_share, 6),
        "cash_share_error": round(mover.cash_error, 6),
        "hours_share_error": round(mover.hours_error, 6),
        "cash": {"low": money(mover.cash_low), "high": money(mover.cash_high)},
        "hours": {"low": round(mover.hours_low, 6), "high": round(mover.hours_high, 6)},
    }


def shortfall(short: Shortfall) -> dict[str, Any]:
    """One order against the one that costs least on average."""
    return {
        "item": short.item,
        "supplier": short.supplier,
        "per": short.per,
        "ordered": round(short.ordered, 6),
        "without_extra": round(short.bare, 6),
        "spares_to_keep": round(short.spares, 6),
        "needed": dict(zip(_KEYS, (round(n, 6) for n in short.needed), strict=True)),
        "chance_short": short.chance,
        "chance_error": round(short.chance_error, 6),
        "cheapest": round(short.best, 6),
        "cheapest_chance_short": short.best_chance,
        "saves": money(short.saves),
        "one_short": [{"what": what, "cost": money(cost)} for what, cost in short.one_short],
        "one_over": money(short.one_over),
        "bring_back": money(short.bring_back),
        "again": short.again,
        "note": short.note,
    }


def _finding(found: Finding) -> dict[str, Any]:
    return {
        "name": found.name,
        "kind": found.kind,
        "how": found.how,
        "worth": money(found.worth),
        "by_order": money(found.order),
        "by_plan": money(found.plan),
        "instead": found.instead,
        "less_to_set_aside": money(found.set_aside),
        "effort": money(found.effort),
    }


def _accuracy(found: Accuracy) -> dict[str, Any]:
    return {
        "firm_share": round(found.firm, 6),
        "class": found.level,
        "below": round(found.low, 6),
        "above": round(found.high, 6),
        "published_below": list(found.published_low),
        "published_above": list(found.published_high),
        "verdict": found.verdict,
        "source": found.source,
    }
