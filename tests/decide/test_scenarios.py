"""Scenarios by hand: machine work that is hired with other steps, and why one cannot be had."""

from __future__ import annotations

from dataclasses import replace
from types import SimpleNamespace
from typing import Any

import pytest

from budget.decide.plan import Scenario
from budget.decide.planner import Planner
from budget.decide.scenarios import MACHINE_WORK, _sentence, _too_wide, _unreachable, scenarios
from budget.decide.terms.situation import Situation
from budget.job import Pin, Place

HOUR = 2000.0


def planner(make: SimpleNamespace, *bids: Any) -> Planner:
    """An hour each of digging and of the base, which machines do, and of laying and jointing.

    An hour is 20.00, so that own hands are the cheapest for all four.
    """
    steps = ("Dig", "Base", "Lay", "Joint")
    options = make.options(methods=[make.method(s, "by hand", 1.0) for s in steps], bids=bids)
    takeoff = make.takeoff(
        [], [make.amount(s, 1.0) for s in steps], beddings=[make.bedding("sand")]
    )
    return Planner(takeoff, options)


def machine_work(of: Planner) -> Scenario:
    (found,) = [s for s in scenarios(of, HOUR, ()) if s.name == MACHINE_WORK]
    return found


def test_machine_work_is_hired_alone_where_bids_do_it_alone(make: SimpleNamespace) -> None:
    ground = make.bid("Ground", ["Dig", "Base"], 50000)
    with_laying = make.bid("With laying", ["Dig", "Base", "Lay"], 30000)
    found = machine_work(planner(make, ground, with_laying))
    assert found.priced is not None
    assert (found.feasible, found.priced.cash, found.priced.own_hours) == (True, 50000, 2.0)
    assert set(found.pins.values()) == {"hire", "own"}


def test_machine_work_is_hired_with_steps_that_a_bid_brings_along(make: SimpleNamespace) -> None:
    """The digger lays too. Jointing stays own work, though a firm asks next to nothing for it."""
    ground = make.bid("Ground", ["Dig", "Base", "Lay"], 50000)
    joints = make.bid("Joints", ["Joint"], 100)
    found = machine_work(planner(make, ground, joints))
    assert found.priced is not None
    assert found.priced.plan.steps == {
        "Dig": "bid: Ground", "Base": "bid: Ground", "Lay": "bid: Ground", "Joint": "own: by hand",
    }  # fmt: skip
    assert (found.priced.cash, found.priced.own_hours) == (50000, 1.0)
    assert (found.feasible, found.proved, found.why_not) == (True, True, "")
    assert found.pins == {"step:Dig": "hire", "step:Base": "hire"}


def test_machine_work_that_nobody_offers_cannot_be_hired(make: SimpleNamespace) -> None:
    found = machine_work(planner(make, make.bid("Joints", ["Lay", "Joint"], 100)))
    assert (found.feasible, found.priced, found.proved, found.gap) == (False, None, True, 0.0)
    assert found.why_not == "No bid covers Dig and Base."


def test_a_scenario_that_is_misspelt_is_shown_once(make: SimpleNamespace) -> None:
    """Under the first bedding by name, whichever stands first."""
    of = planner(make)
    beddings = (make.bedding("stone"), make.bedding("chips"), make.bedding("sand"))
    of = Planner(replace(of.takeoff, beddings=beddings), of.options)
    row = Pin(place=Place("Scenarios", 2), scenario="Mine", choice="step:Digg", value="own")
    (mine,) = [s for s in scenarios(of, HOUR, (row,)) if s.name == "Mine"]
    assert (mine.bedding, mine.feasible) == ("chips", False)
    assert mine.why_not == "There is no choice called step:Digg; did you mean step:Dig?"


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("a way?", "A way?"), ("a way.", "A way."), ("a way", "A way."), ("Big Dig", "Big Dig."),
    ],
)  # fmt: skip
def test_a_reason_is_a_sentence(text: str, told: str) -> None:
    assert _sentence(text) == told


@pytest.mark.parametrize(
    ("least", "haul", "told"),
    [
        ((500.0, 1.0), False, "Stone cannot be had: North or South may not deliver so little"),
        ((500.0, 0.0), False, ""),  # South brings any amount
        ((500.0, 1.0), True, ""),  # it can be fetched
        ((0.0, 0.0), False, ""),
    ],
)
def test_goods_are_out_of_reach_where_every_seller_brings_only_more(
    make: SimpleNamespace, least: tuple[float, float], haul: bool, told: str
) -> None:
    """Gravel, of which North brings any amount by another route, comes first."""
    routes = [make.drop("North", 0, least=least[0]), make.drop("South", 0, least=least[1])]
    routes += [make.drop("West", 0), make.drop("East", 0, least=9.0)]
    options = make.options(
        offers=[
            make.offer(item, s, 1, weight=1)
            for item, s in (("Gravel", "West"), ("Stone", "North"), ("Stone", "South"),
                            ("Gravel", "East"))
        ],
        routes=[*routes, make.haul("South", 500)] if haul else routes,
    )  # fmt: skip
    needs = [make.need(item, "Base", {"mass": 9}, weight=9) for item in ("Gravel", "Stone")]
    situation = Situation(make.takeoff(needs, []), options, "sand", frozenset())
    found = _unreachable(situation)
    assert found.startswith(told)
    assert bool(found) is bool(told)


@pytest.mark.parametrize(
    ("digs", "bids", "fits", "told"),
    [
        (("Loader", "Digger"), [], (False, False, False), "Dig needs Digger or Loader, too wide"),
        (("Loader", "Digger"), [], (False, True, False), ""),  # one of two loaders fits
        (("Loader", ""), [], (False, False, False), ""),  # by hand too
        (("Loader", "Saw"), [], (False, False, False), ""),  # nobody says how wide a saw is
        (("Loader",), ["Dig"], (False, False, False), ""),  # a firm does it
        (("Loader",), ["Lay"], (False, False, False), "Dig needs Loader, too wide"),
        (("Digger",), [], (False, False, True), ""),
    ],
)
def test_a_step_is_out_of_reach_where_every_machine_is_too_wide(
    make: SimpleNamespace, digs: tuple[str, ...], bids: list[str], fits: tuple[bool, ...], told: str
) -> None:
    """Two loaders and a digger for the digging; laying needs none."""
    machines = [
        make.machine(name, key, terms=[("day", 1, 1)], fits=fit)
        for (name, key), fit in zip(
            (("Loader", "rent"), ("Loader", "rent small"), ("Digger", "rent")), fits, strict=True
        )
    ]
    methods = [make.method("Dig", m or "by hand", 1.0, machine=m) for m in digs]
    options = make.options(
        methods=[*methods, make.method("Lay", "by hand", 1.0)], machines=machines,
        bids=[make.bid("Firm", bids, 100)] if bids else [],
    )  # fmt: skip
    takeoff = make.takeoff([], [make.amount("Dig", 1.0), make.amount("Lay", 1.0)])
    found = _too_wide(Situation(takeoff, options, "sand", frozenset()))
    assert found.startswith(told)
    assert bool(found) is bool(told)
