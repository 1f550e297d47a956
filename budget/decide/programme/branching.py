"""The least whole answer of a small programme, by branching on its relaxation.

Where the relaxation takes a part of a whole column, the answer lies on one side of it or on the
other; each side is solved again, a few steps of the warm solver. A side whose floor is not below
the best answer so far is done with. Most plans of a home job are proved in under thirty branches
of half a thousandth of a second each; a programme that takes many more is left to the whole
solver, which knows more ways to tighten it.
"""

from __future__ import annotations

import math
import time
from dataclasses import dataclass

import numpy as np

from budget.decide.programme.relaxation import (
    WHOLE,
    Box,
    Flags,
    GaveUpError,
    Numbers,
    Relaxation,
    Relaxed,
)
from budget.decide.programme.search import end_if_given_up

#: Cents by which an answer must be below another: less than what equal ones are told apart by.
LESS = 1e-6


#: Solves of the relaxation after which a programme is left to the whole solver.
MOST_BRANCHES = 120


@dataclass(frozen=True, slots=True)
class Most:
    """When a search ends unproved: so many times the usual branches, or so many seconds."""

    longer: int
    seconds: float


@dataclass(slots=True)
class Search:
    """A search under way: the best answer so far, what it costs, and whether none is better."""

    best: Numbers | None
    least: float  # answers at or above this are not looked for
    root: Relaxed | None = None  # the relaxation of the whole programme
    proved: bool = False


def branch(
    relaxation: Relaxation, box: Box, whole: Flags, search: Search, most: Most
) -> None:  # fmt: skip
    """Look for the least answer within a box, from what the search knows to its proof.

    The search ends unproved at ``most``, or where the solver gives up.

    :raises GivenUpError: of :mod:`budget.decide.programme.search`.
    """
    end = time.monotonic() + most.seconds
    open_boxes = [(-math.inf, box)]
    solves = 0
    while open_boxes:
        end_if_given_up()
        floor, box = open_boxes.pop()
        if floor > search.least - LESS:
            continue
        if solves == most.longer * MOST_BRANCHES or time.monotonic() > end:
            return
        solves += 1
        try:
            relaxed = relaxation.solve(box)
        except GaveUpError:
            return
        if solves == 1:
            search.root = relaxed
        if relaxed is not None and relaxed.floor <= search.least - LESS:
            open_boxes += _sides(relaxation, relaxed, box, whole, search)
    search.proved = True


def _sides(
    relaxation: Relaxation, relaxed: Relaxed, box: Box, whole: Flags, search: Search
) -> list[tuple[float, Box]]:
    """The two sides of the column to branch on, the likelier one last; none if all are whole."""
    values = relaxed.values
    parts = np.where(whole, np.abs(values - np.round(values)), 0.0)
    if parts.max() <= WHOLE:
        rounded = np.where(whole, np.round(values), values)
        _keep(relaxation, rounded + 0.0, search)  # no minus zero
        return []
    column = int(np.argmax(np.where(parts > WHOLE, parts * (1.0 + np.abs(relaxation.costs)), 0.0)))
    below, above = relaxed.held(box, whole, search.least).split(column, values[column])
    sides = [(relaxed.floor, below), (relaxed.floor, above)]
    return sides if values[column] % 1.0 > 0.5 else sides[::-1]


def _keep(relaxation: Relaxation, values: Numbers, search: Search) -> None:
    cost = math.fsum(relaxation.costs * values)
    if cost < search.least - LESS:
        search.best, search.least = values, cost
