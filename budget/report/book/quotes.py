"""The Quotes sheet: every quote for what the job needs, side by side, landed."""

from __future__ import annotations

from budget.decide.outcome import Comparison
from budget.decide.plan import Priced
from budget.prices.landed import Landed, landed
from budget.report.book.cells import NONE, UNIT, Cell, Column, Live, Sheet, Table, Text, UnitOf


def quotes_sheet(comparison: Comparison, priced: Priced | None) -> Sheet:
    """Each quote for the whole amount of its item, as if bought alone, cheapest landed first."""
    opening = (
        "Every quote for the whole amount of its item, in whole packs, with tax and the cheapest "
        "way it could come if bought alone. Only landed cost ranks; a plan may share a delivery."
    )
    columns = [
        Column("Item", 20),
        Column("Seller", 16),
        Column("Pack", 11),
        Column("Price a pack", 11, "Before tax.", right=True),
        Column("Packs", 8, right=True, unit="packs"),
        Column("Goods", 12, "Before tax.", right=True),
        Column("Tax", 10, right=True),
        Column("Comes by", 16, "The way of least cash and own hours, bought alone."),
        Column("Delivery with tax", 11, right=True),
        Column("Own hours", 9, "To fetch and handle it, without carrying.", right=True),
        Column(
            "Landed", 12, "Goods, tax and delivery, less what packs bring that go back.", right=True
        ),
        Column("Each unit placed", 11, "Landed over what ends up in the work.", right=True),
        Column(UNIT, 15),
        Column("In the plan", 11),
        Column("Remark", 12),
    ]
    chosen = priced.plan.bought if priced else frozenset()
    rows = [_quote(row, chosen) for row in landed(comparison.options, comparison.takeoff)]
    return Sheet("Quotes", "Quotes side by side", opening, [Table(columns, rows, filters=True)])


def _quote(row: Landed, chosen: frozenset[str]) -> list[Cell]:
    whole: list[Cell] = [NONE, NONE, NONE, NONE, ""]
    if row.delivery is not None and row.cash is not None and row.landed is not None:
        whole = [
            Live(row.delivery),
            Live(row.hours) if row.hours.value else NONE,
            Live(row.cash),
            Live(row.landed, "strong"),
            UnitOf(row.landed.kind),
        ]
    return [
        row.item,
        row.supplier,
        row.per,
        Live(row.pack_price),
        Live(row.packs),
        Live(row.goods),
        Live(row.tax),
        row.route or Text("no way priced", "warn"),
        *whole,
        Text("chosen", "good") if row.offer in chosen else "",
        Text("price has run out", "warn") if row.expired else _back(row),
    ]


def _back(row: Landed) -> str:
    return "some goes back, off Landed" if row.back is not None else ""
