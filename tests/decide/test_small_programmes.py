"""Searches of small programmes, each answer worked out beside it."""

from __future__ import annotations

import math
from dataclasses import replace
from threading import current_thread
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest
from highspy import HighsModelStatus

from budget.decide.model.model import Model
from budget.decide.programme import branching, highs, search
from budget.decide.programme.branching import Most, Search, branch
from budget.decide.programme.fronts import Front, Ground, TwoCosts
from budget.decide.programme.highs import Table, _believed
from budget.decide.programme.milp import Programme, _stopped
from budget.decide.programme.relaxation import Box, Numbers, Relaxed
from budget.decide.programme.search import Answer, NothingFoundError, Seconds
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
    found = Search(None, math.inf)
    branch(relaxation, table.box([]), table.whole, found, Most(1, 60.0))
    assert found.proved
    assert found.least == pytest.approx(0.2)


@pytest.mark.parametrize("cost", [4.0, 0.5])
def test_a_row_that_is_bounded_otherwise_for_a_solve_lifts_its_floor(cost: float) -> None:
    """No less than 2.5 of a column, where usually none need be; afterwards nothing."""
    programme = Programme()
    column = programme.column({"cash": cost}, high=9.0)
    row = programme.row([(column, 1.0)], low=0.0)
    relaxation, box = programme._table.relaxation(), programme._table.box([])
    for limits, amount in (({row: (2.5, math.inf)}, 2.5), ({}, 0.0)):
        relaxation.ask(programme.costs({"cash": 1.0}), limits)
        relaxed = relaxation.solve(box)
        assert relaxed is not None
        assert relaxed.values.tolist() == [pytest.approx(amount)]
        assert relaxed.floor == pytest.approx(amount * cost)


def test_no_column_of_an_answer_is_less_than_nothing() -> None:
    """A hair below nothing, as solvers say it, is nothing, not minus nothing."""
    values = np.array([-1e-12, -0.0, 2.0 + 1e-12])
    relaxed = Relaxed(values, np.zeros(3), 4.0)
    relaxation: Any = SimpleNamespace(costs=np.array([1.0, 1.0, 2.0]), solve=lambda _: relaxed)
    found = Search(None, math.inf)
    box = Box(np.zeros(3), np.full(3, 9.0))
    branch(relaxation, box, np.array([True] * 3), found, Most(1, 60.0))
    assert found.proved
    assert found.best is not None
    assert found.best.tolist() == [0.0, 0.0, 2.0]
    assert not np.signbit(found.best).any()


@pytest.mark.parametrize(("branches", "seconds", "solved"), [(1, 60.0, True), (10**9, -1.0, False)])
def test_branching_ends_unproved_after_its_branches_or_its_seconds(
    monkeypatch: pytest.MonkeyPatch, branches: int, seconds: float, solved: bool
) -> None:
    """Least of a column of no less than 1.5: whole it is two, which takes a second solve."""
    monkeypatch.setattr(branching, "MOST_BRANCHES", branches)
    table = Table.of([9.0], [True], [({0: 2.0}, 3.0, math.inf)])
    relaxation = table.relaxation()
    relaxation.ask(np.array([1.0]), {})
    found = Search(None, math.inf)
    branch(relaxation, table.box([]), table.whole, found, Most(1, seconds))
    assert (found.proved, found.best) == (False, None)
    assert (found.root is not None) == solved


def test_a_step_a_cent_and_half_a_minute_below_its_neighbours_is_found() -> None:
    """One of three: ten hours for nothing, two for 10.00, and one just below both.

    Every answer takes 50.00 besides, and one and a half of what is two hours and may be parted.
    """
    hours = 10.0 - HALF_MINUTE
    programme = Programme()
    columns = [
        programme.column({"cash": cash, "hours": time})
        for cash, time in ((0.0, 10.0), (1000.0, 2.0), (999.0, hours))
    ]
    programme.row([(c, 1.0) for c in columns], low=1.0, high=1.0)
    parted = programme.column({"hours": 2.0}, high=9.0, whole=False)
    programme.row([(parted, 1.0)], low=1.5)
    costs = [programme.costs({name: 1.0}) for name in ("cash", "hours")]
    rows = [programme.row([(c, float(f)) for c, f in enumerate(cost) if f]) for cost in costs]
    two = TwoCosts(costs[0], costs[1], Corner(5000.0, 0.0), rows[0], rows[1])
    stairs = Staircase([Point(5000.0, 13.0), Point(6000.0, 5.0)])
    ground = programme.ground((), {}, two)
    front = Front.below("", ground.box, Corner(5999.0, 3.0 + hours), 125.0)
    assert not front.go_on(ground, stairs, -math.inf)  # no time for anything
    assert len(stairs.points) == 2
    assert front.go_on(ground, stairs, math.inf)
    assert [(p.cash, p.hours) for p in stairs.points] == [
        (5000.0, 13.0), (5999.0, pytest.approx(3.0 + hours)), (6000.0, 5.0),
    ]  # fmt: skip


def test_no_column_of_a_step_is_less_than_nothing() -> None:
    """A hair below nothing, as solvers say it, is nothing, not minus nothing."""
    relaxed = [None, Relaxed(np.array([-1e-12, 1.0]), np.zeros(2), 0.0)]
    relaxation: Any = Watched()
    relaxation.solve_surely = lambda _: relaxed.pop() if relaxed else None
    two = TwoCosts(np.array([300.0, 200.0]), np.array([0.5, 4.0]), Corner(0.0, 0.0), 0, 1)
    box = Box(np.zeros(2), np.ones(2))
    ground = Ground(relaxation, box, np.array([True] * 2), two, np.zeros(2), {})
    stairs = Staircase([Point(0.0, 10.0), Point(1000.0, 2.0)])
    front = Front.below("", box, Corner(999.0, 10.0 - HALF_MINUTE), 125.0)
    assert front.go_on(ground, stairs, math.inf)
    (step,) = (point.values for point in stairs.points if point.values is not None)
    assert step.tolist() == [0.0, 1.0]
    assert not np.signbit(step).any()


@pytest.mark.parametrize(
    ("told", "proved", "believed"),
    [(30.0, True, True), (30.01002, True, True), (31.0, True, False), (31.0, False, True)],
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


@pytest.mark.parametrize(
    ("second", "corner"),
    [
        (Point(1001.0, 2.0), (1000.0, 9.0 - HALF_MINUTE)),  # for the same cash
        (Point(2000.0, 9.0 - HALF_MINUTE), (1999.0, 9.0 - HALF_MINUTE)),  # for as many hours
        (Point(1000.5, 2.0), None),
        (Point(2000.0, 9.0 - HALF_MINUTE / 2.0), None),
    ],
)
def test_what_lies_beside_steps_that_are_near_is_looked_for(
    second: Point, corner: tuple[float, float] | None
) -> None:
    """A cent and half a minute is what one must lie below the other by."""
    stairs = Staircase([Point(1000.0, 9.0), second])
    found = [(c.cash, c.hours) for c in stairs.corners(Corner(9999.0, 99.0))]
    assert found == ([corner] if corner else [])


@pytest.mark.parametrize(
    ("prices", "floor"),
    [
        ((0.5, -0.5), 0.0),  # more than nothing for what has no least: such a price says nothing
        ((-0.5, 0.5), -1.5),  # 5 at -0.50 and 2 at 0.50; the column would cost 4.00 still
        ((0.0, 4.0), 8.0),
        ((0.0, 6.0), -6.0),  # 2 at 6.00, and up to nine of the column at -2.00
    ],
)
def test_prices_of_rows_that_are_open_to_one_side_give_a_floor(
    prices: tuple[float, float], floor: float
) -> None:
    """Up to nine of a column at 4.00: one row asks for five at the most, one for two at least."""
    table = Table.of([9.0], [True], [({0: 1.0}, -math.inf, 5.0), ({0: 1.0}, 2.0, math.inf)])
    relaxation = table.relaxation()
    relaxation.ask(np.array([4.0]), {})
    found = relaxation._priced(np.zeros(1), np.array(prices), table.box([]))
    assert found.floor == pytest.approx(floor)


@pytest.mark.parametrize(("cost", "end"), [(1.0, 0), (-1.0, 1)])
def test_each_solve_keeps_to_its_own_box(cost: float, end: int) -> None:
    """The least of a column is its low, the most its high; of another nothing is moved."""
    table = Table.of([9.0, 9.0], [True, True], [({0: 1.0, 1: 1.0}, 0.0, math.inf)])
    relaxation = table.relaxation()
    relaxation.ask(np.array([cost, cost]), {})
    for ends in ((0.0, 9.0), (3.0, 9.0), (3.0, 4.0), (0.0, 4.0), (0.0, 9.0)):
        box = Box(np.array([ends[0], 0.0]), np.array([ends[1], 9.0]))
        found = relaxation.solve(box)
        assert found is not None
        assert found.values.tolist() == pytest.approx([ends[end], (0.0, 9.0)[end]])


class Watched:
    """A relaxation that is asked, and finds nothing."""

    def __init__(self) -> None:
        self.costs: list[float] = []
        self.limits: dict[int, tuple[float, float]] = {}
        self.boxes = 0

    def ask(self, costs: Numbers, _: object) -> None:
        self.costs = costs.tolist()

    def limit(self, row: int, bounds: tuple[float, float]) -> None:
        self.limits[row] = bounds

    def solve_surely(self, _: object) -> None:
        self.boxes += 1


@pytest.mark.parametrize(("beyond", "boxes"), [(-100.0, 1), (0.01, 1), (0.03, 0)])
def test_a_search_of_two_costs_asks_for_what_lies_below_its_corners(
    beyond: float, boxes: int
) -> None:
    """Steps at ten hours and 0.00, at five and 3.00, at two and 10.00; an hour is worth 1.25.

    The corners are at 2.99 and half a minute less than ten hours, 15.48, and at 9.99 and as much
    less than five, 16.23. Every answer takes 1.00 and an hour besides.
    """
    relaxation: Any = Watched()
    two = TwoCosts(np.array([300.0, 7.0]), np.array([0.5, 2.0]), Corner(100.0, 1.0), 3, 4)
    ground = Ground(relaxation, Box(np.zeros(2), np.ones(2)), np.array([True] * 2), two,
                    np.array([0.25, 0.5]), {})  # fmt: skip
    stairs = Staircase([Point(0.0, 10.0), Point(300.0, 5.0), Point(1000.0, 2.0)])
    front = Front.below("", ground.box, Corner(999.0, 10.0 - HALF_MINUTE), 125.0)
    highest = 999.0 + 125.0 * (5.0 - HALF_MINUTE)
    front.open = [replace(front.open[0], floor=highest + beyond)]
    assert front.go_on(ground, stairs, math.inf)
    assert relaxation.costs == [300.0 + 125.0 * 0.5 + 0.25, 7.0 + 125.0 * 2.0 + 0.5]
    assert relaxation.boxes == boxes
    if beyond < -1.0:
        assert relaxation.limits == {
            3: (-math.inf, 999.0 - 100.0),
            4: (-math.inf, pytest.approx(10.0 - HALF_MINUTE - 1.0)),
        }


def test_a_column_stays_only_where_to_move_it_costs_more_than_is_asked_for() -> None:
    """A floor of 1.00 and at most 3.00: at 2.00 a move just fits, at 2.01 it does not.

    So it does for the two that lie at their most; a column that may be parted stays free.
    """
    prices = np.array([200.0, 201.0, -200.0, -201.0, 500.0])
    relaxed = Relaxed(np.zeros(5), prices, 100.0)
    whole = np.array([True, True, True, True, False])
    held = relaxed.held(Box(np.zeros(5), np.ones(5)), whole, 300.0)
    assert held.lows.tolist() == [0.0, 0.0, 0.0, 1.0, 0.0]
    assert held.highs.tolist() == [1.0, 0.0, 1.0, 1.0, 1.0]


@pytest.mark.parametrize(("given_up", "ends"), [(True, True), (False, False)])
def test_the_solvers_search_is_told_to_end_once_nobody_waits(
    monkeypatch: pytest.MonkeyPatch, given_up: bool, ends: bool
) -> None:
    monkeypatch.setattr(highs, "given_up", lambda: given_up)
    told = SimpleNamespace(user_interrupt=False)
    highs._listened(0.0, SimpleNamespace(mip_gap=0.1), told)
    assert told.user_interrupt is ends


@pytest.mark.parametrize(
    ("status", "proved", "gap"),
    [(HighsModelStatus.kOptimal, True, 0.0), (HighsModelStatus.kTimeLimit, False, 0.05)],
)
def test_an_answer_that_the_solver_did_not_prove_has_its_gap(
    status: HighsModelStatus, proved: bool, gap: float
) -> None:
    solver = SimpleNamespace(
        getModelStatus=lambda: status,
        getSolution=lambda: SimpleNamespace(value_valid=True, col_value=[0.9999999, 0.25, -1e-9]),
        getInfo=lambda: SimpleNamespace(mip_gap=0.05),
    )
    found = highs._answer(solver, np.array([True, False, True]), 1.0)
    assert found is not None
    assert (found.values, found.proved, found.gap) == ((1.0, 0.25, 0.0), proved, gap)
    assert math.copysign(1.0, found.values[2]) == 1.0  # not minus nothing


def test_a_search_that_ends_by_itself_leaves_others_given_up(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(search._NOW, "given_up", True)
    with search.side_by_side(1) as pool:
        assert pool.submit(abs, -1).result() == 1
    assert search.given_up()


@pytest.mark.parametrize("second", [None, (0.0, 1.0), (1.0, 0.0)])
def test_what_the_longer_search_finds_no_better_leaves_what_is_known(
    monkeypatch: pytest.MonkeyPatch, second: tuple[float, float] | None
) -> None:
    """One of two, for 1.00 or 2.00: the cheap one is known, and found again or nothing is."""
    programme = Programme()
    columns = [programme.column({"cash": cash}) for cash in (100.0, 200.0)]
    programme.row([(c, 1.0) for c in columns], low=1.0)
    known = programme.solve({"cash": 1.0})
    assert known is not None
    found = None if second is None else Answer(second, math.nan, True, 0.0)
    monkeypatch.setattr(branching, "MOST_BRANCHES", 0)
    monkeypatch.setattr(highs, "search", lambda *_: found)
    again = programme.solve({"cash": 1.0})
    assert again is not None
    assert again == Answer((1.0, 0.0), 100.0, True, 0.0)


@pytest.mark.parametrize("known", [True, False])
def test_where_the_longer_search_finds_nothing_what_is_known_is_the_answer(
    monkeypatch: pytest.MonkeyPatch, known: bool
) -> None:
    """One of two, for 1.00 or 2.00: the cheap one is known, but not that none is cheaper."""

    def nothing(*_: object) -> None:
        raise NothingFoundError

    programme = Programme()
    columns = [programme.column({"cash": cash}) for cash in (100.0, 200.0)]
    programme.row([(c, 1.0) for c in columns], low=1.0)
    if known:
        programme.solve({"cash": 1.0})
    monkeypatch.setattr(branching, "MOST_BRANCHES", 0)
    monkeypatch.setattr(highs, "search", nothing)
    if not known:
        with pytest.raises(NothingFoundError):
            programme.solve({"cash": 1.0})
        return
    found = programme.solve({"cash": 1.0})
    assert found is not None
    assert (found.values, found.objective, found.proved) == ((1.0, 0.0), 100.0, False)


@pytest.mark.parametrize("cost", [1.0, -1.0])
def test_a_row_that_is_bounded_otherwise_for_one_search_is_as_before_in_the_next(
    cost: float,
) -> None:
    """Two to five of a column, for once three to four: the fewest are asked for, or the most."""
    table = Table.of([9.0], [True], [({0: 1.0}, 2.0, 5.0)])
    solver, time = table.searcher(), Seconds(60.0, 60.0)
    for limits, fewest, most in (({}, 2.0, 5.0), ({0: (3.0, 4.0)}, 3.0, 4.0), ({}, 2.0, 5.0)):
        found = highs.search(solver, table, np.array([cost]), table.box([]), limits, time)
        assert found is not None
        assert found.values == (fewest if cost > 0 else most,)


def test_the_first_thread_waits_for_a_search_and_others_do_it_themselves() -> None:
    """Only a thread that waits hears of an interruption, which the first one is told of."""
    ran: list[object] = []
    given: list[tuple[object, ...]] = []
    solver = SimpleNamespace(
        setCallback=lambda *_: None, startCallback=lambda _: None, clearSolver=lambda: None,
        setOptionValue=lambda *option: given.append(option), getRunTime=lambda: 7.0,
        run=lambda: ran.append(current_thread()),
    )  # fmt: skip
    highs._run(solver, 1.0)
    with search.side_by_side(1) as pool:
        other = pool.submit(current_thread).result()
        pool.submit(highs._run, solver, 1.0).result()
    assert current_thread() not in ran
    assert ran[1] is other
    assert given == [("time_limit", 8.0)] * 2  # a second more than it ran already


@pytest.mark.parametrize(
    ("status", "error", "words"),
    [
        (HighsModelStatus.kTimeLimit, NothingFoundError, "no plan was found within 2.5 seconds"),
        (HighsModelStatus.kSolveError, RuntimeError, "the solver stopped: so it says"),
    ],
)
def test_a_search_without_an_answer_says_why(
    status: HighsModelStatus, error: type[Exception], words: str
) -> None:
    solver = SimpleNamespace(
        getModelStatus=lambda: status, modelStatusToString=lambda _: "so it says",
        getSolution=lambda: SimpleNamespace(value_valid=False),
    )  # fmt: skip
    with pytest.raises(error, match=words):
        highs._answer(solver, np.array([True]), 2.5)


@pytest.mark.parametrize(
    ("floor", "known", "second", "values", "gap"),
    [
        # floor of the relaxation, known for, (found for, at most so much off), taken, at most off
        (90.0, None, (100.0, 0.2), 2.0, 0.1),  # no less than 90, and than 80
        (90.0, None, (100.0, 0.05), 2.0, 0.05),
        (None, None, (100.0, 0.05), 2.0, 0.05),
        (None, None, (100.0, math.inf), 2.0, math.inf),
        (90.0, 98.0, (100.0, 0.05), 1.0, 3.0 / 98.0),  # the known one is better
        (90.0, 100.0, (100.0, 0.05), 2.0, 0.05),  # as good
        (90.0, 98.0, None, 1.0, 8.0 / 98.0),
        (None, 98.0, None, 1.0, math.inf),
        (101.0, None, (100.0, 0.05), 2.0, 0.0),  # but for rounding
        (0.25, None, (0.5, math.inf), 2.0, 0.25),  # of less than a cent: of a cent
        (-40.0, None, (-20.0, 0.5), 2.0, 0.5),  # no less than -40, and than -30
    ],
)
def test_of_two_searches_that_were_stopped_the_better_is_told_with_what_both_prove(
    floor: float | None, known: float | None, second: tuple[float, float] | None,
    values: float, gap: float,
) -> None:  # fmt: skip
    best = None if known is None else np.array([1.0])
    root = None if floor is None else Relaxed(np.zeros(1), np.zeros(1), floor)
    begun = Search(best, math.inf if known is None else known, root)
    answer = second and Answer((2.0,), math.nan, False, second[1])
    found = _stopped(begun, answer, second[0] if second else math.nan)
    assert (found.values, found.proved) == ((values,), False)
    assert found.gap == pytest.approx(gap)


def test_two_stopped_searches_that_found_nothing_say_so() -> None:
    with pytest.raises(NothingFoundError):
        _stopped(Search(None, math.inf), None, math.nan)


def test_columns_that_come_later_cost_a_hair_more() -> None:
    """The first at its most five millionths of a cent and each as much more; the last of a thousand
    two thousandths. What may be parted costs nothing more.
    """
    programme = Programme()
    for high, whole in ((1.0, True), (4.0, True), (9.0, False), (0.5, True)):
        programme.column(high=high, whole=whole)
    assert programme._ties.tolist() == pytest.approx([5e-6, 2.5e-6, 0.0, 15e-6])
    large = Programme()
    for _ in range(1000):
        large.column()
    assert large._ties[[0, 499, 999]].tolist() == pytest.approx([2e-6, 1e-3, 2e-3])
