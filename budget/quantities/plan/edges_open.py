"""Which edges of a shape are open: past those the dig and the base run on, those are held.

An edge against the house or against other paving is neither dug past nor held by a restraint.
Covered edge is taken off the straight edge first, because walls are straight.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field, replace

from budget.figures import Figure, constant, laid_out, largest, minus, smallest, total
from budget.job import Area
from budget.quantities.formulas.shapes import Measured
from budget.units import LENGTH, NUMBER
from budget.wording import listed

#: An edge named by the row that is longer than the plan's by less than this share is the same.
_AS_NAMED = 0.02


@dataclass(frozen=True, slots=True)
class Edges:
    """The edges of one shape, in m, and the corner factor of its open ones."""

    whole: Figure
    open_straight: Figure
    open_curved: Figure
    free_straight: Figure  # not against other paving: pavers are cut to it
    free_curved: Figure
    corners: Figure

    @property
    def open(self) -> Figure:
        """All open edge."""
        return _sum("open edge", self.open_straight, self.open_curved)


@dataclass(slots=True)
class Lengths:
    """Edge of one shape that shows on the plan, and how much of it is against other paving [m]."""

    straight: float = 0.0
    curved: float = 0.0
    shared_straight: float = 0.0
    shared_curved: float = 0.0
    beside: set[str] = field(default_factory=set)  # the parts it is shared with


def edges_of(row: Area, shape: Measured) -> Edges:
    """The edges of one shape less what lies against the house or other paving.

    Open edge is never below zero, whatever the row says.
    """
    whole = _sum("edge", shape.straight, shape.curved)
    house = _covered(row, "house_edge", "edge against the house")
    joined = _covered(row, "joined_edge", "edge against other paving")
    open_straight, open_curved = _less(shape, [f for f in (house, joined) if f])
    free_straight, free_curved = _less(shape, [joined] if joined else [])
    factor = open_corners(row, shape)
    corners = constant(factor, NUMBER, "corners of the open edge")
    return Edges(whole, open_straight, open_curved, free_straight, free_curved, corners)


def edges_on_plan(row: Area, whole: Measured, left: Measured, found: Lengths) -> Edges:
    """The edges of a placed shape: what shows on the plan, less what lies against something.

    :param whole: the shape by itself
    :param left: the shape on the plan: its area, the edge that shows, its corners
    :param found: how much of that edge is against other paving; where the row names a longer
        edge against other paving than the plan finds for this shape, beside other parts and
        beside shapes of its own part, the rest is taken off too
    """
    words = "edge against " + (listed(sorted(found.beside)) or "other paving")
    key = f"plan {words} {row.cell('x')}"
    shared = laid_out(found.shared_straight, LENGTH, words, key, "the plan")
    curved = laid_out(found.shared_curved, LENGTH, words, f"{key} curve", "the plan")
    named = _covered(row, "joined_edge", "edge against other paving")
    if named:
        shared = _named_beyond(named, shared, found, _hidden(whole, left), key)
    house = _covered(row, "house_edge", "edge against the house")
    joined = [shared] if shared.value > 0 else []
    rest = left
    if found.shared_curved > 0:
        alone = minus("curved edge not shared", left.curved, curved)
        rest = replace(
            left, curved=largest("open curved edge", constant(0, LENGTH, "least possible"), alone)
        )
    open_straight, open_curved = _less(rest, [*([house] if house else []), *joined])
    free_straight, _ = _less(left, joined)
    by_house = open_corners(replace(row, joined_edge=0.0), whole)
    taken = whole.corners - by_house if house else 0.0
    corners = constant(left.corners - taken, NUMBER, "corners of the open edge")
    return Edges(
        whole=_sum("edge", left.straight, left.curved),
        open_straight=open_straight,
        open_curved=open_curved,
        free_straight=free_straight,
        free_curved=left.curved,
        corners=corners,
    )


def _hidden(whole: Measured, left: Measured) -> float:
    """Edge that lies inside its part, against another shape of it [m]."""
    shown = left.straight.value + left.curved.value
    return max(0.0, whole.straight.value + whole.curved.value - shown)


def _named_beyond(named: Figure, shared: Figure, found: Lengths, hidden: float, key: str) -> Figure:
    """Straight edge against other paving: as the plan shows, and what the row names beyond it."""
    shown = found.shared_straight + found.shared_curved + hidden
    if named.value <= shown * (1 + _AS_NAMED):
        return shared
    known = laid_out(shown, LENGTH, "edge against paving on the plan", f"{key} known", "the plan")
    beyond = minus("named edge beyond the plan's", named, known)
    return total(shared.name, (shared, beyond)) if shared.value > 0 else beyond


def _covered(row: Area, name: str, words: str) -> Figure | None:
    return row.figure(name, LENGTH, words) if getattr(row, name) > 0 else None


def _less(shape: Measured, covered: list[Figure]) -> tuple[Figure, Figure]:
    """Straight and curved edge less what is covered, the straight edge covered first."""
    straight, curved = shape.straight, shape.curved
    if not covered:
        return straight, curved
    nothing = constant(0, LENGTH, "nothing")
    taken = covered[0] if len(covered) == 1 else total("covered edge", covered)
    left = minus("straight edge less covered", straight, taken)
    open_straight = largest("open straight edge", nothing, left)
    if not curved.value:
        return open_straight, curved
    rest = minus("covered beyond the straight edge", taken, straight)
    beyond = largest("covered beyond the straight edge", nothing, rest)
    on_curve = smallest("covered curved edge", beyond, curved)
    return open_straight, minus("open curved edge", curved, on_curve)


def open_corners(row: Area, shape: Measured) -> float:
    """The corner factor of the open edge: corners at a covered side gain nothing.

    A covered run as long as one side of a rectangle takes two of its four corners, one as long
    as two sides three. A run that matches no side, on another shape, takes its share.
    """
    runs = [run for run in (row.house_edge, row.joined_edge) if run > 0]
    if not runs:
        return shape.corners
    if row.shape == "rectangle" and row.length and row.width:
        taken = sum(_corners_taken(run, row.length, row.width) for run in runs)
        shared = len(runs) == 2 and _neighbours(runs, row.length, row.width)
        return float(max(0, 4 - taken + shared))
    if row.shape == "half circle" and row.diameter and _same(sum(runs), row.diameter):
        return math.pi / 2
    if row.shape == "quarter circle" and row.diameter:
        if _same(sum(runs), row.diameter):
            return math.pi / 4
        if _same(sum(runs), row.diameter / 2):
            return math.pi / 4 + 1
    around = shape.straight.value + shape.curved.value
    return shape.corners * max(0.0, 1 - sum(runs) / around)


def _neighbours(runs: list[float], length: float, width: float) -> bool:
    """Whether two runs are one length and one width, which share a corner."""
    return any(_same(a, length) and _same(b, width) for a, b in (runs, runs[::-1]))


def _corners_taken(run: float, length: float, width: float) -> int:
    if _same(run, length) or _same(run, width):
        return 2
    if _same(run, length + width):
        return 3
    if run < min(length, width):
        return 0
    return 2 if run < length + width else 4


def _same(a: float, b: float) -> bool:
    return math.isclose(a, b, rel_tol=0.01)


def _sum(name: str, *figures: Figure) -> Figure:
    kept = [f for f in figures if f.value] or [figures[0]]
    return kept[0].called(name) if len(kept) == 1 else total(name, kept)
