"""Matching the rows of a statement with the lines of the plan, each with its reason.

How sure a proposal is, in percent, is a stated rule, not a guess of chance:

* 95: the amount is what one line still owes, and the text names that line's seller or the line;
* 85: the amount is what one line still owes, and nothing else fits;
* 75: several lines owe that amount, and the text names one of them;
* 60: the text names the line, or a seller of whom only one line is unpaid;
* 30: the text names a seller of several unpaid lines.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from budget.job import Place, Spend, SpendState
from budget.spend.finding import folded
from budget.spend.statement import Booked
from budget.spend.tallying import amount
from budget.spend.tracking import Tracked, Tracking

#: A payment entered by hand may stand this many days from the bank's date.
DAYS = 5

_OUT = ("paid", "driven", "deposit paid")
_IN = ("refunded", "deposit back")


@dataclass(frozen=True, slots=True)
class Proposal:
    """One row of a statement and the entry that it may be. ``sure`` is in percent."""

    booked: Booked
    line: str  # blank: nothing fits
    supplier: str
    state: SpendState
    sure: int
    reason: str
    entered: bool = False  # it is among the entries already

    def entry(self) -> Spend:
        """The proposed entry."""
        return Spend(
            place=Place("statement", self.booked.row), date=self.booked.date, line=self.line,
            supplier=self.supplier, what=self.booked.text, amount=float(abs(self.booked.cents)),
            tax=0.0, state=self.state,
        )  # fmt: skip


def match(
    rows: Iterable[Booked], found: Tracking, entries: Sequence[Spend], sources: frozenset[str]
) -> tuple[Proposal, ...]:
    """A proposal for every row of a statement.

    A row is entered already where the journal has it from an earlier statement, or where an
    entry has the same money within :data:`DAYS` days; each entry answers for one row only.
    """
    open_entries = [e for e in entries if e.state in (*_OUT, *_IN) and e.amount is not None]
    owed = {t.line: t.tally.owing - t.tally.paid_net for t in found.lines}
    result = []
    for row in rows:
        twin = _twin(row, open_entries)
        if row.source in sources or twin is not None:
            if twin is not None:
                open_entries.remove(twin)
            line = twin.line if twin else ""
            reason = f"entered already ({twin.cell('date')})" if twin else "taken before"
            result.append(Proposal(row, line, "", "paid", 100, reason, entered=True))
            continue
        proposal = _incoming(row, found) if row.cents < 0 else _outgoing(row, found.lines, owed)
        if proposal.line and proposal.sure >= 75 and row.cents > 0:
            owed[proposal.line] -= row.cents
        result.append(proposal)
    return tuple(result)


def _twin(row: Booked, entries: Sequence[Spend]) -> Spend | None:
    states = _OUT if row.cents > 0 else _IN
    near = [
        e
        for e in entries
        if e.state in states
        and amount(e) == abs(row.cents)
        and abs((e.date - row.date).days) <= DAYS
    ]
    return min(near, key=lambda e: (abs((e.date - row.date).days), e.line), default=None)


def _outgoing(row: Booked, lines: Sequence[Tracked], owed: dict[str, int]) -> Proposal:
    fits = [t for t in lines if owed.get(t.line, 0) == row.cents and t.tally.orders]
    named = [t for t in lines if _names(row.text, t.line)]
    sellers = [t for t in lines if _unpaid(t, owed) and _names(row.text, _seller(t))]
    exact = [t for t in fits if t in named] or [t for t in fits if t in sellers]
    if len(exact) == 1:
        sure = 95 if len(fits) == 1 else 75
        return _paid(row, exact[0], sure, "it is what this line owes, and the text names it")
    if len(fits) == 1:
        return _paid(row, fits[0], 85, "it is exactly what this line still owes")
    if len(named) == 1:
        return _paid(row, named[0], 60, "the text names the line")
    if len(sellers) == 1:
        return _paid(row, sellers[0], 60, "the text names the seller of this line only")
    if sellers or fits:
        best = min(sellers or fits, key=lambda t: (abs(owed.get(t.line, 0) - row.cents), t.line))
        return _paid(row, best, 30, "the text names a seller of several lines; this is nearest")
    return Proposal(row, "", "", "paid", 0, "no line of the plan fits")


def _incoming(row: Booked, found: Tracking) -> Proposal:
    due = [t for t in found.lines if t.refund_due == -row.cents]
    named = [t for t in found.lines if t.refund_due and _names(row.text, _seller(t))]
    if len(due) == 1:
        sure = 95 if due[0] in named else 85
        reason = "it is the refund that is due on this line"
        return Proposal(row, due[0].line, _seller(due[0]), "refunded", sure, reason)
    if len(named) == 1:
        reason = "the text names a seller who owes a refund"
        return Proposal(row, named[0].line, _seller(named[0]), "refunded", 60, reason)
    return Proposal(row, "", "", "refunded", 0, "no refund or deposit of this sum is due")


def _paid(row: Booked, line: Tracked, sure: int, reason: str) -> Proposal:
    return Proposal(row, line.line, _seller(line), "paid", sure, reason)


def _seller(line: Tracked) -> str:
    return line.supplier


def _unpaid(line: Tracked, owed: dict[str, int]) -> bool:
    return owed.get(line.line, 0) > 0 or line.to_come > 0


def _words(text: str) -> list[str]:
    return re.findall(r"\w+", folded(text))


def _names(text: str, name: str) -> bool:
    """Whether a bank's text holds a name, or its first word of four letters or more.

    >>> _names("HERON YARD 0042 CARD", "Heron Yard"), _names("POS HERON", "Heron Yard")
    (True, True)
    >>> _names("THE YARD", "Heron Yard")
    False
    """
    wanted, seen = _words(name), _words(text)
    if not wanted:
        return False
    if all(word in seen for word in wanted):
        return True
    return len(wanted[0]) >= 4 and wanted[0] in seen and len(wanted) > 1
