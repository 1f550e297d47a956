"""Slips that parse but cannot be: a base 40 in deep, a pallet of 2 pavers, an hour worth 2,500.

What a small outdoor job can hold is stated in ``budget/reference/plausible.csv``. Outside the
usual range a cell is asked about, outside the wider one the reading stops: no garden holds that.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache

from budget import reference
from budget.job import Product, Quote
from budget.numerals import grouped
from budget.units import AREA, COUNT, DENSITY, LENGTH, MASS, MONEY, NUMBER, VOLUME, Kind, in_words
from budget.workbook.build import Draft, Drafts
from budget.workbook.measures import unit_size
from budget.workbook.sheets.describe import Column, Sheet, key
from budget.workbook.table import Notes

#: Currencies whose unit is worth about as much as the ranges reckon with.
_NEAR = ("USD", "CAD", "AUD", "NZD", "SGD", "EUR", "GBP", "CHF")
_READ = ("money", "measure", "number", "whole", "raw")
_EDGES = ("never_below", "least", "most", "never_above")


@dataclass(frozen=True, slots=True)
class Range:
    """What a column can hold, in SI or cents: slip, doubt, doubt, slip."""

    never_below: float
    least: float
    most: float
    never_above: float
    only: tuple[str, tuple[str, ...]]  # another column's title and the words it must hold

    def holds(self, draft: Draft) -> bool:
        """Whether the range is for this row."""
        title, words = self.only
        if not title:
            return True
        other = next(c for c in draft.record.sheet.columns if c.title == title)
        return str(getattr(draft.row, other.field, "")) in words


def check_plausible(rows: Drafts, notes: Notes) -> None:
    """Ask about every number that a small outdoor job can hardly hold."""
    for drafts in rows.values():
        if drafts:
            check_sheet(drafts[0].record.sheet, drafts, notes)
    for draft in rows.get("Quotes", ()):
        _check_pallet(draft, notes)
    for draft in rows.get("Products", ()):
        _check_stone(draft, notes)
    _check_prices(rows.get("Quotes", ()), notes)


def check_sheet(sheet: Sheet, drafts: Iterable[Draft], notes: Notes) -> None:
    """Ask about the numbers of one sheet, column by column."""
    for column in sheet.columns:
        ranges = _ranges(sheet.name, column)
        if not ranges or (column.value == "money" and notes.currency not in _NEAR):
            continue
        for draft in drafts:
            value = getattr(draft.row, column.field, None)
            filled = draft.filled(column.field) and column.field not in draft.bad
            if filled and isinstance(value, (int, float)):
                _check(draft, column, float(value), ranges, notes)


def _check(
    draft: Draft, column: Column, value: float, ranges: tuple[Range, ...], notes: Notes
) -> None:
    fits = next((r for r in ranges if r.holds(draft)), None)
    if fits is None or fits.least <= value <= fits.most:
        return
    slip = not fits.never_below <= value <= fits.never_above
    low, high = (fits.never_below, fits.never_above) if slip else (fits.least, fits.most)
    kind = _kind(column)
    words = {
        "title": column.title,
        "low": in_words(low, kind, notes.system),
        "high": in_words(high, kind, notes.system),
    }
    found = in_words(value, kind, notes.system) if math.isfinite(value) else str(value)
    notes.about(draft.record, column.field, "cannot-be" if slip else "unlikely", found, **words)
    if slip:
        draft.bad.add(column.field)


def _kind(column: Column) -> Kind:
    if column.value == "money":
        return column.kind or MONEY
    return (column.kind if column.value == "measure" else None) or NUMBER


@cache
def _ranges(sheet: str, column: Column) -> tuple[Range, ...]:
    """The ranges of one column: its own, else that of its kind."""
    if column.value not in _READ:
        return ()
    own = _rows().get((sheet, column.title), [])
    if not own and column.value != "raw":
        own = _rows().get(("", _kind(column).name), [])
    return tuple(_range(row, column) for row in own)


@cache
def _rows() -> dict[tuple[str, str], list[dict[str, str]]]:
    """The rows of the table by sheet and column."""
    found: dict[tuple[str, str], list[dict[str, str]]] = {}
    for row in reference.rows("plausible"):
        found.setdefault((row["sheet"], row["column"]), []).append(row)
    return found


@cache
def range_of(check: str) -> Range:
    """The range of a check of several cells together; an edge that is not given holds anything.

    >>> range_of("pieces on a pallet").least, range_of("dearest by cheapest").most
    (4.0, 40.0)
    """
    return _range(_rows()[("", f"[{check}]")][0])


def _range(row: dict[str, str], column: Column | None = None) -> Range:
    size = unit_size(row["unit"], "imperial")[0] if row["unit"] else 1.0
    if column is not None and column.value == "money":
        size *= MONEY.imperial.size
    open_ends = (-math.inf, -math.inf, math.inf, math.inf)
    edges = [
        float(row[name]) * size if row[name] else end
        for name, end in zip(_EDGES, open_ends, strict=True)
    ]
    title, _, words = row["with"].partition("=")
    return Range(edges[0], edges[1], edges[2], edges[3], (title, tuple(words.split("|"))))


def _check_pallet(draft: Draft, notes: Notes) -> None:
    """A pallet that holds hardly a piece, or less than its floor."""
    quote: Quote = draft.row
    if quote.per != "pallet" or {"holds", "per"} & draft.bad or not draft.filled("holds"):
        return
    check = {"count": "pieces on a pallet", "area": "area on a pallet"}.get(quote.measure)
    least = range_of(check).least if check else -math.inf
    if quote.holds < least:
        kind = COUNT if quote.measure == "count" else AREA
        found = in_words(quote.holds, kind, notes.system)
        at_least = in_words(least, kind, notes.system)
        notes.about(draft.record, "holds", "pack-too-small", found, per="pallet", least=at_least)


def _check_stone(draft: Draft, notes: Notes) -> None:
    """A weight that no stone, clay or concrete of that size has."""
    product: Product = draft.row
    sizes = (product.length, product.width, product.height, product.weight)
    if product.kind not in ("paver", "wall unit", "cap") or None in sizes:
        return
    if {"length", "width", "height", "weight"} & draft.bad:
        return
    length, width, height, weight = (float(s or 0) for s in sizes)
    density = weight / (length * width * height)
    can = range_of("density of a piece")
    if can.least <= density <= can.most:
        return
    slip = not can.never_below <= density <= can.never_above
    shown = in_words(density, DENSITY, notes.system)
    low, high = (can.never_below, can.never_above) if slip else (can.least, can.most)
    words = {
        "density": shown,
        "low": in_words(low, DENSITY, notes.system),
        "high": in_words(high, DENSITY, notes.system),
    }
    code = "density-cannot-be" if slip else "density-unlikely"
    notes.about(draft.record, "weight", code, **words)


def _check_prices(drafts: Iterable[Draft], notes: Notes) -> None:
    """Prices of one item, in the same measure, that are far apart."""
    priced: dict[tuple[str, str], list[tuple[float, int, Draft]]] = {}
    for at, draft in enumerate(drafts):
        quote: Quote = draft.row
        if quote.price and not {"price", "holds", "per"} & draft.bad:
            each = (quote.price / quote.holds, at, draft)
            priced.setdefault((key(quote.item), quote.measure), []).append(each)
    for (_, measure), found in sorted(priced.items()):
        cheap, dear = min(found), max(found)
        if dear[0] > range_of("dearest by cheapest").most * cheap[0]:
            _far_apart(cheap[2], dear[2], dear[0] / cheap[0], measure, notes)


def _far_apart(cheap: Draft, dear: Draft, times: float, measure: str, notes: Notes) -> None:
    kind = {"length": LENGTH, "area": AREA, "volume": VOLUME, "mass": MASS}.get(measure, COUNT)
    unit = kind.unit(notes.system).label or "piece"
    other = cheap.record.address("price")
    found = f"{grouped(times)} times the price in {other} for one {unit}"
    notes.about(dear.record, "price", "price-far-off", found, other=other)
