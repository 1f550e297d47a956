"""The Quantities and Bedding sheets: what the job needs, and what the bedding changes."""

from __future__ import annotations

from collections.abc import Sequence

from budget.decide.outcome import Comparison
from budget.figures import Figure
from budget.quantities.needs.handling import weights_by_step
from budget.quantities.takeoff import Bedding, Need, PartGeometry, StepAmount, Takeoff
from budget.report.book.cells import (
    NONE,
    UNIT,
    Across,
    Cell,
    Column,
    Formula,
    Live,
    Sheet,
    Stored,
    Table,
    Text,
    UnitOf,
)
from budget.report.book.plans import StoredPlan
from budget.report.book.scenarios import plan_cell
from budget.units import COUNT, HOURS, MASS, MONEY

AMOUNTS = "Amounts of work"


def quantities_sheet(takeoff: Takeoff) -> Sheet:
    """What is needed, part by part."""
    opening = (
        "What ends up in the work, and what to order so that it does not run short. How each "
        "amount came about stands on Workings."
    )
    return Sheet("Quantities", "Quantities", opening, [_needs(takeoff.needs)])


def amounts_sheet(takeoff: Takeoff) -> Sheet:
    """The parts as they lie, what is to be handled, and the amounts of work."""
    opening = (
        "How large the parts are, what is to be carried, and how much of each step there is. How "
        "each amount came about stands on Workings."
    )
    sheet = Sheet(AMOUNTS, AMOUNTS, opening, frozen=False)
    sheet.tables.append(_parts(takeoff.parts))
    sheet.tables.append(_handled(takeoff.needs))
    sheet.tables.append(_steps(takeoff))  # last on paper: it may be longer than a page
    return sheet


def _needs(needs: Sequence[Need]) -> Table:
    columns = [
        Column("Part", 18),
        Column("Need", 24),
        Column("Only with", 20, "The bedding or optional part that the need belongs to."),
        Column("In the work", right=True, note="Net: what ends up in the work."),
        Column(UNIT),
        Column("To order", right=True, note="With overage, in the state it is sold in."),
        Column(UNIT),
        Column("Overage", right=True),
        Column("Weight", right=True, note="Of the order; a dash where nobody knows it."),
        Column(UNIT),
        Column("Why the overage", 60),
    ]
    return Table(columns, [_need(need) for need in needs], filters=True)


def _need(need: Need) -> list[Cell]:
    weight: list[Cell] = [NONE, ""]
    if need.weight is not None:
        weight = [Live(need.weight), UnitOf(need.weight.kind)]
    return [
        need.place, need.line, _only(need), *_amount(need.net), *_amount(need.ordered),
        Live(need.overage), *weight, Text(need.why, "quiet"),
    ]  # fmt: skip


def _only(row: Need | StepAmount) -> str:
    """The bedding or the optional part that it belongs to."""
    return ", ".join(word for word in (row.bedding, row.optional) if word)


def _amount(figure: Figure) -> list[Cell]:
    return [Live(figure), UnitOf(figure.kind)]


def _steps(takeoff: Takeoff) -> Table:
    rows: list[list[Cell]] = [
        [row.part, row.step, _only(row), *_amount(row.amount),
         Across(row.amount.name, "quiet")]
        for row in takeoff.steps
    ]  # fmt: skip
    rows += [
        [row.part, "Spoil to be rid of", _only(row), *_amount(row.amount), Across("", "quiet")]
        for row in takeoff.spoil
    ]
    if takeoff.spoil:
        density = _amount(takeoff.spoil_density)
        rows.append(["", "Weight of loose spoil", "", *density, Across("", "quiet")])
    columns = [
        Column("Part", 16), Column("Step", 26), Column("Only with", 20),
        Column("Amount", right=True), Column(UNIT), Column("What"), *[Column("")] * 2,
    ]  # fmt: skip
    return Table(columns, rows, title="How much of each step")


def _handled(needs: Sequence[Need]) -> Table:
    rows: list[list[Cell]] = []
    for row in weights_by_step(needs):
        piece: Cell = Stored(row.piece, MASS) if row.heaviest else NONE
        unknown = f"Weight not known: {', '.join(row.unknown)}" if row.unknown else ""
        weight = _amount(row.weight) if row.weight.value else [NONE, ""]
        rows.append(
            [row.step, row.heaviest, row.bedding, *weight, piece,
             Stored(row.twice, COUNT) if row.heaviest else NONE, Across(unknown, "quiet")]
        )  # fmt: skip
    columns = [
        Column("Step"), Column("Heaviest piece"), Column("Only with"),
        Column("Weight", right=True), Column(UNIT), Column("One piece", right=True),
        Column("Two people lift", right=True, unit="pieces"), Column("Remark", 40),
    ]  # fmt: skip
    return Table(columns, rows, title="To carry and handle, by step")


def _parts(parts: Sequence[PartGeometry]) -> Table:
    rows: list[list[Cell]] = []
    for part in parts:
        for name, figure in (
            ("paved area", part.area),
            ("area of the base, with overrun", part.base_area),
            ("outer edge", part.edge),
            ("edge to restrain", part.restrained),
            ("length to cut", part.cut_length),
        ):
            only = part.part if part.optional else ""
            rows.append([part.part, name, only, *_amount(figure)])
    columns = [Column("Part"), Column("Measure"), Column("Only with"),
               Column("Amount", right=True), Column(UNIT)]  # fmt: skip
    return Table(columns, rows, title="The parts as they lie")


def bedding_sheet(comparison: Comparison, plans: Sequence[StoredPlan], scenarios: Sheet) -> Sheet:
    """The beddings as checked pairs with their joints, and the best plan under each."""
    opening = (
        "Sand or small stone under the pavers, each with the joint filler that goes with it. Costs "
        "are those of the same scenario under each bedding, everything else planned anew."
    )
    columns = [
        Column("Bedding", 18),
        Column("Joints filled with", 22),
        Column("Depth", right=True),
        Column("Plan", 30),
        Column("Cash", 13, right=True),
        Column("Own hours", 11, right=True),
        Column("Total at your hour value", 14, right=True),
        Column("Standing", 26),
    ]
    hour_value = comparison.options.hour_value.value
    rows = [
        _bedding(bedding, _under(bedding, comparison, plans), scenarios, hour_value)
        for bedding in comparison.takeoff.beddings
    ]
    notes: list[list[Cell]] = [
        [Across(f"{b.name}: {b.note}" + (f" ({b.source})" if b.source else ""))]
        for b in comparison.takeoff.beddings
        if b.note
    ]
    sheet = Sheet("Bedding", "Bedding and joints", opening, [Table(columns, rows)])
    if notes:
        title = "What published notes say"
        sheet.tables.append(Table([Column("")], notes, title=title, headless=True))
    return sheet


def _under(
    bedding: Bedding, comparison: Comparison, plans: Sequence[StoredPlan]
) -> StoredPlan | None:
    wanted = comparison.best.name if comparison.best else ""
    found = [p for p in plans if p.scenario and p.scenario.bedding == bedding.name]
    return next((p for p in found if p.scenario and p.scenario.name == wanted), None)


def _bedding(
    bedding: Bedding, plan: StoredPlan | None, scenarios: Sheet, hour_value: float
) -> list[Cell]:
    standing = "usual pair"
    if bedding.discouraged:
        standing = "discouraged, allowed here" if bedding.allowed else "discouraged: never best"
    row: list[Cell] = [bedding.name, bedding.filler, Live(bedding.depth)]
    if plan is None:
        return [*row, Text("no plan under it", "quiet"), "", "", "", standing]
    value = plan.priced
    return [
        *row,
        plan.title,
        Formula(f"={plan_cell(scenarios, plan, 'C')}", value.cash, MONEY),
        Formula(f"={plan_cell(scenarios, plan, 'D')}", value.own_hours, HOURS),
        Formula(f"={plan_cell(scenarios, plan, 'E')}", value.total(hour_value), MONEY, "strong"),
        standing,
    ]  # fmt: skip
