"""The calendar of one plan: forward pass, the chain that sets the finish, orders, hires, cash."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import replace

from budget.decide.calendar.cash import weeks
from budget.decide.calendar.delays import Found, delays_of
from budget.decide.calendar.goods import Times, orders
from budget.decide.calendar.leads import lead_times
from budget.decide.calendar.machines import fresh_starts, had, next_mornings, ways_of
from budget.decide.calendar.network import (
    Because,
    Booked,
    Task,
    backward,
    binding,
    day_of,
    finish_of,
    forward,
    sequence,
)
from budget.decide.calendar.outings import outing_notes
from budget.decide.calendar.result import Calendar, Entry, Had, Wait
from budget.decide.calendar.site import Releases, Site, releases, site_of
from budget.decide.calendar.tasks import CREW, Work, work_of
from budget.decide.plan import Priced
from budget.decide.risk.draws import SEED
from budget.decide.terms.situation import Situation
from budget.job import Job
from budget.numerals import date
from budget.prices.options import Options
from budget.quantities.takeoff import Takeoff

#: Draws of wet days: half of them end by the median to about 2 points in 95 % of cases.
DRAWS = 2_000
#: Tasks that wait for something are put this far behind the others, in one of the tries.
_BEHIND = 100.0
#: Machines that the work waits for at the most.
_WAITS = 4

Pass = dict[str, Booked]


def schedule(
    job: Job, takeoff: Takeoff, options: Options, priced: Priced, title: str = "",
    draws: int = DRAWS, seed: int = SEED,
) -> Calendar:  # fmt: skip
    """When the work of a priced plan is done.

    Own hands do one task at a time, on the working days of the Job sheet; hired crews work
    beside them from Monday to Friday. Of a few fixed sequences the one that ends first is
    taken, so that fewer hours or more open days never end later, but for waits that keep a
    machine's hire within what the plan has. Without ``draws``, nothing is said of delays.
    """
    situation = Situation(takeoff, options, priced.plan.bedding, priced.plan.parts)
    work = work_of(job, situation, priced)
    leads = lead_times(job, priced, options)
    site = site_of(job, options, work, leads)
    free = releases(site, job, work, leads, ways_of(priced, options))
    tasks, booked = _soonest(site, work, free)
    free, booked = _fewest_hire_days(site, tasks, free, booked, priced, options)
    soonest = day_of(finish_of(booked), end=True)
    free, booked, waits = _within_the_plan(site, tasks, free, booked, priced, options)
    machines = tuple(
        replace(m, wait=waits.get(m.equipment))
        for m in had(priced, options, booked, site.days, site.start)
    )
    ordered = orders(Times(job, site, leads, booked), work, priced, options)
    found = Found(job, site, options, work, booked, free, machines, ordered, leads)
    delays = delays_of(found, draws, seed) if draws else None
    return Calendar(
        title=title,
        start=site.start,
        finish=day_of(finish_of(booked), end=True),
        entries=_entries(site, booked),
        chain=tuple(b.task.name for b in binding(booked)),
        orders=ordered,
        machines=machines,
        weeks=weeks(job, site, priced, booked, ordered, machines),
        delays=delays,
        notes=(
            *work.order.notes,
            *outing_notes(priced, options, booked, site.days),
            *_notes(job, site),
        ),
        assumed=(*work.order.assumed, *site.assumed, *(delays.assumed if delays else ())),
        soonest=soonest,
    )


def _soonest(site: Site, work: Work, free: Releases) -> tuple[tuple[Task, ...], Pass]:
    """Of three sequences that which ends first.

    By the order of work; the same with what must wait behind the rest; and with goods to be
    fetched before all else.
    """

    def behind(task: Task) -> float:
        waits = task.name in free or any(link.wait for link in task.after)
        return task.order + (_BEHIND if waits else 0.0)

    def fetched_first(task: Task) -> float:
        return -math.inf if task.days in work.fetched else behind(task)

    keys = (lambda t: t.order, behind, fetched_first)
    tries = [sequence(work.tasks, key) for key in keys]
    passes = [(tasks, forward(tasks, site.days, free)) for tasks in tries]
    return min(passes, key=lambda p: round(finish_of(p[1]), 6))


def _fewest_hire_days(
    site: Site, tasks: Sequence[Task], free: Releases, booked: Pass,
    priced: Priced, options: Options,
) -> tuple[Releases, Pass]:  # fmt: skip
    """Let tasks with a rented machine begin a day later where that saves rent and no day."""
    rented = {h.equipment for h in had(priced, options, booked, site.days) if h.way == "rent"}
    if not rented:
        return free, booked
    best = _rent(had(priced, options, booked, site.days))
    finish = day_of(finish_of(booked), end=True)
    for name, morning in next_mornings(booked, site.days, sorted(rented)):
        tried = {**free, name: (morning, booked[name].because)}
        later = forward(tasks, site.days, tried)
        if day_of(finish_of(later), end=True) > finish:
            continue
        cost = _rent(had(priced, options, later, site.days))
        if cost < best:
            free, booked, best = tried, later, cost
    return free, booked


def _within_the_plan(
    site: Site, tasks: Sequence[Task], free: Releases, booked: Pass,
    priced: Priced, options: Options,
) -> tuple[Releases, Pass, dict[str, Wait]]:  # fmt: skip
    """Let work wait for a machine that would cost more hire than the plan has.

    The plan is the one of least cash and own hours, and says nothing of an early end. So the work
    waits for a morning from which the hire that is priced is enough, where there is one, and the
    sooner end is told with what it costs. The waits are by equipment.
    """
    waits: dict[str, Wait] = {}
    now = had(priced, options, booked, site.days, site.start)
    for _ in range(_WAITS):
        ways = []
        for m in (m for m in now if m.cash > m.planned and m.equipment not in waits):
            for name, morning in _mornings(booked, site, m.equipment):
                tried = {**free, name: (morning, Because("hire", m.equipment))}
                later = forward(tasks, site.days, tried)
                then = had(priced, options, later, site.days, site.start)
                if _spared(now, then, m.equipment):
                    rank = (_more(then), finish_of(later), m.equipment, name)
                    ways.append((rank, tried, later))
        if not ways:
            break
        (_, _, equipment, name), free, later = min(ways, key=lambda way: way[0])
        then = had(priced, options, later, site.days, site.start)
        waits[equipment] = Wait(
            name, day_of(later[name].start), day_of(booked[name].start),
            day_of(finish_of(booked), end=True), _more(now) - _more(then),
        )  # fmt: skip
        booked, now = later, then
    return free, booked, waits


def _mornings(booked: Pass, site: Site, equipment: str) -> list[tuple[str, float]]:
    """When a task with one machine could begin instead: the next day, and after the next rest."""
    found = fresh_starts(booked, site.days, equipment)
    return [*found, *(w for w in next_mornings(booked, site.days, [equipment]) if w not in found)]


def _more(machines: Iterable[Had]) -> int:
    """Cents of hire beyond what the plan has."""
    return sum(max(0, m.cash - m.planned) for m in machines)


def _spared(now: Sequence[Had], then: Sequence[Had], equipment: str) -> bool:
    """Whether one machine is then had for what is planned, and no other is worse off."""
    before = {m.equipment: m for m in now}
    return all(
        m.cash <= m.planned
        if m.equipment == equipment
        else m.cash <= max(m.planned, before[m.equipment].cash)
        for m in then
    ) and not any(m.there_to is not None and before[m.equipment].there_to is None for m in then)


def _rent(machines: Iterable[Had]) -> tuple[int, float]:
    found = [m for m in machines if m.way == "rent"]
    return sum(m.cash for m in found), sum(m.out for m in found)


def _entries(site: Site, booked: Pass) -> tuple[Entry, ...]:
    latest = backward(booked, site.days)
    chain = {b.task.name for b in binding(booked)}
    found = []
    for b in sorted(booked.values(), key=lambda b: (b.start, b.finish, b.task.order)):
        first = day_of(b.start)
        last = max(first, day_of(b.finish, end=True))
        is_open = site.days[b.task.days].open
        found.append(
            Entry(
                b.task.name, b.task.step, b.task.how, b.task.days != CREW, first, last,
                b.task.hours, b.task.own_hours, max(0, day_of(latest[b.task.name]) - first),
                b.task.name in chain, b.because,
                tuple(d for d in range(first, last + 1) if is_open[d]) or (first,),
            )
        )  # fmt: skip
    return tuple(found)


def _notes(job: Job, site: Site) -> Iterable[str]:
    if site.start is None:
        yield (
            "Job has no start date, so days are counted from the first day of work; weekends, "
            "closed days, rain and the dates of quotes are left out until it has one."
        )
        return
    as_of = job.settings.as_of
    if site.start < as_of and not job.progress:
        yield (
            f"The start date is before {date(as_of)}, the day the prices were looked at; no goods "
            "come before that. Change one of the two on Job if work has not begun."
        )
    if not job.weather:
        yield "Rain is not in it: fill Weather to see how far it may push the finish."
