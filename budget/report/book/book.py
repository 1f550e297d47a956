"""The comparison workbook: a living spreadsheet of the comparison.

Every figure is a formula over the Inputs sheet, stored with its value, so that a changed hour
value or price moves all that follows, and a viewer that cannot calculate shows the same
numbers. Choices and layouts are those of the stored plans.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from copy import deepcopy
from functools import partial
from pathlib import Path
from typing import IO, Any

from budget.decide.outcome import Comparison
from budget.garbage import collected_later
from budget.report.book.answer import ANSWER, answer_sheet
from budget.report.book.buying import buying_sheet
from budget.report.book.calendar import CALENDAR, calendar_sheet, weeks_paid
from budget.report.book.cells import Sheet
from budget.report.book.checks import Check, assumptions_sheet, checks_sheet, verdict_cell
from budget.report.book.deeper import DEEPER, TRADES, deeper_sheet, trades_sheet
from budget.report.book.drawing import DRAWING, drawing_sheet
from budget.report.book.entries import ENTRIES, entries_sheet, told_entries
from budget.report.book.figures import INPUTS, WORKINGS, Register
from budget.report.book.goods import goods_bought
from budget.report.book.hours import hours_sheet
from budget.report.book.inputs import inputs_sheet, workings_sheet
from budget.report.book.moving import equipment_sheet, moving_sheet
from budget.report.book.plans import PLAN_LINES, plan_lines_sheet, stored_plans
from budget.report.book.quantities import AMOUNTS, amounts_sheet, bedding_sheet, quantities_sheet
from budget.report.book.quotes import quotes_sheet
from budget.report.book.risk import RISK, risk_sheet
from budget.report.book.scenarios import SCENARIOS, number_of, scenarios_sheet
from budget.report.book.spending import SPENDING, spending_checks, spending_sheet
from budget.report.book.work import work_sheet
from budget.report.book.writer import Writer
from budget.spend.standing import Standing
from budget.whole_file import whole_bytes

COMMAND = "budget compare"

#: Text stays text whatever it looks like; the default font is that of our styles.
_OPTIONS = {
    "in_memory": True,
    "strings_to_formulas": False,
    "strings_to_urls": False,
    "strings_to_numbers": False,
    "default_format_properties": {"font_name": "Arial", "font_size": 10},
}

#: Sheets in the order of the work.
ORDER = (
    ANSWER, SCENARIOS, "Hour value", RISK, DEEPER, TRADES, INPUTS, "Quantities", AMOUNTS, DRAWING,
    "Quotes", "Delivery or haul", "Equipment", "Own or hired", "Bedding", "Buying list", CALENDAR,
    PLAN_LINES, WORKINGS, "Assumptions", "Checks",
)  # fmt: skip


#: The sheets about what was spent, each with what it tells.
_SPENT = (
    (SPENDING, "what was spent, line by line and week by week"),
    (ENTRIES, "every order, payment and hour"),
)


def write(comparison: Comparison, path: Path | str, standing: Standing | None = None) -> None:
    """Write the comparison workbook (.xlsx), whole or not at all.

    With ``standing`` it has a sheet about what was spent.

    The same comparison gives the same bytes: the file carries the job's as-of date, not the
    clock. Raises ``OSError`` if the file cannot be written.
    """
    with whole_bytes(Path(path)) as buffer, collected_later():
        _write(comparison, buffer, standing)


def _write(comparison: Comparison, into: IO[bytes], standing: Standing | None) -> None:
    import xlsxwriter

    settings = comparison.job.settings
    register = Register(settings.units, settings.currency)
    register.add("value of an own hour", comparison.options.hour_value)
    register.called(comparison.options.hour_value, "hour_value")
    spent = [spending_sheet(standing), entries_sheet(told_entries(standing))] if standing else []
    checks = [c for s in spent[:1] for c in spending_checks(s)]
    sheets = spent + sheets_of(comparison, checks, _SPENT if spent else ())
    for sheet in sorted(sheets, key=_figures_first):
        for block, cell in sheet.live():
            register.add(block, cell.figure)
            if cell.name:
                register.called(cell.figure, cell.name)
    register.settle()
    sheets += [workings_sheet(register)]
    # A copy: XlsxWriter writes into the options it is given.
    workbook = xlsxwriter.Workbook(into, deepcopy(_OPTIONS))
    workbook.set_properties(_properties(comparison))
    writer = Writer(workbook, register, settings.name)
    there = {INPUTS, *(s.name for s in sheets)}
    order = [name for name in ORDER if name in there]
    writer.open((*order[:2], *(s.name for s in spent), *order[2:]))
    for sheet in sheets:
        writer.fill(sheet)
    writer.fill(
        inputs_sheet(register, COMMAND, comparison.job)
    )  # last: it lists the conversions met
    _define_names(workbook, register)
    workbook.define_name("checks_ok", f"={verdict_cell(sheets[-2])}")
    workbook.close()


def sheets_of(
    comparison: Comparison,
    more_checks: Sequence[Check] = (),
    also: Sequence[tuple[str, str]] = (),
) -> list[Sheet]:
    """Every sheet but Inputs and Workings, which follow from the figures of the others."""
    plans = stored_plans(comparison)
    best = comparison.best
    priced = best.priced if best is not None else None
    goods = goods_bought(comparison, priced) if priced is not None else []
    scenarios = scenarios_sheet(comparison, plans)
    drawn = risk_sheet(comparison)
    deeper = [s for s in (deeper_sheet(comparison), trades_sheet(comparison)) if s]
    drawing = drawing_sheet(comparison.job, comparison.takeoff)
    return [
        answer_sheet(comparison, plans, scenarios, also),
        scenarios,
        hours_sheet(comparison, plans, scenarios),
        *([drawn] if drawn else []),
        *deeper,
        quantities_sheet(comparison.takeoff),
        amounts_sheet(comparison.takeoff),
        *([drawing] if drawing else []),
        quotes_sheet(comparison, priced),
        moving_sheet(comparison, priced, goods),
        equipment_sheet(comparison.options, priced),
        work_sheet(comparison, priced),
        bedding_sheet(comparison, plans, scenarios),
        buying_sheet(comparison, priced, goods),
        calendar_sheet(comparison),
        plan_lines_sheet(plans, weeks_paid(comparison), partial(number_of, scenarios)),
        assumptions_sheet(comparison),
        checks_sheet(comparison, plans, scenarios, more_checks),
    ]


def _figures_first(sheet: Sheet) -> int:
    """Quantities, then lines: the order in which figures are worked out and named."""
    first = ("Quantities", AMOUNTS, PLAN_LINES)
    return first.index(sheet.name) if sheet.name in first else len(first)


def _define_names(workbook: Any, register: Register) -> None:
    for name, sheet, entries in (
        ("input_values", INPUTS, register.inputs),
        ("workings_values", WORKINGS, register.workings),
    ):
        first = entries[0].row if entries else 1
        last = entries[-1].row if entries else 1
        workbook.define_name(name, f"={sheet}!$C${first}:$C${last}")


def _properties(comparison: Comparison) -> dict[str, Any]:
    settings = comparison.job.settings
    noon = dt.datetime.combine(settings.as_of, dt.time(12))
    return {"title": f"{settings.name}: comparison", "author": "budget", "created": noon}
