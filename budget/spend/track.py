"""Spend tracking: the entries against the lines of the accepted plan, or of a scenario.

The rules are set out in :mod:`budget.spend.rules` and :mod:`budget.spend.reasons`.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from dataclasses import replace

from budget.decide.outcome import Comparison
from budget.job import Spend
from budget.spend.advice import warn
from budget.spend.baseline import Baseline
from budget.spend.deposits import deposits
from budget.spend.finding import find_scenario, priced
from budget.spend.forecast import UNPLANNED, Forecast, book
from budget.spend.other_packs import in_plan_packs
from budget.spend.tallying import in_time, with_mileage
from budget.spend.tracking import Tracked, Tracking
from budget.spend.weeks import weeks, work_done
from budget.spend.yardstick import Yardstick, yardstick

__all__ = ["UNPLANNED", "track"]


def track(
    comparison: Comparison,
    scenario: str | None = None,
    baselines: Sequence[Baseline] = (),
    day: dt.date | None = None,
) -> Tracking:
    """Set the entries against the accepted plans; without any, against a scenario's plan.

    ``scenario`` is the best plan if None, and is not looked at where there is an accepted plan.
    ``day`` is the day to look from (entries after it are left out); the latest of the job's
    as-of date, the last entry, the last progress and the last accepted plan if None. Money is in
    cents with tax, hours are own hours.

    Raises :class:`budget.spend.finding.UnknownNameError` for a scenario that does not exist and
    :class:`budget.spend.finding.NoPlanError` for one that cannot be built.
    """
    stick = held_against(comparison, scenario, baselines)
    job = comparison.job
    entries = in_plan_packs(comparison, stick, with_mileage(job, in_time(job.spend)))
    told = [*(e.date for e in entries[-1:]), *(row.date for row in job.progress)]
    told += [stick.latest.accepted] if stick.latest else []
    today = day or max([job.settings.as_of, *told])
    entries = [entry for entry in entries if entry.date <= today]
    forecast = Forecast(stick, job.progress)
    found = _tracking(stick, forecast, entries, today)
    found = replace(found, weeks=weeks(forecast, stick, entries, found.limit, today))
    return replace(found, warnings=warn(comparison, stick, found, entries))


def held_against(
    comparison: Comparison, scenario: str | None, baselines: Sequence[Baseline]
) -> Yardstick:
    """The accepted plans if there are any, else the scenario of that name."""
    if baselines:
        return yardstick(comparison, None, baselines)
    chosen = find_scenario(comparison, scenario)
    priced(chosen)
    return yardstick(comparison, chosen, ())


def _tracking(
    stick: Yardstick, forecast: Forecast, entries: Sequence[Spend], today: dt.date
) -> Tracking:
    lines = forecast.lines(book(stick, entries), today)
    will = sum(t.will_come_to for t in lines)
    agreed = sum(t.agreed for t in lines)
    limit = stick.limit
    done = forecast.done(today)
    held = deposits(stick, entries)
    return Tracking(
        against=stick.title,
        day=today,
        lines=lines,
        planned=sum(t.planned for t in lines),
        changes=sum(t.changes for t in lines),
        ordered=sum(t.ordered for t in lines),
        paid=sum(t.paid for t in lines),
        to_come=sum(t.to_come for t in lines),
        will_come_to=will,
        limit=limit,
        left=(agreed if limit is None else limit) - will,
        refund_due=sum(t.refund_due for t in lines),
        planned_hours=sum(t.planned_hours for t in lines),
        spent_hours=sum(t.spent_hours for t in lines),
        hours_to_come=sum(_hours_to_come(t) for t in lines),
        deposits_out=sum(d.paid for d in held),
        deposits_back=sum(d.back for d in held),
        deposits_planned=stick.now.deposits if stick.now else 0,
        entries=len(entries),
        warnings=(),
        unpriced=tuple(m.what for m in stick.now.missing) if stick.now else (),
        accepted=stick.number,
        accepted_on=stick.latest.accepted if stick.latest else None,
        work_done=work_done(lines),
        deposits=held,
        step_shares=done.shares,
        why_not=stick.why_not,
    )


def _hours_to_come(line: Tracked) -> float:
    return max(0.0, line.will_hours - line.spent_hours)
