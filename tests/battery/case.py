"""One broken workbook: the damage, and what reading it must end in, written down beforehand."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field, fields
from functools import cache
from pathlib import Path
from typing import Any

from budget.job import Job, Notice, Place
from budget.workbook import WorkbookError, read
from budget.workbook.sheets.tabs import SHEETS
from tests.battery.package import Book, Damage, demo

Values = dict[str, Any]


@dataclass(frozen=True)
class Case:
    """A kind of damage to a demo, and its one right outcome.

    ``problems`` and ``warnings`` are ``code@Sheet!A1``; warnings are those that the demo itself
    has not, ``gone`` those that it has and the damaged one has not. ``changes`` are the values of
    the job that differ from the demo's, by path; every other value must be the demo's own.
    ``refused`` is a part of the sentence if the file as a whole is refused.
    """

    kind: str
    title: str
    base: str
    damage: Damage | None = None
    problems: frozenset[str] = frozenset()
    warnings: frozenset[str] = frozenset()
    gone: frozenset[str] = frozenset()
    changes: Values = field(default_factory=dict)
    refused: str = ""
    whole: Callable[[], Book] | None = None  # instead of the short demo
    file: Callable[[Path], None] | None = None  # writes or spoils the file itself

    @property
    def outcome(self) -> str:
        """What it ends in, in a word."""
        if self.refused:
            return "file refused"
        if self.problems:
            return "problem named"
        return "read right, warned" if self.warnings else "read right"


def values_of(job: Job) -> Values:
    """Every value of a job by its path, such as ``quotes[0].price``, without places."""
    found: Values = {}
    for part in fields(job):
        rows = getattr(job, part.name)
        if isinstance(rows, tuple):
            found[f"{part.name}.count"] = len(rows)
            for at, row in enumerate(rows):
                _add(found, f"{part.name}[{at}]", row)
        else:
            _add(found, part.name, rows)
    return found


def _add(found: Values, path: str, row: Any) -> None:
    for part in fields(row):
        value = getattr(row, part.name)
        if not isinstance(value, Place) and part.name != "places":
            found[f"{path}.{part.name}"] = value


def same(one: Any, other: Any) -> bool:
    """Whether two values are equal, numbers to a thousand-millionth."""
    if isinstance(one, float) and isinstance(other, (int, float)):
        return math.isclose(one, other, rel_tol=1e-9, abs_tol=1e-12)
    return bool(one == other)


def marks(notices: Iterable[Notice]) -> frozenset[str]:
    """Notices as ``code@Sheet!A1``."""
    return frozenset(f"{n.code}@{n.cell}" for n in notices)


@cache
def sound(base: str) -> tuple[Values, frozenset[str]]:
    """The values and warnings of an undamaged demo, as read from the repository."""
    reading = read(Path(__file__).parents[2] / "workbooks" / f"{base}.xlsx")
    assert reading.job is not None
    return values_of(reading.job), marks(reading.warnings)


def failures(case: Case, path: Path) -> list[str]:
    """Everything in which a case ends otherwise than is written down."""
    book = case.whole() if case.whole else demo(case.base)
    if case.damage:
        case.damage(book)
    book.save(path)
    if case.file:
        case.file(path)
    try:
        reading = read(path)
    except WorkbookError as error:
        return _refusal(case, str(error))
    if case.refused:
        return [f"was read, expected refusal with {case.refused!r}"]
    before, known = sound(case.base)
    found = [m for n in (*reading.problems, *reading.warnings) for m in _wording(n)]
    found += _differ("problems", marks(reading.problems), case.problems)
    if case.problems:
        return found + (["a job despite problems"] if reading.job else [])
    warned = marks(reading.warnings)
    found += _differ("new warnings", warned - known, case.warnings)
    found += _differ("warnings gone", known - warned, case.gone)
    if reading.job is None:
        return found
    return found + _values(before, values_of(reading.job), case.changes)


def _refusal(case: Case, message: str) -> list[str]:
    if not case.refused:
        return [f"refused: {message}"]
    return [] if case.refused in message else [f"refused with other words: {message}"]


def _wording(notice: Notice) -> list[str]:
    good = notice.expected and notice.message and "{" not in notice.expected + notice.mend
    mends = notice.mend or notice.code in ("name-unknown",)
    return [] if good and mends and "!" in notice.cell else [f"poor words: {notice}"]


def _differ(what: str, found: frozenset[str], expected: frozenset[str]) -> list[str]:
    if found == expected:
        return []
    return [f"{what}: missing {sorted(expected - found)}, unexpected {sorted(found - expected)}"]


def _values(before: Values, after: Values, changes: Values) -> list[str]:
    expected = {path: value for path, value in {**before, **changes}.items() if value is not ...}
    paths = dict.fromkeys((*expected, *after))
    return [
        f"{path}: {after.get(path, 'absent')!r} instead of {expected.get(path, 'absent')!r}"
        for path in paths
        if not (path in after and path in expected and same(after[path], expected[path]))
    ]


# --- building cases from tables


@dataclass(frozen=True)
class At:
    """One field of one demo: the ``row``-th row of a sheet, or a setting on Job."""

    base: str
    sheet: str
    title: str
    row: int = 1

    @property
    def ref(self) -> str:
        """Its address without the sheet, such as ``C5``."""
        return _ref(self)

    @property
    def cell(self) -> str:
        """Its address, such as ``Quotes!C5``."""
        return f"{self.sheet}!{self.ref}"

    @property
    def path(self) -> str:
        """Its value in the job, such as ``quotes[0].price``."""
        sheet = next(s for s in SHEETS if s.name == self.sheet)
        name = next(c.field for c in sheet.columns if c.title == self.title)
        return (
            f"{sheet.target}.{name}" if sheet.settings else f"{sheet.target}[{self.row - 1}].{name}"
        )


@cache
def _ref(at: At) -> str:
    book = demo(at.base)
    if at.sheet == "Job":
        return book.setting(at.title)
    return book.at(at.sheet, at.title, at.row)


def put(at: At, value: Any, number_format: str = "") -> Damage:
    """Damage: another constant in one cell."""

    def damage(book: Book) -> None:
        style = book.style(number_format) if number_format else -1
        book.put(at.sheet, at.ref, value, style)

    return damage


def one(kind: str, at: At, value: Any, outcome: Any, number_format: str = "", **more: Any) -> Case:
    """A case of one cell. The outcome is a code (``~code``: a warning), or the right value."""
    title = f"{at.cell} = {value!r}" + (f" as {number_format}" if number_format else "")
    return with_outcome(kind, title, at, put(at, value, number_format), outcome, **more)


def with_outcome(kind: str, title: str, at: At, damage: Damage, outcome: Any, **more: Any) -> Case:
    """A case about one cell, whatever the damage; a pair is a warning and the right value."""
    known: dict[str, Any] = {"changes": {}, **more}
    if isinstance(outcome, tuple) and outcome and str(outcome[0]).startswith("~"):
        known["changes"] = {at.path: outcome[1], **known["changes"]}
        outcome = outcome[0]
    if isinstance(outcome, str) and outcome.startswith("~"):
        known["warnings"] = frozenset({f"{outcome[1:]}@{at.cell}", *more.get("warnings", ())})
    elif isinstance(outcome, str) and outcome.startswith("!"):
        known["problems"] = frozenset({f"{outcome[1:]}@{at.cell}", *more.get("problems", ())})
    else:
        known["changes"] = {at.path: outcome, **known["changes"]}
    for name in ("problems", "warnings", "gone"):
        if name in known:
            known[name] = frozenset(known[name])
    return Case(kind, title, at.base, damage, **known)
