"""The Risk sheet: how sure each sum is, what moves it, how much to order. All of it drawn."""

from __future__ import annotations

from collections.abc import Sequence

from budget.decide.plan import Comparison
from budget.decide.risk.result import PERCENTILES, Risk
from budget.numerals import grouped
from budget.report import risk as risk_words
from budget.report import short as short_words
from budget.report import words
from budget.report.book_cells import NONE, Across, Cell, Column, Sheet, Stored, Table, Text, letter
from budget.units import HOURS, MONEY, NUMBER, RATIO, Kind

RISK = "Risk"


def risk_sheet(comparison: Comparison) -> Sheet | None:
    """The results of the draws, None where nothing is unsure. Nothing is worked out again."""
    risk = comparison.risk
    if risk is None:
        return None
    opening = (
        f"Drawn, not calculated: {grouped(risk.draws)} cases (seed {risk.seed}), every plan "
        "under the same ones. These numbers do not follow changes on Inputs; “budget compare” "
        "works them out again, with 100,000 cases if “--thorough” is added."
    )
    sheet = Sheet(RISK, RISK, opening)
    sheet.tables += [_plans(risk), _said(comparison, risk), _movers(risk), _curve(risk)]
    if risk.shortfalls:
        sheet.tables += [_short(risk), _one_short(comparison, risk)]
    if risk.findings:
        sheet.tables.append(_findings(risk))
    if len(risk.outcomes) > 1:
        sheet.tables.append(_wins(risk))
    return sheet


def _drawn(value: float | None, kind: Kind) -> Cell:
    return NONE if value is None else Stored(value, kind, "laid out")


def _columns(first: str, *titles: str) -> list[Column]:
    return [Column(first, 30), *(Column(title, 12, right=True) for title in titles)]


def _plans(risk: Risk) -> Table:
    sure = risk_words.cases(risk.confidence)
    columns = _columns(
        "Plan",
        *(f"Cash in {p // 10} of 10 cases at most" for p in PERCENTILES),
        f"Enough in {sure}", "Standard error of that", "To set aside",
        *(f"Own hours in {p // 10} of 10 cases at most" for p in PERCENTILES),
        "Chance to pass the limit", "Chance that the best plan is cheaper, hours counted",
    )  # fmt: skip
    rows: list[list[Cell]] = [
        [
            Text(o.title, "strong" if o.title == risk.best else "plain"),
            *(_drawn(cash, MONEY) for cash in o.cash),
            _drawn(o.safe, MONEY), _drawn(o.safe_error, MONEY), _drawn(o.contingency, MONEY),
            *(_drawn(hours, HOURS) for hours in o.hours),
            _drawn(o.over_limit, RATIO), _drawn(o.beaten, RATIO),
        ]
        for o in risk.outcomes
    ]  # fmt: skip
    return Table(columns, rows, title="What each plan may come to")


def _said(comparison: Comparison, risk: Risk) -> Table:
    currency = comparison.job.settings.currency
    days = words.money_round(risk.with_days, currency)
    lines = (
        risk_words.safe_side(risk),
        f"With hire days as the calendar has them, rain and late goods, {days} is enough in "
        f"{risk_words.cases(risk.confidence)} for the best plan.",
        risk_words.accuracy_in_words(risk.accuracy),
        f"Published accuracy: {risk.accuracy.source}.",
        *(f"{part[:1].upper()}{part[1:]}." for part in risk_words.find_out_in_words(comparison)),
    )
    rows: list[list[Cell]] = [[Across(line)] for line in lines]
    return Table([Column("")], rows, title="In words", headless=True)


def _movers(risk: Risk) -> Table:
    columns = _columns(
        "Not sure", "Share of the spread in cash", "Cash at its low end", "Cash at its high end",
        "Share of the spread in hours", "Hours at its low end", "Hours at its high end",
    )  # fmt: skip
    rows: list[list[Cell]] = [
        [
            m.name, _drawn(m.cash_share, RATIO), _drawn(m.cash_low, MONEY),
            _drawn(m.cash_high, MONEY), _drawn(m.hours_share, RATIO), _drawn(m.hours_low, HOURS),
            _drawn(m.hours_high, HOURS),
        ]
        for m in risk.movers
    ]  # fmt: skip
    return Table(columns, rows, title=f"What moves “{risk.best}” most, each alone")


def _curve(risk: Risk) -> Table:
    columns = _columns("Chance of staying within it", "Cash")
    rows: list[list[Cell]] = [
        [f"{level} of 100 cases", _drawn(risk.curve[level], MONEY)] for level in range(5, 100, 5)
    ]
    return Table(columns, rows, title=f"Chance that “{risk.best}” stays within a sum")


def _short(risk: Risk) -> Table:
    columns = _columns(
        "Order", "Seller", "Sold by", "Bare need, packs", "By rule of thumb, packs",
        "Beyond the bare need", "Chance too little", "Costs least on average, packs",
        "Beyond the bare need", "Chance then", "Once short costs", "One over costs", "Saves",
    )  # fmt: skip
    rows: list[list[Cell]] = [
        [
            s.item, s.supplier, s.per, _drawn(s.bare, NUMBER), _drawn(s.ordered, NUMBER),
            _drawn(s.extra(s.ordered), RATIO), _drawn(s.chance, RATIO), _drawn(s.best, NUMBER),
            _drawn(s.extra(s.best), RATIO), _drawn(s.best_chance, RATIO), _drawn(s.short, MONEY),
            _drawn(s.one_over, MONEY), _drawn(s.saves, MONEY),
        ]
        for s in risk.shortfalls
    ]  # fmt: skip
    remark = short_words.method(risk)
    return Table(columns, rows, title="Running short", remark=remark)


def _one_short(comparison: Comparison, risk: Risk) -> Table:
    currency = comparison.job.settings.currency
    rows: list[list[Cell]] = [
        [
            s.item,
            Across(f"Takes {short_words.takes(s)}. Running short: {short_words.costs(s, currency)}"
                   f". Can be had again: {s.again}.{short_words.returns(s, currency)}"),
        ]
        for s in risk.shortfalls
    ]  # fmt: skip
    return Table([Column("")], rows, title="What running short once costs", headless=True)


def _findings(risk: Risk) -> Table:
    columns = _columns(
        "Not sure", "Saves on average", "By ordering to it", "By choosing the plan to it",
        "Less to set aside", "Takes, at the hour value",
    )  # fmt: skip
    rows: list[list[Cell]] = [
        [
            f.name,
            *(_drawn(cents, MONEY) for cents in (f.worth, f.order, f.plan, f.set_aside, f.effort)),
            Across(f"{f.how}{f'; it may turn to “{f.instead}”' if f.instead else ''}"),
        ]
        for f in risk.findings
    ]
    return Table([*columns, Column("How to find it out", 12)], rows,
                 title="What it is worth to find out first")  # fmt: skip


def _wins(risk: Risk) -> Table:
    marks: Sequence[str] = [letter(i) for i in range(len(risk.outcomes))]
    columns = _columns("Plan", *(f"beats {mark}" for mark in marks))
    rows: list[list[Cell]] = [
        [
            f"{mark}: {outcome.title}",
            *(NONE if i == j else _drawn(share, RATIO) for j, share in enumerate(row)),
        ]
        for i, (mark, outcome, row) in enumerate(zip(marks, risk.outcomes, risk.wins, strict=True))
    ]
    return Table(columns, rows, title="How often one plan beats another, hours counted")
