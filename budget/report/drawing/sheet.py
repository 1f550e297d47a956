"""Where the parts of a measured drawing stand on its sheet, and the one scale they share."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import TYPE_CHECKING

from budget.report.drawing.outline import Point, box, heart, inside
from budget.units import System

if TYPE_CHECKING:
    from budget.quantities.takeoff import PartGeometry

_LEFT, _RIGHT, _ABOVE, _BELOW = 36.0, 14.0, 26.0, 40.0  # px kept free around one cell
_BOLD = 7.6  # px, the usual width of one bold character

Ring = tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class Shape:
    """One outline; dashed where its part may be left out."""

    ring: Ring
    optional: bool = False


@dataclass(frozen=True, slots=True)
class Mark:
    """A point on the plan with a word to it: which kind, where (m), and what is written."""

    kind: str  # ground, sill, drop
    at: Point
    words: str


@dataclass(frozen=True, slots=True)
class Fall:
    """The way a part falls (radians from x), drawn as an arrow with a word to it."""

    part: str
    toward: float
    words: str


@dataclass(frozen=True, slots=True)
class Site:
    """What lies on and around placed parts, in m on the plan."""

    edges: tuple[tuple[str, Ring], ...] = ()  # held, joined or house, and the line
    standing: tuple[tuple[str, Ring], ...] = ()  # walls, rings, columns and steps
    runs: tuple[tuple[str, Ring], ...] = ()  # trenches and pads
    marks: tuple[Mark, ...] = ()
    falls: tuple[Fall, ...] = ()

    def reach(self) -> tuple[Point, ...]:
        """Every point that the drawing has to hold."""
        rings = [ring for _, ring in (*self.standing, *self.runs)]
        return tuple(p for ring in rings for p in ring) + tuple(m.at for m in self.marks)


NOWHERE = Site()


@dataclass(frozen=True)
class Cell:
    """Shapes drawn together under one title, and where they stand on the sheet (px).

    Its corners are worked out once: every point drawn asks for them.
    """

    title: str
    shapes: tuple[Shape, ...]
    holes: tuple[Ring, ...]
    names: tuple[tuple[Point, str], ...] = ()  # names written inside, in m on the plan
    site: Site = NOWHERE
    x: float = 0.0
    y: float = 0.0

    @cached_property
    def low(self) -> Point:
        """The lower left corner, in m."""
        return box([point for shape in self.shapes for point in shape.ring])[0]

    @cached_property
    def high(self) -> Point:
        """The upper right corner, in m."""
        return box([point for shape in self.shapes for point in shape.ring])[1]

    @cached_property
    def whole(self) -> tuple[Point, Point]:
        """The corners around the shapes and everything beside them, in m."""
        return box([self.low, self.high, *self.site.reach()])

    def drawn(self, scale: float) -> float:
        """The width of the shapes with their dimensions, in px."""
        low, high = self.whole
        return (high[0] - low[0]) * scale + _LEFT + self._right

    @property
    def _right(self) -> float:
        """Room at the right, more where words stand at a mark there, in px."""
        edge = self.whole[1][0]
        words = [m.words for m in self.site.marks if edge - m.at[0] < 0.5]
        return _RIGHT + max((len(w) * _BOLD for w in words), default=0.0)

    def wide(self, scale: float, width: float) -> float:
        """The width of the shapes and their title, in px."""
        return max(self.drawn(scale), min(len(self.title) * _BOLD + 4, width))

    def tall(self, scale: float) -> float:
        """The height with title and dimensions, in px."""
        low, high = self.whole
        return (high[1] - low[1]) * scale + _ABOVE + _BELOW

    def at(self, point: Point, scale: float) -> Point:
        """A point of the plan (m, y up) on the sheet (px, y down)."""
        low, high = self.whole
        return (
            self.x + _LEFT + (point[0] - low[0]) * scale,
            self.y + _ABOVE + (high[1] - point[1]) * scale,
        )


@dataclass(frozen=True, slots=True)
class Sheet:
    """Every cell in its place, the px per metre, and the lowest y used."""

    cells: tuple[Cell, ...]
    scale: float
    bottom: float


def sheet(parts: Sequence[PartGeometry], system: System, width: int, site: Site = NOWHERE) -> Sheet:
    """The parts at the largest scale at which they fit the width and a readable height."""
    cells = _together([part for part in parts if part.placed and part.outlines], system, site)
    cells += [cell for part in parts if not part.placed for cell in _apart(part, system)]
    short = [replace(cell, title=_shortened(cell.title, width)) for cell in cells]
    most = max(width * 0.8, 620.0)
    scale = 200.0
    while scale > 0.05 and (
        any(cell.drawn(scale) > width for cell in short) or _place(short, scale, width)[1] > most
    ):
        scale *= 0.97
    placed, bottom = _place(short, scale, width)
    return Sheet(tuple(placed), scale, bottom)


def _together(parts: Sequence[PartGeometry], system: System, site: Site) -> list[Cell]:
    """Parts that have a place on the plan, as they lie."""
    if len(parts) < 2:
        return [replace(_whole(part, system), site=site) for part in parts]
    shapes = tuple(Shape(ring, part.optional) for part in parts for ring in part.outlines)
    holes = tuple(hole for part in parts for hole in part.holes)
    taken = [ring for _, ring in site.standing] + [_around(mark.at) for mark in site.marks]
    names = tuple((heart(part.outlines[0], [*part.holes, *taken]), part.part) for part in parts)
    return [Cell("As the parts lie", shapes, holes, names, site)]


def _around(point: Point) -> Ring:
    """A small square about a point, which names keep clear of."""
    x, y = point
    return ((x - 0.1, y - 0.1), (x + 0.1, y - 0.1), (x + 0.1, y + 0.1), (x - 0.1, y + 0.1))


def _apart(part: PartGeometry, system: System) -> list[Cell]:
    """A part without a place: each shape apart where the sketch does not say how they lie.

    Polygons lie together as their corners say, and have no labels.
    """
    if not part.outlines:
        return []
    if len(part.outlines) == 1 or not part.labels:
        return [_whole(part, system)]
    count = len(part.outlines)
    return [
        Cell(
            f"{part.part}, shape {i} of {count}{_kept(part)}",
            (Shape(ring, part.optional),),
            tuple(hole for hole in part.holes if inside(_middle(hole), ring)),
        )
        for i, ring in enumerate(part.outlines, 1)
    ]


def _whole(part: PartGeometry, system: System) -> Cell:
    title = f"{part.part}, {part.area.words(system)}{_kept(part)}"
    return Cell(title, tuple(Shape(ring, part.optional) for ring in part.outlines), part.holes)


def _kept(part: PartGeometry) -> str:
    return ", optional" if part.optional else ""


def _middle(ring: Ring) -> Point:
    (x1, y1), (x2, y2) = box(ring)
    return (x1 + x2) / 2, (y1 + y2) / 2


def _shortened(title: str, width: int) -> str:
    """A title that fits the sheet; the table behind the drawing has the whole name."""
    most = int(width / _BOLD)
    return title if len(title) <= most else title[: most - 1].rstrip() + "…"


def _place(cells: Sequence[Cell], scale: float, width: int) -> tuple[list[Cell], float]:
    """Cells from left to right in rows, bottoms of a row level, and the lowest y used."""
    rows: list[list[Cell]] = [[]]
    used = 0.0
    for cell in cells:
        if rows[-1] and used + cell.wide(scale, width) > width:
            rows.append([])
            used = 0.0
        rows[-1].append(cell)
        used += cell.wide(scale, width)
    placed, top = [], 0.0
    for row in rows:
        tall = max((cell.tall(scale) for cell in row), default=0.0)
        left = 0.0
        for cell in row:
            placed.append(replace(cell, x=left, y=top + tall - cell.tall(scale)))
            left += cell.wide(scale, width)
        top += tall
    return placed, top
