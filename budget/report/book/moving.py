"""The Delivery or haul and Equipment sheets: how goods come, and how machines are had."""

from __future__ import annotations

from collections.abc import Sequence

from budget.decide.outcome import Comparison
from budget.decide.plan import Hire, Line, Priced
from budget.decide.pricing.arrivals import Coming
from budget.figures import Figure
from budget.prices.options import Drop, Haul, Machine, Options, Route
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
    saying,
)
from budget.report.book.goods import Goods, ways_to_come
from budget.report.book.plans import cash_cell
from budget.units import MONEY

CHOSEN = Text("chosen", "good")


def moving_sheet(comparison: Comparison, priced: Priced | None, goods: Goods) -> Sheet:
    """How each seller's goods come in the best plan, and every way they could come."""
    opening = (
        "For each seller: delivered to a drop point, or fetched. Chosen ways belong to the "
        "plan; what the other way would do stands under What flips."
    )
    sheet = Sheet("Delivery or haul", "Delivery or haul", opening, frozen=False)
    if priced is not None:
        sheet.tables.append(_ways(comparison.options, priced, goods))
    routes = comparison.options.routes
    chosen = dict(priced.plan.routes) if priced else {}
    drops = [r for s in sorted(routes) for r in routes[s] if isinstance(r, Drop)]
    hauls = [r for s in sorted(routes) for r in routes[s] if isinstance(r, Haul)]
    if drops:
        sheet.tables.append(_drops(drops, chosen))
    if hauls:
        sheet.tables.append(_hauls(hauls, chosen))
    if not sheet.tables:
        sheet.tables.append(saying("No seller is known yet: fill the Suppliers sheet."))
    return sheet


def _ways(options: Options, priced: Priced, goods: Goods) -> Table:
    columns = [
        Column("Seller", 20),
        Column("How", 26),
        Column("In the plan", 12),
        Column("Cost with tax", 13, right=True),
        Column("Own hours", 13, right=True),
        Column("Cost and hours", 13, "Own hours at your hour value.", right=True),
        Column("Drops or trips", 11, right=True),
        Column("Weight", 11, right=True),
        Column("Why", 50),
    ]
    sellers = sorted({offer.supplier for offer, _ in goods})
    chosen = dict(priced.plan.routes)
    rows = [
        _come(route, way, options.hour_value.value, chosen)
        for seller in sellers
        for route, way in ways_to_come(options, goods, seller)
    ]
    remark = (
        "Every way that each seller's goods of the plan could come. A hired vehicle is "
        "counted as if for this seller alone; sellers that share its days in the plan pay less."
    )
    return Table(columns, rows, title="What the plan buys", remark=remark)


def _come(route: Route, way: Coming | str, hour_value: float, chosen: dict[str, str]) -> list[Cell]:
    head: list[Cell] = [route.supplier, route.key, _mark(route, chosen)]
    if isinstance(way, str):
        return [*head, *[NONE] * 5, way]
    numbers: list[Cell] = ["not yet priced", *_hours(way), NONE]
    if way.cash is not None:
        hours = way.hours.value if way.hours else 0.0
        together = way.cash.value + hours * hour_value
        text = "=D{row} + E{row} * hour_value" if way.hours else "=D{row}"
        numbers = [Live(way.cash), *_hours(way), Formula(text, together, MONEY)]
    return [*head, *numbers, Live(way.drops), Live(way.weight), way.note]


def _hours(way: Coming) -> list[Cell]:
    return [Live(way.hours) if way.hours else NONE]


def _line_cash(lines: Sequence[Line], stored: int) -> Cell:
    """The money of the one line that carries it, else the number as stored."""
    found = [line for line in lines if line.cash == stored and line.money is not None]
    return cash_cell(found[0]) if len(found) == 1 else Stored(stored, MONEY)


def _drops(drops: Sequence[Drop], chosen: dict[str, str]) -> Table:
    columns = [
        Column("Seller", 20),
        Column("Delivered", 26),
        Column("In the plan"),
        Column("Each drop", note="Before tax.", right=True),
        Column("Extra for the place", note="Each drop, due even if delivery is free.", right=True),
        Column("Free from", note="Order value before tax that makes it free.", right=True),
        Column("Most a drop", right=True),
        Column(UNIT),
    ]
    rows = [_drop(drop, chosen) for drop in drops]
    return Table(columns, rows, title="Delivery on offer")


def _drop(drop: Drop, chosen: dict[str, str]) -> list[Cell]:
    unpriced = Text("not yet priced", "warn")
    return [
        drop.supplier,
        drop.key,
        _mark(drop, chosen),
        Live(drop.per_drop) if drop.priced else unpriced,
        _or_dash(drop.point_fee),
        _or_dash(drop.free_above),
        _or_dash(drop.most),
        UnitOf(drop.most.kind) if drop.most else "",
    ]


def _hauls(hauls: Sequence[Haul], chosen: dict[str, str]) -> Table:
    columns = [
        Column("Seller", 20),
        Column("Fetched", 26),
        Column("In the plan"),
        Column("There and back", 13, right=True),
        Column("Load of a trip", right=True),
        Column("What limits the load"),
        *[Column("")] * 3,
    ]
    rows: list[list[Cell]] = [
        [
            haul.supplier, haul.key, _mark(haul, chosen), Live(haul.distance),
            Live(haul.payload), Across(haul.payload_why),
        ]
        for haul in hauls
    ]  # fmt: skip
    remark = (
        "Never load past the plate on the door or the trailer; put the weight over the axle, tie "
        "it down, and mind the local rules for towing."
    )
    return Table(columns, rows, title="Fetching", remark=remark)


def _or_dash(figure: Figure | None) -> Cell:
    return Live(figure) if figure is not None else NONE


def _mark(route: Route, chosen: dict[str, str]) -> Cell:
    return CHOSEN if chosen.get(route.supplier) == route.key else ""


def equipment_sheet(options: Options, priced: Priced | None) -> Sheet:
    """Every way to have every machine, and those of the best plan."""
    opening = (
        "Rented, borrowed or bought. A machine that several steps want is kept or hired again, "
        "whichever costs less. Deposits come back and stand beside the cash."
    )
    sheet = Sheet("Equipment", "Equipment", opening, frozen=False)
    if priced is not None and priced.hires:
        sheet.tables.append(_hires(options, priced))
    terms = {term.name: term.days for machine in _machines(options) for term in machine.terms}
    names = sorted(terms, key=lambda name: (terms[name], name))
    sheet.tables.append(_machine_ways(options, names, priced))
    return sheet


def _machines(options: Options) -> list[Machine]:
    return [machine for name in sorted(options.machines) for machine in options.machines[name]]


def _hires(options: Options, priced: Priced) -> Table:
    columns = [
        Column("Machine", 24),
        Column("How", 32),
        Column("When", 24),
        Column("Cost with tax", 13, right=True),
        Column("Deposit", 11, right=True),
    ]
    had = {(machine.equipment, machine.key): machine for machine in _machines(options)}
    rows = [_hire(h, had.get((h.equipment, h.machine)), priced) for h in priced.hires]
    return Table(columns, rows, title="The plan")


def _hire(hire: Hire, machine: Machine | None, priced: Priced) -> list[Cell]:
    lines = [line for line in priced.lines if line.choice == f"machine:{hire.equipment}"]
    deposit: Cell = Stored(hire.deposit, MONEY) if hire.deposit else NONE
    if machine is not None and machine.deposit and machine.deposit.value == hire.deposit != 0:
        deposit = Live(machine.deposit)
    return [
        hire.equipment,
        hire.machine,
        "; ".join(hire.spells),
        _line_cash(lines, hire.cash),
        deposit,
    ]


def _machine_ways(options: Options, terms: Sequence[str], priced: Priced | None) -> Table:
    columns = [
        Column("Machine", 24),
        Column("How", 32),
        Column("In the plan", 24),
        Column("Once", 13, "Bought less resale, or what a loan costs.", right=True),
        Column("Each spell", 11, "Cleaning and transport.", right=True),
        *(Column(term.capitalize(), 11, "Before waiver and tax.", right=True) for term in terms),
        Column("Waiver", 10, right=True),
        Column("Fuel an hour", 10, right=True),
        Column("Fits the way in", 12),
    ]
    chosen = dict(priced.plan.machines) if priced else {}
    rows = [_way(machine, terms, chosen) for machine in _machines(options)]
    return Table(columns, rows, title="On offer", nothing="The workbook offers no machine.")


def _way(machine: Machine, terms: Sequence[str], chosen: dict[str, str]) -> list[Cell]:
    prices = {term.name: term.price for term in machine.terms}
    once = machine.once.value or machine.once_taxed.value
    return [
        machine.equipment,
        machine.key,
        CHOSEN if chosen.get(machine.equipment) == machine.key else "",
        Live(machine.once) if once else NONE,
        Live(machine.per_spell) if machine.per_spell.value else NONE,
        *(_or_dash(prices.get(term)) for term in terms),
        _or_dash(machine.waiver),
        _or_dash(machine.fuel),
        Text(machine.why_not, "warn") if machine.why_not else "yes",
    ]
