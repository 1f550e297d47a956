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
    lead: int = 0  # likely days from the order
    lead_sure: int = 0  # days reckoned with, so that it comes in time as surely as asked for


@dataclass(frozen=True, slots=True)
class Use:
    """The days on which one machine is used, and for how many machine hours in all."""

    days: tuple[int, ...]
    hours: float
    short: frozenset[int] = frozenset()  # days on which half a day of hire covers it
    steps: frozenset[str] = frozenset()  # that use it


@dataclass(frozen=True, slots=True)
class Wait:
    """A task that begins later than it could, so that its machine costs less hire."""

    task: str
    day: int  # on which it begins
    sooner: int  # on which it could begin
    finish: int  # of the whole work then
    saves: int  # cents of hire


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
    there_to: int | None = None  # the last day on which it can be had, if that is too early
    use: Use = Use((), 0.0)
    wait: Wait | None = None  # how the work waits so that the hire costs no more than planned


@dataclass(frozen=True, slots=True)
class Week:
    """What is to be paid in one week, cents. ``first`` is its first day."""

    first: int
    cash: int
    lines: tuple[tuple[str, int], ...]
    numbers: tuple[int, ...] = ()  # among the plan's, from 0, of the lines paid whole


@dataclass(frozen=True, slots=True)
class Kept:
    """How much longer delays keep a rented machine out, on average."""

    equipment: str
    days: float
    cash: float  # cents


@dataclass(frozen=True, slots=True)
class Gone:
    """A machine that must go back on a day, and how often the work still needs it then."""

    equipment: str
    day: int  # the last on which it can be had
    chance: float


@dataclass(frozen=True, slots=True)
class Late:
    """One seller or firm that may come after it is needed."""

    who: str
    chance: float  # that work is held up
    days: float  # working days that work is held up by, on average over all cases
    cost: float  # cents of lost days on average, own hours at their value


@dataclass(frozen=True, slots=True)
class Delays:
    """What wet days and late goods do, from seeded draws."""

    draws: int
    seed: int
    causes: tuple[str, ...]  # what is drawn: rain, late goods, late crews
    persistence: float  # of wet days; nought: each day for itself
    middle: int  # the day by which half of the draws are done
    likely: int  # the day by which eight of ten are done
    later: float  # days later than with none of it, on average
    hours: float  # own hours of work on soft ground done again, on average
    kept: tuple[Kept, ...]
    late: tuple[Late, ...]
    gone: tuple[Gone, ...]
    billed: tuple[str, ...]  # bids that bill lost days to the owner
    cash: tuple[float, ...]  # cents beyond the plan at 0, 1, ... 100 per cent of all cases
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
    delays: Delays | None
    notes: tuple[str, ...]
    assumed: tuple[Assumption, ...]
    soonest: int = 0  # the day on which it could end if no work waited for cheaper hire

    @property
    def away(self) -> tuple[Had, ...]:
        """Machines that cannot be had for as long as the work needs them."""
        return tuple(m for m in self.machines if m.there_to is not None)

    @property
    def certain(self) -> int:
        """Cents of hire that no wait spares, for certain beyond what the plan priced."""
        return sum(max(0, m.cash - m.planned) for m in self.machines)

    @property
    def beyond(self) -> tuple[float, ...]:
        """Cents beyond the plan's cash at 0, 1, ... 100 per cent of all cases.

        Hire days as the working days fall, days that delays add, and what lost days cost.
        """
        return self.delays.cash if self.delays else (float(self.certain),) * 101

    def date(self, day: int) -> dt.date | None:
        """The date of a day, None where the job has no start date.

        >>> Calendar("", dt.date(2026, 5, 2), 0, (), (), (), (), (), None, (), ()).date(7)
        datetime.date(2026, 5, 9)
        """
        return None if self.start is None else self.start + dt.timedelta(days=day)
