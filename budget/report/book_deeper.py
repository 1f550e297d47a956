"""What ``--thorough`` adds, as a sheet: margins, bids like for like and every trade, stored."""

from __future__ import annotations

from budget.decide.alike import Alike
from budget.decide.deeper import Deeper
from budget.decide.pareto import Trades
from budget.decide.plan import Comparison
from budget.report import deeper as said
from budget.report.book_cells import Across, Cell, Column, Sheet, Stored, Table, Text
from budget.units import HOURS, MONEY, RATIO, Kind

DEEPER = "Margins and bids"


def deeper_sheet(comparison: Comparison) -> Sheet | None:
    """The sheet, None without ``--thorough``."""
    found = comparison.deeper
    if found is None:
        return None
    opening = (
        "Planned anew, not calculated here: these numbers do not follow changes on Inputs; "
        "“budget compare --thorough” works them out again."
    )
    sheet = Sheet(DEEPER, DEEPER, opening)
    currency = comparison.job.settings.currency
    if found.margins:
        sheet.tables += [_margins(found, currency), _remarks(found, currency)]
    if found.bids:
        sheet.tables += [_bids(found), _gaps(found.bids), _left(found.bids)]
    if found.trades is not None:
        sheet.tables.append(_trades(found.trades))
    return sheet


def _stored(value: float, kind: Kind) -> Cell:
    return Stored(value, kind, "laid out")


def _money_columns(first: str, *titles: str, wide: str = "") -> list[Column]:
    columns = [Column(first, 34), *(Column(title, 14, right=True) for title in titles)]
    return [*columns, *([Column(wide, 60)] if wide else [])]


def _margins(found: Deeper, currency: str) -> Table:
    columns = _money_columns(*said.MARGIN_TITLES[:4], wide=said.MARGIN_TITLES[4])
    rows: list[list[Cell]] = [
        [
            said.one_more(m), _stored(m.smooth, MONEY), _stored(m.hours, HOURS),
            _stored(m.next_cash, MONEY), said.margin_row(m, currency)[4],
        ]
        for m in found.margins
    ]  # fmt: skip
    return Table(columns, rows, title="What a little more costs, with the best plan")


def _remarks(found: Deeper, currency: str) -> Table:
    lines = [*said.margin_remarks(found.margins, currency), said.MARGINS_NOTE]
    return Table([Column("")], [[Across(line)] for line in lines], title="Notes", headless=True)


def _bids(found: Deeper) -> Table:
    columns = _money_columns(*said.BID_TITLES)
    rows: list[list[Cell]] = [
        [
            Text(b.bid, "strong" if b.chosen else "plain"), _stored(b.price, MONEY),
            _stored(b.cash - b.price, MONEY), _stored(b.cash, MONEY), _stored(b.hours, HOURS),
            _stored(b.risk, MONEY), _stored(b.over, MONEY),
        ]
        for b in found.bids
    ]  # fmt: skip
    return Table(columns, rows, title=f"Bids like for like. {said.BIDS_NOTE}")


def _gaps(bids: tuple[Alike, ...]) -> Table:
    columns = [Column("Bid and gap", 34), *_money_columns("", "Cash", "Own hours")[1:]]
    rows: list[list[Cell]] = []
    for bid in bids:
        rows.append([
            Text(bid.bid, "strong"), _stored(bid.price, MONEY), _stored(bid.supervising, HOURS),
        ])  # fmt: skip
        rows += [[f.gap, _stored(f.cash, MONEY), _stored(f.hours, HOURS)] for f in bid.fills]
    return Table(columns, rows, title="What fills the gaps of each bid")


def _left(bids: tuple[Alike, ...]) -> Table:
    """The risks of each whole job as money, with whose word it is."""
    columns = [
        Column("Bid and risk", 34), Column("On average", 14, right=True),
        Column("If it comes up", 14, right=True), Column("Chance", 14, right=True),
        Column("Whose", 60),
    ]  # fmt: skip
    rows: list[list[Cell]] = []
    for bid in bids:
        rows.append([Text(bid.bid, "strong"), _stored(bid.risk, MONEY), "", "", ""])
        rows += [
            [
                one.item, _stored(one.money, MONEY), _stored(one.cost, MONEY),
                _stored(one.chance, RATIO), f"{one.who}{' *' if one.guess else ''}",
            ]
            for one in bid.left
        ]  # fmt: skip
    return Table(columns, rows, title=f"Risks left with you, beside the cash. {said.LEFT_NOTE}")


def _trades(found: Trades) -> Table:
    columns = [
        Column("Best at some hour value", 34), Column("Cash", 14, right=True),
        Column("Own hours", 14, right=True), Column("What changes", 60),
    ]  # fmt: skip
    rows: list[list[Cell]] = [
        [
            "yes" if t.supported else "no", _stored(t.priced.cash, MONEY),
            _stored(t.priced.own_hours, HOURS), t.change,
        ]
        for t in found.plans
    ]  # fmt: skip
    return Table(columns, rows, title="Every trade of cash against own hours")
