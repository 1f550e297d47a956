"""What rain does: many seeded draws of wet days, each pass of the calendar done for all at once."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping, Sequence
from typing import Any

from budget.decide.calendar.days import DAY, TINY, Days
from budget.decide.calendar.machines import day_rate
from budget.decide.calendar.network import Booked, day_of, finish_of
from budget.decide.calendar.result import Had, Kept, Rain
from budget.decide.calendar.site import Releases, Site
from budget.decide.calendar.tasks import OWN
from budget.decide.risk.draws import stream
from budget.job import Assumption, Job
from budget.prices.options import Options
from budget.reference import coefficient, rows

#: Days looked at beyond twice the dry time, doubled until every draw ends within them.
_BEYOND = 90
DIG, BASE = "Dig", "Base"


def rain_of(
    job: Job, site: Site, options: Options, booked: Mapping[str, Booked], free: Releases,
    machines: Sequence[Had], draws: int, seed: int,
) -> Rain | None:  # fmt: skip
    """What rain does to the finish, to hired machines and to open ground.

    None without a start date or without any chance of a wet day. The days of a draw are wet
    or dry each for itself, by the chance of their month.
    """
    chances = monthly(job)
    if site.start is None or not any(chances.values()):
        return None
    span = 2 * day_of(finish_of(booked)) + _BEYOND
    while True:
        wet = wet_days(site.start, span, chances, draws, seed)
        found = Wet(site, booked, wet, drying(job)).passed(free)
        if found is not None:
            return _told(job, site, options, booked, machines, found, seed)
        span *= 2


def monthly(job: Job) -> dict[int, float]:
    """The chance of a wet day by month, 1 to 12; months that are not given are dry."""
    numbers = {row["month"]: int(row["number"]) for row in rows("months")}
    return {numbers[w.month]: w.wet for w in job.weather}


def drying(job: Job) -> int:
    """Whole days that open ground stays too wet."""
    given = job.settings.drying_days
    return round(coefficient("drying after rain").likely if given is None else given)


def wet_days(start: dt.date, span: int, chances: Mapping[int, float], draws: int, seed: int) -> Any:
    """Which day of which draw is wet, a row a draw. A greater chance only adds wet days."""
    import numpy as np

    months = [(start + dt.timedelta(days=d)).month for d in range(span)]
    chance = np.array([chances.get(m, 0.0) for m in months])
    columns = [stream(seed, f"wet day {d}").random(draws) for d in range(span)]
    return np.column_stack(columns) < chance


class Open:
    """Open days of many draws at once: as :class:`Days`, a row a draw."""

    def __init__(self, days: Days, wet: Any) -> None:
        """Close the days that are wet."""
        import numpy as np

        span = wet.shape[1]
        mask = np.array([days.open[d] if d < len(days.open) else days.open[_same(d, days)]
                         for d in range(span)])  # fmt: skip
        self.open = mask & ~wet
        self.hours, self.morning = days.hours, days.morning
        self.before = np.zeros((len(wet), span + 1))
        np.cumsum(self.open * days.hours, axis=1, out=self.before[:, 1:])
        self.rows = np.arange(len(wet))

    def advance(self, ready: Any, hours: Any, whole: bool) -> tuple[Any, Any] | None:
        """When work starts and ends in each draw; None if one of them runs out of days."""
        import numpy as np

        day = np.minimum((ready // DAY).astype(int), self.open.shape[1] - 1)
        within = np.clip(ready - day * DAY - self.morning, 0.0, self.hours)
        done = self.before[self.rows, day] + self.open[self.rows, day] * within
        first = (self.before[:, 1:] <= (done + TINY)[:, None]).sum(axis=1)
        if whole and np.max(hours) <= self.hours and first.max() < self.open.shape[1]:
            evening = self.before[self.rows, first + 1]
            done = np.where(done + hours <= evening + TINY, done, evening)
            first = (self.before[:, 1:] <= (done + TINY)[:, None]).sum(axis=1)
        last = (self.before[:, 1:] < (done + hours - TINY)[:, None]).sum(axis=1)
        if max(first.max(), last.max()) >= self.open.shape[1]:
            return None
        start = first * DAY + self.morning + done - self.before[self.rows, first]
        end = last * DAY + self.morning + done + hours - self.before[self.rows, last]
        none = np.broadcast_to(np.asarray(hours) <= TINY, start.shape)
        return np.where(none, ready, start), np.where(none, ready, end)


def _same(day: int, days: Days) -> int:
    """The same weekday within the days that are known."""
    weeks = len(days.open) // 7
    return day % (weeks * 7)


class Wet:
    """One pass of the calendar for every draw."""

    def __init__(
        self, site: Site, booked: Mapping[str, Booked], wet: Any, drying_days: int
    ) -> None:
        """Lay the wet days onto everybody's days."""
        import numpy as np

        ground = wet.copy()
        for later in range(1, drying_days + 1):
            ground[:, later:] |= wet[:, :-later]
        closed = {"stops": wet, "ground": ground, "goes on": np.zeros_like(wet)}
        tasks = [b.task for b in booked.values()]
        self.open = {
            key: Open(site.days[key[0]], closed[key[1]])
            for key in sorted({(t.days, t.wet) for t in tasks})
        }
        self.booked, self.wet = booked, wet
        self.again: Any = np.zeros(len(wet))  # hours of digging done again

    def passed(self, free: Releases) -> Wet | None:
        """Book every task in the same sequence; None if a draw runs out of days."""
        import numpy as np

        self.start: dict[str, Any] = {}
        self.finish: dict[str, Any] = {}
        last: dict[str, Any] = {}
        for name, b in self.booked.items():
            bounds = [np.full(len(self.wet), free[name][0] if name in free else 0.0)]
            bounds += [self.finish[k.task] + k.wait for k in b.task.after]
            if b.task.who in last:
                bounds.append(last[b.task.who])
            ready = np.maximum.reduce(bounds)
            hours = b.task.hours + (self._soft(ready) if name == BASE else 0.0)
            found = self.open[b.task.days, b.task.wet].advance(ready, hours, b.task.whole)
            if found is None:
                return None
            self.start[name], self.finish[name] = found
            if b.task.who:
                last[b.task.who] = found[1]
        return self

    def _soft(self, ready: Any) -> Any:
        """Digging done again: a share for each wet day from the planned dig to the base."""
        import numpy as np

        dig, base = self.booked.get(DIG), self.booked[BASE]
        if dig is None or dig.task.days != OWN or base.task.days != OWN:
            return 0.0
        first = day_of(dig.start)
        days = np.arange(self.wet.shape[1])
        lying = (days >= first) & (days[None, :] * DAY < ready[:, None])
        wet = (self.wet & lying).sum(axis=1)
        self.again = wet * coefficient("soft ground").likely * dig.task.hours
        return self.again


def _told(
    job: Job, site: Site, options: Options, booked: Mapping[str, Booked],
    machines: Sequence[Had], found: Wet, seed: int,
) -> Rain:  # fmt: skip
    import numpy as np

    ends = np.floor((np.maximum.reduce(list(found.finish.values())) - TINY) / DAY)
    middle, likely = np.percentile(ends, [50, 80], method="higher")
    dig = booked.get(DIG)
    people = dig.task.own_hours / dig.task.hours if dig and dig.task.hours else 0.0
    return Rain(
        draws=len(ends),
        seed=seed,
        middle=int(middle),
        likely=int(likely),
        later=float(ends.mean()) - day_of(finish_of(booked), end=True),
        hours=float(found.again.mean()) * people,
        kept=tuple(_kept(m, options, booked, found) for m in machines if m.way == "rent"),
        billed=_billed(job, booked),
        assumed=_assumed(job),
    )


def _kept(had: Had, options: Options, booked: Mapping[str, Booked], found: Wet) -> Kept:
    """How much longer a machine is out: each spell from its first start to its last end."""
    import numpy as np

    days = 0.0
    tasks = [b for b in booked.values() if b.task.machine == had.equipment]
    for first, last in had.spells:
        inside = [b for b in tasks if first <= day_of(b.start) <= last]
        if not inside:
            continue
        begin = np.minimum.reduce([found.start[b.task.name] for b in inside])
        end = np.maximum.reduce([found.finish[b.task.name] for b in inside])
        out = np.floor((end - TINY) / DAY) - np.floor((begin + TINY) / DAY)
        dry = day_of(max(b.finish for b in inside), end=True) - day_of(min(b.start for b in inside))
        days += float(np.maximum(out - dry, 0.0).mean())
    machine = next(m for m in options.machines[had.equipment] if m.key == had.machine)
    return Kept(had.equipment, days, days * day_rate(machine, had.out / len(had.spells)))


def _billed(job: Job, booked: Mapping[str, Booked]) -> tuple[str, ...]:
    at_work = {b.task.who for b in booked.values()}
    return tuple(sorted(b.bid for b in job.bids if b.rain_on_owner and b.bid in at_work))


def _assumed(job: Job) -> tuple[Assumption, ...]:
    soft = coefficient("soft ground")
    found = [Assumption(soft.what, f"{soft.likely * 100:g} %", soft.cited, "")]
    if job.settings.drying_days is None:
        rule = coefficient("drying after rain")
        found.append(Assumption(rule.what, f"{rule.likely:g} day", rule.cited, "Job"))
    return tuple(found)
