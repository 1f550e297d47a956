"""HiGHS: a programme as it takes it, its own search over whole columns, and its relaxation."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from threading import current_thread, main_thread
from time import monotonic
from typing import Any

import highspy
import numpy as np

from budget.decide.programme.relaxation import Box, Flags, Limits, Numbers, Relaxation
from budget.decide.programme.search import (
    Answer,
    NothingFoundError,
    Seconds,
    end_if_given_up,
    given_up,
    report,
    side_by_side,
)

#: Cents by which sums of the solver may be off.
MARGIN = 0.01


@dataclass(frozen=True, slots=True)
class Table:
    """Columns and rows in arrays: highs of columns, which are whole, rows and their entries."""

    highs: Numbers
    whole: Flags
    rows: tuple[Numbers, Numbers]  # lows and highs
    starts: Any  # where each row's entries begin
    columns: Any
    factors: Numbers

    @classmethod
    def of(
        cls,
        highs: Sequence[float],
        whole: Sequence[bool],
        rows: Sequence[tuple[Mapping[int, float], float, float]],
    ) -> Table:
        """The arrays of lists."""
        entries = [sorted(terms.items()) for terms, _, _ in rows]
        return cls(
            highs=np.array(highs, dtype=float),
            whole=np.array(whole, dtype=bool),
            rows=(np.array([r[1] for r in rows]), np.array([r[2] for r in rows])),
            starts=np.cumsum([0, *(len(e) for e in entries)]),
            columns=np.array([c for e in entries for c, _ in e], dtype=np.int32),
            factors=np.array([f for e in entries for _, f in e]),
        )

    def box(self, held: Sequence[int]) -> Box:
        """The bounds of every column, with some held at nothing."""
        highs = self.highs.copy()
        highs[list(held)] = 0.0
        return Box(np.zeros(len(highs)), highs)

    def relaxation(self) -> Relaxation:
        """A warm solver of the relaxation."""
        every = np.arange(len(self.rows[0]), dtype=np.int32)
        places = np.repeat(every, np.diff(self.starts))
        solver = self._solver(_WARM, whole=False)
        return Relaxation(solver, (places, self.columns, self.factors), self.rows)

    def searcher(self) -> Any:
        """A solver with its own search over whole columns."""
        return self._solver(_SEARCHING, whole=True)

    def _solver(self, options: Mapping[str, bool | int | float | str], *, whole: bool) -> Any:
        lp = highspy.HighsLp()
        lp.num_col_, lp.num_row_ = len(self.highs), len(self.rows[0])
        lp.col_cost_ = np.zeros(lp.num_col_)
        lp.col_lower_, lp.col_upper_ = np.zeros(lp.num_col_), self.highs
        lp.row_lower_, lp.row_upper_ = self.rows
        if whole:
            kinds = highspy.HighsVarType.kContinuous, highspy.HighsVarType.kInteger
            lp.integrality_ = [kinds[int(is_whole)] for is_whole in self.whole]
        lp.a_matrix_.format_ = highspy.MatrixFormat.kRowwise
        lp.a_matrix_.start_, lp.a_matrix_.index_ = self.starts, self.columns
        lp.a_matrix_.value_ = self.factors
        # The plain solver: its wrapper prints a banner before it can be told to be quiet.
        solver: Any = highspy._Highs()  # type: ignore[attr-defined]
        for name, value in options.items():
            solver.setOptionValue(name, value)
        solver.passModel(lp)
        return solver


def search(
    solver: Any, table: Table, costs: Numbers, box: Box, limits: Mapping[int, Limits], time: Seconds
) -> Answer | None:  # fmt: skip
    """The solver's own search within a box, with some rows bounded otherwise; None if none fits.

    :raises NothingFoundError: stopped before any answer was found.
    :raises GivenUpError: nobody waits for it any more.
    """
    every = np.arange(len(costs), dtype=np.int32)
    solver.changeColsCost(len(costs), every, costs)
    solver.changeColsBounds(len(costs), every, box.lows, box.highs)
    for row, (low, high) in limits.items():
        solver.changeRowBounds(row, low, high)
    _run_until_found(solver, time)
    end_if_given_up()
    found = _believed(solver, costs, _answer(solver, table.whole, time.first))
    for row in limits:  # only now: a change makes the solver forget its answer
        solver.changeRowBounds(row, table.rows[0][row], table.rows[1][row])
    return found


def _believed(solver: Any, costs: Numbers, answer: Answer | None) -> Answer | None:
    """The answer; ``RuntimeError`` where the solver says another cost than its values have."""
    if answer is None or not answer.proved:
        return answer
    told = solver.getInfo().objective_function_value
    found = math.fsum(costs * np.array(answer.values))
    if abs(found - told) > MARGIN + 1e-6 * abs(found):
        msg = f"the solver says {told:.2f} where its answer costs {found:.2f}"
        raise RuntimeError(msg)
    return answer


def _run_until_found(solver: Any, time: Seconds) -> None:
    """Solve within the limit, or a few times longer where that gave no answer at all."""
    unfinished = highspy.HighsModelStatus.kTimeLimit, highspy.HighsModelStatus.kUnknown
    seconds = time.first
    _run(solver, seconds)
    while seconds < time.last and solver.getModelStatus() in unfinished:
        if solver.getSolution().value_valid:
            return
        seconds = min(time.last, 4 * seconds)
        _run(solver, seconds)


def _run(solver: Any, seconds: float) -> None:
    """Solve afresh: starting from an answer met before has been seen to end in a wrong one."""
    began = monotonic()  # being told of changes nothing of the search
    solver.setCallback(lambda _k, _text, out, ends, _data: _listened(began, out, ends), None)
    solver.startCallback(highspy.cb.HighsCallbackType.kCallbackMipInterrupt)
    solver.clearSolver()
    solver.setOptionValue("time_limit", solver.getRunTime() + seconds)
    if current_thread() is not main_thread():
        solver.run()
        return
    with side_by_side(1) as pool:  # only a thread that waits hears of an interruption
        pool.submit(solver.run).result()


def _listened(began: float, out: Any, ends: Any) -> None:
    """Tell how a search goes; it ends where nobody waits for it any more."""
    report(began, out.mip_gap)
    if given_up():
        ends.user_interrupt = True


def _answer(solver: Any, whole: Flags, seconds: float) -> Answer | None:
    status = solver.getModelStatus()
    if status in (
        highspy.HighsModelStatus.kInfeasible,
        highspy.HighsModelStatus.kUnboundedOrInfeasible,
    ):
        return None
    solution = solver.getSolution()
    if not solution.value_valid:
        if status == highspy.HighsModelStatus.kTimeLimit:
            msg = f"no plan was found within {seconds:g} seconds"
            raise NothingFoundError(msg)
        msg = f"the solver stopped: {solver.modelStatusToString(status)}"
        raise RuntimeError(msg)
    values = np.array(solution.col_value)
    values = np.where(whole, np.round(values), values) + 0.0  # no minus zero
    proved = status == highspy.HighsModelStatus.kOptimal
    gap = 0.0 if proved else float(solver.getInfo().mip_gap)
    return Answer(tuple(values.tolist()), math.nan, proved, gap)


_SEARCHING: Mapping[str, bool | int | float | str] = {
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

#: The relaxation keeps its last basis, and needs no presolving a few steps from it.
_WARM: Mapping[str, bool | int | float | str] = {
    "output_flag": False,
    "threads": 1,
    "random_seed": 0,
    "presolve": "off",
    "solver": "simplex",
    "simplex_scale_strategy": 4,
    "primal_feasibility_tolerance": 1e-9,
    "dual_feasibility_tolerance": 1e-9,
}
