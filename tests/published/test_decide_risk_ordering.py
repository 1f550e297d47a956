"""The order that costs least against textbook answers, and against an independent library.

The examples are those of Cachon and Terwiesch, Nahmias and Olsen, and Snyder and Shen as their
openly licensed companions print them. A need drawn from a normal curve is taken at the middles of
equal shares of probability, so that nothing is left to chance.
"""

from __future__ import annotations

import numpy as np
import pytest
from scipy import optimize, stats

from budget.decide.risk.ordering import Order, Stakes, costs, packs_of

SHARES = (np.arange(40_000) + 0.5) / 40_000


def over_and_short(over: float, short: float, unit: float = 1.0) -> Stakes:
    """A pack costs its price and comes back for all but ``over``; one short costs ``short``."""
    each = 10 * max(over, short)
    return Stakes(each=each * unit, again=(each + short) * unit, back=(each - over) * unit)


def normal(mean: float, deviation: float, step: float, over: float, short: float) -> Order:
    needed = packs_of(stats.norm(mean, deviation).ppf(SHARES), step)
    return Order(needed, over_and_short(over, short, step))


@pytest.mark.parametrize(
    ("mean", "deviation", "over", "short", "step", "published"),
    [
        # Cachon and Terwiesch ch. 12: cost 110, price 190, salvage 90; 4,186 exactly
        (3192, 1181, 20, 80, 1, 4186),
        # the same with a second order later at 20 % more: 3,263
        (3192, 1181, 20, 22, 1, 3263),
        # Nahmias and Olsen: cost 25, price 75, salvage 10: 15
        (11.7308, 4.74079, 15, 50, 1, 15),
        # Snyder and Shen 4.1: holding 0.18, shortage 0.70: 56.604
        (50, 8, 0.18, 0.70, 0.01, 56.604),
        # problem 4.1: 43 and 79: 922.72
        (900, 60, 43, 79, 0.05, 922.7214),
        # problem 4.3b: price 7, cost 2.5, salvage 1.5: 59.0846
        (50, 10, 1.0, 4.5, 0.01, 59.08457869),
        # a package's own example: 2 and 18: 132.8155
        (120, 10, 2, 18, 0.01, 132.815515655446),
    ],
)
def test_a_normal_need(
    mean: float, deviation: float, over: float, short: float, step: float, published: float
) -> None:
    order = normal(mean, deviation, step, over, short)
    assert order.best * step == pytest.approx(published, abs=step + published * 2e-5)


@pytest.mark.parametrize(
    ("mean", "deviation", "over", "short", "step", "published"),
    [
        (50, 8, 0.18, 0.70, 0.01, 1.9976051931766445),  # Snyder and Shen, example 4.3
        (900, 60, 43, 79, 0.05, 2718.196782),  # problem 4.1
        (120, 10, 2, 18, 0.01, 35.09966638649737),
    ],
)
def test_what_the_best_order_costs_beyond_the_need(
    mean: float, deviation: float, over: float, short: float, step: float, published: float
) -> None:
    order = normal(mean, deviation, step, over, short)
    beyond = order.mean(order.best) - order.stakes.each * float(order.needed.mean())
    assert beyond == pytest.approx(published, rel=2e-3)


def test_a_cost_at_an_order_that_is_not_the_best() -> None:
    """Snyder and Shen, example 4.1: at 40 the cost is 7.35613, at 60 it is 2.15613."""
    order = normal(50, 8, 0.01, 0.18, 0.70)
    mean = order.stakes.each * float(order.needed.mean())
    for ordered, published in ((4000, 7.356131552870388), (6000, 2.156131552870387)):
        assert order.mean(ordered) - mean == pytest.approx(published, rel=2e-3)


def counted(chances: list[float], first: int = 0, of: int = 100_000) -> np.ndarray:
    """Needs in the exact proportions of a table of chances."""
    each = np.rint(np.array(chances) * of).astype(int)
    return np.repeat(np.arange(first, first + len(chances)), each)


def test_a_table_of_chances() -> None:
    """Snyder and Shen, problem 4.7b: 5 cost 1,225,000 and 3 cost 1,725,000."""
    needed = counted([0.25, 0.05, 0.10, 0.20, 0.15, 0.10, 0.10, 0.05], first=1)
    order = Order(needed, over_and_short(500_000, 1_000_000))
    mean = order.stakes.each * float(needed.mean())
    assert order.best == 5
    assert order.mean(5) - mean == pytest.approx(1_225_000)
    assert order.mean(3) - mean == pytest.approx(1_725_000)


def test_deliveries_of_five_thousand() -> None:
    """Cachon and Terwiesch, "Pony Express": 6 of 5,000; 78.52 % of all needs are no more."""
    chances = [0.0181, 0.0733, 0.1467, 0.1954, 0.1954, 0.1563, 0.1042, 0.0595, 0.0298, 0.0132,
               0.0053, 0.0019, 0.0006, 0.0002, 0.0001]  # fmt: skip
    order = Order(counted(chances, first=1), over_and_short(6 - 2.5, 12 - 6))
    assert order.best == 6
    assert order.chance_short(6) == pytest.approx(1 - 0.7852, abs=1e-9)


@pytest.mark.parametrize(
    ("mean", "over", "short", "published", "cost"),
    [(4.5, 32 - 20, 55 - 32, 5, None), (18, 200, 270, 19, 786.0884409)],
)
def test_a_poisson_need(
    mean: float, over: float, short: float, published: int, cost: float | None
) -> None:
    """ "EcoTable Tea" of Cachon and Terwiesch, and Snyder and Shen, problem 4.8a."""
    order = Order(counted(list(stats.poisson(mean).pmf(range(60)))), over_and_short(over, short))
    assert order.best == published
    if cost is not None:
        beyond = order.mean(order.best) - order.stakes.each * float(order.needed.mean())
        assert beyond == pytest.approx(cost, rel=1e-3)


def test_a_cost_due_once_against_a_search_by_another_library() -> None:
    """A second delivery of 9,000 whatever is missing, over a triangle of needs."""
    need = stats.triang(0.4, 80, 50)
    stakes = Stakes(each=300, again=300, short=9_000, back=120)
    order = Order(packs_of(need.ppf(SHARES)), stakes)

    def expected(ordered: float) -> float:
        missing = need.expect(lambda x: x - ordered, lb=ordered, ub=130)
        left = need.expect(lambda x: ordered - x, lb=80, ub=ordered)
        return float(300 * ordered + 9_000 * need.sf(ordered) + 300 * missing - 120 * left)

    found = optimize.minimize_scalar(expected, bounds=(80, 130), method="bounded")
    assert order.best == pytest.approx(found.x, abs=1.5)


@pytest.mark.parametrize(
    ("cases", "seed"), [(200, 11), pytest.param(20_000, 12, marks=pytest.mark.thorough)]
)
def test_every_order_was_looked_at(cases: int, seed: int) -> None:
    """Brute force over all whole numbers finds nothing cheaper, leasts and returns included."""
    random = np.random.default_rng(seed)
    for n in range(cases):
        needed = random.integers(0, 30, size=40)
        stakes = Stakes(
            each=110, again=float(random.integers(80, 160)), short=float(random.integers(0, 900)),
            least=int(random.integers(1, 6)), back=float(random.integers(0, 100)),
            bring_back=float(random.integers(0, 300)), spares=int(random.integers(0, 6)) * (n % 3),
            breaks=((int(random.integers(5, 20)), float(random.integers(100, 110))),) * (n % 2),
        )  # fmt: skip
        order = Order(needed, stakes, least=int(random.integers(0, 12)))
        every = {q: float(costs(q, needed, stakes).mean()) for q in range(order.least, 45)}
        assert order.mean(order.best) == pytest.approx(min(every.values()))


@pytest.mark.parametrize("spares", [0, 3, 12])
def test_spares_are_not_one_too_many(spares: int) -> None:
    """The textbook rule with the first packs left over free: those wanted as spares.

    One more pack is one too many only if the need and the spares leave it, so the order is the
    smallest at which over x P(need + spares <= order) reaches short x P(need > order).
    """
    over, short, need = 30, 20, stats.poisson(40)
    stakes = Stakes(each=over, again=over + short, spares=spares)
    order = Order(counted(list(need.pmf(range(100)))), stakes)
    rule = next(q for q in range(100) if over * need.cdf(q - spares) >= short * need.sf(q))
    assert order.best == rule
    assert order.best <= 40 + spares
