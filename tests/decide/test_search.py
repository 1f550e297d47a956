"""Searches that are stopped early: what they say of their plans is true, and who is told."""

from __future__ import annotations

import math
import os
import signal
import threading
import time
from collections.abc import Callable
from concurrent.futures import Future
from dataclasses import replace
from types import ModuleType, SimpleNamespace

import pytest
from large_jobs import large_job
from split_jobs import split_job

from budget.decide.model.model import Model, Solved
from budget.decide.planner import Planner, so_far
from budget.decide.programme import branching, highs, search
from budget.decide.terms.situation import Situation

HOUR = 2000.0


@pytest.fixture(scope="module")
def large() -> Situation:
    return Situation(*large_job(1, seed=3), "sand", frozenset())


@pytest.fixture(scope="module")
def best(large: Situation) -> Solved:
    found = Model(large).solve(HOUR)
    assert found is not None
    assert found.proved
    return found


@pytest.mark.parametrize("seconds", [0.001, 0.01, 0.03, 0.06, 0.1, 0.2])
def test_stopped_at_any_moment_it_says_what_is_true(
    large: Situation, best: Solved, seconds: float
) -> None:
    found = Model(large, limit=seconds).solve(HOUR)
    assert found is not None
    total, least = found.priced.total(HOUR), best.priced.total(HOUR)
    assert len(found.priced.missing) >= len(best.priced.missing)
    assert total >= least - 1.0 or found.gaps > best.gaps
    if found.proved:
        assert total == pytest.approx(least, abs=2.0)
    elif math.isfinite(found.gap):
        assert total * (1.0 - found.gap) <= least + 2.0


@pytest.mark.parametrize("seconds", [0.001, 0.05])
def test_one_stopped_by_a_known_plan_says_what_is_true(
    large: Situation, best: Solved, seconds: float
) -> None:
    """Asked only for plans no dearer than the best, it finds that or says that it is not sure."""
    found = Model(large, limit=seconds).solve(HOUR, at_most=best.priced.total(HOUR) + 10.0)
    assert found is not None
    assert not found.proved or found.priced.total(HOUR) <= best.priced.total(HOUR) + 2.0


def test_several_searches_are_as_sure_as_the_least_sure(best: Solved) -> None:
    total = best.priced.total(HOUR)
    assert so_far(best, HOUR, []) == best
    assert so_far(best, HOUR, [total + 1]) == best  # it cannot go below
    stopped = so_far(best, HOUR, [total * 0.98, total * 0.95])
    assert not stopped.proved
    assert stopped.gap == pytest.approx(0.05)


def test_the_limit_holds_for_all_that_is_begun_meanwhile() -> None:
    takeoff, options = large_job(1)
    with search.at_most(0.5):
        planner = Planner(takeoff, options)
        with search.at_most(None):
            assert search.limit() == 0.5
    assert planner.limit == 0.5
    assert search.limit() == search.TIME_LIMIT


def test_a_long_search_is_told_of_and_ends_the_same(monkeypatch: pytest.MonkeyPatch) -> None:
    larger = Situation(*large_job(2), "sand", frozenset())
    best = Model(larger).solve(HOUR)
    assert best is not None
    monkeypatch.setattr(branching, "MOST_BRANCHES", 1)  # so that it takes the longer search
    monkeypatch.setattr(search, "TOLD_AFTER", 0.0)
    monkeypatch.setattr(search, "TOLD_EVERY", 0.0)
    heard: list[tuple[float, float]] = []
    with search.told(lambda seconds, gap: heard.append((seconds, gap))):
        found = Model(larger).solve(HOUR)
    assert found is not None
    assert (found.proved, found.priced.cash) == (True, best.priced.cash)
    assert found.priced.plan == best.priced.plan
    assert [seconds for seconds, _ in heard] == sorted(seconds for seconds, _ in heard)
    gaps = [gap for _, gap in heard if math.isfinite(gap)]
    assert gaps
    assert all(gap >= 0.0 for gap in gaps)


def test_a_search_is_told_of_after_half_a_second_and_then_every_fifth(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """It began at 100 s; the share that may be saved is the moment of the clock."""
    heard: list[tuple[float, float]] = []
    monkeypatch.setattr(search._NOW, "told_at", 0.0)
    with search.told(lambda seconds, gap: heard.append((seconds, gap))):
        for now in (100.25, 100.5, 100.625, 100.75):
            monkeypatch.setattr(search, "time", SimpleNamespace(monotonic=lambda now=now: now))
            search.report(100.0, now)
    assert heard == [(0.5, 100.5), (0.75, 100.75)]


def test_threads_hear_that_waiting_for_them_was_interrupted(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(search._NOW, "given_up", False)

    def hear() -> bool:
        until = time.monotonic() + 5.0
        while not search.given_up() and time.monotonic() < until:
            time.sleep(0.001)
        return search.given_up()

    def wait(found: list[Future[bool]]) -> None:
        with search.side_by_side(1) as pool:
            found.append(pool.submit(hear))
            raise KeyboardInterrupt

    asked: list[Future[bool]] = []
    with pytest.raises(KeyboardInterrupt):
        wait(asked)
    assert asked[0].result()
    assert not search.given_up()  # what is searched for later goes on


def test_a_short_search_is_not_told_of(large: Situation, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(search, "TOLD_AFTER", 3600.0)
    heard: list[float] = []
    with search.told(lambda seconds, _gap: heard.append(seconds)):
        Model(large).solve(HOUR)
    assert heard == []


def held(
    monkeypatch: pytest.MonkeyPatch, module: ModuleType, name: str, begun: Callable[[], None]
) -> None:
    """Hold a search where it asks whether anybody waits for it, till nobody does."""
    asks = getattr(module, name)
    first = iter([begun])

    def hold(*args: object) -> None:
        for tell in first:
            tell()
        until = time.monotonic() + 30.0
        while not search.given_up() and time.monotonic() < until:
            time.sleep(0.005)
        asks(*args)

    monkeypatch.setattr(module, name, hold)


@pytest.mark.parametrize(
    ("module", "asks", "branches"),
    [(branching, "end_if_given_up", 10**9), (highs, "_listened", 1)],
    ids=["branching", "the longer search"],
)
def test_searches_end_where_waiting_for_them_is_interrupted(
    monkeypatch: pytest.MonkeyPatch, module: ModuleType, asks: str, branches: int
) -> None:
    monkeypatch.setattr(branching, "MOST_BRANCHES", branches)
    begun = threading.Event()
    held(monkeypatch, module, asks, begun.set)
    model = Model(Situation(*large_job(2), "sand", frozenset()))

    def wait(found: list[Future[Solved | None]]) -> None:
        with search.side_by_side(1) as pool:
            found.append(pool.submit(model.solve, HOUR))
            assert begun.wait(60.0)
            raise KeyboardInterrupt

    asked: list[Future[Solved | None]] = []
    with pytest.raises(KeyboardInterrupt):
        wait(asked)
    assert isinstance(asked[0].exception(), search.GivenUpError)
    search.end_if_given_up()  # what is searched for later goes on


def test_the_longer_search_of_the_first_thread_is_interrupted_too(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """The solver takes what is raised while it tells how it goes for a fault of its own."""
    monkeypatch.setattr(branching, "MOST_BRANCHES", 1)
    before = signal.signal(signal.SIGINT, signal.default_int_handler)
    held(monkeypatch, highs, "_listened", lambda: os.kill(os.getpid(), signal.SIGINT))
    model = Model(Situation(*large_job(2), "sand", frozenset()))
    began = time.monotonic()
    try:
        with pytest.raises(KeyboardInterrupt):
            model.solve(HOUR)
    finally:
        signal.signal(signal.SIGINT, before)
    assert time.monotonic() - began < 30.0  # as long as it would be held
    search.end_if_given_up()  # what is searched for later goes on


@pytest.mark.parametrize("seed", [1019, 1028, 1059])
def test_stopped_where_goods_may_be_parted_it_has_what_parts_none(
    monkeypatch: pytest.MonkeyPatch, seed: int
) -> None:
    """Twenty branches, then nothing: a plan no dearer than the best that parts no need."""
    takeoff, options = split_job(seed)
    whole = replace(options, offers=tuple(replace(o, in_part=False) for o in options.offers))
    least, most = (Model(Situation(takeoff, o, "sand", frozenset())) for o in (options, whole))
    best, unparted = least.solve(0.0), most.solve(0.0)
    assert best is not None
    assert unparted is not None

    def nothing(*_: object) -> None:
        raise search.NothingFoundError

    monkeypatch.setattr(highs, "search", nothing)
    monkeypatch.setattr(branching, "MOST_BRANCHES", 4)
    found = Model(Situation(takeoff, options, "sand", frozenset())).solve(0.0)
    assert found is not None
    assert not found.proved
    assert best.priced.cash < found.priced.cash <= unparted.priced.cash
    assert found.priced.cash * (1.0 - found.gap) <= best.priced.cash + 2.0


def test_a_plan_that_is_not_proved_tells_what_a_better_one_could_save(
    make: SimpleNamespace, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Five hours of digging are 100.00, a permit 50.00: a tenth off the digging is 10.00 of 150.00.

    The permit is paid whatever is chosen.
    """
    options = make.options(
        methods=[make.method("Dig", "by hand", 1.0)],
        checklist=[make.check_line("Permit", value=5000)],
    )
    situation = Situation(make.takeoff([], [make.amount("Dig", 5.0)]), options, "sand", frozenset())
    model = Model(situation)
    answer = model._programme.solve({"cash": 1.0, "hours": HOUR})
    assert answer is not None
    stopped = replace(answer, proved=False, gap=0.1)
    monkeypatch.setattr(model._programme, "solve", lambda *_: stopped)
    found = model.solve(HOUR)
    assert found is not None
    assert (found.proved, found.gap) == (False, pytest.approx(10.0 / 150.0))
