"""A border of pavers along the edge: whole units side by side, mitred at the corners.

A soldier course stands with its length across the edge, a sailor course lies along it. Each run
of edge is counted by its longer side: the outer one, or at a hollow corner the inner one.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from budget.figures import Figure, laid_out
from budget.numerals import grouped
from budget.quantities.parts import Ring
from budget.quantities.spares import in_words, to_order
from budget.units import AREA, COUNT, LENGTH, whole_packs

#: Sides that turn by less than this against each other (degrees) are one curved run.
_BENT = 25.0


@dataclass(frozen=True, slots=True)
class Border:
    """The border of some outlines: its units, and what it leaves to the field."""

    item: str
    course: str
    units: Figure
    cut: Figure  # units cut at mitred corners
    cut_length: Figure  # m
    area: Figure  # m² that the border takes off the field
    field: tuple[tuple[Ring, ...], ...]

    def order(self, spares: Figure) -> Figure:
        """Units to order, with broken and spoiled ones and the share of spares to keep [count]."""
        return to_order(self.item, self.units, self.cut, spares)

    def why(self, spares: Figure) -> str:
        """How the count came about, in words."""
        cut = f", {grouped(self.cut.value)} of them cut at mitred corners" if self.cut.value else ""
        units = (
            f"{self.course.capitalize()} course along the edge: {grouped(self.units.value)} units"
        )
        return f"{units}{cut}. {in_words(self.units, spares)}"


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
    long, wide = max(sizes[:2]) + sizes[2], min(sizes[:2]) + sizes[2]
    deep, pitch = (wide, long) if course == "sailor" else (long, wide)
    units = cut = 0
    mitres = 0.0
    for outline in outlines:
        for length, corners in runs(outline[0], deep):
            units += whole_packs(length / pitch)
            for turn in corners:
                cut += whole_packs(deep * math.tan(turn / 2) / pitch)
                mitres += deep / math.cos(turn / 2)
    field = _inside(outlines, deep)
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
    )


def runs(ring: Ring, deep: float) -> list[tuple[float, tuple[float, ...]]]:
    """Straight sides and curves of a ring: the longer side [m], and the turns at its ends.

    :param deep: depth of the border inside the ring [m]

    >>> found = runs(((0, 0), (3, 0), (3, 2), (0, 2)), 0.2)
    >>> [(round(long, 3), len(turns)) for long, turns in found]
    [(3.0, 2), (2.0, 2), (3.0, 2), (2.0, 2)]
    """
    points = ring if _signed(ring) > 0 else ring[::-1]
    count = len(points)
    turns = [_turn(points[i - 1], points[i], points[(i + 1) % count]) for i in range(count)]
    corners = [i for i in range(count) if abs(turns[i]) > math.radians(_BENT)]
    if not corners:
        return [(_length(points, 0, count), ())]
    found = []
    for start, end in zip(corners, [*corners[1:], corners[0] + count], strict=True):
        length = _length(points, start, end)
        ends = turns[start], turns[end % count]
        length += sum(deep * math.tan(-turn / 2) for turn in ends if turn < 0)
        found.append((length, tuple(min(abs(turn), math.radians(150)) for turn in ends)))
    return found


def _length(points: Ring, start: int, end: int) -> float:
    count = len(points)
    return sum(math.dist(points[i % count], points[(i + 1) % count]) for i in range(start, end))


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

    from budget.quantities.regions import rings, union

    left = []
    for outline in outlines:
        inner = Polygon(outline[0]).buffer(-deep, join_style="mitre", mitre_limit=5)
        left.append(inner.difference(union([Polygon(hole) for hole in outline[1:]])))
    return rings(union(left))
