"""Cells whose unit depends on another cell of the row: packs, paces, fee steps, rolls."""

from __future__ import annotations

import re
from collections.abc import Callable
from itertools import pairwise
from typing import Any

from budget import reference
from budget.job import DeliveryBasis, Measure, PriceBreak
from budget.units import (
    AREA,
    BULK_MASS,
    COUNT,
    DISTANCE,
    HOURS,
    LENGTH,
    MILE,
    MONEY,
    SHORT_TON,
    TUBE_VOLUME,
    VOLUME,
    Dimension,
    Kind,
    System,
    per,
)
from budget.workbook.measures import UnreadableError, parse, unit_size
from budget.workbook.problems import nearest
from budget.workbook.sheets.describe import key
from budget.workbook.table import Cell, Notes, Record
from budget.workbook.values import RefusedError, money, one_of, pace

Values = dict[str, Any]

MEASURES: dict[Dimension, Measure] = {
    (0, 0, 0, 0): "count",
    (1, 0, 0, 0): "length",
    (2, 0, 0, 0): "area",
    (3, 0, 0, 0): "volume",
    (0, 1, 0, 0): "mass",
}
#: Packs that say nothing about what they hold.
PACKS = (
    "bag", "big bag", "box", "pallet", "roll", "pack", "bundle", "layer", "band", "pail", "bucket",
    "tube", "load",
)  # fmt: skip
#: Units that goods are sold by, as we write them.
UNITS = (
    "ton", "tonne", "lb", "kg", "cu yd", "m³", "cu ft", "sq ft", "m²", "sq yd", "ft", "m", "L",
)  # fmt: skip
ONE_PIECE = ("each", "piece", "kit", "set")


class Row:
    """One record with its values while a rule works on it."""

    def __init__(self, record: Record, values: Values, bad: set[str], notes: Notes) -> None:
        """``bad`` names the fields that could not be read."""
        self.record, self.values, self.bad, self.notes = record, values, bad, notes

    def refuse(self, name: str, code: str, found: str = "", **words: str) -> None:
        """Note a problem with a field, and count it as unread."""
        self.notes.about(self.record, name, code, found, **words)
        self.values.pop(name, None)
        self.bad.add(name)

    def take(self, name: str, read: Callable[[Cell], Any]) -> Any:
        """Read a raw cell with ``read``; ``None`` if blank or refused."""
        cell = self.values.pop(name, None)
        if cell is None:
            return None
        try:
            return read(cell)
        except RefusedError as refused:
            self.refuse(name, refused.code, **refused.words)
        except UnreadableError as error:
            code = "unit-unclear" if error.unclear else "not-a-measure"
            self.refuse(name, code, expected=error.expected, mend=error.mend)
        return None

    def take_measure(self, name: str, kind: Kind, size: float) -> Any:
        """Read a raw cell as a measure; a bare number is in a unit of ``size``."""
        column, notes = self.record.sheet.column(name), self.notes
        if kind.dimension[3]:
            return self.take(name, lambda cell: money(column, cell, kind, notes, size))
        return self.take(name, lambda cell: pace(column, cell, kind, notes.system, size))

    def not_negative(self, *names: str, above_zero: bool = False) -> None:
        """Refuse fields below zero (or at zero)."""
        for name in names:
            value = self.values.get(name)
            if value is not None and (value < 0 or (above_zero and value == 0)):
                title = self.record.sheet.column(name).title
                self.refuse(name, "not-positive" if above_zero else "negative", title=title)


def _word(cell: Cell) -> str:
    return str(cell.seen.value).strip()


def _amount(cell: Cell, notes: Notes) -> tuple[Measure, float]:
    """An amount in whatever it is measured in; a bare number is in the header's unit."""
    text = _word(cell)
    if cell.seen.kind == "number" or not any(c.isalpha() or c in "'\"²³" for c in text):
        size, dimension = (
            unit_size(cell.unit, notes.system) if cell.unit else (1.0, COUNT.dimension)
        )
        number = parse(f"{cell.seen.value}", COUNT, notes.system, 1.0)
        return _measure(dimension, cell.unit), number * size
    for dimension, measure in MEASURES.items():
        kind = _KINDS[dimension]
        try:
            return measure, parse(text, kind, notes.system)
        except UnreadableError as error:
            if error.unclear or "does not measure" not in error.mend:
                raise
    raise UnreadableError("a count, length, area, volume or weight", "Write such as 50 lb.")


_KINDS: dict[Dimension, Kind] = {k.dimension: k for k in (COUNT, LENGTH, AREA, VOLUME, BULK_MASS)}


def _measure(dimension: Dimension, unit: str) -> Measure:
    if dimension not in MEASURES:
        raise UnreadableError(
            "a count, length, area, volume or weight", f"{unit} is none of these."
        )
    return MEASURES[dimension]


def quote(row: Row) -> None:
    """``Per`` and ``Pack holds`` together decide the measure and the SI amount of a pack."""
    row.values["breaks"] = row.take("breaks", lambda cell: _breaks(cell, row)) or ()
    word = row.take("per", _word) or "each"
    holds = row.take("holds", lambda cell: _amount(cell, row.notes))
    if "per" in row.bad or "holds" in row.bad:
        return
    row.values["per"] = word
    pack = next((p for p in (*PACKS, *ONE_PIECE) if key(p) in (key(word), key(word)[:-1])), "")
    if pack:
        _pack(row, pack, holds)
    else:
        _by_measure(row, word, holds)
    _check_range(row, "price_low", "price", "price_high")


def _breaks(cell: Cell, row: Row) -> tuple[PriceBreak, ...]:
    """Price breaks as people write them: ``10: 4.20; 50: 3.95``, fewest packs first."""
    found = []
    for part in _word(cell).split(";"):
        if part.strip():
            pair = _BREAK.fullmatch(part.strip())
            if pair is None:
                raise RefusedError("price-breaks", mend=f"'{part.strip()}' is not such a pair.")
            found.append(PriceBreak(_counted(cell, pair[1], row), _priced(cell, pair[2], row)))
    found.sort(key=lambda step: step.packs)
    first = row.values.get("price")
    prices = [*([] if first is None else [first]), *(step.price for step in found)]
    if any(dearer >= before for before, dearer in pairwise(prices)):
        mend = "A larger number must have a lower price, the first lower than Price."
        raise RefusedError("price-breaks", mend=mend)
    if any(one.packs == two.packs for one, two in pairwise(found)):
        raise RefusedError("price-breaks", mend="One number of packs has two prices.")
    return tuple(found)


_BREAK = re.compile(r"(?:from\s+)?(.+?)\s*(?::|=|\bat\b)\s*(.+)")


def _counted(cell: Cell, text: str, row: Row) -> float:
    packs = parse(text, COUNT, row.notes.system, 1.0)
    if packs <= 0:
        raise RefusedError("price-breaks", mend="The number of packs must be above zero.")
    return packs


def _priced(cell: Cell, text: str, row: Row) -> float:
    column = row.record.sheet.column("price")
    plain = Cell(type(cell.seen)(text, "text"), cell.sheet, cell.row, cell.letter)
    price = money(column, plain, MONEY, row.notes, MONEY.imperial.size)
    if price < 0:
        raise RefusedError("price-breaks", mend="A price cannot be below zero.")
    return float(price)


def _pack(row: Row, pack: str, holds: tuple[Measure, float] | None) -> None:
    row.values["per"] = pack
    if holds is None and pack in ONE_PIECE:
        holds = ("count", 1.0)
    if holds is None:
        row.refuse("holds", "pack-holds-missing", per=pack)
        return
    if holds[1] <= 0:
        row.refuse("holds", "not-positive", title="Pack holds")
        return
    row.values["measure"], row.values["holds"] = holds


def _by_measure(row: Row, word: str, holds: tuple[Measure, float] | None) -> None:
    bare = {"yd": "yd", "yard": "yard", "yards": "yards"}.get(word.casefold())
    if bare:
        mend = f"Write cu yd for loose goods, or ft for a length, instead of {bare}."
        row.refuse("per", "unit-unclear", expected="a unit with one meaning", mend=mend)
        return
    try:
        size, dimension = unit_size(word, row.notes.system)
        measure = _measure(dimension, word)
    except UnreadableError as error:
        mend = error.mend
        if not error.unclear:
            mend = nearest(word, (*PACKS, *ONE_PIECE)) or mend
        if word[:1].isdigit():
            mend = f"Type pack here, and {word} into Pack holds."
        code = "unit-unclear" if error.unclear else "not-a-measure"
        row.refuse("per", code, f"'{word}'", expected="each, a pack or a unit", mend=mend)
        return
    if holds and (holds[0] != measure or abs(holds[1] / size - 1) > 1e-6):
        row.refuse("holds", "pack-holds-contradicts", per=word)
        return
    row.values["measure"], row.values["holds"] = measure, size
    row.values["per"] = _usual_word(word, size, dimension, row.notes.system)


def _usual_word(word: str, size: float, dimension: Dimension, system: System) -> str:
    """One way to write a unit: ``cu yd`` for CY, yd3 or cubic yards."""
    for usual in UNITS:
        other = (SHORT_TON, BULK_MASS.dimension) if usual == "ton" else unit_size(usual, "metric")
        if other == (size, dimension):
            return usual
    return word


def _check_range(row: Row, low: str, likely: str, high: str) -> None:
    found = [row.values.get(n) for n in (low, likely, high)]
    filled = [f for f in found if f is not None]
    if filled != sorted(filled):
        row.refuse(low if found[0] is not None else high, "range-upside-down")


def supplier(row: Row) -> None:
    """The range of lead days stands in order."""
    _check_range(row, "lead_low", "lead_days", "lead_high")


def work(row: Row) -> None:
    """Person-hours and machine hours a unit become hours per SI unit of the step's measure."""
    step = reference.steps().get(row.values.get("step", ""))
    word = row.take("unit", _word)
    if step is None or "unit" in row.bad:
        for name in ("low", "likely", "high", "machine_hours"):
            row.values.pop(name, None)
        return
    size = step.measure.unit(row.notes.system).size
    if word:
        size = _step_unit(row, "unit", word, step.measure, step.step)
    kind = per(HOURS, step.measure)
    for name in ("low", "likely", "high", "machine_hours"):
        row.values[name] = row.take_measure(name, kind, 1 / size)
    row.not_negative("low", "likely", "high", "machine_hours")
    _check_range(row, "low", "likely", "high")


def _step_unit(row: Row, name: str, word: str, measure: Kind, step: str) -> float:
    example = measure.unit(row.notes.system).label
    try:
        size, dimension = unit_size(word, row.notes.system)
    except UnreadableError as error:
        code = "unit-unclear" if error.unclear else "not-a-measure"
        row.refuse(name, code, f"'{word}'", expected=error.expected, mend=error.mend)
        return 1.0
    if dimension != measure.dimension:
        words = {"kind": measure.name, "step": step, "example": example}
        row.refuse(name, "unit-not-of-step", f"'{word}'", **words)
        return 1.0
    return size


def _check_deduct(row: Row) -> None:
    """What a bid would leave out is part of it, not all of it, and has its deduct."""
    if {"steps", "may_leave", "deduct"} & row.bad:
        return
    left, deduct = row.values.get("may_leave") or (), row.values.get("deduct")
    covered = set(row.values.get("steps") or ())
    if deduct is not None and not left:
        row.refuse("may_leave", "deduct-of-nothing", "")
    elif left and deduct is None:
        row.refuse("deduct", "deduct-missing", "")
    elif left and not (set(left) < covered):
        row.refuse("may_leave", "deduct-outside", ", ".join(left), steps=", ".join(sorted(covered)))


def bid(row: Row) -> None:
    """The unit of a price per unit, which only such a price needs; lead days in order."""
    _check_range(row, "lead_low", "lead_days", "lead_high")
    early = [row.values.get(name) or 0.0 for name in ("paid_yes", "paid_start")]
    if sum(early) > 1 + 1e-9:
        row.refuse("paid_start", "paid-twice", f"{sum(early) * 100:g} %")
    _check_deduct(row)
    word = row.take("unit", _word)
    if "unit" in row.bad:
        return
    if word:
        try:
            size, dimension = unit_size(word, row.notes.system)
            _measure(dimension, word)
        except UnreadableError as error:
            code = "unit-unclear" if error.unclear else "not-a-measure"
            row.refuse("unit", code, f"'{word}'", expected=error.expected, mend=error.mend)
            return
        row.values["unit"] = _KINDS[dimension].unit(row.notes.system).label
        row.values["unit_size"] = size
    elif row.values.get("basis") == "per unit":
        row.refuse("unit", "cell-blank", title="the unit", note="Such as sq ft, m² or cu yd.")
    if row.values.get("basis") == "hourly" and row.values.get("hours") is None:
        note = "An hourly price needs the hours they reckon with."
        if "hours" not in row.bad:
            row.refuse("hours", "cell-blank", title="the estimated hours", note=note)


#: Words for the basis of a delivery fee: our word, what From and To count, and its SI size.
_BASES: dict[str, tuple[DeliveryBasis, Kind, float]] = {
    "drop": ("drop", MONEY, 100.0),
    "load": ("load", COUNT, 1.0),
    "pallet": ("pallet", COUNT, 1.0),
    "ton": ("ton", BULK_MASS, SHORT_TON),
    "tonne": ("ton", BULK_MASS, 1000.0),
    "volume": ("volume", VOLUME, 0.0),  # in the job's own unit
    "mile": ("mile", DISTANCE, MILE),
    "km": ("mile", DISTANCE, 1000.0),
    "mile beyond": ("mile beyond", DISTANCE, MILE),
    "km beyond": ("mile beyond", DISTANCE, 1000.0),
    "order value": ("order value", MONEY, 100.0),
}
_BY_AMOUNT = ("ton", "volume", "mile", "mile beyond")


def bases(system: System) -> tuple[str, ...]:
    """The words offered for the basis of a delivery fee."""
    foreign = (
        ("tonne", "km", "km beyond") if system == "imperial" else ("ton", "mile", "mile beyond")
    )
    return tuple(word for word in _BASES if word not in foreign)


def delivery(row: Row) -> None:
    """The basis decides what From, To and Fee count."""
    entry = row.take("basis", lambda cell: _basis(cell, row.notes.system))
    if entry is None:
        for name in ("start", "end", "fee"):
            row.values.pop(name, None)
            row.bad.add(name)
        return
    basis, counts, size = entry
    row.values["basis"] = basis
    size = size or counts.unit(row.notes.system).size
    for name in ("start", "end"):
        row.values[name] = row.take_measure(name, counts, size)
    by_amount = basis in _BY_AMOUNT
    fee_kind = per(MONEY, counts) if by_amount else MONEY
    row.values["fee"] = row.take_measure("fee", fee_kind, 100.0 / (size if by_amount else 1.0))
    row.not_negative("start", "end", "fee")
    start, end = row.values.get("start"), row.values.get("end")
    if start is not None and end is not None and end <= start:
        row.refuse("end", "range-upside-down")


def _basis(cell: Cell, system: System) -> tuple[DeliveryBasis, Kind, float]:
    word = _word(cell)
    if system == "metric" and key(word) == "ton":
        unit_size(word, system)  # asks which ton is meant
    return _BASES[one_of(tuple(_BASES), word)]


def product(row: Row) -> None:
    """A piece of edging has a length, a roll of geotextile an area, a tube a content."""
    kind = {"edging": LENGTH, "adhesive": TUBE_VOLUME}.get(row.values.get("kind", ""), AREA)
    size = kind.unit(row.notes.system).size
    row.values["holds"] = row.take_measure("holds", kind, size)
    row.not_negative("holds", above_zero=True)


RULES: dict[str, Callable[[Row], None]] = {
    "Quotes": quote,
    "Work": work,
    "Suppliers": supplier,
    "Bids": bid,
    "Delivery": delivery,
    "Products": product,
}
