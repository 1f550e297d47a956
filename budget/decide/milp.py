"""A small mixed-integer programme, solved by HiGHS, kept so that it can be solved again.

Columns and rows are added once; a solve may then fix columns to nothing, bound a row or weigh
the objectives differently without building anything anew. One thread, no gap and a seed of its
own make the answer the same on every machine.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

#: Seconds after which a solve stops and says that it has not proved its answer.
TIME_LIMIT = 60.0


class NothingFoundError(Exception):
    """A solve was stopped before it had any answer at all."""


#: Equal answers are told apart, in the order of the columns, by this much of a cent a column.
TIE_BREAK = 5e-6


@dataclass(frozen=True, slots=True)
class Answer:
    """One solve: the value of each column, the objective, and what is proved about it."""

    values: tuple[float, ...]
    objective: float
    proved: bool
    gap: float


@dataclass(slots=True)
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
    lows: list[float] = field(default_factory=list)
    highs: list[float] = field(default_factory=list)
    whole: list[bool] = field(default_factory=list)
    rows: list[tuple[dict[int, float], float, float]] = field(default_factory=list)
    time_limit: float = TIME_LIMIT  # seconds a solve
    _solver: Any = None
    _known: list[tuple[float, ...]] = field(default_factory=list)  # answers met before

    def column(
        self,
        objectives: Mapping[str, float] | None = None,
        high: float = 1.0,
        whole: bool = True,
    ) -> int:
        """A new column between nothing and ``high``; its number."""
        self.objectives.append(objectives or {})
        self.lows.append(0.0)
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
        there is none at or below it.
        """
        solver = self._ready()
        held = frozenset(shut)
        limits = dict(bounds or {})
        for row, (low, high) in limits.items():
            solver.changeRowBounds(row, low, high)
        costs = self.costs(weights)
        answer = self._solved(costs, held, limits, at_most)
        for row in limits:
            solver.changeRowBounds(row, self.rows[row][1], self.rows[row][2])
        return answer

    def _solved(
        self,
        costs: Sequence[float],
        held: frozenset[int],
        limits: Mapping[int, Limits],
        at_most: float,
    ) -> Answer | None:
        solver = self._solver
        broken = self._tie_broken(costs)
        solver.changeColsCost(len(broken), self._every, broken)
        highs = [0.0 if c in held else high for c, high in enumerate(self.highs)]
        lows = list(self.lows)
        known = self._best_known(broken, held, limits)
        cutoff = min(known, at_most)
        if cutoff < math.inf and not self._narrow(broken, lows, highs, cutoff):
            return None
        solver.changeColsBounds(len(highs), self._every, lows, highs)
        # Nothing is carried over from the solve before: starting from an answer met before has
        # been seen to end in a wrong one.
        solver.clearSolver()
        self._run_until_found()
        answer = self._answer(costs)
        if answer is None:
            return None
        found = _times(broken, answer.values)
        if found > at_most + FIXING_MARGIN:
            return None
        self._believe(answer, found, known)
        if answer.proved and answer.values not in self._known:
            self._known.append(answer.values)
        return answer

    def _best_known(
        self, costs: Sequence[float], held: frozenset[int], limits: Mapping[int, Limits]
    ) -> float:
        """The least objective of the answers met before that fit this solve too."""
        fitting = [
            _times(costs, values)
            for values in self._known
            if all(values[c] == 0 for c in held)
            and all(low <= self._sum(row, values) <= high for row, (low, high) in limits.items())
        ]
        return min(fitting, default=math.inf)

    def _believe(self, answer: Answer, found: float, known: float) -> None:
        """``RuntimeError`` where the solver contradicts itself or what is known already."""
        told = self._solver.getInfo().objective_function_value
        slack = FIXING_MARGIN + 1e-6 * abs(found)
        if answer.proved and (abs(found - told) > slack or found > known + slack):
            msg = f"the solver says {told:.2f} where its answer costs {found:.2f}"
            raise RuntimeError(msg)

    def _sum(self, row: int, values: Sequence[float]) -> float:
        return math.fsum(factor * values[c] for c, factor in self.rows[row][0].items())

    def _narrow(
        self, costs: Sequence[float], lows: list[float], highs: list[float], cutoff: float
    ) -> bool:
        """Hold columns that no answer as good as one already known can move.

        Returns whether there can be an answer that good at all.

        With whole columns set free, the solver gives the least objective there could be and
        for each column what moving it costs at least. Where that alone passes the known
        answer, the column stays where it is: the usual fixing by reduced cost, which loses no
        better answer and leaves the known one in.
        """
        solver = self._solver
        solver.changeColsBounds(len(highs), self._every, lows, highs)
        solver.setOptionValue("solve_relaxation", True)
        self._run()
        solver.setOptionValue("solve_relaxation", False)
        solution = solver.getSolution()
        if not solution.value_valid or not solution.dual_valid:
            return True
        values, prices = list(solution.col_value), list(solution.col_dual)
        room = cutoff - _times(costs, values) + FIXING_MARGIN
        if room < 0:
            return False
        for column, whole in enumerate(self.whole):
            if not whole:
                continue
            if prices[column] > room and values[column] < 1e-6:
                highs[column] = lows[column]
            elif prices[column] < -room and values[column] > highs[column] - 1e-6:
                lows[column] = highs[column]
        return True

    def _run(self) -> None:
        self._solver.setOptionValue("time_limit", self._solver.getRunTime() + self.time_limit)
        self._solver.run()

    def _run_until_found(self) -> None:
        """Solve within the limit, or a few times longer where that gave no answer at all."""
        import highspy

        limit = self.time_limit
        self._run()
        while limit < TIME_LIMIT and self._solver.getModelStatus() in (
            highspy.HighsModelStatus.kTimeLimit,
            highspy.HighsModelStatus.kUnknown,
        ):
            if self._solver.getSolution().value_valid:
                return
            limit = min(TIME_LIMIT, 4 * limit)
            self._solver.setOptionValue("time_limit", self._solver.getRunTime() + limit)
            self._solver.clearSolver()
            self._solver.run()

    def costs(self, weights: Mapping[str, float]) -> list[float]:
        """The cost of each column under these weights."""
        pairs = sorted(weights.items())
        return [
            sum(weight * objective[name] for name, weight in pairs if name in objective)
            for objective in self.objectives
        ]

    def _tie_broken(self, costs: Sequence[float]) -> list[float]:
        step = min(TIE_BREAK, 2e-3 / max(1, sum(self.whole)))
        broken, rank = [], 0
        for cost, whole in zip(costs, self.whole, strict=True):
            rank += whole
            broken.append(cost + (step * rank if whole else 0.0))
        return broken

    def _answer(self, costs: Sequence[float]) -> Answer | None:
        import highspy

        solver = self._solver
        status = solver.getModelStatus()
        if status in (
            highspy.HighsModelStatus.kInfeasible,
            highspy.HighsModelStatus.kUnboundedOrInfeasible,
        ):
            return None
        solution = solver.getSolution()
        if not solution.value_valid:
            if status == highspy.HighsModelStatus.kTimeLimit:
                msg = f"no plan was found within {self.time_limit:g} seconds"
                raise NothingFoundError(msg)
            msg = f"the solver stopped: {solver.modelStatusToString(status)}"
            raise RuntimeError(msg)
        values = tuple(
            float(round(v)) if whole else float(v)
            for v, whole in zip(solution.col_value, self.whole, strict=True)
        )
        objective = _times(costs, values)
        proved = status == highspy.HighsModelStatus.kOptimal
        gap = 0.0 if proved else float(solver.getInfo().mip_gap)
        return Answer(values, objective, proved, gap)

    def twin(self) -> Programme:
        """The same programme with a solver of its own, to be solved at the same time."""
        return Programme(
            self.objectives, self.lows, self.highs, self.whole, self.rows, self.time_limit, None,
            list(self._known),
        )  # fmt: skip

    @property
    def _every(self) -> list[int]:
        return list(range(len(self.objectives)))

    def _ready(self) -> Any:
        if self._solver is None:
            self._solver = self._passed()
        return self._solver

    def _passed(self) -> Any:
        import highspy
        import numpy as np

        lp = highspy.HighsLp()
        lp.num_col_, lp.num_row_ = len(self.objectives), len(self.rows)
        lp.col_cost_ = np.zeros(lp.num_col_)
        lp.col_lower_, lp.col_upper_ = np.array(self.lows), np.array(self.highs)
        lp.row_lower_ = np.array([low for _, low, _ in self.rows])
        lp.row_upper_ = np.array([high for _, _, high in self.rows])
        lp.integrality_ = [
            highspy.HighsVarType.kInteger if whole else highspy.HighsVarType.kContinuous
            for whole in self.whole
        ]
        entries = [sorted(terms.items()) for terms, _, _ in self.rows]
        lp.a_matrix_.format_ = highspy.MatrixFormat.kRowwise
        lp.a_matrix_.start_ = np.cumsum([0, *(len(e) for e in entries)])
        lp.a_matrix_.index_ = np.array([c for e in entries for c, _ in e], dtype=np.int32)
        lp.a_matrix_.value_ = np.array([f for e in entries for _, f in e])
        # The plain solver: its wrapper prints a banner before it can be told to be quiet.
        solver: Any = highspy._Highs()  # type: ignore[attr-defined]
        for name, value in _OPTIONS.items():
            solver.setOptionValue(name, value)
        solver.passModel(lp)
        return solver


#: Bounds of a row for one solve.
Limits = tuple[float, float]

#: Cents kept free when columns are held by reduced cost, against rounding in the solver.
FIXING_MARGIN = 0.01


def _times(costs: Sequence[float], values: Sequence[float]) -> float:
    return math.fsum(c * v for c, v in zip(costs, values, strict=True))


_OPTIONS: Mapping[str, bool | int | float] = {
    "output_flag": False,
    "threads": 1,
    "random_seed": 0,
    "mip_rel_gap": 0.0,
    "mip_abs_gap": 1e-6,
    "mip_feasibility_tolerance": 1e-7,
    # The bound at the root is within a few per cent: searching beside the tree does not pay.
    "mip_heuristic_run_rins": False,
    "mip_heuristic_run_rens": False,
    "mip_heuristic_run_root_reduced_cost": False,
    "mip_heuristic_run_feasibility_jump": False,
    "mip_allow_restart": False,
}
