"""What several documents share: money, numbers, the job, defaults that were used."""

from __future__ import annotations

from typing import Any

from budget.job import Assumption, Job
from budget.units import round_half_up


def money(cents: float) -> float:
    """Cents as a number of dollars, euros or pounds, exact to the cent.

    >>> money(123456), money(0.5)
    (1234.56, 0.01)
    """
    return round_half_up(cents) / 100


def number(value: float) -> float:
    """A measure or a time with the noise of the last digits taken off."""
    return round(value, 6)


def job_head(job: Job) -> dict[str, Any]:
    """What every document says about the job."""
    settings = job.settings
    return {
        "name": settings.name,
        "currency": settings.currency,
        "units": settings.units,
        "as_of": settings.as_of.isoformat(),
    }


def assumption(assumed: Assumption) -> dict[str, Any]:
    """A default that was used; its value as a number with a unit where it is one."""
    value, unit = _split(assumed.value)
    return {
        "what": assumed.what,
        "value": value,
        "unit": unit,
        "source": assumed.source,
        "sheet": assumed.sheet,
    }


def _split(text: str) -> tuple[float | str, str]:
    first, _, rest = text.partition(" ")
    try:
        return float(first.replace(",", "")), rest
    except ValueError:
        return text, ""
