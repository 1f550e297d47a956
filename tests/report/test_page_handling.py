"""What the page says of weights to handle, and of stock that no saw cuts."""

from __future__ import annotations

import re
from collections.abc import Callable
from html import unescape

import pytest

from budget.decide.outcome import Comparison
from budget.quantities.needs.handling import weights_by_step
from budget.report.page import page

Demo = Callable[[str], Comparison]


def text(html: str) -> str:
    return re.sub(r"\s+", " ", unescape(re.sub(r"<[^>]+>", " ", html)))


@pytest.fixture(scope="module")
def rendered(demo_comparison: Demo) -> tuple[Comparison, str]:
    found = demo_comparison("terrace")
    return found, page.render(found)


def test_weight_by_step_is_that_of_the_needs(rendered: tuple[Comparison, str]) -> None:
    """Each step's row has the sum of the weights of what is used in it."""
    found, html = rendered
    said = text(html)
    said = said[said.index("To carry and handle, by step") :]
    for row in weights_by_step(found.takeoff.needs):
        if not row.weight.value:
            continue
        weights = [
            need.weight.value
            for need in found.takeoff.needs
            if (need.step, need.bedding) == (row.step, row.bedding) and need.weight
        ]
        assert sum(weights) == pytest.approx(row.weight.value)
        only = f" (with {row.bedding} bedding)" if row.bedding else ""
        assert f"{row.step}{only} {row.weight.words('imperial')}" in said


def test_rolls_are_drawn_without_a_word_of_the_saw(rendered: tuple[Comparison, str]) -> None:
    """The terrace has geotextile off its rolls and nothing that is sawn."""
    found, html = rendered
    assert [plan.unit for plan in found.takeoff.cutting] == ["roll"]
    assert "Cutting plan of Geotextile" in text(html)
    assert "at the saw" not in text(html)
    assert "each cut of the saw" not in text(html)
