"""The laid patterns of the page: a drawing each, and its count in words."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from budget.numerals import grouped
from budget.quantities.takeoff import PatternDrawing
from budget.report.page_view import View
from budget.report.svg_pattern import pattern

if TYPE_CHECKING:
    from markupsafe import Markup

#: Pavers drawn one by one on a whole page; beyond them only the cut ones are.
_MOST = 8000


@dataclass(frozen=True, slots=True)
class Laid:
    """One pattern: a heading, the drawing, and what it shows."""

    title: str
    drawing: Markup
    words: str


def patterns(view: View) -> list[Laid]:
    """Every pattern laid out, part by part."""
    found: list[Laid] = []
    left = _MOST
    for part in view.comparison.takeoff.parts:
        for laid in part.laid:
            left -= len(laid.whole) + len(laid.cut)
            kept = laid if left >= 0 else _cut_only(laid)
            title = f"{part.part}: {laid.item}, {laid.pattern}"
            drawing = pattern(f"pattern-{len(found) + 1}", title, kept)
            found.append(Laid(title, drawing, _words(kept)))
    return found


def _cut_only(laid: PatternDrawing) -> PatternDrawing:
    return replace(laid, whole=())


def _words(laid: PatternDrawing) -> str:
    start = (
        f"Laying starts at the {laid.start}."
        if laid.start
        else "Each shape starts at a corner of its own."
    )
    border = _border(laid)
    if not laid.whole and laid.cut:
        alone = f"{grouped(len(laid.cut))} cut pieces, drawn alone: whole pavers would blur."
        return f"{alone}{border} {start}"
    cut = f"{grouped(len(laid.cut))} cut pieces (shaded)" if laid.cut else "none cut"
    return f"{grouped(len(laid.whole))} whole pavers and {cut}.{border} {start}"


def _border(laid: PatternDrawing) -> str:
    if not laid.border:
        return ""
    cut = len(laid.border_cut)
    units = len(laid.border_whole) + cut
    some = "none" if not cut else "all" if cut == units else f"{grouped(cut)} of them"
    return f" Along the edge a {laid.border}: {grouped(units)} units, {some} cut."
