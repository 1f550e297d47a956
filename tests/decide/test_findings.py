"""What knowing something is worth, against cases small enough to work out by hand."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest
from scipy import stats

from budget.decide import evaluate
from budget.decide.outcome import Comparison
from budget.decide.plan import Plan
from budget.decide.risk.demand import situation_of
from budget.decide.risk.findings import _by_order, _by_plan, _set_aside
from budget.decide.risk.ordering import Order, Stakes
from budget.decide.risk.simulate import risk_of
from budget.decide.risk.swaps import swaps

COUNT = 20_000


@pytest.fixture
def ranges() -> Any:
    """Which of ten ranges of equal chance each draw is in, in no order."""
    return np.random.default_rng(5).integers(0, 10, COUNT)


def decision(needed: Any, stakes: Stakes) -> Any:
    return SimpleNamespace(order=Order(needed, stakes))


def test_a_need_that_is_known_is_ordered_exactly(ranges: Any) -> None:
    """Ten needs of equal chance, 1 over costs 10, 1 short 30: the order is 8 of 1 to 10.

    Without knowing: over 7+6+5+4+3+2+1 at 10 and short 1+2 at 30, over ten cases: 28 + 9 = 37.
    Knowing the range gives the need, so all of it is saved.
    """
    stakes = Stakes(each=100, again=130, back=90)
    saved = _by_order(ranges, decision(ranges + 1, stakes))
    assert saved == pytest.approx(37, rel=0.05)


def test_what_has_nothing_to_do_with_the_need_is_worth_nothing(ranges: Any) -> None:
    needed = np.random.default_rng(6).integers(1, 11, COUNT)
    assert _by_order(ranges, decision(needed, Stakes(each=100, again=130, back=90))) == 0


def test_knowing_which_plan_wins(ranges: Any) -> None:
    """Plan A costs 1,000 always; B costs 800 in six of ten ranges and 1,500 in four.

    B costs 1,080 on average, so A is taken. Knowing the range, B is taken in six of ten, which
    saves 200 each: 120 on average.
    """
    dear = np.where(ranges < 6, 800.0, 1500.0)
    totals = [("A", np.full(COUNT, 1000.0)), ("B", dear)]
    gain, instead = _by_plan(ranges, totals, 0)
    assert gain == pytest.approx(120, rel=0.03)
    assert instead == "B"


def test_plans_that_keep_their_order_are_chosen_without_knowing(ranges: Any) -> None:
    totals = [("A", 1000.0 + ranges), ("B", 1100.0 + ranges)]
    assert _by_plan(ranges, totals, 0) == (0.0, "")


def test_luck_in_the_draws_is_not_taken_for_knowledge(ranges: Any) -> None:
    """Two plans alike on average and at random: choosing by an unrelated range saves nothing."""
    random = np.random.default_rng(9)
    totals = [(name, random.normal(1000, 300, COUNT)) for name in "AB"]
    assert _by_plan(ranges, totals, 0)[0] == 0


def test_less_is_set_aside_once_the_range_is_known(ranges: Any) -> None:
    """Cash of 0, 100, ... 900: without knowing, 8 of 10 cases need 250 more than the mean."""
    cash = ranges * 100.0
    assert _set_aside(ranges, cash, 0.8) == pytest.approx(700 - 450, abs=10)
    unrelated = np.random.default_rng(2).normal(0, 100, COUNT)
    assert _set_aside(ranges, unrelated, 0.8) < 2


def test_findings_of_a_whole_job(demo_comparison: Callable[[str], Comparison]) -> None:
    risk = demo_comparison("terrace").risk
    assert risk is not None
    worth = [f.worth for f in risk.findings]
    assert worth == sorted(worth, reverse=True)
    assert worth[0] > 0
    for found in risk.findings:
        assert found.effort > 0
        assert found.how
        assert (found.instead == "") == (found.plan == 0)


def test_a_guessed_price_is_worth_asking_where_another_seller_may_win(
    demo_comparison: Callable[[str], Comparison],
) -> None:
    """Against the average of both sellers at many guesses: the better one, less the one kept."""
    terrace = demo_comparison("terrace")
    best = terrace.best
    assert best is not None
    assert best.priced is not None
    order = next(o for o in best.priced.orders if o.item == "Base stone")
    quotes = tuple(
        replace(q, price_low=0.5 * q.price, price_high=3.0 * q.price)
        if q.price and (q.item, q.supplier, q.per) == (order.item, order.supplier, order.per)
        else q
        for q in terrace.job.quotes
    )
    guessed = replace(terrace.job, quotes=quotes)
    given = (terrace.takeoff, terrace.options)
    risk = risk_of(guessed, *given, (best,), best, 20_000)
    assert risk is not None
    found = next(f for f in risk.findings if f.name.startswith("price of Base stone"))
    assert found.instead.startswith("Base stone from")
    (_, other), *_ = swaps(guessed, situation_of(*given, best.priced), best.priced)
    shares = (np.arange(200) + 0.5) / 200
    guess = stats.triang((1 - 0.5) / 2.5, 0.5, 2.5).ppf(shares)
    kept = np.array([_priced_at(terrace, best.priced.plan, order.offer, g) for g in guess])
    swapped = other.total(terrace.options.hour_value.value)
    expected = min(kept.mean(), swapped) - np.minimum(kept, swapped).mean()
    assert found.plan == pytest.approx(expected, rel=0.2)


def _priced_at(comparison: Comparison, plan: Plan, key: str, factor: float) -> float:
    """A plan's cash and hours, in cents, with the price of one offer changed."""
    offers = tuple(
        replace(o, price=replace(o.price, value=o.price.value * factor)) if o.key == key else o
        for o in comparison.options.offers
    )
    options = replace(comparison.options, offers=offers)
    return evaluate(plan, comparison.takeoff, options).total(options.hour_value.value)


def test_firm_prices_leave_no_seller_to_swap(
    demo_comparison: Callable[[str], Comparison],
) -> None:
    terrace = demo_comparison("terrace")
    assert terrace.best is not None
    assert terrace.best.priced is not None
    situation = situation_of(terrace.takeoff, terrace.options, terrace.best.priced)
    firm = tuple(replace(q, price_low=None, price_high=None) for q in terrace.job.quotes)
    assert swaps(replace(terrace.job, quotes=firm), situation, terrace.best.priced) == []
