"""A vehicle hired by the day serves several sellers: days and cents written out."""

from __future__ import annotations

import random
from dataclasses import replace
from types import SimpleNamespace

import pytest

from budget.decide.calendar.schedule import schedule
from budget.decide.model.model import Model
from budget.decide.plan import Plan, Priced
from budget.decide.pricing.evaluation import evaluate_in
from budget.decide.terms.situation import Situation
from budget.decide.terms.vehicles import shared_hires
from budget.job import Job, Place, Settings
from budget.prices.options import Drop

JOB = Job(settings=Settings(place=Place("Job", 2)))
SELLERS = ("North", "South", "West")


def situation(
    make: SimpleNamespace, *, fee: int = 9000, hours: float = 1.5, day: float = 8
) -> Situation:
    """Three sellers of one item each; a van hired at 60.00 a day, or a drop at ``fee``."""
    steps = {"North": "Base", "South": "Lay", "West": "Joint"}
    needs = [
        make.need(f"Goods of {s}", step, {"count": 10}, weight=500) for s, step in steps.items()
    ]
    offers = [
        make.offer(f"Goods of {s}", s, 100, measure="count", per="each", weight=50) for s in SELLERS
    ]
    routes = [make.drop(s, fee) for s in SELLERS]
    routes += [
        make.haul(s, 900, vehicle="Van", mileage=400, hours=hours, handling=0.002, hire=6000)
        for s in SELLERS
    ]
    methods = [make.method(step, "by hand", 0.1) for step in steps.values()]
    options = make.options(
        offers=offers, routes=routes, methods=[*methods, make.method("Carry", "barrow", 0.0)],
        hours_per_day=day,
    )  # fmt: skip
    amounts = [make.amount("Base", 2.0), make.amount("Lay", 20.0), make.amount("Joint", 20.0)]
    return Situation(make.takeoff(needs, amounts), options, "sand", frozenset())


def priced(at: Situation, by_van: tuple[str, ...]) -> Priced:
    ways = {s: "haul with Van" if s in by_van else "deliver to drive" for s in SELLERS}
    steps = dict.fromkeys(("Base", "Lay", "Joint"), "own: by hand")
    offers = {f"Goods of {s}": f"Goods of {s} @ {s}, each" for s in SELLERS}
    plan = Plan("sand", frozenset(), offers, ways, {**steps, "Carry": "own: barrow"}, {}, "")
    return evaluate_in(at, plan)


def cash(plan: Priced) -> dict[str, int]:
    return {line.name: line.cash for line in plan.lines}


def test_one_day_serves_all_sellers(make: SimpleNamespace) -> None:
    # each 500 kg: one trip of 1.5 h and 1 h of loading = 2.5 h; three of them 7.5 h of 8
    lines = cash(priced(situation(make), SELLERS))
    assert lines["Hire of Van"] == 6000
    assert [lines[f"Hauling from {s}"] for s in SELLERS] == [400, 400, 400]


def test_days_are_those_of_all_trips_together(make: SimpleNamespace) -> None:
    # 7.5 h at 4 h a day are 2 days, not one for each seller
    assert cash(priced(situation(make, day=4), SELLERS))["Hire of Van"] == 12000


@pytest.mark.parametrize(("day", "words"), [(8, "1 day"), (4, "2 days")])
def test_the_line_of_a_hire_tells_its_days(make: SimpleNamespace, day: float, words: str) -> None:
    (line,) = [x for x in priced(situation(make, day=day), SELLERS).lines if "Hire" in x.name]
    assert (line.quantity, line.choice) == (words, "goods:North")


def test_one_seller_alone_pays_the_hire_with_its_trips(make: SimpleNamespace) -> None:
    lines = cash(priced(situation(make), ("South",)))
    assert lines["Hauling from South"] == 6400
    assert "Hire of Van" not in lines


def test_hours_of_each_trip_are_counted_once(make: SimpleNamespace) -> None:
    plan = priced(situation(make), SELLERS)
    hours = sum(x.own_hours for x in plan.lines if x.name.startswith(("Hauling", "Hire")))
    assert hours == pytest.approx(7.5)
    assert [a.hours for a in plan.arrivals] == pytest.approx([2.5] * 3)


def test_who_shares_stands_beside_the_trips(make: SimpleNamespace) -> None:
    note = next(a.note for a in priced(situation(make), SELLERS).arrivals if a.supplier == "South")
    assert "hire of Van is shared with trips to North and West" in note


@pytest.mark.parametrize(
    ("fee", "by_van"),
    [
        # alone the van costs 64.00 against 30.00; with all three 72.00 against 90.00
        (3000, SELLERS),
        # with all three 72.00 against 60.00
        (2000, ()),
    ],
)
def test_the_best_plan_knows_it(make: SimpleNamespace, fee: int, by_van: tuple[str, ...]) -> None:
    solved = Model(situation(make, fee=fee)).solve(0.0)
    assert solved is not None
    assert solved.proved
    assert {s for s, way in solved.priced.plan.routes.items() if "Van" in way} == set(by_van)


def test_the_best_plan_pays_whole_days(make: SimpleNamespace) -> None:
    """7.5 h at 5 h a day are two days: 120.00 and 3 x 4.00 of road, 132.00.

    Two fetched in a day are 68.00, and 90.00 to bring the third.
    """
    found = Model(situation(make, day=5)).solve(0.0)
    assert found is not None
    assert cash(found.priced)["Hire of Van"] == 12000


def test_the_calendar_fetches_on_the_days_that_are_paid(make: SimpleNamespace) -> None:
    at = situation(make)
    plan = priced(at, SELLERS)
    found = schedule(JOB, at.takeoff, at.options, plan)
    fetched = [e for e in found.entries if e.name.startswith("Fetch from")]
    assert len(fetched) == 3
    assert {(e.first, e.last) for e in fetched} == {(fetched[0].first, fetched[0].first)}
    assert not any("Van is out" in note for note in found.notes)


def test_the_calendar_says_where_trips_take_more_days(make: SimpleNamespace) -> None:
    # 3 h of trip and 1 h of loading: 12 h in all are 2 days of 7 h; two do not fit into one
    at = situation(make, hours=3.0, day=7)
    plan = priced(at, SELLERS)
    assert cash(plan)["Hire of Van"] == 12000
    found = schedule(JOB, at.takeoff, at.options, plan)
    assert any("Van is out on 3 days here and its hire is priced for 2" in n for n in found.notes)


@pytest.mark.parametrize(
    ("day_rate", "tax", "told"),
    [(6000, 0.6, "Van is out on 3 days here and its hire is priced for 2"), (0, 0.0, "")],
)
def test_days_paid_are_counted_without_tax_and_a_free_van_may_stay_out(
    make: SimpleNamespace, day_rate: int, tax: float, told: str
) -> None:
    """The same 12 h of 7 h days: with 60 % tax two days at 96.00; at nothing a day, no day more
    costs anything."""
    at = situation(make, hours=3.0, day=7)
    per_day, rate = make.cash(day_rate), make.fig(tax, make.RATIO)
    routes = {
        s: tuple(w if isinstance(w, Drop) else replace(w, hire_per_day=per_day, tax=rate)
                 for w in ways)
        for s, ways in at.options.routes.items()
    }  # fmt: skip
    at = replace(at, options=replace(at.options, routes=routes))
    plan = priced(at, SELLERS)
    assert cash(plan)["Hire of Van"] == round(2 * day_rate * (1 + tax))
    notes = [n for n in schedule(JOB, at.takeoff, at.options, plan).notes if "Van is out" in n]
    assert [n.partition(":")[0] for n in notes] == [told] * bool(told)


def hired_everywhere(make: SimpleNamespace, seed: int) -> tuple[Situation, float]:
    """A random small job in which one van, hired by the day, may fetch from every seller."""
    r = random.Random(f"van {seed}")
    takeoff, options = make.random_job(seed)
    hire, payload = r.randint(1000, 5000), r.choice([1500, 3000])
    van = {
        s: make.haul(s, payload, vehicle="Van", mileage=r.randint(100, 600),
                     hours=r.uniform(0.3, 1.0), handling=0.0003, hire=hire)
        for s in sorted(options.routes)
    }  # fmt: skip
    routes = {
        s: (*(way for way in ways if isinstance(way, Drop)), van[s])
        for s, ways in options.routes.items()
    }
    sold = {"Base stone": "North", "Paver": "South"}  # so that both sellers are needed
    offers = tuple(o for o in options.offers if o.supplier == sold[o.item])
    bids = tuple(bid for bid in options.bids if not bid.materials)
    tip = make.haul("the tip", payload, vehicle="Van", mileage=r.randint(50, 300),
                    hours=r.uniform(0.2, 0.6), handling=0.0002, hire=hire)  # fmt: skip
    trips = replace(make.disposal("own trips", 500, hours=0.1), kind="own trips", haul=tip)
    box = make.disposal("box", r.randint(9000, 20000))
    changed = replace(options, routes=routes, offers=offers, bids=bids, disposal=(box, trips))
    return Situation(takeoff, changed, "sand", frozenset()), r.choice([0.0, 200.0, 500.0])


def agrees(make: SimpleNamespace, seed: int) -> tuple[bool, bool]:
    """Hold the programme against every plan.

    Returns whether the best plan shares a hire, and whether it does so with trips to the tip.
    """
    at, hour_value = hired_everywhere(make, seed)
    best, _ = make.best_by_hand(at, hour_value)
    solved = Model(at).solve(hour_value)
    if best is None or solved is None:
        assert best is None
        assert solved is None
        return False, False
    assert solved.proved
    assert len(solved.priced.missing) == len(best.missing)
    assert -1e-6 <= solved.priced.total(hour_value) - best.total(hour_value) <= 2.0
    shares = "Hire of Van" in cash(solved.priced)
    return shares, shares and solved.priced.plan.disposal == "own trips"


def test_sharing_is_found_as_by_enumeration(make: SimpleNamespace) -> None:
    found = [agrees(make, seed) for seed in range(12)]
    assert sum(shares for shares, _ in found) >= 3
    assert sum(with_tip for _, with_tip in found) >= 2


@pytest.mark.thorough
def test_it_is_on_many_more_jobs(make: SimpleNamespace) -> None:
    found = [agrees(make, seed) for seed in range(100, 220)]
    assert sum(shares for shares, _ in found) >= 20
    assert sum(with_tip for _, with_tip in found) >= 10


def with_tip(make: SimpleNamespace, *, day: float = 8) -> Situation:
    """The same three sellers, and 6 m³ of spoil that the van may take to the tip."""
    at = situation(make, day=day)
    tip = make.haul("the tip", 3000, vehicle="Van", mileage=300, hours=0.5, handling=0.0, hire=6000)
    way = replace(make.disposal("own trips", 1000), kind="own trips", haul=tip)
    takeoff = make.takeoff(at.takeoff.needs, at.takeoff.steps, spoil=6.0)
    return Situation(takeoff, replace(at.options, disposal=(way,)), "sand", frozenset())


def hauled(at: Situation, by_van: tuple[str, ...]) -> dict[str, int]:
    plan = priced(with_spoil_kept(at), by_van).plan
    return cash(evaluate_in(at, replace(plan, disposal="own trips")))


def with_spoil_kept(at: Situation) -> Situation:
    """The same without spoil."""
    return Situation(replace(at.takeoff, spoil=()), at.options, "sand", frozenset())


def test_trips_to_the_tip_share_the_days(make: SimpleNamespace) -> None:
    # 6 m³ of 1,300 kg are 7,800 kg: 3 trips of 0.5 h; with one seller's 2.5 h they are 4 h of 8
    lines = hauled(with_tip(make), ("North",))
    assert lines["Hire of Van"] == 6000
    assert lines["Hauling from North"] == 400
    # three trips at 10.00 for the tip and 3.00 for the road
    assert lines["Spoil disposal"] == 3 * (1000 + 300)


def test_days_with_the_tip_are_those_of_all_trips_together(make: SimpleNamespace) -> None:
    # three sellers' 7.5 h and 1.5 h to the tip are 9 h: two days of 8
    assert hauled(with_tip(make), SELLERS)["Hire of Van"] == 12000


def test_the_tip_alone_pays_the_hire_with_its_trips(make: SimpleNamespace) -> None:
    lines = hauled(with_tip(make), ())
    assert lines["Spoil disposal"] == 3 * (1000 + 300) + 6000
    assert "Hire of Van" not in lines


def tip_notes(make: SimpleNamespace, day: float, paid: int) -> list[str]:
    at = with_tip(make, day=day)
    plan = priced(with_spoil_kept(at), SELLERS).plan
    bought = evaluate_in(at, replace(plan, disposal="own trips"))
    assert cash(bought)["Hire of Van"] == paid * 6000
    return [n for n in schedule(JOB, at.takeoff, at.options, bought).notes if "Van is out" in n]


def test_the_calendar_counts_days_to_the_tip_too(make: SimpleNamespace) -> None:
    # 9 h of trips at 8 h a day: 1.5 + 2.5 + 2.5 on the first, 2.5 on the second
    assert tip_notes(make, day=8, paid=2) == []
    # at 3.5 h a day three days are paid, but each trip of 2.5 h takes a day beside the tip's
    [note] = tip_notes(make, day=3.5, paid=3)
    assert note.startswith("Van is out on 4 days here and its hire is priced for 3: make the trips")
    assert "to North, South, West and the tip in one go" in note


def test_a_way_to_be_rid_of_spoil_that_is_not_there_takes_no_trip(make: SimpleNamespace) -> None:
    """The van fetches from North alone, and the plan still names the trips to the tip."""
    at = with_spoil_kept(with_tip(make))
    plan = evaluate_in(at, replace(priced(at, ("North",)).plan, disposal="own trips"))
    found = schedule(JOB, at.takeoff, at.options, plan)
    assert [e.name for e in found.entries if not e.step] == ["Fetch from North"]
    assert not any("Van" in note for note in found.notes)


def test_each_vehicle_is_hired_for_the_places_that_it_goes_to(make: SimpleNamespace) -> None:
    """Trucks of 60.00 and of 70.00 a day are two; an own pickup and a delivery are none."""
    routes = {
        "East": make.haul("East", 900, vehicle="Van", hire=6000),
        "North": make.haul("North", 900, vehicle="Truck", hire=7000),
        "South": make.haul("South", 900, vehicle="Truck", hire=7000),
        "West": make.haul("West", 900, vehicle="Truck", hire=6000),
        "Own": make.haul("Own", 900), "Other": make.haul("Other", 900),
        "Brought": make.drop("Brought", 5000),
    }  # fmt: skip
    tip = make.haul("the tip", 900, vehicle="Van", hire=6000)
    found = shared_hires(routes, tip)
    assert [(hire.way.vehicle, hire.places) for hire in found] == [
        ("Truck", ("North", "South")), ("Van", ("East", "the tip")),
    ]  # fmt: skip
