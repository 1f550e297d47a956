"""Rows that say how work is done: equipment, methods, bids, scenarios."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass
from typing import Literal

from budget.job.rows import Row


@dataclass(frozen=True, slots=True, kw_only=True)
class Equipment(Row):
    """One way to have one machine: rent, borrow or buy. Prices in cents."""

    equipment: str
    way: Literal["rent", "borrow", "buy"] = "rent"
    source: str = ""
    half_day: float | None = None  # 4 hours
    day: float | None = None
    weekend: float | None = None
    week: float | None = None
    month: float | None = None  # 4 weeks
    hours_a_day: float | None = None
    days_a_week: float | None = None
    weekend_days: float | None = None
    price: float | None = None  # bought
    resale: float | None = None
    favour: float | None = None  # what a loan costs: a gift, a repair
    waiver: float | None = None  # ratio of the rent
    fuel: float | None = None  # cents per machine hour
    cleaning: float | None = None  # once a spell
    transport: float | None = None  # both ways, once a spell
    deposit: float | None = None
    taxed: bool = True
    width: float | None = None  # m
    valid_until: dt.date | None = None
    there_from: dt.date | None = None  # the first and the last day on which it can be had
    there_to: dt.date | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Work(Row):
    """One method for one step. Rates are person-hours per SI unit of the step's measure."""

    step: str
    method: str
    low: float | None = None
    likely: float | None = None
    high: float | None = None
    people: int = 1
    equipment: str = ""
    machine_hours: float | None = None  # machine hours per SI unit
    reworked: float | None = None  # ratio
    after: tuple[str, ...] = ()  # steps that come before this one; blank: the usual ones
    wait: float | None = None  # hours after it before anything that follows


@dataclass(frozen=True, slots=True, kw_only=True)
class Bid(Row):
    """One offer of hired help, covering one or more steps."""

    bid: str
    firm: str = ""
    steps: tuple[str, ...] = ()
    price: float | None = None  # cents, lump or per unit
    basis: Literal["lump", "per unit", "hourly"] = "lump"
    unit: str = ""  # the step measure that a unit price counts
    unit_size: float = 1.0  # SI size of that unit
    hours: float | None = None  # estimated hours of an hourly bid
    least: float | None = None  # least units or hours billed
    mobilisation: float | None = None
    taxed: bool = False
    materials: bool = False
    equipment: bool = True
    supervise: float | None = None  # own hours
    rain_on_owner: bool | None = None
    rock_on_owner: bool | None = None
    lead_days: float | None = None  # from saying yes to coming
    lead_low: float | None = None  # the fewest days that it may take; blank: a usual range
    lead_high: float | None = None
    paid_yes: float | None = None  # ratio of the price paid when the bid is taken
    paid_start: float | None = None  # ratio paid when they come; the rest when they are done
    work_days: float | None = None  # days they need; blank: as the fastest own way
    base_depth: float | None = None  # m of base that the bid is for; None: as drawn
    may_leave: tuple[str, ...] = ()  # steps that they would leave to the owner, all together
    deduct: float | None = None  # cents that the price then falls by
    valid_until: dt.date | None = None
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class BidScope(Row):
    """What one offer, or every offer, says about one cost line or risk."""

    item: str
    bid: str = ""  # blank: every bid
    answer: Literal["yes", "no", "extra"] | None = None  # in the price? None: not said
    extra: float | None = None  # cents asked on top
    chance: float | None = None  # ratio: how likely a risk comes up
    cost: float | None = None  # cents that it then costs
    deduct: float | None = None  # cents that the price falls by without the steps named as item

    @property
    def steps(self) -> tuple[str, ...]:
        """The steps that a deduct is for."""
        return tuple(name.strip() for name in self.item.split(",") if name.strip())


@dataclass(frozen=True, slots=True, kw_only=True)
class Weather(Row):
    """How likely a day of one month is too wet to work outside."""

    month: str
    wet: float  # ratio
    source: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class ChecklistLine(Row):
    """One cost line the job implies, and what the user answered."""

    line: str
    answer: Literal["priced", "not needed", "in bid", "to price"] = "to price"
    amount: float | None = None  # cents
    bid: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Pin(Row):
    """One pinned choice of one named scenario, such as ``step:Dig`` = ``hire``."""

    scenario: str
    choice: str
    value: str
