"""Running short, order by order: what ``budget quantities --thorough`` prints."""

from __future__ import annotations

from budget.decide.outcome import Comparison
from budget.decide.pricing.goods import packs_in_words
from budget.decide.risk.result import PERCENTILES, Risk, Shortfall
from budget.numerals import grouped
from budget.report import risk as risk_words
from budget.report import words
from budget.report.terminal.blocks import Block, Gap, Heading, Text, table

TITLES = (
    "Order", "Bare need", "By rule of thumb", "Chance too little", "Costs least",
    "Chance then", "Once short costs", "One over costs", "Saves",
)  # fmt: skip


def row(short: Shortfall, currency: str) -> tuple[str, ...]:
    """One order in words, in the order of :data:`TITLES`."""
    return (
        short.item,
        packs_in_words(round(short.bare, 2), short.per),
        _order(short, short.ordered),
        risk_words.chance(short.chance),
        _order(short, short.best),
        risk_words.chance(short.best_chance),
        words.money_round(short.short, currency),
        words.money(short.one_over, currency),
        words.money_round(short.saves, currency),
    )


def _order(short: Shortfall, packs: float) -> str:
    """Packs, with what they are beyond the bare need."""
    extra = short.extra(packs)
    said = packs_in_words(packs, "")
    return said if extra is None else f"{said} ({_signed(extra)})"


def _signed(extra: float) -> str:
    return f"{'+' if extra >= 0 else ''}{words.percent(round(extra, 3 if abs(extra) < 0.1 else 2))}"


def takes(short: Shortfall) -> str:
    """How much it may take: the middle, and 8 in 10 cases about it."""
    low, middle, high = (short.needed[PERCENTILES.index(p)] for p in (10, 50, 90))
    return (
        f"{packs_in_words(round(middle, 2), short.per)} in the middle, "
        f"{packs_in_words(round(low, 2), '')} to {packs_in_words(round(high, 2), '')} in 8 of 10 "
        "cases"
    )


def costs(short: Shortfall, currency: str) -> str:
    """What running short once costs, piece by piece."""
    parts = [f"{what} {words.money_round(cents, currency)}" for what, cents in short.one_short]
    return "; ".join([*parts, *([short.note] if short.note else [])])


def returns(short: Shortfall, currency: str) -> str:
    """What taking unopened packs back costs, and the spares that the order holds, if any."""
    said = ""
    if short.bring_back:
        trip = words.money_round(short.bring_back, currency)
        said = f" Taking unopened packs back costs {trip} once, for the trip."
    if short.spares:
        packs = packs_in_words(round(short.spares, 2), short.per)
        said += f" The order holds {packs} of spares to keep, which may be laid if it runs short."
    return said


def method(risk: Risk) -> str:
    """How the orders were weighed, in a few sentences."""
    draws = grouped(risk.draws)
    return (
        f"Found from {draws} draws (seed {risk.seed}) of measures, depths, densities, and "
        "what is spilled, cut off or broken; these ranges stand in the place of the rule of "
        "thumb's percentage, nothing is added on top. Each order was priced against every draw, "
        "in whole packs, with what one too many costs (its price less what the seller gives back "
        "for unopened packs) and what one too few costs. Running short means that the work cannot "
        "be finished: spares to keep (Job) may be laid, and a spare left over is not one too many. "
        "Goods of one seller used at one step that run short together share the trip and the lost "
        "day; others are weighed alone. Order more by hand of what must not run out."
    )


def blocks(comparison: Comparison) -> list[Block]:
    """The table of all orders, what running short of each costs, and how it was found."""
    risk = comparison.risk
    if risk is None or not risk.shortfalls:
        return [Gap(), Text("Running short: no order of this plan rests on anything unsure.")]
    currency = comparison.job.settings.currency
    rows = [row(short, currency) for short in risk.shortfalls]
    found: list[Block] = [
        Gap(),
        Heading(f"Running short, in the plan “{risk.best}”"),
        table(TITLES, rows, right=tuple(range(1, len(TITLES)))),
        Gap(),
    ]
    for short in risk.shortfalls:
        found.append(
            Text(f"- {short.item} ({short.supplier}): takes {takes(short)}. Running short costs "
                 f"{costs(short, currency) or 'nothing but the packs'}. Can be had again: "
                 f"{short.again}.{returns(short, currency)}")
        )  # fmt: skip
    return [*found, Gap(), Text(method(risk))]
