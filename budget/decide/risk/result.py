"""What is said about how sure an answer is."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

PERCENTILES = (10, 50, 80, 90)


@dataclass(frozen=True, slots=True)
class Outcome:
    """How one plan may come out. Money in cents. ``errors`` are the draws' standard errors."""

    title: str
    cash: tuple[float, ...]  # at each of PERCENTILES
    cash_errors: tuple[float, ...]
    hours: tuple[float, ...]
    hours_errors: tuple[float, ...]
    mean_cash: float
    mean_hours: float
    safe: float  # cash that is enough with the confidence asked for
    contingency: float  # that sum less the plan's cash; none below zero
    over_limit: float | None  # chance that cash passes the spending limit
    beaten: float | None  # chance that the best plan's total is lower
    total_at_confidence: float  # cash and hours together, cents


@dataclass(frozen=True, slots=True)
class Mover:
    """One unknown and what it does to the best plan."""

    name: str
    kind: str
    cash_share: float  # of the spread of the cash
    hours_share: float  # of the spread of the own hours
    cash_low: float  # cents, with this alone at its low end
    cash_high: float
    hours_low: float
    hours_high: float


@dataclass(frozen=True, slots=True)
class Risk:
    """How sure the answer is."""

    draws: int
    seed: int
    confidence: float  # ratio
    outcomes: tuple[Outcome, ...]  # of every plan that could be built, as the scenarios stand
    movers: tuple[Mover, ...]  # of the best plan, what moves its cash most first
    safest: str  # the plan of least total at the confidence
    best: str

    def of(self, title: str) -> Outcome:
        """One plan's outcome by its title; ``KeyError`` if there is none."""
        for outcome in self.outcomes:
            if outcome.title == title:
                return outcome
        raise KeyError(title)


def percentile(sorted_draws: Any, share: float) -> float:
    """The smallest draw that at least a share of all draws do not pass.

    >>> percentile([2, 3, 4, 5, 6], 0.8), percentile([2, 3, 4, 5, 6], 0.5)
    (5.0, 4.0)
    """
    import math

    rank = math.ceil(share * len(sorted_draws) - 1e-9)
    return float(sorted_draws[max(0, rank - 1)])


def percentile_error(sorted_draws: Any, share: float) -> float:
    """The standard error of a percentile, from the draws one binomial step to each side."""
    count = len(sorted_draws)
    step = (share * (1 - share) / count) ** 0.5
    ends = (min(1.0, share + step), max(0.0, share - step))
    return (percentile(sorted_draws, ends[0]) - percentile(sorted_draws, ends[1])) / 2
