"""Every trade of cash against own hours, against plain enumeration of all plans."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import replace
from types import SimpleNamespace
from typing import Any

import pytest
from split_jobs import split_job

from budget.decide.frontier import frontier
from budget.decide.model.model import Fewest, Model, Solved
from budget.decide.plan import Plan, Priced
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


#: Cash and hours of digging: two rented machines lie on the way from own hands to a crew at some
#: value of an hour, four do not, and one is beaten.
DIGGING = {
    "Saw": (5000, 8.0), "Loader": (10000, 5.0), "Excavator": (12000, 2.0), "Breaker": (13000, 2.5),
    "Crawler": (25005, 1.0),
}  # fmt: skip


def dug(make: SimpleNamespace) -> Planner:
    """Ten hours by hand, five kinds of machines, or a crew for 300.00; a permit is 50.00.

    On stone the crawler is five cents less.
    """
    methods = [
        make.method("Dig", name, hours, machine=name) for name, (_, hours) in DIGGING.items()
    ]
    methods.append(make.method("Dig", "On stone", 1.0, machine="Crawler 2", bedding="stone"))
    rents = {**{name: cash for name, (cash, _) in DIGGING.items()}, "Crawler 2": 25000}
    options = make.options(
        methods=[make.method("Dig", "by hand", 10.0), *methods],
        machines=[
            make.machine(name, "rent", terms=[("week", cash, 7)]) for name, cash in rents.items()
        ],
        bids=[make.bid("Crew", ["Dig"], 30000)], checklist=[make.check_line("Permit", value=5000)],
    )  # fmt: skip
    beddings = [make.bedding("sand"), make.bedding("stone")]
    return Planner(make.takeoff([], [make.amount("Dig", 1.0)], beddings=beddings), options)


@pytest.mark.parametrize("trees", [True, False])
def test_trades_between_own_hands_and_a_crew_by_hand(
    make: SimpleNamespace, monkeypatch: pytest.MonkeyPatch, trees: bool
) -> None:
    """To the excavator an hour is 15.00, from there to the crew 90.00.

    With the saw 30.00 would be that, and with the loader 75.00; with the crawler 210.00.
    """
    if not trees:
        without_time(monkeypatch)
    planner = dug(make)
    shown = trades(planner, frontier(planner, 2000.0), 0)
    assert shown is not None
    assert [(t.priced.cash - 5000, t.priced.own_hours, t.supported) for t in shown.plans] == [
        (0, 10.0, True), (5000, 8.0, False), (10000, 5.0, False), (12000, 2.0, True),
        (25000, 1.0, False), (30000, 0.0, True),
    ]  # fmt: skip
    assert shown.proved
    assert shown.grain == (0.0 if trees else 300.0)


def test_trades_are_as_sure_as_the_least_sure_search(
    make: SimpleNamespace, monkeypatch: pytest.MonkeyPatch
) -> None:
    """One point of three that is not proved; one of two searches that the solver gave up."""
    planner = dug(make)
    first, *points = frontier(planner, 2000.0)
    shown = trades(planner, (replace(first, proved=False), *points), 0)
    assert shown is not None
    assert not shown.proved
    calls, solve = itertools.count(), Relaxation.solve_surely

    def giving_up(self: Relaxation, box: Box) -> Relaxed | None:
        if next(calls) == 0:
            raise GaveUpError
        return solve(self, box)

    monkeypatch.setattr(Relaxation, "solve_surely", giving_up)
    shown = trades(planner, (first, *points), 0)
    assert shown is not None
    assert not shown.proved


def known(cash: int, hours: float, bedding: str = "sand", hand: str = "by hand") -> Any:
    """A plan as far as trades look at it."""
    plan = Plan(bedding, frozenset(), {}, {}, {"Dig": f"own: {hand}"}, {}, "")
    return SimpleNamespace(
        cash=cash, own_hours=hours, plan=plan, total=lambda value: cash + value * hours
    )


def chain(cheap: Any, dear: Any) -> Any:
    return pareto._Steps.between((cheap, dear))


def test_neighbours_cost_the_same_at_the_value_between_them() -> None:
    """300.00 more save eight hours: 37.50 each."""
    assert chain(known(5000, 11.0), known(35000, 3.0)).value == 3750.0


def test_of_plans_alike_the_best_at_some_value_is_told() -> None:
    """Less than half a minute is a trade only for plans of the frontier, as many hours for none."""
    near = 9.0 - 0.9 / 120.0
    found = [
        (known(900, 9.0, hand="saw"), False), (known(900, 9.0), True), (known(901, 9.0), True),
        (known(905, near), False), (known(906, near), True), (known(907, near - 0.02), False),
    ]  # fmt: skip
    told = [(t.priced.cash, t.supported, t.change) for t in pareto._told(found)]
    assert told == [(900, True, ""), (906, True, ""), (907, False, "")]


def test_each_search_has_an_equal_share_of_the_time_that_is_left() -> None:
    """Five by two workers take three turns each at the most, of 100 s: 33.3 s.

    In the first round the two took 1 + 3 + 5 and 2 + 4 s. The second and the fourth are not
    ended: they have all of the 91 s that are left, and take 90: less than a fiftieth is left.
    """
    chains = [chain(known(n, 9.0), known(100, 2.0)) for n in range(5)]
    given: list[float] = []

    def tree(share: float, _: Any, one: Any) -> float:
        given.append(share)
        one.ended = one.cheap.cash not in (1, 3)
        return one.cheap.cash + 1.0 if len(given) <= 5 else 90.0

    steps = pareto._Steps(0)
    steps._tree = tree  # type: ignore[method-assign, assignment]
    planner: Any = SimpleNamespace(
        limit=100.0, each=lambda tasks, work: [work(0, t) for t in tasks]
    )
    assert steps.grow(planner, chains) == [chains[1], chains[3]]
    assert given == [*[pytest.approx(100.0 / 3.0)] * 5, 91.0, 91.0]


def test_a_search_tells_how_long_it_took(monkeypatch: pytest.MonkeyPatch) -> None:
    times = iter((5.0, 7.5))
    monkeypatch.setattr(pareto, "worked", lambda: next(times))
    one = chain(known(0, 9.0), known(100, 2.0))
    one.fronts = []
    nobody: Any = None
    assert pareto._Steps(0)._tree(60.0, nobody, one) == 2.5
    assert one.ended


class Scripted:
    """The model of one bedding, as far as a search for trades asks it."""

    def __init__(self, fewest: Fewest | None, plans: Sequence[Any] = (), gaps: int = 0) -> None:
        self.fewest, self.plans, self.gaps = fewest, plans, gaps
        self.asked: list[tuple[float, float]] = []

    def fewest_missing(self) -> Fewest | None:
        if self.fewest is None or self.fewest.count >= 0:
            return self.fewest
        raise NothingFoundError

    def ground(self) -> Any:
        return SimpleNamespace(box=None)

    def solve(self, value: float, at_most: float, most_cash: float) -> Any:
        self.asked.append((at_most, most_cash))
        if self.fewest is not None and self.fewest.count < 0:
            raise NothingFoundError
        found = [p for p in self.plans if p.cash <= most_cash and p.total(value) <= at_most]
        best = min(found, key=lambda p: p.total(value), default=None)
        return best and SimpleNamespace(priced=best, proved=True, gaps=self.gaps)


STOPPED = Fewest(-1.0, False)


def scripted(models: dict[str, Scripted], gaps: int = 0) -> tuple[pareto._Steps, Any]:
    steps = pareto._Steps(gaps)
    steps._model = lambda _planner, bedding, _chain: models[bedding]  # type: ignore
    return steps, SimpleNamespace(sound=tuple(models))


@pytest.mark.parametrize(
    ("more", "fronts", "proved"),
    [
        ({}, ["sand", "chip"], True),
        ({"dust": Scripted(Fewest(1.0, False))}, ["sand", "chip", "dust"], False),
        ({"dust": Scripted(STOPPED)}, ["sand", "chip"], False),
        ({"dust": Scripted(Fewest(2.0, True))}, ["sand", "chip"], True),
    ],
)
def test_trees_are_begun_for_beddings_that_miss_no_more_prices(
    more: dict[str, Scripted], fronts: list[str], proved: bool
) -> None:
    """One price may be missing. Those of the neighbours come first; nothing can be built on mud."""
    models = {
        "mud": Scripted(None), "chip": Scripted(Fewest(0.0, True)), **more,
        "sand": Scripted(Fewest(1.0, True)),
    }  # fmt: skip
    steps, planner = scripted(models, gaps=1)
    one = chain(known(0, 9.0), known(100, 2.0))
    assert [front.bedding for front in steps._begun(planner, one)] == fronts
    assert one.proved == proved


def test_steps_go_down_by_a_grain_from_the_dearer_to_the_cheaper() -> None:
    """From 10.00 by 0.50: below 9.50 for 9.40, no fewer hours than the dearer one; below 8.90 for
    7.00; below 6.50 for 3.00; below 2.50 it is the cheaper one. For 6.80 is passed over."""
    cheap, dear = known(100, 9.0), known(1000, 2.0)
    plans = [cheap, known(300, 8.0), known(680, 6.0), known(700, 4.5), known(940, 2.0), dear]
    sand = Scripted(Fewest(0.0, True), plans)
    steps, planner = scripted({"sand": sand})
    one = chain(cheap, dear)
    steps.step(planner, one, 50.0)
    assert [most for _, most in sand.asked] == [950, 890, 650, 250]
    assert one.found == [plans[3], plans[1]]
    assert one.proved


def test_a_step_that_no_search_finds_is_not_proved() -> None:
    steps, planner = scripted({"sand": Scripted(STOPPED), "mud": Scripted(None)})
    one = chain(known(100, 9.0), known(1000, 2.0))
    steps.step(planner, one, 50.0)
    assert (one.found, one.proved) == ([], False)


@pytest.mark.parametrize(("gaps", "bedding"), [(1, "stone"), (2, "sand")])
def test_a_step_is_the_best_of_all_beddings_that_miss_no_more_prices(
    gaps: int, bedding: str
) -> None:
    """An equal number of hours for five cents less; lines may be off by ten."""
    sand = Scripted(Fewest(0.0, True), [known(505, 4.0)])
    stone = Scripted(Fewest(0.0, True), [known(500, 4.0, "stone")], gaps)
    steps, planner = scripted({"sand": sand, "stone": stone}, gaps=1)
    one = chain(known(100, 9.0), known(1000, 2.0))
    found, proved = steps._fewest_hours(planner, one, 950.0)
    assert found is not None
    assert (found.plan.bedding, proved) == (bedding, True)


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
