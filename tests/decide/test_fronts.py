"""All answers below a staircase of two costs, against every answer of small programmes."""

from __future__ import annotations

import itertools
import math
import random

import numpy as np
import pytest

from budget.decide.programme.fronts import Front, TwoCosts
from budget.decide.programme.milp import Programme
from budget.decide.programme.staircase import HALF_MINUTE, Corner, Point, Staircase


def made_up(seed: int) -> Programme:
    """Whole columns with cents and hours, and rows that ask for some of them or hold some back."""
    rng = random.Random(seed)
    programme = Programme()
    for _ in range(rng.randint(5, 8)):
        cash = rng.randint(0, 900)  # what costs more mostly takes fewer hours
        hours = (900 - cash) // 3 + rng.randint(0, 60)
        programme.column(
            {"cash": float(cash), "hours": hours / 16.0}, high=float(rng.choice((1, 1, 2, 3)))
        )
    count = len(programme.objectives)
    for _ in range(rng.randint(2, 5)):
        some = rng.sample(range(count), rng.randint(2, count))
        terms = [(c, float(rng.randint(1, 4))) for c in some]
        if rng.random() < 0.7:
            programme.row(terms, low=float(rng.randint(2, 8)))
        else:
            programme.row(terms, high=float(rng.randint(4, 9)))
    return programme


def every_point(programme: Programme) -> list[tuple[float, float]]:
    """Cash and hours of every answer, by trying all."""
    found = set()
    for values in itertools.product(*(range(int(high) + 1) for high in programme.highs)):
        sums = [sum(f * values[c] for c, f in row.items()) for row, _, _ in programme.rows]
        bounds = [(low, high) for _, low, high in programme.rows]
        if all(low <= s <= high for s, (low, high) in zip(sums, bounds, strict=True)):
            objectives = list(zip(programme.objectives, values, strict=True))
            cash = math.fsum(o.get("cash", 0.0) * v for o, v in objectives)
            found.add((cash, math.fsum(o.get("hours", 0.0) * v for o, v in objectives)))
    return sorted(found)


def unbeaten(points: list[tuple[float, float]]) -> list[tuple[float, float]]:
    kept: list[tuple[float, float]] = []
    for cash, hours in points:
        if not kept or hours < kept[-1][1]:
            kept.append((cash, hours))
    return kept


def searched(programme: Programme, ends: list[tuple[float, float]]) -> list[tuple[float, float]]:
    """What one tree finds between two ends."""
    costs = [programme.costs({name: 1.0}) for name in ("cash", "hours")]
    rows = [
        programme.row([(c, float(f)) for c, f in enumerate(cost) if f]) for cost in costs
    ]  # fmt: skip
    two = TwoCosts(costs[0], costs[1], Corner(0.0, 0.0), rows[0], rows[1])
    stairs = Staircase([Point(*end) for end in ends])
    (cheap, many), (dear, few) = ends
    value = (dear - cheap) / (many - few)
    ground = programme.ground((), {}, two)
    front = Front.below("", ground.box, Corner(dear - 1.0, many - HALF_MINUTE), value)
    assert front.go_on(ground, stairs, math.inf)
    assert front.proved
    for point in stairs.points:  # each has columns that take just that
        if point.values is not None:
            assert np.all(point.values == np.round(point.values))
            assert point.cash == pytest.approx(float(costs[0] @ point.values))
            assert point.hours == pytest.approx(float(costs[1] @ point.values))
    return [(p.cash, p.hours) for p in stairs.points]


def hold(seeds: range) -> int:
    """Compare with every answer; how many steps there were between the ends."""
    between = 0
    for seed in seeds:
        programme = made_up(seed)
        wanted = unbeaten(every_point(programme))
        if len(wanted) < 2:
            continue
        found = searched(programme, [wanted[0], wanted[-1]])
        assert len(found) == len(wanted), seed
        assert np.array(found) == pytest.approx(np.array(wanted)), seed
        between += len(wanted) - 2
    return between


def test_every_step_is_found() -> None:
    assert hold(range(40)) > 60


@pytest.mark.thorough
def test_every_step_is_found_in_many_more() -> None:
    assert hold(range(1000, 1600)) > 900
