"""Price stored plans under many draws of the unknowns: choices fixed, packs worked out anew."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from budget.decide.plan import Comparison, Priced, Scenario
from budget.decide.risk.demand import demands, situation_of
from budget.decide.risk.drawn import Drawn, Sums, drawn_sums
from budget.decide.risk.draws import SEED, written
from budget.decide.risk.findings import findings
from budget.decide.risk.movers import movers
from budget.decide.risk.result import (
    PERCENTILES,
    Outcome,
    Risk,
    percentile,
    percentile_error,
)
from budget.decide.risk.shortage import Losses
from budget.decide.risk.shortfalls import decisions, shortfalls
from budget.decide.risk.unknowns import unknowns
from budget.figures import total
from budget.job import Job
from budget.prices.options import Options
from budget.quantities.takeoff import Takeoff
from budget.units import HOURS, MONEY

#: Draws that keep an answer quick; the 80th percentile is then right to 1.8 points in 95 % of
#: cases, by 1.96 x sqrt(0.8 x 0.2 / draws).
USUAL_DRAWS = 2_000
THOROUGH_DRAWS = 100_000


def risk_of(
    job: Job,
    takeoff: Takeoff,
    options: Options,
    scenarios: Sequence[Scenario],
    best: Scenario | None,
    count: int = USUAL_DRAWS,
    seed: int = SEED,
) -> Risk | None:
    """How sure the answer is; None without a best plan or without anything unsure.

    :param count: how many draws. All plans and all orders meet the same draws.
    """
    built = [s for s in scenarios if s.priced is not None]
    if best is None or best.priced is None:
        return None
    plans = [_sums(s.title, s.priced) for s in built if s.priced is not None]
    here = next(i for i, plan in enumerate(plans) if plan.title == best.title)
    found = unknowns(job, [f for plan in plans for f in (plan.cash, plan.hours)])
    if not found:
        return None
    situation = situation_of(takeoff, options, best.priced)
    asked = demands(situation, best.priced)
    values = written([f for plan in plans for f in (plan.cash, plan.hours)])
    orders = [(d.needed, d.offer.step) for d in asked]
    drawn = drawn_sums(plans, here, orders, found, values, count, seed)
    losses = Losses(job, situation, best.priced)
    decided = decisions(asked, [losses.of(d) for d in asked], drawn.packs, drawn.needed)
    outline = _outline(job, options, built, plans, here, best.priced, drawn)
    return replace(
        outline,
        seed=seed,
        movers=movers(plans[here], found, values, drawn.moments),
        shortfalls=shortfalls(found, decided),
        findings=findings(
            found, dict(drawn.bins), decided, *_rivals(built, best.priced, drawn, options, here),
            drawn.cash[here], outline.confidence, options.hour_value.value,
        ),
        assumed=losses.assumed,
    )  # fmt: skip


def more_draws(comparison: Comparison, count: int = THOROUGH_DRAWS) -> Comparison:
    """The same answer with more draws behind what it says about how sure it is."""
    risk = risk_of(
        comparison.job, comparison.takeoff, comparison.options, comparison.scenarios,
        comparison.best, count,
    )  # fmt: skip
    return replace(comparison, risk=risk)


def _sums(title: str, priced: Priced) -> Sums:
    money = [line.money for line in priced.lines if line.money is not None]
    time = [line.time for line in priced.lines if line.time is not None]
    return Sums(title, total("cash", money, MONEY), total("own hours", time, HOURS))


def _set_aside(scenario: Scenario, best: Priced) -> bool:
    """Whether a plan may not be called best: advised against, or missing other prices."""
    missing = {m.what for m in scenario.priced.missing} if scenario.priced else set()
    return scenario.discouraged or missing != {m.what for m in best.missing}


def _totals(drawn: Drawn, options: Options) -> list[Any]:
    value = options.hour_value.value
    return [c + h * value for c, h in zip(drawn.cash, drawn.hours, strict=True)]


def _rivals(
    built: Sequence[Scenario], best: Priced, drawn: Drawn, options: Options, here: int
) -> tuple[list[tuple[str, Any]], int]:
    """Title and totals of every plan that may be called best, and which of them is."""
    fair = [i for i, s in enumerate(built) if i == here or not _set_aside(s, best)]
    totals = _totals(drawn, options)
    return [(built[i].title, totals[i]) for i in fair], fair.index(here)


def _outline(
    job: Job, options: Options, built: Sequence[Scenario], plans: Sequence[Sums], here: int,
    best: Priced, drawn: Drawn,
) -> Risk:  # fmt: skip
    """What is said about the plans themselves."""
    import numpy as np

    settings = job.settings
    sure = settings.confidence
    totals = _totals(drawn, options)
    outcomes = tuple(
        _outcome(plan, drawn.cash[i], drawn.hours[i], totals[i],
                 None if i == here else totals[here], settings.spending_limit, sure)
        for i, plan in enumerate(plans)
    )  # fmt: skip
    fair = [
        (o, float(np.median(totals[i])))
        for i, (s, o) in enumerate(zip(built, outcomes, strict=True))
        if not _set_aside(s, best)
    ]
    rising = np.sort(drawn.cash[here])
    return Risk(
        draws=drawn.count,
        seed=SEED,
        confidence=sure,
        outcomes=outcomes,
        movers=(),
        safest=min(fair, key=lambda pair: (pair[0].total_at_confidence, pair[0].title))[0].title,
        middle=min(fair, key=lambda pair: (pair[1], pair[0].title))[0].title,
        best=plans[here].title,
        wins=_wins(totals),
        curve=tuple(percentile(rising, share / 100) for share in range(101)),
    )


def _wins(totals: Sequence[Any]) -> tuple[tuple[float, ...], ...]:
    """The chance that each plan's total is below each other's."""
    return tuple(tuple(float((mine < other).mean()) for other in totals) for mine in totals)


def _outcome(
    plan: Sums, cash: Any, hours: Any, totals: Any, best_totals: Any | None, limit: float | None,
    sure: float,
) -> Outcome:  # fmt: skip
    import numpy as np

    money, time = np.sort(cash), np.sort(hours)
    shares = [p / 100 for p in PERCENTILES]
    safe = percentile(money, sure)
    return Outcome(
        title=plan.title,
        cash=tuple(percentile(money, p) for p in shares),
        cash_errors=tuple(percentile_error(money, p) for p in shares),
        hours=tuple(percentile(time, p) for p in shares),
        hours_errors=tuple(percentile_error(time, p) for p in shares),
        mean_cash=float(money.mean()),
        mean_hours=float(time.mean()),
        safe=safe,
        safe_error=percentile_error(money, sure),
        contingency=max(0.0, safe - plan.cash.value),
        over_limit=None if limit is None else float(np.mean(cash > limit)),
        beaten=None if best_totals is None else float(np.mean(best_totals < totals)),
        total_at_confidence=percentile(np.sort(totals), sure),
    )
