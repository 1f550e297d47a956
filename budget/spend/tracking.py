"""What spend tracking returns: entries set against the chosen plan, line by line."""

from __future__ import annotations

from dataclasses import dataclass

from budget.decide.plan import Scenario
from budget.job import Notice


@dataclass(frozen=True, slots=True)
class Tally:
    """The entries of one line added up. Cents with tax; a blank tax adds nothing."""

    ordered: int = 0
    returned: int = 0
    paid: int = 0
    refunded: int = 0
    changes: int = 0  # agreed changes
    open_changes: int = 0  # agreed after the last order
    ordered_quantity: float | None = None  # None: some order leaves its quantity blank
    paid_quantity: float = 0.0
    orders: int = 0  # number of orders
    own_hours: float = 0.0

    @property
    def paid_net(self) -> int:
        """Paid less refunded."""
        return self.paid - self.refunded

    @property
    def owing(self) -> int:
        """Ordered less sent back, with the changes agreed after the last order."""
        return self.ordered - self.returned + self.open_changes


@dataclass(frozen=True, slots=True)
class Tracked:
    """One line of the plan and what has happened on it. Money in cents, tax included."""

    line: str
    group: str
    planned: int
    changes: int  # agreed changes, beside the plan
    ordered: int  # ordered less sent back
    paid: int  # paid less refunded
    to_come: int  # what is still to be paid
    will_come_to: int
    left: int  # planned and agreed, less what it will come to; below zero: over
    refund_due: int  # sent back and not yet refunded
    planned_hours: float
    spent_hours: float
    in_plan: bool  # False: the plan has no such line

    @property
    def agreed(self) -> int:
        """Planned with the changes agreed since."""
        return self.planned + self.changes


@dataclass(frozen=True, slots=True)
class Tracking:
    """Entries against the chosen plan. Totals are sums of the lines shown."""

    scenario: Scenario
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

    @property
    def deposits_held(self) -> int:
        """Deposits that are still to come back."""
        return self.deposits_out - self.deposits_back
