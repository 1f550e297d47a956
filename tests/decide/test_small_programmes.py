"""Searches of small programmes, each answer worked out beside it."""

from __future__ import annotations

import math
from types import SimpleNamespace

import numpy as np
import pytest

from budget.decide.model.model import Model
from budget.decide.programme.branching import Most, Search, branch
from budget.decide.programme.fronts import Front, TwoCosts
from budget.decide.programme.highs import Table, _believed
from budget.decide.programme.milp import Programme
from budget.decide.programme.search import Answer
from budget.decide.programme.staircase import HALF_MINUTE, Corner, Point, Staircase


def test_what_costs_next_to_nothing_is_branched_on_where_it_is_parted() -> None:
    """Of three at a tenth of a cent each two of any pair's ends: by halves 0.15, in whole two, 0.2.

    Others, that nothing asks for, stay at nothing, which is whole.
    """
    pairs = ((0, 1), (1, 2), (0, 2))
    rows = [({a: 1.0, b: 1.0}, 1.0, math.inf) for a, b in pairs]
    table = Table.of([1.0] * 6, [True] * 6, rows)
    relaxation = table.relaxation()
    relaxation.ask(np.full(6, 0.1), {})
    search = Search(None, math.inf)
    branch(relaxation, table.box([]), table.whole, search, Most(1, 60.0))
    assert search.proved
    assert search.least == pytest.approx(0.2)


def test_a_row_that_is_bounded_otherwise_for_a_solve_lifts_its_floor() -> None:
    """No less than 2.5 of what costs 4, where usually none need be: 10; afterwards nothing."""
    programme = Programme()
    column = programme.column({"cash": 4.0}, high=9.0)
    row = programme.row([(column, 1.0)], low=0.0)
    relaxation, box = programme._table.relaxation(), programme._table.box([])
    for limits, floor in (({row: (2.5, math.inf)}, 10.0), ({}, 0.0)):
        relaxation.ask(programme.costs({"cash": 1.0}), limits)
        relaxed = relaxation.solve(box)
        assert relaxed is not None
        assert relaxed.floor == pytest.approx(floor)


def test_a_step_a_cent_and_half_a_minute_below_its_neighbours_is_found() -> None:
    """One of three: ten hours for nothing, two for 10.00, and one just below both.

    Every answer takes 50.00 and three hours besides.
    """
    hours = 10.0 - HALF_MINUTE
    programme = Programme()
    columns = [
        programme.column({"cash": cash, "hours": time})
        for cash, time in ((0.0, 10.0), (1000.0, 2.0), (999.0, hours))
    ]
    programme.row([(c, 1.0) for c in columns], low=1.0, high=1.0)
    costs = [programme.costs({name: 1.0}) for name in ("cash", "hours")]
    rows = [programme.row([(c, float(f)) for c, f in enumerate(cost) if f]) for cost in costs]
    two = TwoCosts(costs[0], costs[1], Corner(5000.0, 3.0), rows[0], rows[1])
    stairs = Staircase([Point(5000.0, 13.0), Point(6000.0, 5.0)])
    ground = programme.ground((), {}, two)
    front = Front.below("", ground.box, Corner(5999.0, 3.0 + hours), 125.0)
    assert front.go_on(ground, stairs, math.inf)
    assert [(p.cash, p.hours) for p in stairs.points] == [
        (5000.0, 13.0), (5999.0, pytest.approx(3.0 + hours)), (6000.0, 5.0),
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("told", "proved", "believed"),
    [(30.0, True, True), (30.009, True, True), (31.0, True, False), (31.0, False, True)],
)
def test_a_solver_that_says_another_cost_than_its_answer_has_is_not_believed(
    told: float, proved: bool, believed: bool
) -> None:
    """Two of 10.00 and one of 10.00, said to be proved at 31.00; what is not proved is a bound."""
    solver = SimpleNamespace(getInfo=lambda: SimpleNamespace(objective_function_value=told))
    answer = Answer((2.0, 1.0), math.nan, proved, 0.0)
    costs = np.array([10.0, 10.0])
    if believed:
        assert _believed(solver, costs, answer) is answer
        return
    with pytest.raises(RuntimeError, match=r"31.00 where its answer costs 30.00"):
        _believed(solver, costs, answer)


@pytest.mark.parametrize(
    ("modelled", "total", "proved", "agree"),
    [
        (10000.0, 9997.0, True, True),  # two lines and a cent
        (10000.0, 10003.0, True, True),
        (10000.0, 9996.0, True, False),
        (10000.0, 10004.0, True, False),
        (10000.0, 9000.0, False, True),  # stopped: days of hire that the plan does not need
        (10000.0, 10004.0, False, False),
        (1e8, 1e8 - 103.0, True, True),  # a millionth of a million beside the lines
        (1e8, 1e8 - 104.0, True, False),
    ],
)
def test_programme_and_plan_cost_the_same_but_for_the_cents_of_lines(
    modelled: float, total: float, proved: bool, agree: bool
) -> None:
    answer = Answer((), modelled, proved, 0.0)
    if agree:
        Model._agree(answer, total, modelled, 2)
        return
    with pytest.raises(RuntimeError, match="they must agree"):
        Model._agree(answer, total, modelled, 2)
