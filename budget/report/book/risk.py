"""The Risk sheet: how sure each sum is, what moves it, how much to order. All of it drawn."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from budget.decide.outcome import Comparison
from budget.decide.risk.result import PERCENTILES, Outcome, Risk
from budget.figures import default
from budget.numerals import grouped
from budget.report import risk as risk_words
from budget.report import short as short_words
from budget.report import words
from budget.report.book.cells import (
    NONE,
    Across,
    Cell,
    Chart,
    Column,
    Formula,
    Go,
    Live,
    Sheet,
    Stored,
    Table,
    Text,
    UnitOf,
    letter,
)
from budget.units import COUNT, HOURS, MONEY, NUMBER, RATIO, Kind

RISK = "Risk"
_PLANS, _CONFIDENCE, _LEVELS = 0, 1, 2
_CHART_ROWS = 14
#: Shares of all cases that are listed, in per cent; the confidence is looked up among them.
_LISTED = (*range(0, 100, 5), 99, 100)


def risk_sheet(comparison: Comparison) -> Sheet | None:
    """The results of the draws, None where nothing is unsure.

    The confidence on Inputs moves what is enough and what to set aside; the rest is as drawn.
    """
    risk = comparison.risk
    if risk is None:
        return None
    opening = (
        f"Drawn, not calculated: {grouped(risk.draws)} cases (seed {risk.seed}), every plan "
        "under the same ones. Only your confidence moves these numbers; after other changes on "
        "Inputs “budget compare” works them out again, with 100,000 cases if “--thorough” is added."
    )
    sheet = Sheet(RISK, RISK, opening)
    sheet.tables += [_plans(risk), _confidence(comparison, risk), _levels(risk)]
    # Only now is known where the tables stand that the formulas of the first two look into.
    sheet.tables[:2] = [_plans(risk, sheet), _confidence(comparison, risk, sheet)]
    sheet.tables[_LEVELS] = replace(sheet.tables[_LEVELS], chart=_chart(sheet, comparison, risk))
    sheet.tables += [_said(comparison, risk), _hours(risk)]
    if risk.movers:  # nothing moves a plan whose sums are all certain
        sheet.tables.append(_movers(risk))
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
    return [Column(first, 28), *(Column(title, 12, right=True) for title in titles)]


def _listed(risk: Risk) -> list[tuple[float, int | None]]:
    """The listed shares of cases, each with its place in the curve; the confidence has none."""
    found: list[tuple[float, int | None]] = [(level / 100, level) for level in _LISTED]
    if all(abs(share - risk.confidence) > 1e-9 for share, _ in found):
        found.append((risk.confidence, None))
    return sorted(found, key=lambda pair: pair[0])


def _between(risk: Risk) -> tuple[int, float]:
    """The last listed share at or below the confidence, from 1, and how far towards the next."""
    shares = [share for share, _ in _listed(risk)]
    place = min(sum(share <= risk.confidence for share in shares), len(shares) - 1)
    low, high = shares[place - 1], shares[place]
    return place, (risk.confidence - low) / (high - low)


def _place_cells(sheet: Sheet) -> tuple[str, str]:
    """The cells of the confidence's place among the listed shares, and how far beyond it."""
    first = sheet.first_row(_CONFIDENCE)
    return f"$B${first + 1}", f"$B${first + 2}"


def _listed_cells(sheet: Sheet, column: int) -> str:
    """The cells of one column of the listed shares, such as ``$B$30:$B$51``."""
    return sheet.rows_of(_LEVELS, letter(column)).rpartition("!")[2]


def _plans(risk: Risk, sheet: Sheet | None = None) -> Table:
    columns = _columns(
        "Plan", "As planned", "Enough at your confidence", "To set aside", "Standard error, drawn",
        *(f"Cash in {p // 10} of 10 cases at most" for p in PERCENTILES),
        "Chance to pass the limit", "Chance that the plan is cheaper, hours counted",
    )  # fmt: skip
    rows = [_outcome(risk, number, sheet) for number in range(len(risk.outcomes))]
    return Table(columns, rows, title="What each plan may come to")


def _outcome(risk: Risk, number: int, sheet: Sheet | None) -> list[Cell]:
    o = risk.outcomes[number]
    text = ""
    if sheet is not None:
        (place, beyond), sums = _place_cells(sheet), _listed_cells(sheet, number + 1)
        text = f"=INDEX({sums}, {place}) * (1 - {beyond}) + INDEX({sums}, {place} + 1) * {beyond}"
    enough = _enough(risk, o)
    return [
        Text(o.title, "strong" if o.title == risk.best else "plain"),
        _drawn(o.planned, MONEY), Formula(text, enough, MONEY, "strong"),
        Formula("=MAX(0, C{row} - B{row})", max(0.0, enough - o.planned), MONEY),
        _drawn(o.safe_error, MONEY),
        *(_drawn(cash, MONEY) for cash in o.cash),
        _drawn(o.over_limit, RATIO), _drawn(o.beaten, RATIO),
    ]  # fmt: skip


def _hours(risk: Risk) -> Table:
    columns = _columns("Plan", *(f"In {p // 10} of 10 cases at most" for p in PERCENTILES))
    rows: list[list[Cell]] = [
        [
            Text(o.title, "strong" if o.title == risk.best else "plain"),
            *(_drawn(hours, HOURS) for hours in o.hours),
        ]
        for o in risk.outcomes
    ]
    return Table(columns, rows, title="Own hours that each plan may take")


def _enough(risk: Risk, outcome: Outcome) -> float:
    """The cash that is enough at the confidence, as the sheet looks it up [cents]."""
    sums = [_at(outcome, level) for _, level in _listed(risk)]
    place, beyond = _between(risk)
    return sums[place - 1] * (1 - beyond) + sums[place] * beyond


def _at(outcome: Outcome, level: int | None) -> float:
    return outcome.safe if level is None else outcome.curve[level]


def _confidence(comparison: Comparison, risk: Risk, sheet: Sheet | None = None) -> Table:
    """The confidence, its place among the listed shares, and how far it reaches to the next."""
    settings, name = comparison.job.settings, "how sure a sum shall be"
    if "confidence" in settings.places:
        asked = settings.figure("confidence", RATIO, name)
    else:
        source = "8 of 10 cases (common practice)"
        asked = default(settings.confidence, RATIO, name, "default:confidence", source)
    place, beyond = _between(risk)
    shares = _listed_cells(sheet, 0) if sheet else ""
    row = _place_cells(sheet)[0] if sheet else ""
    at = f"MIN(MATCH(confidence, {shares}, 1), ROWS({shares}) - 1)"
    low, high = f"INDEX({shares}, {row})", f"INDEX({shares}, {row} + 1)"
    rows: list[list[Cell]] = [
        ["Your confidence", Live(asked, name="confidence"), UnitOf(RATIO),
         Go("Inputs", "change it")],
        ["Its place among the shares listed", Formula(f"={at}", place, COUNT), UnitOf(COUNT),
         Across("the last one at or below it, counted from the first")],
        ["How far towards the next",
         Formula(f"=(confidence - {low}) / ({high} - {low})", beyond, RATIO), UnitOf(RATIO),
         Across("sums between two shares are taken on the straight line between theirs")],
    ]  # fmt: skip
    return Table([Column("")], rows, title="How sure a sum shall be", headless=True)


def _levels(risk: Risk) -> Table:
    columns = [Column("Share of all cases", 30, right=True)]
    columns += [Column(o.title, 12, right=True) for o in risk.outcomes]
    rows: list[list[Cell]] = [
        [_drawn(share, RATIO), *(_drawn(_at(o, level), MONEY) for o in risk.outcomes)]
        for share, level in _listed(risk)
    ]
    title = "Cash that is enough in a share of all cases"
    return Table(columns, rows, title=title, new_page=True)


def _chart(sheet: Sheet, comparison: Comparison, risk: Risk) -> Chart:
    first = sheet.first_row(_LEVELS) - 1
    last = first + len(sheet.tables[_LEVELS].rows) - 1
    heads = sheet.head_row(_LEVELS) - 1
    best = next(n for n, o in enumerate(risk.outcomes, 1) if o.title == risk.best)
    return Chart(
        "Cash that is enough, by how sure you want to be",
        f"cash, {comparison.job.settings.currency}", RISK, (first, 0, last, 0),
        [((heads, best), (first, best, last, best))], _CHART_ROWS, "lines",
        "share of all cases", along_format="0%",
    )  # fmt: skip


def _said(comparison: Comparison, risk: Risk) -> Table:
    currency = comparison.job.settings.currency
    days = words.money_round(risk.with_days, currency)
    lines = (
        risk_words.safe_side(comparison, risk),
        f"With hire days as the calendar has them, rain and late goods, {days} is enough in "
        f"{risk_words.cases(risk.confidence)} for the plan.",
        risk_words.accuracy_in_words(risk.accuracy),
        f"Published accuracy: {risk.accuracy.source}.",
        *(f"{part[:1].upper()}{part[1:]}." for part in risk_words.find_out_in_words(comparison)),
    )
    rows: list[list[Cell]] = [[Across(line)] for line in lines]
    return Table([Column("")], rows, title="In words", headless=True)


def _movers(risk: Risk) -> Table:
    columns = _columns(
        "Not sure", "Share of the spread in cash", "Standard error, drawn",
        "Cash with this alone at its low end", "Cash at its high end",
        "Share of the spread in hours", "Standard error, drawn", "Hours at its low end",
        "Hours at its high end",
    )  # fmt: skip
    rows: list[list[Cell]] = [
        [
            m.name, _drawn(m.cash_share, RATIO), _drawn(m.cash_error, RATIO),
            _drawn(m.cash_low, MONEY), _drawn(m.cash_high, MONEY), _drawn(m.hours_share, RATIO),
            _drawn(m.hours_error, RATIO), _drawn(m.hours_low, HOURS), _drawn(m.hours_high, HOURS),
        ]
        for m in risk.movers
    ]  # fmt: skip
    title = f"What moves “{risk.best}” most"
    return Table(columns, rows, title=title, remark=risk_words.shares_in_words(risk))


def _short(risk: Risk) -> Table:
    columns = _columns(
        "Order", "Bare need", "By rule of thumb", "Beyond the bare need", "Chance too little",
        "Costs least on average", "Beyond the bare need", "Chance then", "Once short costs",
        "One over costs", "Saves",
    )  # fmt: skip
    for number in (1, 2, 5):
        columns[number] = replace(columns[number], unit="packs")
    columns.insert(1, Column("Seller, pack", 12))
    rows: list[list[Cell]] = [
        [
            s.item, f"{s.supplier}, {s.per}", _drawn(s.bare, NUMBER), _drawn(s.ordered, NUMBER),
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
    columns += [Column("How to find it out"), *[Column("")] * 3]
    return Table(columns, rows,
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
