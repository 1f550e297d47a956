"""Matching the rows of a statement with the lines of the plan, each with its reason.

How sure a proposal is, in percent, is a stated rule, not a guess of chance:

* 95: the amount is what one line still owes, and the text names that line's seller or the line;
* 85: the amount is what one line still owes, and nothing else fits;
* 75: several lines owe that amount, and the text names one of them;
* 60: the text names the line, or a seller of whom only one line is unpaid;
* 30: the text names a seller of several unpaid lines.

Money back that nothing is due for is a lower price: 60 where its text names one line that was
paid, or the seller of one; 30 where it names the seller of several.

A deposit that the plan asks for, one that is held, and a refund that is due are matched in the
same way: 95 where the amount is theirs alone and the text names the seller, 85 where it does
not, 75 where several have that amount and the text names one, 60 where only the seller fits.
One row may pay what a line owes and its deposit together, as hire shops book them: 95 where the
text names the seller or the line, 85 where it does not, and only where one line fits.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from budget.job import Place, Spend, SpendState
from budget.spend.finding import folded
from budget.spend.joining import DAYS
from budget.spend.statement import Booked
from budget.spend.tallying import amount
from budget.spend.tracking import Tracked, Tracking

_OUT = ("paid", "final payment", "driven", "deposit paid")
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
    deposit: int = 0  # cents of the row that are a deposit paid along with the rest

    def entries(self) -> tuple[Spend, ...]:
        """The proposed entry, and that of the deposit where the row pays both."""
        rest = self._entry(self.state, abs(self.booked.cents) - self.deposit)
        return (rest, self._entry("deposit paid", self.deposit)) if self.deposit else (rest,)

    def _entry(self, state: SpendState, cents: int) -> Spend:
        return Spend(
            place=Place("statement", self.booked.row), date=self.booked.date, line=self.line,
            supplier=self.supplier, what=self.booked.text, amount=float(cents), tax=0.0,
            state=state,
        )  # fmt: skip


def match(
    rows: Iterable[Booked], found: Tracking, entries: Sequence[Spend], sources: frozenset[str]
) -> tuple[Proposal, ...]:
    """A proposal for every row of a statement.

    A row is entered already where the journal has it from an earlier statement, or where an
    entry has the same money within :data:`DAYS` days; each entry answers for one row only.
    Rows are matched in the order of their days, for some banks write the newest first.
    """
    open_entries = [e for e in entries if e.state in (*_OUT, *_IN) and e.amount is not None]
    owed = {t.line: t.tally.owing - t.tally.paid_net for t in found.lines}
    open_ = _Open(found)
    told = tuple(rows)
    result: dict[int, Proposal] = {}
    for place in sorted(range(len(told)), key=lambda n: (told[n].date, n)):
        row = told[place]
        twin = _twin(row, open_entries)
        if row.source in sources or twin is not None:
            if twin is not None:
                open_entries.remove(twin)
            line = twin.line if twin else ""
            reason = f"entered already ({twin.cell('date')})" if twin else "taken before"
            result[place] = Proposal(row, line, "", "paid", 100, reason, entered=True)
            continue
        if row.cents < 0:
            proposal = _incoming(row, open_, found.lines)
        else:
            proposal = (
                _together(row, open_, found.lines, owed)
                or _deposit(row, open_, owed)
                or _outgoing(row, found.lines, owed)
            )
        if proposal.line and proposal.sure >= 75:
            if proposal.state == "paid":
                owed[proposal.line] -= row.cents - proposal.deposit
            open_.settle(proposal)
        result[place] = proposal
    return tuple(result[place] for place in range(len(told)))


@dataclass(frozen=True, slots=True)
class _Due:
    """Money that a plan or a seller owes on one line, beside the price of goods."""

    line: str
    supplier: str
    cents: int
    state: SpendState


class _Open:
    """Deposits to pay and to get back, and refunds, less what the rows before settled."""

    def __init__(self, found: Tracking) -> None:
        deposits = [_Due(d.line, d.supplier, d.held, "deposit back") for d in found.deposits]
        refunds = [_Due(t.line, _seller(t), t.refund_due, "refunded") for t in found.lines]
        self.back = [due for due in (*refunds, *deposits) if due.cents > 0]
        to_pay = (_Due(d.line, d.supplier, d.to_pay, "deposit paid") for d in found.deposits)
        self.to_pay = [due for due in to_pay if due.cents > 0]

    def settle(self, proposal: Proposal) -> None:
        state: SpendState = "deposit paid" if proposal.deposit else proposal.state
        for dues in (self.back, self.to_pay):
            for due in dues:
                if (due.line, due.state) == (proposal.line, state):
                    dues.remove(due)
                    break
        if state == "deposit paid":
            cents = proposal.deposit or abs(proposal.booked.cents)
            self.back.append(_Due(proposal.line, proposal.supplier, cents, "deposit back"))


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
    planned = [t for t in sellers if t.to_come == row.cents and not t.tally.orders]
    if len(planned) == 1:
        why = "the text names its seller, and the plan has this sum for it"
        return _paid(row, planned[0], 70, why)
    if len(named) == 1:
        return _paid(row, named[0], 60, "the text names the line")
    if len(sellers) == 1:
        return _paid(row, sellers[0], 60, "the text names the seller of this line only")
    if sellers or fits:
        best = min(sellers or fits, key=lambda t: (abs(_expected(t, owed) - row.cents), t.line))
        return _paid(row, best, 30, "the text names a seller of several lines; this is nearest")
    return Proposal(row, "", "", "paid", 0, "no line of the plan fits")


_DUE_WORDS = {
    "refunded": "the refund that is due on this line",
    "deposit back": "the deposit held on this line",
    "deposit paid": "the deposit that the plan asks for on this line",
}


def _deposit(row: Booked, open_: _Open, owed: dict[str, int]) -> Proposal | None:
    """A deposit of this very sum, where no order is owed as much."""
    fits = [due for due in open_.to_pay if due.cents == row.cents]
    if not fits or row.cents in owed.values():
        named = [due for due in fits if _names(row.text, due.supplier)]
        return _due(row, named, named) if "deposit" in _words(row.text) and named else None
    return _due(row, fits, open_.to_pay)


def _together(
    row: Booked, open_: _Open, lines: Sequence[Tracked], owed: dict[str, int]
) -> Proposal | None:
    """What one line owes and its deposit in one sum, where no line owes the sum alone."""
    if row.cents in owed.values() or any(due.cents == row.cents for due in open_.to_pay):
        return None
    fits = [
        (line, due)
        for due in open_.to_pay
        for line in lines
        if line.line == due.line and owed[line.line] > 0
        and owed[line.line] + due.cents == row.cents
    ]  # fmt: skip
    if len(fits) != 1:
        return None
    line, due = fits[0]
    named = _names(row.text, due.supplier) or _names(row.text, line.line)
    reason = "it is what this line owes and its deposit together"
    found = _of_due(row, due, 95 if named else 85, reason)
    return replace(found, state="paid", deposit=due.cents)


def _incoming(row: Booked, open_: _Open, lines: Sequence[Tracked]) -> Proposal:
    fits = [due for due in open_.back if due.cents == -row.cents]
    found = _due(row, fits, open_.back)
    if found is not None:
        return found
    paid = [
        t for t in lines
        if t.paid >= -row.cents and (_names(row.text, t.line) or _names(row.text, t.supplier))
    ]  # fmt: skip
    if paid:
        best = min(paid, key=lambda t: t.line)
        sure, only = (60, "the one line paid") if len(paid) == 1 else (30, "several lines paid")
        reason = f"no refund is due; the text names the seller of {only}"
        return Proposal(row, best.line, best.supplier, "refunded", sure, reason)
    return Proposal(row, "", "", "refunded", 0, "no refund or deposit of this sum is due")


def _due(row: Booked, fits: Sequence[_Due], all_: Sequence[_Due]) -> Proposal | None:
    """The due that a row is, by its sum and by the seller that its text names."""
    named = [due for due in fits if _names(row.text, due.supplier)]
    only = [due for due in all_ if _names(row.text, due.supplier)]
    if len(named) == 1:
        sure = 95 if len(fits) == 1 else 75
        return _of_due(row, named[0], sure, f"it is {_DUE_WORDS[named[0].state]}")
    if len(fits) == 1:
        return _of_due(row, fits[0], 85, f"it is {_DUE_WORDS[fits[0].state]}")
    if len(only) == 1 and row.cents < 0:
        return _of_due(row, only[0], 60, "the text names a seller who owes money back")
    return None


def _of_due(row: Booked, due: _Due, sure: int, reason: str) -> Proposal:
    return Proposal(row, due.line, due.supplier, due.state, sure, reason)


def _paid(row: Booked, line: Tracked, sure: int, reason: str) -> Proposal:
    return Proposal(row, line.line, _seller(line), "paid", sure, reason)


def _seller(line: Tracked) -> str:
    return line.supplier


def _unpaid(line: Tracked, owed: dict[str, int]) -> bool:
    return owed.get(line.line, 0) > 0 or line.to_come > 0


def _expected(line: Tracked, owed: dict[str, int]) -> int:
    """What may be paid on a line: what is owed there, else what the plan has still to come."""
    return owed.get(line.line, 0) or line.to_come


def _words(text: str) -> list[str]:
    return re.findall(r"\w+", folded(text))


#: Words that banks write beside any payment.
_BANKS_OWN = frozenset({"card", "payment", "purchase"})


def _names(text: str, name: str) -> bool:
    """Whether a bank's text holds a name, or its first word of four letters or more.

    >>> _names("HERON YARD 0042 CARD", "Heron Yard"), _names("POS HERON", "Heron Yard")
    (True, True)
    >>> _names("THE YARD", "Heron Yard"), _names("CARD 0042", "Card surcharge, Heron Yard")
    (False, False)
    """
    wanted, seen = _words(name), _words(text)
    if not wanted:
        return False
    if all(word in seen for word in wanted):
        return True
    telling = len(wanted[0]) >= 4 and wanted[0] not in _BANKS_OWN
    return telling and wanted[0] in seen and len(wanted) > 1
