"""Broken workbooks: each ends in a right result or in problems with addresses, in bounded time."""

from __future__ import annotations

import time
import tracemalloc
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from budget.workbook import WorkbookError, read
from tests.battery.all_cases import kinds
from tests.battery.case import failures, same, sound, values_of
from tests.battery.cases_files import blank_rows
from tests.battery.package import demo, name_of

#: Seconds of processor time that one broken workbook may take, on a slow machine.
_EACH = 1.0


@pytest.mark.parametrize("kind", list(kinds()))
def test_a_broken_workbook_ends_as_written_down(kind: str, tmp_path: Path) -> None:
    cases = kinds()[kind]
    start = time.process_time()
    found = {case.title: failures(case, tmp_path / "job.xlsx") for case in cases}
    spent = time.process_time() - start
    wrong = {title: words for title, words in found.items() if words}
    assert wrong == {}
    assert spent < 3 + _EACH * len(cases)


def test_there_are_enough_of_them() -> None:
    assert sum(len(cases) for cases in kinds().values()) >= 400
    assert len({(c.kind, c.title) for cs in kinds().values() for c in cs}) >= 400


def test_a_broken_workbook_takes_bounded_memory(tmp_path: Path) -> None:
    heavy = [c for kind in ("huge shared strings", "a million blank formatted rows")
             for c in kinds()[kind]]  # fmt: skip
    for case in heavy:
        tracemalloc.start()
        assert failures(case, tmp_path / "job.xlsx") == []
        peak = tracemalloc.get_traced_memory()[1]
        tracemalloc.stop()
        assert peak < 150_000_000, case.title


@pytest.mark.thorough
def test_a_million_blank_formatted_rows(tmp_path: Path) -> None:
    start = time.process_time()
    (case,) = blank_rows(700_000)  # as many as the largest file allowed holds
    assert failures(case, tmp_path / "job.xlsx") == []
    assert time.process_time() - start < 20


_TEXTS = st.text(max_size=40) | st.sampled_from(["=1", "12 ft", "5 %", "€3", "t", "1,5", "''", "/"])
_NUMBERS = st.floats(allow_nan=False, allow_infinity=False) | st.integers(-(10**20), 10**20)
_VALUES: st.SearchStrategy[Any] = _TEXTS | _NUMBERS | st.booleans() | st.none()
_CELLS = st.tuples(
    st.sampled_from(["Job", "Areas", "Quotes", "Suppliers", "Work", "Bids", "Delivery"]),
    st.integers(1, 18),
    st.integers(3, 14),
)


def _storable(value: Any) -> bool:
    return not isinstance(value, str) or (all(c in "\t\n" or c >= " " for c in value) and (
        value.isprintable() or value.isascii()
    ))  # fmt: skip


def _any_cells(path: Path, cells: list[tuple[tuple[str, int, int], Any]]) -> None:
    """Whatever is typed anywhere: a job that differs only there, or problems with addresses."""
    book = demo("courtyard")
    for (sheet, column, row), value in cells:
        book.put(sheet, f"{name_of(column)}{row}", value)
    reading = read(book.save(path))
    assert (reading.job is None) == bool(reading.problems)
    for notice in (*reading.problems, *reading.warnings):
        assert notice.expected
        assert "!" in notice.cell
        assert "{" not in notice.expected + notice.mend


_CHANGED = st.lists(st.tuples(_CELLS, _VALUES.filter(_storable)), min_size=1, max_size=4)
_QUIET = [HealthCheck.function_scoped_fixture, HealthCheck.filter_too_much]


@settings(max_examples=12, deadline=None, suppress_health_check=_QUIET, derandomize=True)
@given(_CHANGED)
def test_anything_typed_anywhere(tmp_path: Path, cells: Any) -> None:
    _any_cells(tmp_path / "job.xlsx", cells)


@pytest.mark.thorough
@settings(max_examples=3000, deadline=None, suppress_health_check=_QUIET, derandomize=True)
@given(_CHANGED)
def test_anything_typed_anywhere_many_times(tmp_path: Path, cells: Any) -> None:
    _any_cells(tmp_path / "job.xlsx", cells)


def _any_bytes(path: Path, changes: list[tuple[float, int]]) -> None:
    """Bytes overwritten anywhere: refused, or read as the sound file is."""
    demo("fire-bowl").save(path)
    data = bytearray(path.read_bytes())
    for share, byte in changes:
        data[int(share * (len(data) - 1))] = byte
    path.write_bytes(bytes(data))
    try:
        reading = read(path)
    except WorkbookError:
        return
    assert reading.job is not None
    before, after = sound("fire-bowl")[0], values_of(reading.job)
    assert [p for p in before if not same(before[p], after.get(p))] == []


_BYTES = st.lists(st.tuples(st.floats(0, 1), st.integers(0, 255)), min_size=1, max_size=8)


@settings(max_examples=12, deadline=None, suppress_health_check=_QUIET, derandomize=True)
@given(_BYTES)
def test_any_bytes_overwritten(tmp_path: Path, changes: Any) -> None:
    _any_bytes(tmp_path / "job.xlsx", changes)


@pytest.mark.thorough
@settings(max_examples=3000, deadline=None, suppress_health_check=_QUIET, derandomize=True)
@given(_BYTES)
def test_any_bytes_overwritten_many_times(tmp_path: Path, changes: Any) -> None:
    _any_bytes(tmp_path / "job.xlsx", changes)
