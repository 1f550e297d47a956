"""A small mixed-integer programme, kept so that it can be solved again.

Columns and rows are added once; a solve may then fix columns to nothing, bound a row or weigh
the objectives differently without building anything anew. It begins by branching on the kept
relaxation; what is not proved soon goes to the search of HiGHS. One thread, no gap and a seed of
its own make the answer the same on every machine.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import TYPE_CHECKING, Any

from budget.decide.programme.search import TIME_LIMIT, Answer, NothingFoundError, Seconds, limit

if TYPE_CHECKING:
    from budget.decide.programme.branching import Search
    from budget.decide.programme.fronts import Ground, TwoCosts
    from budget.decide.programme.highs import Table
    from budget.decide.programme.relaxation import Box, Limits, Numbers, Relaxation


#: Equal answers are told apart, in the order of the columns, by this much of a cent a column at
#: its highest.
TIE_BREAK = 5e-6


@dataclass
class Programme:
    """Columns with several objectives, rows, and the solver that holds them.

    >>> p = Programme()
    >>> a, b = p.column({"cash": 5.0}), p.column({"cash": 3.0})
    >>> p.row([(a, 1.0), (b, 1.0)], low=1.0, high=1.0)
    0
    >>> p.solve({"cash": 1.0}).values
    (0.0, 1.0)
    >>> p.solve({"cash": 1.0}, shut=[b]).values
    (1.0, 0.0)
    >>> p.solve({"cash": 1.0}, shut=[a, b]) is None
    True
    """

    objectives: list[Mapping[str, float]] = field(default_factory=list)
    highs: list[float] = field(default_factory=list)
    whole: list[bool] = field(default_factory=list)
    rows: list[tuple[dict[int, float], float, float]] = field(default_factory=list)
    time_limit: float = field(default_factory=limit)  # seconds a solve
    longer: int = 1  # times the usual branches before the solver's own search
    _known: dict[tuple[float, ...], Numbers] = field(default_factory=dict)  # answers met before
    _by_name: dict[str, Numbers] = field(default_factory=dict)

    def column(
        self,
        objectives: Mapping[str, float] | None = None,
        high: float = 1.0,
        whole: bool = True,
    ) -> int:
        """A new column between nothing and ``high``; its number."""
        self.objectives.append(objectives or {})
        self.highs.append(high)
        self.whole.append(whole)
        return len(self.objectives) - 1

    def row(
        self,
        terms: Iterable[tuple[int, float]],
        low: float = -math.inf,
        high: float = math.inf,
    ) -> int:
        """A new row ``low <= sum of terms <= high``; its number. Equal columns are summed."""
        found: dict[int, float] = {}
        for column, factor in terms:
            found[column] = found.get(column, 0.0) + factor
        self.rows.append(({c: f for c, f in found.items() if f}, low, high))
        return len(self.rows) - 1

    def solve(
        self,
        weights: Mapping[str, float],
        shut: Iterable[int] = (),
        bounds: Mapping[int, Limits] | None = None,
        at_most: float = math.inf,
    ) -> Answer | None:
        """The least weighted objective, or None if nothing fits.

        ``shut`` columns are held at nothing; ``bounds`` replaces the bounds of some rows for
        this solve. Answers above ``at_most`` need not be looked for: None then only says that
        there is none at or below it. One that was not proved may lie above it.
        """
        from budget.decide.programme.branching import Most, branch

        limits = dict(bounds or {})
        if not self.highs:
            return self._of_nothing(limits)
        costs, held = self.costs(weights), sorted(set(shut))
        box = self._table.box(held)
        relaxation = self._relaxation
        relaxation.ask(costs + self._ties, limits)
        search = self._begun(held, limits, at_most)
        most = Most(self.longer, self.time_limit)
        branch(relaxation, box, self._table.whole, search, most)
        if search.proved:
            if search.best is None:
                return None
            return self._kept(Answer(tuple(search.best.tolist()), math.nan, True, 0.0), costs)
        if search.root is not None:
            box = search.root.held(box, self._table.whole, search.least + FIXING_MARGIN)
        answer = self._searched(box, limits, search)
        return answer and self._kept(answer, costs)

    def _of_nothing(self, limits: Mapping[int, Limits]) -> Answer | None:
        """The answer of a programme without columns, which no solver takes: nothing, if it fits."""
        rows = enumerate(self.rows)
        bounds = [limits.get(number, (low, high)) for number, (_, low, high) in rows]
        fits = all(low <= 0.0 <= high for low, high in bounds)
        return Answer((), 0.0, True, 0.0) if fits else None

    def ground(
        self, held: Iterable[int], limits: Mapping[int, Limits], costs: TwoCosts
    ) -> Ground:  # fmt: skip
        """What a search of two costs at once needs: some columns at nothing, some rows bounded."""
        from budget.decide.programme.fronts import Ground

        box = self._table.box(sorted(set(held)))
        return Ground(self._relaxation, box, self._table.whole, costs, self._ties, limits)

    def _searched(self, box: Box, limits: Mapping[int, Limits], begun: Search) -> Answer | None:
        """What the solver's own search finds, where branching on the relaxation took too long."""
        from budget.decide.programme.highs import search

        costs = self._relaxation.costs
        time = Seconds(self.time_limit, TIME_LIMIT)
        try:
            answer = search(self._searcher, self._table, costs, box, limits, time)
        except NothingFoundError:
            if begun.best is None:
                raise
            return _stopped(begun, None, math.nan)
        if answer is not None and not answer.proved:
            return _stopped(begun, answer, _times(costs, answer.values))
        if answer is None or _times(costs, answer.values) > begun.least + FIXING_MARGIN:
            known = begun.best
            return None if known is None else Answer(tuple(known.tolist()), math.nan, True, 0.0)
        return answer

    def _kept(self, answer: Answer, costs: Numbers) -> Answer:
        """The answer with what it costs, kept as known if it is proved."""
        import numpy as np

        if answer.proved:
            self._known.setdefault(answer.values, np.array(answer.values))
        return replace(answer, objective=_times(costs, answer.values))

    def _begun(self, held: Sequence[int], limits: Mapping[int, Limits], at_most: float) -> Search:
        """A search that begins with the least answer met before that fits this solve too."""
        import numpy as np

        from budget.decide.programme.branching import Search

        known = [
            values
            for values in self._known.values()
            if all(low <= self._sum(row, values) <= high for row, (low, high) in limits.items())
        ]
        if known:
            table = np.array(known)
            table = table[~table[:, held].any(axis=1)]
            prices = table @ self._relaxation.costs
            if len(prices) and prices.min() <= at_most:
                least = int(np.argmin(prices))
                return Search(table[least], float(prices[least]))
        return Search(None, at_most + FIXING_MARGIN)

    def _sum(self, row: int, values: Numbers) -> float:
        return math.fsum(factor * values[c] for c, factor in self.rows[row][0].items())

    def costs(self, weights: Mapping[str, float]) -> Numbers:
        """The cost of each column under these weights."""
        import numpy as np

        found = np.zeros(len(self.objectives))
        for name, weight in sorted(weights.items()):
            found += weight * self._objective(name)
        return found

    def _objective(self, name: str) -> Numbers:
        """One objective of every column."""
        import numpy as np

        if name not in self._by_name:
            self._by_name[name] = np.array([o.get(name, 0.0) for o in self.objectives])
        return self._by_name[name]

    @cached_property
    def _ties(self) -> Numbers:
        """What each column costs more, so that equal answers are told apart."""
        import numpy as np

        whole = np.array(self.whole)
        step = min(TIE_BREAK, 2e-3 / max(1, sum(self.whole)))
        return np.where(whole, step * np.cumsum(whole) / np.maximum(1.0, self.highs), 0.0)

    def twin(self) -> Programme:
        """The same programme with solvers of its own, to be solved at the same time."""
        found = Programme(
            self.objectives, self.highs, self.whole, self.rows, self.time_limit,
            self.longer, dict(self._known),
        )  # fmt: skip
        found.__dict__.update(_table=self._table, _ties=self._ties)
        return found

    @cached_property
    def _table(self) -> Table:
        from budget.decide.programme.highs import Table

        return Table.of(self.highs, self.whole, self.rows)

    @cached_property
    def _relaxation(self) -> Relaxation:
        return self._table.relaxation()

    @cached_property
    def _searcher(self) -> Any:
        return self._table.searcher()


#: Cents kept free when columns are held by reduced cost, against rounding in the solver.
FIXING_MARGIN = 0.01


def _stopped(begun: Search, answer: Answer | None, cost: float) -> Answer:
    """The better of what two searches that were stopped found, with how far off it may be.

    ``cost`` is that of the second search's answer, if it has one.
    """
    floors = [begun.root.floor] if begun.root is not None else []
    if answer is not None and math.isfinite(answer.gap):
        floors.append(cost - answer.gap * abs(cost))
    if begun.best is not None and not cost <= begun.least:
        answer, cost = Answer(tuple(begun.best.tolist()), math.nan, False, math.inf), begun.least
    if answer is None:
        msg = "neither search found anything"
        raise NothingFoundError(msg)
    gap = (cost - max(floors)) / max(1.0, abs(cost)) if floors else math.inf
    return replace(answer, gap=max(0.0, gap))


def _times(costs: Iterable[float], values: Iterable[float]) -> float:
    return math.fsum(c * v for c, v in zip(costs, values, strict=True))
