"""What a day costs on which work must stop."""

from __future__ import annotations

from dataclasses import dataclass

from budget.job import Settings
from budget.prices.options import Options
from budget.reference import Coefficient, coefficient


@dataclass(frozen=True, slots=True)
class LostDay:
    """One day on which work stops: cents paid, and own hours gone."""

    cash: float
    hours: float

    def cost(self, hour_value: float) -> float:
        """Both together in cents, own hours at ``hour_value`` cents.

        >>> LostDay(1500.0, 3.0).cost(2000.0)
        7500.0
        """
        return self.cash + self.hours * hour_value


def lost_hours() -> Coefficient:
    """The documented own hours that a lost day takes."""
    return coefficient("lost hours")


def lost_day(settings: Settings, options: Options) -> LostDay:
    """As the Job sheet says, else hours of the owner, and of paid helpers at their pay."""
    if settings.lost_day is not None:
        return LostDay(settings.lost_day, 0.0)
    pay = options.helper_pay.value * options.paid_helpers if options.helper_pay else 0.0
    hours = lost_hours().likely
    return LostDay(hours * pay, hours)
