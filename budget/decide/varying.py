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
    proved: bool = True
    gap: float = 0.0  # share of the total that a better plan could save at most


def vary(values: Iterable[str], job_at: Callable[[str], Job]) -> tuple[Varied, ...]:
    """The best plan at each of some values; ``job_at`` gives the job with that value set."""
    found: list[Varied] = []
    before: Priced | None = None
    for value in values:
        comparison = plan_briefly(job_at(value), every=False)
        best = comparison.best.priced if comparison.best else None
        words = changes(before.plan, best.plan) if before and best else ""
        total = best.total(comparison.options.hour_value.value) if best else 0.0
        bedding = best.plan.bedding if best else ""
        sure = comparison.best is None or comparison.best.proved
        gap = comparison.best.gap if comparison.best else 0.0
        found.append(Varied(value, bedding, best, total, words, sure, gap))
        before = best
    return tuple(found)
