"""The evening's answer of ``spend``: nothing in it is left out without a word."""

from __future__ import annotations

import datetime as dt
import re
from functools import cache
from pathlib import Path

import pytest

from budget.numerals import short_date
from budget.report import spend_words
from budget.report.spend_evening import LOOK_AT, NEXT
from budget.report.terminal.blocks import Pair, plain
from budget.spend.standing import Standing, stand
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
    for words, amount in re.findall(r"([a-z ]+) \$([\d,.]+)", row):
        less = words.split()[0] in ("less", "cheaper", "shorter") or "left out" in words
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


def test_quiet_is_one_line() -> None:
    (block,) = spend_words.spend(stood(DAYS[0]), quiet=True)
    assert isinstance(block, Pair)
