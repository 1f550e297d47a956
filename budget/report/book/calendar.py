"""The Calendar sheet: tasks, orders, machines and cash by week of the best plan."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from budget.decide.calendar.cash import RULE
from budget.decide.calendar.result import Calendar, Entry, Had, OrderBy, Week
from budget.decide.outcome import Comparison
from budget.decide.plan import Priced
from budget.numerals import date_format
from budget.report import calendar as said
from budget.report.book.cells import (
    NONE,
    Across,
    Cell,
    Chart,
    Column,
    Day,
    Formula,
    Sheet,
    Stored,
    SumAbove,
    Table,
    saying,
)
from budget.report.book.plans import cash_cell
from budget.units import COUNT, DAYS, HOURS, MONEY

CALENDAR = "Calendar"
#: Dates are looked up on paper again and again: in letters of so many points at least.
_LEAST = 7.0
_CHART_ROWS = 16


def calendar_sheet(comparison: Comparison) -> Sheet:
    """When the best plan is done. Days come from the tool: they do not move by themselves."""
    found = comparison.calendar
    currency = comparison.job.settings.currency
    opening = "When each step is done. “budget calendar” works it out again."
    if found is None:
        sheet = Sheet(CALENDAR, CALENDAR, opening, frozen=False, least_size=_LEAST)
        sheet.tables.append(saying("No plan yet."))
        return sheet
    opening = f"The plan ends {said.ends(found)}. {opening}"
    sheet = Sheet(CALENDAR, CALENDAR, opening, frozen=False, least_size=_LEAST)
    priced = comparison.best.priced if comparison.best else None
    sheet.tables.append(_tasks(found))
    if found.orders:
        sheet.tables.append(_orders(found))
    if found.machines:
        sheet.tables.append(_machines(found, priced))
    if found.weeks:
        alive = priced if weeks_paid(comparison) else None
        sheet.tables.append(_weeks(found, alive))
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


def weeks_paid(comparison: Comparison) -> dict[int, Cell]:
    """The week in which each line of the best plan is paid, by the line's place in the plan."""
    found, best = comparison.calendar, comparison.best
    if found is None or best is None or best.priced is None:
        return {}
    lines = best.priced.lines
    if sum(line.cash for line in lines) != sum(week.cash for week in found.weeks):
        return {}  # the calendar is of another plan
    return {number: _day(found, week.first) for week in found.weeks for number in week.numbers}


def _day(found: Calendar, number: int) -> Day | str:
    date = found.date(number)
    return Day(date) if date else said.day(found, number)


def _tasks(found: Calendar) -> Table:
    columns = [
        Column("Task", 26),
        Column("How", 24),
        Column("Waits for", 34),
        Column("From", 13),
        Column("To", 13),
        Column("Hours by the clock", 13, right=True),
        Column("Own hours", 13, right=True),
        Column("Can wait", 15, "Days it may start later without moving the finish.",
               right=True, unit="days"),
    ]  # fmt: skip
    return Table(columns, [_task(found, e) for e in found.entries], title="Tasks")


def _task(found: Calendar, e: Entry) -> list[Cell]:
    wait: Cell = "sets the finish" if e.binding else Stored(e.spare, COUNT, "solved")
    return [
        e.name, e.how, said.why(e), _day(found, e.first), _day(found, e.last),
        Stored(e.hours, HOURS, "solved"), Stored(e.own_hours, HOURS, "solved"), wait,
    ]  # fmt: skip


def _orders(found: Calendar) -> Table:
    ahead = "Lead days, and more where the seller is closed, a price ends or it is late already."
    columns = [
        Column("Who", 26), Column("How it comes", 24), Column("What", 34), Column("Comes", 13),
        Column("Order by", 13, "That many days before it comes."),
        Column("Ahead", 13, ahead, right=True, unit="days"), Column("First used", 13),
    ]  # fmt: skip
    return Table(columns, [_order(found, o) for o in found.orders], title="What to order by when")


def _order(found: Calendar, order: OrderBy) -> list[Cell]:
    _, who, what, *_ = said.order_row(found, order)
    how = "fetched" if order.fetched else "starts" if order.hired else "comes"
    by = _day(found, order.order)
    if isinstance(by, Day):
        by = replace(by, formula="=D{row} - F{row}")
    return [who, how, what, _day(found, order.arrives), by,
            Stored(order.arrives - order.order, COUNT), _day(found, order.needed)]  # fmt: skip


def _minded(found: Calendar) -> list[str]:
    """What to mind at an order: late, or a price that ends."""
    rows = [said.order_row(found, order) for order in found.orders]
    return [f"{row[1]}: {row[-1]}." for row in rows if row[-1]]


def _machines(found: Calendar, priced: Priced | None) -> Table:
    columns = [
        *(Column(t, w) for t, w in zip(said.HIRES[:3], (26, 24, 34), strict=True)),
        Column(said.HIRES[3], 13, right=True, unit="days"),
        *(Column(t, 13, right=True) for t in said.HIRES[4:]),
        Column("More than planned", 15, right=True),
    ]
    rows = [_machine(found, m, priced) for m in found.machines]
    return Table(columns, rows, title="Machines")


def _machine(found: Calendar, m: Had, priced: Priced | None) -> list[Cell]:
    choice = f"machine:{m.equipment}"
    lines = [x for x in priced.lines if x.choice == choice and x.cash] if priced else []
    planned: Cell = Stored(m.planned, MONEY, "solved")
    if len(lines) == 1 and lines[0].cash == m.planned:
        planned = cash_cell(lines[0])
    return [
        m.equipment, m.machine, said.spells(found, m), Stored(m.used, COUNT, "solved"),
        Stored(m.out, DAYS, "solved"), Stored(m.cash, MONEY, "solved"), planned,
        Formula("=F{row} - G{row}", m.cash - m.planned, MONEY),
    ]  # fmt: skip


def _weeks(found: Calendar, alive: Priced | None) -> Table:
    """What each week costs; from the lines of ``alive``, the plan, where they are known."""
    staged = "Of it, by stages"
    note = "Parts of bills that are paid in stages, as the calendar has them."
    columns = [Column("Week from", 26), Column("To pay", 24, name="week_cash", right=True),
               Column(staged, 34, note, right=True), Column("For"), *[Column("")] * 4]  # fmt: skip
    total: Sequence[Cell] = ["Together", SumAbove(sum(w.cash for w in found.weeks), MONEY), ""]
    rows = [_week(found, w, alive) for w in found.weeks]
    remark = "Which line is paid in which week stands on Plan lines; the sums follow its cash."
    return Table(columns, rows, title="Cash by week", remark=remark, foot=[list(total)])


def _week(found: Calendar, week: Week, alive: Priced | None) -> list[Cell]:
    names = Across(", ".join(name for name, _ in week.lines))
    if alive is None:
        return [_day(found, week.first), Stored(week.cash, MONEY, "solved"), NONE, names]
    staged = week.cash - sum(alive.lines[number].cash for number in week.numbers)
    text = "=SUMIF(line_week, A{row}, line_cash)" + (" + C{row}" if staged else "")
    by_stages: Cell = Stored(staged, MONEY) if staged else NONE
    return [_day(found, week.first), Formula(text, week.cash, MONEY), by_stages, names]


def _chart(sheet: Sheet, found: Calendar, currency: str) -> Table:
    top = sheet.first_row(len(sheet.tables) - 1) - 1
    last = top + len(found.weeks) - 1
    heads = sheet.head_row(len(sheet.tables) - 1) - 1
    chart = Chart(
        "Cash by week", currency, CALENDAR, (top, 0, last, 0),
        [((heads, 1), (top, 1, last, 1))], _CHART_ROWS, "columns", "week from",
        along_format=date_format() if found.start else "",
    )  # fmt: skip
    return Table([Column("")], [], chart=chart, headless=True)
