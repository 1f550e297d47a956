"""Quantities with their arithmetic, the buying list by seller, and the plan line by line."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from budget.decide.plan import Line, Order, Priced
from budget.decide.pricing.goods import packs_in_words
from budget.figures import Figure
from budget.numerals import grouped
from budget.prices import Landed, landed
from budget.quantities.needs.handling import StepWeight, weights_by_step
from budget.quantities.takeoff import Need
from budget.report import calendar, words
from budget.report.page.how import How
from budget.report.page.view import Column, Row, Table, View
from budget.units import in_words
from budget.wording import listed


@dataclass(frozen=True, slots=True)
class Basket:
    """What to buy from one seller, and how it comes."""

    supplier: str
    route: str
    when: str  # to order, and when the goods come
    table: Table


def quantities(view: View) -> list[Table]:
    """One table for each part. A need of one bedding only says so."""
    parts: dict[str, list[Need]] = {}
    for need in view.comparison.takeoff.needs:
        parts.setdefault(need.part, []).append(need)
    columns = (
        Column("Material"),
        Column("In the work", number=True),
        Column("Added", number=True),
        Column("To order", number=True),
        Column("Weight", number=True),
    )
    return [
        Table(part or "The whole job", columns, tuple(_need(view, need) for need in needs))
        for part, needs in parts.items()
    ]


def _need(view: View, need: Need) -> Row:
    only = f" (with {need.bedding} bedding)" if need.bedding else ""
    return Row(
        (
            need.line + only,
            view.figure(need.net),
            words.percent(need.overage.value),
            need.to_order(view.system),
            view.figure(need.weight),
        ),
        how=view.how(f"{need.line}: how it came about", need.order, whole=True),
        note=need.why,
    )


def handled(view: View) -> Table | None:
    """What is carried and handled in each step, its heaviest piece, and what two people lift."""
    rows = tuple(_handled(view, row) for row in weights_by_step(view.comparison.takeoff.needs))
    if not rows:
        return None
    columns = (
        Column("Step"),
        Column("Weight", number=True),
        Column("Heaviest piece"),
        Column("Two people lift", number=True),
    )
    return Table("To carry and handle, by step", columns, rows)


def _handled(view: View, row: StepWeight) -> Row:
    only = f" (with {row.bedding} bedding)" if row.bedding else ""
    unknown = f"Weight not known: {listed(row.unknown)}." if row.unknown else ""
    heaviest = f"{row.heaviest}, {view.weight(row.piece)}" if row.heaviest else ""
    twice = grouped(row.twice) if row.twice else "none" if row.heaviest else ""
    weight = view.figure(row.weight) if row.weight.value else "not known"
    return Row((row.step + only, weight, heaviest, twice), note=unknown)


def baskets(view: View, priced: Priced) -> list[Basket]:
    """The buying list, one table for each seller, with a box to tick."""
    arrivals = {a.supplier: a for a in priced.arrivals}
    orders: dict[str, list[Order]] = {}
    for order in priced.orders:
        orders.setdefault(order.supplier, []).append(order)
    found = []
    for supplier, bought in sorted(orders.items()):
        arrival = arrivals.get(supplier)
        route = f"{arrival.route}, {view.fee(arrival)}" if arrival else ""
        when = _order_by(view, supplier)
        found.append(Basket(supplier, route, when, _basket(view, supplier, bought)))
    return found


def _order_by(view: View, supplier: str) -> str:
    """When to order from one seller, and when the goods come."""
    found = view.comparison.calendar
    orders = found.orders if found else ()
    mine = next((o for o in orders if o.who == supplier and not o.hired), None)
    return "" if found is None or mine is None else calendar.order_told(found, mine)


def _basket(view: View, supplier: str, bought: list[Order]) -> Table:
    columns = (
        Column("Item"),
        Column("Quantity", number=True),
        Column("Price", number=True),
        Column("Tax", number=True),
        Column("Weight", number=True),
        Column("Left over", number=True),
    )
    rows = tuple(_order(view, order) for order in bought)
    foot = [
        Row(
            (
                "Goods",
                "",
                view.money(sum(o.price for o in bought)),
                view.money(sum(o.tax for o in bought)),
                "",
                "",
            )
        )
    ]
    deposits = sum(o.deposit for o in bought)
    if deposits:
        foot.append(Row(("Deposits, come back", "", view.money(deposits), "", "", "")))
    return Table(f"To buy from {supplier}", columns, rows, tuple(foot))


def _order(view: View, order: Order) -> Row:
    return Row(
        (
            f"☐ {order.item}",
            packs_in_words(order.packs, order.per),
            view.money(order.price),
            view.money(order.tax),
            view.weight(order.weight),
            words.share(order.left_over),
        )
    )


def quotes(view: View) -> Table | None:
    """Every quote for every item, landed: the only fair way to rank them."""
    rows = [
        _quote(view, offer) for offer in landed(view.comparison.options, view.comparison.takeoff)
    ]
    if not rows:
        return None
    columns = (
        Column("Item, seller"),
        Column("Price", number=True),
        Column("Packs", number=True),
        Column("Goods and tax", number=True),
        Column("Cheapest way here"),
        Column("Way", number=True),
        Column("Landed", number=True),
    )
    title = "Each quote for the whole of its item, bought alone; cheapest landed first"
    return Table(title, columns, tuple(rows))


def _quote(view: View, offer: Landed) -> Row:
    taken = view.priced is not None and offer.offer in view.priced.plan.bought
    each = "no way here is priced" if offer.landed is None else _rate(view, offer.landed)
    return Row(
        (
            f"{offer.item}, {offer.supplier}",
            f"{view.money(offer.pack_price.value)} per {offer.per.removeprefix('each') or 'piece'}",
            offer.packs.words(view.system),
            view.money(offer.goods.value + offer.tax.value),
            offer.route or "–",
            "–" if offer.delivery is None else view.money(offer.delivery.value),
            each,
        ),
        note="; ".join(_remarks(view, offer)),
        marked="in this plan" if taken else "",
    )


def _remarks(view: View, offer: Landed) -> Iterator[str]:
    if offer.expired:
        yield "expired"
    if offer.back is not None:
        money = view.money(offer.back.value)
        yield f"{money} comes back for packs beyond the need, off the landed cost"


def _rate(view: View, rate: Figure) -> str:
    """Money for one unit, such as ``$4.20 per sq ft``."""
    unit = rate.kind.unit(view.system)
    return f"{view.money(rate.value / unit.size * 100)} {unit.label}"


def lines(view: View, priced: Priced) -> Table:
    """The best plan line by line, with a sum under each group and under all."""
    groups: dict[str, list[Line]] = {}
    for line in priced.lines:
        groups.setdefault(line.group, []).append(line)
    columns = (
        Column("Line"),
        Column("Quantity"),
        Column("Cash", number=True),
        Column("Own hours", number=True),
    )
    rows: list[Row] = []
    for group, found in groups.items():
        rows += [_line(view, line) for line in found]
        rows.append(_sum(view, f"{group}, all", found))
    foot = _sum(view, "The whole plan", priced.lines)
    return Table("Cash with tax, and own hours", columns, tuple(rows), (foot,))


def sums(view: View, priced: Priced) -> Table:
    """The best plan group by group."""
    groups: dict[str, list[Line]] = {}
    for line in priced.lines:
        groups.setdefault(line.group, []).append(line)
    columns = (
        Column("Group"),
        Column("Lines", number=True),
        Column("Cash", number=True),
        Column("Own hours", number=True),
    )
    rows = [Row((g, str(len(found)), *_totals(view, found))) for g, found in groups.items()]
    foot = Row(("The whole plan", str(len(priced.lines)), *_totals(view, priced.lines)))
    return Table("Cash with tax, and own hours, by group", columns, tuple(rows), (foot,))


def _totals(view: View, found: Sequence[Line]) -> tuple[str, str]:
    cash = view.money(sum(line.cash for line in found))
    return cash, words.hours(sum(line.own_hours for line in found))


def _sum(view: View, name: str, found: Sequence[Line]) -> Row:
    return Row((name, "", *_totals(view, found)), sums=True)


def _line(view: View, line: Line) -> Row:
    how: tuple[How, ...] = ()
    if line.cash:
        how += view.how(f"{line.name}: how the cash came about", line.money)
    if line.own_hours:
        how += view.how(f"{line.name}: how the hours came about", line.time)
    about = ", ".join(text for text in (line.part, line.supplier) if text)
    return Row(
        (line.name, line.quantity, view.money(line.cash), words.hours(line.own_hours)),
        how=how,
        note=about,
    )


def parts(view: View) -> Table:
    """The numbers behind the drawing."""
    columns = (
        Column("Part"),
        Column("Area", number=True),
        Column("Area of the base", number=True),
        Column("Edge all round", number=True),
        Column("Edge held by restraint", number=True),
        Column("Cut length", number=True),
    )
    rows = tuple(
        Row(
            (
                p.part + (", optional" if p.optional else ""),
                *(
                    view.figure(f)
                    for f in (p.area, p.base_area, p.edge, p.restrained, p.cut_length)
                ),
            ),
            how=view.how(f"{p.part}: how its area came about", p.area, whole=True),
        )
        for p in view.comparison.takeoff.parts
    )
    return Table("The parts of the job", columns, rows)


def total_weight(view: View, priced: Priced) -> str:
    """The weight of everything bought, or blank where none is known."""
    known: Iterable[float] = [o.weight for o in priced.orders if o.weight is not None]
    weight = sum(known)
    from budget.units import BULK_MASS

    return in_words(weight, BULK_MASS, view.system, 1) if weight else ""
