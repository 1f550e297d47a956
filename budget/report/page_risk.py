"""The section of the page that says how sure the answer is."""

from __future__ import annotations

from dataclasses import dataclass

from budget.decide.risk.result import PERCENTILES, Mover, Outcome, Risk
from budget.reference import rows
from budget.report import risk as risk_words
from budget.report import words
from budget.report.page_view import Column, Row, Table, View

#: Unknowns listed; the rest hardly move anything.
_LISTED = 8


@dataclass(frozen=True, slots=True)
class Sure:
    """The finding in a sentence, the sums of each plan, what moves them, how it was found."""

    finding: str
    plans: Table
    movers: Table
    note: str


def how_sure(view: View) -> Sure | None:
    """The section, where anything is unsure."""
    risk = view.comparison.risk
    if risk is None:
        return None
    said = "; ".join(risk_words.in_words(view.comparison))
    return Sure(f"{said[:1].upper()}{said[1:]}.", _plans(view, risk), _movers(view, risk),
                _note(view, risk))  # fmt: skip


def _plans(view: View, risk: Risk) -> Table:
    columns = (
        Column("Plan"),
        *(Column(f"Cash in {p // 10} of 10 cases at most", number=True) for p in PERCENTILES),
        Column("Own hours in 8 of 10 cases at most", number=True),
        Column("To set aside", number=True),
        Column("Chance to pass the limit", number=True),
    )
    found = tuple(_plan(view, outcome, outcome.title == risk.best) for outcome in risk.outcomes)
    return Table("What each plan may come to", columns, found)


def _plan(view: View, outcome: Outcome, marked: bool) -> Row:
    eight = PERCENTILES.index(80)
    limit = "no limit set" if outcome.over_limit is None else _chance(outcome.over_limit)
    cells = (
        outcome.title,
        *(view.round_money(cash) for cash in outcome.cash),
        words.hours(outcome.hours[eight]),
        view.round_money(outcome.contingency),
        limit,
    )
    return Row(cells, marked=marked)


def _chance(chance: float) -> str:
    return words.percent(round(chance, 2))


def _movers(view: View, risk: Risk) -> Table:
    columns = (
        Column("Not sure"),
        Column("Share of the spread in cash", number=True),
        Column("Cash at its low end", number=True),
        Column("Cash at its high end", number=True),
        Column("Own hours, low to high", number=True),
    )
    found = tuple(_mover(view, mover) for mover in risk.movers[:_LISTED])
    return Table(f"What moves “{risk.best}” most, each alone", columns, found)


def _mover(view: View, mover: Mover) -> Row:
    ends = [words.hours(h).split()[0] for h in (mover.hours_low, mover.hours_high)]
    return Row(
        (
            mover.name,
            words.percent(round(mover.cash_share, 2)),
            view.round_money(mover.cash_low),
            view.round_money(mover.cash_high),
            " to ".join(ends),
        )
    )


def _note(view: View, risk: Risk) -> str:
    best = risk.of(risk.best)
    error = view.round_money(best.cash_errors[PERCENTILES.index(80)])
    return (
        f"Found from {risk.draws:,} draws (seed {risk.seed}), each plan under the same ones, its "
        "choices fixed and its packs, trips and days counted anew. Every range is a triangle "
        "from low over likely to high; the paces of own steps move together; firm quotes do not "
        f"move. The draws leave the 8-of-10 sum a standard error of {error}. What to set aside "
        "stands beside the cash, not inside it. Where the workbook gives no low and high: "
        f"{_usual()}."
    )


def _usual() -> str:
    """The documented ranges, as times what is written."""
    usual = [row for row in rows("ranges") if row["use"] == "factor"]
    found = [f"{r['name']} {r['low']} to {r['high']} times ({r['standing']})" for r in usual]
    return ", ".join(found)
