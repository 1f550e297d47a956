"""The Hour value sheet: which plan is best at which value of an own hour, and what flips."""

from __future__ import annotations

import math
from collections.abc import Sequence

from budget.decide.outcome import Comparison
from budget.decide.plan import FrontierPoint
from budget.report.book.cells import Cell, Column, Formula, Sheet, Stored, Table, saying
from budget.report.book.flips import add_flips
from budget.report.book.plans import StoredPlan
from budget.report.book.scenarios import plan_cell
from budget.units import HOURS, MONEY, per

AN_HOUR = per(MONEY, HOURS)


def hours_sheet(comparison: Comparison, plans: Sequence[StoredPlan], scenarios: Sheet) -> Sheet:
    """The frontier and the flips, with their totals at the hour value alive."""
    opening = (
        "What an own hour is worth to you decides between spending and doing. Below: the plan that "
        "is best at each value, then what forcing one choice the other way would do."
    )
    sheet = Sheet("Hour value", "The value of an own hour", opening, frozen=False)
    if comparison.frontier:
        sheet.tables.append(_frontier(comparison, plans, scenarios))
    add_flips(sheet, comparison)
    if not sheet.tables:
        sheet.tables.append(saying("No plan can be built yet."))
    return sheet


def _frontier(comparison: Comparison, plans: Sequence[StoredPlan], scenarios: Sheet) -> Table:
    columns = [
        Column("From, an hour", 14, right=True),
        Column("To, an hour", 14, right=True),
        Column("Plan", 36),
        Column("Cash", 13, right=True),
        Column("Own hours", 13, right=True),
        Column("Total at your hour value", 13, right=True),
        Column("Above the least", 13, "Than the plan that costs least.", right=True),
        Column("What changes", 62, note="Against the plan of the row above."),
    ]
    value = comparison.options.hour_value.value
    least = min((p.priced.total(value) for p in plans if p.may_win), default=0.0)
    rows = [
        _point(point, stored, scenarios, (value, least))
        for point in comparison.frontier
        if (stored := _same(point, plans)) is not None
    ]
    return Table(columns, rows, title="The plan at each hour value")


def _same(point: FrontierPoint, plans: Sequence[StoredPlan]) -> StoredPlan | None:
    wanted = point.priced.plan.choices()
    return next((p for p in plans if p.priced.plan.choices() == wanted), None)


def _point(
    point: FrontierPoint, plan: StoredPlan, scenarios: Sheet, now: tuple[float, float]
) -> list[Cell]:
    """A plan of the frontier; ``now`` is the hour value and the least total of all plans."""
    total = plan.priced.total(now[0])
    end: Cell = "and up" if math.isinf(point.to_value) else Stored(point.to_value, AN_HOUR)
    priced = plan.priced
    return [
        Stored(point.from_value, AN_HOUR),
        end,
        plan.title,
        Formula(f"={plan_cell(scenarios, plan, 'C')}", priced.cash, MONEY),
        Formula(f"={plan_cell(scenarios, plan, 'D')}", priced.own_hours, HOURS),
        Formula(f"={plan_cell(scenarios, plan, 'E')}", total, MONEY, "strong"),
        Formula("=F{row} - MIN(plan_ranked)", total - now[1], MONEY),
        point.change,
    ]
