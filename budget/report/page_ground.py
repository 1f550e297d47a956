"""The measured drawing with its title block, once for narrow and once for wide screens."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from budget.quantities.takeoff import PartGeometry
from budget.report import words
from budget.report.page_amounts import parts
from budget.report.page_view import Table, View
from budget.report.svg_plan import plan

if TYPE_CHECKING:
    from markupsafe import Markup

WIDE, NARROW = 720, 328


@dataclass(frozen=True, slots=True)
class Ground:
    """The section: two sizes of one drawing, its title block, and the numbers behind it."""

    wide: Markup | None
    narrow: Markup | None
    block: tuple[tuple[str, str], ...]
    undrawn: tuple[str, ...]
    table: Table


def _standing(drawn: Sequence[PartGeometry]) -> str:
    """What the drawing shows, and what it cannot know."""
    loose = [part for part in drawn if not part.placed]
    if any(part.holes or len(part.outlines) > 1 for part in loose):
        return "shapes to one scale; where they and their cut-outs lie is not given"
    if len(loose) == len(drawn):
        return "parts to one scale, side by side"
    return "parts to one scale, as they lie" + ("; others beside them" if loose else "")


def ground(view: View) -> Ground:
    """The drawing of every part that has an outline."""
    takeoff = view.comparison.takeoff
    drawn = [p for p in takeoff.parts if p.outlines]
    title = f"Measured drawing of {words.listed(p.part for p in drawn)}, to one scale"
    settings = view.comparison.job.settings
    unit = "feet and inches" if view.system == "imperial" else "metres"
    return Ground(
        plan("plan-wide", title, drawn, view.system, WIDE) if drawn else None,
        plan("plan-narrow", title, drawn, view.system, NARROW) if drawn else None,
        (
            ("Job", settings.name),
            ("Drawing", _standing(drawn)),
            ("Dimensions", f"in {unit}"),
            ("Prices as of", words.date(settings.as_of)),
        ),
        tuple(p.part for p in takeoff.parts if not p.outlines),
        parts(view),
    )
