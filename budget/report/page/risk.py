"""The section of the page that says how sure the answer is."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from budget.decide.risk.result import PERCENTILES, Finding, Mover, Outcome, Risk
from budget.numerals import grouped
from budget.reference import rows
from budget.report import risk as risk_words
from budget.report import words
from budget.report.drawing import spread
from budget.report.page.view import Column, Row, Table, View

if TYPE_CHECKING:
    from markupsafe import Markup

#: Unknowns listed one by one.
_LISTED = 8

#: Levels of chance in the table behind the curve, in per cent.
_LEVELS = (5, 10, 20, 30, 40, 50, 60, 70, 80, 90, 95)


@dataclass(frozen=True, slots=True)
class Drawing:
    """A chart with its caption and the table behind it."""

    chart: Markup
    caption: str
    table: Table


@dataclass(frozen=True, slots=True)
class Sure:
    """The finding in sentences, three charts with their tables, and how it was found."""

    finding: str
    safe_side: str
    accuracy: str
    ranges: Drawing
    chances: Drawing
    swings: Drawing | None
    wins: Table | None
    worth: Table | None
    note: str


def how_sure(view: View) -> Sure | None:
    """The section, where anything is unsure."""
    risk = view.comparison.risk
    if risk is None:
        return None
    said = "; ".join(risk_words.in_words(view.comparison))
    return Sure(
        finding=f"{said[:1].upper()}{said[1:]}.",
        safe_side=risk_words.safe_side(view.comparison, risk),
        accuracy=risk_words.accuracy_in_words(risk.accuracy),
        ranges=_ranges(view, risk),
        chances=_chances(view, risk),
        swings=_swings(view, risk) if risk.movers else None,
        wins=_wins(view, risk) if len(risk.outcomes) > 1 else None,
        worth=_worth(view, risk),
        note=_note(view, risk),
    )


def _ranges(view: View, risk: Risk) -> Drawing:
    plans = [
        spread.Range(
            name=o.title, low=o.cash[0], middle=o.cash[1], high=o.cash[3], safe=o.safe,
            words=f"likely {view.round_money(o.cash[1])}; {risk_words.cases(risk.confidence)}: "
                  f"{view.round_money(o.safe)}",
            marked=o.title == risk.best,
        )
        for o in risk.outcomes
    ]  # fmt: skip
    ends = (
        view.round_money(min(p.low for p in plans)),
        f"{view.round_money(max(p.high for p in plans))} cash",
    )
    chart = spread.ranges("sure-ranges", "Cost range by plan", plans, ends, _limit(view))
    caption = (
        "The bar runs from the sum that is enough in only 1 of 10 cases to the one that is enough "
        "in 9 of 10. The stroke is the middle; the diamond is the sum that is enough in "
        f"{risk_words.cases(risk.confidence)}. The name of the {view.best_plan} is bold."
    )
    return Drawing(chart, caption, _plans(view, risk))


def _limit(view: View) -> spread.Mark | None:
    limit = view.comparison.job.settings.spending_limit
    if limit is None:
        return None
    return spread.Mark(limit, f"your limit {view.round_money(limit)}")


def _chances(view: View, risk: Risk) -> Drawing:
    best = risk.of(risk.best)
    priced = view.priced
    marks = [
        spread.Mark(best.safe, f"enough in {risk_words.cases(risk.confidence)}: "
                                   f"{view.round_money(best.safe)}")
    ]  # fmt: skip
    if view.round_money(risk.with_days) != view.round_money(best.safe):
        marks.append(
            spread.Mark(risk.with_days, f"with hire days and delays: "
                                            f"{view.round_money(risk.with_days)}")
        )  # fmt: skip
    if priced is not None:
        as_written = f"as written: {view.round_money(priced.cash)}"
        marks.insert(0, spread.Mark(priced.cash, as_written))
    limit = _limit(view)
    if limit is not None and limit.value < risk.curve[-1] * 1.2:
        marks.append(limit)
    low = min(risk.curve[0], *(m.value for m in marks))
    high = max(risk.curve[-1], *(m.value for m in marks))
    ends = (view.round_money(low), f"{view.round_money(high)} cash")
    chart = spread.chances(
        "sure-chances", "Chance of staying within a sum", risk.curve[::2], ends, marks
    )
    columns = (Column("Chance of staying within it"), Column("Sum", number=True))
    found = tuple(
        Row((f"{level} of 100 cases", view.round_money(risk.curve[level]))) for level in _LEVELS
    )
    table = Table(f"Sums that “{risk.best}” stays within", columns, found)
    return Drawing(chart, f"How many cases stay within a sum, for “{risk.best}”.", table)


def _swings(view: View, risk: Risk) -> Drawing:
    found = [
        spread.Swing(
            name=m.name, low=m.cash_low, high=m.cash_high,
            low_words=view.round_money(m.cash_low), high_words=view.round_money(m.cash_high),
        )
        for m in risk.movers[:_LISTED]
        if m.cash_low != m.cash_high
    ]  # fmt: skip
    best = risk.of(risk.best)
    written = view.priced.cash if view.priced is not None else best.cash[1]
    middle = spread.Mark(written, f"as written {view.round_money(written)}")
    chart = spread.swings("sure-swings", "What moves the cash most", found, middle)
    caption = (
        "Each unknown alone, from its low end to its high end, the rest as written. Where both "
        "ends cost more, a whole load or a free delivery hangs on it."
    )
    return Drawing(chart, caption, _movers(view, risk))


def _plans(view: View, risk: Risk) -> Table:
    columns = (
        Column("Plan"),
        *(Column(f"Enough in {p // 10} of 10 cases", number=True) for p in PERCENTILES),
        Column("Own hours, enough in 8 of 10 cases", number=True),
        Column("To set aside", number=True),
        Column("Chance to pass the limit", number=True),
    )
    found = tuple(
        _plan(view, outcome, view.best_plan if outcome.title == risk.best else "")
        for outcome in risk.outcomes
    )
    return Table("What each plan may come to", columns, found)


def _plan(view: View, outcome: Outcome, marked: str) -> Row:
    eight = PERCENTILES.index(80)
    limit = "no limit set" if outcome.over_limit is None else risk_words.chance(outcome.over_limit)
    cells = (
        outcome.title,
        *(view.round_money(cash) for cash in outcome.cash),
        words.hours(outcome.hours[eight]),
        view.round_money(outcome.contingency),
        limit,
    )
    return Row(cells, marked=marked)


def _movers(view: View, risk: Risk) -> Table:
    columns = (
        Column("Not sure"),
        Column("Share of the spread in cash", number=True),
        Column("Cash with this alone at its low end", number=True),
        Column("At its high end", number=True),
        Column("Own hours, low to high", number=True),
    )
    found = [_mover(view, mover) for mover in risk.movers[:_LISTED]]
    rest = risk.movers[_LISTED:]
    if rest:
        share = words.percent(round(sum(m.cash_share for m in rest), 2))
        found.append(Row((f"the other {len(rest)} together", share, "", "", "")))
    return Table(f"What moves “{risk.best}” most", columns, tuple(found))


def _mover(view: View, mover: Mover) -> Row:
    ends = [words.hours(h).split()[0] for h in (mover.hours_low, mover.hours_high)]
    return Row(
        (
            mover.name,
            words.percent(round(mover.cash_share, 2)),
            view.round_money(mover.cash_low),
            view.round_money(mover.cash_high),
            " to ".join(dict.fromkeys(ends)),
        )
    )


def _wins(view: View, risk: Risk) -> Table:
    """How often each plan beats each other, by cash and hours together."""
    letters = [chr(ord("A") + i) if i < 26 else str(i + 1) for i in range(len(risk.outcomes))]
    columns = (Column("Plan"), *(Column(f"beats {mark}", number=True) for mark in letters))
    found = tuple(
        Row(
            (
                f"{mark}: {outcome.title}",
                *("" if i == j else risk_words.chance(share) for j, share in enumerate(row)),
            ),
            marked=view.best_plan if outcome.title == risk.best else "",
        )
        for i, (mark, outcome, row) in enumerate(
            zip(letters, risk.outcomes, risk.wins, strict=True)
        )
    )
    return Table("How often one plan beats another, hours counted", columns, found)


def _worth(view: View, risk: Risk) -> Table | None:
    told = [f for f in risk.findings if f.worth >= 100 or f.set_aside >= 100][:_LISTED]
    if not told:
        return None
    columns = (
        Column("Not sure"),
        Column("How to find it out"),
        Column("Saves on average", number=True),
        Column("Less to set aside", number=True),
        Column("Takes, at your hour value", number=True),
        Column("Pays"),
    )
    return Table(
        "What it is worth to find out first", columns, tuple(_finding(view, f) for f in told)
    )


def _finding(view: View, found: Finding) -> Row:
    note = f"It may turn the choice to “{found.instead}”." if found.instead else ""
    cells = (
        found.name,
        found.how,
        view.round_money(found.worth),
        view.round_money(found.set_aside),
        view.round_money(found.effort),
        "yes" if risk_words.pays(found) else "not by the money alone",
    )
    return Row(cells, note=note)


def _note(view: View, risk: Risk) -> str:
    best = risk.of(risk.best)
    draws = grouped(risk.draws)
    return (
        f"Found from {draws} draws (seed {risk.seed}), each plan under the same ones, its "
        "choices fixed and its packs, trips and days counted anew. Every range is a triangle "
        "from low over likely to high; the paces of own steps move together; firm quotes do not "
        f"move. {_days(view, risk)}"
        f"The draws leave the sum that is enough in {risk_words.cases(risk.confidence)} a "
        f"standard error of {view.money(best.safe_error)}. What to set aside stands beside the "
        f"cash, not inside it. {_shares(risk)}Published accuracy: {risk.accuracy.source}. Where "
        f"the workbook gives no low and high: {_usual()}."
    )


def _shares(risk: Risk) -> str:
    return f"{risk_words.shares_in_words(risk)} " if risk.movers else ""


def _days(view: View, risk: Risk) -> str:
    """What the calendar adds to the sum that is enough."""
    if risk.over_with_days is None and risk.with_days == risk.of(risk.best).safe:
        return ""
    return (
        f"With the hire days that the calendar needs beyond those priced, days that rain and late "
        f"goods add, and lost days, {view.round_money(risk.with_days)} is enough; only the plan "
        "of the answer has a calendar, so that plans are compared without them. "
    )


def _usual() -> str:
    """The documented ranges, as times what is written."""
    usual = [row for row in rows("ranges") if row["use"] == "factor"]
    found = [f"{r['name']} {r['low']} to {r['high']} times ({r['standing']})" for r in usual]
    return ", ".join(found)
