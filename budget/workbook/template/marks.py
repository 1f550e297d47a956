"""What may be amiss in a row, told while it is being filled: the words, and when they are shown.

Each mark is a condition twice: as a formula of the sheet and as Python over the row's cells, so
that the workbook is saved with the words that its formulas find.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Iterator
from dataclasses import dataclass

from budget.workbook.sheets.describe import Column, Sheet
from budget.workbook.table import letter
from budget.workbook.template.filled import Filled, RowContent, column_letter, setting_cell, span

Found = Callable[[RowContent, Filled], bool]
#: Columns that must not be blank for a shape.
_SIZES = (
    ("length", ("rectangle", "triangle", "ellipse")),
    ("width", ("rectangle", "triangle", "ellipse")),
    ("diameter", ("circle", "half circle", "quarter circle", "ring")),
    ("inner_diameter", ("ring",)),
    ("area", ("measured",)),
    ("perimeter", ("measured",)),
)
_RENTS = ("half_day", "day", "weekend", "week", "month")


@dataclass(frozen=True, slots=True)
class Mark:
    """One thing to look at in a row: ``{field}`` in the condition is that field's cell."""

    field: str  # the cell that is tinted
    words: str
    condition: str
    found: Found
    elsewhere: bool = False  # the condition looks at another sheet

    def formula(self, sheet: Sheet, row: int) -> str:
        """The condition for one row, columns fixed."""
        cells = {c.field: f"${letter(at)}{row}" for at, c in enumerate(sheet.columns, 1)}
        return self.condition.format(**cells)


def marks_of(sheet: Sheet) -> tuple[Mark, ...]:
    """Every mark of one sheet, in the order of its columns."""
    order = [c.field for c in sheet.columns]
    found = [*_required(sheet), *_dates(sheet), *_names(sheet), *_OWN.get(sheet.name, ())]
    return tuple(sorted(found, key=lambda mark: order.index(mark.field)))


def _required(sheet: Sheet) -> Iterator[Mark]:
    for column in sheet.columns:
        if column.required:
            yield _blank(column.field, f"{column.title.lower()} is blank")


def _dates(sheet: Sheet) -> Iterator[Mark]:
    if any(c.field == "valid_until" for c in sheet.columns):
        day = setting_cell("as_of")
        yield Mark(
            "valid_until",
            "price ran out",
            f"AND(ISNUMBER({{valid_until}}),{{valid_until}}<IF(ISNUMBER({day}),{day},TODAY()))",
            _ran_out,
            elsewhere=True,
        )


def _ran_out(row: RowContent, filled: Filled) -> bool:
    until = row.get("valid_until")
    return isinstance(until, dt.date) and until < filled.as_of


def _names(sheet: Sheet) -> Iterator[Mark]:
    for column in sheet.columns:
        if column.names is not None and column.names.unknown != "free":
            yield _unknown(column, column.names.sheet, column.names.field)


def _unknown(column: Column, sheet: str, name: str) -> Mark:
    defined = [(sheet, name)]
    if (sheet, name) == ("Areas", "name"):
        defined.append(("Areas", "part"))  # a shape without a name goes by its part's

    def found(row: RowContent, filled: Filled) -> bool:
        known = {n.casefold() for s, f in defined for n in filled.column(s, f)}
        return column.field in row and str(row[column.field]).casefold() not in known

    missing = "*".join(f"(COUNTIF({span(s, f)},{{{column.field}}})=0)" for s, f in defined)
    words = f"{column.title.lower()} is not on {sheet}"
    condition = f'AND({{{column.field}}}<>"",{missing}=1)'
    return Mark(column.field, words, condition, found, elsewhere=True)


def _blank(name: str, words: str) -> Mark:
    return Mark(name, words, f'{{{name}}}=""', lambda row, _: name not in row)


def _blank_where(name: str, words: str, other: str, values: tuple[str, ...]) -> Mark:
    """Blank although another column holds one of some words (an empty word: is blank)."""
    either = ",".join(f'{{{other}}}="{value}"' for value in values)
    condition = f'AND({{{name}}}="",OR({either}))'

    def found(row: RowContent, _: Filled) -> bool:
        return name not in row and str(row.get(other, "")).casefold() in values

    return Mark(name, words, condition, found)


def _sizes() -> Iterator[Mark]:
    for name, shapes in _SIZES:
        yield _blank_where(name, f"{name.replace('_', ' ')} is blank", "shape", shapes)


def _rent() -> Mark:
    cells = ",".join(f"{{{name}}}" for name in _RENTS)
    condition = f'AND(OR({{way}}="",{{way}}="rent"),COUNTA({cells})=0)'

    def found(row: RowContent, _: Filled) -> bool:
        rented = str(row.get("way", "")).casefold() in ("", "rent")
        return rented and not any(name in row for name in _RENTS)

    return Mark("day", "no rent given", condition, found)


_OWN: dict[str, tuple[Mark, ...]] = {
    "Areas": tuple(_sizes()),
    "Quotes": (_blank("price", "not yet priced"),),
    "Suppliers": (_blank("distance", "distance not given"),),
    "Equipment": (_rent(), _blank_where("price", "not yet priced", "way", ("buy",))),
    "Bids": (_blank("price", "not yet priced"),),
    "Disposal": (_blank_where("price", "not yet priced", "kind", ("", "box", "tipper")),),
    "Vehicles": (_blank("payload", "payload not given"),),
    "Checklist": (
        _blank_where("answer", "not answered", "answer", ("",)),
        Mark(
            "answer",
            "still to price",
            '{answer}="to price"',
            lambda row, _: str(row.get("answer", "")).casefold() == "to price",
        ),
        _blank_where("amount", "amount is blank", "answer", ("priced",)),
    ),
    "Spend": (_blank("amount", "amount not known yet"),),
}


def look_at(sheet: Sheet, row: int) -> str:
    """The formula that says what to look at in one row, nothing where all is well."""
    first, last = sheet.columns[0].field, sheet.columns[-1].field
    inputs = f"${column_letter(sheet, first)}{row}:${column_letter(sheet, last)}{row}"
    parts = "&".join(f'IF({m.formula(sheet, row)},"; {m.words}","")' for m in marks_of(sheet))
    return f'=IF(COUNTA({inputs})=0,"",MID({parts},3,200))'


def looked_at(sheet: Sheet, row: RowContent, filled: Filled) -> str:
    """What :func:`look_at` finds."""
    if not row:
        return ""
    return "; ".join(m.words for m in marks_of(sheet) if m.found(row, filled))[:200]
