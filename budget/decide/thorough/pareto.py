"""Every trade of cash against own hours: also plans that are best at no single hour value."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import partial
from typing import TYPE_CHECKING

from budget.decide.frontier import MOST_VALUE
from budget.decide.model.model import Model
from budget.decide.plan import FrontierPoint, Priced
from budget.decide.planner import ROUNDING, Planner
from budget.decide.programme.search import NothingFoundError, worked
from budget.decide.programme.staircase import CENT, HALF_MINUTE, Corner, Point, Staircase
from budget.decide.terms.situation import Situation
from budget.decide.wording import changes

if TYPE_CHECKING:
    from budget.decide.programme.fronts import Front

#: Where time is short, plans nearer than this share of the whole span of cash are not told apart.
GRAIN = 0.01

#: The trees end when less than this share of their time is left.
LEAST_SHARE = 0.02

#: Searches at a time, of :meth:`Planner.each`.
WORKERS = 2

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
    proved: bool  # no search for them, or for the frontier, was stopped


def trades(planner: Planner, points: tuple[FrontierPoint, ...], gaps: int) -> Trades | None:
    """The plans that no plan beats in both cash and own hours.

    Between two neighbours of the exact frontier a tree finds all that lie between them, to the
    cent and to the minute (:mod:`budget.decide.programme.fronts`); but for those that pay more than
    ``MOST_VALUE`` for the last hour or differ by the cents in which lines are rounded. All trees
    together take the time that one search may take. Where that is too short for one, the
    programme is solved there for the fewest own hours with less cash than the dearer neighbour,
    and again below what it finds, until it comes to the cheaper one. Each limit lies ``grain``
    below the last plan. A plan that is passed over could have been found with that plan, which
    therefore takes no more hours than it, and at most ``grain`` more cash.
    """
    if len(points) < 2:
        return None
    ends = [p.priced for p in points]
    steps = _Steps(gaps)
    chains = [steps.between(pair) for pair in itertools.pairwise(ends)]
    left = steps.grow(planner, chains)
    grain = max(CENT, GRAIN * (ends[-1].cash - ends[0].cash)) if left else 0.0
    planner.each(left, lambda one, chain: steps.step(one, chain, grain))
    found = [(p, True) for p in ends]
    found += [(priced, False) for chain in chains for priced in chain.found]
    proved = all(p.proved for p in points) and all(chain.proved for chain in chains)
    return Trades(_told(found), grain, proved)


@dataclass(slots=True)
class _Chain:
    """The plans between two neighbours of the frontier, and the search for them."""

    cheap: Priced
    dear: Priced
    stairs: Staircase
    fronts: list[Front] | None = None  # begun when there is time for them
    found: list[Priced] = field(default_factory=list)
    proved: bool = True  # no search was stopped
    ended: bool = False  # its trees found all

    @property
    def value(self) -> float:
        """The value of an hour at which the neighbours cost the same [cents]."""
        return (self.dear.cash - self.cheap.cash) / (self.cheap.own_hours - self.dear.own_hours)


class _Steps:
    """Searches under limits of cash and hours; models are kept from step to step."""

    def __init__(self, gaps: int) -> None:
        """``gaps`` is how many prices a plan may miss."""
        self._gaps = gaps
        self._models: dict[tuple[int, str, frozenset[str]], Model] = {}

    @staticmethod
    def between(pair: tuple[Priced, Priced]) -> _Chain:
        """The search between two neighbours, not begun."""
        return _Chain(*pair, Staircase([Point(p.cash, p.own_hours) for p in pair]))

    def grow(self, planner: Planner, chains: Sequence[_Chain]) -> list[_Chain]:
        """Grow the tree of each within the time of one search; those that were not ended.

        Each has an equal share of the time, and of what the others left in the next round. Time
        is that of the work itself, so that a busy machine finds no less.
        """
        left, rest = list(chains), planner.limit
        while left and rest > LEAST_SHARE * planner.limit:
            share = rest / math.ceil(len(left) / WORKERS)
            spent = planner.each(left, partial(self._tree, share))
            rest -= max(sum(spent[worker::WORKERS]) for worker in range(WORKERS))
            left = [chain for chain in left if not chain.ended]
        return left

    def _tree(self, seconds: float, planner: Planner, chain: _Chain) -> float:
        """Go on with the trees of each bedding for so long at most; the seconds it took."""
        began = worked()
        until = began + seconds
        if chain.fronts is None:
            chain.fronts = self._begun(planner, chain)
        chain.ended = all(
            front.go_on(self._model(planner, front.bedding, chain).ground(), chain.stairs, until)
            for front in chain.fronts
        )
        if chain.ended:
            self._end(planner, chain)
        return worked() - began

    def _end(self, planner: Planner, chain: _Chain) -> None:
        """Price what the trees found."""
        chain.proved &= all(front.proved for front in chain.fronts or ())
        for point in chain.stairs.points:
            if point.values is not None:
                model = self._model(planner, point.bedding, chain)
                total = Corner(point.cash, point.hours).at(chain.value)
                chain.found.append(model.priced(point.values, total, chain.value))

    def _begun(self, planner: Planner, chain: _Chain) -> list[Front]:
        """A search for each bedding, those of the neighbours first."""
        from budget.decide.programme.fronts import Front

        most = Corner(chain.dear.cash - CENT, chain.cheap.own_hours - HALF_MINUTE)
        near = (chain.cheap.plan.bedding, chain.dear.plan.bedding)
        fronts = []
        for bedding in sorted(planner.sound, key=lambda b: (b not in near, b)):
            model = self._model(planner, bedding, chain)
            try:
                fewest = model.fewest_missing()
            except NothingFoundError:
                chain.proved = False
                continue
            if fewest is not None:
                chain.proved &= fewest.proved
            if fewest is not None and fewest.count <= self._gaps + 0.5:
                fronts.append(Front.below(bedding, model.ground().box, most, chain.value))
        return fronts

    def step(self, planner: Planner, chain: _Chain, grain: float) -> None:
        """The plans between two neighbours, from the dearer to the cheaper one, at a grain."""
        limit = chain.dear.cash - grain
        while limit > chain.cheap.cash:
            plan, proved = self._fewest_hours(planner, chain, limit)
            chain.proved &= proved
            if plan is None or plan.own_hours > chain.cheap.own_hours - NO_HOURS:
                return
            if plan.own_hours > chain.dear.own_hours + NO_HOURS:
                chain.found.append(plan)
            limit = min(limit, plan.cash) - grain

    def _fewest_hours(
        self, planner: Planner, chain: _Chain, limit: float
    ) -> tuple[Priced | None, bool]:
        """The plan of fewest own hours whose cash holds a limit; of equal ones the cheapest.

        Also whether that is proved: one search that was stopped, under whichever bedding, may
        have missed it.
        """
        best: Priced | None = None
        proved = True
        for bedding in planner.sound:
            model = self._model(planner, bedding, chain)
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

    def _model(self, planner: Planner, bedding: str, chain: _Chain) -> Model:
        """A model with a limit of cash; each planner has its own, since they work at once."""
        parts = chain.cheap.plan.parts
        key = (id(planner), bedding, parts)
        if key not in self._models:
            situation = Situation(planner.takeoff, planner.options, bedding, parts)
            self._models[key] = Model(situation, HUGE, planner.limit)
        return self._models[key]


def _by_hours(priced: Priced) -> tuple[float, int, str]:
    return (round(priced.own_hours, 6), priced.cash, priced.plan.bedding)


def _told(found: list[tuple[Priced, bool]]) -> tuple[Trade, ...]:
    """By rising cash, without plans that another beats or comes up to; each with what changes."""
    order = sorted(found, key=lambda f: (f[0].cash, f[0].own_hours, not f[1]))
    kept: list[tuple[Priced, bool]] = []
    for priced, supported in order:
        less = NO_HOURS if supported else HALF_MINUTE
        if not kept or priced.own_hours < kept[-1][0].own_hours - less:
            kept.append((priced, supported))
    result = []
    before: Priced | None = None
    for priced, supported in kept:
        words = changes(before.plan, priced.plan) if before else ""
        result.append(Trade(priced, supported, words))
        before = priced
    return tuple(result)
