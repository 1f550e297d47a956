"""Price stored plans under many draws of the unknowns: choices fixed, packs worked out anew."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

from budget.decide.plan import Comparison, Priced, Scenario
from budget.decide.risk.draws import SEED, changed, draws, written
from budget.decide.risk.result import (
    PERCENTILES,
    Mover,
    Outcome,
    Risk,
    percentile,
    percentile_error,
)
from budget.decide.risk.unknowns import Unknown, unknowns
from budget.figures import Figure, recalculate_all, total
from budget.job import Job
from budget.units import HOURS, MONEY

#: Draws that keep an answer quick; the 80th percentile is then right to 1.8 points in 95 % of
#: cases, by 1.96 x sqrt(0.8 x 0.2 / draws).
USUAL_DRAWS = 2_000
THOROUGH_DRAWS = 100_000
CONFIDENCE = 0.8


@dataclass(frozen=True, slots=True)
class _Sums:
    """A plan's cash and own hours as two figures."""

    title: str
    cash: Figure
    hours: Figure


def risk_of(
    job: Job,
    scenarios: Sequence[Scenario],
    best: Scenario | None,
    hour_value: float,
    count: int = USUAL_DRAWS,
    seed: int = SEED,
) -> Risk | None:
    """How sure the answer is; None without a best plan or without anything unsure.

    :param hour_value: cents an own hour, which joins cash and hours.
    :param count: how many draws. All plans meet the same draws.
    """
    built = [s for s in scenarios if s.priced is not None]
    if best is None or best.priced is None:
        return None
    plans = [_sums(s.title, s.priced) for s in built if s.priced is not None]
    figures = [f for plan in plans for f in (plan.cash, plan.hours)]
    found = unknowns(job, figures)
    if not found:
        return None
    values = written(figures)
    drawn, cash, hours = _drawn(plans, found, values, count, seed)
    here = next(i for i, plan in enumerate(plans) if plan.title == best.title)
    limit = job.settings.spending_limit
    totals = [c + h * hour_value for c, h in zip(cash, hours, strict=True)]
    outcomes = tuple(
        _outcome(plan, cash[i], hours[i], totals[i], None if i == here else totals[here], limit)
        for i, plan in enumerate(plans)
    )
    ranked = _movers(plans[here], found, values, drawn, cash[here], hours[here])
    fair = [o for s, o in zip(built, outcomes, strict=True) if not _set_aside(s, best.priced)]
    safest = min(fair, key=lambda o: (o.total_at_confidence, o.title))
    return Risk(count, seed, CONFIDENCE, outcomes, ranked, safest.title, best.title)


def more_draws(comparison: Comparison, count: int = THOROUGH_DRAWS) -> Comparison:
    """The same answer with more draws behind what it says about how sure it is."""
    risk = risk_of(
        comparison.job, comparison.scenarios, comparison.best,
        comparison.options.hour_value.value, count,
    )  # fmt: skip
    return replace(comparison, risk=risk)


def _set_aside(scenario: Scenario, best: Priced) -> bool:
    """Whether a plan may not be called best: advised against, or missing other prices."""
    missing = {m.what for m in scenario.priced.missing} if scenario.priced else set()
    return scenario.discouraged or missing != {m.what for m in best.missing}


def _sums(title: str, priced: Priced) -> _Sums:
    money = [line.money for line in priced.lines if line.money is not None]
    time = [line.time for line in priced.lines if line.time is not None]
    return _Sums(title, total("cash", money, MONEY), total("own hours", time, HOURS))


def _drawn(
    plans: Sequence[_Sums],
    found: Sequence[Unknown],
    values: dict[str, float],
    count: int,
    seed: int,
) -> tuple[dict[str, Any], list[Any], list[Any]]:
    """The factors drawn, and the cash and hours of every plan under them."""
    import numpy as np

    factors: dict[str, list[Any]] = {u.name: [] for u in found}
    sums: list[tuple[list[Any], list[Any]]] = [([], []) for _ in plans]
    for part in draws(found, count, seed):
        inputs = changed(found, part, values)
        size = len(part[found[0].name])
        for name, drawn in part.items():
            factors[name].append(drawn)
        results = recalculate_all([f for plan in plans for f in (plan.cash, plan.hours)], inputs)
        for (cash, hours), money, time in zip(sums, results[::2], results[1::2], strict=True):
            cash.append(np.broadcast_to(money, size))
            hours.append(np.broadcast_to(time, size))
    joined = {name: np.concatenate(parts) for name, parts in factors.items()}
    return (
        joined,
        [np.concatenate(cash).astype(float) for cash, _ in sums],
        [np.concatenate(hours).astype(float) for _, hours in sums],
    )


def _outcome(
    plan: _Sums, cash: Any, hours: Any, totals: Any, best_totals: Any | None, limit: float | None
) -> Outcome:
    import numpy as np

    money, time = np.sort(cash), np.sort(hours)
    shares = [p / 100 for p in PERCENTILES]
    safe = percentile(money, CONFIDENCE)
    return Outcome(
        title=plan.title,
        cash=tuple(percentile(money, p) for p in shares),
        cash_errors=tuple(percentile_error(money, p) for p in shares),
        hours=tuple(percentile(time, p) for p in shares),
        hours_errors=tuple(percentile_error(time, p) for p in shares),
        mean_cash=float(money.mean()),
        mean_hours=float(time.mean()),
        safe=safe,
        contingency=max(0.0, safe - plan.cash.value),
        over_limit=None if limit is None else float(np.mean(cash > limit)),
        beaten=None if best_totals is None else float(np.mean(best_totals < totals)),
        total_at_confidence=percentile(np.sort(totals), CONFIDENCE),
    )


def _movers(
    plan: _Sums,
    found: Sequence[Unknown],
    values: dict[str, float],
    drawn: dict[str, Any],
    cash: Any,
    hours: Any,
) -> tuple[Mover, ...]:
    """Each unknown's part in the spread, and what it does alone from its low to its high."""
    import numpy as np

    alone = {u.name: np.ones(2 * len(found)) for u in found}
    for i, u in enumerate(found):
        alone[u.name][2 * i : 2 * i + 2] = (u.factor.low, u.factor.high)
    inputs = changed(found, alone, values)
    ends = [
        np.broadcast_to(result, 2 * len(found))
        for result in recalculate_all((plan.cash, plan.hours), inputs)
    ]
    shares = [_shares(found, drawn, out) for out in (cash, hours)]
    movers = [
        Mover(
            name=u.name, kind=u.kind, cash_share=shares[0][i], hours_share=shares[1][i],
            cash_low=float(ends[0][2 * i]), cash_high=float(ends[0][2 * i + 1]),
            hours_low=float(ends[1][2 * i]), hours_high=float(ends[1][2 * i + 1]),
        )
        for i, u in enumerate(found)
    ]  # fmt: skip
    moving = [m for m in movers if m.cash_low != m.cash_high or m.hours_low != m.hours_high]
    return tuple(sorted(moving, key=lambda m: (-m.cash_share, -m.hours_share, m.name)))


def _shares(found: Sequence[Unknown], drawn: dict[str, Any], out: Any) -> list[float]:
    """Each unknown's share of a result's variance, by a straight-line fit of all at once.

    A share is the fitted slope times the covariance with the result, over the variance. What
    whole packs and trips add beyond straight lines belongs to no unknown, so that the shares
    add up to one or less. What does not move the result has none, though it moves with others.
    """
    import numpy as np

    away = out - out.mean()
    variance = float(np.mean(away * away))
    if not variance:
        return [0.0] * len(found)
    table = np.column_stack([drawn[u.name] - drawn[u.name].mean() for u in found])
    slopes = np.linalg.lstsq(table, away, rcond=None)[0]
    shares = slopes * (table * away[:, None]).mean(axis=0) / variance
    return [max(0.0, float(share)) for share in shares]
