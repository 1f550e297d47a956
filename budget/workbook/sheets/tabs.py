"""Every sheet of the quotes workbook, described once, in the order of the tabs."""

from __future__ import annotations

from budget.workbook.sheets import (
    begun,
    buying,
    doing,
    ground,
    hired,
    job,
    made,
    moving,
    plan,
    walls,
)
from budget.workbook.sheets.describe import Column, Sheet, key

_BY_NAME = {
    sheet.name: sheet
    for sheet in (
        job.JOB,
        *plan.SHEETS,
        *ground.SHEETS,
        *walls.SHEETS,
        *made.SHEETS,
        *buying.SHEETS,
        *moving.SHEETS,
        *hired.SHEETS,
        *doing.SHEETS,
        *begun.SHEETS,
    )
}

#: The order of the tabs: the three required sheets first.
SHEETS: tuple[Sheet, ...] = tuple(
    _BY_NAME[name]
    for name in (
        "Job", "Areas", "Quotes", "Suppliers", "Equipment", "Work", "Bids", "Bid scope",
        "Outline", "Levels", "Trenches", "Walls", "Pieces", "Build-up", "Extras", "Products",
        "Stock",
        "Delivery", "Disposal", "Vehicles", "Weather",
        "Checklist", "Scenarios", "Spend", "Progress",
    )
)  # fmt: skip

#: The sheet of settings, read before the others.
JOB = job.JOB

#: Titles of the Job sheet's own columns: one row is one setting.
SETTING_TITLES = ("Setting", "Value", "Unit", "Note")

#: Sheets of the template that are never read back.
NOT_READ = ("Start", "Lists")


def sheet(name: str) -> Sheet:
    """The description of one sheet, by its name in any case or spacing.

    >>> sheet("build up").name
    'Build-up'
    """
    found = next((s for s in SHEETS if key(s.name) == key(name)), None)
    if found is None:
        raise KeyError(name)
    return found


__all__ = ["JOB", "NOT_READ", "SETTING_TITLES", "SHEETS", "Column", "Sheet", "sheet"]
