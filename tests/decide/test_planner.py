"""What a planner passes over, and what it says of searches that were stopped."""

from __future__ import annotations

import math
from dataclasses import replace
from types import SimpleNamespace

import pytest

from budget.decide.model.model import Fewest, Model, Solved
from budget.decide.pins import Pinned
from budget.decide.planner import Planner, _Curve, still_open

HOUR = 2000.0


@pytest.fixture
def planner(make: SimpleNamespace) -> Planner:
    """Chip that nobody has priced, or sand for 200.00; an hour to lay either."""
    needs = [make.need(name, "Bed", {"count": 1}, bedding=name) for name in ("chip", "sand")]
    takeoff = make.takeoff(
        needs, [make.amount("Lay", 1.0)], beddings=[make.bedding("chip"), make.bedding("sand")]
    )
    options = make.options(
        offers=[make.offer("sand", "North", 20000, measure="count", per="each")],
        routes=[make.drop("North", 0)], methods=[make.method("Lay", "by hand", 1.0)],
    )  # fmt: skip
    return Planner(takeoff, options)


def _bedding(found: Solved | None) -> str:
    assert found is not None
    return found.priced.plan.bedding


@pytest.mark.parametrize("known", [False, True])
def test_a_bedding_whose_fewest_missing_prices_are_not_proved_is_not_passed_over(
    planner: Planner, monkeypatch: pytest.MonkeyPatch, known: bool
) -> None:
    """Sand, dearer by 200.00, misses no price, and the search for that was stopped at one."""
    if known:
        assert _bedding(planner.best(HOUR)) == "sand"
    monkeypatch.setattr(Model, "fewest_missing", lambda *_: Fewest(1, False))
    found = planner.best(HOUR)
    assert _bedding(found) == "sand"
    assert found is not None
    assert found.gaps == 0


def test_what_a_stopped_search_may_still_find_is_told(
    planner: Planner, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Sand and an hour are 220.00; its search ends with 5 % to save at most."""
    solve = Planner.solve

    def stopped(self: Planner, bedding: str, pinned: Pinned, hour_value: float) -> Solved | None:
        found = solve(self, bedding, pinned, hour_value)
        return found and replace(found, proved=False, gap=0.05)

    monkeypatch.setattr(Planner, "solve", stopped)
    found = planner.best(HOUR, Pinned(bedding="sand"))
    assert found is not None
    assert found.priced.total(HOUR) == 22000
    assert (found.proved, found.gap) == (False, pytest.approx(0.05))


def test_a_stopped_search_that_misses_more_prices_leaves_no_doubt(
    planner: Planner, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Chip, for which a price is missing whatever is found, cannot come before sand."""
    solve = Planner.solve

    def stopped(self: Planner, bedding: str, pinned: Pinned, hour_value: float) -> Solved | None:
        found = solve(self, bedding, pinned, hour_value)
        return replace(found, proved=False, gap=0.5) if found and bedding == "chip" else found

    monkeypatch.setattr(Planner, "solve", stopped)
    found = planner.best(HOUR)
    assert found is not None
    assert (_bedding(found), found.proved, found.gap) == ("sand", True, 0.0)


def test_a_search_that_was_stopped_is_open_as_far_as_it_may_rank_first(planner: Planner) -> None:
    """Sand and an hour are 220.00; so far as it is priced chip is 20.00."""
    sand, chip = (planner.solve(name, Pinned(), HOUR) for name in ("sand", "chip"))
    assert sand is not None
    assert chip is not None

    def floors(best: Solved, other: Solved) -> list[float]:
        return list(still_open(best, [best, other], HOUR))

    half = {"proved": False, "gap": 0.5}
    assert floors(sand, replace(sand, **half)) == [11000.0]
    assert floors(sand, replace(chip, **half)) == []
    assert floors(chip, replace(sand, **half)) == [11000.0]
    assert floors(sand, replace(chip, proved=False, gap=math.inf)) == [-math.inf]


def test_no_plan_goes_below_the_chord_of_totals_known() -> None:
    """300.00 at 10.00 an hour and 500.00 at 30.00: at 15.00 no less than 350.00."""
    curve = _Curve({1000.0: 30000.0, 3000.0: 50000.0})
    assert [curve.floor(value) for value in (1000.0, 1500.0, 3000.0)] == [30000, 35000, 50000]
    assert [curve.floor(value) for value in (999.0, 3001.0)] == [float("-inf")] * 2
