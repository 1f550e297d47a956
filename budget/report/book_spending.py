"""The Spending sheet: plan against spend by line, the forecast and the cash by week."""

from __future__ import annotations

from budget.numerals import short_date
from budget.report import words
from budget.report.book_cells import (
    NONE,
    Across,
    Cell,
    Chart,
    Column,
    Formula,
    Sheet,
    Stored,
    SumAbove,
    Table,
)
from budget.spend.standing import Standing
from budget.spend.tracking import Tracked, Tracking, Week
from budget.units import HOURS, MONEY, RATIO, Kind

SPENDING = "Spending"
_LINES, _WEEKS = 0, 1
_CHART_ROWS = 15

#: Columns of the weeks, counted from 0, that the charts draw.
_OUT, _IN, _PAID, _COMES_TO, _LIMIT, _ROOM, _OF_ROOM, _WORK_LEFT = range(1, 9)


def spending_sheet(found: Standing) -> Sheet:
    """How the money stood on one day. Sums and differences are formulas over the entries' sums."""
    tracking = found.tracking
    opening = (
        f"How things stood on {words.date(tracking.day)}, against “{tracking.against}”. Sums of "
        "entries are stored; differences follow from them. “budget spend” adds them up again."
    )
    sheet = Sheet(SPENDING, SPENDING, opening, frozen=False)
    sheet.tables.append(_lines(tracking))
    if tracking.weeks:
        sheet.tables.append(_weeks(sheet, tracking))
    if found.coming:
        sheet.tables.append(_coming(found))
    if len(tracking.weeks) > 1:
        sheet.tables += _charts(sheet, tracking, found.job.settings.currency)
    return sheet


def spending_checks(sheet: Sheet) -> list[tuple[str, str, Kind]]:
    """Sums of the sheet that must come to nought: what is checked, its formula, its kind."""
    row = sheet.first_row(_LINES) + len(sheet.tables[_LINES].rows)
    return [
        ("Spending: the four reasons, less what is above the plan",
         f"=SUM({SPENDING}!$I${row}:$L${row}) - {SPENDING}!$H${row}", MONEY),
        ("Spending: paid and to come, less what it comes to",
         f"={SPENDING}!$E${row} + {SPENDING}!$F${row} - {SPENDING}!$G${row}", MONEY),
    ]  # fmt: skip


def _money(cents: int | None) -> Cell:
    return NONE if cents is None else Stored(float(cents), MONEY, "fixed")


def _lines(tracking: Tracking) -> Table:
    titles = ("Planned", "Agreed since", "Ordered", "Paid", "To come", "Comes to", "Above plan",
              "Price", "Quantity", "Scope", "Pace")  # fmt: skip
    notes = {
        "To come": "Comes to, less paid.",
        "Above plan": "Comes to, less planned.",
        "Price": "Price, quantity, scope and pace add up to what is above the plan.",
    }
    columns = [
        Column("Line", 30),
        *(Column(title, 12, notes.get(title, ""), right=True) for title in titles),
        Column("Own hours", 10, right=True),
        Column("Of planned", 10, right=True),
    ]
    rows = [_line(t) for t in tracking.lines]
    sums = [sum(column) for column in zip(*map(_sums, tracking.lines), strict=True)]
    hours = (tracking.spent_hours, tracking.planned_hours)
    foot: list[Cell] = ["Together", *(SumAbove(float(cents), MONEY) for cents in sums)]
    foot += [SumAbove(number, HOURS) for number in hours]
    return Table(columns, rows, title="Line by line", filters=True, foot=[foot] if rows else ())


def _sums(t: Tracked) -> tuple[int, ...]:
    why = t.why
    return (t.planned, t.changes, t.ordered, t.paid, t.to_come, t.will_come_to, t.over,
            why.price, why.quantity, why.scope, why.pace)  # fmt: skip


def _line(t: Tracked) -> list[Cell]:
    cells: list[Cell] = [t.line, *map(_money, _sums(t))]
    cells[5] = Formula("=G{row} - E{row}", float(t.to_come), MONEY)
    cells[7] = Formula("=G{row} - B{row}", float(t.over), MONEY)
    hours: list[Cell] = [Stored(h, HOURS, "fixed") for h in (t.spent_hours, t.planned_hours)]
    return [*cells, *hours]


def _weeks(sheet: Sheet, tracking: Tracking) -> Table:
    limited = tracking.limit is not None
    titles = ("Cash out", "Cash in", "Paid so far", "Comes to",
              "Spending limit" if limited else "Plan and changes", "Room left", "Room left, share",
              "Work left, share", "Own hours")  # fmt: skip
    notes = {
        "Room left": "The limit less what it comes to.",
        "Room left, share": "Of the room that the limit leaves above the first plan.",
    }
    columns = [
        Column("Week to", 30),
        *(Column(title, 12, notes.get(title, ""), right=True) for title in titles),
    ]
    total = sheet.first_row(_LINES) + len(sheet.tables[_LINES].rows)
    rows = [_week(week, tracking, total) for week in tracking.weeks]
    return Table(columns, rows, title="Week by week", new_page=True)


def _week(week: Week, tracking: Tracking, total: int) -> list[Cell]:
    """One week; ``total`` is the row of the sums of the lines, with the first plan in it."""
    line = tracking.planned + tracking.changes if tracking.limit is None else tracking.limit
    room = line - week.will_come_to
    share: Cell = NONE
    if tracking.contingency:
        text = f"=G{{row}} / (F{{row}} - $B${total})"
        share = Formula(text, room / tracking.contingency, RATIO)
    left = Stored(round(1.0 - (week.work_done or 0.0), 3), RATIO, "fixed")
    return [
        short_date(week.end), _money(week.cash_out), _money(week.cash_in), _money(week.paid),
        _money(week.will_come_to), _money(line),
        Formula("=F{row} - E{row}", float(room), MONEY), share, left,
        Stored(week.own_hours, HOURS, "fixed"),
    ]  # fmt: skip


def _charts(sheet: Sheet, tracking: Tracking, currency: str) -> list[Table]:
    """The forecast, the room against the work, and the cash, each under its own heading."""
    cash = f"cash, {currency}"
    found = [_chart(sheet, "What it will come to, week by week", cash, "lines",
                    (_COMES_TO, _PAID, _LIMIT))]  # fmt: skip
    if tracking.contingency and tracking.contingency > 0:
        found.append(
            _chart(sheet, "Room left, and work left", "share", "lines", (_OF_ROOM, _WORK_LEFT))
        )
    found.append(_chart(sheet, "Cash out and in, week by week", cash, "columns", (_OUT, _IN)))
    return [Table([Column("")], [], headless=True, chart=chart) for chart in found]


def _chart(sheet: Sheet, title: str, axis: str, kind: str, columns: tuple[int, ...]) -> Chart:
    first = sheet.first_row(_WEEKS) - 1
    last = first + len(sheet.tables[_WEEKS].rows) - 1
    heads = sheet.head_row(_WEEKS) - 1
    return Chart(
        title, axis, SPENDING, (first, 0, last, 0),
        [((heads, column), (first, column, last, column)) for column in columns],
        rows=_CHART_ROWS, kind="lines" if kind == "lines" else "columns", along="week to",
        number_format="0%" if axis == "share" else "#,##0",
    )  # fmt: skip


def _coming(found: Standing) -> Table:
    columns = [Column("What", 30), Column("Day", 12), Column("Money", 12, right=True),
               Column("Line and seller"), *[Column("")] * 9]  # fmt: skip
    rows: list[list[Cell]] = [
        [
            c.note,
            short_date(c.day) if c.day else "",
            _money(c.cents or None),
            Across(", ".join(word for word in (c.line, c.who) if word)),
        ]
        for c in found.coming
    ]
    return Table(columns, rows, title="What comes next")
