"""The journal beside a quotes workbook: rows that the tool appends and never changes.

One row is one line of text that ends with a line break and carries a check of its own bytes.
A row is there whole or not at all: it is written in one go under a lock and pressed to the disk
before it is acknowledged. What a killed writer left unfinished has no line break or a false
check; it was never acknowledged, is not counted, and is cut off by the next writer.
"""

from __future__ import annotations

import csv
import datetime as dt
import io
import os
import zlib
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from budget.job import Notice, Place, Spend
from budget.spend.locking import locked
from budget.units import round_half_up

#: The columns of the journal; ``from`` tells a row of a bank's statement again.
COLUMNS = (
    "date", "line", "supplier", "what", "quantity", "amount", "tax", "state", "own_hours",
    "receipt", "reason", "due", "from", "check",
)  # fmt: skip
_PLACES = {name: chr(65 + i) for i, name in enumerate(COLUMNS)}
_HEADER = (",".join(COLUMNS) + "\n").encode()


@dataclass(frozen=True, slots=True)
class Recorded:
    """One entry of the journal, and the statement row that it came from, if any."""

    entry: Spend
    source: str = ""


@dataclass(frozen=True, slots=True)
class Journal:
    """What a journal holds."""

    rows: tuple[Recorded, ...] = ()
    warnings: tuple[Notice, ...] = ()

    @property
    def entries(self) -> tuple[Spend, ...]:
        """The entries alone."""
        return tuple(row.entry for row in self.rows)


def path_for(workbook: Path) -> Path:
    """The journal beside a quotes workbook.

    >>> path_for(Path("garden/patio.xlsx")).as_posix()
    'garden/patio-entries.csv'
    """
    return workbook.with_name(f"{workbook.stem}-entries.csv")


def append(path: Path, rows: Sequence[Recorded]) -> None:
    """Add rows at the end, all of them or none; when this returns they are on the disk.

    Raises ``OSError`` (a full disk, a folder that cannot be written to), the journal then being
    as it was, and ``TimeoutError`` if another writer does not finish.
    """
    if not rows:
        return
    new = not path.exists()
    handle = os.open(path, os.O_RDWR | os.O_CREAT | getattr(os, "O_BINARY", 0), 0o644)
    try:
        with locked(handle):
            _append(handle, b"".join(_line(row) for row in rows), path)
    finally:
        os.close(handle)
    if new:
        _press_folder(path.parent)


def _append(handle: int, data: bytes, path: Path) -> None:
    before = os.lseek(handle, 0, os.SEEK_END)
    whole = _whole(handle, before)
    if whole == 0:
        data = _HEADER + data
    try:
        os.ftruncate(handle, whole)
        os.lseek(handle, whole, os.SEEK_SET)
        _write(handle, data)
        os.fsync(handle)
    except OSError as error:
        os.ftruncate(handle, whole)
        raise OSError(error.errno, error.strerror, str(path)) from error


def _write(handle: int, data: bytes) -> None:
    view = memoryview(data)
    while view:
        view = view[os.write(handle, view) :]


def _whole(handle: int, size: int) -> int:
    """How many bytes from the start are whole rows."""
    reach = 4096
    while True:
        start = max(0, size - reach)
        os.lseek(handle, start, os.SEEK_SET)
        tail = _read(handle, size - start)
        cut = tail.rfind(b"\n")
        if cut >= 0 or start == 0:
            return start + cut + 1
        reach *= 2


def _read(handle: int, length: int) -> bytes:
    parts = []
    while length > 0:
        part = os.read(handle, length)
        if not part:
            break
        parts.append(part)
        length -= len(part)
    return b"".join(parts)


def _press_folder(folder: Path) -> None:
    """Press the new name to the disk where the system lets folders be opened."""
    if os.name != "posix":
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def _line(row: Recorded) -> bytes:
    entry = row.entry
    line, supplier, what, receipt = map(
        _guarded, (entry.line, entry.supplier, entry.what, entry.receipt)
    )
    values = [
        entry.date.isoformat(), line, supplier, what, _number(entry.quantity),
        _money(entry.amount), _money(entry.tax), entry.state, _number(entry.own_hours),
        receipt, entry.reason or "", entry.due.isoformat() if entry.due else "", row.source,
    ]  # fmt: skip
    values = [" ".join(value.split()) for value in values]
    return _csv([*values, _check(values)]).encode()


#: A text that begins so would become a formula where the file is opened as a sheet.
_FORMULA_SIGNS = ("=", "+", "-", "@", "'")


def _guarded(text: str) -> str:
    """A tidied text, behind an apostrophe where a spreadsheet would take it for a formula."""
    tidy = " ".join(text.split())
    return f"'{tidy}" if tidy.startswith(_FORMULA_SIGNS) else tidy


def _bare(text: str) -> str:
    """The text without the apostrophe that guards it."""
    return text[1:] if text[:1] == "'" and text[1:].startswith(_FORMULA_SIGNS) else text


def _csv(values: Iterable[str]) -> str:
    out = io.StringIO()
    csv.writer(out, lineterminator="\n").writerow(values)
    return out.getvalue()


def _check(values: Sequence[str]) -> str:
    return f"{zlib.crc32(_csv(values).encode()):08x}"


def _number(value: float | None) -> str:
    return "" if value is None else repr(float(value))


def _money(cents: float | None) -> str:
    if cents is None:
        return ""
    whole = round_half_up(cents)
    return f"{'-' if whole < 0 else ''}{abs(whole) // 100}.{abs(whole) % 100:02d}"


def read(path: Path) -> Journal:
    """The rows of a journal; an empty one if there is no such file."""
    try:
        data = path.read_bytes()
    except FileNotFoundError:
        return Journal()
    whole, _, rest = data.rpartition(b"\n")
    found: list[Recorded] = []
    warnings: list[Notice] = []
    lines = whole.decode("utf-8-sig", errors="replace").splitlines()
    for number, values in enumerate(csv.reader(lines), start=1):
        if number == 1 or not values:
            continue
        try:
            row = _row(values, path.name, number)
        except ValueError as error:
            warnings.append(_unreadable(path.name, number, str(error)))
            continue
        found.append(row)
        if len(values) != len(COLUMNS) or values[-1] != _check(values[:-1]):
            warnings.append(_changed(path.name, number))
    if rest:
        warnings.append(_unfinished(path.name, len(lines) + 1, rest))
    return Journal(tuple(found), tuple(warnings))


def _row(values: Sequence[str], sheet: str, number: int) -> Recorded:
    if len(values) < len(COLUMNS) - 2:
        msg = f"{len(values)} values where {len(COLUMNS)} belong"
        raise ValueError(msg)
    cell = dict(zip(COLUMNS, values, strict=False))
    entry = Spend(
        place=Place(sheet, number, _PLACES),
        date=dt.date.fromisoformat(cell["date"]),
        line=_bare(cell["line"]),
        supplier=_bare(cell["supplier"]),
        what=_bare(cell["what"]),
        quantity=_float(cell["quantity"]),
        amount=_cents(cell["amount"]),
        tax=_cents(cell["tax"]),
        state=cell["state"],  # type: ignore[arg-type]
        own_hours=_float(cell["own_hours"]),
        receipt=_bare(cell["receipt"]),
        reason=cell["reason"] or None,  # type: ignore[arg-type]
        due=dt.date.fromisoformat(cell["due"]) if cell["due"] else None,
    )
    _known(entry)
    return Recorded(entry, cell.get("from", ""))


def _known(entry: Spend) -> None:
    from typing import get_args

    from budget.job import ChangeReason, SpendState

    if entry.state not in get_args(SpendState):
        msg = f"the state “{entry.state}” is not known"
        raise ValueError(msg)
    if entry.reason is not None and entry.reason not in get_args(ChangeReason):
        msg = f"the reason “{entry.reason}” is not known"
        raise ValueError(msg)


def _float(text: str) -> float | None:
    return float(text) if text else None


def _cents(text: str) -> float | None:
    return float(round(float(text) * 100)) if text else None


def _warning(sheet: str, row: int, code: str, found: str, expected: str, mend: str) -> Notice:
    return Notice(sheet, row, f"{sheet}!A{row}", code, found, expected, mend, "warning")


def _unreadable(sheet: str, row: int, why: str) -> Notice:
    return _warning(
        sheet, row, "journal-unreadable", why, "a row as “budget record” writes it",
        "The row is not counted; record it again.",
    )  # fmt: skip


def _changed(sheet: str, row: int) -> Notice:
    return _warning(
        sheet, row, "journal-changed", "a row changed by hand",
        "rows that only this tool writes", "It is counted as it reads now; check it.",
    )  # fmt: skip


def _unfinished(sheet: str, row: int, rest: bytes) -> Notice:
    shown = rest.decode("utf-8", errors="replace")[:60]
    return _warning(
        sheet, row, "journal-unfinished", f"“{shown}” at the end", "whole rows",
        "The write was interrupted, so this row is not counted. Record it again.",
    )  # fmt: skip


def settled(entry: Spend) -> Spend:
    """An entry as the journal gives it back: blanks tidied, money in whole cents."""
    return replace(
        entry,
        line=" ".join(entry.line.split()), supplier=" ".join(entry.supplier.split()),
        what=" ".join(entry.what.split()), receipt=" ".join(entry.receipt.split()),
        amount=None if entry.amount is None else float(round_half_up(entry.amount)),
        tax=None if entry.tax is None else float(round_half_up(entry.tax)),
    )  # fmt: skip
