"""Every trade of cash against own hours, against plain enumeration of all plans."""

from __future__ import annotations

import itertools
from dataclasses import replace
from types import SimpleNamespace
from typing import Any

import pytest
from split_jobs import split_job

from budget.decide.frontier import frontier
from budget.decide.model.model import Model, Solved
from budget.decide.plan import Priced
from budget.decide.planner import Planner
from budget.decide.programme import fronts
from budget.decide.programme.relaxation import Box, GaveUpError, Relaxation, Relaxed
from budget.decide.programme.search import NothingFoundError
from budget.decide.terms.situation import Situation
from budget.decide.thorough import pareto
from budget.decide.thorough.pareto import Trades, trades

#: Cents and hours within which two plans are the same: lines round, and a minute is no trade.
CENTS, HOURS = 6, 1.0 / 60.0


def front_of(make: SimpleNamespace, seed: int) -> list[Priced]:
    """The plans of all that no other beats, of those with fewest missing prices."""
    plans = make.all_priced(Situation(*make.random_job(seed), "sand", frozenset()))
    fewest = min((len(p.missing) for p in plans), default=0)
    found: list[Priced] = []
    for plan in sorted(plans, key=lambda p: (p.cash, p.own_hours)):
        if len(plan.missing) == fewest and (not found or plan.own_hours < found[-1].own_hours):
            found.append(plan)
    return found


def trades_of(make: SimpleNamespace, seed: int) -> Trades | None:
    planner = Planner(*make.random_job(seed))
    points = frontier(planner, 2000.0)
    return trades(planner, points, len(points[0].priced.missing)) if points else None


def covers(shown: Trades, plan: Priced) -> bool:
    """Whether one that is shown costs at most the grain more and takes no more hours."""
    return any(
        t.priced.cash <= plan.cash + shown.grain + CENTS
        and t.priced.own_hours <= plan.own_hours + HOURS
        for t in shown.plans
    )


def agrees(make: SimpleNamespace, seed: int) -> int:
    """Hold the trades of one job against all its plans; how many are shown."""
    front, shown = front_of(make, seed), trades_of(make, seed)
    if shown is None:
        return 0
    assert shown.proved
    assert all(covers(shown, plan) for plan in front)
    for trade in shown.plans:  # and none is shown that a plan beats
        mine = trade.priced
        assert not any(
            p.cash < mine.cash - CENTS and p.own_hours < mine.own_hours - HOURS for p in front
        )
    assert len({(t.priced.cash, round(t.priced.own_hours, 4)) for t in shown.plans}) == len(
        shown.plans
    )
    return len(shown.plans)


def test_none_is_missing_on_small_jobs(make: SimpleNamespace) -> None:
    counts = [agrees(make, seed) for seed in range(200, 210)]
    assert sum(count > 2 for count in counts) >= 6


@pytest.mark.thorough
def test_none_is_on_many_more(make: SimpleNamespace) -> None:
    counts = [agrees(make, seed) for seed in range(2000, 2100)]
    assert sum(count > 2 for count in counts) >= 50


def without_time(monkeypatch: pytest.MonkeyPatch) -> None:
    """No time is left for the trees."""
    monkeypatch.setattr(pareto, "LEAST_SHARE", 2.0)


def test_at_a_grain_what_is_said_of_it_holds(
    make: SimpleNamespace, monkeypatch: pytest.MonkeyPatch
) -> None:
    without_time(monkeypatch)
    monkeypatch.setattr(pareto, "GRAIN", 0.1)
    seen = 0
    for seed in range(200, 206):
        front, shown = front_of(make, seed), trades_of(make, seed)
        if shown is None:
            continue
        seen += shown.grain > 1.0
        assert shown.proved
        assert all(covers(shown, plan) for plan in front)
    assert seen >= 3


@pytest.mark.parametrize("trees", [True, False])
def test_trades_between_own_hands_and_a_crew_by_hand(
    make: SimpleNamespace, monkeypatch: pytest.MonkeyPatch, trees: bool
) -> None:
    """Ten hours by hand, or a crew for 300.00, which is 30.00 an hour.

    With a saw eight hours for 100.00, where 60.00 would be that; with a digger four for 200.00,
    where 180.00 would be, and on stone three for 250.00. The loader, five hours for 210.00, is
    beaten by the digger.
    """
    if not trees:
        without_time(monkeypatch)
    hired = {"Saw": (8.0, 10000), "Digger": (4.0, 20000), "Loader": (5.0, 21000)}
    methods = [make.method("Dig", name, hours, machine=name) for name, (hours, _) in hired.items()]
    methods.append(make.method("Dig", "Crawler", 3.0, machine="Crawler", bedding="stone"))
    hired["Crawler"] = (3.0, 25000)
    options = make.options(
        methods=[make.method("Dig", "by hand", 10.0), *methods],
        machines=[
            make.machine(name, "rent", terms=[("week", cash, 7)])
            for name, (_, cash) in hired.items()
        ],
        bids=[make.bid("Crew", ["Dig"], 30000)],
    )  # fmt: skip
    beddings = [make.bedding("sand"), make.bedding("stone")]
    planner = Planner(make.takeoff([], [make.amount("Dig", 1.0)], beddings=beddings), options)
    shown = trades(planner, frontier(planner, 2000.0), 0)
    assert shown is not None
    assert [(t.priced.cash, t.priced.own_hours, t.supported) for t in shown.plans] == [
        (0, 10.0, True), (10000, 8.0, False), (20000, 4.0, False), (25000, 3.0, False),
        (30000, 0.0, True),
    ]  # fmt: skip
    assert shown.proved
    assert shown.grain == (0.0 if trees else 300.0)


def test_trees_that_are_put_down_and_taken_up_again_find_the_same(
    make: SimpleNamespace, monkeypatch: pytest.MonkeyPatch
) -> None:
    whole = trades_of(make, 203)
    rounds = []
    grow = pareto._Steps._tree

    def little(steps: Any, seconds: float, planner: Planner, chain: Any) -> float:
        clock = itertools.count()  # every branch seems to take all the time there is
        monkeypatch.setattr(pareto, "worked", lambda: 0.0)
        monkeypatch.setattr(fronts, "worked", lambda: next(clock))
        rounds.append(grow(steps, 0.5, planner, chain))
        return 0.0

    monkeypatch.setattr(Planner, "each", lambda self, tasks, work: [work(self, t) for t in tasks])
    monkeypatch.setattr(pareto._Steps, "_tree", little)
    pieces = trades_of(make, 203)
    assert whole is not None
    assert pieces is not None
    assert len(rounds) > 3 * sum(t.supported for t in whole.plans)
    assert pieces.grain == whole.grain == 0.0
    assert [t.priced.plan for t in pieces.plans] == [t.priced.plan for t in whole.plans]


def test_where_the_solver_gives_up_the_trades_are_unproved(
    make: SimpleNamespace, monkeypatch: pytest.MonkeyPatch
) -> None:
    solve = Relaxation.solve_surely
    monkeypatch.setattr(Planner, "each", lambda self, tasks, work: [work(self, t) for t in tasks])
    at, told = 0, []
    while True:
        calls = itertools.count()

        def giving_up(self: Relaxation, box: Box) -> Relaxed | None:
            if next(calls) == at:  # noqa: B023 - called within this turn only
                raise GaveUpError
            return solve(self, box)

        monkeypatch.setattr(Relaxation, "solve_surely", giving_up)
        shown = trades_of(make, 203)
        assert shown is not None
        assert len(shown.plans) >= 2  # the ends of the frontier stay
        if next(calls) <= at:
            break
        told.append(shown.proved)
        at += 7
    assert shown.proved  # nothing was given up
    assert len(told) > 2
    assert not any(told)


class Stopped(Model):
    """A model whose search number ``at`` under a cash limit is stopped, before or after a plan."""

    at = 0
    empty = False
    searches = 0

    def solve(self, *args: Any, most_cash: float | None = None, **kwargs: Any) -> Solved | None:
        found = super().solve(*args, most_cash=most_cash, **kwargs)
        Stopped.searches += 1
        if Stopped.searches - 1 != Stopped.at:
            return found
        if Stopped.empty:
            raise NothingFoundError
        return found and replace(found, proved=False, gap=0.1)


@pytest.mark.parametrize("empty", [True, False])
def test_a_search_that_was_stopped_leaves_the_trades_unproved(
    make: SimpleNamespace, monkeypatch: pytest.MonkeyPatch, empty: bool
) -> None:
    without_time(monkeypatch)
    monkeypatch.setattr(pareto, "Model", Stopped)
    monkeypatch.setattr(Planner, "each", lambda self, tasks, work: [work(self, t) for t in tasks])
    monkeypatch.setattr(Stopped, "empty", empty)
    unproved, at = [], 0
    while True:
        Stopped.at, Stopped.searches = at, 0
        shown = trades_of(make, 203)
        assert shown is not None
        assert len(shown.plans) >= 2  # the ends of the frontier stay
        if Stopped.searches <= at:
            break
        unproved.append(not shown.proved)
        at += 1
    assert shown.proved  # nothing was stopped
    assert len(unproved) > 2
    if empty:
        assert all(unproved)
    else:
        assert any(unproved)


def test_a_stopped_search_for_the_frontier_leaves_it_and_the_trades_unproved(
    make: SimpleNamespace, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Its points are then the best so far, and what lies between them is of no more worth."""
    monkeypatch.setattr("budget.decide.planner.Model", Stopped)
    monkeypatch.setattr(Planner, "each", lambda self, tasks, work: [work(self, t) for t in tasks])
    monkeypatch.setattr(Stopped, "empty", False)
    told, at = [], 0
    while True:
        Stopped.at, Stopped.searches = at, 0
        planner = Planner(*make.random_job(203))
        points = frontier(planner, 2000.0)
        if Stopped.searches <= at:
            break
        shown = trades(planner, points, len(points[0].priced.missing))
        assert shown is None or shown.proved == all(point.proved for point in points)
        told.append(all(point.proved for point in points))
        at += 1
    assert all(point.proved for point in points)  # nothing was stopped
    assert told.count(False) > 2


def agree_where_needs_are_parted(monkeypatch: pytest.MonkeyPatch, seeds: range) -> int:
    """Hold one tree against one search after another, each below the cash of the last."""
    seen = 0
    for seed in seeds:
        planner = Planner(*split_job(seed))
        points = frontier(planner, 2000.0)
        if len(points) < 2:
            continue
        missing = len(points[0].priced.missing)
        shown = trades(planner, points, missing)
        with monkeypatch.context() as patch:
            without_time(patch)
            patch.setattr(pareto, "GRAIN", 0.0)
            slow = trades(planner, points, missing)
        assert shown is not None
        assert slow is not None
        assert shown.proved
        assert slow.proved
        for one, other in ((shown, slow), (slow, shown)):
            assert all(covers(one, t.priced) for t in other.plans), seed
        seen += len(shown.plans) - len(points)
    return seen


def test_one_tree_finds_what_one_search_after_another_does(monkeypatch: pytest.MonkeyPatch) -> None:
    assert agree_where_needs_are_parted(monkeypatch, range(30)) > 5


@pytest.mark.thorough
def test_it_does_on_five_hundred_more(monkeypatch: pytest.MonkeyPatch) -> None:
    assert agree_where_needs_are_parted(monkeypatch, range(100, 600)) > 100
