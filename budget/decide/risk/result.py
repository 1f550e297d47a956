"""What is said about how sure an answer is."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

from budget.job import Assumption

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
    safe_error: float  # the standard error that the draws leave in it
    contingency: float  # that sum less the plan's cash; none below zero
    over_limit: float | None  # chance that cash passes the spending limit
    beaten: float | None  # chance that the best plan's total is lower
    total_at_confidence: float  # cash and hours together, cents
    planned: float  # the plan's cash as it stands, cents
    curve: tuple[float, ...]  # cash at 0, 1, ... 100 per cent of all cases


@dataclass(frozen=True, slots=True)
class Mover:
    """One unknown and what it does to the best plan."""

    name: str
    kind: str
    cash_share: float  # of the variance of the cash; those of all movers add up to 1
    hours_share: float  # of that of the own hours
    cash_error: float  # the standard error that the draws leave in each share
    hours_error: float
    cash_low: float  # cents, with this alone at its low end
    cash_high: float
    hours_low: float
    hours_high: float


@dataclass(frozen=True, slots=True)
class Shortfall:
    """How much of one item to order: what the plan orders against what costs least on average."""

    item: str
    supplier: str
    per: str  # the seller's word for a pack
    ordered: float  # packs, as the plan has it by the rule of thumb
    bare: float  # packs that it takes without any extra
    spares: float  # packs of the plan's order that are there only to be kept for later repair
    needed: tuple[float, ...]  # packs that it may take, at each of PERCENTILES
    chance: float  # that the plan's order is too small
    chance_error: float  # the standard error that the draws leave in it
    best: float  # packs of the order that costs least on average
    best_chance: float  # that this order is too small
    saves: float  # cents on average that it saves against the plan's order
    one_short: tuple[tuple[str, float], ...]  # what running short costs beside the packs: cents
    one_over: float  # cents that one pack too many costs, after what comes back for it
    bring_back: float  # cents that taking any back costs once
    again: str  # whether it can be had again: more of the same, another lot, no more
    note: str  # what is not counted

    @property
    def short(self) -> float:
        """What running short once costs beside the packs [cents]."""
        return sum(cents for _, cents in self.one_short)

    def extra(self, packs: float) -> float | None:
        """An order as a share beyond what ends in the work; None if nothing is needed."""
        return packs / self.bare - 1 if self.bare > 0 else None


@dataclass(frozen=True, slots=True)
class Finding:
    """What it is worth to know one unknown before the last order and the last choice."""

    name: str
    kind: str
    how: str  # how to find it out
    order: float  # cents saved on average by ordering to it
    plan: float  # cents saved on average by choosing the plan to it
    instead: str  # the plan that it may turn to; blank: none
    set_aside: float  # cents less to set aside once it is known
    effort: float  # cents that finding it out takes, at the value of an own hour

    @property
    def worth(self) -> float:
        """Cents saved on average, in all."""
        return self.order + self.plan


@dataclass(frozen=True, slots=True)
class Accuracy:
    """The spread of 8 in 10 cases against what is published for estimates as far defined."""

    firm: float  # share of the cash at firm prices: taken for how far the job is defined
    level: int  # the published class, 5 the vaguest and 1 the best defined
    low: float  # how far the middle of 8 in 10 cases reaches below its middle: ratio
    high: float  # and above it
    published_low: tuple[float, float]  # the best and the worst that is published
    published_high: tuple[float, float]
    source: str

    @property
    def verdict(self) -> str:
        """Whether the upper end is ``narrower``, ``within`` or ``wider`` than published."""
        near, far = self.published_high
        if self.high < near:
            return "narrower"
        return "within" if self.high <= far else "wider"


@dataclass(frozen=True, slots=True)
class Risk:
    """How sure the answer is."""

    draws: int
    seed: int
    confidence: float  # ratio
    outcomes: tuple[Outcome, ...]  # of every plan that could be built, as the scenarios stand
    movers: tuple[Mover, ...]  # of the best plan, what moves its cash most first
    safest: str  # the plan of least total at the confidence
    middle: str  # the plan of least total in the middle of all cases
    best: str
    wins: tuple[tuple[float, ...], ...]  # chance that the row's total is below the column's
    curve: tuple[float, ...]  # the best plan's cash at 0, 1, ... 100 per cent of all cases
    accuracy: Accuracy
    shortfalls: tuple[Shortfall, ...] = ()  # of the best plan, what saves most first
    findings: tuple[Finding, ...] = ()  # of the best plan, what is worth most first
    assumed: tuple[Assumption, ...] = ()
    with_days: float = 0.0  # cents enough with the confidence, hire days and lost days counted
    over_with_days: float | None = None  # chance that the best plan then passes the limit

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
    return float(sorted_draws[rank_of(len(sorted_draws), share)])


def rank_of(count: int, share: float) -> int:
    """The place in rising order of the smallest draw that a share of so many do not pass.

    >>> rank_of(5, 0.8), rank_of(5, 0.0)
    (3, 0)
    """
    return max(0, math.ceil(share * count - 1e-9) - 1)


def percentile_error(sorted_draws: Any, share: float) -> float:
    """The standard error of a percentile, from the draws one binomial step to each side."""
    count = len(sorted_draws)
    step = (share * (1 - share) / count) ** 0.5
    ends = (min(1.0, share + step), max(0.0, share - step))
    return (percentile(sorted_draws, ends[0]) - percentile(sorted_draws, ends[1])) / 2
