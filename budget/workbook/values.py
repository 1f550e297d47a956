"""From one cell to one value: SI, cents, a ratio, a date, a word. Never a guess."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Callable
from dataclasses import replace
from functools import lru_cache
from typing import Any

from budget.typed_dates import as_date, meant
from budget.units import HOURS, MONEY, NUMBER, Kind, System
from budget.workbook.letters import in_latin
from budget.workbook.measures import UnreadableError, number, parse, unit_size
from budget.workbook.problems import nearest
from budget.workbook.sheets.describe import Column, Value, key
from budget.workbook.table import Cell, Notes

#: Signs of currencies and the ISO 4217 codes they may stand for.
_CURRENCY_SIGNS = {
    "$": ("USD", "CAD", "AUD", "NZD", "SGD", "HKD", "MXN"),
    "€": ("EUR",),
    "£": ("GBP",),
    "¥": ("JPY", "CNY"),
}
_CURRENCY_CODES = (
    "USD", "CAD", "AUD", "NZD", "SGD", "HKD", "MXN", "EUR", "GBP", "JPY", "CNY", "CHF", "SEK",
    "NOK", "DKK", "PLN", "CZK", "HUF", "RON", "BGN", "ISK", "ZAR", "INR", "BRL",
)  # fmt: skip


class RefusedError(Exception):
    """A cell that cannot be read: the code of the problem and the words for it."""

    def __init__(self, code: str, **words: str) -> None:
        """``words`` fill the texts of the catalogue."""
        super().__init__(code)
        self.code = code
        self.words = words


def read_cell(column: Column, cell: Cell, notes: Notes) -> Any:
    """The value of a filled cell, or ``None`` with a problem noted.

    Lengths and so on are SI, money is cents, shares are ratios.
    """
    try:
        return value_of(column, _latin(cell, notes), notes)
    except RefusedError as refused:
        report = notes.once if refused.code == "header-unit" else notes.at
        report(cell, refused.code, **refused.words)
        return None


def _latin(cell: Cell, notes: Notes) -> Cell:
    """The cell with look-alike letters of other alphabets made Latin, which is told."""
    if cell.seen.kind != "text":
        return cell
    plain = in_latin(str(cell.seen.value))
    if plain == cell.seen.value:
        return cell
    notes.at(cell, "look-alike", plain=plain)
    return replace(cell, seen=replace(cell.seen, value=plain))


def value_of(column: Column, cell: Cell, notes: Notes) -> Any:
    """As :func:`read_cell`, raising :class:`RefusedError` instead of noting."""
    if cell.seen.kind == "error":
        raise RefusedError("cell-error", title=column.title)
    if cell.seen.kind == "uncalculated":
        raise RefusedError("formula-not-calculated")
    if cell.seen.kind == "text" and str(cell.seen.value).startswith("="):
        raise RefusedError("formula-as-text")
    return _READERS[column.value](column, cell, notes)


def _text(column: Column, cell: Cell, notes: Notes) -> str:
    seen = cell.seen
    if seen.kind == "number":
        return f"{seen.value:.15g}"
    if seen.kind == "flag":
        return "yes" if seen.value else "no"
    if seen.kind == "date":
        return str(seen.value.isoformat())
    return str(seen.value)


def _choice(column: Column, cell: Cell, notes: Notes) -> str:
    return one_of(column.options(), _text(column, cell, notes))


def one_of(options: tuple[str, ...], text: str) -> str:
    """The option that a text names, in any case and spacing."""
    for option in options:
        if key(option) == key(text):
            return option
    hint = nearest(text, options) or "Pick one of the list."
    raise RefusedError("not-a-choice", choices=", ".join(options), near=hint)


def _flag(column: Column, cell: Cell, notes: Notes) -> bool:
    no, yes = column.options()
    if cell.seen.kind == "flag" and not column.choices:
        return bool(cell.seen.value)
    text = _text(column, cell, notes)
    short = {"y": "yes", "true": "yes", "n": "no", "false": "no"}
    return one_of((no, yes), short.get(text.casefold(), text)) == yes


def _date(column: Column, cell: Cell, notes: Notes) -> dt.date:
    if cell.seen.kind == "date":
        return cell.seen.value  # type: ignore[no-any-return]
    text = str(cell.seen.value) if cell.seen.kind == "text" else ""
    day = as_date(text)
    if day is None:
        raise RefusedError("not-a-date", ways=_ways(text))
    return day


def _ways(text: str) -> str:
    """How to type a date that was not read."""
    days = [day.isoformat() for day in meant(text)]
    if not days:
        return "it so"
    return f"{' or '.join(days)}, {'if that' if len(days) == 1 else 'whichever'} is meant"


def _list(column: Column, cell: Cell, notes: Notes) -> tuple[str, ...]:
    options = column.options()
    parts = re.split(r"[,;+\n]| and ", _text(column, cell, notes))
    names = [part.strip() for part in parts if part.strip()]
    if [key(n) for n in names] == ["all"]:
        return options
    named = {one_of((*options, "all"), _in_full(options, name)) for name in names}
    return tuple(option for option in options if option in named)


def _in_full(options: tuple[str, ...], name: str) -> str:
    """The one option that begins with three letters or more of a name, such as ``Sat``."""
    short = key(name)
    found = [option for option in options if len(short) > 2 and key(option).startswith(short)]
    return found[0] if len(found) == 1 else name


def _bare(column: Column, cell: Cell, system: System) -> float:
    """A number without a unit, or a text that is one."""
    return measured(column, cell, NUMBER, system, 1.0)


def _whole(column: Column, cell: Cell, notes: Notes) -> int:
    value = _bare(column, cell, notes.system)
    if value != int(value):
        raise RefusedError("not-whole")
    return int(_signed(column, value))


def _number(column: Column, cell: Cell, notes: Notes) -> float:
    return _signed(column, _bare(column, cell, notes.system))


def _signed(column: Column, value: float) -> float:
    if column.sign == "positive" and value <= 0:
        raise RefusedError("not-positive", title=column.title)
    if column.sign == "not negative" and value < 0:
        raise RefusedError("negative", title=column.title)
    return value


def _measure(column: Column, cell: Cell, notes: Notes) -> float:
    kind = column.kind or NUMBER
    size = header_size(column, cell, kind, notes.system)
    return _signed(column, pace(column, cell, kind, notes.system, size))


def pace(column: Column, cell: Cell, kind: Kind, system: System, size: float) -> float:
    """As :func:`measured`; a time alone in a column of hours per something is per that unit."""
    seen = cell.seen
    rate = kind.name.startswith(f"{HOURS.name} per ")
    if rate and seen.kind == "text" and not re.search(r"/|\bper\b", str(seen.value)):
        return measured(column, cell, HOURS, system, 1.0) * size
    return measured(column, cell, kind, system, size)


def header_size(column: Column, cell: Cell, kind: Kind, system: System) -> float:
    """The SI size of the unit that the header names (the job's own unit if it names none)."""
    if not cell.unit:
        return kind.unit(system).size
    if key(cell.unit) == key(kind.unit(system).label):
        return kind.unit(system).size
    title = f"{column.title} ({kind.unit(system).label})"
    try:
        size, dimension = unit_size(cell.unit, system)
    except UnreadableError as error:
        raise RefusedError("header-unit", kind=kind.name, title=title) from error
    if dimension != kind.dimension:
        raise RefusedError("header-unit", kind=kind.name, title=title)
    return size


def measured(column: Column, cell: Cell, kind: Kind, system: System, size: float) -> float:
    """A number in a unit of ``size``, or a text with a unit of its own."""
    seen = cell.seen
    if seen.kind == "number" and not seen.percent:
        return float(seen.value) * size
    if seen.kind == "date":
        raise RefusedError("became-a-date", title=column.title)
    if seen.kind == "time":
        if kind.dimension == HOURS.dimension:
            return float(seen.value)
        raise RefusedError("became-a-date", title=column.title)
    if seen.kind == "text":
        try:
            return parse(str(seen.value), kind, system, size)
        except UnreadableError as error:
            code = "unit-unclear" if error.unclear else "not-a-measure"
            raise RefusedError(code, expected=error.expected, mend=error.mend) from error
    expected = f"{column.title}, a number"
    raise RefusedError("not-a-measure", expected=expected, mend="Type a number.")


def _money(column: Column, cell: Cell, notes: Notes) -> float:
    kind = column.kind or MONEY
    unit = money_unit(cell.unit, notes)
    size = kind.unit(notes.system).size
    if "/" in unit or "per " in unit:
        clean = Cell(cell.seen, cell.sheet, cell.row, cell.letter, unit)
        try:
            below, dimension = unit_size(unit, notes.system)
        except UnreadableError as error:
            raise RefusedError("header-unit", kind=kind.name, title=column.title) from error
        if (*dimension[:3], 1) != kind.dimension:
            raise RefusedError("header-unit", kind=kind.name, title=column.title)
        size = MONEY.imperial.size * below
        cell = clean
    return _signed(column, money(column, cell, kind, notes, size))


def money_unit(unit: str, notes: Notes) -> str:
    """The unit in a money header without its currency: ``per mi`` of ``USD per mi``."""
    rest, _ = _without_currency(unit, notes.currency)
    return rest


def money(column: Column, cell: Cell, kind: Kind, notes: Notes, size: float) -> float:
    """Cents (per SI unit), from a number or a text with or without its currency."""
    seen = cell.seen
    if seen.kind == "text":
        rest, currency = _without_currency(str(seen.value), notes.currency)
        if currency and currency != notes.currency:
            raise RefusedError("other-currency", currency=notes.currency)
        seen = type(seen)(rest, "text")
    plain = Cell(seen, cell.sheet, cell.row, cell.letter)
    try:
        value = measured(column, plain, kind, notes.system, size)
    except RefusedError as error:
        if error.code != "not-a-measure":
            raise
        words = {"expected": "an amount of money", "mend": "Type the amount alone, such as 12.50."}
        raise RefusedError(error.code, **words) from error
    return round(value, 6) if kind is MONEY else value


@lru_cache(maxsize=4096)
def _without_currency(text: str, own: str) -> tuple[str, str]:
    """A text without its currency, and that currency (blank if it names none)."""
    for sign, codes in _CURRENCY_SIGNS.items():
        if sign in text:
            return text.replace(sign, " ").strip(), own if own in codes else codes[0]
    for code in (own, *_CURRENCY_CODES):
        pattern = rf"(?i)(?<![a-z]){re.escape(code)}(?![a-z])"
        if code and re.search(pattern, text):
            return re.sub(pattern, " ", text).strip(), code
    return text, ""


def currency_of(unit: str, own: str) -> str:
    """The currency that a header's unit names, blank if it names none."""
    return _without_currency(unit, own)[1]


def _share(column: Column, cell: Cell, notes: Notes) -> float:
    seen = cell.seen
    if seen.kind == "number" and seen.percent:
        ratio = float(seen.value)
    elif seen.kind == "text" and ("%" in str(seen.value) or "percent" in str(seen.value)):
        return _share_of_text(column, str(seen.value), notes.system)
    else:
        return _unmarked_share(column, cell, notes)
    return _within(column, ratio)


def _within(column: Column, ratio: float) -> float:
    """A ratio that is said to be a percentage, neither negative nor too large."""
    if ratio < 0:
        raise RefusedError("negative", title=column.title)
    if column.most is not None and ratio > column.most:
        most = f"{column.most * 100:g} %"
        raise RefusedError("share-too-large", title=column.title, most=most)
    return ratio


def _share_of_text(column: Column, text: str, system: System) -> float:
    try:
        ratio = number(re.sub(r"%|per ?cent", "", text), system) / 100
    except UnreadableError as error:
        raise RefusedError("not-a-measure", expected=error.expected, mend=error.mend) from error
    return _within(column, ratio)


def _unmarked_share(column: Column, cell: Cell, notes: Notes) -> float:
    """A share without a % sign: 7 is 7 %, and so is 0.07 where 0.07 % makes no sense."""
    value = _bare(column, cell, notes.system)
    if value == 0:
        return 0.0
    low, high = column.likely
    as_percent, as_ratio = low <= value / 100 <= high, low <= value <= high
    if as_percent == as_ratio:
        raise RefusedError("share-unclear")
    ratio = value / 100 if as_percent else value
    if as_ratio and value != 1:
        notes.at(cell, "share-read-as", percent=f"{ratio * 100:.6g}")
    return ratio


def _raw(column: Column, cell: Cell, notes: Notes) -> Cell:
    if cell.seen.kind in ("date", "time"):
        raise RefusedError("became-a-date", title=column.title)
    return cell


_READERS: dict[Value, Callable[[Column, Cell, Notes], Any]] = {
    "text": _text,
    "choice": _choice,
    "flag": _flag,
    "date": _date,
    "whole": _whole,
    "number": _number,
    "money": _money,
    "share": _share,
    "measure": _measure,
    "list": _list,
    "raw": _raw,
}
