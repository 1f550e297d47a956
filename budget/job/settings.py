"""The Job sheet: settings of the whole job."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from budget.job.rows import Row
from budget.numerals import Manner
from budget.reference.manners import manner_of
from budget.units import System

DropPoint = Literal["street", "drive", "site"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Settings(Row):
    """The Job sheet. ``places`` gives the cell of each setting that was filled."""

    name: str = "My outdoor room"
    currency: str = "USD"
    units: System = "imperial"
    numbers: str = ""  # how numbers are written; blank: as usual with the currency
    dates: str = ""  # the order of a date's parts; blank: as usual with the currency
    as_of: dt.date = dt.date(2000, 1, 1)
    start: dt.date | None = None
    sales_tax: float = 0.0  # ratio
    tax_included: bool = False
    hour_value: float | None = None  # cents per hour
    hours_per_day: float | None = None  # hours
    working_days: tuple[str, ...] = ()  # weekdays of own work; blank: Saturday and Sunday
    drying_days: float | None = None  # days the ground stays too wet after a wet day
    wet_persistence: float | None = None  # ratio: chance of wet after wet less that after dry
    helpers: int = 0  # unpaid people beside the owner
    paid_helpers: int = 0
    helper_pay: float | None = None  # cents per hour
    spending_limit: float | None = None  # cents
    confidence: float = 0.8  # ratio: how sure a sum or an order shall be
    spares: float | None = None  # ratio of the pavers laid that are kept for later repair
    lost_day: float | None = None  # cents that a day costs on which work must stop
    ground: str = "common earth"
    way_in_width: float | None = None  # m
    way_in: str = "level"  # level, sloped, steps
    carry_street: float | None = None  # m
    carry_drive: float | None = None  # m
    carry_site: float | None = None  # m
    tip_distance: float | None = None  # m
    allow_discouraged: bool = False
    keep_soil: bool = False  # soil that goes back beside paving and walls is kept
    places: Mapping[str, str] = field(default_factory=dict)

    @property
    def manner(self) -> Manner:
        """How numbers, money and dates of this job are written for people."""
        return manner_of(self.currency, self.units, self.numbers, self.dates)

    def cell(self, name: str) -> str:
        """The address of one setting."""
        return self.places.get(name, self.place.sheet)
