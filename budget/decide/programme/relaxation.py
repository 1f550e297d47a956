"""A programme whose whole columns may be parts of one, in a solver that is kept warm.

Its prices of rows give a floor that no answer goes below, whatever the solver's tolerances: the
floor is added up here anew by weak duality, which holds for any prices at all.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

import highspy
import numpy as np
import numpy.typing as npt

Numbers = npt.NDArray[np.float64]
Places = npt.NDArray[np.int32]
Flags = npt.NDArray[np.bool_]

#: Bounds of a row for one solve.
Limits = tuple[float, float]

#: How far from a whole number a value may lie and still be one.
WHOLE = 1e-7


class GaveUpError(Exception):
    """The relaxation was not solved to its end."""


@dataclass(frozen=True, slots=True)
class Box:
    """Bounds of every column."""

    lows: Numbers
    highs: Numbers

    def split(self, column: int, value: float) -> tuple[Box, Box]:
        """The two boxes with the column at most, and at least, the whole numbers beside."""
        below, above = self.highs.copy(), self.lows.copy()
        below[column], above[column] = math.floor(value), math.floor(value) + 1
        return Box(self.lows, below), Box(above, self.highs)


@dataclass(frozen=True, slots=True)
class Relaxed:
    """One solve: the values, what moving each column costs at least, and the floor."""

    values: Numbers
    prices: Numbers
    floor: float

    def held(self, box: Box, whole: Flags, most: float) -> Box:
        """The box without what whole columns cannot take in any answer at or below ``most``.

        Where the price of moving a column from its bound lifts the floor above ``most``, the
        column stays: the usual fixing by reduced cost, which loses no answer that good.
        """
        room = most - self.floor
        stay = whole & (self.prices > room)
        rise = whole & (self.prices < -room)
        return Box(
            np.where(rise, box.highs, box.lows),
            np.where(stay, box.lows, box.highs),
        )


@dataclass(slots=True)
class Relaxation:
    """The solver with its entries (rows, columns, factors) and the bounds of its rows."""

    solver: Any
    entries: tuple[Places, Places, Numbers]
    rows: tuple[Numbers, Numbers]
    costs: Numbers = field(default_factory=lambda: np.zeros(0))
    _limits: dict[int, Limits] = field(default_factory=dict)  # rows bounded otherwise just now
    _box: Box | None = None

    def ask(self, costs: Numbers, limits: Mapping[int, Limits]) -> None:
        """Set the costs, and the bounds of some rows, for the solves to come."""
        self.costs = costs
        self.solver.changeColsCost(len(costs), np.arange(len(costs), dtype=np.int32), self.costs)
        usual = {row: (self.rows[0][row], self.rows[1][row]) for row in self._limits}
        self._limits = dict(limits)
        for row, (low, high) in {**usual, **limits}.items():
            self.solver.changeRowBounds(row, low, high)

    def solve(self, box: Box) -> Relaxed | None:
        """The relaxation within a box, None if nothing fits.

        :raises GaveUpError: where the solver ends without an answer to that.
        """
        self._bound(box)
        self.solver.run()
        status = self.solver.getModelStatus()
        if status == highspy.HighsModelStatus.kInfeasible:
            return None
        if status != highspy.HighsModelStatus.kOptimal:
            raise GaveUpError
        solution = self.solver.getSolution()
        return self._priced(np.array(solution.col_value), np.array(solution.row_dual), box)

    def limit(self, row: int, bounds: Limits) -> None:
        """Bound one row otherwise for the solves to come, until the next question."""
        if self._limits.get(row) != bounds:
            self._limits[row] = bounds
            self.solver.changeRowBounds(row, *bounds)

    def solve_surely(self, box: Box) -> Relaxed | None:
        """As :meth:`solve`, and once more from nothing where the solver lost its way.

        :raises GaveUpError: where it ends without an answer then too.
        """
        try:
            return self.solve(box)
        except GaveUpError:
            self.solver.clearSolver()
            return self.solve(box)

    def _bound(self, box: Box) -> None:
        old, self._box = self._box, box
        moved = np.ones(len(box.lows), dtype=bool)
        if old is not None:
            moved = (box.lows != old.lows) | (box.highs != old.highs)
        columns = np.flatnonzero(moved).astype(np.int32)
        if len(columns):
            self.solver.changeColsBounds(
                len(columns), columns, box.lows[columns], box.highs[columns]
            )

    def _priced(self, values: Numbers, duals: Numbers, box: Box) -> Relaxed:
        """The floor under every answer in the box.

        An answer x costs ``c x = d x + y A x`` with ``d = c - y A``, for any prices y of rows;
        each term is at least what its bounds allow.
        """
        lows, highs = self._row_bounds()
        duals[(duals > 0) & np.isneginf(lows)] = 0.0
        duals[(duals < 0) & np.isposinf(highs)] = 0.0
        rows, columns, factors = self.entries
        prices = self.costs - np.bincount(columns, factors * duals[rows], len(self.costs))
        floor = _least(duals, lows, highs) + _least(prices, box.lows, box.highs)
        return Relaxed(values, prices, floor)

    def _row_bounds(self) -> tuple[Numbers, Numbers]:
        if not self._limits:
            return self.rows
        lows, highs = self.rows[0].copy(), self.rows[1].copy()
        for row, (low, high) in self._limits.items():
            lows[row], highs[row] = low, high
        return lows, highs


def _least(factors: Numbers, lows: Numbers, highs: Numbers) -> float:
    """The least that factors times amounts between two bounds can be together.

    >>> _least(np.array([2.0, -1.0, 0.0]), np.zeros(3), np.array([1.0, 5.0, np.inf]))
    -5.0
    """
    active = factors != 0
    chosen = factors[active]
    return math.fsum(chosen * np.where(chosen > 0, lows[active], highs[active]))
