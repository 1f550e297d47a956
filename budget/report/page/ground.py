"""The measured drawing with its title block, once for narrow and once for wide screens."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from budget.quantities.takeoff import PartGeometry
from budget.report import words
from budget.report.drawing.marks import KEY, sample
from budget.report.drawing.plan import plan
from budget.report.drawing.site import drops, kinds, notes, site
from budget.report.page.amounts import parts
from budget.report.page.view import Table, View
from budget.wording import listed

if TYPE_CHECKING:
    from markupsafe import Markup

WIDE, NARROW = 720, 328


@dataclass(frozen=True, slots=True)
class Ground:
    """The section: two sizes of one drawing, its title block, and the numbers behind it."""

    wide: Markup | None
    narrow: Markup | None
    block: tuple[tuple[str, str], ...]
    key: tuple[tuple[Markup, str], ...]  # a sample of each line and sign, and what it means
    undrawn: tuple[str, ...]
    notes: tuple[str, ...]  # what belongs to the drawing and has no place on it
    table: Table


def _standing(drawn: Sequence[PartGeometry]) -> str:
    """What the drawing shows, and what it cannot know."""
    loose = [part for part in drawn if not part.placed]
    if any(part.holes or len(part.outlines) > 1 for part in loose):
        return "shapes to one scale; where they and their cut-outs lie is not given"
    if len(drawn) == 1:
        return "to one scale"
    if len(loose) == len(drawn):
        return "parts to one scale, side by side"
    return "parts to one scale, as they lie" + ("; others beside them" if loose else "")


def ground(view: View) -> Ground:
    """The drawing of every part that has an outline."""
    takeoff = view.comparison.takeoff
    drawn = [p for p in takeoff.parts if p.outlines]
    title = f"Measured drawing of {listed(p.part for p in drawn)}, to one scale"
    settings = view.comparison.job.settings
    around = site(view.comparison.job, takeoff)
    shown = set(kinds(around, drawn))
    unit = "feet and inches" if view.system == "imperial" else "metres"
    return Ground(
        plan("plan-wide", title, drawn, view.system, WIDE, around) if drawn else None,
        plan("plan-narrow", title, drawn, view.system, NARROW, around) if drawn else None,
        (
            ("Job", settings.name),
            ("Drawing", _standing(drawn)),
            ("Dimensions", f"in {unit}"),
            *((("Carried from", carried),) if (carried := drops(view.comparison.job)) else ()),
            ("Prices as of", words.date(settings.as_of)),
        ),
        tuple((sample(kind), meaning) for kind, meaning in KEY.items() if kind in shown),
        tuple(p.part for p in takeoff.parts if not p.outlines),
        notes(view.comparison.job, takeoff),
        parts(view),
    )
