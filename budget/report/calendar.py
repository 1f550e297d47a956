"""The calendar in words: for the terminal, and the rows that page and workbook share."""

from __future__ import annotations

from collections.abc import Sequence

from budget.decide.calendar.cash import RULE
from budget.decide.calendar.result import Calendar, Delays, Entry, Had, Late, OrderBy, Wait, Week
from budget.decide.calendar.told import dearer
from budget.numerals import grouped, how_many, trimmed, weekday
from budget.report import words
from budget.report.terminal.blocks import Block, Gap, Heading, Pair, Text, table
from budget.wording import listed

TASKS = ("Task", "How", "From", "To", "Hours by the clock", "Own hours", "Can wait", "Waits for")
ORDERS = ("Order by", "Who", "What", "Comes", "First used", "Mind")
HIRES = ("Machine", "From", "On the calendar", "Days used", "Days out", "Cost", "In the plan")
WEEKS = ("Week from", "To pay", "For")

#: The tasks in a window narrower than this have the columns that say what to do when.
_WIDE = 110
NARROW = ("From", "To", "Task", "Own hours", "Can wait")
_WIDER = (
    f"A window of {_WIDE} columns or more shows hours by the clock and what each task waits for "
    "too."
)

#: Chances below this are not worth a word.
_WORTH_SAYING = 0.02


def day(calendar: Calendar, number: int) -> str:
    """A day as people say it: its date, else its number.

    >>> day(Calendar("", None, 0, (), (), (), (), (), None, (), ()), 2)
    'day 3'
    """
    date = calendar.date(number)
    if date is not None and calendar.start is not None:
        return weekday(date, year=date.year != calendar.start.year)
    if number < 0:
        return f"{words.count(-number, 'day')} before day 1"
    return f"day {number + 1}"


def ends(calendar: Calendar) -> str:
    """When the work ends, without rain and late goods, and with them."""
    date = calendar.date(calendar.finish)
    if date is None:
        return f"on working day {calendar.finish + 1}"
    text = weekday(date, year=True)
    found = calendar.delays
    if found is None:
        return f"{text} without rain"
    causes = listed(found.causes)
    half, eight = day(calendar, found.middle), day(calendar, found.likely)
    if half == eight:
        return f"{text} if all goes well; with {causes} by {eight} in 8 of 10 cases"
    return (
        f"{text} if all goes well; with {causes} by {half} in half of the cases, by {eight} in "
        "8 of 10"
    )


def why(entry: Entry) -> str:
    """What a task waits for."""
    because = entry.because
    wait = f", and {trimmed(because.wait)} h after it" if because.wait else ""
    return {
        "start": "",
        "after": f"{because.name}{wait}",
        "hands": f"hands at {because.name}",
        "goods": f"goods from {because.name}",
        "crew": f"{because.name} to come",
        "machine": f"the {because.name} to be there",
        "hire": f"a day from which the {because.name} is hired for less",
    }[because.kind]


def chain(calendar: Calendar) -> tuple[str, ...]:
    """The tasks that set the finish; with the first what it waits for, if it waits."""
    if not calendar.chain:
        return ()
    first = next(e for e in calendar.entries if e.name == calendar.chain[0])
    waits = f" (waits for {why(first)})" if why(first) else ""
    return (f"{first.name}{waits}", *calendar.chain[1:])


def _tenths(hours: float) -> str:
    """Hours of one task to a tenth; a task that takes next to none is not told to take none.

    >>> _tenths(3.94), _tenths(0.02), _tenths(0)
    ('3.9', '<0.1', '–')
    """
    if not hours:
        return "–"
    return grouped(hours, 1) if hours >= 0.05 else f"<{grouped(0.1, 1)}"


def task_row(calendar: Calendar, entry: Entry) -> tuple[str, ...]:
    """One task, in the order of :data:`TASKS`."""
    spare = words.count(entry.spare, "day") if entry.spare else "no"
    return (
        entry.name,
        entry.how,
        day(calendar, entry.first),
        day(calendar, entry.last),
        _tenths(entry.hours),
        _tenths(entry.own_hours),
        "sets the finish" if entry.binding else spare,
        why(entry),
    )


def _arrival(order: OrderBy) -> str:
    """What the goods or the crew do on the day they are there, unless they just come."""
    return "fetched " if order.fetched else "starts " if order.hired else ""


def order_row(calendar: Calendar, order: OrderBy) -> tuple[str, ...]:
    """One seller or firm, in the order of :data:`ORDERS`."""
    mind = []
    if order.late:
        mind.append("cannot be there sooner: the work waits for it")
    if order.expires:
        mind.append(f"the price of {listed(order.expires)} ends then")
    return (
        day(calendar, order.order),
        order.who,
        ", ".join(order.what),
        f"{_arrival(order)}{day(calendar, order.arrives)}",
        day(calendar, order.needed),
        "; ".join(mind),
    )


def order_told(calendar: Calendar, order: OrderBy) -> str:
    """When to order from one seller, when the goods come, and what to mind: one line."""
    *_, used, mind = order_row(calendar, order)
    comes = f"{_arrival(order) or 'comes '}{day(calendar, order.arrives)}"
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
        trimmed(had.out),
        words.money(had.cash, currency),
        words.money(had.planned, currency),
    )


def week_row(calendar: Calendar, week: Week, currency: str) -> tuple[str, ...]:
    """One week, in the order of :data:`WEEKS`."""
    names = ", ".join(name for name, _ in week.lines)
    return day(calendar, week.first), words.money(week.cash, currency), names


def disagreements(calendar: Calendar, currency: str) -> list[str]:
    """Where work waits for a machine, or the plan priced it for other days than it is out."""
    found = []
    for m in calendar.machines:
        over = m.cash - m.planned
        if over:
            more = "more" if over > 0 else "less"
            found.append(
                f"{m.equipment}: as the working days fall, it is out {_days(m.out)} "
                f"({spells(calendar, m)}), which costs {words.money(abs(over), currency)} {more} "
                f"than the plan has ({'; '.join(m.planned_spells)})."
            )
        if m.wait is not None:
            found.append(_waiting(calendar, m, m.wait, currency))
    return found


def _days(number: float) -> str:
    return how_many(number, "day")


def _lost(days: float, what: str = "day") -> str:
    """Days on average, as finely as matters: a tenth of one.

    >>> _lost(0.04), _lost(1.02), _lost(2.5, "working day")
    ('less than a tenth of a day', '1 day', '2.5 working days')
    """
    if days < 0.05:
        return f"less than a tenth of a {what}"
    return how_many(round(days, 1), what)


def _waiting(calendar: Calendar, had: Had, wait: Wait, currency: str) -> str:
    """What the work waits for, and what not waiting would cost and gain."""
    begins, sooner, finish = (day(calendar, d) for d in (wait.day, wait.sooner, wait.finish))
    gains = (
        f"the work ends {finish}" if wait.finish < calendar.finish else "the work ends no sooner"
    )
    return (
        f"{had.equipment}: {wait.task} waits until {begins}, so that the hire costs no more than "
        f"planned. Begun on {sooner} it costs {words.money(wait.saves, currency)} more and {gains}."
    )


def hire_days(calendar: Calendar | None, currency: str) -> list[str]:
    """The same in short, where the plan's cash is too little."""
    return [
        f"{m.equipment}: {_days(m.out)}, "
        f"{words.money(m.cash - m.planned, currency)} more than in the cash"
        for m in dearer(calendar)
    ]


def delays_told(calendar: Calendar, currency: str) -> list[str]:
    """What rain and late goods do, in sentences."""
    found = calendar.delays
    if found is None:
        return []
    return [
        _pushed(found),
        *(_late(late, currency) for late in found.late if late.chance >= _WORTH_SAYING),
        *_gone(calendar, found),
        *_kept(found, currency),
        *_beyond(found, currency),
    ]


def _room(calendar: Calendar) -> list[str]:
    """Sellers whose order day leaves room for lead days that run over."""
    found = [
        f"{o.who} {words.count(o.lead_sure, 'day')} for {o.lead}"
        for o in calendar.orders
        if o.lead_sure > o.lead
    ]
    if not found:
        return []
    return [f"Order days leave room for lead days that run over: {listed(found)}."]


def _pushed(found: Delays) -> str:
    causes = listed(found.causes)
    points = f"{trimmed(found.persistence * 100)} points"
    spells = f"wet days come in spells, {points} likelier after a wet day than after a dry one"
    how = {True: f"; {spells}" if found.persistence else "; each day for itself", False: ""}
    return (
        f"{causes[:1].upper()}{causes[1:]} push the finish back by {_lost(found.later)} "
        f"on average ({grouped(found.draws)} draws{how['rain' in found.causes]})."
    )


def _late(late: Late, currency: str) -> str:
    text = (
        f"{late.who}: comes too late in {words.percent(round(late.chance, 2))} of the cases, "
        f"{_lost(late.days, 'working day')} lost on average"
    )
    return f"{text}, about {words.money_round(late.cost, currency)}." if late.cost else f"{text}."


def _gone(calendar: Calendar, found: Delays) -> list[str]:
    return [
        f"{g.equipment}: still needed after {day(calendar, g.day)}, when it must be back, in "
        f"{words.percent(round(g.chance, 2))} of the cases."
        for g in found.gone
        if g.chance >= _WORTH_SAYING
    ]


def _kept(found: Delays, currency: str) -> list[str]:
    told = [
        f"{k.equipment}: kept {_lost(k.days)} longer on average, about "
        f"{words.money_round(k.cash, currency)}."
        for k in found.kept
        if k.days >= 0.05
    ]
    if found.hours >= 0.05:
        told.append(
            f"Soft ground is dug out again for {words.hours(round(found.hours, 1))} on average."
        )
    if found.billed:
        told.append(f"Days lost to rain are billed to you by {listed(found.billed)}.")
    return told


def _beyond(found: Delays, currency: str) -> list[str]:
    """Cash beyond the plan for days, where there is any."""
    middle, eight = found.cash[50], found.cash[80]
    if eight < 100:
        return []
    half, most = words.money_round(middle, currency), words.money_round(eight, currency)
    come = f"{half} in half of the cases, {most} in 8 of 10"
    if half == most:
        come = f"{half} in half of the cases and in 8 of 10"
    return [f"Hire days and days lost beyond those in the cash come to {come}."]


def remarks(calendar: Calendar, currency: str) -> list[str]:
    """Everything worth minding beside the tables."""
    return [
        *_room(calendar), *delays_told(calendar, currency), *disagreements(calendar, currency),
        *calendar.notes,
    ]  # fmt: skip


def blocks(
    calendar: Calendar, name: str, currency: str, quiet: bool, columns: int | None = None
) -> list[Block]:
    """What ``budget calendar`` prints; ``columns`` are those of a window, which shows the end."""
    if quiet:
        return [Text(f"Ends {ends(calendar)}.")]
    start = calendar.date(0)
    head: list[Block] = [
        Heading(f"{name}: calendar of “{calendar.title}”"),
        Pair("Starts", words.date(start) if start else "not planned yet: days are counted"),
        Pair("Ends", ends(calendar)),
        Pair("Set by", " → ".join(chain(calendar))),
    ]
    tables = _tables(calendar, currency, columns is not None and columns < _WIDE)
    told = [Text(text) for text in (RULE, *remarks(calendar, currency))]
    if columns is None:
        return [*head, Gap(), *tables, Gap(), *told]
    return [*tables, Gap(), *told, Gap(), *head]


def _tables(calendar: Calendar, currency: str, narrow: bool) -> list[Block]:
    """Tasks, orders, machines and weeks; in a narrow window tasks without all their columns."""
    if narrow:
        found: list[Block] = [table(NARROW, [_narrow_row(calendar, e) for e in calendar.entries],
                                    (3,)), Text(_WIDER)]  # fmt: skip
    else:
        found = [table(TASKS, [task_row(calendar, e) for e in calendar.entries], (4, 5))]
    found += _section("What to order by when", ORDERS, [order_row(calendar, o) for o in
                                                        calendar.orders], ())  # fmt: skip
    found += _section("Machines", HIRES, [hire_row(calendar, m, currency) for m in
                                          calendar.machines], (3, 4, 5, 6))  # fmt: skip
    found += _section("Cash by week", WEEKS, [week_row(calendar, w, currency) for w in
                                              calendar.weeks], (1,))  # fmt: skip
    return found


def _narrow_row(calendar: Calendar, entry: Entry) -> tuple[str, ...]:
    """One task, in the order of :data:`NARROW`."""
    name, how, first, last, _, own, wait, _ = task_row(calendar, entry)
    return first, last, f"{name}: {how}" if how else name, own, wait


def _section(
    title: str, titles: Sequence[str], rows: list[tuple[str, ...]], right: tuple[int, ...]
) -> list[Block]:
    return [Gap(), Heading(title), table(titles, rows, right)] if rows else []
