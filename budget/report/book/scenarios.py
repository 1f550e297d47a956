"""The Scenarios sheet: the stored plans side by side, by group and by choice."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence

from budget.decide.outcome import Comparison
from budget.decide.plan import Line
from budget.report import words
from budget.report.book.cells import (
    NONE,
    Across,
    Cell,
    Chart,
    Column,
    Formula,
    Sheet,
    Stored,
    Table,
    Text,
    letter,
)
from budget.report.book.plans import StoredPlan, deposits_cell, groups
from budget.units import COUNT, HOURS, MONEY, Kind

SCENARIOS = "Scenarios"
_PLANS, CASH_TABLE, HOURS_TABLE = 0, 1, 2
_BARS = 6  # groups with a bar of their own
_FEW = 12  # rows of choices that need no page of their own
_PLAN_WIDTH = 15


def scenarios_sheet(comparison: Comparison, plans: Sequence[StoredPlan]) -> Sheet:
    """Totals at the hour value, which plan wins, and every scenario by group and choice."""
    opening = (
        "Each plan is a full set of choices for the same job. Cash and own hours are kept apart; "
        "the hour value on the Inputs sheet joins them. Totals follow every input."
    )
    sheet = Sheet(SCENARIOS, "Scenarios side by side", opening, frozen=False)
    sheet.tables.append(_plans(comparison, plans))
    shown = [plan for plan in plans if plan.scenario is not None]
    if shown:
        sheet.tables.append(_by_group(sheet, plans, shown, CASH_TABLE))
        sheet.tables.append(_by_group(sheet, plans, shown, HOURS_TABLE))
    refused = [s for s in comparison.scenarios if not s.feasible]
    if refused:
        rows = [[Across(f"{s.title}: {s.why_not}")] for s in refused]
        sheet.tables.append(Table([Column("")], rows, title="Cannot be built", headless=True))
    if shown:
        sheet.tables.append(_choices(shown))  # last on paper: it may be longer than a page
        sheet.tables.append(_bars(sheet, shown))
    return sheet


def plan_cell(scenarios: Sheet, plan: StoredPlan, column: str) -> str:
    """The cell of one plan in the first table, such as ``Scenarios!$C$6``."""
    return f"{SCENARIOS}!${column}${scenarios.first_row(_PLANS) + plan.number - 1}"


def number_of(scenarios: Sheet, plan: StoredPlan) -> Formula:
    """The number of a plan, which stands once: in the first table."""
    return Formula(f"={plan_cell(scenarios, plan, 'B')}", plan.number)


def _plans(comparison: Comparison, plans: Sequence[StoredPlan]) -> Table:
    columns = [
        Column("Plan", 34, name="plan_title"),
        Column("Plan no.", _PLAN_WIDTH, right=True, name="plan_number", unit="no."),
        Column("Cash", _PLAN_WIDTH, "Tax included.", right=True, name="plan_cash"),
        Column("Own hours", _PLAN_WIDTH, right=True, name="plan_hours"),
        Column("Total at your hour value", _PLAN_WIDTH, right=True, name="plan_total"),
        Column(
            "Not yet priced", _PLAN_WIDTH, "Costs that nobody has priced.", right=True, unit="costs"
        ),
        Column("May win", _PLAN_WIDTH, "1 if it is ranked, 0 if not.", right=True, unit="1 or 0"),
        Column("Ranked total", _PLAN_WIDTH, right=True, name="plan_ranked"),
        Column("Above the least", _PLAN_WIDTH, right=True),
        Column("Refundable deposits", _PLAN_WIDTH, "Beside the cash.", right=True),
        Column("Remark"),
    ]
    value = comparison.options.hour_value.value
    totals = [plan.priced.total(value) for plan in plans]
    least = min((t for t, p in zip(totals, plans, strict=True) if p.may_win), default=0.0)
    rows = [
        _plan(plan, total, total - least if plan.may_win else None)
        for plan, total in zip(plans, totals, strict=True)
    ]
    return Table(columns, rows)


def _plan(plan: StoredPlan, total: float, above: float | None) -> list[Cell]:
    priced = plan.priced
    return [
        plan.title,
        Stored(plan.number, COUNT, "fixed"),
        Formula("=SUMIF(line_plan, B{row}, line_cash)", priced.cash, MONEY),
        Formula("=SUMIF(line_plan, B{row}, line_hours)", priced.own_hours, HOURS),
        Formula("=C{row} + D{row} * hour_value", total, MONEY, "strong"),
        Stored(len(priced.missing), COUNT),
        Stored(int(plan.may_win), COUNT),
        Formula('=IF(G{row} = 1, E{row}, "")', total if plan.may_win else "", MONEY),
        Formula(
            '=IF(G{row} = 1, E{row} - MIN(plan_ranked), "")',
            "" if above is None else above,
            MONEY,
        ),
        deposits_cell(priced),
        plan.remark,
    ]


def _by_group(
    sheet: Sheet,
    plans: Sequence[StoredPlan],
    shown: Sequence[StoredPlan],
    which: int,
) -> Table:
    kind = MONEY if which == CASH_TABLE else HOURS
    amount: Callable[[Line], float] = _cash if which == CASH_TABLE else _hours
    source = "line_cash" if which == CASH_TABLE else "line_hours"
    title = "Cash by group" if which == CASH_TABLE else "Own hours by group"
    names = [g for g in groups(plans) if any(_sum(p, g, amount) for p in shown)]
    head = _heads_row(sheet)
    rows: list[list[Cell]] = [["Plan no.", *(number_of(sheet, plan) for plan in shown)]]
    for group in names:
        row: list[Cell] = [group]
        for column, plan in enumerate(shown, start=1):
            name = letter(column)
            text = f"=SUMPRODUCT((line_plan = {name}${head}) * (line_group = $A{{row}}) * {source})"
            row.append(Formula(text, _sum(plan, group, amount), kind))
        rows.append(row)
    foot = [_foot(shown, head, len(names), amount, kind)]
    columns = [
        Column("Group", 34),
        *(Column(p.title, _PLAN_WIDTH, right=True) for p in shown),
    ]
    return Table(columns, rows, title=title, foot=foot)


def _heads_row(sheet: Sheet) -> int:
    """The row of plan numbers of the table of numbers that comes next."""
    blank = Table([Column("", right=True)], [], title="next")
    sheet.tables.append(blank)
    row = sheet.first_row(len(sheet.tables) - 1)
    sheet.tables.pop()
    return row


def _foot(
    shown: Sequence[StoredPlan], head: int, groups_shown: int, amount: Callable[[Line], float],
    kind: Kind,
) -> list[Cell]:  # fmt: skip
    cells: list[Cell] = ["Together"]
    for column, plan in enumerate(shown, start=1):
        name = letter(column)
        text = f"=SUM({name}{head + 1}:{name}{head + max(1, groups_shown)})"
        cells.append(Formula(text, sum(amount(line) for line in plan.priced.lines), kind))
    return cells


def _cash(line: Line) -> float:
    return line.cash


def _hours(line: Line) -> float:
    return line.own_hours


def _sum(plan: StoredPlan, group: str, amount: Callable[[Line], float]) -> float:
    return sum(amount(line) for line in plan.priced.lines if line.group == group)


def _bars(sheet: Sheet, shown: Sequence[StoredPlan]) -> Table:
    """The largest groups and the rest, as the chart draws them; cells refer to the cash table."""
    table, first = sheet.tables[CASH_TABLE], sheet.first_row(CASH_TABLE) + 1
    names = [str(row[0]) for row in table.rows[1:]]
    largest = sorted(names, key=lambda g: (-max(_sum(p, g, _cash) for p in shown), g))[:_BARS]
    drawn = [name for name in names if name in largest]
    total = first + len(names)
    rows: list[list[Cell]] = []
    for name in drawn:
        row = first + names.index(name)
        cells = (Formula(f"={letter(n)}{row}", _sum(plan, name, _cash), MONEY)
                 for n, plan in enumerate(shown, start=1))  # fmt: skip
        rows.append([name, *cells])
    if len(drawn) < len(names):
        rows.append(_rest(shown, drawn, total, _heads_row(sheet)))
    columns = [
        Column("Group", 34),
        *(Column(p.title, _PLAN_WIDTH, right=True) for p in shown),
    ]
    title = "Cash by group, as drawn on the Answer sheet"
    return Table(columns, rows, title=title, on_paper=False)


def _rest(shown: Sequence[StoredPlan], drawn: Sequence[str], total: int, first: int) -> list[Cell]:
    cells: list[Cell] = ["Everything else"]
    for number, plan in enumerate(shown, start=1):
        name = letter(number)
        rest = plan.priced.cash - sum(_sum(plan, group, _cash) for group in drawn)
        text = f"={name}{total} - SUM({name}{first}:{name}{first + len(drawn) - 1})"
        cells.append(Formula(text, rest, MONEY))
    return cells


def _choices(shown: Sequence[StoredPlan]) -> Table:
    made = [plan.priced.plan.choices() for plan in shown]
    rows: list[list[Cell]] = []
    alike: list[str] = []
    for name in dict.fromkeys(key for choices in made for key in choices):
        values = [choices.get(name, "") for choices in made]
        about = words.choice(name, next(value for value in values if value))[0]
        said = [words.choice(name, value)[1] if value else NONE for value in values]
        if len(set(said)) > 1:
            rows.append([about, *(Text(w, "strong" if w != said[0] else "plain") for w in said)])
        else:
            alike.append(f"{about}: {said[0]}")
    if alike:
        rows.append(["The same in every plan", Across("; ".join(alike))])
    return Table(
        [Column("Choice", 34), *(Column(plan.title, _PLAN_WIDTH) for plan in shown)],
        rows,
        title="Choices side by side",
        remark="Bold where a plan chooses otherwise than the first. Redo with budget compare.",
        new_page=len(rows) > _FEW,
    )


def cash_chart(sheet: Sheet, plans: Sequence[StoredPlan], currency: str) -> Chart | None:
    """The cash of each scenario by group, stacked; None where none of them costs anything."""
    shown = [plan for plan in plans if plan.scenario is not None]
    if not shown or not sheet.tables[-1].rows:
        return None
    first = sheet.first_row(len(sheet.tables) - 1) - 1  # the last table is there to be drawn
    last = first + len(sheet.tables[-1].rows)
    heads = sheet.head_row(len(sheet.tables) - 1) - 1
    series = [((row, 0), (row, 1, row, len(shown))) for row in range(first, last)]
    return Chart(
        "Cash of each plan, by group",
        f"cash, {currency}",
        SCENARIOS,
        (heads, 1, heads, len(shown)),
        series,
        rows=10 + math.ceil(1.2 * len(shown)),
        longest=max(len(plan.title) for plan in shown),
        stays=False,
    )
