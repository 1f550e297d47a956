"""The kept programme against another exact solver, over many changed solves."""

from __future__ import annotations

import math
import random

import numpy as np
import pytest
from ortools.sat.python import cp_model

from budget.decide.programme.milp import Programme
from budget.decide.programme.search import Answer


def random_programme(r: random.Random) -> Programme:
    """A small covering and packing programme in whole numbers."""
    programme = Programme()
    for _ in range(r.randint(6, 14)):
        objectives = {"cash": float(r.randint(0, 400)), "hours": float(r.randint(0, 9))}
        programme.column(objectives, high=float(r.choice([1, 1, 1, 4])))
    columns = range(len(programme.objectives))
    for _ in range(r.randint(4, 9)):
        chosen = r.sample(columns, r.randint(2, 5))
        terms = [(c, float(r.randint(1, 6))) for c in chosen]
        if r.random() < 0.7:
            programme.row(terms, low=float(r.randint(1, 7)))
        else:
            programme.row(terms, high=float(r.randint(4, 12)))
    programme.row([(c, 1.0) for c in columns])
    return programme


def by_cp_sat(
    programme: Programme, hour_value: int, shut: set[int], row: int, most: int
) -> int | None:
    """The same least objective by a solver of another kind."""
    model = cp_model.CpModel()
    columns = [
        model.new_int_var(0, 0 if c in shut else int(high), f"c{c}")
        for c, high in enumerate(programme.highs)
    ]
    for number, (terms, low, high) in enumerate(programme.rows):
        total = sum(int(f) * columns[c] for c, f in terms.items())
        if math.isfinite(low):
            model.add(total >= int(low))
        if math.isfinite(high):
            model.add(total <= int(high))
        if number == row:
            model.add(total <= most)
    costs = programme.costs({"cash": 1.0, "hours": float(hour_value)}).tolist()
    model.minimize(sum(int(k) * x for k, x in zip(costs, columns, strict=True)))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    if solver.solve(model) != cp_model.OPTIMAL:
        return None
    return round(solver.objective_value)


@pytest.mark.parametrize("branches", [120, 1], ids=["branching", "the solver's own search"])
@pytest.mark.parametrize("seed", range(40))
def test_every_solve_of_a_kept_programme_is_the_least(
    monkeypatch: pytest.MonkeyPatch, seed: int, branches: int
) -> None:
    monkeypatch.setattr("budget.decide.programme.branching.MOST_BRANCHES", branches)
    r = random.Random(seed)
    programme = random_programme(r)
    last = len(programme.rows) - 1
    for _ in range(8):
        hour_value = r.choice([0, 3, 20, 75, 200])
        shut = set(r.sample(range(len(programme.highs)), r.choice([0, 0, 1, 2])))
        most = r.choice([99, 99, 6, 4])
        expected = by_cp_sat(programme, hour_value, shut, last, most)
        weights = {"cash": 1.0, "hours": float(hour_value)}
        bounds = {last: (-math.inf, float(most))}
        found = programme.solve(weights, shut, bounds)
        assert (found is None) == (expected is None)
        if found is None or expected is None:
            continue
        assert found.proved
        assert found.gap == 0
        assert found.objective == pytest.approx(expected, abs=1e-6)
        assert all(found.values[c] == 0 for c in shut)
        for limit in (expected + 5.0, float(expected), expected - 5.0):
            near = programme.solve(weights, shut, bounds, at_most=limit)
            if limit >= expected:
                assert near is not None
                assert near.objective == pytest.approx(expected, abs=1e-6)
            else:
                assert near is None or near.objective > limit


def test_ties_go_to_the_column_that_comes_first() -> None:
    programme = Programme()
    columns = [programme.column({"cash": 100.0}) for _ in range(5)]
    programme.row([(c, 1.0) for c in columns], low=1.0, high=1.0)
    found = programme.solve({"cash": 1.0})
    assert found is not None
    assert found.values == (1.0, 0.0, 0.0, 0.0, 0.0)
    again = programme.solve({"cash": 1.0}, shut=columns[:2])
    assert again is not None
    assert again.values == (0.0, 0.0, 1.0, 0.0, 0.0)


@pytest.mark.parametrize("seed", range(20))
def test_any_prices_of_rows_give_a_floor_that_no_answer_goes_below(seed: int) -> None:
    r = random.Random(seed)
    programme = random_programme(r)
    least = by_cp_sat(programme, 20, set(), len(programme.rows) - 1, 99)
    relaxation, table = programme._table.relaxation(), programme._table
    relaxation.ask(programme.costs({"cash": 1.0, "hours": 20.0}), {})
    for _ in range(50):
        prices = np.array([r.uniform(-200, 200) for _ in programme.rows])
        floor = relaxation._priced(np.zeros(len(table.highs)), prices, table.box([])).floor
        assert least is None or floor <= least + 1e-6


@pytest.mark.parametrize("seed", range(20))
def test_no_answer_as_good_as_asked_moves_a_column_that_is_held(seed: int) -> None:
    r = random.Random(seed)
    programme = random_programme(r)
    found = programme.solve({"cash": 1.0})
    if found is None:
        return
    box, relaxation = programme._table.box([]), programme._table.relaxation()
    relaxation.ask(programme.costs({"cash": 1.0}), {})
    relaxed = relaxation.solve(box)
    assert relaxed is not None
    held = relaxed.held(box, programme._table.whole, found.objective + 1e-6)
    values = np.array(found.values)
    assert (held.lows <= values).all()
    assert (values <= held.highs).all()


@pytest.mark.parametrize(
    ("rows", "bounds", "fits"),
    [
        ([], {}, True),
        ([(0.0, 5.0)], {}, True),
        ([(0.0, 0.0), (1.0, 5.0)], {}, False),
        ([(-5.0, -1.0)], {}, False),
        ([(1.0, 5.0)], {0: (-5.0, 5.0)}, True),
        ([(0.0, 5.0)], {0: (1.0, 5.0)}, False),
    ],
)
def test_a_programme_without_columns_is_solved_where_nothing_fits_its_rows(
    rows: list[tuple[float, float]], bounds: dict[int, tuple[float, float]], fits: bool
) -> None:
    programme = Programme()
    for low, high in rows:
        programme.row([], low, high)
    found = programme.solve({"cash": 1.0}, bounds=bounds)
    assert (found is not None) == fits
    assert found is None or found == Answer((), 0.0, True, 0.0)
