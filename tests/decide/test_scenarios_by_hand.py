"""The scenarios that people ask about, and why one cannot be had: worked out by hand."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from types import SimpleNamespace
from typing import Any

import pytest

from budget.decide.pins import Pinned
from budget.decide.plan import Scenario
from budget.decide.planner import Planner
from budget.decide.scenarios import ALL_HIRED, MACHINE_WORK, scenarios, why_not
from budget.decide.terms.situation import Situation
from budget.job import Pin, Place

HOUR = 2000.0
STEPS = {"Dig": 3.0, "Base": 4.0, "Lay": 20.0, "Joint": 20.0}


def asked(
    make: SimpleNamespace, bids: Mapping[str, Sequence[str]], pins: Sequence[tuple[str, str]] = (),
    beddings: Sequence[str] = ("sand",),
) -> tuple[Scenario, ...]:  # fmt: skip
    """Scenarios of four steps, of which digging and the base are the work of machines; own hands
    do each in an hour a unit, bids cost 10.00 a step. Pins are those of a scenario called Mine."""
    takeoff = make.takeoff(
        [], [make.amount(step, n) for step, n in STEPS.items()],
        beddings=[make.bedding(name) for name in beddings],
    )  # fmt: skip
    options = make.options(
        methods=[make.method(step, "by hand", 1.0) for step in STEPS],
        bids=[make.bid(name, steps, 1000 * len(steps)) for name, steps in bids.items()],
    )
    rows = (Pin(place=Place("Scenarios", 2), scenario="Mine", choice=c, value=v) for c, v in pins)
    return scenarios(Planner(takeoff, options), HOUR, tuple(rows))


def of_name(found: Sequence[Scenario], name: str) -> Scenario:
    return next(s for s in found if s.name == name)


def hired(scenario: Scenario) -> dict[str, str]:
    assert scenario.priced is not None
    steps = scenario.priced.plan.steps
    return {s: way.removeprefix("bid: ") for s, way in steps.items() if way.startswith("bid")}


def test_machine_work_is_hired_and_the_rest_is_ones_own(make: SimpleNamespace) -> None:
    """However little the others ask, and though one bid would do the base with the laying."""
    found = of_name(
        asked(make, {"Digger": ["Dig"], "Roller": ["Base"], "Pavers": ["Base", "Lay"],
                     "Joiner": ["Joint"]}),
        MACHINE_WORK,
    )  # fmt: skip
    assert (found.feasible, found.proved, found.why_not) == (True, True, "")
    assert hired(found) == {"Dig": "Digger", "Base": "Roller"}
    assert found.pins == {
        "step:Dig": "hire", "step:Base": "hire", "step:Lay": "own", "step:Joint": "own",
    }  # fmt: skip


def test_a_bid_that_does_machine_work_may_bring_other_steps_with_it(make: SimpleNamespace) -> None:
    """Nobody does the base alone: the laying comes with it. Joints are nobody's machine work."""
    found = of_name(
        asked(make, {"Digger": ["Dig"], "Pavers": ["Base", "Lay"], "Joiner": ["Joint"]}),
        MACHINE_WORK,
    )  # fmt: skip
    assert (found.feasible, found.proved, found.why_not) == (True, True, "")
    assert hired(found) == {"Dig": "Digger", "Base": "Pavers", "Lay": "Pavers"}
    assert found.pins == {"step:Dig": "hire", "step:Base": "hire"}


def test_machine_work_that_nobody_offers_cannot_be_hired(make: SimpleNamespace) -> None:
    found = of_name(asked(make, {"Digger": ["Dig"], "Joiner": ["Joint"]}), MACHINE_WORK)
    assert (found.feasible, found.priced, found.proved, found.gap) == (False, None, True, 0.0)
    assert found.why_not == "No bid covers Base."
    whole = of_name(asked(make, {"Digger": ["Dig"], "Rest": ["Base", "Lay"]}), ALL_HIRED)
    assert whole.why_not == "No bid covers Joint."


def test_a_scenario_of_ones_own_is_planned_under_every_bedding(make: SimpleNamespace) -> None:
    found = asked(make, {"Digger": ["Dig"]}, [("step:Dig", "hire")], beddings=["chips", "sand"])
    assert [(s.bedding, hired(s)) for s in found if s.name == "Mine"] == [
        ("chips", {"Dig": "Digger"}), ("sand", {"Dig": "Digger"}),
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("choice", "why"),
    [
        ("step:Digg", "There is no choice called step:Digg; did you mean step:Dig?"),
        ("qqqqqqq", "There is no choice called qqqqqqq"),
    ],
)
def test_a_pin_of_nothing_there_is_refused_under_the_first_bedding(
    make: SimpleNamespace, choice: str, why: str
) -> None:
    """Once, in a sentence that ends as a question or with one stop."""
    pins = [(choice, "own")]
    (found,) = (
        s for s in asked(make, {"Digger": ["Dig"]}, pins, beddings=["chips", "sand"])
        if s.name == "Mine"
    )  # fmt: skip
    assert (found.bedding, found.feasible, found.proved, found.gap) == ("chips", False, True, 0.0)
    assert found.pins == dict(pins)
    assert found.why_not.startswith(why)
    assert found.why_not.rstrip("?.") + ("?" if why[-1] == "?" else ".") == found.why_not


def situated(make: SimpleNamespace, needs: Sequence[Any] = (), **options: Any) -> Situation:
    takeoff = make.takeoff(needs, [make.amount("Dig", 3.0)])
    methods = options.pop("methods", [make.method("Dig", "by hand", 1.0)])
    return Situation(takeoff, make.options(methods=methods, **options), "sand", frozenset())


@pytest.mark.parametrize(
    ("routes", "told"),
    [
        ([("North", 500.0), ("South", 300.0)], True),
        ([("North", 500.0), ("South", 0.0)], False),  # brings any amount
        ([("North", 500.0), ("South", None)], False),  # is fetched from
        ([("North", 0.5), ("South", 300.0)], True),
    ],
)
def test_goods_that_nobody_brings_in_so_little_cannot_be_had(
    make: SimpleNamespace, routes: Sequence[tuple[str, float | None]], told: bool
) -> None:
    situation = situated(
        make, [make.need("Sand", "Dig", {"count": 1})],
        offers=[make.offer("Sand", s, 100, measure="count") for s, _ in routes],
        routes=[make.haul(s, 500) if least is None else make.drop(s, 0, least=least)
                for s, least in routes],
    )  # fmt: skip
    why = why_not(situation, Pinned({}))
    assert why.startswith("Sand cannot be had: North or South may not deliver so little") is told


@pytest.mark.parametrize(
    ("fits", "by_hand", "bid", "told"),
    [
        ((False, False), False, "Base", True),
        ((False, True), False, "Base", False),  # one of its ways fits
        ((False, False), True, "Base", False),  # a spade fits
        ((False, False), False, "Dig", False),  # a crew digs
    ],
)
def test_a_machine_that_does_not_come_through_is_told(
    make: SimpleNamespace, fits: tuple[bool, bool], by_hand: bool, bid: str, told: bool
) -> None:
    """Two excavators, hired of two shops."""
    methods = [make.method("Dig", "excavator", 1.0, machine="Excavator")]
    methods += [make.method("Dig", "by hand", 3.0)] if by_hand else []
    machines = [
        replace(make.machine("Excavator", f"rent from {shop}", terms=[("day", 9000, 1)]), fits=ok)
        for shop, ok in zip(("First", "Second"), fits, strict=True)
    ]
    situation = situated(
        make, methods=methods, machines=machines, bids=[make.bid("Crew", [bid], 1000)]
    )
    why = why_not(situation, Pinned({}))
    assert why.startswith("Dig needs Excavator, ") is told
