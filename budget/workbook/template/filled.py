"""What a new quotes workbook already holds, and where on its sheets each thing stands."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass, field

from budget.numerals import Manner
from budget.reference.manners import manner_of
from budget.units import System
from budget.workbook.example_jobs import Content
from budget.workbook.sheets.describe import Sheet
from budget.workbook.sheets.tabs import sheet as sheet_named
from budget.workbook.table import letter

#: The row of titles on every sheet but Start and Lists, counted from 1.
HEADER = 4
#: Drop-downs, checks and notes reach down to this row.
LAST_ROW = 500

RowContent = Mapping[str, Content]


@dataclass(frozen=True, slots=True)
class Filled:
    """The cells of a new workbook by sheet and field; the Job sheet is one row of settings."""

    system: System
    currency: str
    rows: Mapping[str, tuple[RowContent, ...]] = field(default_factory=dict)
    today: dt.date = field(default_factory=lambda: dt.datetime.now().astimezone().date())

    def of(self, sheet: str) -> tuple[RowContent, ...]:
        """The rows of one sheet."""
        return tuple(self.rows.get(sheet, ()))

    def column(self, sheet: str, name: str) -> list[str]:
        """What one column holds as text, row by row, blanks left out."""
        return [str(row[name]) for row in self.of(sheet) if name in row]

    @property
    def manner(self) -> Manner:
        """How its dates are shown: as its own job writes them."""
        job = next(iter(self.of("Job")), {})
        numbers, dates = str(job.get("numbers", "")), str(job.get("dates", ""))
        return manner_of(self.currency, self.system, numbers, dates)

    @property
    def as_of(self) -> dt.date:
        """The day on which prices are looked at: the setting, or today."""
        said = next(iter(self.of("Job")), {}).get("as_of")
        return said if isinstance(said, dt.date) else self.today


def column_letter(sheet: Sheet, name: str) -> str:
    """The letter of the column of one field on the sheets we write."""
    return letter(next(i for i, c in enumerate(sheet.columns, 1) if c.field == name))


def span(sheet: str, name: str, last: int = LAST_ROW, first: int = HEADER + 1) -> str:
    """The cells of one column of a sheet, as a formula of any sheet names them.

    >>> span("Build-up", "name")
    "'Build-up'!$A$5:$A$500"
    """
    at = column_letter(sheet_named(sheet), name)
    return f"{quoted(sheet)}!${at}${first}:${at}${last}"


def quoted(sheet: str) -> str:
    """A sheet's name as formulas write it."""
    return sheet if sheet.isalpha() else f"'{sheet}'"


def setting_cell(name: str) -> str:
    """The cell of one setting on the Job sheet we write.

    >>> setting_cell("name")
    'Job!$B$5'
    """
    job = sheet_named("Job")
    row = next(i for i, c in enumerate(job.columns, HEADER + 1) if c.field == name)
    return f"Job!$B${row}"
