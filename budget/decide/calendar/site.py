"""On which days there is work: own days, crew days, and days on which sellers are open."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from budget.decide.calendar.days import DAY, Days
from budget.decide.calendar.leads import LeadTime
from budget.decide.calendar.network import Because, Task
from budget.decide.calendar.tasks import CREW, OWN, Work
from budget.job import Assumption, Job
from budget.numerals import trimmed
from budget.prices.options import Machine, Options
from budget.reference import coefficient, rows

_HABIT = "common practice"
WEEKEND = frozenset((5, 6))
WEEKDAYS = frozenset(range(5))
SHOP_DAYS = frozenset(range(6))


@dataclass(frozen=True, slots=True)
class Site:
    """The days of everybody who works or brings something."""

    start: dt.date | None
    days: Mapping[str, Days]
    open_days: Mapping[str, frozenset[int]]  # weekdays of each seller and bid
    assumed: tuple[Assumption, ...]

    def is_open(self, who: str, day: int) -> bool:
        """Whether a seller or a firm works on a day; without dates every day is one."""
        return self.start is None or (self.start.weekday() + day) % 7 in self.open_days[who]

    def open_by(self, who: str, day: int) -> int:
        """The last open day up to a day."""
        return next(d for d in range(day, day - 8, -1) if self.is_open(who, d))

    def open_from(self, who: str, day: int) -> int:
        """The first open day from a day on."""
        return next(d for d in range(day, day + 8) if self.is_open(who, d))


def weekday_numbers(names: Sequence[str]) -> frozenset[int]:
    """Weekdays by name as numbers, Monday 0."""
    numbers = {row["weekday"]: int(row["number"]) for row in rows("weekdays")}
    return frozenset(numbers[name] for name in names)


def site_of(job: Job, options: Options, work: Work, leads: Mapping[str, LeadTime]) -> Site:
    """The days of everybody in a plan, as far ahead as its tasks can possibly reach."""
    start = job.settings.start
    own = weekday_numbers(job.settings.working_days) or WEEKEND
    opened = _open_days(job, options)
    crew = coefficient("crew hours a day")
    per_day = options.hours_per_day.value
    span = _horizon(job, work, per_day, leads)

    def days(weekdays: frozenset[int], hours: float) -> Days:
        if start is None:
            return Days([True] * span, hours)
        first = start.weekday()
        return Days([(first + d) % 7 in weekdays for d in range(span)], hours)

    found = {OWN: days(own, per_day), CREW: days(WEEKDAYS, crew.likely)}
    for supplier in sorted(work.fetched):
        found[supplier] = days(own & opened[supplier] or opened[supplier], per_day)
    return Site(start, found, opened, _assumed(job, work))


def _open_days(job: Job, options: Options) -> dict[str, frozenset[int]]:
    found = dict.fromkeys(options.routes, SHOP_DAYS)
    for row in job.suppliers:
        found[row.supplier] = weekday_numbers(row.open_days) or SHOP_DAYS
    return found | {bid.key: WEEKDAYS for bid in options.bids}


def _horizon(job: Job, work: Work, per_day: float, leads: Mapping[str, LeadTime]) -> int:
    """More days than all tasks one after the other can take, with a week lost at each."""
    span = 60.0 + max((lead.high for lead in leads.values()), default=0) * 2
    if job.settings.start is not None:
        starts = [job.settings.as_of, *(e.there_from for e in job.equipment if e.there_from)]
        span += max(0, max((day - job.settings.start).days for day in starts))
    for task in work.tasks:
        span += 7 * (task.hours / min(per_day, 7.0) + 2)
        span += sum(link.wait for link in task.after) / DAY
    return int(span)


def _assumed(job: Job, work: Work) -> tuple[Assumption, ...]:
    found = []
    if job.settings.start is not None and not job.settings.working_days:
        found.append(Assumption("working days", "Saturday, Sunday", _HABIT, "Job"))
    if any(task.days == CREW for task in work.tasks):
        crew = coefficient("crew hours a day")
        hours = f"Monday to Friday, {trimmed(crew.likely)} h"
        found.append(Assumption("working days of hired crews", hours, crew.cited, "Bids"))
    silent = [s for s in job.suppliers if s.supplier in work.uses and not s.open_days]
    if silent and job.settings.start is not None:
        found.append(Assumption("open days of sellers", "Monday to Saturday", _HABIT, "Suppliers"))
    return tuple(found)


#: The earliest moment of a task, and why.
Releases = dict[str, tuple[float, Because]]


def releases(
    site: Site, job: Job, work: Work, leads: Mapping[str, LeadTime],
    machines: Mapping[str, Machine],
) -> Releases:  # fmt: skip
    """Before which moment a task cannot start: goods, a crew or a machine cannot be there.

    Counted from the as-of date: what is ordered then comes so many days later. Without dates
    nothing is late.

    :param machines: the way in which each machine is had, by equipment.
    """
    if site.start is None:
        return {}
    today = (job.settings.as_of - site.start).days
    found: Releases = {}
    for task in work.tasks:
        for seller in waited_for(task, work):
            firm = seller not in work.uses
            day = site.open_from(seller, site.open_from(seller, today) + leads[seller].days)
            morning = day + overnight(seller, work)
            because = Because("crew" if firm else "goods", seller)
            if morning * DAY > found.get(task.name, (0.0, because))[0]:
                found[task.name] = (morning * DAY, because)
        machine = machines.get(task.machine)
        if machine is not None and machine.there_from is not None:
            first = (machine.there_from - site.start).days * DAY
            because = Because("machine", task.machine)
            if first > found.get(task.name, (0.0, because))[0]:
                found[task.name] = (first, because)
    return found


def overnight(seller: str, work: Work) -> int:
    """Days from the day something comes to the morning it can be used."""
    return 0 if seller not in work.uses or seller in work.fetched else 1


def waited_for(task: Task, work: Work) -> tuple[str, ...]:
    """The sellers and the firm without whom a task cannot start."""
    if task.days in work.fetched:
        return (task.days,)
    crew = (task.who,) if task.days == CREW and task.who else ()
    return (*task.goods, *crew)
