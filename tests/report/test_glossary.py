"""Every term of the trade that a page uses is told in plain words on it."""

from __future__ import annotations

import csv
import html
import re
from collections.abc import Callable
from importlib import resources

import pytest

from budget.decide.outcome import Comparison
from budget.report.page import back
from budget.report.page.page import render

#: Terms that a homeowner need not know.
TRADE = (
    "bank volume", "base", "bedding", "bid", "cap", "colour lot", "compacted volume",
    "contingency", "course", "cut-out", "damage waiver", "deposit", "draws", "drop",
    "edge restraint", "fall", "flip", "forecast", "geotextile", "haul", "hire day", "joint gravel",
    "jointing", "landed cost", "levelling pad", "lift", "loose volume", "making good",
    "mixed hands", "offcut", "overage", "overrun", "own hour", "payload", "permit", "person-hours",
    "plate compactor", "polymeric sand", "restocking fee", "rework", "rule of thumb", "scope",
    "screed", "screenings", "sill", "sliver", "spoil", "standard error", "stock length", "swell",
    "tip", "tipper", "trial pit",
)  # fmt: skip

#: Further words of the trade. Those that a page uses are told on it; none has to be used.
FURTHER = (
    "adhesive", "batter", "bead", "bevel", "buried services", "call-off", "card surcharge",
    "chamfer", "clean stone", "clearance", "coping", "datum", "deduct", "diamond blade", "edging",
    "edging spike", "efflorescence", "footing", "free above", "gross weight", "haunch", "header",
    "hitch", "invert", "kerf", "lap", "lead days", "locating service", "lump sum", "mitre",
    "mobilisation", "mortar", "nominal", "pallet", "permeable", "private lines", "rebar",
    "retention", "sailor course", "setback", "shim", "shoelace rule", "silica", "snagging",
    "soakaway", "sod", "soldier course", "spell", "splitter", "stockpile", "stretcher",
    "surcharge", "tolerance", "topsoil", "tow limit", "variance", "weep hole", "wet saw", "winner",
)  # fmt: skip


@pytest.fixture(scope="module")
def told() -> dict[str, str]:
    return {word.casefold(): meaning for word, meaning in back.glossary()}


@pytest.mark.parametrize("term", TRADE)
def test_a_term_of_the_trade_is_told(term: str, told: dict[str, str]) -> None:
    assert term in told


@pytest.mark.parametrize("demo", ["terrace", "courtyard", "fire-bowl"])
def test_a_term_that_a_demo_page_uses_is_told_on_it(
    demo_comparison: Callable[[str], Comparison], demo: str, told: dict[str, str]
) -> None:
    page = render(demo_comparison(demo))
    body = re.sub(r"<(style|script)\b.*?</\1>", " ", page[: page.index('"glossary"')], flags=re.S)
    text = html.unescape(re.sub(r"<[^>]+>", "\n", body)).casefold().replace("\u00a0", " ")
    used = [term for term in (*TRADE, *FURTHER) if re.search(rf"\b{term}s?\b", text)]
    assert len(used) > 20
    assert [term for term in used if not any(term in word for word in told)] == []


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
    page = render(small_comparison())
    shown = {
        w.casefold() for w in re.findall(r"<dt>([^<]+)</dt>", page[page.index('"glossary"') :])
    }
    assert set(told) <= shown
