"""The story by week: what was paid, what the job would come to, how much room was left."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Sequence
from itertools import groupby

from budget.job import Spend
from budget.spend.forecast import Book, Forecast, add
from budget.spend.tallying import amount
from budget.spend.tracking import Tracked, Week
from budget.spend.yardstick import Yardstick

_OUT = frozenset(("paid", "final payment", "driven", "deposit paid"))
_IN = frozenset(("refunded", "deposit back"))


def sunday(day: dt.date) -> dt.date:
    """The last day of the week that a day is in.

    >>> sunday(dt.date(2026, 5, 2)), sunday(dt.date(2026, 5, 3))
    (datetime.date(2026, 5, 3), datetime.date(2026, 5, 3))
    """
    return day + dt.timedelta(days=6 - day.weekday())


def weeks(
    forecast: Forecast,
    stick: Yardstick,
    entries: Sequence[Spend],
    limit: int | None,
    today: dt.date,
) -> tuple[Week, ...]:
    """One row for each week from the first entry to today; ``entries`` in the order of time.

    Past weeks are forecast with the entries and the progress known then, at present quotes.
    """
    if not entries:
        return ()
    by_week = {end: list(group) for end, group in groupby(entries, lambda e: sunday(e.date))}
    running: Book = {}
    found = []
    end = sunday(entries[0].date)
    while end <= sunday(today):
        new = by_week.get(end, [])
        for entry in new:
            add(running, stick, entry)
        lines = forecast.lines(running, min(end, today))
        will = sum(t.will_come_to for t in lines)
        found.append(
            Week(
                end=end,
                paid=sum(t.paid for t in lines),
                will_come_to=will,
                contingency_left=None if limit is None else limit - will,
                work_done=work_done(lines),
                cash_out=_sum(new, _OUT),
                cash_in=_sum(new, _IN),
                own_hours=sum(entry.own_hours or 0.0 for entry in new),
            )
        )
        end += dt.timedelta(days=7)
    return tuple(found)


def _sum(entries: Iterable[Spend], states: frozenset[str]) -> int:
    return sum(amount(entry) for entry in entries if entry.state in states)


def work_done(lines: Iterable[Tracked]) -> float | None:
    """The share of the work that is done, by planned own hours (by money where all is hired).

    Steps of which nobody has said how far they are count as not begun. None where nobody has
    said anything.
    """
    told = [t for t in lines if t.in_plan]
    if all(t.done is None for t in told):
        return None
    by_hours = [(t.planned_hours, t.done or 0.0) for t in told if t.planned_hours]
    by_money = [(float(t.planned), t.done) for t in told if t.done is not None]
    for pairs in (by_hours, by_money):
        total = sum(weight for weight, _ in pairs)
        if total > 0:
            return sum(weight * share for weight, share in pairs) / total
    return None
