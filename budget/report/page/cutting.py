"""The cutting plans of the page: a drawing each, and the cuts as a table."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import groupby
from typing import TYPE_CHECKING

from budget.numerals import grouped
from budget.quantities.takeoff import Cut, CuttingPlan
from budget.report import words
from budget.report.drawing.cutting import cutting
from budget.report.page.view import Column, Row, Table, View
from budget.units import DEPTH, Kind, in_words
from budget.wording import listed

if TYPE_CHECKING:
    from markupsafe import Markup


@dataclass(frozen=True, slots=True)
class Sawn:
    """How one stock is cut: a heading, what to mind, the drawing, and every cut in a table."""

    title: str
    words: str
    drawing: Markup
    table: Table
    saw: bool  # whether a saw cuts it


def cutting_plans(view: View) -> list[Sawn]:
    """Every stock that pieces are cut from."""
    plans = [plan for plan in view.comparison.takeoff.cutting if plan.cuts]
    return [_sawn(view, n, plan) for n, plan in enumerate(plans, 1)]


def _sawn(view: View, number: int, plan: CuttingPlan) -> Sawn:
    title = f"Cutting plan of {plan.stock} for {listed(plan.parts)}"
    kerf = f"each cut of the saw takes {in_words(plan.kerf, DEPTH, view.system)}; "
    count = words.count(plan.count, plan.unit)
    said = f"{count} in all; {kerf if plan.kerf else ''}{plan.bound}. What is left is shaded."
    drawing = cutting(f"cutting-{number}", title, plan, view.system)
    columns = (Column("Cut alike", number=True), Column("Pieces"), Column("Left", number=True))
    rows = tuple(_row(view, cut, plan.size) for cut in plan.cuts)
    table = Table(title, (Column("Stock"), *columns), rows)
    return Sawn(title, said, drawing, table, plan.kerf > 0)


def _row(view: View, cut: Cut, size: Kind) -> Row:
    pieces = [
        f"{len(list(alike))} × {name} {in_words(length, size, view.system)}"
        for (name, length), alike in groupby(zip(cut.names, cut.lengths, strict=True))
    ]
    stock = f"{cut.item}, {in_words(cut.stock, size, view.system)}"
    left = in_words(cut.left, size, view.system)
    return Row((stock, grouped(cut.times), ", ".join(pieces), left))
