"""Wet days in spells: a chain of two states whose share of wet days is what the user gives.

Richardson's kind of weather generator: whether a day is wet hangs on the day before. With a share
``s`` of wet days and a persistence ``r``, a wet day follows a dry one with the chance
``s (1 - r)`` and a wet one with ``s (1 - r) + r``. Over time a share ``s`` of days is wet, and
a wet spell lasts ``1 / ((1 - s) (1 - r))`` days on average; with ``r`` at nought each day is for
itself.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from typing import Any

from budget.decide.risk.draws import stream
from budget.job import Assumption, Job
from budget.numerals import trimmed
from budget.reference import coefficient, rows

_LASTING, _DRYING = "wet persistence", "drying after rain"


def monthly(job: Job) -> dict[int, float]:
    """The chance of a wet day by month, 1 to 12; months that are not given are dry."""
    numbers = {row["month"]: int(row["number"]) for row in rows("months")}
    return {numbers[w.month]: w.wet for w in job.weather}


def drying(job: Job) -> int:
    """Whole days that open ground stays too wet."""
    given = job.settings.drying_days
    return round(coefficient(_DRYING).likely if given is None else given)


def persistence(job: Job) -> float:
    """How much likelier a wet day is after a wet day than after a dry one [ratio]."""
    given = job.settings.wet_persistence
    return coefficient(_LASTING).likely if given is None else given


def after(share: float, lasting: float) -> tuple[float, float]:
    """The chance of a wet day after a dry one and after a wet one.

    Source: Geng, Penning de Vries and Supit 1986, Agricultural and Forest Meteorology 36, found
    0.75 and 0.25 + 0.75 times the share of wet days: a persistence of 0.25.

    >>> after(0.4, 0.25)
    (0.30000000000000004, 0.55)
    """
    dry = share * (1 - lasting)
    return dry, dry + (lasting if share > 0 else 0.0)


def wet_days(
    start: dt.date, span: int, chances: Mapping[int, float], lasting: float, draws: int, seed: int
) -> Any:
    """Which day of which draw is wet, a row a draw. A greater chance only adds wet days.

    The first day is wet with its month's share, whatever the day before was.
    """
    import numpy as np

    wet = np.zeros((draws, span), bool)
    before: Any = None
    for day in range(span):
        share = chances.get((start + dt.timedelta(days=day)).month, 0.0)
        dry, rainy = after(share, lasting)
        chance = share if before is None else np.where(before, rainy, dry)
        before = wet[:, day] = stream(seed, f"wet day {day}").random(draws) < chance
    return wet


def assumed(job: Job) -> list[Assumption]:
    """The documented defaults about rain that a job leaves as they are."""
    found = []
    if job.settings.drying_days is None:
        rule = coefficient(_DRYING)
        found.append(Assumption(rule.what, f"{trimmed(rule.likely)} day", rule.cited, rule.sheet))
    if job.settings.wet_persistence is None:
        rule = coefficient(_LASTING)
        found.append(
            Assumption(rule.what, f"{trimmed(rule.likely * 100)} %", rule.cited, rule.sheet)
        )
    return found
