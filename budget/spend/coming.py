"""What comes next: what to order, to pay, to get back and to hand back, and until when."""

from __future__ import annotations

import datetime as dt
from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from budget.decide.outcome import Comparison
from budget.decide.pricing.goods import packs_in_words
from budget.decide.pricing.work import HIRED_HELP
from budget.job import Quote, Spend
from budget.numerals import how_many, percent, short_date
from budget.reference import steps as step_kinds
from budget.spend.finding import folded
from budget.spend.ordering import Ordering, begun, ordering
from budget.spend.other_packs import in_plan_packs
from budget.spend.tallying import amount, in_time
from budget.spend.tracking import Tracked, Tracking
from budget.spend.yardstick import Yardstick
from budget.units import PACK_TOLERANCE, round_half_up

Kind = Literal["order", "book", "expect", "pay", "deposit", "refund", "return", "expires", "waits"]

#: The order of things due on one day, or on none.
_KINDS: tuple[Kind, ...] = (
    "pay", "order", "book", "expires", "expect", "return", "refund", "deposit", "waits",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Coming:
    """One thing to do or to look out for. ``cents`` is what it is about, 0 if not money."""

    kind: Kind
    day: dt.date | None  # None: no date is known
    line: str
    who: str
    cents: int
    note: str

    @property
    def order(self) -> tuple[dt.date, int, str, str]:
        """Dated things first, by day."""
        return (self.day or dt.date.max, _KINDS.index(self.kind), self.line, self.who)


def coming(comparison: Comparison, stick: Yardstick, found: Tracking) -> tuple[Coming, ...]:
    """Everything that is due or open on the day of a tracking, the earliest first."""
    told = in_plan_packs(comparison, stick, in_time(comparison.job.spend))
    entries = [entry for entry in told if entry.date <= found.day]
    by_line: defaultdict[str, list[Spend]] = defaultdict(list)
    for entry in entries:
        by_line[folded(entry.line)].append(entry)
    result: list[Coming] = []
    days = ordering(comparison, stick)
    planned, touched = stick.lines, begun(found.lines)
    for line in found.lines:
        own = by_line.get(folded(line.line), [])
        steps = planned[folded(line.line)].steps if line.in_plan else ()
        by = _order_by(days, line, steps, touched, found.day)
        result += _orders(comparison, line, found.day, by)
        result += _bookings(days, line)
        result += _expected(line, own)
        result += _payments(line, own)
        result += _refunds(comparison, line, own)
        result += _returns(comparison, line, own, found.day)
    result += _deposits(by_line)
    result += _waiting(comparison, found)
    return tuple(sorted(result, key=lambda c: c.order))


def _order_by(
    days: Ordering, line: Tracked, steps: Sequence[str], touched: frozenset[str], day: dt.date
) -> dt.date | None:
    """The day of its seller's one order; of what is left after it, that of the line's own step."""
    order = days.of(line.supplier)
    if order is not None and order.order < day and folded(line.supplier) in touched:
        return days.of_rest(order, steps)
    return order.order if order else None


def _bookings(days: Ordering, line: Tracked) -> list[Coming]:
    """A hired firm to say yes to, as long as it is neither booked nor paid nor at work."""
    order = days.of(line.line) if line.group == HIRED_HELP else None
    tally = line.tally
    if order is None or tally.orders or tally.paid or line.done:
        return []
    note = f"say yes to it: its work starts {short_date(order.needed)}"
    return [Coming("book", order.order, line.line, "", line.to_come, note)]


def _orders(
    comparison: Comparison, line: Tracked, day: dt.date, by: dt.date | None
) -> list[Coming]:
    """Goods of the plan that are still to be ordered, and until when their price holds."""
    if line.per in ("", "day", "hour") or not line.to_buy or line.to_buy <= PACK_TOLERANCE:
        return []
    quote = _quote(comparison.job.quotes, line)
    supplier = next(
        (s for s in comparison.job.suppliers if folded(s.supplier) == folded(line.supplier)), None
    )
    lead = (quote.lead_days if quote else None) or (supplier.lead_days if supplier else None)
    many = packs_in_words(line.to_buy, line.per)
    note = f"{many} still to order" + (f"; comes {how_many(lead, 'day')} later" if lead else "")
    until = quote.valid_until if quote else None
    found = [Coming("order", by, line.line, line.supplier, line.to_come, note)]
    if until is not None:
        past = until < day
        words = "the quoted price ran out; ask again" if past else "last day of the quoted price"
        found.append(Coming("expires", until, line.line, line.supplier, line.to_come, words))
    return found


def _quote(quotes: Sequence[Quote], line: Tracked) -> Quote | None:
    return next(
        (
            q
            for q in quotes
            if folded(line.line) in (folded(q.item), folded(f"{q.item} from {q.supplier}, {q.per}"))
            and (folded(q.supplier), folded(q.per)) == (folded(line.supplier), folded(line.per))
        ),
        None,
    )


def _expected(line: Tracked, own: Iterable[Spend]) -> list[Coming]:
    """Orders whose goods have not come: the earliest orders are taken to come first."""
    finished = (line.done or 0.0) >= 1.0 or line.paid >= line.will_come_to
    by_time = line.group == HIRED_HELP or line.per in ("day", "hour")
    if by_time and finished:
        return []
    struck = sum(-min(0.0, e.quantity or 0.0) for e in own if e.state == "ordered")
    come = line.tally.delivered_quantity + struck
    found = []
    delivered = any(e.state == "delivered" for e in own)
    for entry in sorted(own, key=lambda e: (e.date, e.place.row)):
        if entry.state != "ordered" or (line.group == HIRED_HELP and entry.due is None):
            continue
        many = entry.quantity or 0.0
        if many < 0 or (not many and line.tally.paid_net >= line.tally.owing > 0):
            continue
        if (many and come >= many - PACK_TOLERANCE) or (not many and delivered):
            come -= many
            continue
        if line.tally.paid_quantity >= settled(line) > 0 and not entry.due:
            continue
        words = f"{packs_in_words(many - max(0.0, come), line.per)} to come"
        note = "booked, not yet here" if by_time else words if many else "ordered, not yet here"
        found.append(Coming("expect", entry.due, line.line, entry.supplier, 0, note))
        come = 0.0
    return found


def settled(line: Tracked) -> float:
    """The quantity that was ordered, 0 if none was given."""
    return line.tally.ordered_quantity or 0.0


def _payments(line: Tracked, own: Sequence[Spend]) -> list[Coming]:
    """Ordered, less sent back, less paid; due as the latest delivery or order says."""
    owed = line.tally.owing - line.tally.paid_net
    if owed <= 0 or not line.tally.orders:
        return []
    delivered = [e for e in own if e.state == "delivered"]
    days = [e.due for e in delivered if e.due]
    who = next((e.supplier for e in reversed(own) if e.supplier), line.supplier)
    note = "delivered, not yet paid" if delivered else "ordered, not yet paid"
    return [Coming("pay", min(days, default=None), line.line, who, owed, note)]


def _refunds(comparison: Comparison, line: Tracked, own: Sequence[Spend]) -> list[Coming]:
    """Goods sent back since the last refund for goods, or more than a stated fee explains.

    Without a stated fee, what a seller keeps of a refund is taken to be its restocking fee.
    """
    tally = line.tally
    who = next((e.supplier for e in reversed(own) if e.state == "returned" and e.supplier), "")
    fee = _restocking(comparison, line).get(folded(who or line.supplier))
    cents = min(tally.refund_awaited, line.refund_due)
    note = "sent back, money not yet here (less any restocking fee)"
    if not cents and fee is not None:
        cents = line.refund_due - round_half_up(fee * tally.returned)
        note = f"less came back than its restocking fee of {percent(fee)} explains"
    return [Coming("refund", None, line.line, who, cents, note)] if cents > 0 else []


def _restocking(comparison: Comparison, line: Tracked) -> dict[str, float | None]:
    """The restocking fee that each seller states for a line's goods, by folded name."""
    return {
        folded(q.supplier): q.restocking
        for q in comparison.job.quotes
        if folded(q.item) == folded(line.line)
    }


def _returns(
    comparison: Comparison, line: Tracked, own: Iterable[Spend], day: dt.date
) -> list[Coming]:
    """Goods beyond the need that may still go back."""
    spare = settled_over(line)
    if spare <= PACK_TOLERANCE:
        return []
    days = {folded(s.supplier): s.return_days for s in comparison.job.suppliers}
    fees = _restocking(comparison, line)
    untils: dict[str, dt.date] = {}
    for entry in own:
        if entry.state not in ("paid", "final payment", "delivered"):
            continue
        seller = entry.supplier or line.supplier
        allowed = days.get(folded(seller))
        until = entry.due if entry.state != "delivered" and entry.due else None
        if until is None and allowed is not None:
            until = entry.date + dt.timedelta(days=allowed)
        if until is not None and until >= day:
            untils[seller] = max(until, untils.get(seller, until))
    found = []
    for seller, until in untils.items():
        fee = fees.get(folded(seller))
        note = f"{packs_in_words(spare, line.per)} more than needed; last day to take it back"
        note += f" ({percent(fee)} restocking)" if fee else ""
        found.append(Coming("return", until, line.line, seller, 0, note))
    return found


def settled_over(line: Tracked) -> float:
    """How much more is bought than needed, once anything was measured; 0 otherwise."""
    if line.need is None or line.per in ("", "day", "hour") or line.tally.returned:
        return 0.0
    bought = max(settled(line), line.tally.paid_quantity)
    return max(0.0, bought - line.need)


def _deposits(by_line: Mapping[str, Sequence[Spend]]) -> list[Coming]:
    found = []
    for own in by_line.values():
        held: defaultdict[str, int] = defaultdict(int)
        due: dict[str, dt.date] = {}
        for entry in own:
            if entry.state == "deposit paid":
                held[entry.supplier] += amount(entry)
                if entry.due:
                    due[entry.supplier] = entry.due
            elif entry.state == "deposit back":
                held[entry.supplier] -= amount(entry)
        for supplier, cents in held.items():
            if cents > 0:
                day = due.get(supplier)
                found.append(
                    Coming("deposit", day, own[0].line, supplier, cents, "deposit to get back")
                )
    return found


def _waiting(comparison: Comparison, found: Tracking) -> list[Coming]:
    """The next step that is not done, with what it still waits on."""
    shares = found.step_shares
    present = {a.step for a in comparison.takeoff.steps}
    order = [step for step in step_kinds() if step in present]
    for step in order:
        if shares.get(folded(step), 0.0) >= 1.0:
            continue
        missing = [
            line.line
            for line in found.lines
            if line.need and step in _steps_of(comparison, line.line) and not _here(line)
        ]
        if not missing:
            return []
        words = f"waits on {', '.join(missing)}"
        return [Coming("waits", None, step, "", 0, words)]
    return []


def _steps_of(comparison: Comparison, item: str) -> set[str]:
    return {n.step for n in comparison.takeoff.needs if folded(n.item) == folded(item)}


def _here(line: Tracked) -> bool:
    tally = line.tally
    here = max(tally.delivered_quantity, tally.paid_quantity)
    return line.need is None or here >= line.need - PACK_TOLERANCE
