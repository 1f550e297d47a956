"""How the search for trades shares out its time and walks at a grain: single rules by hand."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from types import SimpleNamespace
from typing import Any

import pytest

from budget.decide.frontier import MOST_VALUE
from budget.decide.plan import FrontierPoint, Plan, Priced
from budget.decide.planner import ROUNDING
from budget.decide.programme import fronts
from budget.decide.programme.search import NothingFoundError
from budget.decide.programme.staircase import CENT, HALF_MINUTE, Corner
from budget.decide.thorough import pareto
from budget.decide.thorough.pareto import _Steps, _told, trades


def plan(cash: int, hours: float, bedding: str = "sand") -> Priced:
    choices = Plan(bedding, frozenset(), {}, {}, {}, {}, "")
    return Priced(choices, (), (), (), (), (), cash, hours, 0.0, 0.0, 0, ())


CHEAP, DEAR = plan(1000, 10.0), plan(2000, 2.0, "chips")


def chain() -> Any:
    return _Steps.between((CHEAP, DEAR))


def planner(limit: float = 100.0, sound: Sequence[str] = ()) -> Any:
    def each(tasks: Sequence[Any], work: Any) -> list[Any]:
        return [work(None, task) for task in tasks]

    return SimpleNamespace(limit=limit, sound=sound, each=each)


def test_time_is_shared_out_to_two_at_once_and_what_is_left_goes_round_again(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Three trees on two workers have half of the 100 seconds each. The first worker takes 40 and
    20, the second 10: 40 are left, for the two that have not ended. The first takes 38 of them;
    two in a hundred are no time."""
    chains = [chain(), chain(), chain()]
    spent = iter([(40.0, True), (10.0, False), (20.0, False), (38.0, True), (0.0, False)])
    shares = []

    def tree(steps: Any, share: float, _: Any, one: Any) -> float:
        shares.append(share)
        seconds, one.ended = next(spent)
        return seconds

    monkeypatch.setattr(_Steps, "_tree", tree)
    assert _Steps(0).grow(planner(), chains) == [chains[2]]
    assert shares == [50.0, 50.0, 50.0, 40.0, 40.0]


def test_trees_that_end_take_no_more_time(monkeypatch: pytest.MonkeyPatch) -> None:
    def tree(steps: Any, share: float, _: Any, one: Any) -> float:
        one.ended = True
        return 1.0

    monkeypatch.setattr(_Steps, "_tree", tree)
    assert _Steps(0).grow(planner(), [chain()]) == []


@pytest.mark.parametrize("ends", [(True, True), (True, False), (False, False)])
def test_a_tree_is_ended_once_that_of_each_bedding_is(
    monkeypatch: pytest.MonkeyPatch, ends: tuple[bool, ...]
) -> None:
    """Begun at five seconds of work, with three to go on and two taken."""
    until = []

    def front(ended: bool) -> Any:
        def go_on(ground: Any, stairs: Any, end: float) -> bool:
            until.append(end)
            return ended

        return SimpleNamespace(go_on=go_on, bedding="sand", proved=True)

    monkeypatch.setattr(_Steps, "_model", lambda *_: SimpleNamespace(ground=lambda: None))
    clock = iter([5.0, 7.0])
    monkeypatch.setattr(pareto, "worked", lambda: next(clock))
    one = chain()
    one.fronts = [front(ended) for ended in ends]
    assert _Steps(0)._tree(3.0, planner(), one) == 2.0
    assert set(until) == {8.0}
    assert one.ended is all(ends)


def test_beddings_are_searched_those_of_the_neighbours_first(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """One that misses more prices is left out, one that nothing fits is, and one whose search
    found nothing leaves the trades unproved. An hour is worth 1,000 cents over eight hours."""
    missing = {"a": 1, "b": 2, "chips": 1, "none": None, "sand": 0}

    def model(steps: Any, planner: Any, bedding: str, chain: Any) -> Any:
        def fewest() -> Any:
            if bedding == "gave up":
                raise NothingFoundError
            count = missing[bedding]
            return None if count is None else SimpleNamespace(count=count, proved=True)

        box = SimpleNamespace(box=bedding)
        return SimpleNamespace(fewest_missing=fewest, ground=lambda: box)

    begun = []

    class Front:
        @staticmethod
        def below(bedding: str, box: Any, most: Corner, value: float) -> str:
            begun.append((bedding, box, most, value))
            return bedding

    monkeypatch.setattr(_Steps, "_model", model)
    monkeypatch.setattr(fronts, "Front", Front)
    for also, proved in (("none", True), ("gave up", False)):
        begun.clear()
        one = chain()
        found: Any = _Steps(1)._begun(planner(sound=("b", "a", also, "sand", "chips")), one)
        assert found == ["chips", "sand", "a"]
        most = Corner(2000 - CENT, 10.0 - HALF_MINUTE)
        assert begun == [(name, name, most, 125.0) for name in found]
        assert one.proved is proved


def test_a_walk_at_a_grain_goes_below_each_plan_until_the_cheap_neighbour(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """From 20.00 down by at least 1.00 each: the plan under 19.00 has the dear one's hours, that
    under 18.00 costs 17.50, the next 11.00; below it is the limit of the cheap one, 10.00."""
    known = {1900.0: plan(1900, 2.0), 1800.0: plan(1750, 3.0), 1650.0: plan(1100, 9.0)}
    asked = []

    def fewest(steps: Any, planner: Any, chain: Any, limit: float) -> tuple[Priced, bool]:
        asked.append(limit)
        return known[limit], limit != 1650.0

    monkeypatch.setattr(_Steps, "_fewest_hours", fewest)
    one = chain()
    _Steps(0).step(planner(), one, 100.0)
    assert asked == [1900.0, 1800.0, 1650.0]
    assert one.found == [known[1800.0], known[1650.0]]
    assert not one.proved


def test_a_walk_ends_at_the_hours_of_the_cheap_neighbour(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(_Steps, "_fewest_hours", lambda *_: (plan(1500, 10.0), True))
    one = chain()
    _Steps(0).step(planner(), one, 100.0)
    assert one.found == []


def test_the_fewest_hours_are_sought_under_every_bedding(monkeypatch: pytest.MonkeyPatch) -> None:
    """Each after the first need not pass what was found, and what misses a price too many is no
    answer: at equal hours the cheaper one is taken."""
    answers = {
        "a": SimpleNamespace(priced=plan(1500, 5.0, "a"), gaps=1, proved=True),
        "b": SimpleNamespace(priced=plan(1000, 1.0, "b"), gaps=2, proved=True),
        "c": SimpleNamespace(priced=plan(1400, 5.0, "c"), gaps=1, proved=True),
        "d": None,
    }
    asked = []

    def model(steps: Any, planner: Any, bedding: str, chain: Any) -> Any:
        def solve(value: float, at_most: float, most_cash: float) -> Any:
            asked.append((bedding, value, at_most, most_cash))
            if bedding == "e":
                raise NothingFoundError
            return answers[bedding]

        return SimpleNamespace(solve=solve)

    monkeypatch.setattr(_Steps, "_model", model)
    found, proved = _Steps(1)._fewest_hours(planner(sound="abcd"), chain(), 1800.0)
    assert (found, proved) == (plan(1400, 5.0, "c"), True)
    below = [1500 + 5.0 * MOST_VALUE + ROUNDING, 1400 + 5.0 * MOST_VALUE + ROUNDING]
    assert [most for _, _, most, _ in asked] == [math.inf, below[0], below[0], below[1]]
    assert {(value, cash) for _, value, _, cash in asked} == {(MOST_VALUE, 1800.0)}
    assert _Steps(1)._fewest_hours(planner(sound="ae"), chain(), 1800.0)[1] is False


def test_what_is_told_are_the_plans_that_none_comes_up_to() -> None:
    """Of two alike the one of the frontier. Beside it a plan must save half a minute; one of the
    frontier tells any hours less."""
    first, twin = plan(1000, 10.0), plan(1000, 10.0, "chips")
    slow, near = plan(1100, 11.0), plan(1200, 10.0 - HALF_MINUTE / 2)
    far, last = plan(1300, 10.0 - 2 * HALF_MINUTE), plan(1400, 10.0 - 2.5 * HALF_MINUTE)
    found = [(far, False), (near, False), (twin, False), (slow, True), (first, True), (last, True)]
    for order in itertools.islice(itertools.permutations(found), 0, 720, 60):
        told = _told(list(order))
        assert [(t.priced, t.supported) for t in told] == [
            (first, True), (far, False), (last, True),
        ]  # fmt: skip


@pytest.mark.parametrize(("ended", "grain"), [(True, 0.0), (False, 10.0)])
def test_two_plans_of_the_frontier_have_trades_between_them(
    monkeypatch: pytest.MonkeyPatch, ended: bool, grain: float
) -> None:
    """Where time is short, plans nearer than a hundredth of the span are not told apart."""
    between = plan(1500, 5.0)

    def grow(steps: Any, planner: Any, chains: Any) -> Any:
        chains[0].found.append(between)
        return [] if ended else chains

    walked = []
    monkeypatch.setattr(_Steps, "grow", grow)
    monkeypatch.setattr(_Steps, "step", lambda *how: walked.append(how[-1]))
    points = [
        FrontierPoint(0.0, 125.0, CHEAP, ""), FrontierPoint(125.0, math.inf, DEAR, "", proved=False)
    ]  # fmt: skip
    found = trades(planner(), tuple(points), 0)
    assert found is not None
    assert [(t.priced, t.supported) for t in found.plans] == [
        (CHEAP, True), (between, False), (DEAR, True),
    ]  # fmt: skip
    assert (found.grain, walked, found.proved) == (grain, [] if ended else [grain], False)
    assert trades(planner(), tuple(points[:1]), 0) is None


def test_one_search_that_was_stopped_leaves_all_unproved(monkeypatch: pytest.MonkeyPatch) -> None:
    one: Any = chain()
    one.fronts = [SimpleNamespace(proved=True), SimpleNamespace(proved=False)]
    _Steps(0)._end(planner(), one)
    assert not one.proved

    def grow(steps: Any, planner: Any, chains: Any) -> Any:
        chains[0].proved = False
        return []

    monkeypatch.setattr(_Steps, "grow", grow)
    ends = (CHEAP, plan(1500, 5.0), DEAR)
    found = trades(planner(), tuple(FrontierPoint(0.0, math.inf, p, "") for p in ends), 0)
    assert found is not None
    assert not found.proved
