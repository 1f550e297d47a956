"""Margins, bids like for like, every trade and the fit to the limit, as JSON."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any

from budget.decide.outcome import Comparison, Deeper
from budget.decide.plan import Fit
from budget.report.documents.parts import money, number
from budget.wording import listed

if TYPE_CHECKING:
    from budget.decide.thorough.alike import Alike
    from budget.decide.thorough.margins import Margin
    from budget.decide.thorough.pareto import Trades


def as_json(found: Deeper | None) -> dict[str, Any] | None:
    """What ``--thorough`` adds; None without it."""
    if found is None:
        return None
    return {
        "margins": [_margin(m) for m in found.margins],
        "bids": [bid(b) for b in found.bids],
        "spreads": [
            {"steps": list(s.steps), "least": s.least, "most": s.most, "apart": money(s.apart)}
            for s in found.spreads
        ],
        "trades": None if found.trades is None else _trades(found.trades),
    }


def _margin(margin: Margin) -> dict[str, Any]:
    return {
        "what": margin.what,
        "subject": margin.subject,
        "unit": margin.unit,
        "smooth": money(margin.smooth),
        "own_hours": number(margin.hours),
        "next": money(margin.next_cash),
        "span": margin.span,
        "jumps": [
            {
                "line": j.line, "before": j.before, "then": j.then, "after": number(j.after),
                "cash": money(j.cash),
            }
            for j in margin.jumps
        ],
        "holds_to": None if margin.ends is None else number(margin.ends),
        "lump_sums": list(margin.lump),
    }  # fmt: skip


def bid(found: Alike) -> dict[str, Any]:
    """One bid like for like."""
    return {
        "bid": found.bid,
        "firm": found.firm,
        "covers": list(found.covers),
        "leaves": list(found.leaves),
        "price": money(found.price),
        "supervising": number(found.supervising),
        "fills": [
            {
                "gap": f.gap, "how": listed(f.how), "cash": money(f.cash),
                "own_hours": number(f.hours),
            }
            for f in found.fills
        ],
        "cash": money(found.cash),
        "own_hours": number(found.hours),
        "over_best": money(found.over),
        "risks": [*found.risks, *([found.hourly] if found.hourly else [])],
        "risks_left": [
            {
                "risk": r.item, "whose": r.who, "chance": number(r.chance),
                "cost": money(r.cost), "on_average": money(r.money), "guess": r.guess,
            }
            for r in found.left
        ],
        "risk_on_average": money(found.risk),
        "missing": found.missing,
        "in_best": found.chosen,
        "proved": found.proved,
        "gap": number(found.gap) if math.isfinite(found.gap) else None,
    }  # fmt: skip


def bid_document(comparison: Comparison, found: Alike) -> dict[str, Any]:
    """One bid as an object of its own."""
    currency = comparison.job.settings.currency
    return {"schema": "outdoor-room-budget/bid/1", "currency": currency} | bid(found)


def _trades(found: Trades) -> dict[str, Any]:
    return {
        "grain": money(found.grain),
        "proved": found.proved,
        "plans": [
            {
                "cash": money(t.priced.cash),
                "own_hours": number(t.priced.own_hours),
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
        "limit": money(found.limit),
        "possible": found.priced is not None,
        "left_out": list(found.left_out),
        "cash": None if found.priced is None else money(found.priced.cash),
        "own_hours": None if found.priced is None else number(found.priced.own_hours),
        "choices": {} if found.priced is None else found.priced.plan.choices(),
        "short": money(found.more) if found.priced is None else None,
        "add_next": [
            {
                "part": a.part, "more": money(a.more),
                "worth": None if a.worth is None else money(a.worth),
            }
            for a in found.adds
        ],
        "change": found.change,
        "sentence": found.sentence,
    }  # fmt: skip
