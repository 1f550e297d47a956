"""What a sheet and a column are: the words in which every sheet is described once.

The blank workbook, the reader, its messages and the documentation all work from these
descriptions (see :mod:`budget.workbook.sheets.tabs`), so they cannot drift apart.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from functools import cache, lru_cache
from typing import Literal

from budget import reference
from budget.units import MONEY, RATIO, Kind, System

Value = Literal[
    "text",  # any words
    "choice",  # one of a closed list
    "flag",  # yes or no, or two words that mean no and yes
    "date",
    "whole",  # a whole number
    "number",  # a bare number
    "money",  # money, or money per something
    "share",  # a percentage, kept as a ratio
    "measure",  # a number with a unit
    "list",  # several names, set apart by commas
    "raw",  # read by the sheet's own rule (its unit depends on another cell)
]
Sign = Literal["any", "not negative", "positive"]


#: Titles of the columns that the blank workbook's own formulas fill; they are never read back.
LOOK_AT = "Look at"
LIVE_TITLES: dict[str, tuple[str, ...]] = {
    "Areas": ("Area about",),
    "Quotes": ("Price of one unit",),
    "Suppliers": ("Quotes so far",),
    "Stock": ("Usable pieces",),
    "Spend": ("With tax",),
}


@dataclass(frozen=True, slots=True)
class Names:
    """Where the names allowed in a column are defined, and how bad an unknown one is."""

    sheet: str
    field: str
    unknown: Literal["problem", "warning", "free"] = "problem"


@dataclass(frozen=True, slots=True)
class Column:
    """One column of a sheet (or one setting of the Job sheet)."""

    field: str  # the field of the dataclass in budget.job
    title: str  # without its unit
    note: str  # one or two sentences shown beside the cell
    value: Value = "text"
    kind: Kind | None = None  # what a measure or money measures
    choices: tuple[str, ...] = ()  # a closed list; for a flag: the word for no, then for yes
    table: str = ""  # a reference table whose first column is the closed list
    names: Names | None = None
    blank: str = ""  # what a blank means, in words
    required: bool = False
    sign: Sign = "not negative"
    likely: tuple[float, float] = (0.005, 1.0)  # for a share: between which ratios it may lie
    most: float | None = 1.0  # for a share: the largest ratio that makes sense
    width: int = 11
    unit_word: str = ""  # for a raw column: what stands in the header's brackets

    def __post_init__(self) -> None:
        """A date with its month in letters, a unit with a star take more room than a number."""
        least = (
            13 if self.value == "date" else 14 if self.value == "measure" and self.required else 0
        )
        object.__setattr__(self, "width", max(self.width, least))

    def options(self) -> tuple[str, ...]:
        """The closed list of this column, if it has one."""
        if self.table:
            return first_column(self.table)
        if self.value == "flag":
            return self.choices or ("no", "yes")
        return self.choices

    def unit_text(self, system: System, currency: str) -> str:
        """The unit that stands in the header, such as ``ft`` or ``USD per ton``."""
        if self.value == "share":
            return RATIO.imperial.label
        if self.value == "money":
            kind = self.kind or MONEY
            return f"{currency} {kind.unit(system).label}".strip()
        if self.value == "measure" and self.kind is not None:
            return self.kind.unit(system).label
        return self.unit_word

    def header(self, system: System, currency: str) -> str:
        """The title as written above the column.

        >>> from budget.units import LENGTH
        >>> Column("length", "Length", "", "measure", LENGTH).header("imperial", "USD")
        'Length (ft)'
        """
        unit = self.unit_text(system, currency)
        return f"{self.title} ({unit})" if unit else self.title


@dataclass(frozen=True, slots=True)
class Sheet:
    """One sheet: what it holds, when it is worth filling, and its columns."""

    name: str
    row: type  # the dataclass of budget.job that one row becomes
    target: str  # the field of budget.job.Job that holds the rows
    purpose: str
    worth: str  # when it is worth filling
    columns: tuple[Column, ...]
    required: bool = False
    settings: bool = False  # one row is one setting, as on the Job sheet
    unique: tuple[str, ...] = ()  # fields that together name a row once
    helpers: tuple[str, ...] = ()  # columns that help to read a row and are no field of it
    worked_out: tuple[str, ...] = ()  # fields that come from several columns
    group: str = field(default="")

    def column(self, name: str) -> Column:
        """The column of one field."""
        return next(c for c in self.columns if c.field == name)

    @property
    def live(self) -> tuple[str, ...]:
        """Titles of the columns that formulas of the blank workbook fill, never read back."""
        return () if self.settings else (*LIVE_TITLES.get(self.name, ()), LOOK_AT)


@cache
def first_column(table: str) -> tuple[str, ...]:
    """The first column of a reference table, in its order."""
    return tuple(next(iter(row.values())) for row in reference.rows(table))


@lru_cache(maxsize=4096)
def key(name: str) -> str:
    """A name as it is compared: no case, no spaces, no punctuation.

    >>> key("Build-Up ") == key("build up")
    True
    """
    folded = re.sub(r"[\W_]+", "", name.casefold())
    return folded or name.strip().casefold()
