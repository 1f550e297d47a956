"""The programme against plain enumeration of every plan, on random small jobs."""

from __future__ import annotations

from types import SimpleNamespace

import pytest

from budget.decide.frontier import frontier
from budget.decide.model import Model
from budget.decide.planner import Planner
from budget.decide.situation import Situation

#: Cents by which the rounding of lines that sum others may part the two.
ROUNDING = 2.0


@pytest.mark.parametrize("seed", range(60))
def test_the_programme_finds_the_best_of_all_plans(make: SimpleNamespace, seed: int) -> None:
    finds_the_best(make, seed)


@pytest.mark.thorough
@pytest.mark.parametrize("seed", range(1000, 1330))
def test_it_does_on_many_more_jobs(make: SimpleNamespace, seed: int) -> None:
    finds_the_best(make, seed)


def finds_the_best(make: SimpleNamespace, seed: int) -> None:
    takeoff, options = make.random_job(seed)
    situation = Situation(takeoff, options, "sand", frozenset())
    hour_value = (0.0, 500.0, 2000.0, 6000.0)[seed % 4]
    best, count = make.best_by_hand(situation, hour_value)
    solved = Model(situation).solve(hour_value)
    if best is None:
        assert solved is None
        return
    assert count > 0
    assert solved is not None
    assert solved.proved
    assert len(solved.priced.missing) == len(best.missing)
    gap = solved.priced.total(hour_value) - best.total(hour_value)
    assert -1e-6 <= gap <= ROUNDING


@pytest.mark.parametrize("seed", range(200, 212))
def test_the_frontier_is_the_lower_edge_of_all_plans(make: SimpleNamespace, seed: int) -> None:
    takeoff, options = make.random_job(seed)
    situation = Situation(takeoff, options, "sand", frozenset())
    plans = make.all_priced(situation)
    points = frontier(Planner(takeoff, options), 2000.0)
    fewest = min((len(p.missing) for p in plans), default=0)
    plans = [p for p in plans if len(p.missing) == fewest]
    assert bool(points) == bool(plans)
    for hour_value in [0.5, *(10.0 * 2**n for n in range(14))]:
        if points:
            found = next(p for p in points if p.from_value <= hour_value <= p.to_value)
            least = min(p.total(hour_value) for p in plans)
            slack = ROUNDING + 1.0
            assert found.priced.total(hour_value) == pytest.approx(least, abs=slack)
