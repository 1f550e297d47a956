"""The Buying list: what the best plan orders of each seller, ready to print."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import groupby

from budget.decide.outcome import Comparison
from budget.decide.plan import Order, Priced
from budget.figures import Figure
from budget.prices.packs import Purchase
from budget.report.book.calendar import order_days
from budget.report.book.cells import (
    NONE,
    Cell,
    Column,
    Formula,
    Live,
    Sheet,
    Stored,
    SumAbove,
    Table,
    Text,
    saying,
)
from budget.report.book.goods import Goods
from budget.units import MASS, MONEY, NUMBER, RATIO, Kind

BOX = "☐"

#: What to look at when goods arrive, by product kind. Common practice.
_ON_ARRIVAL = {
    "base": "size and fines as ordered; tonnage on the ticket; set down where agreed",
    "bedding sand": "coarse and clean, no clay; tonnage on the ticket; cover it from rain",
    "small gravel": "size as ordered, washed; tonnage on the ticket",
    "pea gravel": "rounded, washed, of one size; tonnage on the ticket",
    "screenings": "fines as ordered; tonnage on the ticket",
    "geotextile": "width and length on the label; no tears; keep out of the sun",
    "paver": "count the pallets; colour and lot alike; thickness; broken ones",
    "edging": "count; straight; fittings in the bundle",
    "spike": "count; length",
    "concrete mix": "dry bags, none torn; store off the ground",
    "joint sand": "dry bags, none torn; keep dry",
    "polymeric sand": "colour and lot alike; bags dry and sealed; keep dry",
    "joint gravel": "size as ordered, washed",
}
_OTHERWISE = "count; as ordered; nothing broken"


def buying_sheet(comparison: Comparison, priced: Priced | None, goods: Goods) -> Sheet:
    """What to order of each seller, with a box to tick."""
    opening = (
        "What the plan buys, seller by seller. Order by the packs shown; the bill is what to "
        "expect with tax. Tick the box when the goods have come and are checked."
    )
    sheet = Sheet("Buying list", "Buying list", opening, frozen=False)
    orders = sorted(priced.orders, key=lambda o: (o.supplier, o.item, o.offer)) if priced else []
    kinds = {need.item: need.kind for need in comparison.takeoff.needs}
    bought = {offer.key: purchase for offer, purchase in goods}
    order_by = order_days(comparison)
    for supplier, theirs in groupby(orders, key=lambda order: order.supplier):
        table = _seller(supplier, list(theirs), bought, kinds)
        until = order_by.get(supplier)
        sheet.tables.append(replace(table, remark=until) if until else table)
    if not orders:
        sheet.tables.append(saying("Nothing to buy yet."))
    return sheet


def _seller(
    supplier: str, orders: Sequence[Order], bought: dict[str, Purchase], kinds: dict[str, str]
) -> Table:
    columns = [
        Column("Got it", 7),
        Column("Item", 26),
        Column("Packs", 9, right=True, unit="packs"),
        Column("Pack", 12),
        Column("Price before tax", 13, right=True),
        Column("Tax", 11, right=True),
        Column("Bill", 13, right=True),
        Column("Deposit", 11, "Comes back; beside the bill.", right=True),
        Column("Weight", 11, right=True),
        Column("Left over", 9, "Share of the order that is not used.", right=True),
        Column("Check on arrival", 40),
    ]
    rows = [_order(order, bought.get(order.offer), kinds.get(order.item, "")) for order in orders]
    price, tax = sum(o.price for o in orders), sum(o.tax for o in orders)
    weights = [order.weight for order in orders if order.weight is not None]
    foot: list[Cell] = [
        "", "Together", "", "", SumAbove(price, MONEY), SumAbove(tax, MONEY),
        SumAbove(price + tax, MONEY), SumAbove(sum(o.deposit for o in orders), MONEY),
        SumAbove(sum(weights), MASS), "", "",
    ]  # fmt: skip
    return Table(columns, rows, title=supplier, foot=[foot])


def _order(order: Order, purchase: Purchase | None, kind: str) -> list[Cell]:
    weight: Cell = NONE
    if order.weight is not None:
        weight = _live(purchase.weight if purchase else None, order.weight, MASS)
    return [
        Text(BOX),
        order.item,
        _live(purchase.packs if purchase else None, order.packs, NUMBER),
        order.per,
        _live(purchase.price if purchase else None, order.price, MONEY),
        _live(purchase.tax if purchase else None, order.tax, MONEY),
        Formula("=E{row} + F{row}", order.price + order.tax, MONEY),
        _live(purchase.deposit if purchase else None, order.deposit, MONEY)
        if order.deposit
        else NONE,
        weight,
        _live(purchase.left_over if purchase else None, order.left_over, RATIO),
        Text(_ON_ARRIVAL.get(kind, _OTHERWISE), "quiet"),
    ]


def _live(figure: Figure | None, stored: float, kind: Kind) -> Cell:
    """The figure if it is the stored number, else the stored number, marked as such."""
    if figure is not None and abs(figure.value - stored) <= 1e-6 * max(1.0, abs(stored)):
        return Live(figure)
    return Stored(stored, kind)
