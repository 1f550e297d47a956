"""Every trade of cash against own hours: also plans that are best at no single hour value."""

from __future__ import annotations

import itertools
from collections.abc import Callable
from dataclasses import dataclass

from budget.decide.frontier import MOST_VALUE, ONE_CENT
from budget.decide.model import Model, Solved
from budget.decide.plan import FrontierPoint, Priced
from budget.decide.planner import Planner
from budget.decide.situation import Situation
from budget.decide.wording import changes

#: Plans nearer than this share of the whole span of cash are not told apart.
GRAIN = 0.01

#: Plans nearer than this many own hours are not told apart.
SAME_HOURS = 0.05


@dataclass(frozen=True, slots=True)
class Trade:
    """A plan that no other beats in both cash and own hours."""

    priced: Priced
    supported: bool  # it is best at some value of an own hour
    change: str  # against the plan before, in words


@dataclass(frozen=True, slots=True)
class Trades:
    """The trades by falling own hours."""

    plans: tuple[Trade, ...]
    grain: float  # cents of cash within which further plans may lie
    proved: bool  # each was proved


def trades(planner: Planner, points: tuple[FrontierPoint, ...], gaps: int) -> Trades | None:
    """The plans that no plan beats in both cash and own hours, by stepping the cash limit.

    Between two neighbours of the exact frontier the programme is solved for the fewest own
    hours with less cash than the dearer one, and again below what it finds, until it comes to
    the cheaper one. Each limit lies at least ``GRAIN`` of the whole span of cash below the last
    plan, so that plans nearer than that may be left out; all others are there.
    """
    if len(points) < 2:
        return None
    ends = [p.priced for p in points]
    grain = max(ONE_CENT, GRAIN * (ends[-1].cash - ends[0].cash))
    pairs = list(itertools.pairwise(ends))
    work = _stepper(grain, gaps)
    chains = planner.each(pairs, work)
    found = [(p, True) for p in ends]
    found += [(s.priced, False) for chain in chains for s in chain]
    proved = all(s.proved for chain in chains for s in chain)
    return Trades(_told(found), grain, proved)


_Pair = tuple[Priced, Priced]


def _stepper(grain: float, gaps: int) -> Callable[[Planner, _Pair], list[Solved]]:
    def chain(planner: Planner, pair: _Pair) -> list[Solved]:
        cheap, dear = pair
        found: list[Solved] = []
        limit = dear.cash - grain
        while limit > cheap.cash + grain:
            plan = _fewest_hours(planner, cheap.plan.parts, limit, gaps)
            if plan is None or plan.priced.own_hours > cheap.own_hours - SAME_HOURS:
                break
            if plan.priced.own_hours > dear.own_hours + SAME_HOURS:
                found.append(plan)
            limit = min(limit, plan.priced.cash) - grain
        return found

    return chain


def _fewest_hours(
    planner: Planner, parts: frozenset[str], limit: float, gaps: int
) -> Solved | None:
    """The plan of fewest own hours whose cash holds a limit; of equal ones the cheapest."""
    best: Solved | None = None
    for bedding in planner.sound:
        situation = Situation(planner.takeoff, planner.options, bedding, parts)
        solved = Model(situation, most_cash=limit).solve(MOST_VALUE)
        if solved is None or solved.gaps > gaps:
            continue
        if best is None or _by_hours(solved) < _by_hours(best):
            best = solved
    return best


def _by_hours(solved: Solved) -> tuple[float, int, str]:
    priced = solved.priced
    return (round(priced.own_hours, 6), priced.cash, priced.plan.bedding)


def _told(found: list[tuple[Priced, bool]]) -> tuple[Trade, ...]:
    """By rising cash, without plans that another beats; each with what changes."""
    order = sorted(found, key=lambda f: (f[0].cash, f[0].own_hours, not f[1]))
    kept: list[tuple[Priced, bool]] = []
    for priced, supported in order:
        if not kept or priced.own_hours < kept[-1][0].own_hours - 1e-6:
            kept.append((priced, supported))
    result = []
    before: Priced | None = None
    for priced, supported in kept:
        words = changes(before.plan, priced.plan) if before else ""
        result.append(Trade(priced, supported, words))
        before = priced
    return tuple(result)
