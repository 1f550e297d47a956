"""Large jobs: proved in seconds, and honest about it when the search is stopped."""

from __future__ import annotations

import time
from types import SimpleNamespace

import pytest
from large_jobs import large_job

from budget.decide.comparison import unproved
from budget.decide.model.model import Model
from budget.decide.plan import Scenario
from budget.decide.programme.milp import Programme
from budget.decide.programme.search import NothingFoundError
from budget.decide.scenarios import BEST
from budget.decide.terms.situation import Situation
from budget.quantities.takeoff import Takeoff

HOUR = 2000.0


def solved(size: int, limit: float = 60.0) -> Model:
    takeoff, options = large_job(size)
    return Model(Situation(takeoff, options, "sand", frozenset()), limit=limit)


def test_a_job_of_two_hundred_quotes_is_proved_in_seconds() -> None:
    takeoff, options = large_job(1)
    assert len(options.offers) >= 200
    assert (len(takeoff.needs), len(options.bids), len(options.machines)) == (40, 30, 12)
    assert len(options.routes) == 8
    assert len({row.step for row in takeoff.steps}) + 1 == 25  # and the carrying
    start = time.process_time()
    found = solved(1).solve(HOUR)
    assert found is not None
    assert found.proved
    assert found.gap == 0
    assert time.process_time() - start < 20


def test_goods_bundled_as_one_cost_what_they_cost_apart(make: SimpleNamespace) -> None:
    """Three items that one seller alone quotes come by one drop: 3 x 10.00 and a fee of 40.00.

    A second, dearer quote for one of them takes it out of the bundle and changes nothing.
    """
    names = ("Cap", "Pin", "Rod")
    needs = [make.need(n, "Build", {"count": 1}, weight=5.0) for n in names]
    offers = [make.offer(n, "North", 1000, measure="count", weight=5.0) for n in names]
    routes = [make.drop("North", 4000), make.drop("South", 4000)]
    methods = [make.method("Build", "by hand", 1.0), make.method("Carry", "barrow", 0.0)]
    takeoff: Takeoff = make.takeoff(needs, [make.amount("Build", 1.0)])
    dearer = make.offer("Pin", "South", 1500, measure="count", weight=5.0)
    for quotes in (offers, [*offers, dearer]):
        options = make.options(offers=quotes, routes=routes, methods=methods)
        found = Model(Situation(takeoff, options, "sand", frozenset())).solve(0.0)
        assert found is not None
        assert found.priced.cash == 3 * 1000 + 4000
        assert len(found.priced.orders) == 3


def test_a_search_goes_on_until_it_has_some_plan() -> None:
    best, first = solved(1).solve(HOUR), solved(1, limit=0.001).solve(HOUR)
    assert best is not None
    assert first is not None
    assert first.priced.total(HOUR) >= best.priced.total(HOUR) - 1
    below = first.priced.total(HOUR) * (1 - first.gap)
    assert below <= best.priced.total(HOUR) + 1


def test_a_search_that_finds_nothing_in_all_its_time_says_so(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr("budget.decide.programme.milp.TIME_LIMIT", 1e-9)
    with pytest.raises(NothingFoundError, match="within 1e-09 seconds"):
        solved(2, limit=1e-9).solve(HOUR)


def test_a_kept_programme_keeps_its_limit() -> None:
    assert Programme(time_limit=5.0).twin().time_limit == 5.0


def test_an_unproved_plan_says_how_far_off_it_may_be() -> None:
    found = solved(1).solve(HOUR)
    assert found is not None
    total = found.priced.total(HOUR)
    stopped = Scenario(BEST, "sand", {}, True, "", found.priced, False, 50000 / total)
    first, last = unproved((stopped,), (), HOUR, "USD")
    assert first == f"{BEST}, sand bedding: best so far, within $500 of the best possible."
    assert "--limit" in last
    assert (
        unproved((Scenario("A", "sand", {}, True, "", found.priced, True, 0.0),), (), HOUR, "")
        == []
    )
