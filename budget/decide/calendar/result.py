"""The calendar of a plan: what the schedule found, ready to be shown."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass

from budget.decide.calendar.network import Because
from budget.job import Assumption

# Days count from 0 on the first day; a job without a start date has no dates.


@dataclass(frozen=True, slots=True)
class Entry:
    """One task: from which day to which, how long it may wait, and what it waited for."""

    name: str
    step: str
    how: str
    own: bool  # by own hands
    first: int
    last: int
    hours: float  # by the clock
    own_hours: float
    spare: int  # days that it may start later without moving the finish
    binding: bool  # in the chain that sets the finish
    because: Because
    worked: tuple[int, ...] = ()  # the days on which it is worked at


@dataclass(frozen=True, slots=True)
class OrderBy:
    """Until when to order from one seller or to say yes to one firm."""

    who: str
    what: tuple[str, ...]
    order: int  # the last day to order, below 0 before the work starts
    needed: int  # the day on which it is first used
    arrives: int  # the day it comes, or is fetched
    fetched: bool
    hired: bool  # a firm, not goods
    expires: tuple[str, ...] = ()  # quotes that run out before ``order`` would otherwise be
    late: bool = False  # cannot be there in time: the work waits for it


@dataclass(frozen=True, slots=True)
class Had:
    """How one machine is had on the calendar, and what that costs against the plan."""

    equipment: str
    machine: str
    way: str
    spells: tuple[tuple[int, int], ...]  # first and last day out
    used: int  # days on which it is used
    out: float  # days paid for
    cash: int  # cents
    planned: int  # cents, as the plan has it
    planned_spells: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Week:
    """What is to be paid in one week, cents. ``first`` is its first day."""

    first: int
    cash: int
    lines: tuple[tuple[str, int], ...]


@dataclass(frozen=True, slots=True)
class Kept:
    """How much longer rain keeps a rented machine out, on average."""

    equipment: str
    days: float
    cash: float  # cents


@dataclass(frozen=True, slots=True)
class Rain:
    """What rain does, from seeded draws of wet days."""

    draws: int
    seed: int
    middle: int  # the day by which half of the draws are done
    likely: int  # the day by which eight of ten are done
    later: float  # days later than without rain, on average
    hours: float  # own hours of work on soft ground done again, on average
    kept: tuple[Kept, ...]
    billed: tuple[str, ...]  # bids that bill lost days to the owner
    assumed: tuple[Assumption, ...]


@dataclass(frozen=True, slots=True)
class Calendar:
    """When the work of one plan is done."""

    title: str
    start: dt.date | None
    finish: int
    entries: tuple[Entry, ...]
    chain: tuple[str, ...]  # names of the tasks that set the finish
    orders: tuple[OrderBy, ...]
    machines: tuple[Had, ...]
    weeks: tuple[Week, ...]
    rain: Rain | None
    notes: tuple[str, ...]
    assumed: tuple[Assumption, ...]

    def date(self, day: int) -> dt.date | None:
        """The date of a day, None where the job has no start date.

        >>> Calendar("", dt.date(2026, 5, 2), 0, (), (), (), (), (), None, (), ()).date(7)
        datetime.date(2026, 5, 9)
        """
        return None if self.start is None else self.start + dt.timedelta(days=day)
