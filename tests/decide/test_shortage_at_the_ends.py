"""What a shortage costs at the ends of its rules: half packs, nothing to pay, two ways."""

from __future__ import annotations

from dataclasses import replace
from types import SimpleNamespace
from typing import Any

import pytest

from budget.decide.plan import Plan
from budget.decide.pricing.evaluation import evaluate
from budget.decide.risk.demand import demands, situation_of
from budget.decide.risk.shortage import Loss, Losses
from budget.job import Job, Place, Settings
from budget.units import MASS, MONEY, NUMBER

SETTINGS = Settings(place=Place("Job", 1))
SECOND = "a second delivery or trip"


@pytest.fixture
def lost(make: SimpleNamespace) -> Any:
    """What running short of 40 packs of stone at 10.00 costs, 25 kg each, that the bed takes.

    An own hour is 20.00, the bed is laid by hand, and a machine is only where a test says so.
    """

    def loss(
        *routes: Any, offer: Any = None, methods: Any = (), machines: Any = (),
        steps: Any = None, has: Any = None, needs: Any = ("Bed",), bids: Any = (), **more: Any,
    ) -> Loss:  # fmt: skip
        routes = routes or (make.drop("Yard", 4000),)
        one = replace(
            make.offer("Stone", "Yard", 1000, measure="count", weight=25, tax=0.1), **(offer or {})
        )
        steps = {"Bed": "own: by hand", **(steps or {}), "Carry": "own: by hand"}
        takeoff = make.takeoff(
            [replace(make.need("Stone", step, {"count": 40}), kind="base") for step in needs],
            [make.amount(step, 5.0) for step in steps if step != "Carry"],
        )
        by_hand = [make.method("Bed", "by hand", 0.5), make.method("Carry", "by hand", 0.001)]
        options = make.options(
            offers=[one], routes=routes, methods=[*by_hand, *methods], machines=machines,
            bids=bids, **more,
        )  # fmt: skip
        plan = Plan("sand", frozenset(), {"Stone": one.key}, {"Yard": routes[0].key}, steps,
                    has or {}, "")  # fmt: skip
        priced = evaluate(plan, takeoff, options)
        situation = situation_of(takeoff, options, priced)
        (demand,) = demands(SETTINGS, situation, priced)
        return Losses(Job(settings=SETTINGS), situation, priced).of(demand)

    return loss


def test_goods_sold_by_the_half(lost: Any, make: SimpleNamespace) -> None:
    """Half a pack is 5.00, with tax of a tenth 5.50 and with 3 % for the card 5.665; from 50 on
    4.00 a pack. Seven halves are no less than 3.25 packs; six would be."""
    steps = ((make.fig(50, NUMBER, "from"), make.fig(400, MONEY, "price from 50")),)
    by_halves = {"step": 0.5, "least": 3.25, "breaks": steps, "restocking": 0.2}
    haul = make.haul("Yard", 500)
    found = lost(haul, offer=by_halves, card={"Yard": 0.03})
    stakes = found.stakes
    assert (stakes.each, stakes.again) == (pytest.approx(566.5), pytest.approx(566.5))
    assert stakes.breaks == ((100, pytest.approx(226.6)),)
    assert stakes.least == 7
    # 5.00 of mileage and an hour's drive; 87.5 kg, or the 12.5 of one half, at 0.002 h
    assert dict(found.one_short)[SECOND] == pytest.approx(500 + 2000 * 1.175)
    assert stakes.bring_back == pytest.approx(500 + 2000 * 1.025)
    # 80 % of 5.50 would be more than what the cheapest half costs
    assert stakes.back == pytest.approx(226.6)
    assert lost(haul, offer={**by_halves, "breaks": ()}).stakes.back == pytest.approx(440.0)


def test_what_is_shared_with_another_shortage_is_the_trip_and_the_day(lost: Any) -> None:
    found = lost()
    assert found.one_short == ((SECOND, 4000), ("the day on which work stops", 3 * 2000))
    assert found.shared == 10000


def test_a_free_delivery_is_no_loss(lost: Any, make: SimpleNamespace) -> None:
    found = lost(make.drop("Yard", 0))
    assert [what for what, _ in found.one_short] == ["the day on which work stops"]
    assert found.note == ""


def test_where_nobody_names_a_fee_one_pack_is_the_least(lost: Any, make: SimpleNamespace) -> None:
    found = lost(make.drop("Yard", 0, priced=False))
    assert found.stakes.least == 1


def test_a_trip_for_one_is_cheaper_than_a_delivery_of_five(
    lost: Any, make: SimpleNamespace
) -> None:
    """10.00 and five packs of 11.00 against 26.00 and one."""
    found = lost(make.drop("Yard", 1000, least=110), make.haul("Yard", 500))
    assert (dict(found.one_short)[SECOND], found.stakes.least) == (pytest.approx(2600), 1)


@pytest.mark.parametrize(
    ("weight", "step", "least", "packs"),
    [
        (25.0, 1.0, 100.0, 4),  # four are enough, to the kilogram
        (25.0, 0.5, 110.0, 9),  # halves
        (0.4, 1.0, 1.0, 3),  # a seller who brings no less than a kilogram
        (None, 1.0, 0.0, 1),  # of unknown weight, from a seller who brings any
    ],
)
def test_how_many_a_second_delivery_takes(
    lost: Any, make: SimpleNamespace, weight: float | None, step: float, least: float, packs: int
) -> None:
    figure = None if weight is None else make.fig(weight, MASS, "weight")
    found = lost(make.drop("Yard", 4000, least=least), offer={"weight": figure, "step": step})
    assert (found.stakes.least, dict(found.one_short)[SECOND]) == (packs, 4000)


@pytest.mark.parametrize("weight", [None, 0.0])
def test_nobody_knows_how_many_without_weight_a_delivery_takes(
    lost: Any, make: SimpleNamespace, weight: float | None
) -> None:
    """1.00 from 110 kg on: so a trip of one's own is made, 50.00 and an hour."""
    figure = None if weight is None else make.fig(weight, MASS, "weight")
    routes = make.haul("Yard", 500, mileage=5000), make.drop("Yard", 100, least=110)
    found = lost(*routes, offer={"weight": figure})
    assert (found.stakes.least, dict(found.one_short)[SECOND]) == (1, pytest.approx(7000))


def test_one_own_step_that_stops_is_a_day_lost(lost: Any, make: SimpleNamespace) -> None:
    """The bed is laid by own hands, the base by a crew; both take of the stone."""
    crew = make.bid("Crew", ["Base"], 90000)
    found = lost(bids=[crew], steps={"Base": "bid: Crew"}, needs=("Bed", "Base"))
    assert dict(found.one_short)["the day on which work stops"] == 6000


def test_a_machine_of_another_step_does_not_wait(lost: Any, make: SimpleNamespace) -> None:
    """The bed might be laid with the saw, and is laid by hand; the saw is there for cutting."""
    methods = [
        make.method("Cut", "saw", 0.2, machine="Saw"), make.method("Bed", "saw", 0.2, machine="Saw")
    ]  # fmt: skip
    saw = make.machine("Saw", "rent", terms=[("day", 5000, 1)])
    found = lost(methods=methods, machines=[saw], steps={"Cut": "own: saw"}, has={"Saw": "rent"})
    assert [what for what, _ in found.one_short] == [SECOND, "the day on which work stops"]


def test_the_machine_that_waits_is_the_one_that_is_had(lost: Any, make: SimpleNamespace) -> None:
    """Of two shops the second, at 70.00 a day; while it waits it burns no fuel."""
    plates = [
        make.machine("Plate", f"rent from {shop}", terms=[("day", price, 1)], fuel=100)
        for shop, price in (("First", 5000), ("Second", 7000))
    ]
    found = lost(
        methods=[make.method("Bed", "plate", 0.2, machine="Plate")], machines=plates,
        steps={"Bed": "own: plate"}, has={"Plate": "rent from Second"},
    )  # fmt: skip
    assert dict(found.one_short)["Plate kept 1 day longer"] == 7000
