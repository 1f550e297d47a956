"""Which of several calendars is taken, and what is told of it: worked out by hand."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping, Sequence
from dataclasses import replace
from types import SimpleNamespace
from typing import Any

import pytest

from budget.decide.calendar.result import Calendar, Had, Wait
from budget.decide.calendar.schedule import _more, _rent, schedule
from budget.decide.terms.situation import Situation
from budget.job import Bid, Job, Place, Settings, Supplier, Weather

#: Own hands work on Saturdays and Sundays, crews from Monday to Friday.
SATURDAY = dt.date(2026, 5, 2)
PLACE = Place("Job", 2)
JOB = Job(settings=Settings(place=PLACE, start=SATURDAY, as_of=dt.date(2026, 4, 1)))
SAW = {"terms": [("day", 6000, 1), ("weekend", 8000, 2)], "hours_a_day": 16}


def planned(
    make: SimpleNamespace, steps: Mapping[str, float], *, saws: Mapping[str, str] | None = None,
    saw: Mapping[str, Any] | None = None, crew: Sequence[str] = (), job: Job = JOB,
    hours_per_day: float = 6, stone: str = "",
) -> Calendar:  # fmt: skip
    """Steps of so many hours for one person, some with a machine, some by a crew.

    ``stone`` names a step whose stone is fetched from North in an hour.
    """
    saws = saws or {}
    methods = [make.method(s, "way", 1.0, machine=saws.get(s, "")) for s in steps]
    built = make.options(
        methods=methods, hours_per_day=hours_per_day,
        machines=[make.machine(name, "rent", **(saw or SAW)) for name in {*saws.values()}],
        bids=[make.bid("Crew", crew, 100)] if crew else [],
        offers=[make.offer("Stone", "North", 100, measure="count", per="each", weight=0)],
        routes=[make.haul("North", 500, hours=1.0, handling=0.0)],
    )  # fmt: skip
    needs = [make.need("Stone", stone, {"count": 1}, weight=0)] if stone else []
    takeoff = make.takeoff(needs, [make.amount(step, hours) for step, hours in steps.items()])
    situation = Situation(takeoff, built, "sand", frozenset())
    wanted = {step: "bid: Crew" if step in crew else "own: way" for step in steps}
    (priced,) = (p for p in make.all_priced(situation) if p.plan.steps == wanted)
    return schedule(job, takeoff, built, priced)


def days(found: Calendar) -> dict[str, tuple[int, int]]:
    return {e.name: (e.first, e.last) for e in found.entries}


def test_work_until_midnight_belongs_to_its_day(make: SimpleNamespace) -> None:
    """Sixteen hours from eight in the morning."""
    found = planned(make, {"Lay": 16.0}, hours_per_day=16)
    assert days(found) == {"Lay": (0, 0)}
    assert (found.finish, found.soonest) == (0, 0)


@pytest.mark.parametrize("first", ["Dig", "Break out"])
def test_goods_are_fetched_first_where_the_work_ends_sooner_so(
    make: SimpleNamespace, first: str
) -> None:
    """North is open on Saturdays alone. Six hours of digging take the first, so that stone fetched
    after it comes on the 9th; fetched before, all is done on Sunday the 3rd: 1 + 6 + 4 hours."""
    north = Supplier(place=PLACE, supplier="North", open_days=("Saturday",))
    job = replace(JOB, suppliers=(north,))
    found = planned(make, {first: 6.0, "Base": 4.0}, stone="Base", job=job)
    assert days(found) == {"Fetch from North": (0, 0), first: (0, 1), "Base": (1, 1)}


def test_who_does_a_task_what_binds_and_what_may_wait(make: SimpleNamespace) -> None:
    """Base on Saturday the 2nd; 12 hours of Bed on the 3rd and the 9th. The crew builds for eight
    hours, a day, on Monday the 4th; on Friday the 8th it ends before the bed does."""
    row = Bid(place=PLACE, bid="Crew", steps=("Build",), work_days=1.0)
    found = planned(
        make, {"Base": 6.0, "Bed": 12.0, "Build": 6.0}, crew=["Build"],
        job=replace(JOB, bids=(row,)),
    )  # fmt: skip
    told = {e.name: (e.own, e.first, e.last, e.spare, e.binding) for e in found.entries}
    assert told == {
        "Base": (True, 0, 0, 0, True),
        "Bed": (True, 1, 7, 0, True),
        "Build": (False, 2, 2, 4, False),
    }


def test_a_machine_comes_no_later_where_that_saves_no_rent(make: SimpleNamespace) -> None:
    """Two hours of cutting on Sunday the 3rd; the crew builds on the Monday and goes on to the
    second week, so that the saw might as well come on the 9th."""
    row = Bid(place=PLACE, bid="Crew", steps=("Build",), work_days=6.0)
    found = planned(
        make, {"Lay": 8.0, "Cut": 2.0, "Build": 48.0}, saws={"Cut": "Saw"}, crew=["Build"],
        job=replace(JOB, bids=(row,)),
    )  # fmt: skip
    assert days(found)["Cut"] == (1, 1)


def test_a_machine_may_come_later_for_work_until_midnight(make: SimpleNamespace) -> None:
    """Sixteen hours a day: 20 of laying leave 12 on Sunday; 16 of cutting go over to the 9th.

    Begun on the 9th they end at midnight, on the same day as before: a day of hire is saved, and
    the work ends no later.
    """
    found = planned(make, {"Lay": 20.0, "Cut": 16.0}, saws={"Cut": "Saw"}, hours_per_day=16)
    (saw,) = found.machines
    assert (saw.spells, saw.wait) == (((7, 7),), None)


def test_an_end_at_midnight_is_no_day_to_spare(make: SimpleNamespace) -> None:
    """The same with 14 of cutting and 14 of jointing, which end at midnight of the 9th. Cut on the
    9th, the joints go over to the 10th: that is a wait, and is told."""
    found = planned(
        make, {"Lay": 20.0, "Cut": 14.0, "Joint": 14.0}, saws={"Cut": "Saw"}, hours_per_day=16
    )
    (saw,) = found.machines
    assert saw.wait == Wait("Cut", 7, 1, 7, 6000)
    assert (found.soonest, found.finish) == (7, 8)


def test_rain_is_said_to_be_left_out_where_none_is_given(make: SimpleNamespace) -> None:
    dry = tuple(Weather(place=PLACE, month=month, wet=0.0) for month in ("May", "June"))
    for job, told in ((JOB, True), (replace(JOB, weather=dry), False)):
        notes = planned(make, {"Lay": 6.0}, job=job).notes
        assert any(note.startswith("Rain is not in it") for note in notes) is told


TWO_SAWS = {"Base": "Plate", "Cut": "Saw"}
THERE_AND_BACK = {**SAW, "per_spell": 2000}


def test_a_wait_is_told_beside_hire_that_no_wait_spares(make: SimpleNamespace) -> None:
    """Fourteen hours with the plate are a weekend and a Saturday: 140.00 and twice 20.00, where the
    plan has 160.00. Laying then leaves four hours on Sunday the 10th, so that five of cutting go
    over to the 16th: twice 80.00 where the plan has 80.00. Begun on the 16th, one day is enough."""
    steps = {"Base": 14.0, "Lay": 6.0, "Cut": 5.0, "Joint": 5.0}
    found = planned(make, steps, saws=TWO_SAWS, saw=THERE_AND_BACK)
    machines = {m.equipment: m for m in found.machines}
    plate, saw = machines["Plate"], machines["Saw"]
    assert (plate.spells, plate.cash, plate.planned) == (((0, 1), (7, 7)), 18000, 16000)
    assert (saw.spells, saw.cash, saw.planned) == (((14, 14),), 8000, 8000)
    assert (plate.wait, saw.wait) == (None, Wait("Cut", 14, 8, 14, 8000))
    assert found.certain == 2000


def test_a_machine_comes_later_beside_a_dearer_one(make: SimpleNamespace) -> None:
    """The same without the joints: cutting on the 16th ends no later, so that nothing waits."""
    found = planned(
        make, {"Base": 14.0, "Lay": 6.0, "Cut": 5.0}, saws=TWO_SAWS, saw=THERE_AND_BACK
    )  # fmt: skip
    saw = next(m for m in found.machines if m.equipment == "Saw")
    assert (saw.spells, saw.wait) == (((14, 14),), None)


def test_work_waits_no_longer_than_it_must(make: SimpleNamespace) -> None:
    """Five hours of cutting on Saturday and one on Sunday are a weekend, 80.00; the plan has a
    day. On Sunday alone they are 60.00, and so on Saturday the 9th: Sunday is sooner."""
    found = planned(make, {"Lay": 1.0, "Cut": 6.0, "Joint": 3.0}, saws={"Cut": "Saw"})
    (saw,) = found.machines
    assert (saw.spells, saw.wait) == (((1, 1),), Wait("Cut", 1, 0, 1, 2000))


def test_hire_of_several_machines_is_added_up() -> None:
    """20.00 more than planned beside 40.00 less: the plan lacks 20.00. A loan is no rent."""
    plate = Had("Plate", "rent", "rent", ((0, 1), (7, 7)), 3, 3.0, 18000, 16000, ())
    saw = Had("Saw", "rent", "rent", ((8, 8),), 1, 0.5, 5000, 9000, ())
    loan = Had("Mixer", "borrow", "borrow", ((0, 1),), 2, 2.0, 700, 700, ())
    assert _more([plate, saw, loan]) == 2000
    assert _rent([plate, saw, loan]) == (23000, 3.5)
