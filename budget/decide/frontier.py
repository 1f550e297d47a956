"""The exact frontier: every plan that is best at some value of an own hour."""

from __future__ import annotations

import itertools
import math

from budget.decide.model.model import Solved
from budget.decide.plan import FrontierPoint
from budget.decide.planner import Planner
from budget.decide.wording import changes

#: Cents an hour that stand for "next to nothing" and for "more than anybody pays".
LEAST_VALUE = 1e-3
MOST_VALUE = 1e6

#: Plans whose totals differ by less than this many cents are not told apart.
ONE_CENT = 1.0

#: Two plans, the one with more own hours first, between which a plan may be missing.
Gap = tuple[Solved, Solved]


def frontier(planner: Planner, hour_value: float) -> tuple[FrontierPoint, ...]:
    """Every plan that is best at some hour value, from most own hours to fewest.

    The least total is a concave, piecewise straight function of the hour value, and each plan
    is a straight line above it. Where the lines of two plans cross, the programme is solved
    again: if nothing lies below the crossing, no plan is missing between the two; if something
    does, it is a plan of the frontier and both gaps are searched in turn. So the list is
    complete, down to differences of a cent, unless a search was stopped: each point says so.
    """
    ends = planner.each((LEAST_VALUE, hour_value, MOST_VALUE), Planner.best)
    found = [s for s in ends if s is not None]
    if len(found) < len(ends):
        return ()
    proved = all(plan.proved for plan in found)
    gaps = list(itertools.pairwise(found))
    while gaps:
        between = planner.each(gaps, _at_crossing)
        closer: list[Gap] = []
        for gap, plan in zip(gaps, between, strict=True):
            if plan is None:
                continue
            proved &= plan.proved
            if _is_between(plan, gap):
                found.append(plan)
                closer += [(gap[0], plan), (plan, gap[1])]
        gaps = closer
    return _points(_envelope(found), proved)


def crossing(first: Solved, second: Solved) -> float | None:
    """The hour value at which two plans cost the same, None if one is never dearer."""
    dearer = second.priced.cash > first.priced.cash
    longer = first.priced.own_hours - second.priced.own_hours > 1e-9
    return _alike_at(first, second) if dearer and longer else None


def _alike_at(first: Solved, second: Solved) -> float:
    """The hour value at which the cash that one saves and the hours that the other does meet."""
    cash = second.priced.cash - first.priced.cash
    return cash / (first.priced.own_hours - second.priced.own_hours)


def _at_crossing(planner: Planner, gap: Gap) -> Solved | None:
    """The best plan where two cost the same, None if one is never dearer."""
    value = crossing(*gap)
    return None if value is None else planner.best(value)


def _is_between(found: Solved, gap: Gap) -> bool:
    """Whether the best plan where two cost the same lies below both."""
    value = _alike_at(*gap)
    return found.priced.total(value) <= gap[0].priced.total(value) - ONE_CENT


def _envelope(plans: list[Solved]) -> list[Solved]:
    """Those of some plans that are best somewhere, by falling hours."""
    order = sorted(plans, key=lambda s: (s.priced.cash, s.priced.own_hours))
    kept: list[Solved] = []
    for plan in order:
        if kept and plan.priced.own_hours >= kept[-1].priced.own_hours - 1e-9:
            continue
        while len(kept) > 1 and _passed_over(kept[-2], kept[-1], plan):
            kept.pop()
        kept.append(plan)
    return kept


def _passed_over(before: Solved, middle: Solved, after: Solved) -> bool:
    """Whether the middle one of three plans is nowhere the best."""
    first, second = crossing(before, middle), crossing(middle, after)
    return first is not None and second is not None and second <= first


def _points(plans: list[Solved], proved: bool) -> tuple[FrontierPoint, ...]:
    edges = [_alike_at(a, b) for a, b in itertools.pairwise(plans)]
    starts, ends = [0.0, *edges], [*edges, math.inf]
    found = []
    before: Solved | None = None
    for plan, start, end in zip(plans, starts, ends, strict=True):
        words = changes(before.priced.plan, plan.priced.plan) if before else ""
        found.append(FrontierPoint(start, end, plan.priced, words, proved))
        before = plan
    return tuple(found)
