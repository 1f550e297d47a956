"""The stored plans of a comparison: the scenarios that can be built, and the frontier's plans.

Their lines are alive on the *Plan lines* sheet; totals, the comparison and the plan that wins
follow from them on *Scenarios* and *Hour value*.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from budget.decide.outcome import Comparison
from budget.decide.plan import Line, Priced, Scenario
from budget.decide.wording import so_far
from budget.figures import Figure, cents, total
from budget.report import words
from budget.report.book.cells import NONE, Cell, Column, Live, Sheet, Stored, Table
from budget.units import HOURS, MONEY, round_half_up

PLAN_LINES = "Plan lines"


@dataclass(frozen=True, slots=True)
class StoredPlan:
    """One plan with its number in the workbook, its title, and whether it may win."""

    number: int
    title: str
    priced: Priced
    scenario: Scenario | None  # None: a plan of the frontier only
    may_win: bool
    remark: str


def stored_plans(comparison: Comparison) -> list[StoredPlan]:
    """The best plan first, the other scenarios in their order, then the frontier's others."""
    built = [s for s in comparison.scenarios if s.feasible and s.priced is not None]
    built.sort(key=lambda scenario: scenario is not comparison.best)
    found: list[tuple[str, Priced, Scenario | None]] = [
        (scenario.title, scenario.priced, scenario) for scenario in built if scenario.priced
    ]
    known = {tuple(priced.plan.choices().items()) for _, priced, _ in found}
    currency = comparison.job.settings.currency
    for point in comparison.frontier:
        choices = tuple(point.priced.plan.choices().items())
        if choices not in known:
            known.add(choices)
            title = f"Best {between(point.from_value, point.to_value, currency)}"
            found.append((title, point.priced, None))
    least = min((len(p.missing) for _, p, s in found if _allowed(s)), default=0)
    return [
        StoredPlan(
            number,
            title,
            priced,
            scenario,
            _allowed(scenario) and len(priced.missing) == least,
            _remark(scenario, priced, least),
        )
        for number, (title, priced, scenario) in enumerate(found, start=1)
    ]


def between(low: float, high: float, currency: str) -> str:
    """From one hour value to another, in words.

    >>> between(0, 1250, "USD"), between(1250, float("inf"), "USD")
    ('from $0.00 to $12.50 an hour', 'from $12.50 an hour up')
    """
    if math.isinf(high):
        return f"from {words.money(low, currency)} an hour up"
    return f"from {words.money(low, currency)} to {words.money(high, currency)} an hour"


def _allowed(scenario: Scenario | None) -> bool:
    return scenario is None or not scenario.discouraged


def _remark(scenario: Scenario | None, priced: Priced, least: int) -> str:
    remarks = []
    if scenario is not None and scenario.discouraged:
        remarks.append("bedding and joints that published notes discourage: never best")
    if len(priced.missing) > least:
        remarks.append("more is not yet priced than in others: not ranked against them")
    if scenario is not None and not scenario.proved:
        remarks.append(f"{so_far(scenario.gap)}, which might be left to find")
    return "; ".join(remarks)


def plan_lines_sheet(
    plans: Sequence[StoredPlan],
    paid: Mapping[int, Cell],
    number_of: Callable[[StoredPlan], Cell],
) -> Sheet:
    """Every line of every stored plan, with its money and hours alive.

    ``paid`` is the week in which each line of the first plan is paid; ``number_of`` refers to the
    number of a plan.
    """
    columns = [
        Column("Plan no.", name="line_plan", right=True, unit="no."),
        Column("Plan", 26),
        Column("Part"),
        Column("Group", 18, name="line_group"),
        Column("Line", 30),
        Column("Seller or firm", 20),
        Column("As planned", 20, note="How much, as the tool planned it. Not worked out again."),
        Column("Cash", 13, "Tax included, to the cent. Blank: none.", name="line_cash", right=True),
        Column("Own hours", 11, "Blank: none.", name="line_hours", right=True),
        Column("Hangs on", 22, note="The choice that the line follows from."),
        Column("Paid in the week from", 14, "Of the plan, by the calendar.", name="line_week"),
    ]
    rows: list[list[Cell]] = [
        [number_of(plan), *_row(plan, line), paid.get(number, "") if plan.number == 1 else ""]
        for plan in plans
        for number, line in enumerate(plan.priced.lines)
    ]
    opening = (
        "What each stored plan costs, line by line. Cash and hours follow the inputs; the choices "
        "stay as planned. Filter by plan to read one; on paper stands the first."
    )
    first = len(plans[0].priced.lines) if plans else 0
    table = Table(columns, rows, filters=True)
    return Sheet(PLAN_LINES, "Plan lines", opening, [table], printed=first)


def _row(plan: StoredPlan, line: Line) -> list[Cell]:
    return [
        plan.title, line.part, line.group, line.name,
        line.supplier, line.quantity, cash_cell(line), hours_cell(line),
        words.choice(line.choice, "")[0] if line.choice else "",
    ]  # fmt: skip


def cash_cell(line: Line) -> Cell:
    """The line's money, alive where it has a figure, to the cent as the line is; blank for none."""
    figure = line.money
    if figure is None:
        return Stored(line.cash, MONEY) if line.cash else None
    if abs(figure.value - line.cash) > 1e-6:
        figure = _to_the_cent(line, figure)
    return Live(figure)


def _to_the_cent(line: Line, figure: Figure) -> Figure:
    if round_half_up(figure.value) != line.cash:
        msg = f"{line.name}: the line says {line.cash} cents, its figure {figure.value}"
        raise ValueError(msg)
    return cents(line.name, figure)


def deposits_cell(priced: Priced) -> Cell:
    """A plan's refundable deposits, each to the cent, alive where their figures are known."""
    found = [cents(figure.name, figure) for figure in priced.held if figure.value]
    if not found or round_half_up(sum(figure.value for figure in found)) != priced.deposits:
        return Stored(priced.deposits, MONEY) if priced.deposits else NONE
    return Live(total("refundable deposits", found, MONEY))


def hours_cell(line: Line) -> Cell:
    """The line's own hours, alive where they have a figure; blank for none."""
    if line.time is None:
        return Stored(line.own_hours, HOURS) if line.own_hours else None
    if abs(line.time.value - line.own_hours) > 1e-6:
        msg = f"{line.name}: the line says {line.own_hours} h, its figure {line.time.value}"
        raise ValueError(msg)
    return Live(line.time)


def groups(plans: Sequence[StoredPlan]) -> list[str]:
    """The groups of all lines, in the order in which the plans meet them."""
    return list(dict.fromkeys(line.group for plan in plans for line in plan.priced.lines))
