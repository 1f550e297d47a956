"""A border of pavers along the edge: whole units side by side, mitred at the corners.

A soldier course stands with its length across the edge, a sailor course lies along it. Each run
of edge is counted by its longer side: the outer one, or at a hollow corner the inner one. On a
curve so tight that whole units would leave a joint too wide, every unit is cut to a taper.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass

from budget.figures import Figure, laid_out
from budget.numerals import grouped, how_many
from budget.quantities.formulas.spares import in_words, to_order
from budget.quantities.laid.bonds import WIDEST_JOINT
from budget.quantities.plan.parts import Ring
from budget.units import AREA, COUNT, LENGTH, whole_packs

#: Sides that turn by less than this against each other (degrees) are one curved run.
_BENT = 25.0
_TIGHT = 1e-6  # m, what rounding leaves of a unit


@dataclass(frozen=True, slots=True)
class Face:
    """One unit of a border as it stands: how far it reaches inwards and along the edge [m]."""

    deep: float  # with a joint
    pitch: float  # with a joint
    joint: float

    @property
    def reach(self) -> float:
        """How far a unit itself reaches inwards [m]."""
        return self.deep - self.joint


@dataclass(frozen=True, slots=True)
class Run:
    """A straight side or a curve of a ring, from corner to corner, against the clock."""

    points: Ring  # on the outer side
    turns: tuple[float, ...]  # at its ends [rad], hollow ones below 0; none: it closes on itself
    bends: float  # how far it turns in between, whichever way [rad]
    past: tuple[float, float]  # m, how much longer the inner side is at hollow ends
    length: float  # m, of the longer side

    def units(self, face: Face) -> int:
        """Units that fill it, a part of one counted as one; less than a joint is left to it."""
        return max(1, whole_packs((self.length - face.joint) / face.pitch))

    def tapered(self, face: Face) -> bool:
        """Whether whole units would leave joints that are too wide on its outer side."""
        return self.bends * face.reach > self.units(face) * WIDEST_JOINT

    def cut(self, face: Face) -> frozenset[int]:
        """Which of its units are cut: those in the mitres at its ends, or all of a tight curve."""
        count = self.units(face)
        if self.tapered(face):
            return frozenset(range(count))
        if not self.turns:
            return frozenset()
        step = face.pitch if len(self.points) == 2 else self.length / count
        start, end = (face.reach * math.tan(_limited(turn) / 2) for turn in self.turns)
        half = face.joint / 2
        first = whole_packs(max(0.0, start - half) / step)
        last = math.floor((self.length - end + half) / step + _TIGHT)
        return frozenset([*range(min(first, count)), *range(max(0, last), count)])

    def cut_length(self, face: Face) -> float:
        """Length of the cuts at its mitred ends, and of the tapers of a tight curve [m]."""
        tapers = face.reach * self.units(face) if self.tapered(face) else 0.0
        return tapers + sum(face.reach / math.cos(_limited(turn) / 2) for turn in self.turns)


@dataclass(frozen=True, slots=True)
class Border:
    """The border of some outlines: its units, and what it leaves to the field."""

    item: str
    course: str
    units: Figure
    cut: Figure  # units cut at mitred corners, and on tight curves
    cut_length: Figure  # m
    area: Figure  # m² that the border takes off the field
    field: tuple[tuple[Ring, ...], ...]
    outlines: tuple[tuple[Ring, ...], ...]  # of the border and the field together
    face: Face

    def order(self, spares: Figure) -> Figure:
        """Units to order, with broken and spoiled ones and the share of spares to keep [count]."""
        return to_order(self.item, self.units, self.cut, spares)

    def why(self, spares: Figure) -> str:
        """How the count came about, in words."""
        cut = (
            f", {grouped(self.cut.value)} of them cut at mitres or bends" if self.cut.value else ""
        )
        units = how_many(self.units.value, "unit")
        course = f"{self.course.capitalize()} course along the edge: {units}"
        return f"{course}{cut}. {in_words(self.units, spares)}"


def border_of(
    part: str,
    item: str,
    course: str,
    sizes: tuple[float, float, float],
    outlines: Sequence[tuple[Ring, ...]],
) -> Border:
    """The border along the outer edge of outlines.

    :param course: soldier or sailor
    :param sizes: true length and width of the unit and its joint [m]
    :param outlines: outer ring, then holes, of each outline [m]
    """
    length, width, joint = sizes
    long, wide = max(length, width) + joint, min(length, width) + joint
    face = Face(*((wide, long) if course == "sailor" else (long, wide)), joint)
    found = [run for outline in outlines for run in runs(outline[0], face.reach)]
    units = sum(run.units(face) for run in found)
    cut = sum(len(run.cut(face)) for run in found)
    mitres = sum(run.cut_length(face) for run in found)
    field = _inside(outlines, face.deep)
    strip = sum(_area(outline) for outline in outlines) - sum(_area(outline) for outline in field)
    key, source = f"border of {item}, {part}, {course}", f"{course} course laid along the outline"
    return Border(
        item,
        course,
        laid_out(units, COUNT, "border units", f"{key}: units", source),
        laid_out(cut, COUNT, "border units cut", f"{key}: cut", source),
        laid_out(mitres, LENGTH, "cuts at border corners", f"{key}: cuts", source),
        laid_out(strip, AREA, "area of the border", f"{key}: area", source),
        field,
        tuple(outlines),
        face,
    )


def runs(ring: Ring, deep: float) -> list[Run]:
    """Straight sides and curves of a ring.

    :param deep: how far its units reach inwards [m]

    >>> found = runs(((0, 0), (3, 0), (3, 2), (0, 2)), 0.2)
    >>> [(round(run.length, 3), len(run.turns)) for run in found]
    [(3.0, 2), (2.0, 2), (3.0, 2), (2.0, 2)]
    """
    points = ring if _signed(ring) > 0 else ring[::-1]
    count = len(points)
    turns = [_turn(points[i - 1], points[i], points[(i + 1) % count]) for i in range(count)]
    corners = [i for i in range(count) if abs(turns[i]) > math.radians(_BENT)]
    if not corners:
        return [_run((*points, points[0]), (), turns, deep)]
    found = []
    for start, end in zip(corners, [*corners[1:], corners[0] + count], strict=True):
        line = tuple(points[i % count] for i in range(start, end + 1))
        between = [turns[i % count] for i in range(start + 1, end)]
        found.append(_run(line, (turns[start], turns[end % count]), between, deep))
    return found


def _run(line: Ring, ends: tuple[float, ...], between: Sequence[float], deep: float) -> Run:
    past = [deep * math.tan(_limited(turn) / 2) if turn < 0 else 0.0 for turn in ends]
    start, end = past or (0.0, 0.0)
    hollow = sum(2 * deep * math.tan(-turn / 2) for turn in between if turn < 0)
    outer = sum(math.dist(a, b) for a, b in itertools.pairwise(line))
    bends = sum(abs(turn) for turn in between)
    return Run(line, ends, bends, (start, end), outer + hollow + start + end)


def _limited(turn: float) -> float:
    return min(abs(turn), math.radians(150))


def _turn(
    before: tuple[float, float], here: tuple[float, float], after: tuple[float, float]
) -> float:
    entering = math.atan2(here[1] - before[1], here[0] - before[0])
    leaving = math.atan2(after[1] - here[1], after[0] - here[0])
    return math.remainder(leaving - entering, 2 * math.pi)


def _signed(ring: Ring) -> float:
    sides = zip(ring, (*ring[1:], ring[0]), strict=True)
    return sum(a[0] * b[1] - b[0] * a[1] for a, b in sides) / 2


def _area(outline: tuple[Ring, ...]) -> float:
    return abs(_signed(outline[0])) - sum(abs(_signed(hole)) for hole in outline[1:])


def _inside(outlines: Sequence[tuple[Ring, ...]], deep: float) -> tuple[tuple[Ring, ...], ...]:
    """What the border leaves of the outlines."""
    from shapely import Polygon

    from budget.quantities.plan.regions import rings, union

    left = []
    for outline in outlines:
        inner = Polygon(outline[0]).buffer(-deep, join_style="mitre")
        left.append(inner.difference(union([Polygon(hole) for hole in outline[1:]])))
    return rings(union(left))
