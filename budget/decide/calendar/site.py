"""On which days there is work: own days, crew days, and days on which sellers are open."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from budget.decide.calendar.days import DAY, Days
from budget.decide.calendar.network import Because, Task
from budget.decide.calendar.tasks import CREW, OWN, Work
from budget.job import Assumption, Job
from budget.prices.options import Options
from budget.reference import coefficient, rows

_HABIT = "common practice"
WEEKEND = frozenset((5, 6))
WEEKDAYS = frozenset(range(5))
SHOP_DAYS = frozenset(range(6))


@dataclass(frozen=True, slots=True)
class Lead:
    """One seller or firm: how many days ahead it must know, and on which days it comes."""

    days: int
    open: frozenset[int]


@dataclass(frozen=True, slots=True)
class Site:
    """The days of everybody who works or brings something."""

    start: dt.date | None
    days: Mapping[str, Days]
    leads: Mapping[str, Lead]  # by seller, and by bid
    assumed: tuple[Assumption, ...]

    def is_open(self, who: str, day: int) -> bool:
        """Whether a seller or a firm works on a day; without dates every day is one."""
        return self.start is None or (self.start.weekday() + day) % 7 in self.leads[who].open

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


def site_of(job: Job, options: Options, work: Work) -> Site:
    """The days of everybody in a plan, as far ahead as its tasks can possibly reach."""
    start = job.settings.start
    own = weekday_numbers(job.settings.working_days) or WEEKEND
    leads = _leads(job, options)
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
        found[supplier] = days(own & leads[supplier].open or leads[supplier].open, per_day)
    return Site(start, found, leads, _assumed(job, work))


def _leads(job: Job, options: Options) -> dict[str, Lead]:
    """By seller the longest lead of its own row; quotes add theirs where they are ordered."""
    found = {s: Lead(0, SHOP_DAYS) for s in options.routes}
    for row in job.suppliers:
        shop = weekday_numbers(row.open_days) or SHOP_DAYS
        found[row.supplier] = Lead(_whole(row.lead_days), shop)
    asked = {bid.bid: bid.lead_days for bid in job.bids}
    for bid in options.bids:
        found[bid.key] = Lead(_whole(asked.get(bid.key)), WEEKDAYS)
    return found


def _whole(days: float | None) -> int:
    return -int(-(days or 0) // 1)


def _horizon(job: Job, work: Work, per_day: float, leads: Mapping[str, Lead]) -> int:
    """More days than all tasks one after the other can take, with a week lost at each."""
    span = 60.0 + max((lead.days for lead in leads.values()), default=0) * 2
    span += max((q.lead_days or 0.0 for q in job.quotes), default=0.0) * 2
    if job.settings.start is not None:
        span += max(0, (job.settings.as_of - job.settings.start).days)
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
        hours = f"Monday to Friday, {crew.likely:g} h"
        found.append(Assumption("working days of hired crews", hours, crew.cited, "Bids"))
    silent = [s for s in job.suppliers if s.supplier in work.uses and not s.open_days]
    if silent and job.settings.start is not None:
        found.append(Assumption("open days of sellers", "Monday to Saturday", _HABIT, "Suppliers"))
    return tuple(found)


#: The earliest moment of a task, and why.
Releases = dict[str, tuple[float, Because]]


def releases(site: Site, job: Job, work: Work, lead_of: Callable[[str], int]) -> Releases:
    """Before which moment a task cannot start, because goods or a crew cannot be there.

    Counted from the as-of date: what is ordered then comes so many days later. Without dates
    nothing is late.
    """
    if site.start is None:
        return {}
    today = (job.settings.as_of - site.start).days
    found: Releases = {}
    for task in work.tasks:
        for seller in _waited_for(task, work):
            firm = seller not in work.uses
            day = site.open_from(seller, site.open_from(seller, today) + lead_of(seller))
            morning = day if firm or seller in work.fetched else day + 1
            because = Because("crew" if firm else "goods", seller)
            if morning * DAY > found.get(task.name, (0.0, because))[0]:
                found[task.name] = (morning * DAY, because)
    return found


def _waited_for(task: Task, work: Work) -> tuple[str, ...]:
    if task.days in work.fetched:
        return (task.days,)
    crew = (task.who,) if task.days == CREW and task.who else ()
    return (*task.goods, *crew)
