"""What delays do where it is known which days are wet and who comes late: worked out by hand."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest

from budget.decide.calendar import weather
from budget.decide.calendar.delays import _kept_cost
from budget.decide.calendar.result import Delays, Had, Kept
from budget.decide.calendar.schedule import schedule
from budget.decide.terms.situation import Situation
from budget.job import Bid, Job, Place, Settings, Supplier, Weather
from budget.reference import coefficient

SATURDAY = dt.date(2026, 5, 2)
PLACE = Place("Job", 2)
EVERY_DAY = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
SETTINGS = Settings(place=PLACE, start=SATURDAY, as_of=SATURDAY, working_days=EVERY_DAY,
                    drying_days=0.0)  # fmt: skip
#: Rain that is possible, and that the tests say the days of.
RAINY = Job(settings=SETTINGS, weather=(Weather(place=PLACE, month="May", wet=0.5),))
DRY = Job(settings=SETTINGS)
DAILY = [("day", 6000, 1)]
#: Days that are wet in each case.
Rain = Callable[[Sequence[Sequence[int]]], None]


@pytest.fixture
def rain(monkeypatch: pytest.MonkeyPatch) -> Rain:
    """Sets which days are wet in each case."""

    def fall(cases: Sequence[Sequence[int]]) -> None:
        def wet_days(start: dt.date, span: int, *_: Any) -> Any:
            wet = np.zeros((len(cases), span), bool)
            for row, days in enumerate(cases):
                wet[row, [day for day in days if day < span]] = True
            return wet

        monkeypatch.setattr(weather, "wet_days", wet_days)

    return fall


def delayed(
    make: SimpleNamespace, steps: Mapping[str, float], *, saw: Sequence[str] = (),
    crew: Sequence[str] = (), stone: str = "", job: Job = RAINY, hours_per_day: float = 6,
    people: int = 1, cases: int = 1, **machine: Any,
) -> Delays:  # fmt: skip
    """Steps of so many hours; the saw's by a saw at 60.00 a day, the crew's by a crew."""
    if saw:
        machine = {"terms": DAILY, "hours_a_day": 16, **machine}
        dates = {key: machine.pop(key) for key in ("there_to",) if key in machine}
        saws = [replace(make.machine("Saw", "rent", **machine), **dates)]
    else:
        saws = []
    options = make.options(
        methods=[make.method(s, "way", 1.0, people=people, machine="Saw" if s in saw else "")
                 for s in steps],
        machines=saws, bids=[make.bid("Crew", crew, 100)] if crew else [],
        offers=[make.offer("Stone", "North", 100, measure="count", per="each")],
        routes=[make.drop("North", 0)], hours_per_day=hours_per_day, people=people,
    )  # fmt: skip
    needs = [make.need("Stone", stone, {"count": 1})] if stone else []
    takeoff = make.takeoff(needs, [make.amount(step, hours) for step, hours in steps.items()])
    situation = Situation(takeoff, options, "sand", frozenset())
    wanted = {step: "bid: Crew" if step in crew else "own: way" for step in steps}
    (priced,) = (p for p in make.all_priced(situation) if p.plan.steps == wanted)
    found = schedule(job, takeoff, options, priced, draws=cases).delays
    assert found is not None
    return found


def test_the_middle_and_the_likely_end_of_a_hundred_cases(
    make: SimpleNamespace, rain: Rain
) -> None:
    """A day of laying after 0, 1, ... 99 wet days: half are done by day 50, 80 of 100 by day 80
    (the first that no fewer are done by), and 49.5 days later on average."""
    rain([range(number) for number in range(100)])
    found = delayed(make, {"Lay": 6.0}, cases=100)
    assert (found.draws, found.middle, found.likely) == (100, 50, 80)
    assert found.later == pytest.approx(49.5)


def test_a_machine_is_out_longer_by_the_wet_days_between_its_first_and_last(
    make: SimpleNamespace, rain: Rain
) -> None:
    """Six hours of edging and twelve of cutting with the saw are Saturday to Monday; rain on the
    first day moves all of it, on the second keeps the saw a day, on both of the next two days.
    A day or two more cost the day that it would be had anew for: 60.00."""
    rain([[], [0], [1], [1, 2], [3]])
    found = delayed(make, {"Edge": 6.0, "Cut": 12.0}, saw=["Edge", "Cut"], cases=5)
    assert found.kept == (Kept("Saw", 3 / 5, 2 * 6000 / 5),)
    assert found.later == pytest.approx(4 / 5)
    # nothing beyond the plan in three cases of five, a day of hire in two
    assert (found.cash[0], found.cash[50], found.cash[51], found.cash[100]) == (0, 0, 6000, 6000)


def test_other_work_does_not_keep_a_machine(make: SimpleNamespace, rain: Rain) -> None:
    """Laying on Saturday and Sunday, cutting on Monday and Tuesday: rain on Sunday moves the saw's
    days, rain on Tuesday keeps it for one more."""
    rain([[1], [3]])
    found = delayed(make, {"Lay": 12.0, "Cut": 12.0}, saw=["Cut"], cases=2)
    assert found.kept == (Kept("Saw", 0.5, 3000.0),)


def test_work_until_midnight_is_done_on_its_day(make: SimpleNamespace, rain: Rain) -> None:
    """Sixteen hours a day from eight in the morning, so that both days end at midnight. The saw
    must go back on Sunday: where that is wet, it is needed longer."""
    rain([[]])
    last = SATURDAY + dt.timedelta(days=1)
    sawn: dict[str, Any] = {"saw": ["Cut"], "hours_per_day": 16, "there_to": last}
    dry = delayed(make, {"Cut": 32.0}, **sawn)
    assert (dry.middle, dry.later, dry.kept[0].days, dry.gone[0].chance) == (1, 0.0, 0.0, 0.0)
    rain([[1]])
    wet = delayed(make, {"Cut": 32.0}, **sawn)
    assert (wet.middle, wet.later, wet.kept[0].days, wet.gone[0].chance) == (2, 1.0, 1.0, 1.0)


def test_the_ground_softens_until_the_rain_lets_the_base_begin(
    make: SimpleNamespace, rain: Rain
) -> None:
    """Dug on Saturday; Sunday and Monday are wet, the base is begun on Tuesday. Rain on Thursday
    falls on the base."""
    rain([[1, 2, 5]])
    found = delayed(make, {"Dig": 6.0, "Base": 6.0})
    assert found.hours == pytest.approx(2 * coefficient("soft ground").likely * 6)


def test_soil_dug_again_is_dug_by_everybody(make: SimpleNamespace, rain: Rain) -> None:
    """Two people dig twenty-four hours, twelve by the clock, on Saturday and, as Sunday and Monday
    are wet, on Tuesday. Both wet days make a share of the digging to be done again."""
    soft = coefficient("soft ground")
    rain([[1, 2]])
    found = delayed(make, {"Dig": 24.0, "Base": 6.0}, people=2)
    assert found.hours == pytest.approx(2 * soft.likely * 24)
    told = {a.what: a.value for a in found.assumed}
    assert told[soft.what] == f"{round(soft.likely * 100)} %"


def test_whoever_may_be_late_is_named_beside_the_rain(make: SimpleNamespace, rain: Rain) -> None:
    """North's stone and the crew: with rain, without it, and each where it comes for certain."""
    rain([[]])
    north = Supplier(place=PLACE, supplier="North", lead_days=5, open_days=EVERY_DAY)
    sure = replace(north, lead_low=5, lead_high=5)
    crew = Bid(place=PLACE, bid="Crew", steps=("Build",), lead_days=4, rain_on_owner=True)
    other = Bid(place=PLACE, bid="Other crew", steps=("Build",), rain_on_owner=True)
    ready = replace(crew, lead_low=4, lead_high=4)
    for job, seller, bid, causes in (
        (RAINY, north, crew, ("rain", "late goods", "late crews")),
        (DRY, north, crew, ("late goods", "late crews")),
        (DRY, north, ready, ("late goods",)),
        (DRY, sure, crew, ("late crews",)),
        (RAINY, sure, ready, ("rain",)),
    ):
        rows = replace(job, suppliers=(seller,), bids=(bid, other))
        found = delayed(make, {"Base": 6.0, "Build": 6.0}, crew=["Build"], stone="Base", job=rows)
        assert found.causes == causes
        assert found.billed == (("Crew",) if "rain" in causes else ())


def test_a_day_more_is_on_top_of_the_days_of_one_spell(make: SimpleNamespace) -> None:
    """Out for two times of 1.5 days, each a weekend at 80.00; a day more is a day at 60.00 beside
    it. Three days in a row, or six, would be a week at 130.00 already, and a day more nothing."""
    terms = [("day", 6000, 1), ("weekend", 8000, 2), ("week", 13000, 7)]
    saw = make.machine("Saw", "rent", terms=terms, per_spell=5000)
    options = make.options(machines=[saw])
    had = Had("Saw", "rent", "rent", ((0, 1), (7, 8)), 4, 3.0, 0, 0, ())
    assert _kept_cost(had, options, np.array([0.0, 1.0])).tolist() == [0.0, 5000.0]


@pytest.mark.parametrize("given", [{}, {"drying_days": 2.0}, {"wet_persistence": 0.5}])
def test_what_is_said_of_rain_on_job_is_not_assumed(given: dict[str, float]) -> None:
    """The documented values are a day of drying and a quarter."""
    job = Job(settings=Settings(place=PLACE, **given))  # type: ignore[arg-type]
    drying, lasting = coefficient("drying after rain"), coefficient("wet persistence")
    told = {(a.what, a.value) for a in weather.assumed(job)}
    usual = {"drying_days": (drying.what, "1 day"), "wet_persistence": (lasting.what, "25 %")}
    assert told == {words for name, words in usual.items() if name not in given}
    assert weather.drying(job) == given.get("drying_days", 1)
    assert weather.persistence(job) == given.get("wet_persistence", 0.25)
