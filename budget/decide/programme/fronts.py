"""Every answer of a programme that lies below a staircase of cash and own hours, in one tree.

The search branches on the kept relaxation, as :mod:`budget.decide.programme.branching` does, at
the value of an hour at which the two ends of the staircase cost the same. A box of columns is done
with when its floor lies above every corner of the staircase that it could still reach. Where the
relaxation is whole it is an answer: a new step, on whose two sides, less cash and fewer hours, the
box is searched on. So one tree finds all steps; solving for one after another would prove much the
same anew for each. The method is branch and bound for two objectives (from memory: Mavrotas and
Diakoulaki 1998; limits of both objectives in the boxes as in Parragh and Tricoire 2019).
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from budget.decide.programme.branching import LESS
from budget.decide.programme.relaxation import (
    WHOLE,
    Box,
    Flags,
    GaveUpError,
    Limits,
    Numbers,
    Relaxation,
    Relaxed,
)
from budget.decide.programme.search import end_if_given_up, worked
from budget.decide.programme.staircase import CENT, HALF_MINUTE, Corner, Point, Staircase

#: Cents kept free against rounding in the solver and what equal answers are told apart by.
FREE = 0.02


@dataclass(frozen=True, slots=True)
class TwoCosts:
    """Cash [cents] and own hours of each column, what every answer takes, and their rows."""

    cash: Numbers
    hours: Numbers
    fixed: Corner
    cash_row: int
    hours_row: int

    def of(self, values: Numbers) -> Corner:
        """Cash and hours of an answer."""
        return Corner(
            math.fsum(self.cash * values) + self.fixed.cash,
            math.fsum(self.hours * values) + self.fixed.hours,
        )


@dataclass(frozen=True, slots=True)
class Ground:
    """A programme to be searched: its relaxation, columns, costs and the bounds of its rows."""

    relaxation: Relaxation
    box: Box
    whole: Flags
    costs: TwoCosts
    ties: Numbers
    limits: Mapping[int, Limits]


@dataclass(frozen=True, slots=True)
class _Open:
    floor: float  # cents at the hour value
    box: Box
    most: Corner


@dataclass(slots=True)
class Front:
    """A search under way: what is open, and whether nothing was lost so far."""

    bedding: str
    value: float  # cents an hour
    open: list[_Open]
    proved: bool = True  # the solver never gave up

    @classmethod
    def below(cls, bedding: str, box: Box, most: Corner, value: float) -> Front:
        """A search in a box of columns, for all of at most so much cash and so many hours."""
        return cls(bedding, value, [_Open(-math.inf, box, most)])

    def go_on(self, ground: Ground, stairs: Staircase, until: float) -> bool:
        """Search until nothing is open, or a time of its :func:`worked`; whether all is done.

        Steps that are found are added to ``stairs``.

        :raises GivenUpError: of :mod:`budget.decide.programme.search`.
        """
        costs = ground.costs.cash + self.value * ground.costs.hours + ground.ties
        ground.relaxation.ask(costs, ground.limits)
        while self.open:
            end_if_given_up()
            if worked() > until:
                return False
            self._one(ground, stairs, self.open.pop())
        return True

    def _one(self, ground: Ground, stairs: Staircase, node: _Open) -> None:
        """Solve one box, and open what is left of it."""
        corners = [c for c in stairs.corners(node.most) if c.at(self.value) + FREE >= node.floor]
        if not corners:
            return
        most = Corner(max(c.cash for c in corners), max(c.hours for c in corners))
        fixed = ground.costs.fixed
        ground.relaxation.limit(ground.costs.cash_row, (-math.inf, most.cash - fixed.cash))
        ground.relaxation.limit(ground.costs.hours_row, (-math.inf, most.hours - fixed.hours))
        try:
            relaxed = ground.relaxation.solve_surely(node.box)
        except GaveUpError:
            self.proved = False
            return
        room = max(c.at(self.value) for c in corners) + FREE - fixed.at(self.value)
        if relaxed is not None and relaxed.floor <= room:
            self._divide(ground, stairs, relaxed, _Open(node.floor, node.box, most), room)

    def _divide(
        self, ground: Ground, stairs: Staircase, relaxed: Relaxed, node: _Open, room: float
    ) -> None:
        """Open the two sides of a step that was found, or of the column to branch on."""
        floor = relaxed.floor + ground.costs.fixed.at(self.value)
        values, whole = relaxed.values, ground.whole
        parts = np.where(whole, np.abs(values - np.round(values)), 0.0)
        if parts.max() <= WHOLE:
            values = np.where(whole, np.round(values), values) + 0.0  # no minus zero
            found = ground.costs.of(values)
            stairs.add(Point(found.cash, found.hours, self.bedding, values))
            fewer = Corner(node.most.cash, min(node.most.hours, found.hours) - HALF_MINUTE)
            less = Corner(min(node.most.cash, found.cash) - CENT, node.most.hours)
            self.open += [_Open(floor, node.box, less), _Open(floor, node.box, fewer)]
            return
        costs = np.abs(ground.relaxation.costs)
        column = int(np.argmax(np.where(parts > WHOLE, parts * (1.0 + costs), 0.0)))
        below, above = relaxed.held(node.box, whole, room + LESS).split(column, values[column])
        sides = [_Open(floor, below, node.most), _Open(floor, above, node.most)]
        self.open += sides if values[column] % 1.0 > 0.5 else sides[::-1]
