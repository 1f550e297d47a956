"""Triangles against scipy, orders against every order tried, and classes of estimates by hand."""

from __future__ import annotations

import random
from dataclasses import replace
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest
from scipy import stats

from budget.decide.risk.accuracy import accuracy, class_of, firm_share
from budget.decide.risk.ordering import Order, Stakes, packs_of
from budget.decide.risk.shortage import Loss
from budget.decide.risk.shortfalls import decisions, shortfalls
from budget.decide.risk.spread import Spread
from budget.reference import rows

TRIANGLES = [(0.8, 1.0, 1.5), (0.9, 0.9, 1.2), (5.0, 14.0, 14.0), (-3.0, -1.0, 0.5)]


@pytest.mark.parametrize("ends", TRIANGLES)
def test_a_triangle_is_that_of_an_independent_library(ends: tuple[float, float, float]) -> None:
    low, likely, high = ends
    known = stats.triang((likely - low) / (high - low), low, high - low)
    found = Spread(*ends)
    shares = np.linspace(0.0, 1.0, 41)
    assert found.at(shares) == pytest.approx(known.ppf(shares))
    assert [found.at(float(share)) for share in shares] == pytest.approx(known.ppf(shares))
    values = np.linspace(low - 0.5, high + 0.5, 61)
    assert found.below(values) == pytest.approx(known.cdf(values))
    assert found.below(np.array([low, likely, high])) == pytest.approx(known.cdf(ends))


def paid(ordered: int, needed: int, stakes: Stakes) -> float:
    """What an order comes to under a need, one rule a line."""
    price, lowest = stakes.each, min([stakes.each, *(each for _, each in stakes.breaks)])
    for start, each in stakes.breaks:
        price = each if ordered >= start else price
    cost = price * ordered
    if needed > ordered:
        cost += stakes.short + stakes.again * max(needed - ordered, stakes.least)
    left = max(0, ordered - needed)
    kept = min(left, stakes.spares)
    return cost - lowest * kept - max(0.0, stakes.back * (left - kept) - stakes.bring_back)


def _some_stakes(r: random.Random) -> Stakes:
    return Stakes(
        each=100, again=r.choice([100, 130]), short=r.choice([0, 70]), least=r.choice([1, 4]),
        back=r.choice([0, 1, 60, 80]), bring_back=r.choice([0, 45]), spares=r.choice([0, 2]),
        breaks=r.choice([(), ((8, 90),), ((3, 95), (8, 80))]),
    )  # fmt: skip


@pytest.mark.parametrize("seed", range(12))
def test_no_order_is_cheaper_than_the_best_and_what_is_said_of_each_holds(seed: int) -> None:
    """Half of the orders have part of the cost once spared in each case that runs short."""
    r = random.Random(seed)
    for number in range(15):
        needs, stakes = [r.randint(0, 12) for _ in range(6)], _some_stakes(r)
        least = r.choice([0, 3])
        part = stakes.short / 2 if number % 2 else 0.0
        spared = [r.choice([0.0, part, 2 * part]) for _ in needs]
        order = Order(np.array(needs), stakes, least, np.array(spared) if number % 2 else None)

        def mean(q: int, needs: list[int] = needs, spared: list[float] = spared,
                 stakes: Stakes = stakes) -> float:  # fmt: skip
            costs = [paid(q, n, stakes) - s * (n > q) for n, s in zip(needs, spared, strict=True)]
            return sum(costs) / len(needs)

        every = {q: mean(q) for q in range(least, 20)}
        assert order.best >= least
        assert every[order.best] == pytest.approx(min(every.values()))
        twice = order.sums(np.array([np.bincount(order.coded)] * 2)) / len(needs)
        assert twice == pytest.approx(np.array([order.means] * 2))
        for q, told in zip(order.choices.tolist(), order.means.tolist(), strict=True):
            assert told == pytest.approx(mean(q))
            assert order.mean(q) == pytest.approx(mean(q))
            assert order.each(q).mean() == pytest.approx(mean(q))
            assert order.chance_short(q) == sum(n > q for n in needs) / len(needs)


def test_an_order_may_leave_to_a_later_one_what_that_has_at_least() -> None:
    """Six or eleven; later at least four at 1.30; up to two spares are worth their 1.00.

    Seven are 7.00 and a spare of 1.00 back, or 7.00 and 5.20: 9.10 on average. Six are 6.00 or
    12.50, eleven 9.00 (two spares) or 11.00, eight 6.00 or 13.20.
    """
    order = Order(np.array([6, 11]), Stakes(each=100, again=130, least=4, spares=2))
    assert (order.best, order.mean(order.best)) == (7, 910.0)
    assert [order.mean(q) for q in (6, 11, 8)] == [925.0, 1000.0, 960.0]


def test_of_two_orders_alike_the_smaller_is_taken() -> None:
    """Two or four, at 1.00 now and 2.00 later: two are 2.00 or 6.00, four are 4.00 in both."""
    order = Order(np.array([2, 4]), Stakes(each=100, again=200))
    assert (order.best, order.mean(2), order.mean(4)) == (2, 400.0, 400.0)


def test_packs_of_half_a_step() -> None:
    assert packs_of(np.array([1.0, 1.1, -0.4]), 0.5).tolist() == [2, 3, 0]


def test_a_range_without_money_is_none() -> None:
    found = accuracy(0.5, [0.0, 0.0, 0.0, 0.0])
    assert (found.low, found.high) == (0.0, 0.0)
    assert firm_share([], []) == 0.0


def test_published_ranges_are_shares() -> None:
    """Class 2 as printed: 5 to 15 % below, 5 to 20 % above, at 30 to 75 % of the definition."""
    (row,) = [row for row in rows("estimate_classes") if row["class"] == "2"]
    printed = {name: row[name] for name in ("low_near", "low_far", "high_near", "high_far")}
    assert printed == {"low_near": "5", "low_far": "15", "high_near": "5", "high_far": "20"}
    found = accuracy(0.5, [90.0, 100.0, 110.0, 120.0])
    assert found.published_low == (0.05, 0.15)
    assert found.published_high == (0.05, 0.2)
    # right at the end of a range of definition it is still in that class
    ends = {row["class"]: (row["definition_low"], row["definition_high"])
            for row in rows("estimate_classes")}  # fmt: skip
    assert (ends["5"], ends["2"], ends["1"]) == (("0", "2"), ("30", "75"), ("65", "100"))
    assert class_of(0.02)["class"] == "5"
    # between two that it is in, the nearer middle counts: 52.5 and 82.5 % meet at 67.5
    assert [class_of(share)["class"] for share in (0.674, 0.676)] == ["2", "1"]


def _sold_by_halves(item: str, packs: float, short: tuple[tuple[str, float], ...]) -> Any:
    """A demand and what is at stake, in steps of half a pack at 1.00, at 0.90 from ten on."""
    order = SimpleNamespace(item=item, supplier="North", per="pack", packs=packs)
    demand = SimpleNamespace(
        order=order, offer=SimpleNamespace(step=0.5, least=1.5), spares=3, bare=lambda _: 4.25,
        steps=("Lay",),
    )  # fmt: skip
    stakes = Stakes(each=100, again=130, short=sum(cents for _, cents in short), back=60,
                    breaks=((10, 90),))  # fmt: skip
    return demand, Loss(stakes, short, "more of the same", "a note")


def test_what_is_said_of_an_order() -> None:
    """Five packs, ten steps, where 3.9 to 5.2 packs are used up: one case of five runs short.

    Ten steps are 9.00; in five cases four come back at 0.60, and one more takes 1.30 and 2.50: 9.28
    on average. Eleven are 9.90, and eight come back: 8.94.
    """
    used = np.array([4.7, 3.9, 5.2, 4.4, 4.1])
    sold = _sold_by_halves("Sand", 5.0, (("a trip", 200.0), ("a day", 50.0)))
    firm = _sold_by_halves("Bowl", 2.0, ())
    demands, losses = zip(sold, firm, strict=True)
    needs = [used, np.full(5, 2.0)]
    decided = decisions(demands, losses, [packs_of(each, 0.5) for each in needs], needs)
    (said,) = shortfalls((), decided)  # nothing is to be decided of the other
    assert (said.item, said.ordered, said.bare, said.spares) == ("Sand", 5.0, 4.25, 1.5)
    assert said.needed == (3.9, 4.4, 4.7, 5.2)  # at 10, 50, 80 and 90 % of five cases
    assert (said.chance, said.chance_error) == (0.2, pytest.approx((0.2 * 0.8 / 5) ** 0.5))
    assert (said.one_short, said.short, said.one_over) == (losses[0].one_short, 250.0, 30.0)

    def mean(steps: int) -> float:
        return sum(paid(steps, need, losses[0].stakes) for need in (10, 8, 11, 9, 9)) / 5

    cheapest = min(range(3, 15), key=mean)
    assert (cheapest, mean(10) - mean(11)) == (11, pytest.approx(928 - 894))
    assert (said.best, said.best_chance) == (5.5, 0.0)
    assert said.saves == pytest.approx(34.0)
    assert said.extra(5.1) == pytest.approx(0.2)
    assert replace(said, bare=0.5).extra(0.75) == pytest.approx(0.5)
    assert replace(said, bare=0.0).extra(5.1) is None

    many = np.arange(1, 1001) / 250  # 4 packs in a thousand cases, none twice
    (said,) = shortfalls((), decisions([demands[0]], [losses[0]], [packs_of(many, 0.5)], [many]))
    assert said.needed == (0.4, 2.0, 3.2, 3.6)


@pytest.mark.parametrize("turned", [False, True])
def test_orders_that_save_alike_stand_by_what_running_short_may_cost(turned: bool) -> None:
    """A chance of 0.4 of 1.00 and one of 0.2 of 2.50: the second is the larger, whichever stands
    first. Both orders are what costs least."""
    rows = []
    for item, short, needs in (("A", 100.0, [2, 2, 2, 3, 3]), ("B", 250.0, [2, 2, 2, 2, 5])):
        demand, loss = _sold_by_halves(item, 1.0, (("a trip", short),))
        stakes = replace(loss.stakes, each=400, breaks=(), back=0)
        demand.offer.least = 1.0
        rows.append((demand, replace(loss, stakes=stakes), np.array(needs) / 2))
    demands, losses, used = zip(*(rows[::-1] if turned else rows), strict=True)
    found = shortfalls((), decisions(demands, losses, [packs_of(u, 0.5) for u in used], used))
    assert [(s.item, s.saves, s.best) for s in found] == [("B", 0.0, 1.0), ("A", 0.0, 1.0)]
