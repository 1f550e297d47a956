"""The columns that help while filling: worked out by the sheet itself, never read back."""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from dataclasses import dataclass

from budget.units import AREA, round_half_up
from budget.workbook.sheets.describe import LIVE_TITLES, LOOK_AT, Sheet
from budget.workbook.table import letter
from budget.workbook.template.filled import (
    HEADER,
    LAST_ROW,
    Filled,
    RowContent,
    column_letter,
    span,
)
from budget.workbook.template.marks import look_at, looked_at

#: Rows that carry the helping formulas, at least; a long sheet has some beyond its last row.
_READY = {"Quotes": 60, "Spend": 60}
_USUALLY_READY, _BEYOND = 30, 15
_SEE = "see answer"
Value = str | float

#: Areas by shape, as a formula of the cells and as Python of their numbers.
_SHAPES: dict[str, tuple[str, Callable[[Callable[[str], float]], float]]] = {
    "rectangle": ("{length}*{width}", lambda n: n("length") * n("width")),
    "triangle": ("{length}*{width}/2", lambda n: n("length") * n("width") / 2),
    "circle": ("PI()/4*{diameter}^2", lambda n: math.pi / 4 * n("diameter") ** 2),
    "half circle": ("PI()/8*{diameter}^2", lambda n: math.pi / 8 * n("diameter") ** 2),
    "quarter circle": ("PI()/16*{diameter}^2", lambda n: math.pi / 16 * n("diameter") ** 2),
    "ring": (
        "PI()/4*({diameter}^2-{inner_diameter}^2)",
        lambda n: math.pi / 4 * (n("diameter") ** 2 - n("inner_diameter") ** 2),
    ),
    "ellipse": ("PI()/4*{length}*{width}", lambda n: math.pi / 4 * n("length") * n("width")),
    "measured": ("{area}", lambda n: n("area")),
}


@dataclass(frozen=True, slots=True)
class Live:
    """One helping column."""

    title: str
    unit: str
    note: str
    width: int
    number_format: str
    formula: Callable[[int], str]
    value: Callable[[RowContent], Value]

    @property
    def header(self) -> str:
        """The title with its unit."""
        return f"{self.title} ({self.unit})" if self.unit else self.title


def ready_rows(sheet: Sheet, filled: Filled) -> int:
    """How many rows carry the helping formulas."""
    least = _READY.get(sheet.name, _USUALLY_READY)
    return max(least, len(filled.of(sheet.name)) + _BEYOND)


def live_columns(sheet: Sheet, filled: Filled) -> list[Live]:
    """The helping columns of a sheet, in order, the last one saying what to look at."""
    made = [_OWN[title](sheet, filled) for title in LIVE_TITLES.get(sheet.name, ())]
    note = "What is blank, unknown or out of date in this row. Worked out here, never read back."
    look = Live(
        LOOK_AT, "", note, 34, "@",
        lambda row: look_at(sheet, row), lambda row: looked_at(sheet, row, filled),
    )  # fmt: skip
    return [*made, look]


def band(sheet: Sheet, filled: Filled) -> tuple[str, str]:
    """The line above the titles that counts, as a formula and as text."""
    columns = live_columns(sheet, filled)
    first = column_letter(sheet, sheet.columns[0].field)
    last_ready = HEADER + ready_rows(sheet, filled)
    rows, at = filled.of(sheet.name), len(sheet.columns) + 1
    names = [letter(at + i) for i in range(len(columns))]
    count = f"COUNTA(${first}${HEADER + 1}:${first}${LAST_ROW})"
    marked = f"${names[-1]}${HEADER + 1}:${names[-1]}${last_ready}"
    formula = f'="Rows filled: "&{count}&".  To look at: "&SUMPRODUCT(--(LEN({marked})>0))&"."'
    filled_rows = sum(sheet.columns[0].field in row for row in rows)
    looks = sum(bool(columns[-1].value(row)) for row in rows)
    text = f"Rows filled: {filled_rows}.  To look at: {looks}."
    if sheet.name in _SUMMED:
        words, decimals = _SUMMED[sheet.name]
        cells = f"${names[0]}${HEADER + 1}:${names[0]}${last_ready}"
        formula += f'&"  {words}: "&ROUND(SUM({cells}),{decimals})&" {columns[0].unit}."'
        values = [columns[0].value(row) for row in rows]
        summed = _rounded(sum(v for v in values if not isinstance(v, str)), decimals)
        text += f"  {words}: {summed} {columns[0].unit}."
    return formula, text


_SUMMED = {"Areas": ("Area about, overlaps not taken off", 1), "Spend": ("With tax", 2)}


def _rounded(value: float, decimals: int) -> str:
    size = 10**decimals
    return f"{round_half_up(value * size) / size:.12g}"


def _at(sheet: Sheet, name: str, row: int) -> str:
    return f"${column_letter(sheet, name)}{row}"


def _number(text: str) -> str:
    """A number in a cell that may hold it as text; an error for a size with a unit.

    ``MID(1/2,2,1)`` is the decimal mark of the program that shows the sheet.
    """
    as_text = f'VALUE(SUBSTITUTE({text},".",MID(1/2,2,1)))'
    return f'IF(ISNUMBER({text}),{text},IF(ISNUMBER(FIND("/",{text})),NA(),{as_text}))'


def _plain(content: object) -> float:
    """The number of a cell that holds nothing else. Raises ``ValueError``."""
    if isinstance(content, (int, float)):
        return float(content)
    if isinstance(content, str) and re.fullmatch(r"\s*\d+(\.\d+)?\s*", content):
        return float(content)
    raise ValueError(content)


def _area(sheet: Sheet, filled: Filled) -> Live:
    def formula(row: int) -> str:
        names = ("length", "width", "diameter", "inner_diameter", "area")
        cells = {name: _number(_at(sheet, name, row)) for name in names}
        listed = ",".join(f'"{shape}"' for shape in _SHAPES)
        shape = _at(sheet, "shape", row)
        which = f'MATCH(IF({shape}="","rectangle",{shape}),{{{listed}}},0)'
        ways = ",".join(text.format(**cells) for text, _ in _SHAPES.values())
        sign = f'IF({_at(sheet, "cut_out", row)}="cut out",-1,1)'
        part = _at(sheet, "part", row)
        return f'=IF({part}="","",IFERROR({sign}*CHOOSE({which},{ways}),"{_SEE}"))'

    def value(row: RowContent) -> Value:
        if "part" not in row:
            return ""
        shape = _SHAPES.get(str(row.get("shape", "rectangle")).casefold())
        try:
            found = shape[1](lambda name: _plain(row.get(name))) if shape else None
        except ValueError:
            found = None
        if found is None:
            return _SEE
        return -found if row.get("cut_out") == "cut out" else found

    note = "For a first look: the sizes as typed. The answer takes off overlaps and feet in text."
    unit = AREA.unit(filled.system).label
    return Live("Area about", unit, note, 12, "#,##0.0", formula, value)


def _price_of_one(sheet: Sheet, _: Filled) -> Live:
    def formula(row: int) -> str:
        price, per, holds = (_at(sheet, name, row) for name in ("price", "per", "holds"))
        amount = _number(f'LEFT({holds},FIND(" ",{holds}&" ")-1)')
        unit = f'IF(ISNUMBER(FIND(" ",{holds})),MID({holds},FIND(" ",{holds})+1,20),"piece")'
        whole = f'ROUND({price},2)&" per "&IF({per}="","piece",{per})'
        packed = f'ROUND({price}/{amount},2)&" per "&{unit}'
        either = f'IF({holds}="",{whole},IFERROR({packed},""))'
        return f'=IF(ISNUMBER({price}),{either},"")'

    def value(row: RowContent) -> Value:
        price, holds = row.get("price"), row.get("holds", "")
        if not isinstance(price, (int, float)):
            return ""
        if not holds:
            return f"{_rounded(price, 2)} per {row.get('per', 'piece')}"
        held = f"{holds:.12g}" if isinstance(holds, (int, float)) else str(holds)
        amount, _, unit = held.partition(" ")
        try:
            return f"{_rounded(price / _plain(amount), 2)} per {unit[:20] or 'piece'}"
        except (ValueError, ZeroDivisionError):
            return ""

    note = "The price shared out over what the pack holds, before delivery and tax."
    return Live("Price of one unit", "", note, 20, "@", formula, value)


def _quotes_so_far(sheet: Sheet, filled: Filled) -> Live:
    def formula(row: int) -> str:
        name = _at(sheet, "supplier", row)
        return f'=IF({name}="","",COUNTIF({span("Quotes", "supplier")},{name}))'

    def value(row: RowContent) -> Value:
        if "supplier" not in row:
            return ""
        mine = str(row["supplier"]).casefold()
        return float(sum(n.casefold() == mine for n in filled.column("Quotes", "supplier")))

    note = "Rows on Quotes that name this seller."
    return Live("Quotes so far", "", note, 11, "0", formula, value)


def _usable(sheet: Sheet, _: Filled) -> Live:
    def formula(row: int) -> str:
        count, usable = _at(sheet, "count", row), _at(sheet, "usable", row)
        return f'=IF(ISNUMBER({count}),{count}*IF(ISNUMBER({usable}),{usable},1),"")'

    def value(row: RowContent) -> Value:
        count, usable = row.get("count"), row.get("usable", 1.0)
        if not isinstance(count, (int, float)):
            return ""
        return count * (usable if isinstance(usable, (int, float)) else 1.0)

    return Live("Usable pieces", "", "Count times usable share.", 11, "#,##0", formula, value)


def _with_tax(sheet: Sheet, filled: Filled) -> Live:
    def formula(row: int) -> str:
        amount, tax = _at(sheet, "amount", row), _at(sheet, "tax", row)
        return f'=IF(ISNUMBER({amount}),{amount}+N({tax}),"")'

    def value(row: RowContent) -> Value:
        amount, tax = row.get("amount"), row.get("tax", 0.0)
        if not isinstance(amount, (int, float)):
            return ""
        return amount + (tax if isinstance(tax, (int, float)) else 0.0)

    note = "Amount and tax together, orders and payments alike."
    return Live("With tax", filled.currency, note, 12, "#,##0.00", formula, value)


_OWN: dict[str, Callable[[Sheet, Filled], Live]] = {
    "Area about": _area,
    "Price of one unit": _price_of_one,
    "Quotes so far": _quotes_so_far,
    "Usable pieces": _usable,
    "With tax": _with_tax,
}
