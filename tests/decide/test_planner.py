"""What a planner passes over, and what it says of searches that were stopped."""

from __future__ import annotations

import math
from dataclasses import replace
from types import SimpleNamespace

import pytest

from budget.decide.model.model import Fewest, Model, Solved
from budget.decide.pins import Pinned, UnknownPin, read_pins
from budget.decide.plan import Plan
from budget.decide.planner import Planner, _Curve, so_far, still_open

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


def test_between_several_totals_known_the_nearest_two_count() -> None:
    """420.00 at 20.00 an hour and 600.00 at 40.00: 510.00 halfway, whatever lies further off."""
    curve = _Curve({5000.0: 65000.0, 1000.0: 30000.0, 4000.0: 60000.0, 2000.0: 42000.0})
    assert curve.floor(3000.0) == 51000


def test_of_several_stopped_searches_the_one_that_may_go_lowest_counts(planner: Planner) -> None:
    """Sand and an hour are 220.00. A search that may come down to just that leaves no doubt."""
    found = planner.solve("sand", Pinned(), HOUR)
    assert found is not None
    for floors, sure, gap in (
        ([19800.0, 11000.0, 16500.0], False, 0.5),
        ([22000.0, 30000.0], True, 0.0),
        ([21999.5], False, 0.5 / 22000),
        ([], True, 0.0),
    ):
        told = so_far(found, HOUR, floors)
        assert (told.proved, told.gap) == (sure, pytest.approx(gap))
    nothing = replace(found, priced=replace(found.priced, cash=0, own_hours=0.0))
    assert so_far(nothing, HOUR, [-0.5]).gap == 1.5  # of less than a cent, by the cent


@pytest.fixture
def pinnable(make: SimpleNamespace) -> Planner:
    """Sand in part at three quotes of two sellers, or whole from a third; a bench may be left out.

    Stone is to be had of one quote in part, grit of two.
    """
    offers = [
        make.offer("Sand", "North", 500, per="bag", in_part=True),
        make.offer("Sand", "South", 600, per="bag", in_part=True),
        make.offer("Sand", "South", 5000, per="tonne", holds=10.0, in_part=True),
        make.offer("Sand", "West", 700, per="bag"),
        make.offer("Stone", "North", 100, per="bag", in_part=True),
        make.offer("Stone", "South", 100, per="bag"),
        make.offer("Grit", "North", 100, per="bag", in_part=True),
        make.offer("Grit", "South", 100, per="bag", in_part=True),
    ]
    routes = [make.drop("North", 0), make.drop("North", 0, point="site"), make.haul("North", 500),
              make.drop("South", 0), make.drop("West", 0)]  # fmt: skip
    machines = [
        make.machine("Saw", "rent from A", terms=[("day", 1, 1)]),
        make.machine("Saw", "lent"),
        make.machine("Saw", "rent from B", terms=[("day", 1, 1)]),
        make.machine("Saw", "buy at A", once=100),
    ]
    options = make.options(
        offers=offers, routes=routes, machines=machines,
        methods=[make.method("Lay", "by hand", 1.0), make.method("Cut", "saw", 1.0, machine="Saw")],
    )  # fmt: skip
    needs = [make.need(item, "Lay", {"mass": 25}) for item in ("Sand", "Stone", "Grit")]
    steps = [make.amount("Lay", 1.0), make.amount("Cut", 1.0)]
    return Planner(make.takeoff(needs, steps, optional=["Bench", "Arbour"]), options)


@pytest.mark.parametrize(
    ("choice", "written", "values"),
    [
        ("goods:North", "deliver", {"deliver to drive", "deliver to site"}),
        ("goods:North", "haul", {"haul with Pickup"}),
        ("machine:Saw", "rent", {"rent from A", "rent from B"}),
        ("machine:Saw", "borrow", {"lent"}),
        ("machine:Saw", "Buy", {"buy at A"}),
        ("item:Sand", "south", {"Sand @ South, bag", "Sand @ South, tonne"}),
        ("item:Sand", "several quotes", {"several quotes"}),
        ("item:Grit", "several quotes", {"several quotes"}),
        ("item:Stone", "South", {"Stone @ South, bag"}),
        (
            "item:Sand",
            "2 of South, tonne + rest of north",
            {"2 of Sand @ South, tonne + rest of Sand @ North, bag"},
        ),
    ],
)
def test_pins_in_short(pinnable: Planner, choice: str, written: str, values: set[str]) -> None:
    assert read_pins(pinnable.situations(), {choice: written}).allowed == {choice: values}


def test_parts_are_pinned_to_be_kept_or_left_out(pinnable: Planner) -> None:
    found = read_pins(pinnable.situations(), {"part:Bench": "drop", "part:arbour": "Keep"})
    assert (found.dropped, found.kept, found.allowed) == ({"Bench"}, {"Arbour"}, {})


@pytest.mark.parametrize(
    ("choice", "written", "told"),
    [
        ("item:Sand", "2 of South + rest of North", "Sand @ South, bag; Sand @ South, tonne"),
        ("item:Sand", "2 of West + rest of North", "none that may be bought in part"),
        ("item:Stone", "several quotes", "there is no value of item:Stone called several quotes"),
    ],
)
def test_what_cannot_be_bought_in_part_is_refused(
    pinnable: Planner, choice: str, written: str, told: str
) -> None:
    with pytest.raises(UnknownPin) as said:
        read_pins(pinnable.situations(), {choice: written})
    assert told in str(said.value)


def test_a_bedding_known_to_be_a_few_cents_cheaper_is_not_passed_over(
    make: SimpleNamespace,
) -> None:
    """Sand for 50.00 is known already when chips for 50.05 are found."""
    names = ("chips", "sand")
    offers = [make.offer(name, "North", price, measure="count", per="each")
              for name, price in (("sand", 5000), ("chips", 5005))]  # fmt: skip
    options = make.options(
        offers=offers, routes=[make.drop("North", 0)], methods=[make.method("Lay", "by hand", 1.0)]
    )
    takeoff = make.takeoff(
        [make.need(name, "Lay", {"count": 1}, bedding=name) for name in names],
        [make.amount("Lay", 1.0)], beddings=[make.bedding(name) for name in names],
    )  # fmt: skip
    planner = Planner(takeoff, options)
    assert _bedding(planner.best(HOUR, beddings=["sand"])) == "sand"
    assert _bedding(planner.best(HOUR)) == "sand"


def test_steps_by_hands() -> None:
    steps = {"Dig": "bid: Crew: all", "Lay": "own: by hand", "Bed": "bid: Crew: all",
             "Cut": "own: saw", "Joint": "bid: Joiner"}  # fmt: skip
    own, hired = Plan("sand", frozenset(), {}, {}, steps, {}, "").by_hands()
    assert (own, hired) == (["Lay", "Cut"], {"Crew: all": ["Dig", "Bed"], "Joiner": ["Joint"]})
