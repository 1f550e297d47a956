"""The calendar: order, waits, hands, days, orders, hires, cash and rain."""

from __future__ import annotations

import datetime as dt
import itertools
import random
from dataclasses import replace
from types import SimpleNamespace
from typing import Any

import networkx as nx
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats

from budget.decide import brief
from budget.decide.calendar.days import DAY, Days
from budget.decide.calendar.machines import Use, best_spells, days_out, longer_costs
from budget.decide.calendar.network import Link, Task, finish_of, forward, sequence
from budget.decide.calendar.result import Calendar, Wait
from budget.decide.calendar.schedule import schedule
from budget.decide.calendar.told import short_of_hire
from budget.decide.calendar.weather import wet_days
from budget.decide.calendar.wet_pass import Open
from budget.decide.comparison import compare_options
from budget.decide.plan import Plan, Priced
from budget.decide.pricing.evaluation import evaluate, evaluate_in
from budget.decide.scenarios import ALL_HIRED, ALL_OWN, BEST
from budget.decide.terms.situation import Situation
from budget.job import Bid, Job, Place, Settings, Supplier, Weather
from budget.job import Work as WorkRow
from budget.prices.options import Options
from budget.quantities.takeoff import Takeoff
from budget.report.calendar import disagreements

SATURDAY = dt.date(2026, 5, 2)
EVERY_DAY = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
PLACE = Place("Job", 2)


def job_of(start: dt.date | None = SATURDAY, wet: float = 0.0, **values: Any) -> Job:
    """A job whose settings alone matter: quantities and options come from elsewhere."""
    months = ("May", "June", "July", "August", "September", "October")
    weather = [Weather(place=PLACE, month=m, wet=wet) for m in months] if wet else []
    fixed = {"place": PLACE, "start": start, "as_of": dt.date(2026, 4, 1)} | values
    return Job(settings=Settings(**fixed), weather=tuple(weather))


def some_plan(make: SimpleNamespace, seed: int) -> tuple[Takeoff, Options, Priced]:
    """One of the plans of a random job that can be priced."""
    takeoff, options = make.random_job(seed)
    situation = Situation(takeoff, options, "sand", frozenset())
    skip = random.Random(seed).randint(0, 40)
    priced = None
    for plan in itertools.islice(make.every_plan(situation), 400):
        try:
            priced = evaluate_in(situation, plan)
        except ValueError:
            continue
        skip -= 1
        if skip < 0:
            break
    assert priced is not None
    return takeoff, options, priced


def by_hand(make: SimpleNamespace, **more: Any) -> tuple[Takeoff, Options, Priced]:
    """Dig 12 h, Base 4 h, Lay 6 h and Joint 2 h for one person, without goods."""
    steps = [("Dig", 12.0), ("Base", 4.0), ("Lay", 6.0), ("Joint", 2.0)]
    takeoff = make.takeoff([], [make.amount(step, hours) for step, hours in steps])
    built = make.options(
        methods=[make.method(step, "by hand", 1.0) for step, _ in steps], hours_per_day=6, **more
    )
    situation = Situation(takeoff, built, "sand", frozenset())
    plan = next(iter(make.every_plan(situation)))
    return takeoff, built, evaluate_in(situation, plan)


def days_of(found: Calendar) -> dict[str, tuple[int, int]]:
    return {e.name: (e.first, e.last) for e in found.entries}


def test_steps_fill_weekend_days_in_the_usual_order(make: SimpleNamespace) -> None:
    # 6 h a day on Saturday 2 May and the Sundays and Saturdays after it: Dig both days of the
    # first weekend; Base 4 h and 2 h of Lay on the 9th; 4 h of Lay and Joint on the 10th.
    takeoff, options, priced = by_hand(make)
    found = schedule(job_of(), takeoff, options, priced)
    assert days_of(found) == {"Dig": (0, 1), "Base": (7, 7), "Lay": (7, 8), "Joint": (8, 8)}
    assert found.date(found.finish) == dt.date(2026, 5, 10)
    assert found.chain == ("Dig", "Base", "Lay", "Joint")


def test_without_a_start_date_days_are_counted(make: SimpleNamespace) -> None:
    takeoff, options, priced = by_hand(make)
    found = schedule(job_of(start=None, wet=0.5), takeoff, options, priced)
    assert (found.finish, found.date(found.finish)) == (3, None)
    assert found.delays is None
    assert "no start date" in found.notes[0]


def test_a_start_before_the_prices_were_looked_at_is_told(make: SimpleNamespace) -> None:
    takeoff, options, priced = by_hand(make)
    job = job_of()
    assert job.settings.start is not None

    def told(as_of: dt.date) -> bool:
        looked = replace(job, settings=replace(job.settings, as_of=as_of))
        notes = schedule(looked, takeoff, options, priced).notes
        return any(note.startswith("The start date is before") for note in notes)

    assert not told(job.settings.start)
    assert told(job.settings.start + dt.timedelta(days=1))


def test_a_wait_holds_up_what_follows(make: SimpleNamespace) -> None:
    # Base may not be walked on for 7 days: it ends on the 9th at noon, so that Lay starts on the
    # 16th at noon and takes the rest of its 6 h on the 17th.
    takeoff, options, priced = by_hand(make)
    row = WorkRow(place=PLACE, step="Base", method="by hand", wait=168.0)
    found = schedule(replace(job_of(), work=(row,)), takeoff, options, priced)
    assert days_of(found)["Lay"] == (14, 15)
    lay = next(e for e in found.entries if e.name == "Lay")
    assert (lay.because.kind, lay.because.name, lay.because.wait) == ("after", "Base", 168.0)


def test_work_of_ones_own_order(make: SimpleNamespace) -> None:
    takeoff, options, priced = by_hand(make)
    early = WorkRow(place=PLACE, step="Joint", method="by hand", after=("Dig",))
    found = schedule(replace(job_of(), work=(early,)), takeoff, options, priced)
    assert [e.name for e in found.entries][:2] == ["Dig", "Base"]
    circle = WorkRow(place=PLACE, step="Dig", method="by hand", after=("Joint",))
    told = schedule(replace(job_of(), work=(circle,)), takeoff, options, priced)
    assert "circle" in told.notes[0]
    assert days_of(told) == days_of(schedule(job_of(), takeoff, options, priced))


def test_order_by_goes_back_over_lead_days_and_closed_days(make: SimpleNamespace) -> None:
    # Base starts on Saturday 9 May. The seller delivers from Monday to Saturday, so on Friday the
    # 8th; five days before is Sunday 3 May: order by Saturday 2 May, the first day.
    certain = Supplier(place=PLACE, supplier="North", lead_days=5, lead_low=5, lead_high=5)
    need = make.need("Base stone", "Base", {"mass": 4000.0}, weight=4000.0)
    steps = [make.amount("Dig", 12.0), make.amount("Base", 4.0)]
    takeoff = make.takeoff([need], steps)
    offer = make.offer("Base stone", "North", 1000, holds=1000, per="tonne", weight=1000)
    options = make.options(
        offers=[replace(offer, lead_days=5.0)], routes=[make.drop("North", 5000)], hours_per_day=6,
        methods=[make.method("Dig", "by hand", 1.0), make.method("Base", "by hand", 1.0)],
    )  # fmt: skip
    situation = Situation(takeoff, options, "sand", frozenset())
    priced = make.all_priced(situation)[0]
    found = schedule(replace(job_of(), suppliers=(certain,)), takeoff, options, priced)
    order = found.orders[0]
    assert (order.needed, order.arrives, order.order) == (7, 6, 0)
    assert not order.late
    assert found.delays is None
    # Without a range of its own the lead may be 0.75 to 2 times five days; the triangle 3.75, 5, 10
    # stays below 10 - sqrt(0.2 x 6.25 x 5) = 7.5 in 8 of 10 cases: eight days before is Thursday.
    unsure = schedule(job_of(), takeoff, options, priced).orders[0]
    assert (unsure.order, unsure.lead, unsure.lead_sure) == (-2, 5, 8)
    # As of 6 May it can be ordered that day and comes five days later, on Monday the 11th: the
    # base waits for the weekend after.
    late = schedule(job_of(as_of=dt.date(2026, 5, 6)), takeoff, options, priced)
    assert days_of(late)["Base"] == (14, 14)
    base = next(e for e in late.entries if e.name == "Base")
    assert (base.because.kind, base.because.name) == ("goods", "North")


def test_longest_path_of_random_graphs() -> None:
    """Against networkx: with hands for every task the finish is the heaviest path."""
    for seed in range(40):
        r = random.Random(seed)
        count = r.randint(2, 25)
        hours = [r.uniform(0.5, 30.0) for _ in range(count)]
        graph = nx.DiGraph()
        tasks = []
        for i in range(count):
            before = [j for j in range(i) if r.random() < 0.2]
            waits = {j: r.choice([0.0, 0.0, 24.0]) for j in before}
            graph.add_edge("start", i, weight=0.0)
            graph.add_edges_from((j, i, {"weight": hours[j] + waits[j]}) for j in before)
            graph.add_edge(i, "end", weight=hours[i])
            links = tuple(Link(str(j), waits[j]) for j in before)
            tasks.append(Task(str(i), "", hours[i], r.random(), after=links))
        days = {"": Days([True] * 200, 24.0, morning=0.0)}
        booked = forward(sequence(tasks, lambda t: t.order), days, {})
        expected = nx.dag_longest_path_length(graph, weight="weight")
        assert finish_of(booked) == pytest.approx(expected)


@settings(max_examples=40, deadline=None)
@given(
    st.lists(st.booleans(), min_size=30, max_size=30),
    st.floats(1.0, 12.0),
    st.floats(0.0, 300.0),
    st.floats(0.0, 40.0),
    st.booleans(),
)
def test_many_draws_at_once_book_as_one_does(
    mask: list[bool], hours: float, ready: float, work: float, whole: bool
) -> None:
    days = Days([*mask, *[True] * 60], hours)
    dry = Open(days, np.zeros((2, 90), bool))
    found = dry.advance(np.full(2, ready), work, whole)
    assert found is not None
    start, finish = days.advance(ready, work, whole)
    assert found[0][0] == pytest.approx(start)
    assert found[1][1] == pytest.approx(finish)
    assert days.done(finish) - days.done(start) == pytest.approx(work, abs=1e-6)
    back = days.retreat(finish, work, whole)
    assert back[0] >= start - 1e-6


@pytest.mark.parametrize("seed", range(12))
def test_every_own_hour_and_every_cent_is_on_the_calendar(make: SimpleNamespace, seed: int) -> None:
    takeoff, options, priced = some_plan(make, seed)
    found = schedule(job_of(), takeoff, options, priced)
    assert sum(e.own_hours for e in found.entries) == pytest.approx(priced.own_hours)
    assert sum(week.cash for week in found.weeks) == priced.cash
    assert all(week.cash == sum(c for _, c in week.lines) for week in found.weeks)
    assert max(e.last for e in found.entries) == found.finish
    assert all(o.order <= o.arrives <= o.needed for o in found.orders)


@pytest.mark.parametrize("seed", range(12))
def test_own_hands_do_one_thing_at_a_time_on_own_days(make: SimpleNamespace, seed: int) -> None:
    takeoff, options, priced = some_plan(make, seed)
    found = schedule(job_of(), takeoff, options, priced)
    by_day: dict[int, float] = {}
    for e in found.entries:
        if e.own and e.hours:
            weekdays = {found.date(d).weekday() for d in (e.first, e.last)}  # type: ignore[union-attr]
            assert weekdays <= {5, 6}
            if e.first == e.last:
                by_day[e.first] = by_day.get(e.first, 0.0) + e.hours
    assert all(hours <= options.hours_per_day.value + 1e-6 for hours in by_day.values())


@pytest.mark.parametrize("seed", range(10))
def test_more_hands_days_or_hours_never_end_later(make: SimpleNamespace, seed: int) -> None:
    takeoff, options, priced = some_plan(make, seed)
    situation = Situation(takeoff, options, "sand", frozenset())
    ends = []
    for people in (1, 2, 3):
        crowd = replace(options, people=people)
        again = evaluate_in(Situation(takeoff, crowd, "sand", frozenset()), priced.plan)
        ends.append(schedule(job_of(), takeoff, crowd, again).soonest)
    assert ends == sorted(ends, reverse=True)
    usual = schedule(job_of(), takeoff, options, priced).soonest
    more = schedule(job_of(working_days=EVERY_DAY), takeoff, options, priced).soonest
    assert more <= usual
    assert situation.amounts


@pytest.mark.parametrize("seed", range(6))
def test_more_rain_never_ends_earlier(make: SimpleNamespace, seed: int) -> None:
    takeoff, options, priced = some_plan(make, seed)
    dry = schedule(job_of(), takeoff, options, priced).finish
    ends, means = [], []
    for chance in (0.02, 0.2, 0.5):
        rain = schedule(job_of(wet=chance), takeoff, options, priced, draws=200).delays
        assert rain is not None
        assert rain.middle <= rain.likely
        ends.append((rain.middle, rain.likely))
        means.append(rain.later)
    assert dry <= ends[0][0]
    assert ends == sorted(ends)
    assert means == sorted(means)
    assert means[0] >= 0


def test_rain_delays_one_day_of_digging_as_a_waiting_time(make: SimpleNamespace) -> None:
    """Working every day, one day's work starts after a number of wet days that is geometric.

    Its mean is (1 - q) / q for a dry chance q; drying is set to no day.
    """
    takeoff = make.takeoff([], [make.amount("Lay", 6.0)])
    options = make.options(methods=[make.method("Lay", "by hand", 1.0)], hours_per_day=6)
    situation = Situation(takeoff, options, "sand", frozenset())
    priced = make.all_priced(situation)[0]
    job = job_of(wet=0.3, working_days=EVERY_DAY, drying_days=0.0, wet_persistence=0.0)
    rain = schedule(job, takeoff, options, priced, draws=20_000).delays
    assert rain is not None
    error = (0.3**0.5 / 0.7) / 20_000**0.5  # standard deviation sqrt(p) / q of that number
    assert rain.later == pytest.approx(0.3 / 0.7, abs=4 * error)
    assert (rain.middle, rain.likely) == (0, 1)  # 70 % dry at once, 91 % after one wet day


def test_same_seed_same_rain(make: SimpleNamespace) -> None:
    takeoff, options, priced = some_plan(make, 3)
    first, again, other = (
        schedule(job_of(wet=0.3), takeoff, options, priced, draws=300, seed=seed).delays
        for seed in (1, 1, 2)
    )
    assert first == again
    assert first != other


def test_spells_are_the_cheapest_of_all_partings(make: SimpleNamespace) -> None:
    """Against trying every way to part the days of use."""
    machine = make.machine(
        "Saw", "rent", terms=[("day", 6000, 1), ("week", 20000, 7)], per_spell=1000
    )
    for seed in range(30):
        r = random.Random(seed)
        use = Use(tuple(sorted(r.sample(range(25), r.randint(1, 7)))), 20.0)
        found = best_spells(machine, use)
        costs = []
        for cuts in itertools.product((False, True), repeat=len(use.days) - 1):
            spells = [[use.days[0], use.days[0]]]
            for day, cut in zip(use.days[1:], cuts, strict=True):
                if cut:
                    spells.append([day, day])
                else:
                    spells[-1][1] = day
            costs.append(sum(_rent(b - a + 1) + 1000 for a, b in spells))
        assert sum(_rent(int(days_out(s, use))) + 1000 for s in found) == min(costs)


def _rent(days: int) -> int:
    """Days at 60.00 and weeks at 200.00, whichever is less together."""
    return min(20000 * weeks + 6000 * max(0, days - 7 * weeks) for weeks in range(days + 1))


def test_moments_are_on_the_days_they_say() -> None:
    days = Days([True, False, True], 8.0)
    assert days.advance(0.0, 8.0) == (8.0, 16.0)
    assert days.advance(16.0, 1.0) == (2 * DAY + 8.0, 2 * DAY + 9.0)
    with pytest.raises(OverflowError):
        days.advance(0.0, 17.0)


def test_a_crew_takes_the_days_it_says_shared_by_the_usual_hours(make: SimpleNamespace) -> None:
    """Dig and Base in three days of 8 h: 24 h, of which Dig has 12 / 16 and Base 4 / 16."""
    steps = [("Dig", 12.0), ("Base", 4.0)]
    takeoff = make.takeoff([], [make.amount(step, hours) for step, hours in steps])
    options = make.options(
        methods=[make.method(step, "by hand", 1.0) for step, _ in steps],
        bids=[make.bid("Ground crew", ["Dig", "Base"], 100000)], hours_per_day=6,
    )  # fmt: skip
    situation = Situation(takeoff, options, "sand", frozenset())
    hired = next(p for p in make.all_priced(situation) if p.plan.steps["Dig"].startswith("bid"))
    said = Bid(place=PLACE, bid="Ground crew", steps=("Dig", "Base"), work_days=3.0)
    found = schedule(replace(job_of(), bids=(said,)), takeoff, options, hired)
    assert {e.name: e.hours for e in found.entries} == {"Dig": 18.0, "Base": 6.0}
    # Monday 4 to Wednesday 6 May; Base is the last 6 of the 24 hours
    assert days_of(found) == {"Dig": (2, 4), "Base": (4, 4)}
    assert {e.name: e.worked for e in found.entries} == {"Dig": (2, 3, 4), "Base": (4,)}
    # without a word it takes as long as the fastest own way: 12 and 4 hours
    usual = schedule(job_of(), takeoff, options, hired)
    assert {e.name: e.hours for e in usual.entries} == {"Dig": 12.0, "Base": 4.0}


def test_trips_to_the_tip_come_after_the_spoil_is_carried_off(make: SimpleNamespace) -> None:
    """4 m³ at 0.5 h a m³ are two hours of driving."""
    takeoff = make.takeoff([], [make.amount("Spoil", 4.0)], spoil=4.0)
    options = make.options(
        methods=[make.method("Spoil", "barrow", 0.5)], hours_per_day=6,
        disposal=[make.disposal("trips", 2000, hours=0.5)],
    )  # fmt: skip
    (priced,) = make.all_priced(Situation(takeoff, options, "sand", frozenset()))
    found = schedule(job_of(), takeoff, options, priced)
    trips = next(e for e in found.entries if not e.step)
    assert (trips.hours, trips.own_hours, trips.first) == (2.0, 2.0, 0)
    assert (trips.because.kind, trips.because.name) == ("after", "Spoil")


def test_a_task_over_a_closed_week_is_worked_at_on_open_days(make: SimpleNamespace) -> None:
    takeoff, options, priced = by_hand(make)
    found = schedule(job_of(), takeoff, options, priced)
    lay = next(e for e in found.entries if e.name == "Lay")
    assert (lay.first, lay.last, lay.worked) == (7, 8, (7, 8))
    late = schedule(job_of(start=dt.date(2026, 5, 3)), takeoff, options, priced)
    dig = next(e for e in late.entries if e.name == "Dig")  # Sunday, then Saturday
    assert (dig.first, dig.last, dig.worked) == (0, 6, (0, 6))


def test_links_in_a_circle_are_named() -> None:
    tasks = [Task("a", "", 1, 1, after=(Link("b"),)), Task("b", "", 1, 2, after=(Link("a"),)),
             Task("c", "", 1, 3)]  # fmt: skip
    with pytest.raises(ValueError, match=r"^a, b$"):
        sequence(tasks, lambda t: t.order)


def paved_later(make: SimpleNamespace, hours: float) -> tuple[Takeoff, Options, Priced]:
    """Dig for some hours, then a base whose stone North brings."""
    need = make.need("Base stone", "Base", {"mass": 4000.0}, weight=4000.0)
    takeoff = make.takeoff([need], [make.amount("Dig", hours), make.amount("Base", 6.0)])
    offer = make.offer("Base stone", "North", 1000, holds=1000, per="tonne", weight=1000)
    options = make.options(
        offers=[offer], routes=[make.drop("North", 5000)], hours_per_day=6,
        methods=[make.method("Dig", "by hand", 1.0), make.method("Base", "by hand", 1.0)],
    )  # fmt: skip
    priced = make.all_priced(Situation(takeoff, options, "sand", frozenset()))[0]
    return takeoff, options, priced


def test_late_goods_hold_up_the_work_as_their_triangle_says(make: SimpleNamespace) -> None:
    """Stone in 2, 5 or 14 days. It is needed on the third day, every day worked, so it is late.

    Ordered on the as-of day, the day before work starts, it comes on day -1 + lead and can be used
    on the morning after: the base is held up by the lead rounded to whole days, less two. So the
    finish is the triangle's, moved; its mean is that of the whole numbers.
    """
    takeoff, options, priced = paved_later(make, 12.0)
    seller = Supplier(
        place=PLACE, supplier="North", lead_days=5, lead_low=2, lead_high=14, open_days=EVERY_DAY
    )
    job = replace(
        job_of(as_of=dt.date(2026, 5, 1), working_days=EVERY_DAY, lost_day=9000.0),
        suppliers=(seller,),
    )
    found = schedule(job, takeoff, options, priced, draws=20_000)
    delays = found.delays
    assert delays is not None
    assert delays.causes == ("late goods",)
    triangle = stats.triang(3 / 12, 2, 12)
    chances = {n: triangle.cdf(n + 0.5) - triangle.cdf(n - 0.5) for n in range(2, 15)}
    # ordered again on the day that the plan without delays takes: lead 5, base on day 5
    assert found.finish == 5
    ends = {n: max(5, n) for n in chances}
    mean = sum(p * ends[n] for n, p in chances.items())
    spread = sum(p * (ends[n] - mean) ** 2 for n, p in chances.items()) ** 0.5
    assert delays.later == pytest.approx(mean - 5, abs=4 * spread / 20_000**0.5)
    assert delays.likely == next(n for n in range(2, 15) if triangle.cdf(n + 0.5) >= 0.8)
    (late,) = delays.late
    assert late.chance == pytest.approx(triangle.sf(5.5), abs=0.015)
    assert late.days == pytest.approx(mean - 5, abs=0.1)
    assert late.cost == pytest.approx(late.chance * 9000)
    # the lost day is paid in so many cases: nought at low levels, 90.00 at high ones
    assert delays.cash[round(100 * triangle.cdf(5.5)) - 3] == 0
    assert delays.cash[round(100 * triangle.cdf(5.5)) + 3] == 9000


def test_goods_that_are_never_late_delay_nothing(make: SimpleNamespace) -> None:
    takeoff, options, priced = paved_later(make, 12.0)
    seller = Supplier(place=PLACE, supplier="North", lead_days=5, lead_low=3, lead_high=14)
    early = replace(job_of(confidence=0.999), suppliers=(seller,))
    delays = schedule(early, takeoff, options, priced, draws=2_000).delays
    assert delays is not None
    assert delays.later == pytest.approx(0, abs=0.02)


@pytest.mark.parametrize(("share", "lasting"), [(0.3, 0.25), (0.2, 0.6), (0.5, 0.0)])
def test_wet_days_come_in_spells_of_the_closed_form(share: float, lasting: float) -> None:
    """A share of days is wet, and a wet spell lasts 1 / ((1 - share)(1 - persistence)) days."""
    months = dict.fromkeys(range(1, 13), share)
    wet = wet_days(SATURDAY, 400, months, lasting, 500, seed=7)
    assert wet.mean() == pytest.approx(share, abs=0.01)
    assert wet[:, 0].mean() == pytest.approx(share, abs=0.08)
    following = wet[:, 1:][wet[:, :-1]]
    assert following.mean() == pytest.approx(share * (1 - lasting) + lasting, abs=0.01)
    ends = (wet[:, :-1] & ~wet[:, 1:]).sum()
    starts_in = wet[:, :-1].sum()
    assert starts_in / ends == pytest.approx(1 / ((1 - share) * (1 - lasting)), rel=0.03)


def test_months_that_are_not_given_stay_dry() -> None:
    wet = wet_days(dt.date(2026, 5, 20), 40, {5: 0.9}, 0.5, 300, seed=1)
    assert wet[:, :12].mean() > 0.8
    assert not wet[:, 12:].any()


def test_longer_wet_spells_push_the_finish_further_in_bad_cases(make: SimpleNamespace) -> None:
    """One day of laying, every day worked: the wait is one less than a spell and geometric.

    With a persistence r a wet start lasts 1 / ((1 - s)(1 - r)) days, and a share s starts wet.
    """
    takeoff = make.takeoff([], [make.amount("Lay", 6.0)])
    options = make.options(methods=[make.method("Lay", "by hand", 1.0)], hours_per_day=6)
    priced = make.all_priced(Situation(takeoff, options, "sand", frozenset()))[0]
    for lasting in (0.0, 0.25, 0.6):
        job = job_of(wet=0.3, working_days=EVERY_DAY, drying_days=0.0, wet_persistence=lasting)
        delays = schedule(job, takeoff, options, priced, draws=20_000).delays
        assert delays is not None
        assert delays.later == pytest.approx(0.3 / (0.7 * (1 - lasting)), rel=0.06)


def sawn(make: SimpleNamespace, **dates: Any) -> tuple[Takeoff, Options, Priced]:
    """Lay for 8 hours, then cut for 5 with a saw: 60 a day, 80 a weekend of two days."""
    takeoff = make.takeoff([], [make.amount("Lay", 8.0), make.amount("Cut", 5.0)])
    saw = make.machine("Saw", "rent", terms=[("day", 6000, 1), ("weekend", 8000, 2)])
    options = make.options(
        methods=[make.method("Lay", "by hand", 1.0), make.method("Cut", "saw", 1.0, machine="Saw")],
        machines=[replace(saw, **dates)], hours_per_day=6,
    )  # fmt: skip
    return takeoff, options, make.all_priced(Situation(takeoff, options, "sand", frozenset()))[0]


def test_waiting_for_a_machine_keeps_to_the_plan(make: SimpleNamespace) -> None:
    """Eight hours of laying leave four on Sunday the 3rd; five of cutting go over to the 9th.

    The plan has one day, 60.00; the calendar a Sunday and a Saturday, 120.00. Begun on Saturday
    the 9th the cutting takes that one day, whether the work then ends later or not.
    """
    takeoff, options, priced = sawn(make)
    found = schedule(job_of(), takeoff, options, priced)
    (saw,) = found.machines
    # ending no later, it is begun on the 9th of itself
    assert (saw.spells, saw.cash, saw.planned, saw.wait) == (((7, 7),), 6000, 6000, None)
    # with an hour of jointing behind it that must end on the 9th, waiting costs a day
    takeoff = make.takeoff(
        [], [make.amount("Lay", 8.0), make.amount("Cut", 5.0), make.amount("Joint", 5.0)]
    )
    options = replace(options, methods={**options.methods, **make.options(
        methods=[make.method("Joint", "by hand", 1.0)]).methods})  # fmt: skip
    priced = make.all_priced(Situation(takeoff, options, "sand", frozenset()))[0]
    later = schedule(job_of(), takeoff, options, priced)
    (saw,) = later.machines
    # begun on the 3rd the saw is out a Sunday and a Saturday, 120.00, and the work ends on the 9th
    assert (saw.spells, saw.cash, saw.planned) == (((7, 7),), 6000, 6000)
    assert saw.wait == Wait("Cut", 7, 1, 7, 6000)
    assert (later.finish, later.soonest) == (8, 7)
    assert later.certain == 0
    (told,) = disagreements(later, "USD")
    assert "Cut waits until Sat 9 May" in told
    assert "Begun on Sun 3 May it costs $60.00 more and the work ends Sat 9 May." in told
    cut = next(e for e in later.entries if e.name == "Cut")
    assert (cut.because.kind, cut.because.name) == ("hire", "Saw")


def test_hire_that_no_wait_spares_is_told_and_counted(make: SimpleNamespace) -> None:
    """Cutting for 14 hours at 6 a day goes on over a weekend and a Saturday, whenever begun.

    The plan has three days in a row at 60.00; kept from Saturday to Saturday is eight days, so
    that a weekend and a day once more are had: 80.00 and 60.00 are 140.00, as the plan has it.
    With 20.00 there and back it is 40.00 for the two times, and 20.00 for the plan's one.
    """
    takeoff = make.takeoff([], [make.amount("Cut", 14.0)])
    saw = make.machine(
        "Saw", "rent", terms=[("day", 6000, 1), ("weekend", 8000, 2)], per_spell=2000
    )
    options = make.options(
        methods=[make.method("Cut", "saw", 1.0, machine="Saw")], machines=[saw], hours_per_day=6
    )
    priced = make.all_priced(Situation(takeoff, options, "sand", frozenset()))[0]
    found = schedule(job_of(), takeoff, options, priced)
    (had,) = found.machines
    assert (had.cash, had.planned, had.wait) == (18000, 16000, None)
    assert found.certain == 2000
    assert found.beyond == (2000.0,) * 101
    (told,) = short_of_hire(found, "USD")
    assert "Count on $20 more." in told


def test_a_machine_that_comes_later_holds_up_its_step(make: SimpleNamespace) -> None:
    takeoff, options, priced = sawn(make, there_from=dt.date(2026, 5, 10))
    found = schedule(job_of(), takeoff, options, priced)
    cut = next(e for e in found.entries if e.name == "Cut")
    assert (cut.first, cut.last) == (8, 8)
    assert (cut.because.kind, cut.because.name) == ("machine", "Saw")
    assert not found.away


def test_a_machine_that_must_go_back_before_is_not_there(make: SimpleNamespace) -> None:
    takeoff, options, priced = sawn(make, there_to=dt.date(2026, 5, 8))
    (saw,) = schedule(job_of(), takeoff, options, priced).away
    assert (saw.equipment, saw.there_to, saw.spells) == ("Saw", 6, ((7, 7),))
    kept = sawn(make, there_to=dt.date(2026, 5, 9))
    assert not schedule(job_of(), *kept).away


def test_a_loan_that_ends_too_early_is_planned_without(make: SimpleNamespace) -> None:
    """Borrowed for nothing until the 8th, it is needed on the 9th: it is rented for 60.00."""
    takeoff, options, _ = sawn(make)
    loan = replace(make.machine("Saw", "borrow"), there_to=dt.date(2026, 5, 8))
    both = replace(options, machines={"Saw": (loan, *options.machines["Saw"])})
    takeoff = replace(takeoff, beddings=(make.bedding("sand"),))
    found = compare_options(job_of(), takeoff, both)
    assert found.best is not None
    assert found.best.priced is not None
    assert found.best.priced.plan.machines == {"Saw": "rent"}
    assert found.best.priced.cash == 6000
    assert any("is there until Fri 8 May; the work needs it to Sat 9 May" in n for n in found.notes)
    # without another way it stays, and the answer says so
    alone = compare_options(job_of(), takeoff, replace(both, machines={"Saw": (loan,)}))
    assert any("no plan does without it" in n for n in alone.notes)


@pytest.mark.parametrize("every", [True, False])
def test_a_look_at_the_money_plans_without_such_a_loan_too(
    make: SimpleNamespace, monkeypatch: pytest.MonkeyPatch, every: bool
) -> None:
    takeoff, options, _ = sawn(make)
    takeoff = replace(takeoff, beddings=(make.bedding("sand"),))
    loan = replace(make.machine("Saw", "borrow"), there_to=dt.date(2026, 5, 8))
    monkeypatch.setattr(brief, "take_off", lambda _: takeoff)
    for ways, had in (((loan, *options.machines["Saw"]), ("rent", 6000)), ((loan,), ("borrow", 0))):
        both = replace(options, machines={"Saw": ways})
        monkeypatch.setattr(brief, "flatten", lambda *_, both=both: both)
        found = brief.plan_briefly(job_of(), every=every)
        assert found.best is not None
        assert found.best.priced is not None
        assert (found.best.priced.plan.machines["Saw"], found.best.priced.cash) == had
        if every:
            names = {s.name for s in found.scenarios}
            assert {BEST, ALL_OWN, ALL_HIRED} <= names
        else:
            assert found.scenarios == (found.best,)


def test_a_firm_is_paid_by_the_stages_of_its_bid(make: SimpleNamespace) -> None:
    """1,000.00 for Lay: a quarter on the yes, a quarter at the start, the rest when done.

    The crew comes on Monday the 4th and lays 12 hours, so until Tuesday; it must know 10 days
    ahead, on Friday 24 April.
    """
    takeoff = make.takeoff([], [make.amount("Lay", 12.0)])
    options = make.options(
        methods=[make.method("Lay", "by hand", 1.0)], bids=[make.bid("Crew", ["Lay"], 100000)],
        hours_per_day=6,
    )  # fmt: skip
    situation = Situation(takeoff, options, "sand", frozenset())
    plan = Plan("sand", frozenset(), {}, {}, {"Lay": "bid: Crew"}, {}, "")
    priced = evaluate_in(situation, plan)
    row = Bid(place=PLACE, bid="Crew", steps=("Lay",), price=100000, paid_yes=0.25, paid_start=0.25,
              lead_days=10, lead_low=10, lead_high=10)  # fmt: skip
    job = replace(job_of(), bids=(row,))
    found = schedule(job, takeoff, options, priced)
    paid = [(found.date(w.first), w.lines) for w in found.weeks]
    assert paid == [
        (dt.date(2026, 4, 20), (("Crew (on your yes)", 25000),)),
        (dt.date(2026, 5, 4), (("Crew (at the start)", 25000), ("Crew (when done)", 50000))),
    ]


def test_days_longer_are_kept_or_the_machine_is_had_once_more(make: SimpleNamespace) -> None:
    """60 a day, 200 a week, 30 there and back, 10 % tax; out for three days, 180.

    One day more is 20 up to the week (200), and so are two to four; a fifth is 80, a sixth 140:
    more than one day anew, 60 + 30.
    """
    saw = make.machine(
        "Saw", "rent", terms=[("day", 6000, 1), ("week", 20000, 7)], per_spell=3000, tax=0.1
    )
    costs = [0, 2000, 2000, 2000, 2000, 8000, 9000]
    assert longer_costs(saw, 3.0, 6) == pytest.approx([1.1 * c for c in costs])


def test_a_loan_may_end_before_the_rain_lets_the_work_end(make: SimpleNamespace) -> None:
    """Cut takes Saturday 9 May and the saw goes back that day: wet in 3 of 10 cases.

    Lay before it is dry on both days of its weekend in 0.7 x (0.7 + 0.25 x 0.3) = 0.5425 of the
    cases: a dry Sunday follows a dry Saturday with 1 - 0.3 x 0.75 = 0.775.
    """
    takeoff, options, priced = sawn(make, there_to=dt.date(2026, 5, 9))
    delays = schedule(job_of(wet=0.3), takeoff, options, priced, draws=20_000).delays
    assert delays is not None
    (gone,) = delays.gone
    assert (gone.equipment, gone.day) == ("Saw", 7)
    # laid on both days: 0.7 x 0.775; then cut on a Saturday six days after a dry Sunday, which is
    # dry with 0.7 + 0.3 x 0.25 ** 6. Laid on one dry day and the Saturday: never cut in time.
    in_time = 0.7 * 0.775 * (0.7 + 0.3 * 0.25**6)
    assert gone.chance == pytest.approx(1 - in_time, abs=0.015)


def test_hire_that_no_wait_spares_is_in_the_cash_of_the_plan(make: SimpleNamespace) -> None:
    """The same 14 hours of cutting: 80.00 for the weekend, 60.00 for the day, twice 20.00.

    Where another shop asks 90.00 a day and nothing there and back, with no weekend's rent, three
    days in one go are 270.00, so that the first shop stays; where it asks 55.00, its three days
    are 165.00, less than the 180.00, and it is taken.
    """
    takeoff = make.takeoff([], [make.amount("Cut", 14.0)])
    takeoff = replace(takeoff, beddings=(make.bedding("sand"),))
    terms = [("day", 6000, 1), ("weekend", 8000, 2)]
    first = make.machine("Saw", "rent from First", terms=terms, per_spell=2000)
    for each, taken, cash in ((9000, "First", 18000), (5500, "Second", 16500)):
        second = make.machine("Saw", "rent from Second", terms=[("day", each, 1)])
        options = make.options(
            methods=[make.method("Cut", "saw", 1.0, machine="Saw")],
            machines=[first, second], hours_per_day=6,
        )  # fmt: skip
        found = compare_options(job_of(), takeoff, options)
        assert found.best is not None
        assert found.best.priced is not None
        assert found.calendar is not None
        assert found.best.priced.plan.machines == {"Saw": f"rent from {taken}"}
        assert found.best.priced.cash == cash == sum(x.cash for x in found.best.priced.lines)
        assert evaluate(found.best.priced.plan, takeoff, found.options).cash == cash
        assert found.calendar.certain == 0
        assert any("the cash counts those days" in note for note in found.notes)
