"""The laid patterns of the page: a drawing each, and its count in words."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from budget.report.drawing.pattern import pattern
from budget.report.laid import laid_of, laid_words
from budget.report.page.view import View

if TYPE_CHECKING:
    from markupsafe import Markup


@dataclass(frozen=True, slots=True)
class Laid:
    """One pattern: a heading, the drawing, and what it shows."""

    title: str
    drawing: Markup
    words: str


def patterns(view: View) -> list[Laid]:
    """Every pattern laid out, part by part."""
    found: list[Laid] = []
    for part, laid in laid_of(view.comparison.takeoff):
        title = f"{part}: {laid.item}, {laid.pattern}"
        drawing = pattern(f"pattern-{len(found) + 1}", title, laid)
        found.append(Laid(title, drawing, laid_words(laid, "shaded")))
    return found
