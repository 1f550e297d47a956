"""What cut pieces need: lengths of stock by a proved cutting, fixings, stain, caps and hours."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import replace

from budget.figures import Figure, laid_out, product, ratio, total
from budget.job import CutPiece, Job, Measure
from budget.quantities.formulas import lumber
from budget.quantities.formulas.paving import PIECE_MASS, with_extra
from budget.quantities.laid.cutting import Cutting, cut
from budget.quantities.materials import Materials
from budget.quantities.needs.feature import Features, need, notice, optional_part, pieces_need
from budget.quantities.needs.handling import two_people
from budget.quantities.needs.piece_checks import check, span_checks
from budget.quantities.needs.stock import Shelf
from budget.quantities.needs.stock_lengths import Stock, all_stock, stock_of, true_section
from budget.quantities.takeoff import Cut, CuttingPlan
from budget.reference import coefficient
from budget.units import AREA, COUNT, FLUID, HOURS, LENGTH, NUMBER

_SAW = (
    "Build",
    "Guards, eye and ear protection at the saw; clamp the piece, and let the blade stop. "
    "Cut treated timber outdoors with a dust mask, and never burn it.",
    "common practice",
)

_STEEL = (
    "Build",
    "Cutting steel throws sparks: nothing that burns within 35 ft (11 m), water or an extinguisher "
    "at hand, and a look back half an hour later. Welding is for those who have learnt it.",
    "29 CFR 1910.252(a)(2), from memory",
)


def pieces(job: Job, materials: Materials, shelf: Shelf) -> Features:
    """Quantities of every cut piece, those of one stock cut together."""
    found = Features()
    every = all_stock(job)
    groups: dict[tuple[str, str], list[CutPiece]] = defaultdict(list)
    for row in sorted(job.pieces, key=_order):
        groups[optional_part(row, job.areas), row.stock.casefold()].append(row)
    for (optional, _), rows in sorted(groups.items()):
        stocks = stock_of(rows[0].stock, every)
        fit = [row for row in rows if _fits(row, stocks, found)]
        if fit:
            _lengths(fit, stocks, optional, shelf, found)
            _small_things(fit, stocks[0], materials, optional, found)
        for row in fit:
            found.notices += check(row, stocks[0], job.settings.units)
    for row in sorted(job.pieces, key=_order):
        spans, notices, cautions = span_checks(row, every, stock_of(row.stock, every), job)
        found.spans += spans
        found.notices += notices
        found.cautions += [c for c in cautions if c not in found.cautions]
    if job.pieces:
        found.cautions.append(_SAW)
    used = {row.stock.casefold() for row in job.pieces}
    if any(p.kind == "steel section" and p.item.casefold() in used for p in job.products):
        found.cautions.append(_STEEL)
    return found


def _order(row: CutPiece) -> tuple[object, ...]:
    return (row.part, row.stock, -row.length, row.name, row.width or 0.0, row.count)


def _fits(row: CutPiece, stocks: Sequence[Stock], found: Features) -> bool:
    """Whether a stock is known that the piece can be cut from."""
    if not stocks:
        expected = "a stock on Products with its length"
        found.notices.append(
            notice(row, "stock", "stock-unknown", f"'{row.stock}'", expected,
                   "Add it to Products as timber or steel section.", "problem")
        )  # fmt: skip
        return False
    longest = max(stock.length for stock in stocks)
    if row.length > longest + 1e-9:
        found.notices.append(
            notice(row, "length", "piece-too-long", f"a piece longer than {row.stock}",
                   "a piece no longer than its stock", "Choose a longer stock, or join pieces.",
                   "problem")
        )  # fmt: skip
        return False
    width = stocks[0].section[1].value if stocks[0].section else math.inf
    if row.width is not None and row.width > width + 1e-9:
        found.notices.append(
            notice(row, "width", "piece-too-wide", f"a strip wider than {row.stock} truly is",
                   "a strip no wider than its stock", "Choose a wider stock.", "problem")
        )  # fmt: skip
        return False
    return True


def blanks(row: CutPiece, stock: Stock, kerf: float) -> int:
    """Full-width lengths that a row asks for: several strips come out of one."""
    if row.width is None or stock.section is None:
        return row.count
    each = lumber.strips(stock.section[1].value, row.width, kerf)
    return -(-row.count // max(1, each))


def _lengths(
    rows: Sequence[CutPiece], stocks: Sequence[Stock], optional: str, shelf: Shelf, found: Features
) -> None:
    kerf = coefficient("kerf").likely
    counts = [blanks(row, stocks[0], kerf) for row in rows]
    prices = [stock.price for stock in stocks]
    costs = [max(1, round(p)) for p in prices if p is not None]
    cutting = cut(
        [row.length for row in rows], counts, [s.length for s in stocks], kerf,
        costs if len(costs) == len(stocks) else None,
    )  # fmt: skip
    parts = tuple(sorted({row.part for row in rows}))
    found.cutting.append(_plan(rows, stocks, cutting, kerf, parts))
    part = " and ".join(parts)
    for number, count in cutting.stock_used.items():
        _stock_need(stocks[number], count, rows[0], cutting, part, optional, shelf, found)


def _stock_need(
    stock: Stock,
    count: int,
    row: CutPiece,
    cutting: Cutting,
    part: str,
    optional: str,
    shelf: Shelf,
    found: Features,
) -> None:
    words = f"{stock.item}, by the cutting plan"
    net = laid_out(count, COUNT, words, f"{row.cell('count')} {stock.item} cut", cutting.bound)
    order, cleaning = shelf.take(stock.item, net)
    if cleaning is not None:
        found.step("Build", part, cleaning.called(f"{cleaning.name}, {part}"), optional)
    if order.value <= 0:
        return
    bought = pieces_need(
        stock.product.kind, stock.item, part, net=net, order=order, extra=None,
        one=stock.weight(), why=f"Cut as the cutting plan shows; buy {stock.straight()}",
        optional=optional,
    )  # fmt: skip
    length = product(f"length of {stock.item}", LENGTH, order, stock.length_figure())
    measures: dict[Measure, Figure] = {**bought.measures, "length": length}
    found.needs.append(replace(bought, measures=measures))


def _plan(
    rows: Sequence[CutPiece],
    stocks: Sequence[Stock],
    cutting: Cutting,
    kerf: float,
    parts: tuple[str, ...],
) -> CuttingPlan:
    cuts = []
    for (number, pieces_), times in cutting.patterns:
        stock = stocks[number]
        lengths = tuple(rows[i].length for i in pieces_)
        left = stock.length - sum(lengths) - kerf * len(lengths)
        names = tuple(rows[i].name or rows[i].part for i in pieces_)
        cuts.append(Cut(stock.item, stock.length, times, lengths, names, max(0.0, left)))
    return CuttingPlan(rows[0].stock, parts, kerf, tuple(cuts), cutting.proved, cutting.bound)


def _count(row: CutPiece) -> Figure:
    return row.figure("count", COUNT, f"{row.name or 'pieces'}")


def _small_things(
    rows: Sequence[CutPiece], stock: Stock, materials: Materials, optional: str, found: Features
) -> None:
    for part in sorted({row.part for row in rows}):
        mine = [row for row in rows if row.part == part]
        counts = [_count(row) for row in mine]
        pace, people = coefficient("saw minutes").figure(), two_people(stock.weight())
        sawn = product(
            f"sawing {stock.item}, {part}", HOURS, total("pieces to saw", counts), pace, *people
        )
        found.step("Build", part, sawn, optional)
        _fixings(mine, stock, part, materials, optional, found)
        _counted(mine, stock.item, part, materials, optional, found)
        _coats(mine, stock, part, materials, optional, found)


def _fixings(
    rows: Sequence[CutPiece],
    stock: Stock,
    part: str,
    materials: Materials,
    optional: str,
    found: Features,
) -> None:
    parts = []
    for row in rows:
        if not row.fixings:
            continue
        each = row.figure("fixings", NUMBER, f"fixings in one {row.name}")
        net = product(f"fixings in {row.name}", COUNT, _count(row), each)
        parts.append(net)
        pace = coefficient("fixing hours" if row.pilot else "driving hours").figure()
        people = two_people(_weight(row, stock))
        hours = product(f"fixing {row.name}, {part}", HOURS, net, pace, *people)
        found.step("Build", part, hours, optional)
    if parts:
        item = _sold(materials, "fixing")
        net, extra = total(f"{item}, {part}", parts), coefficient("overage fixing").figure()
        order = with_extra(f"{item} with spares", net, extra)
        found.needs.append(
            pieces_need("fixing", item, part, net=net, order=order, extra=extra, one=None,
                        why="Some drop or strip.", optional=optional, what=stock.item)
        )  # fmt: skip


def _weight(row: CutPiece, stock: Stock) -> Figure | None:
    """Weight of one piece as cut to length [kg], None where that of its stock is not known."""
    whole = stock.weight()
    if whole is None:
        return None
    length = row.figure("length", LENGTH, f"length of {row.name}")
    share = ratio("share of a length", NUMBER, length, stock.length_figure())
    return product(f"weight of {row.name}", PIECE_MASS, whole, share)


def _sold(materials: Materials, kind: str) -> str:
    only = materials.of_kind(kind)
    return only.item if only else materials.item(kind)


def _counted(
    rows: Sequence[CutPiece],
    stock: str,
    part: str,
    materials: Materials,
    optional: str,
    found: Features,
) -> None:
    caps = [
        product(f"end caps on {row.name}", COUNT, _count(row),
                row.figure("end_caps", NUMBER, f"end caps on one {row.name}"))
        for row in rows if row.end_caps
    ]  # fmt: skip
    if caps:
        item = _sold(materials, "end cap")
        net = total(f"{item}, {part}", caps)
        found.needs.append(
            pieces_need("end cap", item, part, net=net, order=net, extra=None, one=None,
                        why="As counted.", optional=optional, what=stock)
        )  # fmt: skip


def _coats(
    rows: Sequence[CutPiece],
    stock: Stock,
    part: str,
    materials: Materials,
    optional: str,
    found: Features,
) -> None:
    """Stain by the true surface of every coated piece, and the hours to brush it."""
    surfaces = []
    for row in rows:
        section = true_section(row, stock)
        if not row.coats or section is None:
            continue
        length = row.figure("length", LENGTH, f"length of {row.name}")
        one = lumber.surface(section[0], section[1], length)
        coats = row.figure("coats", NUMBER, "coats")
        surfaces.append(
            product(f"surface of {row.name}, every coat", AREA, one, _count(row), coats)
        )
    if not surfaces:
        return
    area = total(f"surface to coat, {part}", surfaces)
    item = _sold(materials, "stain")
    net = ratio(f"{item}, {part}", FLUID, area, coefficient("stain coverage").figure())
    extra = coefficient("overage stain").figure()
    order = with_extra(f"{item} with extra", net, extra)
    found.needs.append(
        need("stain", item, part, net=net, order=order, extra=extra, why="Brush and can keep some.",
             measures={"volume": order}, optional=optional, what=stock.item)
    )  # fmt: skip
    hours = product(f"coating, {part}", HOURS, area, coefficient("coating pace").figure())
    found.step("Build", part, hours, optional)
