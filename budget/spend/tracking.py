"""What spend tracking returns: entries set against the plan, line by line."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType

from budget.job import Notice


@dataclass(frozen=True, slots=True)
class Tally:
    """The entries of one line added up. Cents with tax; a blank tax adds nothing."""

    ordered: int = 0
    returned: int = 0
    paid: int = 0
    refunded: int = 0  # of what was paid
    refunded_for_nothing: int = 0  # those of them before anything went back, and above it
    refund_awaited: int = 0  # sent back since the last refund for goods
    refund_above_paid: int = 0  # entered, but more than was ever paid: not counted
    changes: int = 0  # agreed changes
    unforeseen: int = 0  # those of them that nobody wished for
    open_changes: int = 0  # agreed after the last order
    ordered_quantity: float | None = None  # None: some order leaves its quantity blank
    paid_quantity: float = 0.0
    delivered_quantity: float = 0.0
    orders: int = 0  # number of orders
    own_hours: float = 0.0
    final: bool = False  # a final payment was made
    forgiven: int = 0  # what that payment was above (below zero: below) what was owed then
    work_done: bool = False  # its work is done: nothing more is bought for it

    @property
    def paid_net(self) -> int:
        """Paid less refunded."""
        return self.paid - self.refunded

    @property
    def refund_due(self) -> int:
        """Sent back and not yet refunded."""
        return max(0, self.returned - (self.refunded - self.for_nothing))

    @property
    def for_nothing(self) -> int:
        """Refunds that answer for no goods sent back (see :mod:`budget.spend.refunding`).

        >>> Tally(returned=10000, refunded=3000, refunded_for_nothing=3000).refund_due
        10000
        """
        return max(0, self.refunded_for_nothing, self.refunded - self.returned)

    @property
    def owed_at_first(self) -> int:
        """Ordered, with the changes agreed after the last order, before anything came back.

        A final payment settles what was owed then, be it more or less.
        """
        return self.ordered + self.open_changes + self.forgiven

    @property
    def owing(self) -> int:
        """What is owed in all: less what was sent back, and less refunds that lower the price."""
        owed = self.owed_at_first
        return owed - self.returned - self.price_cut(owed)

    def price_cut(self, owed: int) -> int:
        """The refunds in cents that lower a price of ``owed`` cents.

        A refund answers first for goods sent back, then for what was paid above the price; what
        is left of it makes the price lower.

        >>> Tally(paid=50000, refunded=3000).price_cut(50000)
        3000
        >>> Tally(paid=51000, refunded=3000).price_cut(50000)
        2000
        >>> Tally(paid=50000, returned=10000, refunded=8500).price_cut(50000)
        0
        """
        return max(0, self.for_nothing - max(0, self.paid - owed))


@dataclass(frozen=True, slots=True)
class Why:
    """Why a line will come to more or less than first planned. Cents; the four add up exactly."""

    price: int = 0  # another price for what was planned
    quantity: int = 0  # more or less needed for the same work
    scope: int = 0  # another work: changes agreed, parts made larger, lines not in the plan
    pace: int = 0  # days and hours paid by time

    @property
    def sum(self) -> int:
        """Price, quantity, scope and pace together."""
        return self.price + self.quantity + self.scope + self.pace


@dataclass(frozen=True, slots=True)
class WhyHours:
    """The same for own hours; pace is the rest, so that the three add up."""

    quantity: float = 0.0
    scope: float = 0.0
    pace: float = 0.0


@dataclass(frozen=True, slots=True)
class Tracked:
    """One line of the plan and what has happened on it. Money in cents, tax included."""

    line: str
    group: str
    planned: int  # as first accepted
    changes: int  # agreed since, beside the plan
    ordered: int  # ordered less sent back
    paid: int  # paid less refunded
    to_come: int  # what is still to be paid
    will_come_to: int
    left: int  # planned and agreed, less what it will come to; below zero: over
    refund_due: int  # sent back and not yet refunded
    planned_hours: float
    spent_hours: float
    in_plan: bool  # False: the plan has no such line
    unforeseen: int = 0  # the part of the changes that nobody wished for
    will_hours: float = 0.0  # own hours in the end
    why: Why = field(default_factory=Why)
    why_hours: WhyHours = field(default_factory=WhyHours)
    done: float | None = None  # share of its work that is done; None: nobody has said
    need: float | None = None  # packs, days or hours needed, as known now
    planned_need: float | None = None  # as first accepted
    per: str = ""
    to_buy: float | None = None  # of those, still to buy
    supplier: str = ""
    tally: Tally = field(default_factory=Tally)

    @property
    def agreed(self) -> int:
        """Planned with the changes agreed since."""
        return self.planned + self.changes

    @property
    def over(self) -> int:
        """What it will come to above the first plan; below zero: under."""
        return self.will_come_to - self.planned


@dataclass(frozen=True, slots=True)
class Deposit:
    """The deposit of one line with one seller, in cents."""

    line: str
    supplier: str
    planned: int = 0
    paid: int = 0
    back: int = 0

    @property
    def held(self) -> int:
        """Paid and not yet given back."""
        return self.paid - self.back

    @property
    def to_pay(self) -> int:
        """Asked for by the plan and not yet paid."""
        return max(0, self.planned - self.paid)


@dataclass(frozen=True, slots=True)
class Week:
    """How the job stood at the end of one week. Money in cents."""

    end: dt.date  # its Sunday
    paid: int  # so far, less refunds
    will_come_to: int
    contingency_left: int | None
    work_done: float | None  # share, by planned own hours; None: nobody has said
    cash_out: int  # in this week, deposits included
    cash_in: int
    own_hours: float  # in this week


@dataclass(frozen=True, slots=True)
class Tracking:
    """Entries against the plan. Totals are sums of the lines shown."""

    against: str  # the title of the plan
    day: dt.date
    lines: tuple[Tracked, ...]
    planned: int
    changes: int
    ordered: int
    paid: int
    to_come: int
    will_come_to: int
    limit: int | None  # the spending limit
    left: int  # spending limit, or else the plan with its changes, less will come to
    refund_due: int
    planned_hours: float
    spent_hours: float
    hours_to_come: float
    deposits_out: int  # refundable deposits paid
    deposits_back: int
    deposits_planned: int
    entries: int
    warnings: tuple[Notice, ...]
    unpriced: tuple[str, ...]  # what the plan still lacks a price for
    accepted: int = 0  # how many plans were accepted; 0: set against the scenario itself
    accepted_on: dt.date | None = None  # the latest of them
    weeks: tuple[Week, ...] = ()
    work_done: float | None = None  # share of the own work, by planned hours
    step_shares: Mapping[str, float] = field(default_factory=lambda: MappingProxyType({}))
    deposits: tuple[Deposit, ...] = ()
    why_not: str = ""  # why the accepted plan cannot be priced from the workbook now

    @property
    def deposits_held(self) -> int:
        """Deposits that are still to come back."""
        return self.deposits_out - self.deposits_back

    @property
    def why(self) -> Why:
        """The reasons of all lines together."""
        return Why(
            *(
                sum(getattr(t.why, name) for t in self.lines)
                for name in ("price", "quantity", "scope", "pace")
            )
        )

    @property
    def will_hours(self) -> float:
        """Own hours in the end."""
        return sum(t.will_hours for t in self.lines)

    @property
    def contingency(self) -> int | None:
        """What the spending limit leaves above the first plan; None without a limit."""
        return None if self.limit is None else self.limit - self.planned

    @property
    def contingency_used(self) -> int:
        """What the job will come to above the first plan."""
        return self.will_come_to - self.planned

    @property
    def unforeseen(self) -> int:
        """Changes agreed that nobody wished for."""
        return sum(t.unforeseen for t in self.lines)
