"""Plans over every bedding: models built once, solved under pins and at any hour value."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import TypeVar

from budget.decide.model.model import Model, Solved
from budget.decide.pins import Allowed, Pinned
from budget.decide.programme import search
from budget.decide.terms.situation import Situation, optional_parts
from budget.prices.options import Options
from budget.quantities.takeoff import Bedding, Takeoff

#: Cents by which the rounding of lines may lift a plan above the programme's own total.
ROUNDING = 10.0

Task = TypeVar("Task")
Result = TypeVar("Result")

_Key = tuple[str, frozenset[str], float, tuple[tuple[str, frozenset[str]], ...]]


def rank(solved: Solved, hour_value: float) -> tuple[int, float, str]:
    """What plans are ordered by: fewest missing prices, then the total, then the bedding."""
    return (solved.gaps, solved.priced.total(hour_value), solved.priced.plan.bedding)


def so_far(best: Solved, hour_value: float, floors: Iterable[float]) -> Solved:
    """The best of several searches, not proved where one that was stopped may go below it.

    ``floors`` are totals that the plans of each such search cannot go below [cents].
    """
    total = best.priced.total(hour_value)
    least = min((floor for floor in floors if floor < total - 1e-6), default=None)
    if least is None:
        return replace(best, proved=True, gap=0.0)
    return replace(best, proved=False, gap=1.0 - least / max(1.0, total))


def still_open(best: Solved, found: Iterable[Solved], hour_value: float) -> Iterator[float]:
    """Totals that searches that were stopped may still come down to [cents].

    Of those alone that may rank before the best: a search misses no fewer prices than its plan,
    unless that is not proved, and then its gap is not known either.
    """
    for one in found:
        if not one.proved and math.isinf(one.gap):
            yield -math.inf
        elif not one.proved and one.gaps <= best.gaps:
            yield one.priced.total(hour_value) * (1.0 - one.gap)


@dataclass(slots=True)
class _Curve:
    """The exact least totals of one bedding at the hour values met so far.

    As a function of the hour value the least total is concave, so the straight line between
    two known values lies at or below it.
    """

    points: dict[float, float]

    def floor(self, hour_value: float) -> float:
        """A total that no plan of this bedding goes below at this hour value."""
        below = max((v for v in self.points if v <= hour_value), default=None)
        above = min((v for v in self.points if v >= hour_value), default=None)
        if below is None or above is None:
            return float("-inf")
        if below == above:
            return self.points[below]
        share = (hour_value - below) / (above - below)
        return self.points[below] * (1 - share) + self.points[above] * share


class Planner:
    """Best plans of one job, each worked out once."""

    def __init__(self, takeoff: Takeoff, options: Options, limit: float | None = None) -> None:
        """Keep the quantities and options; models are built when they are first needed.

        Each search for a plan stops after ``limit`` seconds, of
        :func:`budget.decide.programme.search.limit` if None.
        """
        self.takeoff = takeoff
        self.options = options
        self.limit = search.limit() if limit is None else limit
        self._models: dict[tuple[str, frozenset[str]], Model] = {}
        self._solved: dict[_Key, Solved | None] = {}
        self._curves: dict[str, _Curve] = {}
        self._left_out: frozenset[str] = frozenset()

    @cached_property
    def beddings(self) -> tuple[Bedding, ...]:
        """Every bedding, by name."""
        return tuple(sorted(self.takeoff.beddings, key=lambda b: b.name))

    @cached_property
    def sound(self) -> tuple[str, ...]:
        """Beddings that may be best: not discouraged, or allowed all the same."""
        return tuple(b.name for b in self.beddings if b.allowed or not b.discouraged)

    @cached_property
    def optional(self) -> frozenset[str]:
        """Parts that may be left out."""
        return optional_parts(self.takeoff)

    def leave_out(self, parts: frozenset[str]) -> None:
        """Leave some optional parts out of every plan whose pins do not keep them."""
        self._left_out = parts
        self._curves = {}
        self.__dict__.pop("_twin", None)

    def dropped(self, pinned: Pinned) -> frozenset[str]:
        """The optional parts that plans under some pins leave out."""
        return (self._left_out - pinned.kept) | pinned.dropped

    def each(self, tasks: Sequence[Task], work: Callable[[Planner, Task], Result]) -> list[Result]:
        """The results of some tasks in their order, worked by two planners at a time.

        The solver runs outside Python's lock, so that two threads on two cores take little
        more time than one. Every planner takes every other task, never the next that is free:
        answers do not depend on which is quicker.
        """
        planners = (self, self._twin)

        def share(number: int) -> list[Result]:
            return [work(planners[number], task) for task in tasks[number::2]]

        with search.side_by_side(2) as pool:
            shares = list(pool.map(share, (0, 1)))
        return [shares[i % 2][i // 2] for i in range(len(tasks))]

    @cached_property
    def _twin(self) -> Planner:
        """A planner of the same job with solvers of its own."""
        self.situations()  # each model is built once, and then only given another solver
        found = Planner(self.takeoff, self.options, self.limit)
        found._models = {key: model.twin() for key, model in self._models.items()}
        found._solved = dict(self._solved)
        found._left_out = self._left_out
        found._curves = {name: _Curve(dict(c.points)) for name, c in self._curves.items()}
        return found

    def situation(self, bedding: str, dropped: frozenset[str] = frozenset()) -> Situation:
        """The job under one bedding, without the parts that are dropped."""
        return self._model(bedding, dropped).situation

    def situations(self) -> tuple[Situation, ...]:
        """The job with every part, under each bedding."""
        return tuple(self.situation(b.name) for b in self.beddings)

    def _model(self, bedding: str, dropped: frozenset[str]) -> Model:
        key = (bedding, dropped)
        if key not in self._models:
            parts = self.optional - dropped
            self._models[key] = Model(
                Situation(self.takeoff, self.options, bedding, parts), limit=self.limit
            )
        return self._models[key]

    def solve(self, bedding: str, pinned: Pinned, hour_value: float) -> Solved | None:
        """The best plan under one bedding, None if nothing fits the pins."""
        allowed: Allowed = pinned.allowed
        key = self._key(bedding, pinned, hour_value)
        if key not in self._solved:
            model = self._model(bedding, self.dropped(pinned))
            self._solved[key] = model.solve(hour_value, allowed)
        found = self._solved[key]
        free = not allowed and self.dropped(pinned) == self._left_out
        if found is not None and free and found.proved:
            curve = self._curves.setdefault(bedding, _Curve({}))
            curve.points[hour_value] = found.priced.total(hour_value)
        return found

    def best(
        self, hour_value: float, pinned: Pinned | None = None, beddings: Iterable[str] = ()
    ) -> Solved | None:
        """The best plan over the sound beddings (or those named).

        A bedding is passed over where its plans without pins are known to cost no less than
        the best found so far, since pins never make a plan cheaper.
        """
        pinned = pinned or Pinned()
        names = tuple(beddings) or self.sound
        if pinned.bedding is not None:
            names = tuple(n for n in names if n == pinned.bedding)
        best: Solved | None = None
        every: list[Solved] = []
        for name in sorted(names, key=lambda n: (self._floor(n, hour_value, pinned), n)):
            if best is not None and self._hopeless(name, hour_value, pinned, best):
                continue
            found = self._no_dearer(name, pinned, hour_value, best)
            if found is None:
                continue
            every.append(found)
            if best is None or rank(found, hour_value) < rank(best, hour_value):
                best = found
        return best and so_far(best, hour_value, still_open(best, every, hour_value))

    def _no_dearer(
        self, bedding: str, pinned: Pinned, hour_value: float, best: Solved | None
    ) -> Solved | None:
        """The best plan of a bedding, or None where it is dearer than one already found."""
        key = self._key(bedding, pinned, hour_value)
        model = self._model(bedding, self.dropped(pinned))
        fewest = model.fewest_missing()
        if (
            best is None
            or key in self._solved
            or fewest is None
            or not fewest.proved
            or fewest.count < best.gaps
        ):
            return self.solve(bedding, pinned, hour_value)
        most = best.priced.total(hour_value) + ROUNDING
        return model.solve(hour_value, pinned.allowed, most)

    def _key(self, bedding: str, pinned: Pinned, hour_value: float) -> _Key:
        return (bedding, self.dropped(pinned), hour_value, tuple(sorted(pinned.allowed.items())))

    def _floor(self, bedding: str, hour_value: float, pinned: Pinned) -> float:
        if self.dropped(pinned) != self._left_out or bedding not in self._curves:
            return float("-inf")
        return self._curves[bedding].floor(hour_value)

    def _hopeless(self, bedding: str, hour_value: float, pinned: Pinned, best: Solved) -> bool:
        fewest = self._model(bedding, self.dropped(pinned)).fewest_missing()
        if fewest is None or (fewest.proved and fewest.count > best.gaps):
            return True
        if fewest.count < best.gaps or not fewest.proved:
            return False
        floor = self._floor(bedding, hour_value, pinned) - ROUNDING
        return floor > best.priced.total(hour_value)
