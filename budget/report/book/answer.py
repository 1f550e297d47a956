"""The Answer sheet: what to do, what it costs, what flips it, and whether the sums hold."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from budget.decide.outcome import Comparison
from budget.decide.plan import Priced
from budget.report import words
from budget.report.answer import in_one_line
from budget.report.book.cells import (
    Across,
    Cell,
    Column,
    Formula,
    Go,
    Live,
    Sheet,
    Table,
    Text,
    UnitOf,
)
from budget.report.book.deeper import DEEPER, TRADES
from budget.report.book.hours import AN_HOUR
from budget.report.book.plans import StoredPlan
from budget.report.book.quantities import AMOUNTS
from budget.report.book.risk import RISK
from budget.report.book.scenarios import SCENARIOS, cash_chart, plan_cell
from budget.units import COUNT, HOURS, MONEY
from budget.wording import listed

ANSWER = "Answer"
_FLIPS_SHOWN = 3


def answer_sheet(
    comparison: Comparison,
    plans: Sequence[StoredPlan],
    scenarios: Sheet,
    also: Sequence[tuple[str, str]] = (),
) -> Sheet:
    """The opening sheet. Its numbers are those of the detail sheets, by reference.

    ``also`` names further sheets to look at, each with what it tells.
    """
    settings = comparison.job.settings
    sheet = Sheet(ANSWER, settings.name, in_one_line(comparison), frozen=False, upright=True,
                  least_size=8.5)  # fmt: skip
    best = next((p for p in plans if p.scenario is comparison.best), None)
    if best is not None:
        sheet.tables.append(_figures(comparison, plans, best, scenarios))
        sheet.tables.append(_doing(best))
    if plans:
        sheet.tables.append(_scenarios(comparison, plans, scenarios))
    flips: list[list[Cell]] = [[Across(f.sentence)] for f in comparison.flips[:_FLIPS_SHOWN]]
    if flips:
        flips.append([Go("Hour value", "All that flips, and the hour value")])
        sheet.tables.append(_listed("Where it flips", flips))
    if comparison.missing or comparison.next_step:
        sheet.tables.append(_missing(comparison))
    sheet.tables.append(_contents(comparison, also))
    return sheet


def _figures(
    comparison: Comparison, plans: Sequence[StoredPlan], best: StoredPlan, scenarios: Sheet
) -> Table:
    priced = best.priced
    value = comparison.options.hour_value.value
    cash, hours, total = (plan_cell(scenarios, best, c) for c in "CDE")
    rows: list[list[Cell]] = [
        [f"Best plan{comparison.so_far}", Across(best.title, "good")],
        ["Cash", Formula(f"={cash}", priced.cash, MONEY, "strong"), UnitOf(MONEY),
         Go("Plan lines", "line by line")],
        ["Own hours", Formula(f"={hours}", priced.own_hours, HOURS, "strong"), UnitOf(HOURS),
         Go("Own or hired", "step by step")],
        ["Value of an own hour", Formula("=hour_value", value, AN_HOUR), UnitOf(AN_HOUR),
         Go("Inputs", "change it")],
        ["Cash and hours together", Formula(f"={total}", priced.total(value), MONEY),
         UnitOf(MONEY)],
    ]  # fmt: skip
    rows += _against_hiring(comparison, plans, best, scenarios)
    rows += _limit(comparison, best, cash)
    if priced.comes_back:
        number = plan_cell(scenarios, best, "B")
        lines = f'=-SUMIFS(line_cash, line_plan, {number}, line_cash, "<0")'
        rows.append([
            "Paid first, comes back for unopened packs",
            Formula(lines, priced.comes_back, MONEY), UnitOf(MONEY),
            Go("Plan lines", "off the cash above"),
        ])  # fmt: skip
    if priced.deposits:
        back = Formula(f"={plan_cell(scenarios, best, 'J')}", priced.deposits, MONEY)
        rows.append(["Deposits that come back", back, UnitOf(MONEY)])
    if any(plan.may_win for plan in plans):
        winner = Across(
            _winner(plans, value),
            formula="=INDEX(plan_title, MATCH(MIN(plan_ranked), plan_ranked, 0))",
        )
        rows.append(["Stored plan that wins now", winner])
    if comparison.missing:
        missing = words.count(len(comparison.missing), "cost")
        rows.append(["Not yet priced", Across(f"{missing}, listed at the end of this sheet")])
    rows.append(["Do the sums hold?", Formula("=checks_ok", "OK", look="good"), "",
                 Go("Checks", "what is checked")])  # fmt: skip
    return Table([Column("", 37), *[Column("", 12)] * 4, Column("", 14)], rows, headless=True)


def _winner(plans: Sequence[StoredPlan], value: float) -> str:
    ranked = [plan for plan in plans if plan.may_win]
    return min(ranked, key=lambda plan: (plan.priced.total(value), plan.number)).title


def _against_hiring(
    comparison: Comparison, plans: Sequence[StoredPlan], best: StoredPlan, scenarios: Sheet
) -> list[list[Cell]]:
    hired = next((p for p in plans if p.scenario and p.scenario is comparison.hired), None)
    saving = comparison.saving
    if hired is None or saving is None:
        return [["Saved against hiring it all", Across("not known: it cannot be hired or priced")]]
    theirs, ours = (plan_cell(scenarios, plan, "C") for plan in (hired, best))
    rows: list[list[Cell]] = [
        [
            "Saved against hiring it all",
            Formula(f"={theirs} - {ours}", saving, MONEY),
            UnitOf(MONEY),
        ]
    ]
    if comparison.hour_earns is not None:
        more = f"({plan_cell(scenarios, best, 'D')} - {plan_cell(scenarios, hired, 'D')})"
        earns = Formula(f"=({theirs} - {ours}) / {more}", comparison.hour_earns, AN_HOUR)
        rows.append(["What an own hour earns", earns, UnitOf(AN_HOUR)])
    return rows


def _limit(comparison: Comparison, best: StoredPlan, cash: str) -> list[list[Cell]]:
    settings = comparison.job.settings
    if settings.spending_limit is None:
        return []
    limit = settings.figure("spending_limit", MONEY, "spending limit")
    left = settings.spending_limit - best.priced.cash
    return [
        ["Spending limit", Live(limit, name="spending_limit"), UnitOf(MONEY)],
        ["Left below the limit", Formula(f"=spending_limit - {cash}", left, MONEY),
         UnitOf(MONEY)],
    ]  # fmt: skip


def _doing(best: StoredPlan) -> Table:
    rows: list[list[Cell]] = [[how, Across(what)] for how, what in _deeds(best.priced)]
    rows += [["Stays with you", Across(risk)] for risk in best.priced.risks]
    return _listed("What to do", rows)


def _deeds(priced: Priced) -> Iterator[tuple[str, str]]:
    """What a plan has its owner do, hire, buy and borrow, in a few lines."""
    own, hired = priced.plan.by_hands()
    if own:
        yield "Do yourself", listed(own)
    for bid, steps in sorted(hired.items()):
        yield f"Hire {bid}", listed(steps)
    goods: dict[str, list[str]] = {}
    for order in priced.orders:
        goods.setdefault(order.supplier, []).append(order.item)
    for supplier, route in sorted(priced.plan.routes.items()):
        items = listed(dict.fromkeys(goods.get(supplier, ["goods"])))
        yield f"From {supplier}", f"{items} ({route})"
    machines = [f"{name} ({way})" for name, way in sorted(priced.plan.machines.items())]
    if machines:
        yield "Machines", "; ".join(machines)
    if priced.plan.disposal:
        yield "Spoil", priced.plan.disposal


def _listed(title: str, rows: list[list[Cell]]) -> Table:
    return Table([Column("")], rows, title=title, headless=True)


def _missing(comparison: Comparison) -> Table:
    rows: list[list[Cell]] = [
        [Text(m.what, "warn"), Across(f"{m.hint} (sheet {m.sheet})")] for m in comparison.missing
    ]
    if comparison.next_step:
        rows.append(["Fill next", Across(comparison.next_step, "strong")])
    return _listed("What is not yet priced", rows)


def _scenarios(comparison: Comparison, plans: Sequence[StoredPlan], scenarios: Sheet) -> Table:
    columns = [
        Column("Plan"),
        Column("Cash", right=True),
        Column("Own hours", right=True),
        Column("Cash and hours", right=True, note="Own hours at your hour value."),
        Column("Not yet priced", right=True, unit="costs"),
        Column("Remark"),
    ]
    value = comparison.options.hour_value.value
    rows: list[list[Cell]] = []
    for plan in (p for p in plans if p.scenario is not None):
        cash, hours, total, missing = (plan_cell(scenarios, plan, c) for c in "CDEF")
        priced = plan.priced
        rows.append(
            [
                Text(plan.title, "strong" if plan.scenario is comparison.best else "plain"),
                Formula(f"={cash}", priced.cash, MONEY),
                Formula(f"={hours}", priced.own_hours, HOURS),
                Formula(f"={total}", priced.total(value), MONEY),
                Formula(f"={missing}", len(priced.missing), COUNT),
                Text(plan.remark, "quiet"),
            ]
        )
    chart = cash_chart(scenarios, plans, comparison.job.settings.currency)
    for refused in (s for s in comparison.scenarios if not s.feasible):
        rows.append([refused.title, Across(f"cannot be built: {refused.why_not}", "quiet")])
    return Table(columns, rows, title="Plans side by side", chart=chart)


def _contents(comparison: Comparison, also: Sequence[tuple[str, str]]) -> Table:
    pages = [
        *also,
        (SCENARIOS, "every plan by group and choice"),
        ("Hour value", "which plan at which hour value"),
        ("Buying list", "what to order where, to print"),
        ("Calendar", "when each step is done, and what to order by when"),
        ("Quantities", "what is needed and why"),
        (AMOUNTS, "how large the parts are, and how much of each step"),
        ("Quotes", "every quote side by side, landed"),
        ("Delivery or haul", "how goods come"),
        ("Equipment", "rent, borrow or buy"),
        ("Own or hired", "steps and bids"),
        ("Bedding", "sand or small stone"),
        ("Inputs", "every number, open to change"),
        ("Workings", "every step of the arithmetic, one formula a row"),
        ("Assumptions", "defaults, sources, cautions, warnings"),
    ]
    if comparison.risk is not None:
        pages.insert(2 + len(also), (RISK, "how sure each sum is, and what may run short"))
    if comparison.deeper is not None:
        pages.append((DEEPER, "what a little more costs, and the bids like for like"))
        if comparison.deeper.trades is not None:
            pages.append((TRADES, "every trade of money against hours"))
    rows: list[list[Cell]] = [[Go(name), Across(what)] for name, what in pages]
    return replace(_listed("Where to look", rows), on_paper=False)
