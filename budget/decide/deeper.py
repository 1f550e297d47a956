"""What the default comparison leaves to ``--thorough``: margins, bids like for like, all trades."""

from __future__ import annotations

from dataclasses import replace

from budget.decide.brief import plan_briefly
from budget.decide.frontier import frontier
from budget.decide.model.model import Solved
from budget.decide.outcome import Comparison, Deeper
from budget.decide.parts import leave_out, worths
from budget.decide.planner import Planner
from budget.decide.risk.simulate import THOROUGH_DRAWS, risk_of
from budget.decide.thorough.alike import Alike, alike, spreads
from budget.decide.thorough.growing import Laid
from budget.decide.thorough.margins import margins
from budget.decide.thorough.pareto import trades
from budget.job import Job


def deepen(comparison: Comparison) -> Comparison:
    """The same comparison with its margins, bids like for like and every trade."""
    best = comparison.best
    if best is None or best.priced is None:
        return comparison
    planner, solved = _planner(comparison), Solved(best.priced, best.proved, best.gap)
    value = comparison.options.hour_value.value
    bids = alike(comparison.job, planner, solved)
    points = comparison.frontier or frontier(planner, value)
    laid = Laid(comparison.takeoff, comparison.options)
    found = Deeper(
        margins=margins(comparison.job, best.priced.plan, laid),
        bids=bids,
        spreads=spreads(bids, value),
        trades=trades(planner, points, solved.gaps),
    )
    return replace(comparison, deeper=found)


def more_draws(comparison: Comparison, count: int = THOROUGH_DRAWS) -> Comparison:
    """The same answer with more draws behind what it says about how sure it is."""
    risk = risk_of(
        comparison.job, comparison.takeoff, comparison.options, comparison.scenarios,
        comparison.best, count,
        beyond=comparison.calendar.beyond if comparison.calendar else (),
    )  # fmt: skip
    return replace(comparison, risk=risk)


def bids_alike(job: Job) -> tuple[Comparison, tuple[Alike, ...]]:
    """The best plan of a job, and its bids like for like."""
    comparison = plan_briefly(job, every=False)
    best = comparison.best
    if best is None or best.priced is None:
        return comparison, ()
    solved = Solved(best.priced, best.proved, best.gap)
    return comparison, alike(job, _planner(comparison), solved)


def _planner(comparison: Comparison) -> Planner:
    planner = Planner(comparison.takeoff, comparison.options)
    leave_out(planner, worths(comparison.job), comparison.options.hour_value.value)
    return planner
