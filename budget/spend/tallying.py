"""Adding up the entries of one line, and noticing what cannot be counted."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from budget.job import Notice, Spend
from budget.spend.tracking import Tally
from budget.units import round_half_up

#: What each state does with an entry's amount.
_SUMS = {
    "ordered": "ordered",
    "paid": "paid",
    "returned": "returned",
    "refunded": "refunded",
    "change agreed": "changes",
}

#: States whose entry says nothing without an amount.
_NEEDS_AMOUNT = frozenset((*_SUMS, "deposit paid", "deposit back"))


def amount(entry: Spend) -> int:
    """The entry's amount with its tax, in cents; a blank tax adds nothing."""
    return round_half_up(entry.amount or 0) + round_half_up(entry.tax or 0)


def in_time(entries: Iterable[Spend]) -> list[Spend]:
    """Entries by date; those of one day by state, line and row, whatever their order."""
    return sorted(entries, key=lambda e: (e.date, e.state, e.line, e.place.row))


def tally(entries: Sequence[Spend]) -> Tally:
    """The entries of one line added up.

    A quantity that is blank or not above zero counts as blank.
    """
    sums = {f"{name}": 0 for name in _SUMS.values()}
    for entry in entries:
        if entry.state in _SUMS:
            sums[_SUMS[entry.state]] += amount(entry)
    orders = [e for e in entries if e.state == "ordered"]
    last_order = max((e.date for e in orders), default=None)
    changes = [e for e in entries if e.state == "change agreed"]
    still_open = [e for e in changes if last_order is None or e.date > last_order]
    return Tally(
        **sums,
        open_changes=sum(amount(e) for e in still_open),
        orders=len(orders),
        ordered_quantity=_all_quantities(orders),
        paid_quantity=sum(max(0.0, e.quantity or 0.0) for e in entries if e.state == "paid"),
        own_hours=sum(e.own_hours or 0.0 for e in entries),
    )


def _all_quantities(orders: Sequence[Spend]) -> float | None:
    if any(not e.quantity or e.quantity <= 0 for e in orders):
        return None
    return sum(e.quantity or 0.0 for e in orders)


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
        if entry.amount is None and entry.state in _NEEDS_AMOUNT and entry.own_hours is None
    ]


def twice_entered(entries: Iterable[Spend]) -> list[Notice]:
    """A warning for each entry that repeats the receipt, state and amount of another."""
    seen: dict[tuple[str, str, str, int], Spend] = {}
    found = []
    for entry in in_time(entries):
        if not entry.receipt.strip() or entry.amount is None:
            continue
        key = (entry.receipt.strip(), entry.state, entry.line, amount(entry))
        first = seen.setdefault(key, entry)
        if first is not entry:
            found.append(
                notice(
                    entry,
                    "receipt",
                    "spend-twice",
                    f"receipt “{entry.receipt}” again",
                    f"each receipt once; the other is in row {first.place.row}",
                    "Both are counted; delete one if it is the same.",
                )
            )
    return found


def notice(
    entry: Spend, field: str, code: str, found: str, expected: str, mend: str
) -> Notice:  # fmt: skip
    """A warning about one field of one entry."""
    place = entry.place
    return Notice(place.sheet, place.row, entry.cell(field), code, found, expected, mend, "warning")
