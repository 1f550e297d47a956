"""The typed job: what a quotes workbook says, in SI and cents, with the cell of each value.

Every stage after reading speaks these types. A blank cell is ``None``; a blank price is never
zero. Field names match the columns described in :mod:`budget.workbook.sheets.tabs`.
"""

from budget.job.building import (
    Area,
    BuildUp,
    Corner,
    CutPiece,
    Extra,
    Level,
    Product,
    Shape,
    Stock,
    Trench,
    Wall,
)
from budget.job.buying import (
    DeliveryBasis,
    DeliveryStep,
    Disposal,
    Measure,
    PriceBreak,
    Quote,
    Supplier,
    Vehicle,
)
from budget.job.doing import Bid, BidScope, ChecklistLine, Equipment, Pin, Weather, Work
from budget.job.rows import Place, Row
from budget.job.settings import DropPoint, Settings
from budget.job.spending import ChangeReason, Progress, Spend, SpendState
from budget.job.whole import Assumption, Job, Notice

__all__ = [
    "Area",
    "Assumption",
    "Bid",
    "BidScope",
    "BuildUp",
    "ChangeReason",
    "ChecklistLine",
    "Corner",
    "CutPiece",
    "DeliveryBasis",
    "DeliveryStep",
    "Disposal",
    "DropPoint",
    "Equipment",
    "Extra",
    "Job",
    "Level",
    "Measure",
    "Notice",
    "Pin",
    "Place",
    "PriceBreak",
    "Product",
    "Progress",
    "Quote",
    "Row",
    "Settings",
    "Shape",
    "Spend",
    "SpendState",
    "Stock",
    "Supplier",
    "Trench",
    "Vehicle",
    "Wall",
    "Weather",
    "Work",
]
