"""What wet days and late goods do: many seeded draws, all worked out at once."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from budget.decide.calendar import leads as lead_rules
from budget.decide.calendar import weather
from budget.decide.calendar.days import DAY, TINY
from budget.decide.calendar.leads import LeadTime
from budget.decide.calendar.machines import longer_costs
from budget.decide.calendar.network import Booked, day_of, finish_of
from budget.decide.calendar.result import Delays, Gone, Had, Kept, Late, OrderBy
from budget.decide.calendar.site import Releases, Site, overnight, waited_for
from budget.decide.calendar.tasks import Work
from budget.decide.calendar.wet_pass import DIG, Held, Wet
from budget.decide.lost import LostDay, lost_day
from budget.decide.risk.draws import stream
from budget.job import Assumption, Job
from budget.numerals import trimmed
from budget.prices.forms import rows_by_bid
from budget.prices.options import Options
from budget.reference import coefficient

#: Days looked at beyond twice the time without delays, doubled until every draw ends within them.
_BEYOND = 90


@dataclass(frozen=True)
class Found:
    """The calendar without delays, and what it rests on."""

    job: Job
    site: Site
    options: Options
    work: Work
    booked: Mapping[str, Booked]
    free: Releases
    machines: Sequence[Had]
    orders: Sequence[OrderBy]
    leads: Mapping[str, LeadTime]

    @cached_property
    def unsure(self) -> tuple[OrderBy, ...]:
        """The sellers and firms that may come late, by name."""
        found = (o for o in self.orders if not self.leads[o.who].sure)
        return tuple(sorted(found, key=lambda o: (o.who, o.hired)))


def delays_of(found: Found, draws: int, seed: int) -> Delays | None:
    """What wet days, late goods and late crews do to the finish, to hired machines and to cash.

    None without a start date, or where nothing can come late. Days are wet in spells by the
    chance of their month; what comes late was ordered by the day that the calendar says.
    """
    chances = weather.monthly(found.job)
    rainy = any(chances.values())
    start = found.site.start
    if start is None or not (rainy or found.unsure):
        return None
    span = 2 * day_of(finish_of(found.booked)) + _BEYOND
    lasting, drying = weather.persistence(found.job), weather.drying(found.job)
    held = _held(found, draws, seed)
    while True:
        wet = weather.wet_days(start, span, chances, lasting, draws, seed)
        done = Wet(found.site, found.booked, wet, drying).passed(found.free, held)
        if done is not None:
            return _told(found, done, seed, rainy)
        span *= 2


def _held(found: Found, draws: int, seed: int) -> dict[str, list[Held]]:
    """By task, the moment from which each unsure seller or firm has come, in every draw."""
    result: dict[str, list[Held]] = {}
    for order in found.unsure:
        share = stream(seed, f"days until {order.who} comes").random(draws)
        comes = order.order + found.leads[order.who].at(share)
        mornings = _open_from(found.site, order.who, comes) + overnight(order.who, found.work)
        for task in found.work.tasks:
            if order.who in waited_for(task, found.work):
                result.setdefault(task.name, []).append(Held(order.who, mornings * DAY))
    return result


def _open_from(site: Site, who: str, days: Any) -> Any:
    """The first open day from each of some days on."""
    import numpy as np

    first, last = int(days.min()), int(days.max())
    opened = np.array([site.open_from(who, day) for day in range(first, last + 1)])
    return opened[days - first]


def _told(found: Found, done: Wet, seed: int, rainy: bool) -> Delays:
    import numpy as np

    job, booked = found.job, found.booked
    ends = np.floor((np.maximum.reduce(list(done.finish.values())) - TINY) / DAY)
    middle, likely = np.percentile(ends, [50, 80], method="higher")
    dig = booked.get(DIG)
    people = dig.task.own_hours / dig.task.hours if dig and dig.task.hours else 0.0
    rented = [m for m in found.machines if m.way == "rent"]
    out = {m.equipment: _days_longer(m, booked, done) for m in rented}
    cost = {m.equipment: _kept_cost(m, found.options, out[m.equipment]) for m in rented}
    day = lost_day(job.settings, found.options)
    return Delays(
        draws=len(ends),
        seed=seed,
        causes=_causes(found, rainy),
        persistence=weather.persistence(job),
        middle=int(middle),
        likely=int(likely),
        later=float(ends.mean()) - day_of(finish_of(booked), end=True),
        hours=float(done.again.mean()) * people,
        kept=tuple(
            Kept(m.equipment, float(out[m.equipment].mean()), float(cost[m.equipment].mean()))
            for m in rented
        ),
        late=tuple(_late(order.who, done, day, found.options) for order in found.unsure),
        gone=tuple(_gone(found, done)),
        billed=_billed(job, booked) if rainy else (),
        cash=_beyond_plan(found, cost, done, day),
        assumed=_assumed(found, rainy),
    )  # fmt: skip


def _causes(found: Found, rainy: bool) -> tuple[str, ...]:
    goods = any(not o.hired for o in found.unsure)
    crews = any(o.hired for o in found.unsure)
    named = ((rainy, "rain"), (goods, "late goods"), (crews, "late crews"))
    return tuple(name for there, name in named if there)


def _days_longer(had: Had, booked: Mapping[str, Booked], done: Wet) -> Any:
    """Days longer that a machine is out: each spell from its first start to its last end."""
    import numpy as np

    days = np.zeros(len(done.wet))
    tasks = [b for b in booked.values() if b.task.machine == had.equipment]
    for first, last in had.spells:
        inside = [b for b in tasks if first <= day_of(b.start) <= last]
        if not inside:
            continue
        begin = np.minimum.reduce([done.start[b.task.name] for b in inside])
        end = np.maximum.reduce([done.finish[b.task.name] for b in inside])
        out = np.floor((end - TINY) / DAY) - np.floor((begin + TINY) / DAY)
        dry = day_of(max(b.finish for b in inside), end=True) - day_of(min(b.start for b in inside))
        days += np.maximum(out - dry, 0.0)
    return days


def _kept_cost(had: Had, options: Options, longer: Any) -> Any:
    """What those days cost in each draw, tax included [cents]."""
    import numpy as np

    machine = next(m for m in options.machines[had.equipment] if m.key == had.machine)
    costs = longer_costs(machine, had.out / len(had.spells), int(longer.max()))
    return np.array(costs)[longer.astype(int)]


def _late(who: str, done: Wet, day: LostDay, options: Options) -> Late:
    """How often one seller or firm holds up work, by how much, and what the lost days cost."""
    import numpy as np

    hours = done.held.get(who, np.zeros(len(done.wet)))
    hour_value, per_day = options.hour_value.value, options.hours_per_day.value
    chance = float((hours > TINY).mean())
    return Late(who, chance, float(hours.mean()) / per_day, chance * day.cost(hour_value))


def _gone(found: Found, done: Wet) -> Iterator[Gone]:
    """Machines with a last day, by how often the work goes on past it."""
    import numpy as np

    for had in found.machines:
        ways = found.options.machines[had.equipment]
        last = next((m.there_to for m in ways if m.key == had.machine), None)
        if last is None or found.site.start is None:
            continue
        day = (last - found.site.start).days
        ends = [done.finish[n] for n, b in found.booked.items() if b.task.machine == had.equipment]
        late = np.floor((np.maximum.reduce(ends) - TINY) / DAY) > day
        yield Gone(had.equipment, day, float(late.mean()))


def _beyond_plan(
    found: Found, kept: Mapping[str, Any], done: Wet, day: LostDay
) -> tuple[float, ...]:
    """Cash beyond the plan's at 0, 1, ... 100 per cent of all cases [cents].

    Hire days that the calendar needs beyond those priced, days that delays add, and what is paid
    on days lost to late goods.
    """
    import numpy as np

    certain = float(sum(max(0, m.cash - m.planned) for m in found.machines))
    cash = np.full(len(done.wet), certain)
    for cost in kept.values():
        cash += cost
    for hours in done.held.values():
        cash += (hours > TINY) * day.cash
    return tuple(float(c) for c in np.percentile(cash, range(101), method="higher"))


def _billed(job: Job, booked: Mapping[str, Booked]) -> tuple[str, ...]:
    at_work = {b.task.who for b in booked.values()}
    billed = (name for name, row in rows_by_bid(job).items() if row.rain_on_owner)
    return tuple(sorted(name for name in billed if name in at_work))


def _assumed(found: Found, rainy: bool) -> tuple[Assumption, ...]:
    soft = coefficient("soft ground")
    said = lead_rules.assumed(found.job, found.leads, {o.who for o in found.unsure})
    if rainy:
        said.append(Assumption(soft.what, f"{trimmed(soft.likely * 100)} %", soft.cited, ""))
        said += weather.assumed(found.job)
    return tuple(said)
