"""One input over a range: the best plan at each value."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from budget.decide.brief import plan_briefly
from budget.decide.plan import Priced
from budget.decide.wording import changes
from budget.job import Job


@dataclass(frozen=True, slots=True)
class Varied:
    """The best plan at one value of an input."""

    value: str
    bedding: str
    priced: Priced | None  # None: no plan can be built
    total: float  # cash and own hours at the hour value of that run, cents
    change: str  # against the value before, in words


def vary(values: Iterable[str], job_at: Callable[[str], Job]) -> tuple[Varied, ...]:
    """The best plan at each of some values; ``job_at`` gives the job with that value set."""
    found: list[Varied] = []
    before: Priced | None = None
    for value in values:
        comparison = plan_briefly(job_at(value), every=False)
        best = comparison.best.priced if comparison.best else None
        words = changes(before.plan, best.plan) if before and best else ""
        total = best.total(comparison.options.hour_value.value) if best else 0.0
        found.append(Varied(value, best.plan.bedding if best else "", best, total, words))
        before = best
    return tuple(found)
