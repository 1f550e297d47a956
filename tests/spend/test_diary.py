"""Six weeks of the terrace, replayed week by week from the journal in ``workbooks``.

The sums are added up here from the journal and the Spend sheet on their own, without the
package; what must be warned of and advised each week follows from the story told in the entries.
"""

from __future__ import annotations

import csv
import datetime as dt
import shutil
from functools import cache
from pathlib import Path

import pytest
from python_calamine import CalamineWorkbook

from budget.spend import baseline_book, journal
from budget.spend.standing import Standing, stand
from budget.spend.tracking import Tracked
from budget.workbook import read

FOLDER = Path(__file__).parents[2] / "workbooks"
BOOK = FOLDER / "terrace-diary.xlsx"
ENDS = [dt.date(2026, 5, 3) + dt.timedelta(days=7 * n) for n in range(7)]

Row = tuple[dt.date, str, str, int, float]  # date, line, state, cents with tax, own hours


@cache
def written() -> tuple[Row, ...]:
    """Every entry, read without the package: the sheet by another library, the journal by csv."""
    rows: list[Row] = []
    table = CalamineWorkbook.from_path(str(BOOK)).get_sheet_by_name("Spend").to_python()
    start = next(i for i, row in enumerate(table) if str(row[0]).startswith("Date"))
    for row in table[start + 1 :]:
        if row[0] != "":
            cents = round(float(row[5] or 0) * 100) + round(float(row[6] or 0) * 100)
            rows.append((row[0], row[1], row[7], cents, float(row[8] or 0)))  # type: ignore[arg-type]
    with journal.path_for(BOOK).open(encoding="utf-8", newline="") as file:
        for line in csv.DictReader(file):
            cents = sum(round(float(line[k] or 0) * 100) for k in ("amount", "tax"))
            day = dt.date.fromisoformat(line["date"])
            hours = float(line["own_hours"] or 0)
            rows.append((day, line["line"], line["state"], cents, hours))
    return tuple(rows)


#: 26 miles with the pickup at 42 cents: the only entry whose money is worked out.
DRIVEN = 1092


def paid_until(day: dt.date) -> int:
    done = [r for r in written() if r[0] <= day]
    driven = DRIVEN if any(r[2] == "driven" for r in done) else 0
    return driven + sum(
        {"paid": 1, "refunded": -1}.get(state, 0) * cents for _, _, state, cents, _ in done
    )


@cache
def standing(day: dt.date) -> Standing:
    job = read(BOOK).job
    assert job is not None
    return stand(job, BOOK, day=day)


def line(day: dt.date, name: str) -> Tracked:
    return next(t for t in standing(day).tracking.lines if t.line == name)


def codes(day: dt.date, name: str = "") -> set[str]:
    return {w.code for w in standing(day).tracking.warnings if name in w.found}


def test_the_diary_has_sixty_entries_and_more() -> None:
    assert len(written()) >= 60
    assert journal.read(journal.path_for(BOOK)).warnings == ()
    weeks = {r[0] + dt.timedelta(days=6 - r[0].weekday()) for r in written()}
    assert weeks.issuperset(ENDS)


@pytest.mark.parametrize("end", ENDS, ids=str)
def test_each_week_adds_up(end: dt.date) -> None:
    found = standing(end).tracking
    rows = [r for r in written() if r[0] <= end]
    assert found.entries == len(rows)
    assert found.paid == paid_until(end)
    assert found.spent_hours == pytest.approx(sum(r[4] for r in rows))
    assert found.will_come_to == found.paid + found.to_come
    assert found.why.sum == found.will_come_to - found.planned
    for entry in found.lines:
        assert entry.why.sum == entry.will_come_to - entry.planned
        assert entry.will_come_to >= entry.paid
    assert found.weeks[-1].end == end
    assert found.weeks[-1].will_come_to == found.will_come_to


@pytest.mark.parametrize("end", ENDS, ids=str)
def test_each_week_tells_its_cash(end: dt.date) -> None:
    week = standing(end).tracking.weeks[-1]
    rows = [r for r in written() if end - dt.timedelta(days=6) <= r[0] <= end]
    out = sum(r[3] for r in rows if r[2] in ("paid", "deposit paid"))
    driven = DRIVEN if any(r[2] == "driven" for r in rows) else 0
    assert week.cash_out == out + driven
    assert week.cash_in == sum(r[3] for r in rows if r[2] in ("refunded", "deposit back"))


def test_the_plan_accepted_stays_the_measure() -> None:
    (plan,) = baseline_book.read(baseline_book.path_for(BOOK))
    assert {standing(end).tracking.planned for end in ENDS} == {plan.cash}


def test_week_one_says_what_to_pay_and_expect() -> None:
    coming = standing(ENDS[0]).coming
    due = {(c.kind, c.line): (c.day, c.cents) for c in coming}
    assert due["pay", "Base stone"] == (dt.date(2026, 5, 8), 38606)
    assert due["expect", "Path cobble"][0] == dt.date(2026, 5, 15)
    assert due["pay", "Garden paver"][1] == 180880
    days = [c.day or dt.date.max for c in coming]
    assert days == sorted(days)


def test_week_two_rain_costs_covers_and_hours() -> None:
    assert "spend-over-plan" in codes(ENDS[1], "Covers against rain")
    # 31.92 + 2.07 + 17.50 + 1.14
    assert line(ENDS[1], "Covers against rain").will_come_to == 5263
    dig = line(ENDS[1], "Dig")
    assert (dig.spent_hours, dig.will_hours, dig.done) == (15.0, 15.0, 1.0)
    parts = dig.why_hours
    assert parts.pace + parts.scope + parts.quantity == pytest.approx(15.0 - dig.planned_hours)


def test_week_three_the_borrowed_plate_is_rented_after_all() -> None:
    plate = line(ENDS[2], "Plate compactor")
    assert (plate.changes, plate.unforeseen, plate.will_come_to) == (6000, 6000, 11648 + 757)
    assert plate.why.scope == 6000
    deposits = [c for c in standing(ENDS[2]).coming if c.kind == "deposit"]
    assert [(c.day, c.cents) for c in deposits] == [(dt.date(2026, 5, 18), 15000)]


def test_week_three_a_short_count_is_still_expected() -> None:
    missing = [c for c in standing(ENDS[2]).coming if (c.kind, c.line) == ("expect", "Path cobble")]
    assert len(missing) == 1


def test_week_four_the_longer_path_is_chosen_and_the_price_has_risen() -> None:
    cobble = line(ENDS[3], "Path cobble")
    assert (cobble.changes, cobble.unforeseen) == (8605, 0)
    # ordered 262.60 + 17.07 and 109.00 + 7.09
    assert cobble.ordered == 27967 + 11609
    # 20 square feet dearer by 40 cents and tax of 6.5 %; the four that did not come are ordered
    # twice: 4 x 5.05 and tax
    assert cobble.why.price == pytest.approx(852, abs=1)
    assert cobble.why.quantity == pytest.approx(2151, abs=1)
    assert [c.cents for c in standing(ENDS[3]).coming if c.kind == "refund"] == [3025]


def test_week_five_a_receipt_entered_twice_is_told_until_it_is_taken_back() -> None:
    assert "spend-twice" in codes(ENDS[4])
    assert line(ENDS[4], "Drainage").paid == 2 * (14820 + 963)
    assert "spend-twice" not in codes(ENDS[5])
    assert line(ENDS[5], "Drainage").paid == 14820 + 963


def test_week_six_a_misspelt_line_is_named_with_the_nearest() -> None:
    (warning,) = [w for w in standing(ENDS[6]).tracking.warnings if w.code == "spend-unknown-line"]
    assert "“Joint sand”" in warning.mend
    assert line(ENDS[6], "Jointing sand").why.scope == 660 + 43


def test_the_work_advances_week_by_week_and_deposits_come_back() -> None:
    shares = [week.work_done or 0.0 for week in standing(ENDS[6]).tracking.weeks]
    assert shares == sorted(shares)
    assert shares[-1] > 0.9
    assert standing(ENDS[6]).tracking.deposits_held == 0


def test_at_the_end_nothing_is_waited_for_that_was_struck_off_or_paid_at_the_counter() -> None:
    assert [c for c in standing(ENDS[6]).coming if c.kind == "expect"] == []


def test_nothing_is_written_by_looking(tmp_path: Path) -> None:
    names = [BOOK.name, journal.path_for(BOOK).name, baseline_book.path_for(BOOK).name]
    for name in names:
        shutil.copy(FOLDER / name, tmp_path / name)
    before = {name: (tmp_path / name).read_bytes() for name in names}
    job = read(tmp_path / BOOK.name).job
    assert job is not None
    stand(job, tmp_path / BOOK.name)
    assert {p.name: p.read_bytes() for p in tmp_path.iterdir()} == before
