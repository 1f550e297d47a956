"""The calendar in words: for the terminal, and the rows that page and workbook share."""

from __future__ import annotations

from collections.abc import Sequence

from budget.decide.calendar.cash import RULE
from budget.decide.calendar.result import Calendar, Entry, Had, OrderBy, Week
from budget.decide.calendar.told import dearer
from budget.numerals import grouped
from budget.report import words
from budget.report.blocks import Block, Gap, Heading, Pair, Text, table

TASKS = ("Task", "How", "From", "To", "Hours by the clock", "Own hours", "Can wait", "Waits for")
ORDERS = ("Order by", "Who", "What", "Comes", "First used", "Mind")
HIRES = ("Machine", "From", "On the calendar", "Days used", "Days out", "Cost", "In the plan")
WEEKS = ("Week from", "To pay", "For")

_WEEKDAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")


def day(calendar: Calendar, number: int) -> str:
    """A day as people say it: its date, else its number.

    >>> day(Calendar("", None, 0, (), (), (), (), (), None, (), ()), 2)
    'day 3'
    """
    date = calendar.date(number)
    if date is not None:
        return f"{_WEEKDAYS[date.weekday()]} {words.date(date).rsplit(' ', 1)[0]}"
    if number < 0:
        return f"{words.count(-number, 'day')} before day 1"
    return f"day {number + 1}"


def ends(calendar: Calendar) -> str:
    """When the work ends, without rain and with it."""
    date = calendar.date(calendar.finish)
    if date is None:
        return f"on working day {calendar.finish + 1}"
    text = f"{day(calendar, calendar.finish)} {date.year}"
    rain = calendar.rain
    if rain is None:
        return f"{text} without rain"
    return (
        f"{text} without rain; with rain by {day(calendar, rain.middle)} in half of the cases, "
        f"by {day(calendar, rain.likely)} in 8 of 10"
    )


def why(entry: Entry) -> str:
    """What a task waits for."""
    because = entry.because
    wait = f", and {because.wait:g} h after it" if because.wait else ""
    return {
        "start": "",
        "after": f"{because.name}{wait}",
        "hands": f"hands at {because.name}",
        "goods": f"goods from {because.name}",
        "crew": f"{because.name} to come",
    }[because.kind]


def task_row(calendar: Calendar, entry: Entry) -> tuple[str, ...]:
    """One task, in the order of :data:`TASKS`."""
    spare = words.count(entry.spare, "day") if entry.spare else "no"
    return (
        entry.name,
        entry.how,
        day(calendar, entry.first),
        day(calendar, entry.last),
        grouped(entry.hours, 1),
        grouped(entry.own_hours, 1),
        "sets the finish" if entry.binding else spare,
        why(entry),
    )


def order_row(calendar: Calendar, order: OrderBy) -> tuple[str, ...]:
    """One seller or firm, in the order of :data:`ORDERS`."""
    mind = []
    if order.late:
        mind.append("cannot be there sooner: the work waits for it")
    if order.expires:
        mind.append(f"the price of {words.listed(order.expires)} ends then")
    comes = "fetched" if order.fetched else "starts" if order.hired else "comes"
    return (
        day(calendar, order.order),
        order.who,
        ", ".join(order.what),
        f"{comes} {day(calendar, order.arrives)}",
        day(calendar, order.needed),
        "; ".join(mind),
    )


def order_told(calendar: Calendar, order: OrderBy) -> str:
    """When to order from one seller, when the goods come, and what to mind: one line."""
    _, _, _, comes, used, mind = order_row(calendar, order)
    text = f"Order by {day(calendar, order.order)}; {comes}, first used {used}"
    return f"{text}; {mind}." if mind else f"{text}."


def spells(calendar: Calendar, had: Had) -> str:
    """The spells of a machine, as days."""
    return ", ".join(
        day(calendar, a) if a == b else f"{day(calendar, a)} to {day(calendar, b)}"
        for a, b in had.spells
    )


def hire_row(calendar: Calendar, had: Had, currency: str) -> tuple[str, ...]:
    """One machine, in the order of :data:`HIRES`."""
    return (
        had.equipment,
        had.machine,
        spells(calendar, had),
        str(had.used),
        f"{had.out:g}",
        words.money(had.cash, currency),
        words.money(had.planned, currency),
    )


def week_row(calendar: Calendar, week: Week, currency: str) -> tuple[str, ...]:
    """One week, in the order of :data:`WEEKS`."""
    names = ", ".join(name for name, _ in week.lines)
    return day(calendar, week.first), words.money(week.cash, currency), names


def disagreements(calendar: Calendar, currency: str) -> list[str]:
    """Where the plan priced a machine for other days than the calendar needs."""
    found = []
    for m in calendar.machines:
        over = m.cash - m.planned
        if over:
            more = "more" if over > 0 else "less"
            found.append(
                f"{m.equipment}: as the working days fall, it is out {m.out:g} days "
                f"({spells(calendar, m)}), which costs {words.money(abs(over), currency)} {more} "
                f"than the plan has ({'; '.join(m.planned_spells)})."
            )
    return found


def hire_days(calendar: Calendar | None, currency: str) -> list[str]:
    """The same in short, where the plan's cash is too little."""
    return [
        f"{m.equipment}: {m.out:g} days, "
        f"{words.money(m.cash - m.planned, currency)} more than in the cash"
        for m in dearer(calendar)
    ]


def rain_told(calendar: Calendar, currency: str) -> list[str]:
    """What rain does, in sentences."""
    rain = calendar.rain
    if rain is None:
        return []
    found = [
        f"Rain pushes the finish back by {rain.later:.1f} days on average "
        f"({grouped(rain.draws)} draws of wet days by the chances on Weather, each day for itself)."
    ]
    found += [
        f"{k.equipment}: kept {k.days:.1f} days longer on average, about "
        f"{words.money_round(k.cash, currency)}."
        for k in rain.kept
        if k.days >= 0.05
    ]
    if rain.hours >= 0.05:
        found.append(
            f"Soft ground is dug out again for {words.hours(round(rain.hours, 1))} on average."
        )
    if rain.billed:
        found.append(f"Days lost to rain are billed to you by {words.listed(rain.billed)}.")
    return found


def remarks(calendar: Calendar, currency: str) -> list[str]:
    """Everything worth minding beside the tables."""
    return [*rain_told(calendar, currency), *disagreements(calendar, currency), *calendar.notes]


def blocks(calendar: Calendar, name: str, currency: str, quiet: bool) -> list[Block]:
    """What ``budget calendar`` prints."""
    if quiet:
        return [Text(f"Ends {ends(calendar)}.")]
    start = calendar.date(0)
    found: list[Block] = [
        Heading(f"{name}: calendar of “{calendar.title}”"),
        Pair("Starts", words.date(start) if start else "not planned yet: days are counted"),
        Pair("Ends", ends(calendar)),
        Pair("Set by", " → ".join(calendar.chain)),
        Gap(),
        table(TASKS, [task_row(calendar, e) for e in calendar.entries], (4, 5)),
    ]
    found += _section("What to order by when", ORDERS, [order_row(calendar, o) for o in
                                                        calendar.orders], ())  # fmt: skip
    found += _section("Machines", HIRES, [hire_row(calendar, m, currency) for m in
                                          calendar.machines], (3, 4, 5, 6))  # fmt: skip
    found += _section("Cash by week", WEEKS, [week_row(calendar, w, currency) for w in
                                              calendar.weeks], (1,))  # fmt: skip
    return [*found, Gap(), *(Text(t) for t in (RULE, *remarks(calendar, currency)))]


def _section(
    title: str, titles: Sequence[str], rows: list[tuple[str, ...]], right: tuple[int, ...]
) -> list[Block]:
    return [Gap(), Heading(title), table(titles, rows, right)] if rows else []
