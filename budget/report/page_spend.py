"""The page's spending section beyond the sums: week by week, and what comes next."""

from __future__ import annotations

from budget.report import words
from budget.report.page_view import Column, Row, Table, View
from budget.spend.standing import Standing


def more(view: View, found: Standing | None) -> tuple[Table, ...]:
    """The reasons line by line, the weeks, and what comes next; nothing without entries."""
    if found is None:
        return ()
    tables = (_reasons(view, found), _weeks(view, found), _coming(view, found))
    return tuple(table for table in tables if table.rows)


def _reasons(view: View, found: Standing) -> Table:
    titles = ("Above the plan", "Price", "Quantity", "Scope", "Pace")
    columns = (Column("Line"), *(Column(title, number=True) for title in titles))
    rows = tuple(
        Row((t.line, *(view.money(c) for c in (t.over, t.why.price, t.why.quantity, t.why.scope,
                                               t.why.pace))))
        for t in found.tracking.lines
        if t.over
    )  # fmt: skip
    return Table("Why it comes to more or less than planned", columns, rows)


def _weeks(view: View, found: Standing) -> Table:
    titles = ("Cash out", "Cash in", "Comes to", "Room left", "Work done", "Own hours")
    columns = (Column("Week to"), *(Column(title, number=True) for title in titles))
    rows = tuple(
        Row(
            (
                words.date(week.end),
                view.money(week.cash_out),
                view.money(week.cash_in),
                view.money(week.will_come_to),
                "–" if week.contingency_left is None else view.money(week.contingency_left),
                "–" if week.work_done is None else words.percent(round(week.work_done, 2)),
                words.hours(week.own_hours),
            )
        )
        for week in found.tracking.weeks
    )
    return Table("Week by week", columns, rows)


def _coming(view: View, found: Standing) -> Table:
    columns = (Column("What"), Column("Day"), Column("Line"), Column("Who"),
               Column("Money", number=True))  # fmt: skip
    rows = tuple(
        Row((c.note, words.date(c.day) if c.day else "", c.line, c.who,
             view.money(c.cents) if c.cents else ""))
        for c in found.coming
    )  # fmt: skip
    return Table("What comes next", columns, rows)
