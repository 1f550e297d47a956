"""What to order by when: backwards from the first use, by lead days and open days.

Lead days may run over. What is ordered by the day shown here comes in time in as many cases as
the user wants to be sure of.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass

from budget.decide.calendar.leads import LeadTime
from budget.decide.calendar.network import Booked, day_of
from budget.decide.calendar.result import OrderBy
from budget.decide.calendar.site import Site
from budget.decide.calendar.tasks import CREW, Work
from budget.decide.plan import Priced
from budget.job import Job
from budget.prices.forms import rows_by_bid
from budget.prices.options import Options


@dataclass(frozen=True, slots=True)
class Times:
    """What the days of ordering follow from."""

    job: Job
    site: Site
    leads: Mapping[str, LeadTime]  # by seller and by bid
    booked: Mapping[str, Booked]

    @property
    def today(self) -> int:
        """The as-of date as a day; without dates nothing is past."""
        start = self.site.start
        return -(10**6) if start is None else (self.job.settings.as_of - start).days


def orders(times: Times, work: Work, priced: Priced, options: Options) -> tuple[OrderBy, ...]:
    """Until when to order from each seller and to say yes to each firm, earliest first."""
    cells = {o.key: o.cell for o in options.offers}
    until = {q.cell("price"): q.valid_until for q in times.job.quotes}
    found = []
    for supplier in work.uses:
        mine = [o for o in priced.orders if o.supplier == supplier]
        mine.sort(key=lambda o: (o.item, o.line))
        ends = {o.line: until.get(cells[o.offer]) for o in mine}
        found.append(_goods(times, work, supplier, ends))
    for firm in sorted({t.who for t in work.tasks if t.days == CREW and t.who}):
        found.append(_firm(times, firm))
    return tuple(sorted(found, key=lambda o: (o.order, o.who)))


def _goods(times: Times, work: Work, supplier: str, ends: Mapping[str, dt.date | None]) -> OrderBy:
    fetched = supplier in work.fetched
    users = [
        b for b in times.booked.values()
        if supplier in b.task.goods or (fetched and b.task.days == supplier)
    ]  # fmt: skip
    needed = min((day_of(b.start) for b in users), default=0)
    arrives = needed if fetched else times.site.open_by(supplier, needed - 1)
    return _by(times, supplier, arrives, needed, tuple(ends), ends, fetched=fetched)


def _firm(times: Times, firm: str) -> OrderBy:
    mine = [b for b in times.booked.values() if b.task.who == firm]
    needed = min(day_of(b.start) for b in mine)
    row = rows_by_bid(times.job).get(firm)
    until = None if row is None else row.valid_until
    what = tuple(dict.fromkeys(b.task.step for b in mine))
    return _by(times, firm, needed, needed, what, {firm: until}, hired=True)


def _by(
    times: Times, who: str, arrives: int, needed: int, what: tuple[str, ...],
    ends: Mapping[str, dt.date | None], *, fetched: bool = False, hired: bool = False,
) -> OrderBy:  # fmt: skip
    ahead = times.leads[who].at(times.job.settings.confidence)
    order = times.site.open_by(who, arrives - ahead)
    start = times.site.start
    early = []
    if start is not None:
        last = {name: (day - start).days for name, day in ends.items() if day is not None}
        early = sorted(name for name, day in last.items() if times.today <= day < order)
        order = min([order, *(last[name] for name in early)])
    late = order < times.today
    return OrderBy(who, what, max(order, times.today), needed, arrives, fetched, hired,
                   tuple(early), late, times.leads[who].days, ahead)  # fmt: skip
