"""Every trade of cash against own hours: also plans that are best at no single hour value."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator
from dataclasses import dataclass, field

from budget.decide.frontier import MOST_VALUE, ONE_CENT
from budget.decide.model.model import Model
from budget.decide.plan import FrontierPoint, Priced
from budget.decide.planner import ROUNDING, Planner
from budget.decide.programme.search import NothingFoundError
from budget.decide.terms.situation import Situation
from budget.decide.wording import changes

#: At first plans nearer than this share of the whole span of cash are not told apart.
GRAIN = 0.01

#: Up to so many trades at that grain, all between them are looked for too.
FEW = 25

#: Steps for that between all neighbours of the frontier at most.
MOST_STEPS = 150

#: A limit of cash that holds nothing back [cents].
HUGE = 1e12

#: Own hours that differ by less are no trade.
NO_HOURS = 1e-6


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
    grain: float  # a plan not shown costs at most so much less [cents] than one of no more hours
    proved: bool  # no search for them was stopped


def trades(planner: Planner, points: tuple[FrontierPoint, ...], gaps: int) -> Trades | None:
    """The plans that no plan beats in both cash and own hours, by stepping the cash limit.

    Between two neighbours of the exact frontier the programme is solved for the fewest own
    hours with less cash than the dearer one, and again below what it finds, until it comes to
    the cheaper one. Each limit lies ``grain`` below the last plan. A plan that is passed over
    could have been found with that plan, which therefore takes no more hours than it, and at
    most ``grain`` more cash. Where there are few, the grain is a cent: then all are there, but
    for those that pay more than ``MOST_VALUE`` for the last hour or differ by the cents in which
    lines are rounded.
    """
    if len(points) < 2:
        return None
    ends = [p.priced for p in points]
    pairs = list(itertools.pairwise(ends))
    grain = max(ONE_CENT, GRAIN * (ends[-1].cash - ends[0].cash))
    steps = _Steps(gaps)
    chains = planner.each(pairs, lambda one, pair: steps.chain(one, pair, grain, itertools.count()))
    if sum(len(chain.found) for chain in chains) <= FEW:
        left = iter(range(MOST_STEPS))
        fine = planner.each(pairs, lambda one, pair: steps.chain(one, pair, ONE_CENT, left))
        if all(chain.ended for chain in fine):
            grain, chains = 0.0, fine
    found = [(p, True) for p in ends]
    found += [(priced, False) for chain in chains for priced in chain.found]
    return Trades(_told(found), grain, all(chain.proved for chain in chains))


_Pair = tuple[Priced, Priced]


@dataclass(slots=True)
class _Chain:
    """The plans between two neighbours of the frontier."""

    found: list[Priced] = field(default_factory=list)
    proved: bool = True  # no search was stopped
    ended: bool = False  # it came to the cheaper neighbour


class _Steps:
    """Searches for the fewest hours under a cash limit; models are kept from step to step."""

    def __init__(self, gaps: int) -> None:
        """``gaps`` is how many prices a plan may miss."""
        self._gaps = gaps
        self._models: dict[tuple[int, str, frozenset[str]], Model] = {}

    def chain(self, planner: Planner, pair: _Pair, grain: float, steps: Iterator[int]) -> _Chain:
        """The plans between two neighbours, from the dearer to the cheaper one.

        ``steps`` are those that are left to all chains together.
        """
        cheap, dear = pair
        chain = _Chain()
        limit = dear.cash - grain
        while limit > cheap.cash:
            if next(steps, None) is None:
                return chain
            plan, proved = self._fewest_hours(planner, cheap.plan.parts, limit)
            chain.proved &= proved
            if plan is None or plan.own_hours > cheap.own_hours - NO_HOURS:
                break
            if plan.own_hours > dear.own_hours + NO_HOURS:
                chain.found.append(plan)
            limit = min(limit, plan.cash) - grain
        chain.ended = True
        return chain

    def _fewest_hours(
        self, planner: Planner, parts: frozenset[str], limit: float
    ) -> tuple[Priced | None, bool]:
        """The plan of fewest own hours whose cash holds a limit; of equal ones the cheapest.

        Also whether that is proved: one search that was stopped, under whichever bedding, may
        have missed it.
        """
        best: Priced | None = None
        proved = True
        for bedding in planner.sound:
            model = self._model(planner, bedding, parts)
            most = math.inf if best is None else best.total(MOST_VALUE) + ROUNDING
            try:
                solved = model.solve(MOST_VALUE, at_most=most, most_cash=limit)
            except NothingFoundError:
                proved = False
                continue
            if solved is None:
                continue
            proved &= solved.proved
            if solved.gaps > self._gaps:
                continue
            if best is None or _by_hours(solved.priced) < _by_hours(best):
                best = solved.priced
        return best, proved

    def _model(self, planner: Planner, bedding: str, parts: frozenset[str]) -> Model:
        """A model with a limit of cash; each planner has its own, since they work at once."""
        key = (id(planner), bedding, parts)
        if key not in self._models:
            situation = Situation(planner.takeoff, planner.options, bedding, parts)
            self._models[key] = Model(situation, HUGE, planner.limit)
        return self._models[key]


def _by_hours(priced: Priced) -> tuple[float, int, str]:
    return (round(priced.own_hours, 6), priced.cash, priced.plan.bedding)


def _told(found: list[tuple[Priced, bool]]) -> tuple[Trade, ...]:
    """By rising cash, without plans that another beats; each with what changes."""
    order = sorted(found, key=lambda f: (f[0].cash, f[0].own_hours, not f[1]))
    kept: list[tuple[Priced, bool]] = []
    for priced, supported in order:
        if not kept or priced.own_hours < kept[-1][0].own_hours - NO_HOURS:
            kept.append((priced, supported))
    result = []
    before: Priced | None = None
    for priced, supported in kept:
        words = changes(before.plan, priced.plan) if before else ""
        result.append(Trade(priced, supported, words))
        before = priced
    return tuple(result)
