"""Adding up the entries of one line, and noticing what cannot be counted."""

from __future__ import annotations

import datetime as dt
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import replace

from budget.job import Job, Notice, Spend
from budget.spend.finding import folded
from budget.spend.refunding import Back, money_back
from budget.spend.tracking import Tally
from budget.units import DISTANCE, round_half_up, stored

#: What each state does with an entry's amount.
_SUMS = {
    "ordered": "ordered",
    "paid": "paid",
    "final payment": "paid",
    "driven": "paid",
    "returned": "returned",
    "refunded": "refunded",
    "change agreed": "changes",
}

#: States whose entry says nothing without an amount.
NEEDS_AMOUNT = frozenset((*_SUMS, "deposit paid", "deposit back"))


def amount(entry: Spend) -> int:
    """The entry's amount with its tax, in cents; a blank tax adds nothing."""
    return round_half_up(entry.amount or 0) + round_half_up(entry.tax or 0)


def in_time(entries: Iterable[Spend]) -> list[Spend]:
    """Entries by date, those of one day by state, line and row; a final payment ends its day."""

    def key(e: Spend) -> tuple[dt.date, bool, str, str, bool, int]:
        last = e.state == "final payment"
        return (e.date, last, e.state, e.line, e.place.sheet != "Spend", e.place.row)

    return sorted(entries, key=key)


class Running:
    """The entries of one line, added up one after another in the order of time."""

    __slots__ = (
        "back", "changes", "delivered_quantity", "finals", "forgiven", "hours", "last", "open",
        "ordered", "orders", "paid", "paid_quantity", "quantity", "refunded", "returned",
        "unforeseen", "unknown",
    )  # fmt: skip

    def __init__(self) -> None:
        """Nothing yet."""
        self.ordered = self.returned = self.paid = self.refunded = 0
        self.changes = self.unforeseen = self.open = self.orders = 0
        self.quantity = self.paid_quantity = self.delivered_quantity = self.hours = 0.0
        self.unknown = False
        self.last: Spend | None = None
        self.finals, self.forgiven = 0, 0
        self.back: list[Back] = []

    def add(self, entry: Spend) -> None:
        """Count one entry. An order without a quantity, or of none, settles its whole line.

        Below zero, an order takes back as much of the orders before it, and a final payment
        itself. What is ordered, agreed or sent back after a final payment counts from there.
        """
        cents = amount(entry)
        many = max(0.0, entry.quantity or 0.0)
        state = entry.state
        if state == "ordered":
            self.ordered += cents
            self.orders += 1
            self.quantity += entry.quantity or 0.0
            self.unknown |= not entry.quantity
            self.open = 0
        elif state in ("paid", "final payment", "driven"):
            self.paid += cents
            self.paid_quantity += many if state != "driven" else 0.0
            if state == "final payment":
                self._settle(1 if cents >= 0 else -1)
        elif state == "delivered":
            self.delivered_quantity += many
        elif state == "returned":
            self.returned += cents
            self.back.append(Back(entry.date, True, cents))
        elif state == "refunded":
            self.refunded += cents
            self.back.append(Back(entry.date, False, cents))
        elif state == "change agreed":
            self.changes += cents
            self.open += cents
            self.unforeseen += cents if entry.reason == "unforeseen" else 0
        self.hours += entry.own_hours or 0.0
        self.last = entry

    def _settle(self, more: int) -> None:
        owing = self.ordered - self.returned
        self.finals, self.open = self.finals + more, 0
        self.forgiven = self.paid - self._refunds() - owing if self.finals > 0 else 0

    def _refunds(self) -> int:
        """The refunds that count: no more than was paid."""
        return min(self.refunded, max(0, self.paid))

    def tally(self) -> Tally:
        """The sums so far."""
        back, refunds = money_back(self.back), self._refunds()
        return Tally(
            ordered=self.ordered, returned=self.returned, paid=self.paid, refunded=refunds,
            refunded_for_nothing=min(back.for_nothing, refunds), refund_awaited=back.awaited,
            refund_above_paid=self.refunded - refunds,
            changes=self.changes, unforeseen=self.unforeseen, open_changes=self.open,
            orders=self.orders, ordered_quantity=None if self.unknown else self.quantity,
            paid_quantity=self.paid_quantity, delivered_quantity=self.delivered_quantity,
            own_hours=self.hours, final=self.finals > 0, forgiven=self.forgiven,
        )  # fmt: skip


def with_mileage(job: Job, entries: Sequence[Spend]) -> list[Spend]:
    """Entries with the cost of what was driven: distance times the vehicle's cost of it.

    The vehicle is the one named in *What*; where it names none, the only one (or the cheapest)
    whose cost is known. An amount that was entered stands.
    """
    costs = {
        folded(v.vehicle): v.cost_per_distance
        for v in job.vehicles
        if v.cost_per_distance is not None
    }
    if not costs:
        return list(entries)
    usual = min(costs.values())

    def priced(entry: Spend) -> Spend:
        if entry.state != "driven" or entry.amount is not None or not entry.quantity:
            return entry
        metres = stored(entry.quantity, DISTANCE, job.settings.units)
        cost = costs.get(folded(entry.what), usual)
        return replace(entry, amount=float(round_half_up(metres * cost)))

    return [priced(entry) for entry in entries]


def blank_amounts(entries: Iterable[Spend]) -> list[Notice]:
    """A warning for each entry whose state needs an amount and has none."""
    return [
        notice(
            entry,
            "amount",
            "spend-no-amount",
            "",
            f"an amount for “{entry.state}”",
            "The entry is not counted until it has one.",
        )
        for entry in entries
        if entry.amount is None and entry.state in NEEDS_AMOUNT and entry.own_hours is None
    ]


def twice_entered(entries: Sequence[Spend]) -> list[Notice]:
    """A warning for each entry that repeats the receipt, state and amount of another.

    Not where it was taken back since, by the same entry with a minus.
    """
    seen: dict[_Receipt, Spend] = {}
    taken_back = Counter(_receipt(entry, -amount(entry)) for entry in entries if amount(entry) < 0)
    found = []
    for entry in entries:
        if not entry.receipt.strip() or entry.amount is None:
            continue
        key = _receipt(entry, amount(entry))
        first = seen.setdefault(key, entry)
        if first is entry:
            continue
        if taken_back[key] > 0:
            taken_back[key] -= 1
            continue
        found.append(
            notice(
                entry,
                "receipt",
                "spend-twice",
                f"receipt “{entry.receipt}” again",
                f"each receipt once; the other is in row {first.place.row} of {first.place.sheet}",
                "Both are counted. If it is the same, delete it from the sheet, or record it "
                "once more with a minus.",
            )
        )
    return found


_Receipt = tuple[str, str, str, int]


def _receipt(entry: Spend, cents: int) -> _Receipt:
    return (entry.receipt.strip(), entry.state, entry.line, cents)


def notice(
    entry: Spend, field: str, code: str, found: str, expected: str, mend: str
) -> Notice:  # fmt: skip
    """A warning about one field of one entry."""
    place = entry.place
    return Notice(place.sheet, place.row, entry.cell(field), code, found, expected, mend, "warning")
