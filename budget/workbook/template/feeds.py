"""Drop-downs that other sheets' rows feed: a name typed there is offered here at once.

Each such list is a column of the Lists sheet: a blank first (a drop-down then opens at its top),
fixed words, and every name of the source columns once, closed up by formulas.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache

from budget import reference
from budget.workbook.sheets.describe import Column, Sheet
from budget.workbook.template.filled import HEADER, Filled, span

#: Names a fed list has room for, and the last row of a sheet that is looked at for them.
ROOM = 40
SOURCE_ROWS = 204


@dataclass(frozen=True, slots=True)
class Source:
    """A column whose cells are names; ``prefix`` is put before each."""

    sheet: str
    field: str
    prefix: str = ""


@dataclass(frozen=True, slots=True)
class Feed:
    """Fixed words, then the names of some columns."""

    words: tuple[str, ...] = ()
    sources: tuple[Source, ...] = ()

    def names(self, filled: Filled) -> list[str]:
        """What the list offers for the rows that are there, each name once."""
        found = list(self.words)
        seen = {name.casefold() for name in found}
        for source in self.sources:
            for name in filled.column(source.sheet, source.field):
                if (offered := source.prefix + name).casefold() not in seen:
                    found.append(offered)
                    seen.add(offered.casefold())
        return found[: len(self.words) + ROOM]

    def cells(self, letter: str) -> Iterator[str]:
        """The formulas below the fixed words, each finding the next name not yet listed."""
        first = HEADER + 2
        for row in range(first + len(self.words), first + len(self.words) + ROOM):
            formula = '""'
            for source in reversed(self.sources):
                formula = _next_name(source, f"{letter}${HEADER}:{letter}{row - 1}", formula)
            yield f"={formula}"


def _next_name(source: Source, above: str, otherwise: str) -> str:
    cells = span(source.sheet, source.field, SOURCE_ROWS)
    names = f'"{source.prefix}"&{cells}' if source.prefix else cells
    new = f'MATCH(1,({cells}<>"")*ISNA(MATCH({names},{above},0)),0)'
    found = f"INDEX({cells},{new})"
    found = f'"{source.prefix}"&{found}' if source.prefix else found
    return f"IFERROR({found},{otherwise})"


def _items() -> tuple[str, ...]:
    kinds = reference.product_kinds().values()
    return tuple(kind.item for kind in kinds if kind.kind != "extra")


_ITEM_SOURCES = (
    Source("Areas", "paver"),
    Source("Products", "item"),
    Source("Extras", "item"),
    Source("Trenches", "item"),
    Source("Build-up", "base_item"),
    Source("Areas", "border"),
    Source("Walls", "unit"),
    Source("Walls", "cap"),
)
_PRODUCTS = Feed((), (Source("Products", "item"),))
_PARTS = Feed((), (Source("Areas", "part"),))
_SELLERS = Source("Suppliers", "supplier")
_MACHINES = Source("Equipment", "equipment")
_PINNED = (
    "own", "hire", "sand", "small gravel", "screenings", "pea gravel",
    "keep", "drop", "haul", "deliver",
)  # fmt: skip


@cache
def _special() -> dict[tuple[str, str], Feed]:
    """Columns that draw on more than the one column that defines their names."""
    steps = tuple(reference.steps())
    lines = tuple(row["line"] for row in reference.rows("checklist"))
    machines = tuple(dict.fromkeys(r["equipment"] for r in reference.rows("methods")))
    needed = tuple(name for name in machines if name)
    risks = tuple(row["item"] for row in reference.rows("bid_scope"))
    return {
        ("Quotes", "item"): Feed(_items(), _ITEM_SOURCES),
        ("Stock", "item"): Feed(_items(), _ITEM_SOURCES),
        ("Areas", "paver"): Feed((), (Source("Products", "item"), Source("Areas", "paver"))),
        ("Products", "item"): Feed((), (Source("Areas", "paver"), Source("Extras", "item"))),
        ("Extras", "item"): Feed((), (Source("Products", "item"), Source("Extras", "item"))),
        ("Areas", "border"): _PRODUCTS,
        ("Walls", "unit"): _PRODUCTS,
        ("Walls", "cap"): _PRODUCTS,
        ("Pieces", "stock"): _PRODUCTS,
        ("Outline", "area"): Feed((), (Source("Areas", "name"), Source("Areas", "part"))),
        ("Suppliers", "supplier"): Feed((), (Source("Quotes", "supplier"),)),
        ("Equipment", "equipment"): Feed(needed, (Source("Work", "equipment"),)),
        ("Equipment", "source"): Feed((), (_SELLERS, Source("Equipment", "source"))),
        ("Work", "equipment"): Feed(needed, (_MACHINES,)),
        ("Scenarios", "choice"): Feed(
            ("bedding", "disposal", *(f"step:{step}" for step in steps)),
            (
                Source("Suppliers", "supplier", "goods:"),
                Source("Equipment", "equipment", "machine:"),
                Source("Areas", "part", "part:"),
            ),
        ),
        ("Scenarios", "value"): Feed(
            _PINNED, (Source("Bids", "bid"), Source("Disposal", "way"), Source("Work", "method"))
        ),
        ("Bid scope", "item"): Feed((*risks, *lines), (Source("Checklist", "line"),)),
        ("Spend", "line"): Feed((*_items(), *steps, *lines), _ITEM_SOURCES),
        ("Spend", "supplier"): Feed(
            (), (_SELLERS, Source("Equipment", "source"), Source("Bids", "firm"))
        ),
    }


def feed_of(sheet: Sheet, column: Column) -> Feed | None:
    """What feeds a column's drop-down, none if nothing on another sheet does."""
    special = _special().get((sheet.name, column.field))
    if special is not None:
        return special
    if column.field == "part":
        return _PARTS
    if column.names is not None:
        return Feed((), (Source(column.names.sheet, column.names.field),))
    return None
