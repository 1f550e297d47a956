"""What is to be paid in which week."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence

from budget.decide.calendar.network import Booked, day_of, finish_of
from budget.decide.calendar.result import Had, OrderBy, Week
from budget.decide.calendar.site import Site
from budget.decide.plan import Line, Priced
from budget.decide.terms.situation import SPOIL
from budget.job import Bid, Job
from budget.prices.forms import rows_by_bid
from budget.units import round_half_up

#: Said beside the table.
RULE = (
    "Goods are taken to be paid when they come, rent when the machine goes back, firms as their "
    "bids say on Bids and the rest when they are done, helpers at the end of the work, everything "
    "else when the work starts. Goods that go back bring their money at the end. Deposits "
    "that come back are not in it."
)
#: What the parts of a bid's price are paid for, in the order of :func:`stages`.
_WHEN = ("on your yes", "at the start", "when done")


def stages(bid: Bid | None, cash: int) -> tuple[int, int, int]:
    """A bid's price in cents: on the yes, at the start, when done. They add up to it.

    >>> from budget.job import Place
    >>> deposit = Bid(place=Place("Bids", 2), bid="Crew", paid_yes=0.25, paid_start=0.25)
    >>> stages(deposit, 100001), stages(None, 100001)
    ((25000, 25000, 50001), (0, 0, 100001))
    """
    shares = (bid.paid_yes or 0.0, bid.paid_start or 0.0) if bid else (0.0, 0.0)
    first, second = (round_half_up(cash * share) for share in shares)
    return first, second, cash - first - second


def weeks(
    job: Job, site: Site, priced: Priced, booked: Mapping[str, Booked],
    orders: Sequence[OrderBy], machines: Sequence[Had],
) -> tuple[Week, ...]:  # fmt: skip
    """Every line of a plan in the week in which it is paid; they add up to the plan's cash.

    Weeks begin on Monday; without dates on the first, the eighth day and so on.
    """
    comes = {o.who: o.arrives for o in orders if not o.hired}
    back = {m.equipment: m.spells[-1][1] if m.way == "rent" else m.spells[0][0] for m in machines}
    done: dict[str, int] = defaultdict(int)
    for b in booked.values():
        for name in (b.task.who, b.task.step):
            done[name] = max(done[name], day_of(b.finish, end=True))
    end = day_of(finish_of(booked), end=True)
    shift = site.start.weekday() if site.start else 0
    found: dict[int, dict[str, int]] = defaultdict(lambda: defaultdict(int))
    bids = rows_by_bid(job)
    calls = {o.who: (o.order, o.needed) for o in orders if o.hired}
    whole: dict[int, list[int]] = defaultdict(list)
    for number, line in enumerate(priced.lines):
        parts = _parts(line, bids, calls, _paid(line, comes, back, done, end))
        for name, cents, day in parts:
            if cents:
                first = (day + shift) // 7 * 7 - shift
                found[first][name] += cents
                whole[first] += [number] * (len(parts) == 1)
    return tuple(
        Week(first, sum(lines.values()), tuple(lines.items()), tuple(whole[first]))
        for first, lines in sorted(found.items())
    )


def _parts(
    line: Line, bids: Mapping[str, Bid], calls: Mapping[str, tuple[int, int]], last: int
) -> list[tuple[str, int, int]]:
    """The payments of one line: name, cents and day; a firm's by the stages of its bid."""
    paid = stages(bids.get(line.name) if line.name in calls else None, line.cash)
    if not (paid[0] or paid[1]):
        return [(line.name, line.cash, last)]
    days = (*calls[line.name], last)
    return [
        (f"{line.name} ({when})", cents, day)
        for when, cents, day in zip(_WHEN, paid, days, strict=True)
    ]


def _paid(
    line: Line, comes: Mapping[str, int], back: Mapping[str, int], done: Mapping[str, int], end: int
) -> int:
    kind, _, subject = line.choice.partition(":")
    if line.choice == "disposal":
        return done.get(SPOIL, 0)
    if kind == "machine":
        return back.get(subject, 0)
    if kind == "step":
        return done.get(line.name, 0)
    if line.group == "Helpers" or line.cash < 0:
        return end
    return comes.get(line.supplier or subject, 0)  # a hire that sellers share has no supplier
