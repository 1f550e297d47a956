"""What holds up the first task, however late, and hire that every case pays: by hand."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from types import SimpleNamespace

from budget.decide.calendar.leads import lead_times
from budget.decide.calendar.schedule import schedule
from budget.decide.plan import Priced
from budget.decide.terms.situation import Situation
from budget.job import Equipment, Job, Place, Settings, Supplier, Weather
from budget.prices.options import Options
from budget.quantities.takeoff import Takeoff

SATURDAY = dt.date(2026, 5, 2)
PLACE = Place("Job", 2)
JOB = Job(settings=Settings(place=PLACE, start=SATURDAY, as_of=SATURDAY))


def _based(make: SimpleNamespace) -> tuple[Takeoff, Options, Priced]:
    """A base of stone that North brings, and of edging that South brings."""
    needs = [make.need(name, "Base", {"count": 1}) for name in ("Stone", "Edging")]
    offers = [
        make.offer(name, seller, 100, measure="count", per="each")
        for name, seller in (("Stone", "North"), ("Edging", "South"))
    ]
    options = make.options(
        offers=offers, routes=[make.drop("North", 0), make.drop("South", 0)],
        methods=[make.method("Base", "by hand", 1.0)],
    )  # fmt: skip
    takeoff = make.takeoff(needs, [make.amount("Base", 4.0)])
    (priced,) = make.all_priced(Situation(takeoff, options, "sand", frozenset()))
    return takeoff, options, priced


def test_of_two_sellers_who_come_the_same_day_the_first_by_name_is_told(
    make: SimpleNamespace,
) -> None:
    """Both come on Monday the 4th, two days after the first: the base waits for the 9th."""
    takeoff, options, priced = _based(make)
    for sooner, told in ((2.0, "North"), (0.0, "South")):
        leads = {"North": sooner, "South": 2.0}
        rows = (Supplier(place=PLACE, supplier=s, lead_days=n) for s, n in leads.items())
        (base,) = schedule(replace(JOB, suppliers=tuple(rows)), takeoff, options, priced).entries
        assert (base.because.kind, base.because.name) == ("goods", told)
        assert base.first == 7


def test_a_seller_who_says_no_days_comes_on_the_day_of_the_order(make: SimpleNamespace) -> None:
    _, options, priced = _based(make)
    rows = (Supplier(place=PLACE, supplier="North"),)
    leads = lead_times(replace(JOB, suppliers=rows), priced, options)
    assert {seller: lead.likely for seller, lead in leads.items()} == {"North": 0.0, "South": 0.0}


def test_the_latest_quote_of_a_seller_says_when_the_goods_come(make: SimpleNamespace) -> None:
    takeoff = make.takeoff(
        [make.need(name, "Base", {"count": 1}) for name in ("Stone", "Edging")],
        [make.amount("Base", 4.0)],
    )
    days = {"Stone": 3, "Edging": 10}
    offers = [
        replace(make.offer(name, "North", 100, measure="count", per="each"), lead_days=number)
        for name, number in days.items()
    ]
    options = make.options(
        offers=offers, routes=[make.drop("North", 0)],
        methods=[make.method("Base", "by hand", 1.0)],
    )  # fmt: skip
    (priced,) = make.all_priced(Situation(takeoff, options, "sand", frozenset()))
    assert lead_times(JOB, priced, options)["North"].likely == 10


def test_other_work_is_done_while_goods_are_waited_for(make: SimpleNamespace) -> None:
    """The base on Saturday the 2nd, sand in 10 days, so from Saturday the 16th: the bench is built
    on Sunday the 3rd, not after the bed."""
    steps = ("Base", "Bed", "Build")
    takeoff = make.takeoff(
        [make.need("Sand", "Bed", {"count": 1})], [make.amount(step, 1.0) for step in steps]
    )
    options = make.options(
        offers=[make.offer("Sand", "North", 100, measure="count", per="each")],
        routes=[make.drop("North", 0)], hours_per_day=6,
        methods=[make.method(step, "by hand", 6.0) for step in steps],
    )  # fmt: skip
    (priced,) = make.all_priced(Situation(takeoff, options, "sand", frozenset()))
    rows = (Supplier(place=PLACE, supplier="North", lead_days=10.0),)
    found = schedule(replace(JOB, suppliers=rows), takeoff, options, priced)
    assert {e.name: e.first for e in found.entries} == {"Base": 0, "Build": 1, "Bed": 14}
    assert found.finish == 14


def test_work_waits_for_a_machine_however_far_ahead_it_comes(make: SimpleNamespace) -> None:
    """Five hours with a saw that can be had from Saturday 5 December on: 217 days."""
    takeoff = make.takeoff([], [make.amount("Cut", 5.0)])
    saw = make.machine("Saw", "rent", terms=[("day", 6000, 1)])
    options = make.options(
        methods=[make.method("Cut", "saw", 1.0, machine="Saw")],
        machines=[replace(saw, there_from=dt.date(2026, 12, 5))],
    )
    (priced,) = make.all_priced(Situation(takeoff, options, "sand", frozenset()))
    row = Equipment(place=PLACE, equipment="Saw", there_from=dt.date(2026, 12, 5))
    (cut,) = schedule(replace(JOB, equipment=(row,)), takeoff, options, priced).entries
    assert (cut.first, cut.last) == (217, 217)


def test_hire_that_the_plan_lacks_is_paid_in_every_case(make: SimpleNamespace) -> None:
    """Fourteen hours of cutting at six a day go over a weekend and a Saturday: 80.00 and 60.00,
    and twice 20.00 there and back. The plan has three days, 160.00. It rains in no case drawn."""
    takeoff = make.takeoff([], [make.amount("Cut", 14.0)])
    saw = make.machine(
        "Saw", "rent", terms=[("day", 6000, 1), ("weekend", 8000, 2)], per_spell=2000
    )
    options = make.options(
        methods=[make.method("Cut", "saw", 1.0, machine="Saw")], machines=[saw], hours_per_day=6
    )
    (priced,) = make.all_priced(Situation(takeoff, options, "sand", frozenset()))
    months = tuple(Weather(place=PLACE, month=m, wet=1e-12) for m in ("May", "June"))
    found = schedule(replace(JOB, weather=months), takeoff, options, priced, draws=20)
    assert found.delays is not None
    assert found.delays.cash == (2000.0,) * 101
