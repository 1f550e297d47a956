"""The page of ``--vary``: the best plan at each value of one input, as a chart and a table."""

from __future__ import annotations

from collections.abc import Sequence

from budget.decide.varying import Varied
from budget.job import Job
from budget.report import words
from budget.report.drawing import weeks
from budget.report.page.page import environment, file_text
from budget.report.page.view import Column, Row, Table

TITLES = ("Value", "Bedding", "Cash", "Own hours", "Cash and hours", "What changes")


def render(target: str, found: Sequence[Varied], job: Job) -> str:
    """The page as one string of HTML."""
    currency = job.settings.currency
    traces = (
        weeks.Trace("Cash and own hours together", [_total(v) for v in found],
                        [_said(v, "cash and hours", _total(v), currency) for v in found]),
        weeks.Trace("Cash", [_cash(v) for v in found],
                        [_said(v, "cash", _cash(v), currency) for v in found]),
    )  # fmt: skip
    heading = f"The best plan as {target} varies"
    chart = weeks.lines(
        "varied", heading, [v.value for v in found], traces,
        lambda cents: words.money_round(cents, currency),
    )  # fmt: skip
    return environment().get_template("varied.html").render(
        title=job.settings.name, as_of=words.date(job.settings.as_of), heading=heading,
        style=file_text("page.css"), chart=chart, table=_table(heading, found, currency),
        key=tuple((weeks.sample(n), t.name) for n, t in enumerate(traces)),
    )  # fmt: skip


def _total(one: Varied) -> float | None:
    return one.total if one.priced else None


def _cash(one: Varied) -> float | None:
    return float(one.priced.cash) if one.priced else None


def _said(one: Varied, what: str, cents: float | None, currency: str) -> str:
    return "" if cents is None else f"at {one.value}: {words.money(cents, currency)} {what}"


def _table(heading: str, found: Sequence[Varied], currency: str) -> Table:
    columns = tuple(Column(title, number=i in (2, 3, 4)) for i, title in enumerate(TITLES))
    return Table(heading, columns, tuple(_row(one, currency) for one in found))


def _row(one: Varied, currency: str) -> Row:
    if one.priced is None:
        return Row((one.value, "no plan can be built", "", "", "", ""))
    return Row(
        (
            one.value,
            one.bedding,
            words.money(one.priced.cash, currency),
            words.hours(one.priced.own_hours),
            words.money(one.total, currency),
            one.change,
        )
    )
