"""Words of the summary page: true of the job at hand, and as a person would write them."""

from __future__ import annotations

import html
import re
from collections.abc import Callable

from budget.decide.plan import Comparison
from budget.numerals import written
from budget.report.page import render

Demo = Callable[[str], Comparison]


def words_of(comparison: Comparison) -> str:
    """Everything that a page says, one text of an element after another."""
    with written(comparison.job.settings.manner):
        page = render(comparison)
    page = re.sub(r"<(style|script)\b.*?</\1>", "", page, flags=re.DOTALL)
    return html.unescape(re.sub(r"<[^>]+>", "\n", page))


def test_a_plan_whose_prices_are_missing_is_best_only_so_far(demo_comparison: Demo) -> None:
    comparison = demo_comparison("fire-bowl")
    assert comparison.missing
    text = words_of(comparison)
    loose = r"(?i)\bbest\b(?! mix\b| so far| plan so far)[^\n]*"
    assert [found for found in re.findall(loose, text) if found] == []
    assert "Proved the cheapest way of what is priced so far" in text
    assert "Of what is priced so far, least cash" in text


def test_a_plan_without_gaps_is_called_best(demo_comparison: Demo) -> None:
    text = words_of(demo_comparison("terrace"))
    assert "best plan" in text
    assert "so far" not in text
