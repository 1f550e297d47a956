"""The Spending sheet: plan against spend by line, the forecast and the cash by week.

Sums of entries are formulas over the Entries sheet; what the tool foresees is stored and marked.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from budget.numerals import date_format
from budget.report import words
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
    letter,
)
from budget.report.book.entries import AGREED, IN, ORDERED, OUT, PAID, Told, summed, told_entries
from budget.report.spend_words import VERBS
from budget.spend.standing import Standing
from budget.spend.tracking import Tracked, Tracking, Week
from budget.units import HOURS, MONEY, RATIO, Kind

SPENDING = "Spending"
_LINES, _WEEKS = 0, 1
_SAME = 1e-9
_CHART_ROWS = 17

#: Columns of the weeks, counted from 0, that the charts draw.
_OUT, _IN, _PAID, _COMES_TO, _LIMIT, _ROOM, _OF_ROOM, _WORK_LEFT = range(1, 9)


def spending_sheet(found: Standing) -> Sheet:
    """How the money stood on one day. Sums and differences are formulas over the entries' sums."""
    tracking = found.tracking
    opening = (
        f"How things stood on {words.date(tracking.day)}, against “{tracking.against}”. What was "
        "ordered and paid adds up the Entries sheet; what it will come to is as “budget spend” "
        "foresees it, which does so again."
    )
    sheet = Sheet(SPENDING, SPENDING, opening, frozen=False)
    told = told_entries(found)
    sheet.tables.append(_lines(sheet, tracking, told))
    if tracking.weeks:
        sheet.tables.append(_weeks(sheet, tracking, told))
    if found.coming:
        sheet.tables.append(_coming(found))
    if len(tracking.weeks) > 1:
        sheet.tables += _charts(sheet, tracking, found.job.settings.currency)
    return sheet


def spending_checks(sheet: Sheet) -> list[tuple[str, str, Kind]]:
    """Sums of the sheet that must come to nought: what is checked, its formula, its kind."""
    row = sheet.first_row(_LINES) + len(sheet.tables[_LINES].body)
    return [
        ("Spending: the four reasons, less what is above the plan",
         f"=SUM({SPENDING}!$I${row}:$L${row}) - {SPENDING}!$H${row}", MONEY),
        ("Spending: paid and to come, less what it comes to",
         f"={SPENDING}!$E${row} + {SPENDING}!$F${row} - {SPENDING}!$G${row}", MONEY),
    ]  # fmt: skip


def _money(cents: int | None) -> Cell:
    return NONE if cents is None else Stored(float(cents), MONEY, "fixed")


def _foreseen(cents: float) -> Cell:
    return Stored(float(cents), MONEY)


def _reason(cents: int) -> Cell:
    return _foreseen(cents) if cents else NONE


def _lines(sheet: Sheet, tracking: Tracking, told: Sequence[Told]) -> Table:
    titles = ("Planned", AGREED, ORDERED, PAID, "To come", "Comes to", "Above plan",
              "Price", "Quantity", "Scope", "Pace")  # fmt: skip
    notes = {
        "Planned": "As accepted; without an accepted plan, as planned now.",
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
    table = Table(columns, [], title="Line by line", filters=True)
    rows = [_line(t, told, _head_row(sheet, table)) for t in tracking.lines]
    sums = [sum(column) for column in zip(*map(_sums, tracking.lines), strict=True)]
    hours = (tracking.spent_hours, tracking.planned_hours)
    foot: list[Cell] = ["Together", *(SumAbove(float(cents), MONEY) for cents in sums)]
    foot += [SumAbove(number, HOURS) for number in hours]
    return replace(table, rows=rows, foot=[foot] if rows else ())


def _head_row(sheet: Sheet, table: Table) -> int:
    """The Excel row of the headings of the table that comes next."""
    sheet.tables.append(table)
    row = sheet.head_row(len(sheet.tables) - 1)
    sheet.tables.pop()
    return row


def _sums(t: Tracked) -> tuple[int, ...]:
    why = t.why
    return (t.planned, t.changes, t.ordered, t.paid, t.to_come, t.will_come_to, t.over,
            why.price, why.quantity, why.scope, why.pace)  # fmt: skip


def _line(t: Tracked, told: Sequence[Told], head: int) -> list[Cell]:
    """One line; ``head`` is the row of the headings, by which the entries' sums are named."""
    mine = [one for one in told if one.line == t.line]
    hours = sum(one.entry.own_hours or 0.0 for one in mine)
    worked: Cell = Stored(t.spent_hours, HOURS, "fixed")
    if abs(hours - t.spent_hours) < _SAME:
        worked = Formula("=SUMPRODUCT((entry_line = $A{row}) * entry_hours)", hours, HOURS)
    return [
        t.line, _money(t.planned),
        *(
            _entered(t, cents, what, f"{column}${head}", mine)
            for what, cents, column in ((AGREED, t.changes, "C"), (ORDERED, t.ordered, "D"),
                                        (PAID, t.paid, "E"))
        ),
        Formula("=G{row} - E{row}", float(t.to_come), MONEY),
        _foreseen(t.will_come_to),
        Formula("=G{row} - B{row}", float(t.over), MONEY),
        *map(_reason, (t.why.price, t.why.quantity, t.why.scope, t.why.pace)),
        worked, Stored(t.planned_hours, HOURS, "fixed") if t.planned_hours else NONE,
    ]  # fmt: skip


def _entered(t: Tracked, cents: int, what: str, heading: str, mine: Sequence[Told]) -> Cell:
    """What the entries of a line add up to; stored where a later accepted plan adds to it."""
    if summed(mine, t, what) != cents:
        return _money(cents)
    text = f"=SUMPRODUCT((entry_line = $A{{row}}) * (entry_counts = {heading}) * entry_counted)"
    return Formula(text, float(cents), MONEY)


def _weeks(sheet: Sheet, tracking: Tracking, told: Sequence[Told]) -> Table:
    limited = tracking.limit is not None
    titles = (OUT, IN, "Paid so far", "Comes to",
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
    total = sheet.first_row(_LINES) + len(sheet.tables[_LINES].body)
    table = Table(columns, [], title="Week by week", new_page=True)
    heads = (_head_row(sheet, table), sheet.head_row(_LINES))
    rows = [_week(week, tracking, total, _flows(week, told, heads)) for week in tracking.weeks]
    return replace(table, rows=rows)


def _flows(week: Week, told: Sequence[Told], heads: tuple[int, int]) -> dict[str, Cell]:
    """What the entries of a week add up to; ``heads`` are the rows of headings, of this table and
    of the lines."""
    ours, lines = heads
    same = "(entry_week = $A{row})"
    found: dict[str, Cell] = {
        name: Formula(f"=SUMPRODUCT({same} * (entry_moves = {letter(column)}${ours}) "
                      "* entry_amount)", float(cents), MONEY)
        for name, column, cents in ((OUT, _OUT, week.cash_out), (IN, _IN, week.cash_in))
    }  # fmt: skip
    paid = sum(t.money for t in told if t.counts[0] == PAID and t.entry.date <= week.end)
    found[PAID] = _money(week.paid)
    if paid == week.paid:
        text = (f"=SUMPRODUCT((entry_week <= $A{{row}}) * (entry_counts = $E${lines}) "
                "* entry_counted)")  # fmt: skip
        found[PAID] = Formula(text, float(paid), MONEY)
    found["hours"] = Formula(f"=SUMPRODUCT({same} * entry_hours)", week.own_hours, HOURS)
    return found


def _week(week: Week, tracking: Tracking, total: int, flows: dict[str, Cell]) -> list[Cell]:
    """One week; ``total`` is the row of the sums of the lines, with the first plan in it."""
    line = tracking.planned + tracking.changes if tracking.limit is None else tracking.limit
    room = line - week.will_come_to
    share: Cell = NONE
    if tracking.contingency:
        text = f"=G{{row}} / (F{{row}} - $B${total})"
        share = Formula(text, room / tracking.contingency, RATIO)
    left = Stored(round(1.0 - (week.work_done or 0.0), 3), RATIO)
    return [
        Day(week.end, origin="fixed"), flows[OUT], flows[IN], flows[PAID],
        _foreseen(week.will_come_to), _money(line),
        Formula("=F{row} - E{row}", float(room), MONEY), share, left,
        flows["hours"],
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
        number_format="0%" if axis == "share" else "#,##0", along_format=date_format(),
        stays=False,
    )  # fmt: skip


def _coming(found: Standing) -> Table:
    columns = [Column("What to do", 30), Column("Day", 14), Column("Money", 12, right=True),
               Column("Line, seller, and more"), *[Column("")] * 9]  # fmt: skip
    rows: list[list[Cell]] = [
        [
            VERBS[c.kind],
            Day(c.day) if c.day else NONE,
            _money(c.cents or None),
            Across(f"{', '.join(word for word in (c.line, c.who) if word)}: {c.note}"),
        ]
        for c in found.coming
    ]
    return Table(columns, rows, title="What comes next")
