"""The parts of the job: their shapes put together into areas and edges."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass, replace

from budget.figures import Figure, constant, largest, minus, product, total
from budget.job import Area, Job, Notice
from budget.quantities.formulas import shapes
from budget.quantities.formulas.shapes import Measured, Point
from budget.quantities.formulas.surveyed import simpson
from budget.quantities.plan.edges_open import Edges, edges_of
from budget.quantities.plan.outline_rows import (
    corners_of,
    crossing_cells,
    narrowed,
    offsets_of,
    rows_of,
)
from budget.units import AREA, LENGTH

Ring = tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class Piece:
    """One shape of a part, measured."""

    row: Area
    shape: Measured
    edges: Edges
    corners: tuple[Point, ...] = ()  # of a shape listed on Outline
    region: tuple[tuple[Ring, ...], ...] = ()  # what is left of a placed shape, as it lies

    @property
    def placed(self) -> bool:
        """Whether the shape has its place on the plan."""
        return self.row.x is not None and self.row.y is not None


@dataclass(frozen=True, slots=True)
class Part:
    """One part: shapes that are added and shapes that are cut out of them."""

    name: str
    added: tuple[Piece, ...]
    cut_out: tuple[Piece, ...]

    @property
    def pieces(self) -> tuple[Piece, ...]:
        """Every shape of the part."""
        return self.added + self.cut_out

    @property
    def optional(self) -> bool:
        """Whether the whole part may be left out."""
        return all(piece.row.optional for piece in self.added)

    def area(self) -> Figure:
        """Area to be paved: added shapes less cut-outs [m²]."""
        return net_area(f"{self.name} area", self.added, self.cut_out)

    def edge(self, which: str, name: str) -> Figure:
        """The sum over all shapes of one of the edges of :class:`Edges` [m]."""
        found = [getattr(piece.edges, which) for piece in self.pieces]
        return add(name, found)

    def base_area(self, overrun: Figure) -> Figure:
        """Area of dig and base: the paved area and a strip past its open edges [m²]."""
        wide = [with_strip(piece, overrun) for piece in self.added]
        area = add("area with overrun", wide)
        if self.cut_out:
            left = [without_strip(piece, overrun) for piece in self.cut_out]
            area = minus("area with overrun less cut-outs", area, add("cut-outs", left))
        return area.called(f"{self.name} base area with overrun")


def with_strip(piece: Piece, overrun: Figure) -> Figure:
    """A shape's area with a strip of ``overrun`` [m] past its open edges [m²].

    The corners are square (a rectangle of 10 x 20 ft with 6 in all round: 231 sq ft) or round
    (a circle), as the shape's are.
    """
    parts = [piece.shape.area, *_strip(piece, overrun)]
    return total("area with overrun", parts)


def without_strip(piece: Piece, overrun: Figure) -> Figure:
    """What is left of a cut-out when the base runs ``overrun`` [m] into it, not below 0 [m²]."""
    strip, *corner = _strip(piece, overrun)
    left = minus("cut-out less overrun", piece.shape.area, strip)
    if corner:
        left = total("cut-out less overrun", (left, corner[0]))
    none = constant(0, AREA, "nothing")
    narrow = overrun.value * piece.edges.open.value >= 2 * piece.shape.area.value
    return none if narrow else largest("cut-out left undug", none, left)


def _strip(piece: Piece, overrun: Figure) -> list[Figure]:
    strip = [product("strip past the open edge", AREA, piece.edges.open, overrun)]
    if piece.edges.corners.value:
        strip.append(product("corners", AREA, piece.edges.corners, overrun, overrun))
    return strip


def net_area(name: str, added: Iterable[Piece], cut_out: Iterable[Piece]) -> Figure:
    """Added areas less cut-out areas [m²]."""
    area = add("shapes", [piece.shape.area for piece in added])
    off = [piece.shape.area for piece in cut_out]
    return minus(name, area, add("cut-outs", off)) if off else area.called(name)


def add(name: str, figures: Iterable[Figure]) -> Figure:
    """Sum of one figure or more without the zeros; a single one only takes the name."""
    found = list(figures)
    kept = [f for f in found if f.value] or found[:1]
    return kept[0].called(name) if len(kept) == 1 else total(name, kept)


def parts_of(job: Job) -> tuple[tuple[Part, ...], tuple[Notice, ...]]:
    """Every part whose shapes can be measured, by name, and notices about those that cannot.

    A shape that cannot be (a crossing outline), and a part that has no area left, is left out
    and named as a problem.
    """
    notices: list[Notice] = []
    found: dict[str, list[Piece]] = defaultdict(list)
    with_rows_of = narrowed(job)
    for row in sorted(job.areas, key=_row_order):
        try:
            piece = piece_of(row, with_rows_of(row))
            found[row.part].append(piece)
        except ValueError as fault:
            notices.append(_notice(row, "shape", "impossible-shape", str(fault), "a closed shape"))
    parts = []
    for name in sorted(found):
        pieces = found[name]
        part = Part(
            name,
            tuple(p for p in pieces if not p.row.cut_out),
            tuple(p for p in pieces if p.row.cut_out),
        )
        if not part.added or part.area().value <= 0:
            row = pieces[-1].row
            text = f"nothing of {name} is left after its cut-outs"
            notices.append(_notice(row, "cut_out", "no-area", text, "some paved area"))
        else:
            parts.append(part)
            notices += _edge_notices(part)
    return tuple(parts), tuple(notices)


def _row_order(row: Area) -> tuple[object, ...]:
    sizes = (row.length, row.width, row.diameter, row.inner_diameter, row.area, row.perimeter)
    numbers = tuple(size or 0.0 for size in sizes)
    covered = (row.house_edge, row.joined_edge)
    return (row.part, row.cut_out, row.name, row.shape, row.paver, numbers, covered)


def piece_of(row: Area, job: Job) -> Piece:
    """One shape, measured.

    :raises ValueError: if a size is missing or the shape is impossible
    """
    corners = corners_of(row, job)
    shape = _listed(row, corners, job) if corners else _measure(row)
    shape = _named(shape, row.name or row.shape)
    return Piece(row, shape, edges_of(row, shape), corners)


def _named(shape: Measured, name: str) -> Measured:
    return replace(
        shape,
        area=shape.area.called(f"area of {name}"),
        straight=shape.straight.called(f"straight edge of {name}"),
        curved=shape.curved.called(f"curved edge of {name}"),
    )


_TAKEN = {
    "walked": ", from sides and diagonals",
    "offsets": ", by trapezoids between the offsets",
}


def _listed(row: Area, corners: tuple[Point, ...], job: Job) -> Measured:
    key, system = row.cell("name"), job.settings.units
    if row.shape == "curved offsets":
        return shapes.under_curve(simpson(offsets_of(row, job)), corners, key)
    try:
        return shapes.polygon(corners, key, system, _TAKEN.get(row.shape, ""))
    except ValueError as fault:
        cells = crossing_cells(rows_of(row, job)) if row.shape == "polygon" else ""
        raise ValueError(f"{fault}{cells}") from fault


def _measure(row: Area) -> Measured:
    def size(name: str, words: str) -> Figure:
        if getattr(row, name) is None or getattr(row, name) <= 0:
            raise ValueError(f"a {row.shape} without {words}")
        return row.figure(name, LENGTH, words)

    match row.shape:
        case "rectangle":
            return shapes.rectangle(size("length", "length"), size("width", "width"))
        case "triangle":
            return shapes.triangle(size("length", "base"), size("width", "height"))
        case "circle":
            return shapes.circle(size("diameter", "diameter"))
        case "half circle":
            return shapes.half_circle(size("diameter", "diameter"))
        case "quarter circle":
            return shapes.quarter_circle(size("diameter", "diameter"))
        case "ring":
            outer = size("diameter", "outer diameter")
            inner = size("inner_diameter", "inner diameter")
            if inner.value >= outer.value:
                raise ValueError("a ring whose inner diameter is not below the outer")
            return shapes.ring(outer, inner)
        case "ellipse":
            return shapes.ellipse(size("length", "length"), size("width", "width"))
        case "measured":
            if row.area is None or row.area <= 0:
                raise ValueError("a measured shape without area")
            around = size("perimeter", "perimeter") if row.perimeter else None
            return shapes.measured(row.figure("area", AREA, "area"), around)
    raise ValueError("0 corners")


def _edge_notices(part: Part) -> list[Notice]:
    notices = []
    for piece in part.pieces:
        covered = piece.row.house_edge + piece.row.joined_edge
        if covered > piece.edges.whole.value * 1.001:
            text = "more edge against house and paving than the shape has"
            notices.append(_notice(piece.row, "house_edge", "edge-too-long", text, "at most all"))
    if not part.optional and any(piece.row.optional for piece in part.added):
        text = f"only some shapes of {part.name} are optional"
        row = part.added[0].row
        notices.append(_notice(row, "optional", "part-optional", text, "all or none of them"))
    return notices


def _notice(row: Area, field: str, code: str, found: str, expected: str) -> Notice:
    problem = code in ("impossible-shape", "no-area")
    mend = {
        "impossible-shape": "Put the corners in order around the shape, or correct the size.",
        "no-area": "Correct the sizes or the add or cut-out column.",
        "edge-too-long": "Shorten the edge against the house or against other paving.",
        "part-optional": "Give the optional shapes a part name of their own.",
    }[code]
    place = row.place
    return Notice(
        place.sheet, place.row, row.cell(field), code, found, expected, mend,
        "problem" if problem else "warning",
    )  # fmt: skip
