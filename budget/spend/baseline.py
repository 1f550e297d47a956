"""The accepted plan: what was decided, when and why, to hold the spending against.

A baseline is written once. Accepting another keeps those before it, so that what was agreed
since, by choice or because of something unforeseen, is told apart from what merely overran.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from budget.decide.calendar.result import Calendar
from budget.decide.calendar.schedule import schedule
from budget.decide.outcome import Comparison
from budget.decide.plan import Priced, Scenario
from budget.job import ChangeReason, Job
from budget.prices.options import Options
from budget.quantities.takeoff import Takeoff
from budget.units import System, round_half_up, shown

#: What ``per`` is for lines that are paid by time.
DAY, HOUR = "day", "hour"
#: Hours and amounts of an accepted plan are kept to so many decimals: a workbook keeps sixteen
#: digits of a number, so that they are read back exactly.
DIGITS = 9


@dataclass(frozen=True, slots=True)
class PlannedLine:
    """One line of an accepted plan. ``cash`` in cents with tax, hours of own work."""

    part: str
    group: str
    line: str
    cash: int
    own_hours: float
    supplier: str = ""
    quantity: str = ""  # in words
    packs: float | None = None  # goods: packs; rent: days; help by the hour: hours
    per: str = ""
    choice: str = ""


@dataclass(frozen=True, slots=True)
class PlannedStep:
    """How much of a step an accepted plan has, in the unit people read."""

    step: str
    part: str
    amount: float
    unit: str


@dataclass(frozen=True, slots=True)
class PlannedDays:
    """On which days an accepted plan has a step done, earliest first."""

    step: str
    days: tuple[dt.date, ...]


@dataclass(frozen=True, slots=True)
class PlannedOrder:
    """Until when an accepted plan has one seller's goods ordered, or one firm said yes to."""

    who: str
    order: dt.date
    needed: dt.date  # the day on which its goods are first used, or its work starts
    ahead: int  # days reckoned with from the order
    hired: bool  # a firm


@dataclass(frozen=True, slots=True)
class Baseline:
    """One accepted plan."""

    number: int
    accepted: dt.date
    reason: str
    because: ChangeReason  # why it differs from the one before
    scenario: str
    currency: str
    hour_value: float  # cents an hour
    limit: int | None  # spending limit in cents
    start: dt.date | None
    finish: dt.date | None
    lines: tuple[PlannedLine, ...]
    steps: tuple[PlannedStep, ...]
    choices: Mapping[str, str]
    unpriced: tuple[str, ...] = ()
    days: tuple[PlannedDays, ...] = ()  # by the calendar of the plan; none: no start date is set
    orders: tuple[PlannedOrder, ...] = ()
    comes_back: int = 0  # cents, for unopened packs: paid with the lines first

    @property
    def cash(self) -> int:
        """The sum of the lines in cents."""
        return sum(line.cash for line in self.lines)

    @property
    def own_hours(self) -> float:
        """The sum of the lines' own hours."""
        return sum(line.own_hours for line in self.lines)


@dataclass(frozen=True, slots=True)
class Accepting:
    """What a person says when a plan is accepted."""

    day: dt.date
    reason: str = ""
    because: ChangeReason = "chosen"
    finish: dt.date | None = None  # None: as the calendar of the plan has it


def acceptance_day(job: Job, earlier: Sequence[Baseline]) -> dt.date:
    """The day of accepting a plan, where nobody says it.

    The first is accepted on the job's as-of date. A later one holds what was agreed until now, so
    that it is accepted on the last day that ``job``, with the journal's entries, tells of.
    """
    if not earlier:
        return job.settings.as_of
    told = [*(entry.date for entry in job.spend), *(row.date for row in job.progress)]
    return max(job.settings.as_of, earlier[-1].accepted, *told)


def baseline_of(
    comparison: Comparison, scenario: Scenario, said: Accepting, number: int = 1
) -> Baseline:
    """The baseline of a scenario that can be built.

    Raises :class:`ValueError` if it has no plan.
    """
    if scenario.priced is None:
        msg = f"{scenario.title} has no plan"
        raise ValueError(msg)
    settings = comparison.job.settings
    limit = settings.spending_limit
    calendar = plan_calendar(comparison, scenario.priced)
    days = planned_days(calendar)
    last = max((step.days[-1] for step in days), default=None)
    return Baseline(
        number=number,
        accepted=said.day,
        reason=said.reason,
        because=said.because,
        scenario=scenario.title,
        currency=settings.currency,
        hour_value=comparison.options.hour_value.value,
        limit=None if limit is None else round_half_up(limit),
        start=settings.start,
        finish=said.finish or last,
        lines=planned_lines(scenario, comparison.options),
        steps=planned_steps(comparison.takeoff, scenario, settings.units),
        choices=scenario.priced.plan.choices(),
        unpriced=tuple(m.what for m in scenario.priced.missing),
        days=days,
        orders=planned_orders(calendar),
        comes_back=scenario.priced.comes_back,
    )


def plan_calendar(comparison: Comparison, priced: Priced) -> Calendar | None:
    """The calendar of a plan, without rain, for nobody plans for it; None without a start date."""
    job = comparison.job
    if job.settings.start is None:
        return None
    dry = replace(job, weather=())
    return schedule(dry, comparison.takeoff, comparison.options, priced, draws=1)


def planned_days(calendar: Calendar | None) -> tuple[PlannedDays, ...]:
    """The days of each step by a calendar, the step that begins first ahead."""
    if calendar is None or calendar.start is None:
        return ()
    worked: dict[str, set[int]] = {}
    for entry in calendar.entries:
        if not entry.step:  # an errand, or looking after a firm
            continue
        worked.setdefault(entry.step, set()).update(entry.worked)
    start = calendar.start
    found = [
        PlannedDays(step, tuple(start + dt.timedelta(days=day) for day in sorted(days)))
        for step, days in worked.items()
    ]
    return tuple(sorted(found, key=lambda step: (step.days, step.step)))


def planned_orders(calendar: Calendar | None) -> tuple[PlannedOrder, ...]:
    """The days of ordering by a calendar, the earliest first."""
    if calendar is None or calendar.start is None:
        return ()
    start = calendar.start
    return tuple(
        PlannedOrder(
            o.who, start + dt.timedelta(days=o.order), start + dt.timedelta(days=o.needed),
            o.lead_sure, o.hired,
        )
        for o in calendar.orders
    )  # fmt: skip


def planned_lines(scenario: Scenario, options: Options) -> tuple[PlannedLine, ...]:
    """The lines of a scenario's plan: goods with their packs, rent with its days, help with hours.

    Only help billed by the hour has hours.
    """
    if scenario.priced is None:
        return ()
    orders = {o.line: (o.packs, o.per) for o in scenario.priced.orders}
    rented = {
        f"machine:{h.equipment}": h.days
        for h in scenario.priced.hires
        for machine in options.machines.get(h.equipment, ())
        if machine.key == h.machine and machine.way == "rent"
    }
    hourly = {b.key: b.hours.value for b in options.bids if b.basis == "hourly" and b.hours}
    found = []
    for line in scenario.priced.lines:
        if line.cash < 0:
            continue  # goods that go back are spent first: their entry tells when they are back
        packs, per = orders.get(line.name, (None, ""))
        if line.choice in rented:
            packs, per = rented[line.choice], DAY
        elif line.name in hourly and line.choice.startswith("step:"):
            packs, per = hourly[line.name], HOUR
        found.append(
            PlannedLine(
                line.part, line.group, line.name, line.cash, round(line.own_hours, DIGITS),
                line.supplier, line.quantity, None if packs is None else round(packs, DIGITS),
                per, line.choice,
            )
        )  # fmt: skip
    return tuple(found)


def planned_steps(takeoff: Takeoff, scenario: Scenario, system: System) -> tuple[PlannedStep, ...]:
    """How much of each step the scenario's plan has in each part."""
    if scenario.priced is None:
        return ()
    plan = scenario.priced.plan
    sums: dict[tuple[str, str, str], float] = {}
    for amount in takeoff.steps:
        if amount.bedding not in ("", plan.bedding):
            continue
        if amount.optional and amount.optional not in plan.parts:
            continue
        kind = amount.amount.kind
        key = (amount.step, amount.part, kind.unit(system).label)
        sums[key] = sums.get(key, 0.0) + shown(amount.amount.value, kind, system)
    return tuple(
        PlannedStep(s, p, round(value, DIGITS), label) for (s, p, label), value in sums.items()
    )
