"""The Own or hired sheet: step by step, which bids cover it and what own work takes."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from budget.decide.outcome import Comparison
from budget.decide.plan import Line, Priced
from budget.decide.terms.situation import step_order
from budget.prices.forms import rows_by_bid
from budget.prices.options import Bid, Method
from budget.report import bid_matrix, words
from budget.report.book.cells import (
    NONE,
    UNIT,
    Across,
    Cell,
    Column,
    Live,
    Sheet,
    Stored,
    Table,
    Text,
    UnitOf,
)
from budget.report.book.goods import bids_chosen
from budget.report.book.plans import cash_cell, hours_cell
from budget.units import COUNT, HOURS, MONEY

COVERED, TAKEN = "○", "●"
_BID = 11  # characters that the column of a bid takes
_LEAST_COLUMNS = 12  # of the sheet: words may run over those that a table leaves free


def work_sheet(comparison: Comparison, priced: Priced | None) -> Sheet:
    """Steps against bids, the bids themselves, and the ways to do each step with own hands."""
    opening = (
        "Each step is done once: with own hands, or by the one bid that covers it. "
        f"{COVERED} a bid covers the step; {TAKEN} it does so in the plan."
    )
    sheet = Sheet("Own or hired", "Own hands or hired", opening, frozen=False)
    bids = sorted(comparison.options.bids, key=lambda bid: bid.key)
    sheet.tables.append(_steps(comparison, bids, priced))
    if bids:
        units = {name: row.unit for name, row in rows_by_bid(comparison.job).items()}
        sheet.tables.append(_bids(bids, units, priced))
    scope = _scope(comparison)
    if scope is not None:
        sheet.tables.append(scope)
    sheet.tables.append(_methods(comparison, priced))
    way = comparison.takeoff.way_to_cut
    if way:
        sheet.tables.append(
            Table([Column("")], [[Across(way)]], title="Which way to cut", headless=True)
        )
    cautions: list[list[Cell]] = [
        [Across(f"{step}: {text} ({source})")] for step, text, source in comparison.takeoff.cautions
    ]
    if cautions:
        sheet.tables.append(Table([Column("")], cautions, title="Take care", headless=True))
    return sheet


def _free(bids: Sequence[Bid], taken: int) -> list[Column]:
    """Columns without a heading to the end of the sheet, where so many have one."""
    whole = sum(not bid.deduct for bid in bids)
    return [Column("")] * (max(_LEAST_COLUMNS, 3 + whole) - taken)


def _steps(comparison: Comparison, bids: Sequence[Bid], priced: Priced | None) -> Table:
    found = {row.step for row in comparison.takeoff.steps}
    found |= {step for bid in bids for step in bid.steps}
    chosen = dict(priced.plan.steps) if priced else {}
    found |= set(chosen)
    columns = [
        Column("Step", 24),
        Column("In the plan", 24),
        Column("Own hours", _BID, right=True),
        Column("Bids that cover it"),
        *_free(bids, 4),
    ]
    taken = bids_chosen(priced)
    rows: list[list[Cell]] = [
        [
            step,
            words.step_value(chosen[step]) if step in chosen else "not needed",
            _step_hours(step, priced),
            Across(_covering(step, bids, taken)),
        ]
        for step in sorted(found, key=step_order)
    ]
    return Table(columns, rows, title="Steps and bids")


def _covering(step: str, bids: Sequence[Bid], taken: frozenset[str]) -> str:
    covering = [bid.key for bid in bids if step in bid.steps]
    return ",  ".join(f"{TAKEN if key in taken else COVERED} {key}" for key in covering) or NONE


def _step_hours(step: str, priced: Priced | None) -> Cell:
    if priced is None:
        return ""
    lines = [x for x in priced.lines if x.choice == f"step:{step}" and x.own_hours]
    if len(lines) == 1:
        return hours_cell(lines[0])
    return Stored(sum(line.own_hours for line in lines), HOURS) if lines else ""


def _bids(bids: Sequence[Bid], units: Mapping[str, str], priced: Priced | None) -> Table:
    columns = [
        Column("Bid", 24),
        Column("Firm", 24),
        Column("Price", _BID, "Before tax, for the basis beside it.", right=True),
        Column("Basis", _BID),
        Column("Bill in the plan", _BID, "With tax and mobilisation.", right=True),
        Column("Materials", _BID),
        Column("Machines", _BID),
        Column("Own hours to supervise", _BID, right=True),
        Column("Left with you"),
        *_free(bids, 9),
    ]
    return Table(columns, [_bid(bid, units, priced) for bid in bids], title="Bids")


def _bid(bid: Bid, units: Mapping[str, str], priced: Priced | None) -> list[Cell]:
    basis = {"hourly": "an hour", "per unit": f"each {units.get(bid.key) or 'unit'}"}
    return [
        bid.key,
        bid.firm,
        Live(bid.price),
        basis.get(bid.basis, "for all of it") + (", less the deduct" if bid.deduct else ""),
        _bill(bid, priced),
        "included" if bid.materials else "not included",
        "included" if bid.equipment else "not included",
        Live(bid.supervise),
        Across(" ".join(f"{risk.rstrip('.')}." for risk in bid.risks)),
    ]


def _scope(comparison: Comparison) -> Table | None:
    """What each bid says of costs and risks, its smaller forms as it does itself."""
    found = bid_matrix.scope_side_by_side(comparison)
    if found is None:
        return None
    columns = [
        Column("Cost or risk", 24), Column("", 22), Column("", _BID),
        *(Column(bid, _BID) for bid in found.bids),
    ]  # fmt: skip
    currency = comparison.job.settings.currency
    rows: list[list[Cell]] = [
        [item, "", "", *cells] for item, *cells in bid_matrix.rows(found, currency)
    ]
    title = "What each bid says of costs and risks"
    return Table(columns, rows, title=title, remark=bid_matrix.NOTE)


def _bill(bid: Bid, priced: Priced | None) -> Cell:
    if priced is None or bid.key not in bids_chosen(priced):
        return NONE
    lines = [line for line in priced.lines if _is_bill(line, bid)]
    if len(lines) == 1:
        return cash_cell(lines[0])
    return Stored(sum(line.cash for line in lines), MONEY)


def _is_bill(line: Line, bid: Bid) -> bool:
    return bool(line.cash) and line.name == bid.key


def _methods(comparison: Comparison, priced: Priced | None) -> Table:
    columns = [
        Column("Step", 24),
        Column("Way", 24),
        Column("Person-hours", _BID, right=True),
        Column(UNIT, _BID),
        Column("People at once", _BID, right=True, unit="people"),
        Column("Machine", _BID),
        Column("Machine hours", _BID, right=True),
        Column(UNIT, _BID),
        Column("In the plan", _BID),
    ]
    chosen = dict(priced.plan.steps) if priced else {}
    bedding = priced.plan.bedding if priced else ""
    methods = comparison.options.methods
    rows = [
        _method(method, chosen.get(step, ""), bedding)
        for step in sorted(methods, key=step_order)
        for method in methods[step]
    ]
    return Table(columns, rows, title="Ways with own hands")


def _method(method: Method, chosen: str, bedding: str) -> list[Cell]:
    rate = method.machine_rate
    taken = chosen == f"own: {method.key}" and method.bedding in ("", bedding)
    return [
        method.step,
        f"{method.method}, on {method.bedding}" if method.bedding else method.method,
        Live(method.rate),
        UnitOf(method.rate.kind),
        Stored(method.people, COUNT, "fixed"),
        method.machine or NONE,
        Live(rate) if rate else NONE,
        UnitOf(rate.kind) if rate else "",
        Text("chosen", "good") if taken else "",
    ]
