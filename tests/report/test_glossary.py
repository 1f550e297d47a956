"""Every term of the trade that a page uses is told in plain words on it."""

from __future__ import annotations

import csv
import re
from collections.abc import Callable
from importlib import resources

import pytest

from budget.decide.plan import Comparison
from budget.report import page_back
from budget.report.page import render

#: Terms that a homeowner need not know.
TRADE = (
    "bank volume", "base", "bedding", "bid", "cap", "colour lot", "compacted volume",
    "contingency", "course", "cut-out", "damage waiver", "deposit", "draws", "drop",
    "edge restraint", "fall", "flip", "forecast", "geotextile", "haul", "hire day", "joint gravel",
    "jointing", "landed cost", "levelling pad", "lift", "loose volume", "making good",
    "offcut", "overage", "overrun", "own hour", "payload", "permit", "person-hours",
    "plate compactor", "polymeric sand", "restocking fee", "rework", "rule of thumb", "scope",
    "screed", "screenings", "sill", "sliver", "spoil", "standard error", "stock length", "swell",
    "tip", "tipper", "trial pit",
)  # fmt: skip


@pytest.fixture(scope="module")
def told() -> dict[str, str]:
    return {word.casefold(): meaning for word, meaning in page_back.glossary()}


@pytest.mark.parametrize("term", TRADE)
def test_a_term_of_the_trade_is_told(term: str, told: dict[str, str]) -> None:
    assert term in told


def test_patterns_that_the_workbook_offers_are_told(told: dict[str, str]) -> None:
    text = (resources.files("budget.reference") / "patterns.csv").read_text(encoding="utf-8")
    lines = [line for line in text.splitlines() if not line.startswith("#")]
    names = {row["pattern"].split()[0] for row in csv.DictReader(lines)}
    assert names
    assert {name for name in names if not any(name in word for word in told)} <= {"random"}


def test_words_are_told_once_each_in_whole_sentences() -> None:
    path = resources.files("budget.report") / "templates" / "glossary.csv"
    rows = list(csv.DictReader(path.read_text(encoding="utf-8").splitlines()))
    words = [row["word"].casefold() for row in rows]
    assert len(words) == len(set(words))
    assert all(set(row) == {"word", "meaning"} for row in rows)
    for row in rows:
        assert re.fullmatch(r"[A-Z].*\.", row["meaning"]), row["word"]
        assert row["word"].casefold() not in row["meaning"].casefold().split(".")[0].split(), row


def test_the_page_carries_every_word(
    small_comparison: Callable[..., Comparison], told: dict[str, str]
) -> None:
    html = render(small_comparison())
    shown = {
        w.casefold() for w in re.findall(r"<dt>([^<]+)</dt>", html[html.index('"glossary"') :])
    }
    assert set(told) <= shown
