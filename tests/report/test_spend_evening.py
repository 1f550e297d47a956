"""The evening's answer of ``spend``: nothing in it is left out without a word."""

from __future__ import annotations

import datetime as dt
import re
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from budget.numerals import short_date
from budget.report import spend_words, words
from budget.report.spend_evening import LOOK_AT, NEXT, _said
from budget.report.terminal.blocks import Pair, plain
from budget.spend.coming import Coming
from budget.spend.matching import Proposal
from budget.spend.standing import Standing, stand
from budget.spend.statement import Booked
from budget.workbook import read

BOOK = Path(__file__).parents[2] / "workbooks" / "terrace-diary.xlsx"
DAYS = [dt.date(2026, 5, 3), dt.date(2026, 5, 31), dt.date(2026, 6, 14)]


@cache
def stood(day: dt.date) -> Standing:
    job = read(BOOK).job
    assert job is not None
    return stand(job, BOOK, day=day)


def said(day: dt.date, full: bool = False) -> str:
    return plain(spend_words.spend(stood(day), quiet=False, full=full))


@pytest.mark.parametrize("day", DAYS, ids=str)
def test_the_lines_above_plan_are_named_dearest_first_or_counted(day: dt.date) -> None:
    over = sorted((t.left, t.line) for t in stood(day).tracking.lines if t.left < 0)
    (row,) = re.findall(r"Above plan +(.*)", said(day))
    named = [text for text in re.split(r", | and \d+ more", row) if text]
    assert [re.sub(r" \$[\d,.]+$", "", text) for text in named] == [n for _, n in over][
        : len(named)
    ]
    more = re.search(r"and (\d+) more$", row)
    assert len(named) + (int(more[1]) if more else 0) == len(over)


@pytest.mark.parametrize("day", DAYS, ids=str)
def test_the_reasons_add_up_to_what_is_above_the_first_plan(day: dt.date) -> None:
    (row,) = re.findall(r"Why, in all +(.*)", said(day))
    cents = 0
    for reason, amount in re.findall(r"([a-z ]+) \$([\d,.]+)", row):
        less = reason.split()[0] in ("less", "cheaper", "shorter") or "left out" in reason
        cents += (-1 if less else 1) * round(float(amount.strip(",").replace(",", "")) * 100)
    assert cents == stood(day).tracking.contingency_used


@pytest.mark.parametrize("day", DAYS, ids=str)
def test_what_is_not_shown_is_counted(day: dt.date) -> None:
    coming, text = stood(day).coming, said(day)
    if len(coming) > NEXT:
        assert f"(and {len(coming) - NEXT} more)" in text
    others = [w for w in stood(day).tracking.warnings if w.code != "spend-over-plan"]
    others = [w for w in others if w.code != "spend-over-limit"]
    if len(others) > LOOK_AT:
        assert f"Look at, and {len(others) - LOOK_AT} more" in text


def test_everything_is_there_when_asked_for() -> None:
    text = said(DAYS[2], full=True)
    tracking = stood(DAYS[2]).tracking
    assert all(t.line in text for t in tracking.lines if t.will_come_to)
    assert all(short_date(week.end) in text for week in tracking.weeks)
    assert all(f"[{w.code}]" in text for w in tracking.warnings)


def _coming(line: str, kind: str = "order") -> Coming:
    return Coming(kind, None, line, "North Yard", 100, "")  # type: ignore[arg-type]


def test_a_price_that_ran_out_is_told_as_past() -> None:
    until = replace(_coming("Base stone", "expires"), day=DAYS[1])
    assert _said(until, DAYS[1]) == "Price ends for Base stone, North Yard"
    assert _said(until, DAYS[2]) == "Price ended for Base stone, North Yard"


def test_what_is_too_long_for_a_line_ends_with_a_whole_word() -> None:
    short = _said(_coming("Base stone"), DAYS[0])
    assert short == "Order Base stone, North Yard"
    many = "sand gravel stone paver edging spike geotextile " * 3
    cut = _said(_coming(many.strip()), DAYS[0])
    assert len(cut) <= 54
    assert cut.endswith(" …")
    assert cut.removesuffix(" …").split() == f"Order {many}".split()[: len(cut.split()) - 1]


@pytest.mark.parametrize("columns", [40, 71])
def test_a_question_about_a_payment_breaks_no_word(columns: int) -> None:
    text = "NORTH YARD AGGREGATES 0233 LONG LANE"
    row = Booked(1, DAYS[0], text, 165000, "may.csv")
    reason = "the text names a seller of several lines; this is nearest"
    asked = spend_words.question(
        Proposal(row, "Base stone", "North Yard", "paid", 30, reason), "USD", columns
    )
    assert max(map(len, asked.splitlines())) <= columns
    whole = f"{text} {reason} (30 % sure). Enter it as paid on “Base stone”?"
    assert " ".join(asked.split()).endswith(whole)


def test_more_left_than_was_planned_is_no_share_of_it() -> None:
    found = stood(DAYS[0])
    assert "left of" in said(DAYS[0])
    room = found.tracking.contingency
    assert room is not None
    roomier = replace(found, tracking=replace(found.tracking, left=room + 5000))
    text = plain(spend_words.spend(roomier, quiet=False))
    more, first = (words.money(cents, "USD") for cents in (room + 5000, room))
    (row,) = re.findall(r"Room +(.*)", text)
    assert row.startswith(f"{more} above the plan; {first} at first")


def test_quiet_is_one_line() -> None:
    (block,) = spend_words.spend(stood(DAYS[0]), quiet=True)
    assert isinstance(block, Pair)
