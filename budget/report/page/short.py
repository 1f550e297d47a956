"""The section of the page about running short: how much of everything to order."""

from __future__ import annotations

from dataclasses import dataclass

from budget.report import risk as risk_words
from budget.report import short, words
from budget.report.page.view import Column, Row, Table, View


@dataclass(frozen=True, slots=True)
class Short:
    """The finding in a sentence, the orders, what running short of each costs, how it was found."""

    finding: str
    table: Table
    costs: tuple[tuple[str, str], ...]
    note: str


#: What the cells of :func:`short.row` are, where there is room for words.
_TITLES = (
    "Order", "Bare need", "By rule of thumb", "Chance that it is too little",
    "Cheapest order on average", "Chance that this is too little", "Running short costs",
    "One too many costs", "The cheapest order saves",
)  # fmt: skip


def running_short(view: View) -> Short | None:
    """The section, where any order of the best plan is unsure."""
    risk = view.comparison.risk
    if risk is None or not risk.shortfalls:
        return None
    first, *more = (Column(title, number=i > 0) for i, title in enumerate(_TITLES))
    found = tuple(Row(short.row(s, view.currency)) for s in risk.shortfalls)
    said = "; ".join(risk_words.short_in_words(view.comparison)[:3])
    return Short(
        finding=f"{said[:1].upper()}{said[1:]}.",
        table=Table("The rule of thumb against the order that costs least on average",
                    (first, *more), found),
        costs=tuple(
            (s.item,
             f"takes {short.takes(s)}. Running short once costs "
             f"{words.money_round(s.short, view.currency)}: {short.costs(s, view.currency)}. "
             f"Can be had again: {s.again}.{short.returns(s, view.currency)}")
            for s in risk.shortfalls
        ),
        note=short.method(risk),
    )  # fmt: skip
