"""How a job stands: the workbook, its accepted plans and its journal put together."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from budget.decide.brief import laid_out, plan_briefly
from budget.decide.outcome import Comparison
from budget.job import Job, Notice
from budget.spend import baseline_book
from budget.spend.again import Again, plan_again
from budget.spend.baseline import Baseline
from budget.spend.coming import Coming, coming
from budget.spend.days_out import as_accepted
from budget.spend.earned import Earned, earned
from budget.spend.finding import folded
from budget.spend.joining import with_journal
from budget.spend.track import held_against, track
from budget.spend.tracking import Tracking
from budget.spend.yardstick import Yardstick


@dataclass(frozen=True, slots=True)
class Standing:
    """Everything about the money of a job on one day."""

    job: Job  # with the entries of the journal
    stick: Yardstick
    tracking: Tracking
    coming: tuple[Coming, ...]
    again: Again | None  # None: not planned anew
    earned: Earned
    on_both: int = 0  # entries of the journal that are on the Spend sheet too, counted once


def stand(
    job: Job,
    workbook: Path,
    scenario: str | None = None,
    day: dt.date | None = None,
    check: Callable[[Sequence[Notice]], None] = lambda notices: None,
) -> Standing:
    """How a job stands on a day (see :func:`budget.spend.track`).

    Reads the accepted plans and the journal beside the workbook; writes nothing. ``check`` sees
    what the quantities and the quotes tell, and raises where that must stop the work. Raises
    :class:`budget.spend.baseline_book.BaselineError` and what :func:`budget.spend.track` does.
    """
    joined, warnings, on_both = with_journal(job, workbook)
    baselines = baseline_book.read(baseline_book.path_for(workbook))
    if baselines:
        comparison = laid_out(joined)
    else:
        named = scenario is not None and folded(scenario) not in ("", "best")
        comparison = plan_briefly(joined, every=named)
    check((*comparison.takeoff.warnings, *comparison.options.warnings))
    found = standing_of(comparison, baselines, scenario, day)
    told = replace(found.tracking, warnings=(*found.tracking.warnings, *warnings))
    return replace(found, tracking=told, on_both=on_both)


def standing_of(
    comparison: Comparison,
    baselines: tuple[Baseline, ...] = (),
    scenario: str | None = None,
    day: dt.date | None = None,
    *,
    anew: bool = True,
) -> Standing:
    """The same for a comparison whose job has all its entries; planned anew only if ``anew``."""
    if baselines:
        comparison = as_accepted(comparison, baselines[-1])
    stick = held_against(comparison, scenario, baselines)
    tracking = track(comparison, scenario, baselines, day)
    return Standing(
        job=comparison.job,
        stick=stick,
        tracking=tracking,
        coming=coming(comparison, stick, tracking),
        again=plan_again(comparison, stick, tracking) if anew else None,
        earned=earned(stick, tracking),
    )
