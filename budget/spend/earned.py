"""Earned value: the figures of the published practice, for those who ask for them.

Identities of the usual practice (the published sources stand at each of their tests): cost and
schedule variance, the two performance indices, three forecasts at completion, and the index to
be kept from now on. A figure that cannot be worked out is None, never zero or infinite.
"""

from __future__ import annotations

from dataclasses import dataclass

from budget.reference import steps as step_kinds
from budget.spend.finding import folded
from budget.spend.schedule import schedule
from budget.spend.tracking import Tracked, Tracking
from budget.spend.yardstick import Yardstick


@dataclass(frozen=True, slots=True)
class Earned:
    """Four sums in any one unit of money; ``planned`` is None without a planned finish."""

    budget: float  # budget at completion
    planned: float | None  # planned value: work that should be done by now, at its budget
    earned: float  # earned value: work that is done, at its budget
    actual: float  # actual cost of it

    @property
    def cost_variance(self) -> float:
        """Earned less actual; below zero: dearer than planned.

        >>> Earned(4000, 3000, 2500, 2800).cost_variance
        -300
        """
        return self.earned - self.actual

    @property
    def schedule_variance(self) -> float | None:
        """Earned less planned; below zero: behind."""
        return None if self.planned is None else self.earned - self.planned

    @property
    def cost_index(self) -> float | None:
        """Earned over actual; below one: each unit of money buys less work than planned."""
        return _ratio(self.earned, self.actual)

    @property
    def schedule_index(self) -> float | None:
        """Earned over planned."""
        return None if self.planned is None else _ratio(self.earned, self.planned)

    @property
    def forecast_typical(self) -> float | None:
        """At completion, if the rest goes as the work so far: budget over cost index.

        >>> round(Earned(4000, 3000, 2500, 2800).forecast_typical)
        4480
        """
        return self._forecast(self.cost_index)

    @property
    def forecast_atypical(self) -> float:
        """At completion, if the rest goes as planned: actual and the budget of the rest."""
        return self.actual + self.budget - self.earned

    @property
    def forecast_late(self) -> float | None:
        """At completion, if money and time both go on as so far."""
        cost, time = self.cost_index, self.schedule_index
        return None if cost is None or time is None else self._forecast(cost * time)

    def _forecast(self, factor: float | None) -> float | None:
        if not factor:
            return None
        return self.actual + (self.budget - self.earned) / factor

    @property
    def to_complete(self) -> float | None:
        """Still to spend, if the rest goes as the work so far."""
        forecast = self.forecast_typical
        return None if forecast is None else forecast - self.actual

    @property
    def variance_at_completion(self) -> float | None:
        """Budget less the typical forecast; below zero: over."""
        forecast = self.forecast_typical
        return None if forecast is None else self.budget - forecast

    @property
    def index_to_budget(self) -> float | None:
        """The cost index that the rest must keep to end within the budget.

        None once the budget is spent: no index could keep it then.
        """
        return _ratio(self.budget - self.earned, self.budget - self.actual)

    @property
    def doubts(self) -> tuple[str, ...]:
        """What makes these figures doubtful, by the checks of the GAO cost guide."""
        found = []
        values = (self.budget, self.earned, self.actual, self.planned or 0)
        if any(value < 0 for value in values):
            found.append("A sum is below zero.")
        if self.earned > 0 and not self.actual:
            found.append("Work is done and nothing has been paid for it yet.")
        if self.earned > 0 and self.planned == 0:
            found.append("Work is done before any was planned.")
        return tuple(found)


def _ratio(top: float, bottom: float) -> float | None:
    return top / bottom if bottom > 0 else None


def earned(stick: Yardstick, found: Tracking) -> Earned:
    """The figures of a job, in cents of cash and of own hours at the user's value.

    A line's share done is that of its steps; a line without a step is done as far as it is
    paid. What should be done by now follows the steps in their usual order from the start to
    the planned finish (:mod:`budget.spend.schedule`).
    """
    value = stick.hour_value
    lines = [line for line in found.lines if line.in_plan]
    budget = sum(_budget(line, value) for line in lines)
    done = sum(_budget(line, value) * _share(line) for line in lines)
    actual = sum(line.paid + line.spent_hours * value for line in found.lines)
    return Earned(budget, _planned(stick, found), done, actual)


def _share(line: Tracked) -> float:
    if line.done is not None:
        return line.done
    if line.planned_hours or not line.agreed:
        return 0.0
    return max(0.0, min(1.0, line.paid / line.will_come_to)) if line.will_come_to > 0 else 0.0


def _planned(stick: Yardstick, found: Tracking) -> float | None:
    plan = schedule(stick, tuple(step_kinds()), found.day)
    if plan is None:
        return None
    steps = {key: line.steps for key, line in stick.lines.items()}
    return sum(
        _budget(line, stick.hour_value) * plan.share(steps.get(folded(line.line), ()))
        for line in found.lines
        if line.in_plan
    )


def _budget(line: Tracked, hour_value: float) -> float:
    return line.agreed + line.planned_hours * hour_value
