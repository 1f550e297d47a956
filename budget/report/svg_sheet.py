"""Where the parts of a measured drawing stand on its sheet, and the one scale they share."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from budget.report.svg_outline import Point, box, heart, inside
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
class Cell:
    """Shapes drawn together under one title, and where they stand on the sheet (px)."""

    title: str
    shapes: tuple[Shape, ...]
    holes: tuple[Ring, ...]
    names: tuple[tuple[Point, str], ...] = ()  # names written inside, in m on the plan
    x: float = 0.0
    y: float = 0.0

    @property
    def low(self) -> Point:
        """The lower left corner, in m."""
        return box([point for shape in self.shapes for point in shape.ring])[0]

    @property
    def high(self) -> Point:
        """The upper right corner, in m."""
        return box([point for shape in self.shapes for point in shape.ring])[1]

    def drawn(self, scale: float) -> float:
        """The width of the shapes with their dimensions, in px."""
        return (self.high[0] - self.low[0]) * scale + _LEFT + _RIGHT

    def wide(self, scale: float, width: float) -> float:
        """The width of the shapes and their title, in px."""
        return max(self.drawn(scale), min(len(self.title) * _BOLD + 4, width))

    def tall(self, scale: float) -> float:
        """The height with title and dimensions, in px."""
        return (self.high[1] - self.low[1]) * scale + _ABOVE + _BELOW

    def at(self, point: Point, scale: float) -> Point:
        """A point of the plan (m, y up) on the sheet (px, y down)."""
        return (
            self.x + _LEFT + (point[0] - self.low[0]) * scale,
            self.y + _ABOVE + (self.high[1] - point[1]) * scale,
        )


@dataclass(frozen=True, slots=True)
class Sheet:
    """Every cell in its place, the px per metre, and the lowest y used."""

    cells: tuple[Cell, ...]
    scale: float
    bottom: float


def sheet(parts: Sequence[PartGeometry], system: System, width: int) -> Sheet:
    """The parts at the largest scale at which they fit the width and a readable height."""
    cells = _together([part for part in parts if part.placed and part.outlines], system)
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


def _together(parts: Sequence[PartGeometry], system: System) -> list[Cell]:
    """Parts that have a place on the plan, as they lie."""
    if len(parts) < 2:
        return [_whole(part, system) for part in parts]
    shapes = tuple(Shape(ring, part.optional) for part in parts for ring in part.outlines)
    holes = tuple(hole for part in parts for hole in part.holes)
    names = tuple((heart(part.outlines[0], part.holes), part.part) for part in parts)
    return [Cell("As the parts lie", shapes, holes, names)]


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
