"""The programme against plain enumeration of every plan, on random small jobs."""

from __future__ import annotations

from dataclasses import replace
from types import SimpleNamespace

import pytest

from budget.decide.frontier import frontier
from budget.decide.model.model import Model
from budget.decide.planner import Planner
from budget.decide.terms.situation import Situation
from budget.prices.options import DaysOut

#: Cents by which the rounding of lines that sum others may part the two.
ROUNDING = 2.0
#: Jobs with so many plans that to try them all takes seconds: left to the thorough cases.
MANY_PLANS = {12, 15, 22, 27, 29, 55, 59, 206, 211, 402, 404, 406, 412, 414, 416}


def seeds(first: int, end: int) -> list[object]:
    """Seeds of random jobs, those with many plans as thorough cases."""
    slow = pytest.mark.thorough
    return [pytest.param(n, marks=slow) if n in MANY_PLANS else n for n in range(first, end)]


@pytest.mark.parametrize("seed", seeds(0, 60))
def test_the_programme_finds_the_best_of_all_plans(make: SimpleNamespace, seed: int) -> None:
    finds_the_best(make, seed)


def test_the_jobs_try_all_that_a_delivery_may_ask(make: SimpleNamespace) -> None:
    """A fee that no job has is held against nothing; a pallet holds a tonne in all of them."""
    assert make.asked_alike(map(make.random_job, range(60))) == {"pallet_load"}


@pytest.mark.thorough
@pytest.mark.parametrize("seed", range(1000, 1330))
def test_it_does_on_many_more_jobs(make: SimpleNamespace, seed: int) -> None:
    finds_the_best(make, seed)


@pytest.mark.parametrize("seed", seeds(400, 420))
def test_it_does_where_machines_are_out_longer_than_their_hours(
    make: SimpleNamespace, seed: int
) -> None:
    """Every rented machine is out three days and one more, for one set of steps that use it."""
    takeoff, options = make.random_job(seed)
    situation = Situation(takeoff, options, "sand", frozenset())
    plans = make.all_priced(situation)
    users = {
        (hire.equipment, hire.machine): frozenset(
            step
            for step, value in plan.plan.steps.items()
            for m in situation.methods(step)
            if value == f"own: {m.key}" and m.machine == hire.equipment
        )
        for plan in plans
        for hire in plan.hires
    }
    out = tuple(
        DaysOut(equipment, key, steps, (3.0, 1.0))
        for (equipment, key), steps in sorted(users.items(), key=lambda u: u[0])
        if "Carry" not in steps
        and next(m for m in options.machines[equipment] if m.key == key).terms
    )
    longer = replace(options, days_out=out)
    finds_the_best_of(make, Situation(takeoff, longer, "sand", frozenset()), 500.0 * (seed % 4))


def finds_the_best(make: SimpleNamespace, seed: int) -> None:
    takeoff, options = make.random_job(seed)
    situation = Situation(takeoff, options, "sand", frozenset())
    finds_the_best_of(make, situation, (0.0, 500.0, 2000.0, 6000.0)[seed % 4])


def finds_the_best_of(make: SimpleNamespace, situation: Situation, hour_value: float) -> None:
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


@pytest.mark.parametrize("seed", seeds(200, 212))
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
