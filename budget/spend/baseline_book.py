"""The baseline workbook: one sheet to read and print for each accepted plan, newest first.

A sheet is laid out as titled tables. Reading finds each table by its title, so that a sheet is
read back exactly: cents as numbers with two decimals, hours and amounts with every digit.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Iterator, Sequence
from itertools import groupby
from pathlib import Path
from typing import Any

from budget.spend.baseline import Baseline, PlannedDays, PlannedLine, PlannedOrder, PlannedStep
from budget.spend.baseline_sheet import Titled, fill, in_our_font
from budget.units import System
from budget.whole_file import whole_bytes

_HEAD = "Accepted plan"
_LINES = "Money and own hours, line by line"
_STEPS = "Amounts of work"
_DAYS = "Days of work"
_ORDERS = "Days of ordering"
_CHOICES = "Choices"
_FIRM, _GOODS = "firm", "goods"
_UNPRICED = "Not yet priced when accepted"
_TITLES = {
    _LINES: ("Line", "Part", "Group", "Cash", "Own hours", "Seller or firm", "Quantity", "Packs",
             "Per", "Choice"),
    _STEPS: ("Step", "Part", "Amount", "Unit"),
    _DAYS: ("Step", "From", "To", "Days"),
    _ORDERS: ("Seller or firm", "Order by", "First used", "Days ahead", "Kind"),
    _CHOICES: ("Choice", "Value"),
    _UNPRICED: ("Cost",),
}  # fmt: skip
#: What stands below the title of a table without rows.
_NOTHING = {
    _LINES: "The plan has no lines.",
    _STEPS: "The plan has no work by measure.",
    _DAYS: "No days are planned.",
    _ORDERS: "Nothing is to be ordered.",
    _CHOICES: "Nothing was to be chosen.",
    _UNPRICED: "Nothing: every cost of the plan had a price.",
}
_BACK = "Comes back for unopened packs"


class BaselineError(Exception):
    """A baseline file that cannot be read back; ``str`` says what to do."""


def path_for(workbook: Path) -> Path:
    """The baseline beside a quotes workbook.

    >>> path_for(Path("garden/patio.xlsx")).as_posix()
    'garden/patio-baseline.xlsx'
    """
    return workbook.with_name(f"{workbook.stem}-baseline.xlsx")


def write(baselines: Sequence[Baseline], path: Path, system: System = "imperial") -> None:
    """Write every baseline for paper of a unit system, whole or not at all.

    Raises ``OSError`` if the file cannot be written.
    """
    import openpyxl

    book = openpyxl.Workbook()
    book.remove(book.worksheets[0])
    in_our_font(book)
    for baseline in sorted(baselines, key=lambda b: -b.number):
        page = book.create_sheet(f"Plan {baseline.number}")
        fill(page, list(_tables_of(baseline)), system)
    with whole_bytes(path) as buffer:
        book.save(buffer)


def read(path: Path) -> tuple[Baseline, ...]:
    """Every baseline of a file by number; none if there is no such file.

    Raises :class:`BaselineError` where the file is damaged or was changed by hand.
    """
    if not path.exists():
        return ()
    import openpyxl

    try:
        book = openpyxl.load_workbook(path)
        found = [_baseline(list(page.iter_rows(values_only=True))) for page in book.worksheets]
    except Exception as error:  # any damage to the file shows up as one of many exceptions
        msg = (
            f"{path} cannot be read back ({type(error).__name__}: {error}). Put a saved copy in "
            "its place, or move it away and run “budget accept” again."
        )
        raise BaselineError(msg) from error
    return tuple(sorted(found, key=lambda b: b.number))


def _tables_of(b: Baseline) -> Iterator[Titled]:
    """What a sheet shows, the lines last: they may be longer than a page."""
    yield Titled(_HEAD, (), tuple(_head(b)))
    yield _table(_UNPRICED, ((what,) for what in b.unpriced))
    if b.days:
        yield _table(_DAYS, (row for step in b.days for row in _spells(step)))
    if b.orders:
        yield _table(_ORDERS, map(_order_row, b.orders))
    yield _table(_CHOICES, b.choices.items())
    yield _table(_STEPS, ((s.step, s.part, s.amount, s.unit) for s in b.steps))
    lines = (
        (line.line, line.part, line.group, line.cash / 100, line.own_hours, line.supplier,
         line.quantity, line.packs, line.per, line.choice)
        for line in b.lines
    )  # fmt: skip
    yield _table(_LINES, lines)


def _head(b: Baseline) -> Iterator[tuple[Any, ...]]:
    yield from (
        ("Number", b.number),
        ("Accepted on", b.accepted),
        ("Reason", b.reason),
        ("Differs because", b.because),
        ("Scenario", b.scenario),
        ("Currency", b.currency),
        ("Value of an own hour", b.hour_value / 100),
        ("Spending limit", None if b.limit is None else b.limit / 100),
        ("Start", b.start),
        ("Finish planned", b.finish),
        ("Cash in all", b.cash / 100),
    )
    if b.comes_back:
        yield (_BACK, b.comes_back / 100)
        yield ("Cash once that is back", (b.cash - b.comes_back) / 100)
    yield ("Own hours in all", b.own_hours)


def _table(title: str, rows: Iterable[Sequence[Any]]) -> Titled:
    return Titled(title, _TITLES[title], tuple(tuple(row) for row in rows), _NOTHING[title])


def _baseline(rows: Sequence[Sequence[Any]]) -> Baseline:
    tables = _tables(rows)
    head = {str(row[0]): row[1] for row in tables[_HEAD]}
    limit = head["Spending limit"]
    return Baseline(
        number=int(head["Number"]),
        accepted=_day(head["Accepted on"]) or dt.date.min,
        reason=_text(head["Reason"]),
        because=head["Differs because"],
        scenario=_text(head["Scenario"]),
        currency=_text(head["Currency"]),
        hour_value=round(float(head["Value of an own hour"]) * 100, 6),
        limit=None if limit is None else round(limit * 100),
        start=_day(head["Start"]),
        finish=_day(head["Finish planned"]),
        lines=tuple(_line(row) for row in tables[_LINES]),
        steps=tuple(
            PlannedStep(_text(r[0]), _text(r[1]), float(r[2]), _text(r[3])) for r in tables[_STEPS]
        ),
        choices={_text(row[0]): _text(row[1]) for row in tables[_CHOICES]},
        unpriced=tuple(_text(row[0]) for row in tables[_UNPRICED]),
        days=tuple(_days(tables.get(_DAYS, ()))),
        orders=tuple(_order(row) for row in tables.get(_ORDERS, ())),
        comes_back=round(head.get(_BACK, 0) * 100),
    )


def _tables(rows: Sequence[Sequence[Any]]) -> dict[str, list[Sequence[Any]]]:
    """The rows of each table: from below its headings to the next blank row.

    Where a table has no rows, words stand in place of its headings. On paper the headings stand
    again where a page begins.
    """
    found: dict[str, list[Sequence[Any]]] = {}
    current: list[Sequence[Any]] | None = None
    headings: tuple[str, ...] | None = None
    after_blank = True
    for row in rows:
        if all(value is None for value in row):
            current, after_blank = None, True
        elif after_blank:
            title = str(row[0])
            current, headings = found.setdefault(title, []), _TITLES.get(title, ())
            skip, after_blank = bool(headings), False
        elif skip:
            skip = False
        elif current is not None and (not headings or tuple(row[: len(headings)]) != headings):
            current.append(row)
    return found


def _line(row: Sequence[Any]) -> PlannedLine:
    return PlannedLine(
        line=_text(row[0]), part=_text(row[1]), group=_text(row[2]), cash=round(row[3] * 100),
        own_hours=float(row[4]), supplier=_text(row[5]), quantity=_text(row[6]),
        packs=None if row[7] is None else float(row[7]), per=_text(row[8]), choice=_text(row[9]),
    )  # fmt: skip


def _spells(step: PlannedDays) -> Iterator[tuple[Any, ...]]:
    """The days of a step, those that follow one another in one row."""
    for _, run in groupby(enumerate(step.days), lambda pair: pair[1].toordinal() - pair[0]):
        days = [day for _, day in run]
        yield (step.step, days[0], days[-1], len(days))


def _days(rows: Sequence[Sequence[Any]]) -> Iterator[PlannedDays]:
    """The days of each step; an older file has them in one text, of ISO dates."""
    found: dict[str, list[dt.date]] = {}
    for row in rows:
        days = found.setdefault(_text(row[0]), [])
        first = _day(row[1])
        if isinstance(row[3], str):
            days += map(dt.date.fromisoformat, row[3].split(", "))
        elif first is not None:
            days += (first + dt.timedelta(days=n) for n in range(int(row[3])))
    return (PlannedDays(step, tuple(days)) for step, days in found.items())


def _order_row(order: PlannedOrder) -> tuple[Any, ...]:
    kind = _FIRM if order.hired else _GOODS
    return (order.who, order.order, order.needed, order.ahead, kind)


def _order(row: Sequence[Any]) -> PlannedOrder:
    order, needed = (_day(value) or dt.date.min for value in row[1:3])
    return PlannedOrder(_text(row[0]), order, needed, int(row[3]), row[4] == _FIRM)


def _text(value: Any) -> str:
    return "" if value is None else str(value)


def _day(value: Any) -> dt.date | None:
    return value.date() if isinstance(value, dt.datetime) else value
