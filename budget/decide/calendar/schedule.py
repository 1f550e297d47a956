"""The calendar of one plan: forward pass, the chain that sets the finish, orders, hires, cash."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from budget.decide.calendar.cash import weeks
from budget.decide.calendar.delays import Found, delays_of
from budget.decide.calendar.goods import Times, orders
from budget.decide.calendar.leads import lead_times
from budget.decide.calendar.machines import fresh_starts, had, next_mornings, ways_of
from budget.decide.calendar.network import (
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
from budget.decide.calendar.result import Calendar, Entry, Had, Instead
from budget.decide.calendar.site import Releases, Site, releases, site_of
from budget.decide.calendar.tasks import CREW, Work, work_of
from budget.decide.plan import Priced
from budget.decide.risk.draws import SEED
from budget.decide.situation import Situation
from budget.job import Job
from budget.prices.options import Options
from budget.quantities.takeoff import Takeoff

#: Draws of wet days: half of them end by the median to about 2 points in 95 % of cases.
DRAWS = 2_000
#: Tasks that wait for something are put this far behind the others, in one of the tries.
_BEHIND = 100.0

Pass = dict[str, Booked]


def schedule(
    job: Job, takeoff: Takeoff, options: Options, priced: Priced, title: str = "",
    draws: int = DRAWS, seed: int = SEED,
) -> Calendar:  # fmt: skip
    """When the work of a priced plan is done.

    Own hands do one task at a time, on the working days of the Job sheet; hired crews work
    beside them from Monday to Friday. Of a few fixed sequences the one that ends first is
    taken, so that fewer hours or more open days never end later.
    """
    situation = Situation(takeoff, options, priced.plan.bedding, priced.plan.parts)
    work = work_of(job, situation, priced)
    leads = lead_times(job, priced, options)
    site = site_of(job, options, work, leads)
    free = releases(site, job, work, leads, ways_of(priced, options))
    tasks, booked = _soonest(site, work, free)
    free, booked = _fewest_hire_days(site, tasks, free, booked, priced, options)
    machines = _with_waits(site, tasks, free, booked, priced, options)
    ordered = orders(Times(job, site, leads, booked), work, priced, options)
    found = Found(job, site, options, work, booked, free, machines, ordered, leads)
    delays = delays_of(found, draws, seed)
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
        return 0.0 if task.days in work.fetched else behind(task)

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


def _with_waits(
    site: Site, tasks: Sequence[Task], free: Releases, booked: Pass,
    priced: Priced, options: Options,
) -> tuple[Had, ...]:  # fmt: skip
    """The machines; beside each that is dearer than planned, how waiting for it would mend that."""
    found = []
    for m in had(priced, options, booked, site.days, site.start):
        tries = fresh_starts(booked, site.days, m.equipment) if m.cash > m.planned else []
        ways = []
        for name, morning in tries:
            later = forward(tasks, site.days, {**free, name: (morning, booked[name].because)})
            again = {h.equipment: h for h in had(priced, options, later, site.days)}
            if again[m.equipment].cash <= m.planned:
                ways.append((finish_of(later), name, later))
        best = min(ways, key=lambda w: w[:2], default=None)
        found.append(m if best is None else replace(m, instead=_instead(*best)))
    return tuple(found)


def _instead(finish: float, name: str, later: Pass) -> Instead:
    return Instead(name, day_of(later[name].start), day_of(finish, end=True))


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
    elif not job.weather:
        yield "Rain is not in it: fill Weather to see how far it may push the finish."
