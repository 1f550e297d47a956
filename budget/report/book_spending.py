"""The Spending sheet: plan against spend by line, the forecast and the cash by week."""

from __future__ import annotations

from budget.report.book_cells import NONE, Cell, Column, Sheet, Stored, Table
from budget.spend.standing import Standing
from budget.spend.tracking import Tracked, Week
from budget.units import HOURS, MONEY, RATIO

SPENDING = "Spending"


def spending_sheet(found: Standing) -> Sheet:
    """How the money stood on one day, from the entries. Nothing on it is worked out again."""
    tracking = found.tracking
    opening = (
        f"How things stood on {tracking.day.isoformat()}, against “{tracking.against}”. "
        "“budget spend” tells more and works it out again."
    )
    sheet = Sheet(SPENDING, SPENDING, opening)
    sheet.tables.append(_lines(tracking.lines))
    if tracking.weeks:
        sheet.tables.append(_weeks(tracking.weeks))
    if found.coming:
        sheet.tables.append(_coming(found))
    return sheet


def _money(cents: int | None) -> Cell:
    return NONE if cents is None else Stored(float(cents), MONEY, "fixed")


def _lines(lines: tuple[Tracked, ...]) -> Table:
    titles = ("Planned", "Agreed since", "Ordered", "Paid", "To come", "Comes to", "Above plan",
              "Price", "Quantity", "Scope", "Pace")  # fmt: skip
    columns = [
        Column("Line", 30),
        *(Column(title, 12, right=True) for title in titles),
        Column("Own hours", 10, right=True),
        Column("Of planned", 10, right=True),
    ]
    rows: list[list[Cell]] = []
    for t in lines:
        why = t.why
        sums = (t.planned, t.changes, t.ordered, t.paid, t.to_come, t.will_come_to, t.over,
                why.price, why.quantity, why.scope, why.pace)  # fmt: skip
        hours: list[Cell] = [Stored(h, HOURS, "fixed") for h in (t.spent_hours, t.planned_hours)]
        rows.append([t.line, *map(_money, sums), *hours])
    return Table(columns, rows, title="Line by line", filters=True)


def _weeks(weeks: tuple[Week, ...]) -> Table:
    titles = ("Cash out", "Cash in", "Comes to", "Room left", "Work done", "Own hours")
    columns = [Column("Week to", 30), *(Column(title, 12, right=True) for title in titles)]
    rows: list[list[Cell]] = [
        [
            week.end.isoformat(), _money(week.cash_out), _money(week.cash_in),
            _money(week.will_come_to), _money(week.contingency_left),
            NONE if week.work_done is None else Stored(week.work_done, RATIO, "fixed"),
            Stored(week.own_hours, HOURS, "fixed"),
        ]
        for week in weeks
    ]  # fmt: skip
    return Table(columns, rows, title="Week by week")


def _coming(found: Standing) -> Table:
    columns = [Column("What", 30), Column("Day", 12), Column("Line", 12), Column("Who", 12),
               Column("Money", 12, right=True)]  # fmt: skip
    rows: list[list[Cell]] = [
        [c.note, c.day.isoformat() if c.day else "", c.line, c.who, _money(c.cents or None)]
        for c in found.coming
    ]
    return Table(columns, rows, title="What comes next")
