"""On whose days there is work, how far ahead they reach, and what is assumed of them: by hand."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from dataclasses import replace
from types import SimpleNamespace
from typing import Any

import pytest

from budget.decide.calendar.result import Calendar
from budget.decide.calendar.schedule import schedule
from budget.decide.terms.situation import Situation
from budget.job import Job, Place, Settings, Supplier, Work
from budget.reference import coefficient

SATURDAY = dt.date(2026, 5, 2)
PLACE = Place("Job", 2)
JOB = Job(settings=Settings(place=PLACE, start=SATURDAY, as_of=SATURDAY))


def planned(
    make: SimpleNamespace, job: Job = JOB, *, hours: float = 4.0, hours_per_day: float = 6.0,
    sellers: Sequence[str] = ("North", "South"), crew: Sequence[str] = (), **plate: Any,
) -> Calendar:  # fmt: skip
    """Digging, then a base of goods that each seller brings, made with a plate of its own."""
    steps = ("Dig", "Base")
    plates = [replace(make.machine("Plate", "borrow"), **plate)]
    options = make.options(
        offers=[make.offer(f"Goods of {s}", s, 100, measure="count", per="each") for s in sellers],
        routes=[make.drop(s, 0) for s in sellers], machines=plates, hours_per_day=hours_per_day,
        methods=[make.method("Dig", "way", 1.0), make.method("Base", "way", 1.0, machine="Plate")],
        bids=[make.bid("Crew", crew, 100)] if crew else [],
    )  # fmt: skip
    needs = [make.need(f"Goods of {s}", "Base", {"count": 1}) for s in sellers]
    takeoff = make.takeoff(needs, [make.amount(step, hours) for step in steps])
    wanted = {step: "bid: Crew" if step in crew else "own: way" for step in steps}
    priced = make.all_priced(Situation(takeoff, options, "sand", frozenset()))
    (one,) = (p for p in priced if p.plan.steps == wanted)
    return schedule(job, takeoff, options, one)


def ready(**leads: float) -> tuple[Supplier, ...]:
    """Sellers that take just so many days."""
    return tuple(
        Supplier(place=PLACE, supplier=s, lead_days=n, lead_low=n, lead_high=n)
        for s, n in leads.items()
    )


def first_days(found: Calendar) -> dict[str, int]:
    return {e.name: e.first for e in found.entries}


def test_work_waits_for_goods_however_late_they_come(make: SimpleNamespace) -> None:
    """1,000 days after a Saturday is a Friday, and the next day there is work."""
    found = planned(make, replace(JOB, suppliers=ready(North=1000, South=0)))
    assert first_days(found) == {"Dig": 0, "Base": 1001}


def test_half_an_hour_a_day_reaches_as_far_as_it_must(make: SimpleNamespace) -> None:
    """Forty hours are eighty days, forty weekends; as many again for the base."""
    found = planned(make, hours=40.0, hours_per_day=0.5)
    assert first_days(found) == {"Dig": 0, "Base": 40 * 7}
    assert found.finish == 79 * 7 + 1


def test_a_long_wait_reaches_as_far_as_it_must(make: SimpleNamespace) -> None:
    """Dug until noon on Saturday; 500 days after is a Tuesday, so that the base is
    made at the next weekend."""
    row = Work(place=PLACE, step="Dig", method="way", wait=500 * 24.0)
    found = planned(make, replace(JOB, work=(row,)))
    assert first_days(found) == {"Dig": 0, "Base": 504}


def test_goods_are_told_before_a_machine_that_comes_the_same_day(make: SimpleNamespace) -> None:
    """North's goods come on Friday the 8th; the plate can be had from Saturday the 9th on."""
    job = replace(JOB, suppliers=ready(North=6, South=0))
    for from_day, kind in ((9, "goods"), (10, "machine")):
        found = planned(make, job, there_from=dt.date(2026, 5, from_day))
        (base,) = [e for e in found.entries if e.name == "Base"]
        assert (base.first, base.because.kind) == (from_day - 2, kind)


CREW = "working days of hired crews"
OWN = "working days"
OPEN = "open days of sellers"


@pytest.mark.parametrize(
    ("crew", "listed"), [((), False), (("Base",), True), (("Dig", "Base"), True)]
)
def test_the_days_of_crews_are_assumed_where_there_is_one(
    make: SimpleNamespace, crew: tuple[str, ...], listed: bool
) -> None:
    told = {a.what: a for a in planned(make, crew=crew).assumed}
    assert (CREW in told) is listed
    if listed:
        hours = coefficient("crew hours a day")
        assert told[CREW].value == f"Monday to Friday, {hours.likely:g} h"


@pytest.mark.parametrize(
    ("used", "silent", "listed"),
    [
        (("North", "South"), ("South",), True),
        (("North",), ("South",), False),  # nothing is bought there
        (("North", "South"), (), False),
        (("South",), ("North", "South"), True),
    ],
)
@pytest.mark.parametrize("start", [SATURDAY, None])
def test_open_days_are_assumed_of_sellers_that_say_none(
    make: SimpleNamespace, used: tuple[str, ...], silent: tuple[str, ...], listed: bool,
    start: dt.date | None,
) -> None:  # fmt: skip
    """Without dates nobody asks."""
    rows = tuple(
        Supplier(place=PLACE, supplier=s, open_days=() if s in silent else ("Friday", "Saturday"))
        for s in ("North", "South")
    )
    job = replace(JOB, suppliers=rows, settings=replace(JOB.settings, start=start))
    told = [a.what for a in planned(make, job, sellers=used).assumed]
    assert told.count(OPEN) == (listed and start is not None)
    assert told.count(OWN) == (start is not None)
