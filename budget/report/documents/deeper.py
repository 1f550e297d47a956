"""Margins, bids like for like, every trade and the fit to the limit, as JSON."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any

from budget.decide.outcome import Comparison, Deeper
from budget.decide.plan import Fit
from budget.units import round_half_up
from budget.wording import listed

if TYPE_CHECKING:
    from budget.decide.thorough.alike import Alike
    from budget.decide.thorough.margins import Margin
    from budget.decide.thorough.pareto import Trades


def _money(cents: float) -> float:
    return round_half_up(cents) / 100


def _number(value: float) -> float:
    return round(value, 6)


def as_json(found: Deeper | None) -> dict[str, Any] | None:
    """What ``--thorough`` adds; None without it."""
    if found is None:
        return None
    return {
        "margins": [_margin(m) for m in found.margins],
        "bids": [bid(b) for b in found.bids],
        "spreads": [
            {"steps": list(s.steps), "least": s.least, "most": s.most, "apart": _money(s.apart)}
            for s in found.spreads
        ],
        "trades": None if found.trades is None else _trades(found.trades),
    }


def _margin(margin: Margin) -> dict[str, Any]:
    return {
        "what": margin.what,
        "subject": margin.subject,
        "unit": margin.unit,
        "smooth": _money(margin.smooth),
        "own_hours": _number(margin.hours),
        "next": _money(margin.next_cash),
        "span": margin.span,
        "jumps": [
            {
                "line": j.line, "before": j.before, "then": j.then, "after": _number(j.after),
                "cash": _money(j.cash),
            }
            for j in margin.jumps
        ],
        "holds_to": None if margin.ends is None else _number(margin.ends),
        "lump_sums": list(margin.lump),
    }  # fmt: skip


def bid(found: Alike) -> dict[str, Any]:
    """One bid like for like."""
    return {
        "bid": found.bid,
        "firm": found.firm,
        "covers": list(found.covers),
        "leaves": list(found.leaves),
        "price": _money(found.price),
        "supervising": _number(found.supervising),
        "fills": [
            {
                "gap": f.gap, "how": listed(f.how), "cash": _money(f.cash),
                "own_hours": _number(f.hours),
            }
            for f in found.fills
        ],
        "cash": _money(found.cash),
        "own_hours": _number(found.hours),
        "over_best": _money(found.over),
        "risks": [*found.risks, *([found.hourly] if found.hourly else [])],
        "risks_left": [
            {
                "risk": r.item, "whose": r.who, "chance": _number(r.chance),
                "cost": _money(r.cost), "on_average": _money(r.money), "guess": r.guess,
            }
            for r in found.left
        ],
        "risk_on_average": _money(found.risk),
        "missing": found.missing,
        "in_best": found.chosen,
        "proved": found.proved,
        "gap": _number(found.gap) if math.isfinite(found.gap) else None,
    }  # fmt: skip


def bid_document(comparison: Comparison, found: Alike) -> dict[str, Any]:
    """One bid as an object of its own."""
    currency = comparison.job.settings.currency
    return {"schema": "outdoor-room-budget/bid/1", "currency": currency} | bid(found)


def _trades(found: Trades) -> dict[str, Any]:
    return {
        "grain": _money(found.grain),
        "proved": found.proved,
        "plans": [
            {
                "cash": _money(t.priced.cash),
                "own_hours": _number(t.priced.own_hours),
                "best_at_some_hour_value": t.supported,
                "choices": t.priced.plan.choices(),
                "change": t.change,
            }
            for t in found.plans
        ],
    }


def fit(found: Fit | None) -> dict[str, Any] | None:
    """What can be had within the spending limit; None where the best plan holds it."""
    if found is None:
        return None
    return {
        "limit": _money(found.limit),
        "possible": found.priced is not None,
        "left_out": list(found.left_out),
        "cash": None if found.priced is None else _money(found.priced.cash),
        "own_hours": None if found.priced is None else _number(found.priced.own_hours),
        "choices": {} if found.priced is None else found.priced.plan.choices(),
        "short": _money(found.more) if found.priced is None else None,
        "add_next": [
            {
                "part": a.part, "more": _money(a.more),
                "worth": None if a.worth is None else _money(a.worth),
            }
            for a in found.adds
        ],
        "change": found.change,
        "sentence": found.sentence,
    }  # fmt: skip
