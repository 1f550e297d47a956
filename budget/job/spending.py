"""Rows that say what was spent and how far the work is."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass
from typing import Literal

from budget.job.rows import Row

SpendState = Literal[
    "ordered", "delivered", "paid", "final payment", "returned", "refunded", "deposit paid",
    "deposit back", "change agreed", "worked", "driven",
]  # fmt: skip
ChangeReason = Literal["chosen", "unforeseen"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Spend(Row):
    """One entry of what was ordered or paid."""

    date: dt.date
    line: str
    supplier: str = ""
    what: str = ""
    quantity: float | None = None
    amount: float | None = None  # cents before tax
    tax: float | None = None  # cents
    state: SpendState = "paid"
    own_hours: float | None = None
    receipt: str = ""
    reason: ChangeReason | None = None  # of a change: wished for, or met in the ground
    due: dt.date | None = None  # comes on, payable by, back by, returnable until: as its state


@dataclass(frozen=True, slots=True, kw_only=True)
class Progress(Row):
    """How far one step has come, or how much of an item is needed after measuring again.

    ``quantity`` and ``need`` are in the unit in which people read the step or the item.
    """

    date: dt.date
    line: str  # a step, or an item
    part: str = ""  # blank: the whole job
    percent: float | None = None  # ratio
    quantity: float | None = None
    need: float | None = None
