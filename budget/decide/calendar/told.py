"""What the calendar has to say about the plan's cash and its machines."""

from __future__ import annotations

from budget.decide.calendar.result import Calendar, Had
from budget.decide.wording import round_money
from budget.numerals import how_many, weekday
from budget.wording import listed


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
    if calendar is None:
        return []
    found = []
    for m in dearer(calendar):
        days = how_many(m.out, "day")
        more = round_money(m.cash - m.planned, currency)
        priced = "; ".join(m.planned_spells)
        found.append(
            f"{m.equipment}: the calendar needs it for {days}; the plan priced less ({priced}). "
            f"Count on {more} more."
        )
    return found


def _day(calendar: Calendar, number: int) -> str:
    date = calendar.date(number)
    return f"day {number + 1}" if date is None else weekday(date)


def counted(calendar: Calendar, had: Had) -> str:
    """A sentence for a machine whose days out are now in the plan's cash."""
    days = how_many(had.out, "day")
    steps = listed(sorted(had.use.steps))
    return (
        f"{had.equipment}: by its hours {steps} takes less hire, but as the working days fall it "
        f"is out for {days} from {_day(calendar, had.spells[0][0])}: the cash counts those days."
    )


def left_out(calendar: Calendar) -> list[str]:
    """A sentence for each machine that is not there as long as the work needs it."""
    return [f"{_too_short(calendar, m)}: planned without it." for m in calendar.away]


def still_away(calendar: Calendar | None) -> list[str]:
    """The same where no plan does without it."""
    if calendar is None:
        return []
    return [f"{_too_short(calendar, m)}, and no plan does without it." for m in calendar.away]


def _too_short(calendar: Calendar, had: Had) -> str:
    until = _day(calendar, had.there_to or 0)
    needed = _day(calendar, had.spells[-1][1])
    return f"{had.equipment} ({had.machine}) is there until {until}; the work needs it to {needed}"
