"""What must hold for any job: more freedom never costs, pins never save, lines add up."""

from __future__ import annotations

import dataclasses
import itertools
import random
from types import SimpleNamespace

import pytest

from budget.decide.flips import flips
from budget.decide.frontier import frontier
from budget.decide.model.model import Model, Solved
from budget.decide.pins import Pinned, choice_values
from budget.decide.planner import Planner
from budget.decide.terms.situation import Situation
from budget.figures import constant
from budget.prices.options import Options
from budget.quantities.takeoff import Takeoff

SEEDS = range(500, 512)
HOUR = 2000.0
#: Cents by which the rounding of lines that sum others may part two optima.
ROUNDING = 3.0


def least(takeoff: Takeoff, options: Options) -> Solved | None:
    return Model(Situation(takeoff, options, "sand", frozenset())).solve(HOUR)


def no_dearer(after: Solved | None, before: Solved | None) -> bool:
    if before is None:
        return True
    if after is None:
        return False
    return (after.gaps, after.priced.total(HOUR) - ROUNDING) <= (
        before.gaps,
        before.priced.total(HOUR),
    )


@pytest.mark.parametrize("seed", SEEDS)
def test_a_cheaper_quote_never_raises_the_optimum(make: SimpleNamespace, seed: int) -> None:
    takeoff, options = make.random_job(seed)
    for i, offer in enumerate(options.offers):
        cheaper = dataclasses.replace(
            offer, price=constant(offer.price.value * 0.8, offer.price.kind, "price")
        )
        if any(getattr(r, "free_above", None) or getattr(r, "value_steps", ()) for r in
               options.routes[offer.supplier]):  # fmt: skip
            continue  # a smaller order may lose free delivery, as it does in the trade
        offers = (*options.offers[:i], cheaper, *options.offers[i + 1 :])
        changed = dataclasses.replace(options, offers=offers)
        assert no_dearer(least(takeoff, changed), least(takeoff, options))


@pytest.mark.parametrize("seed", SEEDS)
def test_an_extra_option_never_raises_the_optimum(make: SimpleNamespace, seed: int) -> None:
    takeoff, options = make.random_job(seed)
    more = dataclasses.replace(
        options,
        offers=(*options.offers, make.offer("Base stone", "East", 2500, holds=1000, bulk=True,
                                            weight=1000, volume=0.6)),
        routes={**options.routes, "East": (make.drop("East", 4000),)},
        bids=(*options.bids, make.bid("One more", ["Dig"], 20000)),
        machines={**options.machines, "Compactor": (*options.machines["Compactor"],
                                                    make.machine("Compactor", "borrow"))},
    )  # fmt: skip
    assert no_dearer(least(takeoff, more), least(takeoff, options))


@pytest.mark.parametrize("seed", SEEDS)
def test_a_pin_never_lowers_the_optimum(make: SimpleNamespace, seed: int) -> None:
    takeoff, options = make.random_job(seed)
    planner = Planner(takeoff, options)
    free = planner.best(HOUR)
    for choice, values in choice_values(planner.situations()).items():
        for value in values:
            if choice != "bedding":
                pinned = planner.best(HOUR, Pinned({choice: frozenset((value,))}))
                assert pinned is None or no_dearer(free, pinned)


@pytest.mark.parametrize("seed", SEEDS)
def test_the_order_of_rows_does_not_matter(make: SimpleNamespace, seed: int) -> None:
    takeoff, options = make.random_job(seed)
    r = random.Random(seed)

    def mixed(rows: tuple[object, ...]) -> tuple[object, ...]:
        return tuple(r.sample(rows, len(rows)))

    shuffled = dataclasses.replace(
        options,
        offers=mixed(options.offers), bids=mixed(options.bids), disposal=mixed(options.disposal),
        routes={s: mixed(options.routes[s]) for s in mixed(tuple(options.routes))},
        methods={s: mixed(options.methods[s]) for s in mixed(tuple(options.methods))},
        machines={e: mixed(options.machines[e]) for e in mixed(tuple(options.machines))},
    )  # fmt: skip
    turned = dataclasses.replace(takeoff, needs=mixed(takeoff.needs), steps=mixed(takeoff.steps))
    one, two = least(takeoff, options), least(turned, shuffled)
    if one is None or two is None:
        assert one is two
        return
    assert one.priced.plan.choices() == two.priced.plan.choices()
    assert [(x.name, x.cash) for x in one.priced.lines] == [
        (x.name, x.cash) for x in two.priced.lines
    ]


@pytest.mark.parametrize("seed", SEEDS)
def test_frontier_is_convex_and_holds_the_best_plan(make: SimpleNamespace, seed: int) -> None:
    takeoff, options = make.random_job(seed)
    planner = Planner(takeoff, options)
    best = planner.best(HOUR)
    points = frontier(planner, HOUR)
    assert bool(points) == (best is not None)
    if best is None:
        return
    assert points[0].from_value == 0
    assert points[-1].to_value == float("inf")
    for before, after in itertools.pairwise(points):
        assert before.to_value == after.from_value
        assert before.from_value < before.to_value
        assert after.priced.own_hours < before.priced.own_hours
        assert after.priced.cash > before.priced.cash
        assert after.change
    here = next(p for p in points if p.from_value <= HOUR <= p.to_value)
    assert here.priced.total(HOUR) == pytest.approx(best.priced.total(HOUR), abs=ROUNDING)


@pytest.mark.parametrize("seed", SEEDS)
def test_no_flip_beats_the_best_plan(make: SimpleNamespace, seed: int) -> None:
    takeoff, options = make.random_job(seed)
    planner = Planner(takeoff, options)
    best = planner.best(HOUR)
    if best is None:
        return
    for flip in flips(planner, best, HOUR, frontier(planner, HOUR)):
        assert flip.cash + flip.hours * HOUR >= -ROUNDING
        assert flip.alternative != flip.value
        assert flip.sentence.endswith(".")


@pytest.mark.parametrize("seed", SEEDS)
def test_lines_add_up(make: SimpleNamespace, seed: int) -> None:
    takeoff, options = make.random_job(seed)
    solved = least(takeoff, options)
    if solved is not None:
        priced = solved.priced
        assert priced.cash == sum(line.cash for line in priced.lines)
        assert priced.own_hours == sum(line.own_hours for line in priced.lines)
        assert len({line.name for line in priced.lines}) == len(priced.lines)
