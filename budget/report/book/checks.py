"""The Checks and Assumptions sheets: that the sums hold, and what they rest on."""

from __future__ import annotations

from collections.abc import Sequence

from budget.decide.outcome import Comparison
from budget.numerals import date
from budget.report.book.calendar import weeks_paid
from budget.report.book.cells import (
    UNIT,
    Across,
    Cell,
    Column,
    Entered,
    Formula,
    Sheet,
    Stored,
    Table,
    Text,
    UnitOf,
    letter,
)
from budget.report.book.plans import StoredPlan
from budget.report.book.scenarios import CASH_TABLE, HOURS_TABLE, SCENARIOS, plan_cell
from budget.units import COUNT, HOURS, MONEY, NUMBER, Kind

#: Less than half a cent, and less than anyone would write down of an hour.
_TOLERANCE = 0.004

#: A check: what it says, its formula, its value now, and what the value measures.
Check = tuple[str, str, Kind]


def checks_sheet(
    comparison: Comparison,
    plans: Sequence[StoredPlan],
    scenarios: Sheet,
    more: Sequence[Check] = (),
) -> Sheet:
    """Sums checked two ways; all of them together are the one OK of the Answer sheet."""
    opening = (
        "Each line compares two ways to the same sum, or counts what must not be there. The single "
        "OK on the Answer sheet stands for all of them."
    )
    sheet = Sheet("Checks", "Checks", opening)
    rows: list[list[Cell]] = [
        [words, Formula(text, 0.0, kind), UnitOf(kind), Formula(_holds(), 1, COUNT)]
        for words, text, kind in (
            *_checks(plans, scenarios),
            *_by_week(comparison, plans, scenarios),
            *more,
        )
    ]
    columns = [
        Column("Check", 70),
        Column("Found", 14, "Nothing but zero is right.", right=True),
        Column(UNIT, 14),
        Column(
            "Holds", 10, "1 if it holds, 0 if not.", name="checks_hold", right=True, unit="1 or 0"
        ),
    ]
    sheet.tables.append(Table(columns, rows))
    verdict = Formula('=IF(SUM(checks_hold) = ROWS(checks_hold), "OK", "See Checks")', "OK",
                      look="good")  # fmt: skip
    tolerance = Entered(_TOLERANCE, NUMBER, "constant", name="check_tolerance")
    sheet.tables.append(
        Table(
            [Column("")],
            [
                ["All together", verdict],
                ["Smaller than this counts as zero", tolerance, UnitOf(NUMBER)],
            ],
            title="Verdict",
            headless=True,
        )
    )
    sheet.tables += _noticed(comparison)
    if plans:
        sheet.tables.append(_as_stored(comparison, plans, scenarios))
    return sheet


def _noticed(comparison: Comparison) -> list[Table]:
    """What reading, counting and planning gave warning of."""
    tables = []
    warnings: list[list[Cell]] = [[Across(f"{n.cell or n.sheet}: {n.message}")]
                                  for n in comparison.warnings]  # fmt: skip
    if warnings:
        title = "Warnings about your quotes workbook"
        tables.append(Table([Column("")], warnings, title=title, headless=True))
    if comparison.notes:
        notes: list[list[Cell]] = [[Across(note)] for note in comparison.notes]
        tables.append(Table([Column("")], notes, title="Notes", headless=True))
    return tables


def _holds() -> str:
    return "=IF(ABS(B{row}) < check_tolerance, 1, 0)"


def verdict_cell(checks: Sheet) -> str:
    """Where the verdict stands, such as ``Checks!$B$14``."""
    return f"Checks!$B${checks.first_row(1)}"


def _checks(plans: Sequence[StoredPlan], scenarios: Sheet) -> list[Check]:
    found: list[Check] = [
        ("Workings that show an error", "=SUMPRODUCT(ISERROR(workings_values) * 1)", COUNT),
        ("Inputs that are not a number", "=ROWS(input_values) - COUNT(input_values)", COUNT),
    ]
    if not plans:
        return found
    found += [
        ("Cash of all plans, less cash of all lines", "=SUM(plan_cash) - SUM(line_cash)", MONEY),
        ("Own hours of all plans, less those of all lines",
         "=SUM(plan_hours) - SUM(line_hours)", HOURS),
        ("Lines whose cash is not in whole cents",
         "=SUMPRODUCT((ABS(line_cash * cents_in_one - ROUND(line_cash * cents_in_one, 0)) "
         "> check_tolerance) * 1)", COUNT),
        ("Lines with fewer hours than none", "=SUMPRODUCT((line_hours < 0) * 1)", COUNT),
    ]  # fmt: skip
    shown = [plan for plan in plans if plan.scenario is not None]
    if shown:
        found += _by_group(shown, scenarios)
    return found


def _by_group(shown: Sequence[StoredPlan], scenarios: Sheet) -> list[Check]:
    found: list[Check] = []
    for table, column, kind, words in (
        (CASH_TABLE, "C", MONEY, "Cash by group, less cash by plan"),
        (HOURS_TABLE, "D", HOURS, "Own hours by group, less own hours by plan"),
    ):
        row = scenarios.first_row(table) + len(scenarios.tables[table].body)
        groups = f"{SCENARIOS}!$B${row}:${letter(len(shown))}${row}"
        first, last = (
            plan_cell(scenarios, shown[0], column),
            plan_cell(scenarios, shown[-1], column),
        )
        plans = f"{first}:{last.rpartition('!')[2]}"
        found.append((words, f"=SUM({groups}) - SUM({plans})", kind))
    return found


def _by_week(comparison: Comparison, plans: Sequence[StoredPlan], scenarios: Sheet) -> list[Check]:
    if not weeks_paid(comparison):
        return []
    best = plan_cell(scenarios, plans[0], "C")
    return [("Cash by week, less the plan's", f"=SUM(week_cash) - {best}", MONEY)]


def _as_stored(comparison: Comparison, plans: Sequence[StoredPlan], scenarios: Sheet) -> Table:
    columns = [
        Column("Plan"),
        Column("Cash as stored", right=True),
        Column("Cash now", right=True),
        Column("Own hours as stored", 12, right=True),
        Column("Own hours now", 12, right=True),
        Column("Inputs", 26),
    ]
    rows: list[list[Cell]] = []
    for plan in plans:
        cash, hours = (plan_cell(scenarios, plan, column) for column in "CD")
        rows.append(
            [
                plan.title,
                Stored(plan.priced.cash, MONEY),
                Formula(f"={cash}", plan.priced.cash, MONEY),
                Stored(plan.priced.own_hours, HOURS),
                Formula(f"={hours}", plan.priced.own_hours, HOURS),
                Formula(
                    "=IF(ABS(B{row} - C{row}) + ABS(D{row} - E{row}) < check_tolerance, "
                    '"as the tool stored them", "changed since")',
                    "as the tool stored them",
                ),
            ]
        )
    remark = f"As of {date(comparison.job.settings.as_of)}. Not part of the verdict."
    return Table(columns, rows, title="Now, against what the tool stored", remark=remark)


def assumptions_sheet(comparison: Comparison) -> Sheet:
    """Documented defaults in use, each with its source."""
    opening = (
        "What was taken where your workbook is silent, and where every number that is not yours "
        "comes from. Local code and licensed trades go before anything said here."
    )
    sheet = Sheet("Assumptions", "Assumptions and sources", opening)
    assumed: list[list[Cell]] = [
        [a.what, a.value, a.sheet, Text(a.source, "quiet")] for a in comparison.assumed
    ]
    columns = [Column("Assumed", 44), Column("Value", 26), Column("Sheet to fill", 20),
               Column("Source", 70)]  # fmt: skip
    sheet.tables.append(Table(columns, assumed, filters=True))
    return sheet
