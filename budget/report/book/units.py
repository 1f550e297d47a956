"""Where each number of the comparison workbook has its unit: one rule for every table.

The FAST standard asks for the unit of each line of a model in a column of its own. Our tables list
lines downwards and measures across. So the unit of a column stands in a row of its own, straight
under the headings; only where the rows of a column are measured differently does it stand in a
column of its own, headed Unit, straight to the right of the number.
"""

from __future__ import annotations

from collections.abc import Callable

from budget.report.book.cells import Cell, Entered, Formula, Live, Stored, SumAbove, Table
from budget.units import RATIO, Kind

#: What stands for numbers that measure nothing.
PLAIN = "number"


def unit_said(kind: Kind, label: str) -> str:
    """The unit as sheets write it, never blank; ``label`` is that of the kind.

    >>> from budget.units import COUNT, MASS
    >>> unit_said(MASS, "lb"), unit_said(RATIO, ""), unit_said(COUNT, "")
    ('lb', '%', 'number')
    """
    return label or ("%" if kind.name == RATIO.name else PLAIN)


def kind_of(cell: Cell) -> Kind | None:
    """What a number measures; None for words, dates and numbers that only name something."""
    match cell:
        case Live(figure, _, _):
            return figure.kind
        case Stored(_, kind, _) | SumAbove(_, kind) | Entered(_, kind, _, _, _):
            return kind
        case Formula(_, float() | int(), kind, _):
            return kind
    return None


def unit_under(table: Table, number: int, said: Callable[[Kind], str]) -> str:
    """What stands under the heading of a column: its unit, or nothing where none is due."""
    column = table.columns[number]
    if not table.unit_below(number):
        return ""
    if column.unit:
        return column.unit
    cells = (row[number] for row in (*table.rows, *table.foot) if number < len(row))
    kinds = {kind.name: kind for cell in cells if (kind := kind_of(cell)) is not None}
    return " or ".join(sorted({said(kind) for kind in kinds.values()}))
