"""The days that hired machines are out in an accepted plan, as they were counted then."""

from __future__ import annotations

from dataclasses import replace

from budget.decide.calendar.again import with_days_out
from budget.decide.calendar.schedule import schedule
from budget.decide.outcome import Comparison
from budget.spend.baseline import Baseline
from budget.spend.yardstick import priced_now


def as_accepted(comparison: Comparison, baseline: Baseline) -> Comparison:
    """The comparison with those days in its options, on the calendar of the day of accepting.

    So that the plan as the workbook prices it now differs from the accepted one by prices and
    amounts alone. Unchanged where the plan no longer fits the workbook.
    """
    priced, _ = priced_now(comparison, baseline)
    if priced is None:
        return comparison
    settings = replace(comparison.job.settings, as_of=baseline.accepted)
    job = replace(comparison.job, settings=settings)
    calendar = schedule(job, comparison.takeoff, comparison.options, priced, draws=0)
    asked = with_days_out(comparison.options, calendar)
    return comparison if asked is None else replace(comparison, options=asked[0])
