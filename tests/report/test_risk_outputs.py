"""What terminal, page and JSON say about how sure an answer is and about running short."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import openpyxl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from budget.decide.outcome import Comparison
from budget.report import risk as said
from budget.report import short, words
from budget.report.book import book
from budget.report.drawing import spread
from budget.report.page import risk as page_risk
from budget.report.page import short as page_short
from budget.report.page.view import View
from budget.report.terminal.blocks import plain


@pytest.fixture
def terrace(demo_comparison: Callable[[str], Comparison]) -> Comparison:
    return demo_comparison("terrace")


def test_bars_lie_where_their_sums_lie() -> None:
    plans = [
        spread.Range("A", 100, 150, 200, 180, "likely"),
        spread.Range("B", 200, 250, 300, 290, "likely", marked=True),
    ]
    limit = spread.Mark(250, "your limit")
    drawn = str(spread.ranges("k", "Cost range", plans, ("$1", "$3"), limit))
    bars = re.findall(r'<rect x="([\d.]+)%" y="\d+" width="([\d.]+)%"', drawn)
    assert [(float(x), float(wide)) for x, wide in bars] == [(2, 48), (50, 48)]
    strokes = re.findall(r'<line x1="74%" y1="(\d+)" x2="74%" y2="(\d+)" class="yours"', drawn)
    assert len(strokes) == 2  # the limit, at 250 of 100 to 300, once beside each bar
    words_at = [float(y) for y in re.findall(r'<text x="[^"]+" y="([\d.]+)"', drawn)][:4]
    for top, bottom in ((float(a), float(b)) for a, b in strokes):
        assert not any(top < y and bottom > y - 12 for y in words_at)  # through no words
    assert "your limit" in drawn
    assert "<title id=" in drawn


def test_a_limit_far_from_every_range_is_not_drawn() -> None:
    plans = [spread.Range("A", 100, 150, 200, 180, "likely")]
    drawn = spread.ranges("k", "t", plans, ("", ""), spread.Mark(900, "your limit"))
    assert "your limit" not in str(drawn)


def test_the_curve_rises_from_none_to_all_cases() -> None:
    drawn = str(spread.chances("k", "t", [0, 10, 40, 100], ("", ""), [spread.Mark(50, "m")]))
    heights = [float(y) for y in re.findall(r'y2="([\d.]+)" class="link"', drawn)]
    assert heights == sorted(heights, reverse=True)
    assert len(heights) == 3
    assert 'x1="50%"' in drawn


@settings(max_examples=50)
@given(st.lists(st.integers(0, 100), min_size=1, max_size=5))
def test_no_pole_of_the_curve_runs_through_a_flag_or_a_told_number(values: list[int]) -> None:
    marks = [spread.Mark(value, f"mark {value}") for value in values]
    drawn = str(spread.chances("k", "t", [0, 50, 100], ("", ""), marks))
    poles = [
        (float(x), float(top), float(bottom))
        for x, top, bottom in re.findall(
            r'<line x1="([\d.]+)%" y1="([\d.]+)" x2="[\d.]+%" y2="([\d.]+)" class="pole"', drawn
        )
    ]
    flags = [
        (float(x), float(y)) for x, y in re.findall(r'x="([\d.]+)%" y="([\d.]+)" overflow', drawn)
    ]
    assert len(poles) == len(values)
    assert len(flags) == 2 * len(values)  # at its pole, and beside its words below
    for wide in (288, 704):
        for x, top, bottom in poles:
            for left, y in flags:
                beside = x * wide / 100 - left * wide / 100
                through = 0.5 < beside < 16 and top < y + 16 and y < bottom
                assert not through


def test_a_swing_reaches_over_its_ends_and_what_is_written() -> None:
    found = [
        spread.Swing("depth", 0, 100, "$0", "$1"),
        spread.Swing("load", 75, 50, "", ""),
    ]
    drawn = str(spread.swings("k", "t", found, spread.Mark(25, "as written")))
    bars = re.findall(r'<rect x="([\d.]+)%" y="\d+" width="([\d.]+)%"', drawn)
    assert [(float(x), float(wide)) for x, wide in bars] == [(2, 96), (26, 48)]
    assert 'x1="26%"' in drawn


def test_names_in_drawings_stay_text() -> None:
    plans = [spread.Range("<script>", 1, 2, 3, 2, "&")]
    drawn = str(spread.ranges("k", "t", plans, ("", ""), None))
    assert "<script>" not in drawn
    assert "&lt;script&gt;" in drawn


def test_the_terminal_names_the_order_that_saves_most(terrace: Comparison) -> None:
    risk = terrace.risk
    assert risk is not None
    worst = risk.shortfalls[0]
    first, likely, saves, more = said.short_in_words(terrace)
    assert worst.item in first
    assert f"is too little in {said.chance(worst.chance)} of cases" in likely
    assert words.money_round(worst.saves, "USD") in saves
    assert "quantities --thorough" in more


def test_every_order_is_told_with_what_running_short_costs(terrace: Comparison) -> None:
    risk = terrace.risk
    assert risk is not None
    printed = plain(short.blocks(terrace))
    shown = page_short.running_short(View(terrace))
    assert shown is not None
    for found, (item, costs) in zip(risk.shortfalls, shown.costs, strict=True):
        assert f"- {found.item} ({found.supplier}): takes" in printed
        assert item == found.item
        assert words.money_round(found.short, "USD") in costs
        assert f"Can be had again: {found.again}" in costs
    assert [row.cells[0] for row in shown.table.rows] == [s.item for s in risk.shortfalls]


def test_nothing_is_said_where_nothing_is_unsure(terrace: Comparison) -> None:
    sure = replace(terrace, risk=None)
    assert said.short_in_words(sure) == ()
    assert said.find_out_in_words(sure) == ()
    assert page_short.running_short(View(sure)) is None
    assert "no order of this plan rests on anything unsure" in plain(short.blocks(sure))


def test_whether_the_best_plan_stays_best_on_the_safe_side(terrace: Comparison) -> None:
    risk = terrace.risk
    assert risk is not None
    assert "best both by what is likely and by what is enough" in said.safe_side(terrace, risk)
    other = replace(risk, safest="All own hands, sand bedding")
    assert "“All own hands, sand bedding” is best" in said.safe_side(terrace, other)


def test_the_published_accuracy_is_a_cross_check(terrace: Comparison) -> None:
    risk = terrace.risk
    assert risk is not None
    told = said.accuracy_in_words(risk.accuracy)
    assert f"class {risk.accuracy.level}" in told
    low, high = risk.accuracy.published_high
    wide = replace(risk.accuracy, high=high + 0.01)
    assert wide.verdict == "wider"
    assert replace(wide, high=low).verdict == "within"
    assert "not in them" in said.accuracy_in_words(replace(wide, high=low / 2))


def test_the_page_says_which_findings_pay(terrace: Comparison) -> None:
    risk = terrace.risk
    assert risk is not None
    shown = page_risk.how_sure(View(terrace))
    assert shown is not None
    assert shown.worth is not None
    paying = {f.name for f in risk.findings if said.pays(f)}
    assert {row.cells[0] for row in shown.worth.rows if row.cells[-1] == "yes"} == paying


def test_the_workbook_stores_what_was_drawn(terrace: Comparison, tmp_path: Path) -> None:
    risk = terrace.risk
    assert risk is not None
    path = tmp_path / "terrace-comparison.xlsx"
    book.write(terrace, path)
    sheet = openpyxl.load_workbook(path)["Risk"]
    rows: dict[str, Any] = {}
    for row in sheet.iter_rows():
        rows.setdefault(str(row[0].value), row)
    best = risk.of(risk.best)
    drawn = [best.planned, best.safe_error, *best.cash]
    stored = [c.value for c in rows[risk.best][1:9] if c.data_type == "n"]
    assert stored == pytest.approx([c / 100 for c in drawn])
    worst = risk.shortfalls[0]
    found = rows[worst.item]
    assert found[3].value == pytest.approx(worst.ordered)
    assert found[6].value == pytest.approx(worst.best)
    # Only what is enough, what to set aside and the place of the confidence are worked out.
    alive = {c.column_letter for row in sheet.iter_rows() for c in row if c.data_type == "f"}
    assert alive == {"B", "C", "D"}
    assert "--thorough" in str(sheet["A2"].value)


def test_the_confidence_is_looked_up_among_the_drawn_sums(
    terrace: Comparison, tmp_path: Path
) -> None:
    """A confidence that is not among the listed shares is listed as well, so it is exact."""
    risk = terrace.risk
    assert risk is not None
    for confidence in (0.8, 0.83, 0.99):
        curve = {o.title: o.curve for o in risk.outcomes}
        outcomes = tuple(
            replace(o, safe=curve[o.title][round(100 * confidence)]) for o in risk.outcomes
        )
        path = tmp_path / f"{confidence}.xlsx"
        changed = replace(risk, confidence=confidence, outcomes=outcomes)
        book.write(replace(terrace, risk=changed), path)
        sheet = openpyxl.load_workbook(path, data_only=True)["Risk"]
        enough = {row[0].value: (row[2].value, row[3].value) for row in sheet.iter_rows(8, 16)}
        for o in outcomes:
            assert enough[o.title][0] == pytest.approx(o.safe / 100)
            assert enough[o.title][1] == pytest.approx(max(0.0, o.safe - o.planned) / 100)


def test_a_workbook_without_anything_unsure_has_no_such_sheet(
    terrace: Comparison, tmp_path: Path
) -> None:
    path = tmp_path / "sure.xlsx"
    book.write(replace(terrace, risk=None), path)
    assert "Risk" not in openpyxl.load_workbook(path, read_only=True).sheetnames
