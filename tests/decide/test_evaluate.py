"""A little job priced by hand: every line of arithmetic is written out."""

from __future__ import annotations

from types import SimpleNamespace

import pytest

from budget.decide import evaluate
from budget.decide.model.model import Model
from budget.decide.plan import Plan, Priced
from budget.decide.pricing.work import group_of
from budget.decide.terms.situation import Situation
from budget.figures import recalculate
from budget.prices.options import Options
from budget.quantities.takeoff import Takeoff


@pytest.fixture
def job(make: SimpleNamespace) -> tuple[Takeoff, Options]:
    takeoff = make.takeoff(
        [
            make.need("Base stone", "Base", {"mass": 4200}, weight=4200),
            make.need("Paver", "Lay", {"count": 401}, weight=1203, group="Paving"),
        ],
        [
            make.amount("Dig", 3.0),
            make.amount("Base", 2.0),
            make.amount("Lay", 20.0),
            make.amount("Joint", 20.0),
        ],
        spoil=4.0,
    )
    options = make.options(
        offers=[
            make.offer("Base stone", "North", 3000, holds=1000, per="tonne", bulk=True,
                       step=0.5, weight=1000, volume=0.6, tax=0.07),
            make.offer("Paver", "South", 125, measure="count", per="each", weight=3, tax=0.07,
                       deposit=10),
        ],
        routes=[
            make.drop("North", 6500, tax=0.07),
            make.haul("South", 500, mileage=700, hours=0.5, handling=0.002),
        ],
        methods=[
            make.method("Dig", "by hand", 4.0, people=2, reworked=0.05),
            make.method("Base", "compactor", 1.5, people=1, machine="Compactor", machine_rate=2.0),
            make.method("Lay", "by hand", 0.5, people=3),
            make.method("Joint", "compactor", 0.2, machine="Compactor", machine_rate=0.05),
            make.method("Carry", "barrow", 0.0004, people=2, walk=0.00002),
        ],
        bids=[make.bid("Laid by the yard", ["Lay", "Joint"], 2500, basis="per unit",
                       mobilisation=10000, supervise=1.5, materials=True, risks=["rain"])],
        machines=[
            make.machine("Compactor", "rent", terms=[("4 hours", 4500, 0.5), ("day", 7000, 1)],
                         waiver=0.1, per_spell=1000, fuel=300, tax=0.07, deposit=15000),
        ],
        disposal=[make.disposal("box", 20000, volume=3.0)],
        checklist=[make.check_line("Permit", value=7500), make.check_line("Lawn", "to price")],
        people=2, paid_helpers=1, helper_pay=1800, card={"South": 0.03},
    )  # fmt: skip
    return takeoff, options


@pytest.fixture
def own(job: tuple[Takeoff, Options]) -> Priced:
    plan = Plan(
        bedding="sand", parts=frozenset(),
        offers={"Base stone": "Base stone @ North, tonne", "Paver": "Paver @ South, each"},
        routes={"North": "deliver to drive", "South": "haul with Pickup"},
        steps={
            "Dig": "own: by hand", "Base": "own: compactor", "Lay": "own: by hand",
            "Joint": "own: compactor", "Carry": "own: barrow",
        },
        machines={"Compactor": "rent"}, disposal="box",
    )  # fmt: skip
    return evaluate(plan, *job)


def line(priced: Priced, name: str) -> tuple[int, float]:
    found = next(x for x in priced.lines if x.name == name)
    return found.cash, found.own_hours


def test_goods_in_whole_steps_with_tax(own: Priced) -> None:
    # 4,200 kg in steps of half a tonne: 4.5 t at 30.00 = 135.00, tax 7 % = 9.45
    assert line(own, "Base stone") == (13500 + 945, 0)
    # 401 pavers at 1.25 = 501.25; tax 35.0875 -> 35.09
    assert line(own, "Paver") == (50125 + 3509, 0)


def test_delivery_with_tax(own: Priced) -> None:
    # one heap, one drop: 65.00 + 7 % = 69.55
    assert line(own, "Delivery from North") == (6500 + 455, 0)


def test_hauling_trips_and_hours(own: Priced) -> None:
    # 401 pavers of 3 kg = 1,203 kg in a payload of 500: 3 trips of 7.00 and half an hour;
    # loading and unloading 1,203 x 0.002 = 2.406 h
    cash, hours = line(own, "Hauling from South")
    assert cash == 2100
    assert hours == pytest.approx(3 * 0.5 + 1203 * 0.002)


def test_card_surcharge_is_on_what_the_seller_is_paid(own: Priced) -> None:
    # 3 % of 536.34 = 16.0902; mileage is not paid to the seller
    assert line(own, "Card surcharge, South") == (1609, 0)


def test_own_hours_and_helpers(own: Priced) -> None:
    # Dig: 3 m3 x 4 h x 1.05 = 12.6 person-hours, two people of the household
    assert line(own, "Dig")[1] == pytest.approx(12.6)
    # Lay: 20 x 0.5 = 10 person-hours by three: two of the household, one paid
    assert line(own, "Lay")[1] == pytest.approx(10 * 2 / 3)
    assert own.helper_hours == pytest.approx(10 / 3)
    # paid a third of ten hours at 18.00 = 60.00
    assert line(own, "Helpers' pay") == (6000, 0)


def test_how_the_goods_come(own: Priced) -> None:
    """A delivery takes nobody's time; trips are told with what limits them."""
    told = {a.supplier: (a.fee, a.drops, a.hours, a.weight, a.note) for a in own.arrivals}
    assert told == {
        "North": (6955, 1, 0.0, 4500.0, ""),
        "South": (2100, 3, pytest.approx(3.906), 1203.0, "a trip is limited by the payload"),
    }
    words = {x.name: x.quantity for x in own.lines}
    assert (words["Delivery from North"], words["Hauling from South"]) == ("1 drop", "3 trips")


def test_hours_by_the_clock(own: Priced) -> None:
    # two dig 12.6 h, one makes the base in 3 h, three lay for 10 h, one joints for 4 h, two carry
    # 5,703 kg; three trips of 3.906 h
    hours = 12.6 / 2 + 3 + 10 / 3 + 4 + 5703 * 0.0007 / 2 + 3.906
    assert own.clock_hours == pytest.approx(hours)


def test_a_delivery_that_nobody_has_priced_is_missing_and_costs_nothing(
    make: SimpleNamespace,
) -> None:
    takeoff = make.takeoff(
        [make.need("Stone", "Base", {"count": 3}, weight=30)], [make.amount("Base", 1.0)]
    )
    options = make.options(
        offers=[make.offer("Stone", "North", 500, measure="count", per="each", weight=10)],
        routes=[make.drop("North", 0, priced=False)],
        methods=[make.method("Base", "by hand", 1.0), make.method("Carry", "barrow", 0.0)],
    )
    (found,) = make.all_priced(Situation(takeoff, options, "sand", frozenset()))
    (arrival,) = found.arrivals
    assert (arrival.fee, arrival.note) == (0, "delivery fee not yet priced")
    assert [m.what for m in found.missing] == ["Delivery from North"]
    assert found.cash == 1500


@pytest.mark.parametrize(
    ("parts", "told"), [(("Walk", "Walk"), "Walk"), (("Terrace", "Walk"), ""), (("Walk",), "Walk")]
)
def test_goods_of_one_part_alone_are_a_line_of_that_part(
    make: SimpleNamespace, parts: tuple[str, ...], told: str
) -> None:
    """What several parts share is a line of the whole job."""
    needs = [make.need("Stone", "Base", {"count": 3}, part=part) for part in parts]
    options = make.options(
        offers=[make.offer("Stone", "North", 500, measure="count", per="each")],
        routes=[make.drop("North", 0)], methods=[make.method("Base", "by hand", 1.0)],
    )  # fmt: skip
    takeoff = make.takeoff(needs, [make.amount("Base", 1.0)])
    (found,) = make.all_priced(Situation(takeoff, options, "sand", frozenset()))
    assert [(x.part, x.cash) for x in found.lines if x.name == "Stone"] == [
        (told, 1500 * len(parts))
    ]


def test_lines_stand_in_the_group_of_their_step(own: Priced) -> None:
    groups = {x.name: x.group for x in own.lines}
    assert [groups[step] for step in ("Dig", "Base", "Lay", "Joint", "Carry")] == [
        "Dig and spoil", "Base", "Paving", "Joints", "Getting it there",
    ]  # fmt: skip
    assert group_of("Lights") == "Hired help"


def test_carrying_by_distance(own: Priced) -> None:
    # both sellers' goods lie at the drive, 15 m off: 4,500 + 1,203 = 5,703 kg
    # each kg 0.0004 + 15 x 0.00002 = 0.0007 h
    assert line(own, "Carry")[1] == pytest.approx(5703 * 0.0007)


def test_machine_had_twice_or_kept(own: Priced) -> None:
    # Base: 2 m3 x 2 h = 4 h = half a day; Joint: 20 x 0.05 = 1 h on the meter, but the step goes on
    # for 20 x 0.2 = 4 h of 8: half a day.
    # Between them only Lay: 10 h by three = 3.33 h of 8 = 0.417 days.
    # Twice: 2 x 45.00 rent + 9.00 waiver + 2 x 10.00 = 119.00, tax 8.33, fuel 5 h x 3.00 = 15.00
    # Kept: 0.5 + 0.5 + 0.417 = 1.42 days, so 1.5 days: 115.00 + 11.50 + 10.00 = 136.50, dearer
    assert line(own, "Compactor") == (11900 + 1500 + 833, 0)
    assert own.hires[0].spells == ("Base: 0.5 days", "Joint: 0.5 days")


def test_disposal_checklist_and_gaps(own: Priced) -> None:
    # 4 m3 in boxes of 3: two boxes of 200.00
    assert line(own, "Spoil disposal") == (40000, 0)
    assert line(own, "Permit") == (7500, 0)
    assert [m.what for m in own.missing] == ["Lawn"]


def test_deposits_stand_beside_the_cash(own: Priced) -> None:
    # 401 x 0.10 and the machine's 150.00
    assert own.deposits == 4010 + 15000


def test_totals_are_the_sums_of_the_lines(own: Priced) -> None:
    goods = 14445 + 53634 + 6955 + 2100 + 1609
    assert own.cash == goods + 6000 + 14233 + 40000 + 7500
    assert own.cash == sum(x.cash for x in own.lines)
    assert own.own_hours == sum(x.own_hours for x in own.lines)
    assert own.total(2000) == own.cash + 2000 * own.own_hours


def test_figures_behind_the_lines_give_the_lines(own: Priced) -> None:
    for x in own.lines:
        if x.money is not None:
            assert recalculate(x.money, {}) == pytest.approx(x.cash)
        if x.time is not None:
            assert recalculate(x.time, {}) == pytest.approx(x.own_hours)


@pytest.fixture
def hired(job: tuple[Takeoff, Options]) -> Priced:
    plan = Plan(
        bedding="sand", parts=frozenset(),
        offers={"Base stone": "Base stone @ North, tonne"}, routes={"North": "deliver to drive"},
        steps={
            "Dig": "own: by hand", "Base": "own: compactor", "Lay": "bid: Laid by the yard",
            "Joint": "bid: Laid by the yard", "Carry": "own: barrow",
        },
        machines={"Compactor": "rent"}, disposal="box",
    )  # fmt: skip
    return evaluate(plan, *job)


def test_a_bid_brings_its_materials(hired: Priced) -> None:
    # 20 m2 at 25.00 and 100.00 to come; an hour and a half to supervise; no pavers to buy
    assert line(hired, "Laid by the yard") == (60000, 1.5)
    assert {x.name for x in hired.lines}.isdisjoint({"Paver", "Hauling from South"})
    assert hired.risks == ("Laid by the yard: rain",)
    # the soil is still ours to be rid of, and nobody helps
    assert line(hired, "Spoil disposal") == (40000, 0)
    assert "Helpers' pay" not in {x.name for x in hired.lines}


def test_a_bid_with_machines_needs_none_of_ours(hired: Priced) -> None:
    # Base alone: 45.00 + 4.50 + 10.00 = 59.50, tax 4.165 -> 4.17, fuel 4 h = 12.00
    assert line(hired, "Compactor") == (5950 + 417 + 1200, 0)


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"steps": {"Dig": "own: by hand"}}, "no way to do Base"),
        ({"disposal": ""}, "be rid of spoil"),
        ({"machines": {}}, "how to have the Compactor"),
        ({"offers": {}}, "which quote meets Base stone"),
        ({"routes": {}}, "North has no way"),
    ],
)
def test_a_plan_with_holes_is_refused(
    job: tuple[Takeoff, Options], own: Priced, change: dict[str, object], words: str
) -> None:
    import dataclasses

    with pytest.raises(ValueError, match=words):
        evaluate(dataclasses.replace(own.plan, **change), *job)


@pytest.mark.parametrize(
    ("steps", "words"),
    [
        ({"Dig": "bid: Nobody"}, "no bid of this job is called 'Nobody'"),
        ({"Dig": "bid: Laid by the yard"}, "bid: Laid by the yard does not cover Dig"),
        ({"Lay": "own: by hand"}, "Lay is covered by Laid by the yard, and the plan says own"),
        ({"Base": "own: with a spoon"}, "no way to do Base is called 'own: with a spoon'"),
        ({"Joint": "bid: Joints"}, "Joint is covered twice"),
        ({"Carry": ""}, "no way to do Carry"),
    ],
)
def test_each_step_is_done_once(
    job: tuple[Takeoff, Options], hired: Priced, make: SimpleNamespace, steps: dict[str, str],
    words: str,
) -> None:  # fmt: skip
    import dataclasses

    takeoff, options = job
    more = dataclasses.replace(options, bids=(*options.bids, make.bid("Joints", ["Joint"], 9)))
    plan = dataclasses.replace(hired.plan, steps=hired.plan.steps | steps)
    with pytest.raises(ValueError, match=words):
        evaluate(plan, takeoff, more)


def test_goods_that_nobody_carries_are_refused(job: tuple[Takeoff, Options], own: Priced) -> None:
    import dataclasses

    steps = {step: value for step, value in own.plan.steps.items() if step != "Carry"}
    with pytest.raises(ValueError, match="who carries the goods"):
        evaluate(dataclasses.replace(own.plan, steps=steps), *job)


def test_a_carrying_machine_runs_by_the_weight(make: SimpleNamespace) -> None:
    """Two people take 0.4 h over 2,000 kg; the loader runs 0.0005 h a kg: an hour at 3.00."""
    takeoff = make.takeoff(
        [make.need("Base stone", "Base", {"mass": 2000}, weight=2000)], [make.amount("Base", 1.0)]
    )
    options = make.options(
        offers=[make.offer("Base stone", "North", 1000, holds=1000, per="tonne", weight=1000)],
        routes=[make.drop("North", 0)],
        methods=[
            make.method("Base", "by hand", 1.0),
            make.method("Carry", "loader", 0.0004, people=2, machine="Loader",
                        machine_rate=0.0005),
        ],
        machines=[make.machine("Loader", "borrow", fuel=300)],
        people=2,
    )  # fmt: skip
    (best,) = make.all_priced(Situation(takeoff, options, "sand", frozenset()))
    assert line(best, "Carry") == (0, pytest.approx(0.8))
    assert line(best, "Loader") == (300, 0)
    assert best.cash == 2000 + 300
    # the integer programme counts the same
    solved = Model(Situation(takeoff, options, "sand", frozenset())).solve(2000)
    assert solved is not None
    assert (solved.priced.cash, solved.priced.plan) == (best.cash, best.plan)
