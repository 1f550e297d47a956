"""What ``check`` says: problems, then warnings of every stage, then what was assumed."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from budget.decide.outcome import Comparison
from budget.job import Assumption, Job, Notice
from budget.report.needs import merged

if TYPE_CHECKING:
    from budget.workbook import Reading


@dataclass(frozen=True, slots=True)
class Review:
    """The outcome of a check. ``job`` is None when problems stop the reading."""

    job: Job | None
    problems: tuple[Notice, ...]
    warnings: tuple[Notice, ...]
    assumed: tuple[Assumption, ...]


def review(reading: Reading) -> Review:
    """Every problem and warning of a workbook, down to what its quantities and quotes tell."""
    from budget.prices import flatten
    from budget.quantities import take_off

    problems = in_order(reading.problems)
    if reading.job is None or problems:
        return Review(reading.job, problems, in_order(reading.warnings), ())
    takeoff = take_off(reading.job)
    options = flatten(reading.job, takeoff)
    found = in_order(reading.warnings, takeoff.warnings, options.warnings)
    return Review(
        job=reading.job,
        problems=tuple(notice for notice in found if notice.severity == "problem"),
        warnings=tuple(notice for notice in found if notice.severity != "problem"),
        assumed=merged(takeoff.assumed, options.assumed),
    )


def in_order(*lists: Sequence[Notice]) -> tuple[Notice, ...]:
    """Notices of several stages, each once, in the order of sheets and rows."""
    from budget.workbook.sheets.tabs import SHEETS

    order = {sheet.name: number for number, sheet in enumerate(SHEETS)}
    found = {notice for notices in lists for notice in notices}
    return tuple(sorted(found, key=lambda n: (order.get(n.sheet, len(order)), n)))


def with_warnings(comparison: Comparison, warnings: Iterable[Notice]) -> Comparison:
    """The comparison with the warnings of reading the workbook beside its own."""
    return replace(comparison, warnings=in_order(comparison.warnings, tuple(warnings)))
