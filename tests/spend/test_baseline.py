"""Accepted plans are read back exactly, kept with their reasons, and told apart."""

from __future__ import annotations

import datetime as dt
import os
from pathlib import Path

import pytest
from hypothesis import Phase, given, settings
from hypothesis import strategies as st

from budget.decide.brief import plan_briefly
from budget.numerals import DAY_FIRST, Manner, written
from budget.spend import baseline_book
from budget.spend.baseline import (
    DIGITS,
    Accepting,
    Baseline,
    PlannedDays,
    PlannedLine,
    PlannedStep,
    baseline_of,
)
from budget.spend.baseline_book import BaselineError
from budget.workbook import read

WORKBOOKS = Path(__file__).parents[2] / "workbooks"

# What a cell of a workbook can hold: no control characters, no halves of characters.
TEXT = st.text(
    st.characters(blacklist_categories=("Cs", "Cc"), blacklist_characters="\ufffe\uffff"),
    min_size=1, max_size=20,
)  # fmt: skip
MAYBE = st.one_of(st.just(""), TEXT)
HOURS = st.floats(0, 1e5).map(lambda number: round(number, DIGITS))
LINES = st.builds(
    PlannedLine, part=MAYBE, group=MAYBE, line=TEXT, cash=st.integers(-(10**9), 10**9),
    own_hours=HOURS, supplier=MAYBE, quantity=MAYBE, packs=st.one_of(st.none(), HOURS),
    per=MAYBE, choice=MAYBE,
)  # fmt: skip
STEPS = st.builds(PlannedStep, step=TEXT, part=MAYBE, amount=HOURS, unit=MAYBE)
#: Writing a workbook is slow, and a failing case is small enough as it is: no shrinking.
PHASES = (Phase.explicit, Phase.reuse, Phase.generate)
DAYS = st.dates(dt.date(1990, 1, 1), dt.date(2100, 1, 1))
WORKED = st.builds(
    PlannedDays,
    step=TEXT,
    days=st.lists(DAYS, min_size=1, max_size=4).map(lambda d: tuple(sorted(d))),
)
BASELINES = st.builds(
    Baseline, number=st.just(1), accepted=DAYS, reason=MAYBE,
    because=st.sampled_from(["chosen", "unforeseen"]), scenario=TEXT, currency=st.just("USD"),
    hour_value=st.integers(0, 10**6).map(float), limit=st.one_of(st.none(), st.integers(0, 10**9)),
    start=st.one_of(st.none(), DAYS), finish=st.one_of(st.none(), DAYS),
    lines=st.lists(LINES, max_size=4).map(tuple), steps=st.lists(STEPS, max_size=3).map(tuple),
    choices=st.dictionaries(TEXT, TEXT, max_size=4),
    unpriced=st.lists(TEXT, max_size=2).map(tuple),
    days=st.lists(WORKED, max_size=3).map(tuple),
)  # fmt: skip


@settings(max_examples=40, deadline=None, phases=PHASES)
@given(BASELINES)
def test_a_baseline_is_read_back_exactly(
    tmp_path_factory: pytest.TempPathFactory, baseline: Baseline
) -> None:
    path = tmp_path_factory.mktemp("baseline") / "a-baseline.xlsx"
    baseline_book.write([baseline], path)
    assert baseline_book.read(path) == (baseline,)


def test_there_is_none_before_the_first(tmp_path: Path) -> None:
    assert baseline_book.read(tmp_path / "a-baseline.xlsx") == ()


def test_a_damaged_file_is_told(tmp_path: Path) -> None:
    path = tmp_path / "a-baseline.xlsx"
    path.write_bytes(b"PK\x03\x04 not a workbook")
    with pytest.raises(BaselineError, match="saved copy"):
        baseline_book.read(path)


def test_days_of_a_rent_do_not_hang_on_how_numbers_are_written() -> None:
    """11.26 hours of cutting in days of 7 hours are 1.6 days, which the courtyard writes 1,6."""
    with written(Manner("point and comma", DAY_FIRST, "after")):
        job = read(WORKBOOKS / "courtyard.xlsx").job
        assert job is not None
        comparison = plan_briefly(job)
    assert comparison.best is not None
    lines = {
        line.line: line
        for line in baseline_of(comparison, comparison.best, Accepting(job.settings.as_of)).lines
    }
    splitter = lines["Paver splitter"]
    assert splitter.quantity == "rent, 1,6 days"
    assert (splitter.packs, splitter.per) == (round(lines["Cut"].own_hours / 7, 1), "day")
    assert lines["Plate compactor"].packs is None  # borrowed


def one() -> Baseline:
    line = PlannedLine("", "", "=1+1", 1234, 2.5, quantity="=A1")
    return Baseline(
        1, dt.date(2026, 4, 6), "", "chosen", "=Best", "USD", 2000.0, None, None, None, (line,),
        (), {},
    )  # fmt: skip


def test_a_text_never_becomes_a_formula(tmp_path: Path) -> None:
    path = tmp_path / "a-baseline.xlsx"
    baseline_book.write([one()], path)
    assert baseline_book.read(path) == (one(),)
    import openpyxl

    cells = [cell for row in openpyxl.load_workbook(path).worksheets[0] for cell in row]
    assert {cell.data_type for cell in cells if str(cell.value).startswith("=")} == {"s"}


def test_an_interrupted_write_leaves_the_old_file(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "a-baseline.xlsx"
    baseline_book.write([one()], path)
    before = path.read_bytes()

    def full(_: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(OSError, match="No space"):
        baseline_book.write([one(), one()], path)
    assert [p.name for p in tmp_path.iterdir()] == [path.name]
    assert path.read_bytes() == before
