"""A vehicle hired by the day serves several sellers: days and cents written out."""

from __future__ import annotations

import random
from dataclasses import replace
from types import SimpleNamespace

import pytest

from budget.decide.calendar.schedule import schedule
from budget.decide.evaluation import evaluate_in
from budget.decide.model import Model
from budget.decide.plan import Plan, Priced
from budget.decide.situation import Situation
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
    changed = replace(options, routes=routes, offers=offers, bids=bids)
    return Situation(takeoff, changed, "sand", frozenset()), r.choice([0.0, 200.0, 500.0])


def agrees(make: SimpleNamespace, seed: int) -> bool:
    """Hold the programme against every plan; returns whether the best plan shares a hire."""
    at, hour_value = hired_everywhere(make, seed)
    best, _ = make.best_by_hand(at, hour_value)
    solved = Model(at).solve(hour_value)
    if best is None or solved is None:
        assert best is None
        assert solved is None
        return False
    assert solved.proved
    assert len(solved.priced.missing) == len(best.missing)
    assert -1e-6 <= solved.priced.total(hour_value) - best.total(hour_value) <= 2.0
    return "Hire of Van" in cash(solved.priced)


def test_sharing_is_found_as_by_enumeration(make: SimpleNamespace) -> None:
    assert sum(agrees(make, seed) for seed in range(12)) >= 3


@pytest.mark.thorough
def test_it_is_on_many_more_jobs(make: SimpleNamespace) -> None:
    assert sum(agrees(make, seed) for seed in range(100, 220)) >= 20
