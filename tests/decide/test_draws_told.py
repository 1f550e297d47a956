"""What is told of draws, on draws so few that each number can be counted, and against numpy."""

from __future__ import annotations

from dataclasses import replace
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest

from budget.decide.plan import Line, Missing, Plan, Priced, Scenario
from budget.decide.risk import simulate
from budget.decide.risk.demand import Demand
from budget.decide.risk.drawn import BINS, Drawn, Sums, drawn_sums
from budget.decide.risk.draws import draws, stream, written
from budget.decide.risk.simulate import (
    _least,
    _outcome,
    _outcomes,
    _Plans,
    _sums,
    _wins,
    _with_days,
    risk_of,
)
from budget.decide.risk.spread import Spread
from budget.decide.risk.unknowns import Unknown
from budget.decide.terms.situation import Situation
from budget.figures import constant, given, product, ratio, total
from budget.job import Job, Place, Quote, Settings
from budget.units import HOURS, MONEY, NUMBER

SETTINGS = Settings(place=Place("Job", 1), confidence=0.7, spending_limit=700.0)
JOB = Job(settings=SETTINGS)


def sums(title: str, cash: float = 500.0, hours: float = 2.0) -> Sums:
    return Sums(title, given(cash, MONEY, "cash", f"{title}!1"),
                given(hours, HOURS, "hours", f"{title}!2"))  # fmt: skip


def scenario(name: str, steps: str = "by hand", missing: str = "", **more: Any) -> Scenario:
    plan = Plan("sand", frozenset(), {}, {}, {"Dig": f"own: {steps}"}, {}, "")
    lacking = (Missing(missing, "Quotes", ""),) if missing else ()
    priced = Priced(plan, (), lacking, (), (), (), 500, 2.0, 0.0, 0.0, 0, ())
    return replace(Scenario(name, "sand", {}, True, "", priced, True, 0.0), **more)


@pytest.fixture
def plans() -> _Plans:
    """The best stands second; at 20.00 an hour."""
    built = (
        scenario("Advised against", "loader", discouraged=True),
        scenario("Best"),
        scenario("Fair", "slowly"),
        scenario("Lacks a price", "digger", missing="Digger"),
        scenario("The same"),
        scenario("Fair too", "with care"),
        scenario("Not priced", "never", priced=None),
    )
    best = built[1].priced
    assert best is not None
    situation: Any = SimpleNamespace(options=SimpleNamespace(hour_value=SimpleNamespace(value=20)))
    every = tuple(sums(s.name) for s in built)
    return _Plans(built, every, 1, best, situation, (sums("Stone from South"),))


def drawn(plans: _Plans) -> Drawn:
    """Of the plan in place i all cash is 100 i or 100 i + 7, and all hours i / 2 or i."""
    count = len(plans.every)
    cash = tuple(np.array([100.0 * i, 100.0 * i + 7]) for i in range(count))
    hours = tuple(np.array([i / 2, float(i)]) for i in range(count))
    return Drawn(2, cash, hours, (), (), {})


def test_which_plans_may_be_called_best(plans: _Plans) -> None:
    """None that is advised against, lacks other prices, or does just the same."""
    assert plans.fair == [1, 2, 5]
    assert [f.value for f in plans.figures] == [500.0, 2.0] * 8


def test_near_relatives_of_the_best_plan_stand_beside_those(plans: _Plans) -> None:
    """In place 7: 700 cents and 3.5 hours at 20, or 707 and 7."""
    found = {title: totals.tolist() for title, totals in plans.rivals(drawn(plans))}
    assert found == {
        "Best": [110.0, 127.0], "Fair": [220.0, 247.0], "Fair too": [550.0, 607.0],
        "Stone from South": [770.0, 847.0],
    }  # fmt: skip


def test_of_plans_alike_at_a_share_of_all_cases_the_best_is_told() -> None:
    """Eight of ten cases of Y stay at 8, of X and the best at 9."""
    rising = np.arange(1.0, 11.0)
    rivals = [("X", rising + 1), ("Best", rising[::-1] + 1), ("Y", rising)]
    assert _least(rivals, 0.8, "Best") == "Y"
    assert _least(rivals[:2], 0.8, "Best") == "Best"
    assert _least([("X", rising), ("W", rising)], 0.8, "Best") == "W"
    steady = ("Steady", np.full(10, 6.5))
    assert [_least([*rivals, steady], share, "Best") for share in (0.5, 0.8)] == ["Y", "Steady"]


def test_how_often_each_plan_is_below_each_other() -> None:
    """Below in three of four, above in one; a tie is neither."""
    one, two = np.array([1.0, 2.0, 3.0, 9.0]), np.array([2.0, 3.0, 4.0, 8.0])
    assert _wins([one, two]) == ((0.0, 0.75), (0.25, 0.0))
    assert _wins([one, np.array([1.0, 2.0, 4.0, 9.0])]) == ((0.0, 0.25), (0.0, 0.0))


def test_how_one_plan_may_come_out() -> None:
    """Forty cases of 25 to 1,000 cents, hours beside; percentiles are numpy's inverse of the
    empirical distribution."""
    random = np.random.default_rng(5)
    cash = random.permutation(np.arange(1.0, 41.0) * 25)
    hours = random.permutation(np.arange(1.0, 41.0) / 4)
    totals, best = cash + 20 * hours, np.full(40, 530.0)
    found = _outcome(sums("Plan"), cash, hours, totals, best, 700.0, 0.7)

    def at(values: Any, *shares: float) -> list[float]:
        return np.percentile(values, [100 * s for s in shares], method="inverted_cdf").tolist()

    assert list(found.cash) == at(cash, 0.1, 0.5, 0.8, 0.9)
    assert list(found.hours) == at(hours, 0.1, 0.5, 0.8, 0.9)
    # at the middle a standard error of 0.079 to each side: 24 and 17 of 40
    assert (found.cash_errors[1], found.hours_errors[1]) == (3.5 * 25, 3.5 / 4)
    # at 70 % of 0.072: 31 and 26
    assert (found.safe, found.safe_error) == (700.0, 2.5 * 25)
    assert (found.mean_cash, found.mean_hours) == (512.5, 5.125)
    assert (found.planned, found.contingency, found.over_limit) == (500.0, 200.0, 12 / 40)
    assert found.beaten == sum(t > 530 for t in totals) / 40
    assert [found.total_at_confidence] == at(totals, 0.7)
    assert len(found.curve) == 101
    assert list(found.curve[10:91:10]) == at(cash, *(n / 10 for n in range(1, 10)))
    # 73 % of forty are 29.2 cases
    assert (found.curve[0], found.curve[73], found.curve[100]) == (25.0, 750.0, 1000.0)
    free = _outcome(sums("Plan", 900.0), cash, hours, totals, None, None, 0.7)
    assert (free.contingency, free.over_limit, free.beaten) == (0.0, None, None)
    alike = np.where(np.arange(40) < 10, totals, totals - 1)
    assert _outcome(sums("Plan"), cash, hours, totals, alike, None, 0.7).beaten == 30 / 40


def test_every_plan_is_held_against_the_best_but_itself(plans: _Plans) -> None:
    found = _outcomes(JOB, plans, drawn(plans), plans.totals(drawn(plans))[:7])
    assert [o.title for o in found] == [s.title for s in plans.sums]
    assert [o.beaten for o in found] == [0.0, None, 1.0, 1.0, 1.0, 1.0, 1.0]
    # 600 and 607 cents pass no limit of 700.00 cents; 70 % of two is the second
    assert [o.safe for o in found] == [100.0 * i + 7 for i in range(7)]


def test_days_beyond_the_plan_are_drawn_beside_the_rest() -> None:
    """By their share of all cases, between the hundredths that are told."""
    cash = np.arange(1.0, 2001.0)
    plain = _with_days(JOB, cash, (), 7)
    assert plain == {"with_days": 1400.0, "over_with_days": 1300 / 2000}
    share = stream(7, "days beyond the plan").random(2000)
    lifted = np.where(share < 0.5, 0.0, (share - 0.5) * 4000)
    found = _with_days(JOB, cash, [max(0.0, (n - 50) * 40.0) for n in range(101)], 7)
    wanted = np.percentile(cash + lifted, 70, method="inverted_cdf")
    assert found["with_days"] == pytest.approx(wanted)
    assert found["over_with_days"] == np.mean(cash + lifted > 700)
    no_limit = replace(JOB, settings=replace(SETTINGS, spending_limit=None))
    assert _with_days(no_limit, cash, (), 7)["over_with_days"] is None


def test_the_sums_of_a_plan_are_those_of_its_lines() -> None:
    """A line without money or without hours is none of them."""
    money = [given(c, MONEY, "m", f"M!{c}") for c in (30.0, 12.0)]
    time = [given(h, HOURS, "t", f"T!{h}") for h in (1.5, 4.0)]
    lines = (
        Line("", "", "a", 30, 0.0, money[0], None), Line("", "", "b", 0, 1.5, None, time[0]),
        Line("", "", "c", 12, 4.0, money[1], time[1]),
    )  # fmt: skip
    priced = scenario("Plan").priced
    assert priced is not None
    found = _sums("Plan", replace(priced, lines=lines))
    assert (found.title, found.cash.value, found.hours.value) == ("Plan", 42.0, 5.5)


@pytest.mark.parametrize("count", [300, 10_001])
def test_all_plans_and_orders_meet_the_same_draws(count: int) -> None:
    """Three or five of goods at one guessed price, four hours at a guessed pace; an order of 2.2
    packs that are sold by halves. More draws than are priced at once."""
    price = given(100.0, MONEY, "price", "Quotes!C2")
    pace = given(4.0, HOURS, "pace", "Work!E2")
    found = [
        Unknown("price", "price", Spread(0.8, 1.0, 1.5), (("Quotes!C2", 1),), ""),
        Unknown("pace", "depth", Spread(0.9, 1.0, 1.3), (("Work!E2", 1), ("Areas!D2", 1)), ""),
    ]
    plans = [
        Sums(title, product("cash", MONEY, price, given(n, NUMBER, "n", f"N!{n}")), hours)
        for title, n, hours in (
            ("A", 3.0, pace), ("B", 5.0, given(7.0, HOURS, "firm", "Work!E9")),
        )
    ]  # fmt: skip
    packs = ratio("packs", NUMBER, given(11.0, NUMBER, "n", "Areas!D2"),
                  given(5.0, NUMBER, "holds", "Quotes!D2"))  # fmt: skip
    values = {"Quotes!C2": 100.0, "Work!E2": 4.0, "Areas!D2": 11.0}
    other = given(3.0, NUMBER, "packs", "N!8")
    told = drawn_sums(plans, [(packs, 0.5), (other, 1.0)], found, values, count, 3)
    parts = list(draws(found, count, 3))
    price_, pace_ = (np.concatenate([p[u.name] for p in parts]) for u in found)
    assert told.count == count == len(price_)
    assert [c.tolist() for c in told.cash] == [pytest.approx(n * 100 * price_) for n in (3, 5)]
    assert told.hours[0] == pytest.approx(4 * pace_)
    assert told.hours[1].tolist() == [7.0] * count
    assert (len(told.cash), len(told.hours), len(told.needed), len(told.packs)) == (2,) * 4
    assert set(told.packs[1].tolist()) == set(told.needed[1].tolist()) == {3.0}
    assert told.needed[0] == pytest.approx(2.2 * pace_)
    assert told.packs[0].tolist() == np.ceil(2.2 * pace_ / 0.5 - 1e-9).tolist()
    # each range of equal chance holds about as many, and the factors rise with the ranges
    for u, factor in zip(found, (price_, pace_), strict=True):
        where = told.bins[u.name]
        ends = [u.factor.at((n + 1) / BINS) for n in range(BINS)]
        assert where.tolist() == np.searchsorted(ends[:-1], factor, "right").tolist()


def test_what_is_written_is_the_inputs_alone() -> None:
    price, count = given(100.0, MONEY, "price", "Quotes!C2"), given(3.0, NUMBER, "n", "Areas!D2")
    cash = product("cash", MONEY, price, count, constant(2.0, NUMBER, "both sides"))
    assert written([total("all", [cash, price], MONEY)]) == {"Quotes!C2": 100.0, "Areas!D2": 3.0}


def test_the_highest_factor_of_all_is_in_the_last_range(monkeypatch: pytest.MonkeyPatch) -> None:
    from budget.decide.risk import drawn as module

    u = Unknown("price", "price", Spread(0.8, 1.0, 1.5), (("Quotes!C2", 1),), "")
    monkeypatch.setattr(module, "draws", lambda *_: [{"price": np.array([1.5, 0.8])}])
    cash = total("cash", [given(100.0, MONEY, "price", "Quotes!C2")], MONEY)
    hours = total("hours", [given(1.0, HOURS, "h", "H!1")], HOURS)
    told = drawn_sums([Sums("A", cash, hours)], [], [u], {"Quotes!C2": 100.0}, 2, 1)
    assert (told.cash[0].tolist(), told.bins["price"].tolist()) == ([150.0, 80.0], [BINS - 1, 0])


@pytest.mark.parametrize(("count", "most", "pairs"), [(50, 10_000, 50), (50, 20, 20)])
def test_shares_are_found_from_no_more_pairs_than_draws(
    make: SimpleNamespace, monkeypatch: pytest.MonkeyPatch, count: int, most: int, pairs: int
) -> None:
    """Stone from North at a guessed price; without a plan, or a guess, nothing is told."""
    offer = replace(
        make.offer("Stone", "North", 1000, measure="count", per="each"), cell="Quotes!C2"
    )
    offer = replace(offer, price=given(1000.0, MONEY, "price", "Quotes!C2"))
    options = make.options(
        offers=[offer], routes=[make.drop("North", 0)], methods=[make.method("Base", "by hand", 1)]
    )
    takeoff = make.takeoff([make.need("Stone", "Base", {"count": 3})], [make.amount("Base", 1.0)])
    (priced,) = make.all_priced(Situation(takeoff, options, "sand", frozenset()))
    best = Scenario("Best", "sand", {}, True, "", priced, True, 0.0)
    row = Quote(place=Place("Quotes", 2, {"price": "C"}), item="Stone", supplier="North",
                price=1000.0, price_low=800.0, per="each")  # fmt: skip
    asked: list[int] = []
    monkeypatch.setattr(simulate, "MOST_PAIRS", most)
    monkeypatch.setattr(simulate, "movers", lambda *a: asked.append(a[3]) or ())
    nothing = replace(best, name="Nothing", priced=None)
    found = risk_of(
        replace(JOB, quotes=(row,)), takeoff, options, (nothing, best), best, count, 5
    )  # fmt: skip
    assert found is not None
    assert (asked, found.draws, found.seed, found.best) == ([pairs], count, 5, best.title)
    assert [o.title for o in found.outcomes] == [found.of(best.title).title] == [best.title]
    with pytest.raises(KeyError):
        found.of(nothing.title)
    assert (found.safest, found.middle) == (best.title, best.title)
    assert risk_of(JOB, takeoff, options, (nothing, best), best, count) is None
    assert risk_of(JOB, takeoff, options, (nothing, best), nothing, count) is None


def test_what_an_order_takes_without_waste_and_cuts() -> None:
    """44 packs, a twentieth spilled and 2 cut off: 40 are bare, whatever was measured."""
    packs, more = given(40.0, NUMBER, "bare", "Areas!D2"), given(0.05, NUMBER, "spilled", "W!1")
    cut = given(2.0, NUMBER, "cut off", "C!1")
    needed = total("needed", [packs, product("more", NUMBER, packs, more), cut], NUMBER)
    assert needed.value == 44.0
    order: Any = SimpleNamespace(item="Stone")
    demand = Demand(order, order, needed, needed, "base", ())
    spread = Spread(0.9, 1.0, 1.1)
    found = tuple(
        Unknown(key, kind, spread, ((key, 1),), "")
        for key, kind in (("Areas!D2", "measures"), ("W!1", "waste"), ("C!1", "cuts"))
    )
    assert demand.bare(found) == 40.0
    assert demand.bare(found[:2]) == 42.0
