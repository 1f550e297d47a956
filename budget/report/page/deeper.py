"""The fit to the limit, and what ``--thorough`` adds: margins, bids like for like, every trade."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from budget.decide.thorough.alike import Alike
from budget.decide.thorough.pareto import Trade
from budget.report import deeper, words
from budget.report.page.view import Column, Row, Table, View


@dataclass(frozen=True, slots=True)
class Told:
    """A section: its table and what is said around it."""

    table: Table | None
    sentence: str = ""
    note: str = ""
    remarks: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Gaps:
    """One bid: what fills its gaps, its risks as money, and what an hour more costs."""

    title: str
    table: Table
    left: Table | None
    hourly: str
    leaves: bool  # says of a risk that it stays with the owner; told under Bids and steps


@dataclass(frozen=True, slots=True)
class Offers:
    """The bids side by side, and one after another with the gaps of each."""

    table: Table
    note: str
    spreads: tuple[str, ...]
    left_note: str
    bids: tuple[Gaps, ...]


def _table(
    caption: str, titles: Sequence[str], rows: Sequence[Row], number: Sequence[int]
) -> Table:
    columns = tuple(Column(title, number=i in number) for i, title in enumerate(titles))
    return Table(caption, columns, tuple(rows))


def fit(view: View) -> Told | None:
    """What can be had within the spending limit, where the best plan passes it."""
    found = view.comparison.fit
    if found is None:
        return None
    rows = [
        Row((
            a.part, view.money(a.more),
            "not said" if a.worth is None else view.money(a.worth),
        ))
        for a in found.adds
    ]  # fmt: skip
    titles = ("Given up", "More money that it takes", "Worth to you")
    table = _table("Parts given up, the one to add next first", titles, rows, (1, 2))
    change = f"What changes for it: {found.change}." if found.change else ""
    return Told(table if rows else None, found.sentence, change)


def margins(view: View) -> Told | None:
    """What one more of everything costs."""
    found = view.comparison.deeper
    if found is None or not found.margins:
        return None
    rows = [Row(deeper.margin_row(m, view.currency)) for m in found.margins]
    table = _table("What one more costs", deeper.MARGIN_TITLES, rows, (1, 2, 3))
    remarks = deeper.margin_remarks(found.margins, view.currency)
    return Told(table, note=deeper.MARGINS_NOTE, remarks=tuple(remarks))


def alike(view: View) -> Offers | None:
    """Every bid with what fills its gaps."""
    found = view.comparison.deeper
    if found is None or not found.bids:
        return None
    rows = [
        Row(deeper.bid_row(b, view.currency), marked="in this plan" if b.chosen else "")
        for b in found.bids
    ]
    return Offers(
        _table("Bids like for like", deeper.BID_TITLES, rows, (1, 2, 3, 4, 5, 6)),
        deeper.BIDS_NOTE,
        tuple(deeper.spread(s, view.currency) for s in found.spreads),
        deeper.LEFT_NOTE,
        tuple(_gaps(view, b) for b in found.bids),
    )


def _gaps(view: View, bid: Alike) -> Gaps:
    rows = [Row(deeper.fill_row(f, view.currency)) for f in bid.fills]
    first = Row(
        ("The bid itself", ", ".join(bid.covers), view.money(bid.price),
         words.hours(bid.supervising)),
    )  # fmt: skip
    whole = Row(("Whole job", "", view.money(bid.cash), words.hours(bid.hours)), sums=True)
    table = _table(f"Gaps of {bid.bid}", deeper.FILL_TITLES, [first, *rows, whole], (2, 3))
    title = f"{bid.bid}: its gaps and what fills them"
    return Gaps(title, table, _left(view, bid), bid.hourly, bool(bid.risks))


def _left(view: View, bid: Alike) -> Table | None:
    """The risks left with the owner in the whole job with one bid, as money."""
    if not bid.left:
        return None
    rows = [Row(row) for row in deeper.left_rows(bid, view.currency)]
    whole = Row(("All of them", "", "", "", view.money(bid.risk)), sums=True)
    return _table(f"Risks with {bid.bid}", deeper.LEFT_TITLES, [*rows, whole], (2, 3, 4))


@dataclass(frozen=True, slots=True)
class Traded:
    """Plans that no other beats: those about the best plan, and all where these are more."""

    note: str
    near: Table
    every: Table | None


def trades(view: View) -> Traded | None:
    """Every plan that no other beats in both cash and own hours."""
    found = view.comparison.deeper
    if found is None or found.trades is None or view.priced is None:
        return None
    plans = found.trades.plans
    near = deeper.near(found.trades, view.priced.own_hours)
    whole = _traded(view, plans, "Every trade") if len(near) < len(plans) else None
    about = _traded(view, near, f"Trades about the {view.best_plan}")
    return Traded(deeper.trades_note(found.trades, view.currency), about, whole)


def _traded(view: View, plans: Sequence[Trade], caption: str) -> Table:
    rows = [
        Row(
            deeper.trade_row(t, view.currency),
            marked=view.best_plan if t.priced == view.priced else "",
        )
        for t in plans
    ]
    return _table(caption, deeper.TRADE_TITLES, rows, (1,))
