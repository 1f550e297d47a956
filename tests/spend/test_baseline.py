"""Accepted plans are read back exactly, kept with their reasons, and told apart."""

from __future__ import annotations

import datetime as dt
import os
from dataclasses import replace
from pathlib import Path

import openpyxl
import pytest
from hypothesis import Phase, given, settings
from hypothesis import strategies as st

from budget.decide.brief import plan_briefly
from budget.decide.outcome import Comparison
from budget.numerals import DAY_FIRST, MONTH_FIRST, Manner, written
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
from budget.units import System
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
#: Within a fortnight, so that some follow one another.
NEAR = st.dates(dt.date(2026, 4, 27), dt.date(2026, 5, 10))
WORKED = st.builds(
    PlannedDays,
    step=TEXT,
    days=st.lists(NEAR, min_size=1, max_size=6, unique=True).map(lambda d: tuple(sorted(d))),
)
BASELINES = st.builds(
    Baseline, number=st.just(1), accepted=DAYS, reason=MAYBE,
    because=st.sampled_from(["chosen", "unforeseen"]), scenario=TEXT, currency=st.just("USD"),
    hour_value=st.integers(0, 10**6).map(float), limit=st.one_of(st.none(), st.integers(0, 10**9)),
    start=st.one_of(st.none(), DAYS), finish=st.one_of(st.none(), DAYS),
    lines=st.lists(LINES, max_size=4).map(tuple), steps=st.lists(STEPS, max_size=3).map(tuple),
    choices=st.dictionaries(TEXT, TEXT, max_size=4),
    unpriced=st.lists(TEXT, max_size=2).map(tuple),
    days=st.lists(WORKED, max_size=3, unique_by=lambda w: w.step).map(tuple),
    comes_back=st.integers(0, 10**6),
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


@pytest.fixture(scope="module")
def courtyard() -> Comparison:
    """The courtyard in the manner of its country."""
    job = read(WORKBOOKS / "courtyard.xlsx").job
    assert job is not None
    with written(Manner("point and comma", DAY_FIRST, "after")):
        return plan_briefly(job)


def accepted(comparison: Comparison) -> Baseline:
    assert comparison.best is not None
    return baseline_of(comparison, comparison.best, Accepting(comparison.job.settings.as_of))


def test_days_of_a_rent_do_not_hang_on_how_numbers_are_written(courtyard: Comparison) -> None:
    """11.26 hours of cutting in days of 7 hours are 1.6 days, which the courtyard writes 1,6."""
    lines = {line.line: line for line in accepted(courtyard).lines}
    splitter = lines["Paver splitter"]
    assert splitter.quantity == "rent, 1,6 days"
    assert (splitter.packs, splitter.per) == (round(lines["Cut"].own_hours / 7, 1), "day")
    assert lines["Plate compactor"].packs is None  # borrowed


def plan(steps: int, choices: int, lines: int) -> Baseline:
    """A plan with so many rows in its tables."""
    return replace(
        one(),
        steps=tuple(PlannedStep(f"Step {n}", "Yard", 2.0, "sq ft") for n in range(steps)),
        choices={f"item:Thing {n}": "some seller" for n in range(choices)},
        lines=tuple(PlannedLine("", "Base", f"Thing {n}", 100, 0.0) for n in range(lines)),
    )


@pytest.mark.parametrize("system", ["imperial", "metric"])
@pytest.mark.parametrize("sizes", [(0, 0, 1), (29, 27, 38), (20, 24, 31), (130, 150, 170)])
def test_each_page_begins_with_headings_or_a_table(
    sizes: tuple[int, int, int], system: System, tmp_path: Path
) -> None:
    path = tmp_path / "a-baseline.xlsx"
    baseline_book.write([plan(*sizes)], path, system)
    assert baseline_book.read(path) == (plan(*sizes),)
    page = openpyxl.load_workbook(path).worksheets[0]
    starts = [brk.id + 1 for brk in page.row_breaks.brk]
    assert bool(starts) == (sum(sizes) > 50)
    bold = [False, *(row[0].font.bold for row in page.iter_rows())]
    repeated = int(page.print_title_rows[1:].split(":")[0]) if page.print_title_rows else 0
    for start in starts:
        blank = page.cell(start, 1).value is None  # the one before a title
        again = repeated and start > repeated
        assert bold[start + blank] or again, (start, page.cell(start, 1).value)
        assert not bold[start - 1]  # no heading ends a page
    if repeated:  # only the last table comes after the headings that stand on every later page
        below = [page.cell(row, 1).value for row in range(repeated + 1, page.max_row + 1)]
        assert below == [f"Thing {n}" for n in range(sizes[2])]


def test_a_table_without_rows_says_so(tmp_path: Path) -> None:
    path = tmp_path / "a-baseline.xlsx"
    baseline_book.write([one()], path)
    column = [row[0].value for row in openpyxl.load_workbook(path).worksheets[0].iter_rows()]
    at = column.index("Not yet priced when accepted")
    assert column[at + 1 : at + 3] == ["Nothing: every cost of the plan had a price.", None]
    assert column[column.index("Choices") + 1] == "Nothing was to be chosen."


def test_days_are_dates_one_row_for_each_run_of_days(tmp_path: Path) -> None:
    """A weekend and a Saturday: two rows, whose dates a spreadsheet can reckon with."""
    days = tuple(dt.date(2026, 5, day) for day in (2, 3, 9))
    path = tmp_path / "a-baseline.xlsx"
    with written(Manner(dates=MONTH_FIRST)):
        baseline_book.write([replace(one(), days=(PlannedDays("Dig", days),))], path)
    page = openpyxl.load_workbook(path).worksheets[0]
    rows = [row for row in page.iter_rows() if row[0].value == "Dig"]
    assert [row[0].value for row in rows] == ["Dig", "Dig"]
    assert [tuple(cell.value.date() for cell in row[1:3]) for row in rows] == [
        (days[0], days[1]), (days[2], days[2]),
    ]  # fmt: skip
    assert [row[3].value for row in rows] == [2, 1]
    assert {cell.number_format for row in rows for cell in row[1:3]} == {"mmm d, yyyy"}


def test_days_of_an_older_file_are_read(tmp_path: Path) -> None:
    """It has them in one text of ISO dates, beneath the headings of its time."""
    days = tuple(dt.date(2026, 5, day) for day in (2, 3, 9))
    path = tmp_path / "a-baseline.xlsx"
    baseline_book.write([replace(one(), days=(PlannedDays("Dig", days),))], path)
    book = openpyxl.load_workbook(path)
    page = book.worksheets[0]
    first = next(row[0].row for row in page.iter_rows() if row[0].value == "Dig")
    page.delete_rows(first + 1)
    page.cell(first - 1, 2, "First day")
    page.cell(first, 3, days[-1])
    page.cell(first, 4, ", ".join(day.isoformat() for day in days))
    book.save(path)
    assert baseline_book.read(path) == (replace(one(), days=(PlannedDays("Dig", days),)),)


def test_what_comes_back_later_stands_beside_the_cash(
    courtyard: Comparison, tmp_path: Path
) -> None:
    """What is paid for the lines, less what comes back for unopened packs, is the answer's cash."""
    assert courtyard.best is not None
    assert courtyard.best.priced is not None
    found = accepted(courtyard)
    assert found.comes_back > 0
    path = tmp_path / "a-baseline.xlsx"
    baseline_book.write([found], path, "metric")
    page = openpyxl.load_workbook(path).worksheets[0]
    head = {row[0].value: row[1].value for row in page.iter_rows(max_row=16)}
    assert head["Cash in all"] * 100 == pytest.approx(sum(line.cash for line in found.lines))
    assert head["Cash once that is back"] * 100 == pytest.approx(courtyard.best.priced.cash)
    back = head["Comes back for unopened packs"]
    assert head["Cash in all"] - back == pytest.approx(head["Cash once that is back"])


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
