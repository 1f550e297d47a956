"""The baseline workbook: one sheet to read and print for each accepted plan, newest first.

A sheet is laid out as titled tables. Reading finds each table by its title, so that a sheet is
read back exactly: cents as numbers with two decimals, hours and amounts with every digit.
"""

from __future__ import annotations

import datetime as dt
import math
from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path
from typing import Any

from budget.numerals import cell_date
from budget.spend.baseline import Baseline, PlannedDays, PlannedLine, PlannedOrder, PlannedStep
from budget.whole_file import whole_file

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
    _DAYS: ("Step", "First day", "Last day", "Days"),
    _ORDERS: ("Seller or firm", "Order by", "First used", "Days reckoned with", "Kind"),
    _CHOICES: ("Choice", "Value"),
    _UNPRICED: ("Cost",),
}  # fmt: skip
_WIDTHS = (32, 16, 18, 12, 12, 22, 18, 10, 10, 28)
#: Headings over numbers; so many points a line of words takes.
_NUMBERS = frozenset(("Cash", "Own hours", "Packs", "Amount"))
_LINE = 13.5


class BaselineError(Exception):
    """A baseline file that cannot be read back; ``str`` says what to do."""


def path_for(workbook: Path) -> Path:
    """The baseline beside a quotes workbook.

    >>> path_for(Path("garden/patio.xlsx")).as_posix()
    'garden/patio-baseline.xlsx'
    """
    return workbook.with_name(f"{workbook.stem}-baseline.xlsx")


def write(baselines: Sequence[Baseline], path: Path) -> None:
    """Write every baseline, whole or not at all. Raises ``OSError`` if it cannot be written."""
    import openpyxl

    book = openpyxl.Workbook()
    book.remove(book.worksheets[0])
    for baseline in sorted(baselines, key=lambda b: -b.number):
        _sheet(book.create_sheet(f"Plan {baseline.number}"), baseline)
    with whole_file(path) as scratch:
        book.save(scratch)


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


def _sheet(page: Any, baseline: Baseline) -> None:
    from openpyxl.worksheet.page import PageMargins

    for row in _rows(baseline):
        page.append([_safe(value) for value in row])
        cells = page[page.max_row]
        for cell in cells:
            _look(cell, row)
        if len(row) == len(_TITLES[_LINES]):  # the words of a shorter row run over blank cells
            page.row_dimensions[page.max_row].height = _LINE * max(map(_wrapped, cells))
    for column, width in enumerate(_WIDTHS):
        page.column_dimensions[chr(65 + column)].width = width
    page.page_setup.orientation = "landscape"
    page.page_setup.fitToWidth, page.page_setup.fitToHeight = 1, 0
    page.sheet_properties.pageSetUpPr.fitToPage = True
    page.page_margins = PageMargins(left=0.5, right=0.5, top=0.6, bottom=0.7)
    page.oddFooter.left.text, page.oddFooter.right.text = "&A", "Page &P of &N"


def _wrapped(cell: Any) -> int:
    """How many lines the words of a cell take, counted generously."""
    words = cell.value if isinstance(cell.value, str) else ""
    return math.ceil(1.1 * len(words) / _WIDTHS[cell.column - 1]) or 1


def _look(cell: Any, row: Sequence[Any]) -> None:
    """How one cell of a row looks: numbers to the right but off the edge, words to the left."""
    from openpyxl.styles import Alignment, Border, Font, PatternFill, Side

    value = cell.value
    heading, title = row in _TITLES.values(), row[0] in (_HEAD, *_TITLES) and len(row) == 1
    number = isinstance(value, (int, float)) or (heading and value in _NUMBERS)
    cell.font = Font(name="Arial", size=12 if title else 10, bold=title or heading)
    cell.alignment = Alignment(
        horizontal="right" if number else "left", vertical="top",
        indent=0 if number else int(cell.column > 1),
        wrap_text=len(row) == len(_TITLES[_LINES]),
    )  # fmt: skip
    if heading:
        cell.fill = PatternFill("solid", fgColor="FFE4EAED")
        cell.border = Border(bottom=Side("medium"))
    if isinstance(value, str) and value.startswith("="):
        cell.data_type = "s"
    if isinstance(value, dt.date):
        cell.number_format = cell_date()
    elif isinstance(value, (int, float)):  # a digit's width off the edge
        money = cell.column in (2, 4) and isinstance(value, float)
        cell.number_format = f"{'#,##0.00' if money else '0.0##' if value % 1 else '0'}_0"


def _safe(value: Any) -> Any:
    """A text without characters that a workbook cannot hold."""
    if not isinstance(value, str):
        return value
    return "".join(c for c in value if c >= " " or c in "\t\n")


def _rows(b: Baseline) -> Iterator[tuple[Any, ...]]:
    yield (_HEAD,)
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
        ("Own hours in all", b.own_hours),
    )
    lines = (
        (line.line, line.part, line.group, line.cash / 100, line.own_hours, line.supplier,
         line.quantity, line.packs, line.per, line.choice)
        for line in b.lines
    )  # fmt: skip
    steps = ((s.step, s.part, s.amount, s.unit) for s in b.steps)
    yield from _table(_LINES, lines)
    yield from _table(_STEPS, steps)
    if b.days:
        yield from _table(_DAYS, map(_day_row, b.days))
    if b.orders:
        yield from _table(_ORDERS, map(_order_row, b.orders))
    yield from _table(_CHOICES, b.choices.items())
    yield from _table(_UNPRICED, ((what,) for what in b.unpriced))


def _table(title: str, rows: Iterable[Sequence[Any]]) -> Iterator[tuple[Any, ...]]:
    yield (None,)
    yield (title,)
    yield _TITLES[title]
    yield from (tuple(row) for row in rows)


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
        days=tuple(_days(row) for row in tables.get(_DAYS, ())),
        orders=tuple(_order(row) for row in tables.get(_ORDERS, ())),
    )


def _tables(rows: Sequence[Sequence[Any]]) -> dict[str, list[Sequence[Any]]]:
    """The rows of each table: from below its titles to the next blank row."""
    found: dict[str, list[Sequence[Any]]] = {}
    current: list[Sequence[Any]] | None = None
    skip = 0
    after_blank = True
    for row in rows:
        if all(value is None for value in row):
            current, after_blank = None, True
        elif after_blank:
            current = found.setdefault(str(row[0]), [])
            skip, after_blank = (1 if str(row[0]) in _TITLES else 0), False
        elif skip:
            skip -= 1
        elif current is not None:
            current.append(row)
    return found


def _line(row: Sequence[Any]) -> PlannedLine:
    return PlannedLine(
        line=_text(row[0]), part=_text(row[1]), group=_text(row[2]), cash=round(row[3] * 100),
        own_hours=float(row[4]), supplier=_text(row[5]), quantity=_text(row[6]),
        packs=None if row[7] is None else float(row[7]), per=_text(row[8]), choice=_text(row[9]),
    )  # fmt: skip


def _day_row(step: PlannedDays) -> tuple[Any, ...]:
    days = ", ".join(day.isoformat() for day in step.days)
    return (step.step, step.days[0], step.days[-1], days)


def _days(row: Sequence[Any]) -> PlannedDays:
    days = tuple(dt.date.fromisoformat(day) for day in _text(row[3]).split(", "))
    return PlannedDays(_text(row[0]), days)


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
