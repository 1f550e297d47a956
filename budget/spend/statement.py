"""Reading the statement of a bank or a card: a CSV file whose columns are told or recognised."""

from __future__ import annotations

import csv
import datetime as dt
import hashlib
import io
import re
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

#: Titles by which a column is recognised, in small letters.
_TITLES: Mapping[str, tuple[str, ...]] = {
    "date": ("date", "transaction date", "booking date", "posted", "posting date", "day"),
    "text": ("description", "text", "details", "payee", "name", "memo", "merchant", "purpose"),
    "amount": ("amount", "value", "sum"),
    "out": ("debit", "paid out", "withdrawal", "withdrawals", "money out", "out"),
    "into": ("credit", "paid in", "deposit", "deposits", "money in", "in"),
}


class StatementError(Exception):
    """A statement that cannot be read; ``str`` says which column to name."""


@dataclass(frozen=True, slots=True)
class Columns:
    """Titles of columns that a person told; blank ones are recognised."""

    date: str = ""
    text: str = ""
    amount: str = ""
    day_first: bool | None = None  # for dates such as 03/04/2026; None: only if it is clear
    spent_positive: bool = False  # amounts above zero are money spent


@dataclass(frozen=True, slots=True)
class Booked:
    """One row of a statement. ``cents`` above zero went out, below zero came in."""

    row: int
    date: dt.date
    text: str
    cents: int
    source: str  # tells the row again when the statement is read once more


#: How workbooks (.xlsx, .xls) and PDF files begin.
_NOT_TEXT = (b"PK\x03\x04", b"\xd0\xcf\x11\xe0", b"%PDF-")


def read(path: Path, columns: Columns) -> tuple[Booked, ...]:
    """The rows of a statement in its order; rows without money are left out, and sums.

    A row whose date is blank or has no digit is a sum (:func:`sums`), not something booked.
    Raises :class:`StatementError` where a column is not recognised or a value cannot be read,
    and ``OSError`` if the file cannot be opened.
    """
    body, found = _body(path, columns)
    body = [(n, row) for n, row in body if not _is_sum(row, found)]
    day_first = _day_first([_cell(row, found["date"]) for _, row in body], columns.day_first)
    seen: Counter[tuple[dt.date, str, int]] = Counter()
    result = []
    for number, row in body:
        cents = _money(row, found, number, columns.spent_positive)
        if not cents:
            continue
        day = _date(_cell(row, found["date"]), day_first, number)
        words = " ".join(_cell(row, found["text"]).split())
        seen[day, words, cents] += 1
        mark = f"{day}|{words}|{cents}|{seen[day, words, cents]}"
        source = "statement:" + hashlib.sha256(mark.encode()).hexdigest()[:16]
        result.append(Booked(number, day, words, cents, source))
    return tuple(result)


def sums(path: Path, columns: Columns) -> tuple[int, ...]:
    """The numbers of the rows of a statement that are left out because they have no date."""
    body, found = _body(path, columns)
    return tuple(n for n, row in body if _is_sum(row, found))


def _is_sum(row: Sequence[str], found: Mapping[str, int]) -> bool:
    money = any(_cell(row, found[name]) for name in ("amount", "out", "into"))
    return money and not re.search(r"\d", _cell(row, found["date"]))


def _body(path: Path, columns: Columns) -> tuple[list[tuple[int, list[str]]], dict[str, int]]:
    """The rows beneath the titles that hold anything, with their numbers, and the columns."""
    content = path.read_bytes()
    text = content.decode("utf-8-sig", errors="replace")
    try:
        rows = list(csv.reader(io.StringIO(text, newline=""), delimiter=_delimiter(text)))
    except csv.Error as error:
        raise _no_csv(path) from error
    if content.startswith(_NOT_TEXT):
        raise _no_csv(path)
    head, found = _columns(rows, columns)
    body = [(n, row) for n, row in enumerate(rows, start=1) if n > head + 1 and any(row)]
    return body, found


def _no_csv(path: Path) -> StatementError:
    return StatementError(
        f"{path} is not a statement in plain text. Download it from the bank as CSV, or save the "
        "sheet as CSV, and try that file."
    )


def _delimiter(text: str) -> str:
    first = [line for line in text.splitlines() if line.strip()][:5]
    counts = {mark: min((line.count(mark) for line in first), default=0) for mark in ",;\t"}
    return max(counts, key=lambda mark: (counts[mark], mark == ","))


def _columns(rows: Sequence[Sequence[str]], told: Columns) -> tuple[int, dict[str, int]]:
    """The row of titles (from 0) and the column of each thing."""
    for number, row in enumerate(rows[:30]):
        titles = [" ".join(title.casefold().split()) for title in row]
        found = {name: _column(titles, name, getattr(told, name, "")) for name in _TITLES}
        money = found["amount"] >= 0 or (found["out"] >= 0 and not told.amount)
        if found["date"] >= 0 and found["text"] >= 0 and money:
            return number, found
    _check_told(rows, told)
    wanted = "a date, a text and an amount (or debit and credit)"
    msg = (
        f"No row of titles with {wanted} was found. Name the columns with --date-column, "
        "--text-column and --amount-column."
    )
    raise StatementError(msg)


def _check_told(rows: Sequence[Sequence[str]], told: Columns) -> None:
    """Name a title that was told and that no row has."""
    seen = {" ".join(title.casefold().split()) for row in rows[:30] for title in row}
    for title in (told.date, told.text, told.amount):
        if title and " ".join(title.casefold().split()) not in seen:
            first = next((row for row in rows if any(row)), [])
            msg = f"There is no column “{title}”; the first row has: {', '.join(first)}."
            raise StatementError(msg)


def _column(titles: Sequence[str], name: str, told: str) -> int:
    if told:
        wanted = " ".join(told.casefold().split())
        return titles.index(wanted) if wanted in titles else -1
    for title in _TITLES[name]:
        for i, seen in enumerate(titles):
            if seen == title or re.sub(r"\s*\(.*\)$", "", seen) == title:
                return i
    return -1


def _cell(row: Sequence[str], column: int) -> str:
    return row[column].strip() if 0 <= column < len(row) else ""


def _money(row: Sequence[str], found: Mapping[str, int], number: int, spent_positive: bool) -> int:
    if found["amount"] >= 0:
        cents = cents_of(_cell(row, found["amount"]), number)
        return cents if spent_positive else -cents
    out = abs(cents_of(_cell(row, found["out"]), number))
    return out - abs(cents_of(_cell(row, found["into"]), number))


def cents_of(text: str, row: int = 0) -> int:
    """An amount as banks write it, in cents; blank is nothing.

    >>> [cents_of(t) for t in ("-1,234.50", "1.234,50", "(12.00)", "$ 7", "12,5", "1 234,00-")]
    [-123450, 123450, -1200, 700, 1250, -123400]
    """
    kept = re.sub(r"[^\d,.()-]", "", text)
    if not kept:
        return 0
    negative = kept.startswith(("-", "(")) or kept.endswith("-")
    digits = kept.strip("()-")
    mark = max(digits.rfind(","), digits.rfind("."))
    cents = digits[mark + 1 :] if mark >= 0 and len(digits) - mark <= 3 else ""
    whole = digits[:mark] if cents or mark == len(digits) - 1 else digits
    whole = re.sub(r"[,.]", "", whole) or "0"
    if not whole.isdigit() or not (cents or "0").isdigit():
        msg = f"Row {row}: “{text}” is not an amount."
        raise StatementError(msg)
    value = int(whole) * 100 + int((cents or "0").ljust(2, "0"))
    return -value if negative else value


_PARTS = re.compile(r"(\d{1,4})[./-](\d{1,2})[./-](\d{1,4})(?:[ T].*)?")


def _day_first(texts: Sequence[str], told: bool | None) -> bool | None:
    """Whether days stand before months: as told, or as some date of the file shows."""
    if told is not None:
        return told
    for text in texts:
        match = _PARTS.fullmatch(text)
        if match and len(match[1]) < 4:
            if int(match[1]) > 12:
                return True
            if int(match[2]) > 12:
                return False
    return None


def _date(text: str, day_first: bool | None, row: int) -> dt.date:
    match = _PARTS.fullmatch(text)
    if not match:
        msg = f"Row {row}: “{text}” is not a date."
        raise StatementError(msg)
    a, b, c = (int(part) for part in match.groups()[:3])
    try:
        if len(match[1]) == 4:
            return dt.date(a, b, c)
        year = c + 2000 if c < 100 else c
        if day_first is None and a != b:
            msg = (
                f"Row {row}: is “{text}” month first or day first? Say --day-first or "
                "--month-first."
            )
            raise StatementError(msg)
        return dt.date(year, b, a) if day_first else dt.date(year, a, b)
    except ValueError as error:
        msg = f"Row {row}: “{text}” is not a date."
        raise StatementError(msg) from error
