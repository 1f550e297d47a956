"""What the calendar has to say about the plan's cash."""

from __future__ import annotations

from budget.decide.calendar.result import Calendar, Had
from budget.decide.wording import round_money


def dearer(calendar: Calendar | None) -> list[Had]:
    """Machines that are out longer as the working days fall than the plan's cash pays for."""
    return [m for m in calendar.machines if m.cash > m.planned] if calendar else []


def short_of_hire(calendar: Calendar | None, currency: str) -> list[str]:
    """A warning for each of them, with what the plan's cash is short of.

    >>> from budget.decide.calendar.result import Had
    >>> saw = Had("Saw", "rent from Shop", "rent", ((0, 2),), 2, 3.0, 9000, 4000, ("Cut: 1 day",))
    >>> short_of_hire(Calendar("", None, 2, (), (), (), (saw,), (), None, (), ()), "USD")
    ['Saw: the calendar needs it for 3 days; the plan priced less (Cut: 1 day). Count on $50 more.']
    """
    found = []
    for m in dearer(calendar):
        days = "1 day" if m.out == 1 else f"{m.out:g} days"
        more = round_money(m.cash - m.planned, currency)
        priced = "; ".join(m.planned_spells)
        found.append(
            f"{m.equipment}: the calendar needs it for {days}; the plan priced less ({priced}). "
            f"Count on {more} more."
        )
    return found
