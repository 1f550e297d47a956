"""Words of the summary page: true of the job at hand, and as a person would write them."""

from __future__ import annotations

import html
import re
from collections.abc import Callable
from dataclasses import replace
from typing import TypeVar

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from budget.decide.outcome import Comparison
from budget.decide.plan import Missing
from budget.numerals import written
from budget.report.page import back, choices
from budget.report.page.page import render
from budget.report.page.view import View

Demo = Callable[[str], Comparison]
T = TypeVar("T")


def words_of(comparison: Comparison, but: str = "style|script") -> str:
    """Everything that a page says, one text of an element after another; ``but`` is left out."""
    with written(comparison.job.settings.manner):
        page = render(comparison)
    page = re.sub(rf"<({but})\b.*?</\1>", "", page, flags=re.DOTALL)
    return html.unescape(re.sub(r"<[^>]+>", "\n", page))


def test_a_plan_whose_prices_are_missing_is_best_only_so_far(demo_comparison: Demo) -> None:
    comparison = demo_comparison("fire-bowl")
    assert comparison.missing
    text = words_of(comparison)
    loose = r"(?i)\bbest\b(?! so far| plan so far)[^\n]*"
    assert [found for found in re.findall(loose, text) if found] == []
    assert "Proved the cheapest of the plans that lack the fewest prices" in text
    assert "Of what is priced so far: All come to the same" in text


def test_scenarios_with_different_gaps_are_not_ranked(
    small_comparison: Callable[..., Comparison],
) -> None:
    whole = small_comparison()
    assert "Least cash: " in words_of(whole)
    first, second, *others = whole.scenarios
    assert second.priced is not None
    gap = (Missing("Permit", "Checklist", "Ask the building office."),)
    lacking = replace(second, priced=replace(second.priced, missing=gap))
    text = words_of(replace(whole, scenarios=(first, lacking, *others)))
    assert "which one costs least cannot be told yet" in text
    assert "Least cash: " not in text


def test_a_plan_without_gaps_is_called_best(demo_comparison: Demo) -> None:
    text = words_of(demo_comparison("terrace"))
    assert "best plan" in text
    assert not re.search(r"(?i)best so far|plan so far|priced so far", text)


#: One of something, and then a plural: "1 choices", "1 working days".
ONE_OF_MANY = re.compile(
    r"[^\n]*(?<![\d.,:/-])\b1 (?:[a-z-]+ )?(?!(?:this|is|was|has|as|its|less)\b)[a-z-]+s\b[^\n]*"
)


@pytest.mark.parametrize("demo", ["terrace", "courtyard", "fire-bowl"])
def test_a_demo_page_has_no_one_of_many(demo_comparison: Demo, demo: str) -> None:
    assert ONE_OF_MANY.findall(words_of(demo_comparison(demo))) == []


@settings(max_examples=12, deadline=None)
@given(st.data())
def test_what_there_is_one_of_is_told_in_the_singular(
    small_comparison: Callable[..., Comparison], data: st.DataObject
) -> None:
    whole = small_comparison()
    missing = (Missing("Permit", "Checklist", "Ask the building office."),) * 2
    assert whole.best is not None
    assert whole.best.priced is not None

    def fewer(found: tuple[T, ...]) -> tuple[T, ...]:
        return found[: data.draw(st.integers(0, 2))]

    priced = replace(
        whole.best.priced,
        orders=fewer(whole.best.priced.orders),
        lines=fewer(whole.best.priced.lines) or whole.best.priced.lines[:1],
        missing=(lacking := fewer(missing)),
    )
    best = replace(whole.best, priced=priced)
    found = replace(
        whole,
        best=best,
        scenarios=(best, *fewer(whole.scenarios[1:])),
        flips=fewer(whole.flips),
        frontier=fewer(whole.frontier),
        warnings=fewer(whole.warnings),
        assumed=fewer(whole.assumed),
        missing=lacking,
        complete=not lacking,
    )
    assert ONE_OF_MANY.findall(words_of(found)) == []


@pytest.mark.parametrize("demo", ["terrace", "courtyard", "fire-bowl"])
def test_a_demo_page_writes_no_more_digits_than_a_person_would(
    demo_comparison: Demo, demo: str
) -> None:
    text = words_of(demo_comparison(demo))
    assert re.findall(r"[^\n]*(?<![\d.,])0[.,]0+\d*\s%[^\n]*", text) == []
    assert re.findall(r"[^\n]*(?<![\d.,])0[.,]0 (?:working )?days?[^\n]*", text) == []


@pytest.mark.parametrize("demo", ["terrace", "courtyard", "fire-bowl"])
def test_a_measure_of_a_demo_page_is_not_torn_apart(demo_comparison: Demo, demo: str) -> None:
    # BIPM, SI Brochure, 9th edition, section 5.4.3: one space between a number and its unit
    text = words_of(demo_comparison(demo), "style|script|svg")  # drawings break no lines
    assert re.findall(r"\d %|\d (?:sq ft|cu yd|m²|m³|lb|kg)\b", text) == []
    assert re.search(r"\d\u00a0%", text)


@pytest.mark.parametrize("demo", ["terrace", "courtyard"])
def test_what_bids_leave_with_the_owner_is_said_once(demo_comparison: Demo, demo: str) -> None:
    comparison = demo_comparison(demo)
    said = {risk for bid in comparison.options.bids for risk in bid.risks}
    lines = [line.strip() for line in words_of(comparison).splitlines()]
    assert said
    assert {risk: lines.count(risk) for risk in said} == dict.fromkeys(said, 1)


def test_spoil_is_told_once_and_grown_by_its_swell(demo_comparison: Demo) -> None:
    """A circle 12 ft across with base 6 in past its edge is dug 13 ft across, 132.73 sq ft.

    4 in of base, 1 in of bedding and a paver of 2 3/8 in make 81.58 cu ft, 3.02 cu yd; common earth
    grows to 1.25 of it when dug (US Army FM 5-434 Table 1-1), 3.78 cu yd.
    """
    text = words_of(demo_comparison("fire-bowl")).replace("\xa0", " ")
    assert re.findall(r"([\d.]+) cu yd (in the ground|loose), ", text) == [
        ("3.02", "in the ground"),
        ("3.78", "loose"),
    ]


def test_what_was_laid_out_is_no_outside_source(demo_comparison: Demo) -> None:
    found = back.sources(View(demo_comparison("courtyard")))
    assert "US Army FM 5-434 Table 1-1" in found.read
    assert "roll out, overlap, pin" in found.habits
    every = " ".join((*found.read, *found.habits))
    assert "laid out" not in every
    assert "common practice" not in every


def test_what_no_bid_speaks_of_is_one_sentence(demo_comparison: Demo) -> None:
    found = choices.scope(View(demo_comparison("terrace")))
    assert found is not None
    assert found.table is not None
    for row in found.table.rows:
        assert set(row.cells[1:]) - {"not said", "–"}
        assert row.cells[0] not in found.unsaid
    assert "Permit and setback check" in found.unsaid
