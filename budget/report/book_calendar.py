"""The Calendar sheet: tasks, orders, machines and cash by week of the best plan."""

from __future__ import annotations

from collections.abc import Sequence

from budget.decide.calendar.cash import RULE
from budget.decide.calendar.result import Calendar, Entry, Had, OrderBy, Week
from budget.decide.plan import Comparison
from budget.numerals import short_date
from budget.report import calendar as said
from budget.report.book_cells import (
    Across,
    Cell,
    Chart,
    Column,
    Sheet,
    Stored,
    SumAbove,
    Table,
    saying,
)
from budget.units import COUNT, DAYS, HOURS, MONEY

CALENDAR = "Calendar"
_CHART_ROWS = 16


def calendar_sheet(comparison: Comparison) -> Sheet:
    """When the best plan is done. Days come from the tool: they do not move by themselves."""
    found = comparison.calendar
    currency = comparison.job.settings.currency
    opening = "When each step is done. “budget calendar” works it out again."
    if found is None:
        sheet = Sheet(CALENDAR, CALENDAR, opening, frozen=False)
        sheet.tables.append(saying("No plan yet."))
        return sheet
    opening = f"The best plan ends {said.ends(found)}. {opening}"
    sheet = Sheet(CALENDAR, CALENDAR, opening, frozen=False)
    sheet.tables.append(_tasks(found))
    if found.orders:
        sheet.tables.append(_orders(found))
    if found.machines:
        sheet.tables.append(_machines(found))
    if found.weeks:
        sheet.tables.append(_weeks(found))
        sheet.tables.append(_chart(sheet, found, currency))
    told = (RULE, *_minded(found), *said.remarks(found, currency))
    remarks: list[list[Cell]] = [[Across(text)] for text in told]
    sheet.tables.append(Table([Column("")], remarks, title="To mind", headless=True))
    return sheet


def order_days(comparison: Comparison) -> dict[str, str]:
    """When to order from each seller, as written in the buying list."""
    found = comparison.calendar
    if found is None:
        return {}
    return {o.who: said.order_told(found, o) for o in found.orders if not o.hired}


def _day(found: Calendar, number: int) -> str:
    date = found.date(number)
    return short_date(date) if date else said.day(found, number)


def _tasks(found: Calendar) -> Table:
    columns = [
        Column("Task", 26),
        Column("How", 24),
        Column("Waits for", 34),
        Column("From", 13),
        Column("To", 13),
        Column("Hours by the clock", 10, right=True),
        Column("Own hours", 10, right=True),
        Column("Can wait, days", 15, "Days it may start later without moving the finish.",
               right=True),
    ]  # fmt: skip
    return Table(columns, [_task(found, e) for e in found.entries], title="Tasks")


def _task(found: Calendar, e: Entry) -> list[Cell]:
    wait: Cell = "sets the finish" if e.binding else Stored(e.spare, COUNT, "solved")
    return [
        e.name, e.how, said.why(e), _day(found, e.first), _day(found, e.last),
        Stored(e.hours, HOURS, "solved"), Stored(e.own_hours, HOURS, "solved"), wait,
    ]  # fmt: skip


def _orders(found: Calendar) -> Table:
    by, who, what, comes, used, _ = said.ORDERS
    widths = (26, 24, 34, 13, 13)
    columns = [Column(t, w) for t, w in zip((who, comes, what, by, used), widths, strict=True)]
    return Table(columns, [_order(found, o) for o in found.orders], title="What to order by when")


def _order(found: Calendar, order: OrderBy) -> list[Cell]:
    _, who, what, comes, *_ = said.order_row(found, order)
    return [who, comes, what, _day(found, order.order), _day(found, order.needed)]


def _minded(found: Calendar) -> list[str]:
    """What to mind at an order: late, or a price that ends."""
    rows = [said.order_row(found, order) for order in found.orders]
    return [f"{row[1]}: {row[-1]}." for row in rows if row[-1]]


def _machines(found: Calendar) -> Table:
    columns = [
        *(Column(t, w) for t, w in zip(said.HIRES[:3], (26, 24, 30), strict=True)),
        *(Column(t, 10, right=True) for t in said.HIRES[3:]),
    ]
    return Table(columns, [_machine(found, m) for m in found.machines], title="Machines")


def _machine(found: Calendar, m: Had) -> list[Cell]:
    return [
        m.equipment, m.machine, said.spells(found, m), Stored(m.used, COUNT, "solved"),
        Stored(m.out, DAYS, "solved"), Stored(m.cash, MONEY, "solved"),
        Stored(m.planned, MONEY, "solved"),
    ]  # fmt: skip


def _weeks(found: Calendar) -> Table:
    columns = [Column("Week from", 26), Column("To pay", 24, right=True), Column("For", 34)]
    total: Sequence[Cell] = ["Together", SumAbove(sum(w.cash for w in found.weeks), MONEY), ""]
    rows = [_week(found, w) for w in found.weeks]
    return Table(columns, rows, title="Cash by week", foot=[list(total)])


def _week(found: Calendar, week: Week) -> list[Cell]:
    names = ", ".join(name for name, _ in week.lines)
    return [_day(found, week.first), Stored(week.cash, MONEY, "solved"), names]


def _chart(sheet: Sheet, found: Calendar, currency: str) -> Table:
    top = sheet.first_row(len(sheet.tables) - 1) - 1
    last = top + len(found.weeks) - 1
    chart = Chart(
        "Cash by week", currency, CALENDAR, (top, 0, last, 0),
        [((top - 1, 1), (top, 1, last, 1))], _CHART_ROWS, "columns", "week from",
    )  # fmt: skip
    return Table([Column("")], [], chart=chart, headless=True)
