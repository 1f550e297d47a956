"""What ``--thorough`` adds, as a sheet: margins, bids like for like and every trade, stored."""

from __future__ import annotations

from budget.decide.outcome import Comparison, Deeper
from budget.decide.plan import Priced
from budget.decide.thorough.alike import Alike
from budget.decide.thorough.pareto import Trades
from budget.report import deeper as said
from budget.report.book.cells import (
    NONE,
    Across,
    Cell,
    Column,
    Formula,
    Sheet,
    Stored,
    Table,
    Text,
)
from budget.units import HOURS, MONEY, RATIO, Kind

DEEPER, TRADES = "Margins and bids", "Cash against hours"
_COLUMNS = 11  # of the sheet; words run over those that a table leaves free


def deeper_sheet(comparison: Comparison) -> Sheet | None:
    """The sheet, None without ``--thorough``."""
    found = comparison.deeper
    if found is None:
        return None
    opening = (
        "Planned anew, not calculated here: of the inputs only the hour value moves these "
        "numbers; “budget compare --thorough” works them out again."
    )
    sheet = Sheet(DEEPER, DEEPER, opening)
    currency = comparison.job.settings.currency
    value = comparison.options.hour_value.value
    best = comparison.best.priced if comparison.best else None
    if found.margins:
        sheet.tables += [_margins(found, currency, value), _remarks(found, currency)]
    if found.bids and best is not None:
        sheet.tables.append(_bids(found, best, value, 0))
        first = sheet.first_row(len(sheet.tables) - 1)  # only now known
        sheet.tables[-1] = _bids(found, best, value, first)
    if found.bids:
        sheet.tables += [_left(found.bids), _gaps(found.bids)]
    return sheet


def trades_sheet(comparison: Comparison) -> Sheet | None:
    """Every trade of cash against own hours, None without ``--thorough``."""
    found = comparison.deeper
    if found is None or found.trades is None:
        return None
    opening = (
        "Every plan of which no other has both less cash and fewer own hours. Planned anew, not "
        "calculated here; “budget compare --thorough” works them out again."
    )
    value = comparison.options.hour_value.value
    return Sheet(TRADES, TRADES, opening, [_trades(found.trades, value)])


def _stored(value: float, kind: Kind) -> Cell:
    return Stored(value, kind, "laid out")


def _money_columns(first: str, *titles: str, wide: str = "") -> list[Column]:
    """Columns of numbers; ``wide`` is the title of words that run over the columns that follow."""
    columns = [Column(first, 34), *(Column(title, 14, right=True) for title in titles)]
    if wide:
        columns.append(Column(wide, 14))
    return [*columns, *[Column("", 14)] * (_COLUMNS - len(columns))] if wide else columns


def _margins(found: Deeper, currency: str, value: float) -> Table:
    columns = _money_columns(*said.MARGIN_TITLES[:3], "Rate with hours", said.MARGIN_TITLES[3],
                             wide=said.MARGIN_TITLES[4])  # fmt: skip
    rows: list[list[Cell]] = [
        [
            said.one_more(m), _stored(m.smooth, MONEY), _stored(m.hours, HOURS),
            Formula("=B{row} + C{row} * hour_value", m.smooth + m.hours * value, MONEY),
            _stored(m.next_cash, MONEY), Across(said.margin_row(m, currency)[4]),
        ]
        for m in found.margins
    ]  # fmt: skip
    return Table(columns, rows, title="What a little more costs, with this plan")


def _remarks(found: Deeper, currency: str) -> Table:
    lines = [*said.margin_remarks(found.margins, currency), said.MARGINS_NOTE]
    return Table([Column("")], [[Across(line)] for line in lines], title="Notes", headless=True)


def _bids(found: Deeper, best: Priced, value: float, first: int) -> Table:
    """The bids; ``first`` is the row of the best plan, which the others are set against."""
    columns = _money_columns(*said.BID_TITLES)
    one = found.bids[0]
    risk = one.total(value) - one.over - best.total(value)  # of the best plan, as of all
    rows: list[list[Cell]] = [
        [
            Text("The plan", "strong"), NONE, NONE, _stored(best.cash, MONEY),
            _stored(best.own_hours, HOURS), _stored(risk, MONEY), NONE,
        ]
    ]  # fmt: skip
    over = f"=D{{row}} - D${first} + (E{{row}} - E${first}) * hour_value + F{{row}} - F${first}"
    for bid in found.bids:
        rows.append([
            Text(bid.bid, "strong" if bid.chosen else "plain"), _stored(bid.price, MONEY),
            Formula("=SUMIF(gap_bid, A{row}, gap_cash) - B{row}", bid.cash - bid.price, MONEY),
            Formula("=B{row} + C{row}", bid.cash, MONEY),
            Formula("=SUMIF(gap_bid, A{row}, gap_hours)", bid.hours, HOURS),
            Formula("=SUMIF(risk_bid, A{row}, risk_money)", bid.risk, MONEY),
            Formula(over, bid.over, MONEY),
        ])  # fmt: skip
    return Table(columns, rows, title="Bids like for like", remark=said.BIDS_NOTE)


def _left(bids: tuple[Alike, ...]) -> Table:
    """The risks of each whole job as money, with whose word it is."""
    columns = [
        Column("Bid", 34, name="risk_bid"),
        Column("On average", 14, name="risk_money", right=True),
        Column("If it comes up", 14, right=True), Column("Chance", 14, right=True),
        Column("Risk, and whose word it is"), *[Column("")] * 4,
    ]  # fmt: skip
    rows: list[list[Cell]] = [
        [
            bid.bid, _stored(one.money, MONEY), _stored(one.cost, MONEY),
            _stored(one.chance, RATIO), Across(f"{one.item}: {one.who}{' *' * one.guess}"),
        ]
        for bid in bids
        for one in bid.left
    ]  # fmt: skip
    title = "Risks left with you, beside the cash"
    return Table(columns, rows, title=title, remark=said.LEFT_NOTE)


def _gaps(bids: tuple[Alike, ...]) -> Table:
    columns = [
        Column("Bid", 34, name="gap_bid"), Column("Cash", 14, name="gap_cash", right=True),
        Column("Own hours", 14, name="gap_hours", right=True), Column("Gap"), Column(""),
    ]  # fmt: skip
    rows: list[list[Cell]] = []
    for bid in bids:
        rows.append([
            bid.bid, _stored(bid.price, MONEY), _stored(bid.supervising, HOURS),
            Across("as offered, and supervising", "strong"),
        ])  # fmt: skip
        rows += [
            [bid.bid, _stored(f.cash, MONEY), _stored(f.hours, HOURS), Across(f.gap)]
            for f in bid.fills
        ]
    return Table(columns, rows, title="What fills the gaps of each bid", on_paper=False)


def _trades(found: Trades, value: float) -> Table:
    columns = _money_columns("Best at some hour value", "Cash", "Own hours",
                             "Total at your hour value", wide="What changes")  # fmt: skip
    rows: list[list[Cell]] = [
        [
            "yes" if t.supported else "no", _stored(t.priced.cash, MONEY),
            _stored(t.priced.own_hours, HOURS),
            Formula("=B{row} + C{row} * hour_value", t.priced.total(value), MONEY),
            Across(t.change),
        ]
        for t in found.plans
    ]  # fmt: skip
    return Table(columns, rows)
