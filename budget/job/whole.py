"""All rows together, and what the stages say beside their answers."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from budget.job.building import (
    Area,
    BuildUp,
    Corner,
    CutPiece,
    Extra,
    Level,
    Product,
    Stock,
    Trench,
    Wall,
)
from budget.job.buying import DeliveryStep, Disposal, Quote, Supplier, Vehicle
from budget.job.doing import Bid, BidScope, ChecklistLine, Equipment, Pin, Weather, Work
from budget.job.settings import Settings
from budget.job.spending import Progress, Spend


@dataclass(frozen=True, slots=True, kw_only=True)
class Job:
    """A whole quotes workbook."""

    settings: Settings
    areas: tuple[Area, ...] = ()
    corners: tuple[Corner, ...] = ()
    levels: tuple[Level, ...] = ()
    trenches: tuple[Trench, ...] = ()
    walls: tuple[Wall, ...] = ()
    pieces: tuple[CutPiece, ...] = ()
    build_ups: tuple[BuildUp, ...] = ()
    extras: tuple[Extra, ...] = ()
    stock: tuple[Stock, ...] = ()
    products: tuple[Product, ...] = ()
    quotes: tuple[Quote, ...] = ()
    suppliers: tuple[Supplier, ...] = ()
    delivery: tuple[DeliveryStep, ...] = ()
    disposal: tuple[Disposal, ...] = ()
    vehicles: tuple[Vehicle, ...] = ()
    equipment: tuple[Equipment, ...] = ()
    work: tuple[Work, ...] = ()
    bids: tuple[Bid, ...] = ()
    bid_scope: tuple[BidScope, ...] = ()
    weather: tuple[Weather, ...] = ()
    checklist: tuple[ChecklistLine, ...] = ()
    pins: tuple[Pin, ...] = ()
    spend: tuple[Spend, ...] = ()
    progress: tuple[Progress, ...] = ()


@dataclass(frozen=True, slots=True, order=True)
class Notice:
    """A problem or a warning about one cell of the workbook."""

    sheet: str
    row: int
    cell: str
    code: str
    found: str
    expected: str
    mend: str
    severity: Literal["problem", "warning"] = "problem"

    @property
    def message(self) -> str:
        """One sentence: found, expected, how to mend."""
        found = f"found {self.found}" if self.found else "blank"
        return f"{found}; expected {self.expected}. {self.mend}".strip()


@dataclass(frozen=True, slots=True)
class Assumption:
    """A documented default that was used because the workbook is silent."""

    what: str
    value: str
    source: str
    sheet: str = ""
