"""Every broken workbook, by kind of damage."""

from __future__ import annotations

from functools import cache

from tests.battery import (
    cases_files,
    cases_formulas,
    cases_numbers,
    cases_sheets,
    cases_slips,
    cases_words,
)
from tests.battery.case import Case

_MODULES = (
    cases_numbers, cases_slips, cases_words, cases_sheets, cases_formulas, cases_files,
)  # fmt: skip


@cache
def kinds() -> dict[str, list[Case]]:
    """The cases of each kind, in the order of their modules."""
    found: dict[str, list[Case]] = {}
    for module in _MODULES:
        for group in module.GROUPS:
            for case in group():
                found.setdefault(case.kind, []).append(case)
    return found
