"""What columns and rows of the programme hold, each plan worked out beside it."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest

from budget.decide.model.model import Fewest, Model, Solved
from budget.decide.programme.staircase import Corner
from budget.decide.terms.situation import Situation
from budget.decide.terms.work import crew_method
from budget.prices.options import Drop, Haul, Offer, Options

HOUR = 2000.0


def solved(situation: Situation, hour_value: float = 0.0) -> Solved:
    found = Model(situation).solve(hour_value)
    assert found is not None
    assert found.proved
    return found


def bought(
    make: SimpleNamespace, offers: Sequence[Offer], routes: Sequence[Drop | Haul]
) -> Options:
    """Goods that nobody has to carry or build."""
    return make.options(offers=offers, routes=routes)  # type: ignore[no-any-return]


def test_pay_that_nobody_told_is_one_price_that_is_missing(make: SimpleNamespace) -> None:
    """A helper digs and carries, and neither spoil nor helper has a price: two are missing."""
    options = make.options(
        offers=[make.offer("Stone", "North", 1, weight=1)], routes=[make.drop("North", 0)],
        methods=[
            make.method("Dig", "by hand", 1.0, people=2),
            make.method("Carry", "barrow", 0.01, people=2),
        ],
        paid_helpers=1,
    )  # fmt: skip
    needs = [make.need("Stone", "Base", {"mass": 1}, weight=1)]
    for spoil, missing in ((0.0, 1), (2.0, 2)):
        takeoff = make.takeoff(needs, [make.amount("Dig", 1.0)], spoil=spoil)
        model = Model(Situation(takeoff, options, "sand", frozenset()))
        fewest, found = model.fewest_missing(), model.solve(HOUR)
        assert fewest is not None
        assert found is not None
        assert (fewest.count, found.gaps) == (missing, missing)


@pytest.mark.parametrize(("pay", "missing"), [(None, 1), (1800, 0)])
@pytest.mark.parametrize("step", ["Dig", "Carry"])
def test_pay_is_missing_for_either_work_of_a_helper_unless_it_is_told(
    make: SimpleNamespace, step: str, pay: int | None, missing: int
) -> None:
    """What the other step takes the owner does alone."""
    room = {"Dig": 1, "Carry": 1, step: 2}
    options = make.options(
        offers=[make.offer("Stone", "North", 1, weight=1)], routes=[make.drop("North", 0)],
        methods=[make.method(s, "by hand", 1.0, people=people) for s, people in room.items()],
        paid_helpers=1, helper_pay=pay,
    )  # fmt: skip
    needs = [make.need("Stone", "Base", {"mass": 1}, weight=1)]
    takeoff = make.takeoff(needs, [make.amount("Dig", 1.0)])
    model = Model(Situation(takeoff, options, "sand", frozenset()))
    fewest, found = model.fewest_missing(), model.solve(HOUR)
    assert fewest is not None
    assert found is not None
    assert (fewest.count, found.gaps) == (missing, missing)


@pytest.mark.parametrize("loader", [True, False])
def test_goods_that_nobody_can_carry_or_with_no_machine_known_miss_one_price(
    make: SimpleNamespace, loader: bool
) -> None:
    ways = [make.method("Carry", "loader", 0.01, machine="Loader")] if loader else []
    options = make.options(
        offers=[make.offer("Stone", "North", 1, weight=1)], routes=[make.drop("North", 0)],
        methods=ways,
    )  # fmt: skip
    takeoff = make.takeoff([make.need("Stone", "Base", {"mass": 1}, weight=1)], [])
    model = Model(Situation(takeoff, options, "sand", frozenset()))
    fewest, found = model.fewest_missing(), model.solve(HOUR)
    assert fewest is not None
    assert found is not None
    assert (fewest.count, found.gaps) == (1.0, 1)
    assert found.priced.plan.steps == ({"Carry": "own: loader"} if loader else {})


def test_of_the_forms_of_one_offer_only_one_is_taken(make: SimpleNamespace) -> None:
    """Dig and Lay for 900.00, without Lay 300.00, without Dig 400.00: nobody else does either."""
    crew = make.bid("Crew", ["Dig", "Lay"], 90000)
    dig, lay = (
        replace(crew, key=f"Crew: {step}", offer="Crew", steps=(step,), deduct=make.cash(less))
        for step, less in (("Dig", 60000), ("Lay", 50000))
    )
    takeoff = make.takeoff([], [make.amount("Dig", 2.0), make.amount("Lay", 20.0)])
    for forms, cash in ((("Crew", dig, lay), 90000), ((dig, lay), None)):
        bids = [crew if form == "Crew" else form for form in forms]
        model = Model(Situation(takeoff, make.options(bids=bids), "sand", frozenset()))
        found = model.solve(HOUR)
        assert (found and found.priced.cash) == cash


@pytest.mark.parametrize(
    ("size", "price", "least", "cash"),
    [
        (1000.0, 2000, None, 9900),  # 4.5 tonnes at 20.00
        (1000.0, 2000, 6.0, 13200),
        (0.5, 2, None, 19800),  # 9,000 times half a kilogram at 0.02
    ],
)
def test_who_carries_by_weight_is_paid_for_all_that_is_set_down(
    make: SimpleNamespace, size: float, price: int, least: float | None, cash: int
) -> None:
    """3,000 kg on the drive and 1,500 kg in the street, with a tenth of tax."""
    bid = make.bid("Men", ["Carry"], price, basis="per unit", unit_step="Carry", least=least)
    bid = replace(bid, unit_size=size, tax=make.fig(0.1, make.RATIO))
    weights = {"Stone": 3000, "Sand": 1500}
    offers = [
        make.offer(i, i, 0, measure="count", per="each", weight=w) for i, w in weights.items()
    ]
    routes = [make.drop("Stone", 0), make.drop("Sand", 0, point="street")]
    options = make.options(offers=offers, routes=routes, bids=[bid])
    needs = [make.need(item, "Base", {"count": 1}, weight=w) for item, w in weights.items()]
    found = solved(Situation(make.takeoff(needs, []), options, "sand", frozenset()))
    assert found.priced.cash == cash


@pytest.mark.parametrize(
    ("people", "rate", "way", "cash"),
    [
        (2, None, "lent", 1800),  # 4 h for one, 2 h for two: at 9.00 an hour
        (2, None, "rent", 7000 + 1000),
        (2, 0.003, "lent", 5400),  # runs 6 h, whoever is there
        (1, None, "rent", 7000 + 2000),
        (1, None, "own", 0),  # burns nothing that is told
    ],
)
def test_a_machine_that_carries_burns_what_its_way_asks(
    make: SimpleNamespace, people: int, rate: float | None, way: str, cash: int
) -> None:
    """2,000 kg at 0.002 h; rented for 70.00 a day and 5.00 of fuel an hour, lent for 9.00."""
    machines = [
        make.machine("Loader", "rent", terms=[("day", 7000, 1)], fuel=500),
        make.machine("Loader", "lent", fuel=900), make.machine("Loader", "own"),
    ]  # fmt: skip
    method = make.method(
        "Carry", "loader", 0.002, people=people, machine="Loader", machine_rate=rate
    )
    options = make.options(
        offers=[make.offer("Bowl", "North", 0, measure="count", per="each", weight=2000)],
        routes=[make.drop("North", 0)], methods=[method], machines=machines, people=2,
    )  # fmt: skip
    takeoff = make.takeoff([make.need("Bowl", "Build", {"count": 1}, weight=2000)], [])
    model = Model(Situation(takeoff, options, "sand", frozenset()))
    found = model.solve(0.0, {"machine:Loader": frozenset((way,))})
    assert found is not None
    assert (found.priced.cash, found.priced.plan.machines) == (cash, {"Loader": way})


def test_what_a_bid_brings_is_not_missing(make: SimpleNamespace) -> None:
    """Nobody quotes the stone that comes with the bid."""
    crew = make.bid("Crew", ["Base"], 50000, materials=True)
    options = make.options(methods=[make.method("Base", "by hand", 1.0)], bids=[crew])
    needs = [make.need("Stone", "Base", {"mass": 1000})]
    model = Model(
        Situation(make.takeoff(needs, [make.amount("Base", 1.0)]), options, "sand", frozenset())
    )
    fewest, found = model.fewest_missing(), model.solve(HOUR)
    assert fewest is not None
    assert found is not None
    assert (fewest.count, found.gaps, found.priced.cash) == (0.0, 0, 50000)


def test_a_machine_had_for_nothing_beats_a_bid_of_a_cent(make: SimpleNamespace) -> None:
    options = make.options(
        methods=[make.method("Dig", "digger", 1.0, machine="Digger")],
        machines=[make.machine("Digger", "borrow")], bids=[make.bid("Crew", ["Dig"], 1)],
    )  # fmt: skip
    takeoff = make.takeoff([], [make.amount("Dig", 1.0)])
    found = solved(Situation(takeoff, options, "sand", frozenset()))
    assert (found.priced.cash, found.priced.plan.machines) == (0, {"Digger": "borrow"})


def test_a_crew_without_machines_needs_the_fastest_one(make: SimpleNamespace) -> None:
    ways = [
        make.method("Dig", "by hand", 0.1), make.method("Dig", "slow", 2.0, machine="Loader"),
        make.method("Dig", "fast", 0.5, machine="Digger"),
    ]  # fmt: skip
    takeoff = make.takeoff([], [make.amount("Dig", 1.0)])
    at = Situation(takeoff, make.options(methods=ways), "sand", frozenset())
    assert crew_method(at, "Dig") == ways[2]
    assert crew_method(at, "Base") is None


@pytest.mark.parametrize(("laid", "cash"), [(0.0, 12000), (20.0, 21000)])
def test_a_crew_without_machines_is_given_the_fastest_ones_machine(
    make: SimpleNamespace, laid: float, cash: int
) -> None:
    """Two days of a loader are 80.00, a day of a digger 70.00; the crew 50.00. Layers need none.

    At 100.00 an hour two own hours with the digger would be 200.00.
    """
    options = make.options(
        methods=[
            make.method("Dig", "slow", 4.0, machine="Loader"),
            make.method("Dig", "fast", 0.5, machine="Digger"),
        ],
        machines=[
            make.machine("Loader", "rent", terms=[("day", 4000, 1)]),
            make.machine("Digger", "rent", terms=[("day", 7000, 1)]),
        ],
        bids=[
            make.bid("Crew", ["Dig"], 5000, equipment=False),
            make.bid("Layers", ["Lay"], 9000, equipment=False),
        ],
    )  # fmt: skip
    takeoff = make.takeoff([], [make.amount("Dig", 4.0), make.amount("Lay", laid)])
    found = solved(Situation(takeoff, options, "sand", frozenset()), 10000.0)
    assert (found.priced.cash, found.priced.plan.machines) == (cash, {"Digger": "rent"})


def test_packs_of_two_items_share_whole_drops(make: SimpleNamespace) -> None:
    """Each weighs 0.75 of what a drop at 30.00 brings: two for both, and one and a half is none."""
    steps = {"Cap": "Build", "Post": "Joint"}
    offers = [
        make.offer(item, "North", 0, measure="count", per="each", weight=750) for item in steps
    ]
    needs = [make.need(item, step, {"count": 1}, weight=750) for item, step in steps.items()]
    options = bought(make, offers, [make.drop("North", 3000, most=1000)])
    found = solved(Situation(make.takeoff(needs, []), options, "sand", frozenset()))
    assert found.priced.cash == 6000


def test_of_equal_quotes_that_is_taken_which_comes_on_fewer_pallets(make: SimpleNamespace) -> None:
    """Four pallets of 10 at 25.00, or a box of 40 at 100.00 on one; a pallet is 15.00."""
    offers = [
        make.offer("Cap", "North", 2500, measure="count", holds=10, per="pallet", weight=100,
                   key="a"),
        make.offer("Cap", "North", 10000, measure="count", holds=40, per="box", weight=400,
                   key="b"),
    ]  # fmt: skip
    options = bought(make, offers, [make.drop("North", 0, per_pallet=1500)])
    needs = [make.need("Cap", "Build", {"count": 40}, weight=400)]
    found = solved(Situation(make.takeoff(needs, []), options, "sand", frozenset()))
    assert (found.priced.cash, found.priced.plan.offers) == (11500, {"Cap": "b"})


def test_what_asks_for_no_deposit_has_none(make: SimpleNamespace) -> None:
    """20.00 for a pallet that comes back, nothing for caps; 150.00 for a digger, nothing for a saw.

    8.2 hours of digging are 1.025 days, which is a day to people, and 18 of cutting 2.3 days.
    """
    offers = [
        make.offer("Paver", "North", 100, measure="count", per="pallet", deposit=2000),
        make.offer("Cap", "North", 100, measure="count", per="each"),
    ]
    rent = [("day", 9000, 1)]
    options = make.options(
        offers=offers, routes=[make.drop("North", 0)],
        methods=[
            make.method("Dig", "digger", 1.0, machine="Digger"),
            make.method("Cut", "saw", 1.0, machine="Saw"),
        ],
        machines=[
            make.machine("Digger", "rent", terms=rent, deposit=15000),
            make.machine("Saw", "rent", terms=rent),
        ],
    )  # fmt: skip
    needs = [make.need(item, "Lay", {"count": 1}) for item in ("Paver", "Cap")]
    takeoff = make.takeoff(needs, [make.amount("Dig", 8.2), make.amount("Cut", 18.0)])
    priced = solved(Situation(takeoff, options, "sand", frozenset())).priced
    assert {o.item: o.deposit for o in priced.orders} == {"Paver": 2000, "Cap": 0}
    assert {h.equipment: h.deposit for h in priced.hires} == {"Digger": 15000, "Saw": 0}
    assert priced.deposits == 17000
    told = {line.name: line.quantity for line in priced.lines if line.group == "Equipment"}
    assert told == {"Digger": "rent, 1 day", "Saw": "rent, 2.3 days"}


def digging(make: SimpleNamespace, permit: int = 5000, **more: Any) -> Situation:
    """Ten hours by hand or a crew for 100.00, beside a permit."""
    options = make.options(
        methods=[make.method("Dig", "by hand", 1.0, **more)],
        bids=[make.bid("Crew", ["Dig"], 10000)],
        checklist=[make.check_line("Permit", value=permit)] if permit else [], paid_helpers=1,
    )  # fmt: skip
    return Situation(make.takeoff([], [make.amount("Dig", 10.0)]), options, "sand", frozenset())


@pytest.mark.parametrize("permit", [5000, 0])
def test_a_limit_of_cash_holds_to_the_cent(make: SimpleNamespace, permit: int) -> None:
    """At 20.00 an hour the crew is better, as far as there is cash for it; the permit is paid.

    A limit for one solve stands in place of the model's.
    """
    situation = digging(make, permit)
    for limit, most_cash, cash in (
        (10000 + permit, None, 10000), (9999 + permit, None, 0), (1e9, 10000 + permit, 10000),
        (1e9, 9999 + permit, 0), (9999 + permit, 1e9, 10000),
    ):  # fmt: skip
        found = Model(situation, limit).solve(HOUR, most_cash=most_cash)
        assert found is not None
        assert (found.priced.cash, found.proved, found.gap) == (cash + permit, True, 0.0)


@pytest.mark.parametrize("permit", [5000, 0])
def test_plans_above_a_total_are_not_looked_for(make: SimpleNamespace, permit: int) -> None:
    model = Model(digging(make, permit))
    found = model.solve(HOUR, at_most=10001.0 + permit)
    assert found is not None
    assert found.priced.cash == 10000 + permit
    assert Model(digging(make, permit)).solve(HOUR, at_most=9900.0 + permit) is None


@pytest.mark.parametrize("permit", [5000, 0])
def test_the_costs_of_a_search_of_two_are_those_of_its_columns(
    make: SimpleNamespace, permit: int
) -> None:
    """Both ways together are ten hours and 100.00, beside the permit."""
    model = Model(digging(make, permit), 1e9)
    costs = model.ground().costs
    assert costs.of(np.ones(model.columns)) == Corner(10000.0 + permit, 10.0)
    assert costs.of(np.zeros(model.columns)) == Corner(permit, 0.0)


def test_an_answer_costs_no_more_than_the_search_says(make: SimpleNamespace) -> None:
    """By hand and a permit at 20.00 an hour: 250.00. It may be less, as of days not needed."""
    model = Model(digging(make))
    values = np.array([0.0, 1.0])
    for most in (25000.0, 90000.0):
        assert model.priced(values, most, HOUR).own_hours == 10.0
    with pytest.raises(RuntimeError, match="they must agree"):
        model.priced(values, 24000.0, HOUR)


def test_prices_that_pinned_plans_miss_are_counted_for_themselves(make: SimpleNamespace) -> None:
    """By hand the pay of a helper is missing, with the crew nothing."""
    model = Model(digging(make, people=2))
    by_hand = {"step:Dig": frozenset(("own: by hand",))}
    for allowed, missing in ((by_hand, 1.0), (None, 0.0), (by_hand, 1.0), (None, 0.0)):
        fewest = model.fewest_missing(allowed)
        assert fewest is not None
        assert (fewest.count, fewest.proved) == (missing, True)


def test_a_price_that_every_plan_misses_excuses_no_other(make: SimpleNamespace) -> None:
    """A drain that nobody has priced; by hand a helper's pay is missing besides, which the crew
    for 100.00 is not."""
    situation = digging(make, people=2)
    drain = make.check_line("Drain", "to price")
    options = replace(
        situation.options, checklist=(*situation.options.checklist, drain, replace(drain, line="B"))
    )
    found = Model(replace(situation, options=options)).solve(0.0)
    assert found is not None
    assert (found.priced.cash, found.gaps) == (15000, 2)


@pytest.mark.parametrize(
    ("value", "proved", "fewest", "gap"),
    [
        (2000.0, True, True, 0.0),
        (2000.0, False, True, 1000.0 / 15000.0),  # a tenth off the crew, beside the permit
        (2000.0, True, False, math.inf),  # there may be one that misses fewer prices
        (2000.0, False, False, math.inf),
        (0.15, False, True, 0.15 / 5001.5),  # a tenth off a cent and a half of own hours
    ],
)
def test_how_far_off_a_plan_may_be_that_is_not_proved(
    make: SimpleNamespace, monkeypatch: pytest.MonkeyPatch, value: float, proved: bool,
    fewest: bool, gap: float,
) -> None:  # fmt: skip
    model = Model(digging(make))
    answer = model._programme.solve({"cash": 1.0, "hours": value})
    assert answer is not None
    stopped = replace(answer, proved=proved, gap=0.0 if proved else 0.1)
    monkeypatch.setattr(model._programme, "solve", lambda *_: stopped)
    monkeypatch.setattr(model, "fewest_missing", lambda _: Fewest(0.0, fewest))
    found = model.solve(value)
    assert found is not None
    assert found.proved == (proved and fewest)
    assert found.gap == pytest.approx(gap)


@pytest.mark.parametrize("told", [1.5, 2.5, 0.5])
def test_of_a_plan_for_next_to_nothing_the_gap_is_at_most_of_a_cent(
    make: SimpleNamespace, monkeypatch: pytest.MonkeyPatch, told: float
) -> None:
    """Ten hours at 0.15 are a cent and a half. A search that tells more than the plan costs may
    not be off at all; less than it costs it is off by that too."""
    model = Model(digging(make, 0))
    answer = model._programme.solve({"cash": 1.0, "hours": 0.15})
    assert answer is not None
    stopped = replace(answer, proved=False, gap=0.1, objective=told)
    monkeypatch.setattr(model._programme, "solve", lambda *_: stopped)
    found = model.solve(0.15)
    assert found is not None
    assert found.gap == pytest.approx(max(0.0, 1.0 - 0.9 * told / 1.5))
