"""How sure the answer is: in plain words for the terminal, and as JSON."""

from __future__ import annotations

from typing import Any

from budget.decide.plan import Comparison
from budget.decide.risk.result import PERCENTILES, Mover, Outcome, Risk
from budget.report import words
from budget.units import round_half_up


def in_words(comparison: Comparison) -> tuple[str, ...]:
    """Likely sum, safe sum, chance to pass the limit, biggest unknown; empty if all is sure."""
    risk = comparison.risk
    if risk is None:
        return ()
    currency = comparison.job.settings.currency
    best = risk.of(risk.best)
    likely = words.money_round(best.cash[PERCENTILES.index(50)], currency)
    safe = words.money_round(best.safe, currency)
    found = [f"likely {likely}", f"{safe} is enough in {_of_ten(risk)}"]
    if best.over_limit is not None and best.over_limit > 0:
        chance = max(1, round(best.over_limit * 100))
        found.append(f"{chance} % chance to pass your limit")
    if risk.movers:
        found.append(f"biggest unknown: {risk.movers[0].name}")
    if risk.safest != risk.best:
        found.append(f"on the safe side “{risk.safest}” comes out best")
    return tuple(found)


def _of_ten(risk: Risk) -> str:
    return f"{risk.confidence * 10:g} of 10 cases"


def as_json(risk: Risk | None) -> dict[str, Any] | None:
    """The whole of it; money in major units, chances and shares as fractions of one."""
    if risk is None:
        return None
    return {
        "draws": risk.draws,
        "seed": risk.seed,
        "confidence": risk.confidence,
        "best": risk.best,
        "safest": risk.safest,
        "scenarios": [_outcome(outcome) for outcome in risk.outcomes],
        "movers": [_mover(mover) for mover in risk.movers],
    }


def _money(cents: float) -> float:
    return round_half_up(cents) / 100


def _outcome(outcome: Outcome) -> dict[str, Any]:
    keys = [f"p{p}" for p in PERCENTILES]
    return {
        "title": outcome.title,
        "cash": dict(zip(keys, map(_money, outcome.cash), strict=True)),
        "cash_errors": dict(zip(keys, map(_money, outcome.cash_errors), strict=True)),
        "hours": dict(zip(keys, (round(h, 6) for h in outcome.hours), strict=True)),
        "hours_errors": dict(zip(keys, (round(h, 6) for h in outcome.hours_errors), strict=True)),
        "mean_cash": _money(outcome.mean_cash),
        "mean_hours": round(outcome.mean_hours, 6),
        "safe": _money(outcome.safe),
        "contingency": _money(outcome.contingency),
        "over_limit": outcome.over_limit,
        "best_beats_it": outcome.beaten,
        "total_at_confidence": _money(outcome.total_at_confidence),
    }


def _mover(mover: Mover) -> dict[str, Any]:
    return {
        "name": mover.name,
        "kind": mover.kind,
        "cash_share": round(mover.cash_share, 6),
        "hours_share": round(mover.hours_share, 6),
        "cash": {"low": _money(mover.cash_low), "high": _money(mover.cash_high)},
        "hours": {"low": round(mover.hours_low, 6), "high": round(mover.hours_high, 6)},
    }
