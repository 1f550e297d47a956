"""How long goods and crews may take to come: a low, a likely and a high number of days."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from budget.decide.plan import Priced
from budget.decide.risk.spread import Spread
from budget.job import Assumption, Job
from budget.prices.forms import rows_by_bid
from budget.prices.options import Offer, Options
from budget.reference import rows
from budget.units import whole_packs

#: Kinds of what comes, as the rows of ``ranges.csv`` name them.
BULK, PACKS, CREW = "bulk", "packs", "crew"


@dataclass(frozen=True, slots=True)
class LeadTime:
    """Days from the order to the day something comes. The three are in order."""

    low: float
    likely: float
    high: float

    @property
    def days(self) -> int:
        """The likely number as whole days, rounded up."""
        return whole_packs(self.likely)

    @property
    def sure(self) -> bool:
        """Whether it is always the same."""
        return self.low == self.high

    def at(self, share: Any) -> Any:
        """Whole days that a share of all cases does not pass, for one share or an array of them.

        One number where it is always the same.

        >>> lead = LeadTime(3, 5, 10)
        >>> lead.at(0.5), lead.at(0.8)
        (6, 7)
        """
        if self.sure:
            return self.days
        import numpy as np

        found = Spread(self.low, self.likely, self.high).at(share)
        return np.floor(found + 0.5).astype(int) if np.shape(share) else math.floor(found + 0.5)


def usual(kind: str, likely: float) -> LeadTime:
    """A lead time whose range the workbook does not give: the documented factors on it.

    >>> usual("crew", 4)
    LeadTime(low=4.0, likely=4, high=8.0)
    """
    row = next(r for r in rows("ranges") if r["use"] == "lead" and r["name"] == kind)
    return LeadTime(float(row["low"]) * likely, likely, float(row["high"]) * likely)


def _given(kind: str, low: float | None, likely: float, high: float | None) -> LeadTime:
    """The workbook's own range; an end that it leaves blank takes the documented factor."""
    least, most = usual(kind, likely).low, usual(kind, likely).high
    return LeadTime(
        min(likely, least if low is None else low), likely,
        max(likely, most if high is None else high),
    )  # fmt: skip


def lead_times(job: Job, priced: Priced, options: Options) -> dict[str, LeadTime]:
    """By seller and bid: a seller's own lead, or that of a quote of the plan if it is longer."""
    bought: dict[str, list[Offer]] = defaultdict(list)
    offers = {o.key: o for o in options.offers}
    for order in priced.orders:
        bought[order.supplier].append(offers[order.offer])
    own = {s.supplier: s for s in job.suppliers}
    found: dict[str, LeadTime] = {}
    for seller in sorted({*options.routes, *own, *bought}):
        kind = BULK if bought[seller] and all(o.bulk for o in bought[seller]) else PACKS
        row = own.get(seller)
        mine = (row.lead_days or 0.0) if row else 0.0
        longest = max((o.lead_days for o in bought[seller]), default=0.0)
        if row is None or longest > mine:
            found[seller] = usual(kind, longest)
        else:
            found[seller] = _given(kind, row.lead_low, mine, row.lead_high)
    for name, bid in rows_by_bid(job).items():
        found[name] = _given(CREW, bid.lead_low, bid.lead_days or 0.0, bid.lead_high)
    for one in options.bids:
        found.setdefault(one.key, LeadTime(0.0, 0.0, 0.0))
    return found


def assumed(job: Job, leads: Mapping[str, LeadTime], waited_for: set[str]) -> list[Assumption]:
    """A line where a range of days is a documented one."""
    given = {s.supplier for s in job.suppliers if s.lead_high is not None}
    given |= {name for name, row in rows_by_bid(job).items() if row.lead_high is not None}
    silent = [w for w in sorted(waited_for) if w not in given and not leads[w].sure]
    if not silent:
        return []
    ranges = [row for row in rows("ranges") if row["use"] == "lead"]
    told = ", ".join(f"{row['name']} {row['low']} to {row['high']} times" for row in ranges)
    standing = ", ".join(dict.fromkeys(row["standing"] for row in ranges))
    return [Assumption("how far lead days may stray", told, standing, "Suppliers")]
