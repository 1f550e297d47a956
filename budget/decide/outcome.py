"""The answer that a comparison comes to: everything that every output is made from."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from budget.decide.calendar.result import Calendar
from budget.decide.plan import Fit, Flip, FrontierPoint, Missing, Priced, Scenario
from budget.decide.risk.result import Risk
from budget.job import Assumption, Job, Notice
from budget.prices.options import Options
from budget.quantities.takeoff import Takeoff

if TYPE_CHECKING:
    from budget.decide.thorough.alike import Alike, Spread
    from budget.decide.thorough.margins import Margin
    from budget.decide.thorough.pareto import Trades


@dataclass(frozen=True, slots=True)
class Deeper:
    """What takes longer to find and fewer people ask for."""

    margins: tuple[Margin, ...]
    bids: tuple[Alike, ...]
    spreads: tuple[Spread, ...]
    trades: Trades | None


@dataclass(frozen=True, slots=True)
class Comparison:
    """The answer: everything that terminal, JSON, workbook and page are made from."""

    job: Job
    takeoff: Takeoff
    options: Options
    scenarios: tuple[Scenario, ...]
    best: Scenario | None
    hired: Scenario | None  # the whole job hired, to compare with
    complete: bool  # nothing is missing from the best plan
    flips: tuple[Flip, ...]
    frontier: tuple[FrontierPoint, ...]
    warnings: tuple[Notice, ...]
    assumed: tuple[Assumption, ...]
    missing: tuple[Missing, ...]  # of the best plan
    next_step: str  # what filled next could change the answer most, in one sentence
    notes: tuple[str, ...] = field(default=())
    fit: Fit | None = None  # where the best plan passes the spending limit
    deeper: Deeper | None = None  # margins, bids like for like, every trade: if asked for
    risk: Risk | None = None  # how sure the answer is; None where nothing is unsure
    calendar: Calendar | None = None  # of the best plan

    @property
    def settled(self) -> bool:
        """Whether the best plan may be called best: nothing is missing from it, it is proved."""
        return self.complete and self.best is not None and self.best.proved

    @property
    def so_far(self) -> str:
        """What to say after "best": nothing once it is settled, else that it is so only so far."""
        return "" if self.settled else " so far"

    @property
    def _both(self) -> tuple[Priced, Priced] | None:
        """The best plan and the one that hires the whole job, if there are both."""
        best, hired = (s.priced if s is not None else None for s in (self.best, self.hired))
        return None if best is None or hired is None else (best, hired)

    @property
    def saving(self) -> int | None:
        """Cash that the best plan saves against hiring the whole job, cents."""
        if self._both is None:
            return None
        best, hired = self._both
        return hired.cash - best.cash

    @property
    def all_hired_is_best(self) -> bool:
        """Whether nothing of the best plan is own work that could be hired."""
        return self._both is not None and self._both[0].plan == self._both[1].plan

    @property
    def hour_earns(self) -> float | None:
        """Cents saved per own hour spent more than when hiring, None if no hours are spent."""
        if self._both is None:
            return None
        best, hired = self._both
        hours = best.own_hours - hired.own_hours
        return (hired.cash - best.cash) / hours if hours > 0 else None
