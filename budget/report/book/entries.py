"""The Entries sheet: what was ordered, paid and done, entry by entry, as the sums count it.

The Spending sheet adds these rows up. They are copies: new entries go into the quotes workbook or
through ``budget record``.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from budget.job import Spend
from budget.report.book.cells import Cell, Column, Day, Formula, Sheet, Stored, Table
from budget.spend.finding import folded
from budget.spend.forecast import counted
from budget.spend.standing import Standing
from budget.spend.tallying import amount, in_time, with_mileage
from budget.spend.tracking import Tracked
from budget.spend.weeks import sunday
from budget.units import HOURS, MONEY, NUMBER, Kind

ENTRIES = "Entries"
#: Headings of the Spending sheet whose columns add entries up.
AGREED, ORDERED, PAID, OUT, IN = "Agreed since", "Ordered", "Paid", "Cash out", "Cash in"

#: The sum of its line that each state counts in and its sign there, and the way its cash goes.
_STATES: dict[str, tuple[str, int, str]] = {
    "ordered": (ORDERED, 1, ""),
    "returned": (ORDERED, -1, ""),
    "paid": (PAID, 1, OUT),
    "final payment": (PAID, 1, OUT),
    "driven": (PAID, 1, OUT),
    "refunded": (PAID, -1, IN),
    "change agreed": (AGREED, 1, ""),
    "deposit paid": ("", 0, OUT),
    "deposit back": ("", 0, IN),
}


@dataclass(frozen=True, slots=True)
class Told:
    """One entry with the line it counts on (none: it is in the accepted plan already)."""

    entry: Spend
    line: str

    @property
    def counts(self) -> tuple[str, int, str]:
        """The sum it counts in, its sign, and the way its cash goes."""
        return _STATES.get(self.entry.state, ("", 0, ""))

    @property
    def money(self) -> int:
        """Its amount with tax in cents, with the sign of the sum it counts in."""
        return self.counts[1] * amount(self.entry)


def told_entries(found: Standing) -> list[Told]:
    """The entries up to the day, in the order of time."""
    names = {folded(t.line): t.line for t in found.tracking.lines}
    entries = with_mileage(found.job, in_time(found.job.spend))
    return [
        Told(e, names.get(folded(e.line), e.line) if counted(found.stick, e) else "")
        for e in entries
        if e.date <= found.tracking.day
    ]


def summed(told: Sequence[Told], line: Tracked, what: str) -> int:
    """The cents that the entries of a line add up to under one heading."""
    return sum(t.money for t in told if t.line == line.line and t.counts[0] == what)


def entries_sheet(told: Sequence[Told]) -> Sheet:
    """Every entry with the sum it counts in."""
    opening = (
        "Copies of the entries that Spending adds up. Write new ones into your quotes workbook, "
        "or use “budget record”."
    )
    columns = [
        Column("Date"),
        Column("Week to", name="entry_week", note="The Sunday that ends its week."),
        Column("Line", 26, name="entry_line", note="Blank: in the accepted plan already."),
        Column("Seller or firm", 20),
        Column("What", 26),
        Column("State", 14),
        Column("Counts as", 13, name="entry_counts", note="The column of Spending it adds to."),
        Column("Sign", 7, right=True, unit="sign"),
        Column("Amount", 12, "With tax.", name="entry_amount", right=True),
        Column("Counted", 12, "Amount times sign.", name="entry_counted", right=True),
        Column("Cash goes", 11, name="entry_moves", note="Deposits move cash and count nowhere."),
        Column("Own hours", 10, name="entry_hours", right=True),
        Column("Where from", 32, note="The cell of your quotes workbook, or the journal's row."),
    ]
    table = Table(columns, [_row(t) for t in told], filters=True)
    return Sheet(ENTRIES, ENTRIES, opening, [table])


def _row(told: Told) -> list[Cell]:
    e, (what, sign, way) = told.entry, told.counts
    return [
        Day(e.date, origin="fixed"), Day(sunday(e.date), origin="fixed"), told.line,
        e.supplier, e.what, e.state, what,
        _number(sign, NUMBER), _number(amount(e), MONEY),
        Formula("=H{row} * I{row}", told.money, MONEY) if sign else None,
        way, _number(e.own_hours or 0.0, HOURS),
        f"{e.place.sheet}, row {e.place.row}",
    ]  # fmt: skip


def _number(value: float, kind: Kind) -> Cell:
    return Stored(value, kind, "fixed") if value else None
