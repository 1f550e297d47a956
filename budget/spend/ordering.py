"""Until when to order, by the calendar of the accepted plan.

The days are those that the calendar had when the plan was accepted: from each seller the day of
its one order, and of each firm the day to say yes. Where an accepted plan keeps no such days, or
none is accepted, the calendar of the plan tells them as the workbook is now. Where that order
was made, and its day is past, goods that were left out of it have until their own step.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace

from budget.decide.calendar.site import SHOP_DAYS, weekday_numbers
from budget.decide.outcome import Comparison
from budget.job import Job
from budget.spend.baseline import PlannedOrder, plan_calendar, planned_days, planned_orders
from budget.spend.finding import folded
from budget.spend.tracking import Tracked
from budget.spend.yardstick import Yardstick


@dataclass(frozen=True, slots=True)
class Ordering:
    """The calendar's days of ordering, by folded seller or firm, and the first day of steps."""

    orders: Mapping[str, PlannedOrder] = field(default_factory=dict)
    steps: Mapping[str, dt.date] = field(default_factory=dict)
    open_days: Mapping[str, frozenset[int]] = field(default_factory=dict)

    def of(self, who: str) -> PlannedOrder | None:
        """When to order from a seller, or to say yes to a firm; None: it has no date."""
        return self.orders.get(folded(who))

    def of_rest(self, order: PlannedOrder, steps: Iterable[str]) -> dt.date:
        """Until when to order what is left of a seller's goods, for some steps.

        It should come on the open day before the first of them, so many days after the order.
        """
        days = [self.steps[s] for s in map(folded, steps) if s in self.steps]
        if not days:
            return order.order
        arrives = self._open_by(order.who, min(days) - dt.timedelta(days=1))
        by = self._open_by(order.who, arrives - dt.timedelta(days=order.ahead))
        return max(by, order.order)

    def _open_by(self, who: str, day: dt.date) -> dt.date:
        weekdays = self.open_days.get(folded(who), SHOP_DAYS)
        while day.weekday() not in weekdays:
            day -= dt.timedelta(days=1)
        return day


def ordering(comparison: Comparison, stick: Yardstick) -> Ordering:
    """The days of ordering of a yardstick; none without a start date."""
    latest, job = stick.latest, comparison.job
    if latest is not None and latest.orders:
        orders, days = latest.orders, latest.days
    elif stick.now is not None:
        then = job if latest is None else _as_of(job, latest.accepted)
        calendar = plan_calendar(replace(comparison, job=then), stick.now)
        orders, days = planned_orders(calendar), planned_days(calendar)
    else:
        return Ordering()
    return Ordering(
        {folded(order.who): order for order in orders},
        {folded(step.step): step.days[0] for step in days},
        {
            folded(row.supplier): weekday_numbers(row.open_days) or SHOP_DAYS
            for row in job.suppliers
        },
    )


def _as_of(job: Job, day: dt.date) -> Job:
    """The job as it was seen on an earlier day: goods could still come in time."""
    settings = job.settings
    return replace(job, settings=replace(settings, as_of=min(day, settings.as_of)))


def begun(lines: Iterable[Tracked]) -> frozenset[str]:
    """The sellers (folded) from whom something was ordered or bought, by the plan's lines."""
    return frozenset(
        folded(line.supplier) for line in lines if line.tally.orders or line.tally.paid
    )
