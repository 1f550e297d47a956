"""The measured drawing: every part to one scale, in plain black line, with its dimensions."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TYPE_CHECKING

from budget.numerals import grouped, trimmed
from budget.report.drawing.marks import marks
from budget.report.drawing.outline import Curve, Point, Straight, box, edges, inside
from budget.report.drawing.room import Room, reading
from budget.report.drawing.sheet import NOWHERE, Cell, Site, sheet
from budget.report.drawing.svg import lettering, picture, tag
from budget.units import FOOT, INCH, System

if TYPE_CHECKING:
    from markupsafe import Markup

    from budget.quantities.takeoff import PartGeometry

_LETTER = 6.6  # px, the usual width of one character
_ROOM = 34.0  # px across a shape that two lengths opposite each other need
_NAME = 14.0  # px more where a name stands between them
_SAME = 0.02  # m, how far circles may be apart and still be one on the drawing
_SCALE_BAR = 46.0
_SHARES = (0.5, 0.35, 0.65, 0.2, 0.8)  # along an edge, where its length may be written


def measure(metres: float, system: System) -> str:
    """A dimension as drawings write it: feet and inches to the half inch, or metres.

    >>> print(measure(3.81, "imperial"), measure(3.6576, "imperial"), measure(3.81, "metric"))
    12' 6" 12' 3.81
    """
    if system == "metric":
        return grouped(metres, 2)
    halves = math.floor(metres / INCH * 2 + 0.5)
    feet, rest = divmod(halves, 24)
    inches = f'{rest // 2}½"' if rest % 2 else f'{rest // 2}"'
    if not rest:
        return f"{feet}'"
    return f"{feet}' {inches}" if feet else inches


def plan(
    key: str,
    title: str,
    parts: Sequence[PartGeometry],
    system: System,
    width: int,
    site: Site = NOWHERE,
) -> Markup:
    """The drawing on a sheet ``width`` px wide; its height follows from the parts."""
    laid = sheet(parts, system, width, site)
    pieces = [_cell(cell, laid.scale, system) for cell in laid.cells]
    pieces.append(_scale_bar(laid.scale, system, laid.bottom + 14))
    height = math.ceil(laid.bottom + _SCALE_BAR)
    return picture(key, title, *pieces, class_="plan", viewBox=f"0 0 {width} {height}")


def _cell(cell: Cell, scale: float, system: System) -> Markup:
    room = Room()
    room.take(cell.title, (cell.x + len(cell.title) * 3.8, cell.y + 9), bold=True)
    pieces = [lettering(cell.x, cell.y + 14, cell.title, "strong")]
    names = []
    for point, name in cell.names:
        x, y = cell.at(point, scale)
        room.take(name, (x, y), bold=True)
        names.append(lettering(x, y + 4, name, "strong middle halo"))
    for shape in cell.shapes:
        kind = "outline optional" if shape.optional else "outline"
        kind += " placed" if cell.site.edges else ""
        pieces.append(_ring(cell, shape.ring, scale, kind))
    signs = marks(cell, scale, room)
    for hole in cell.holes:
        pieces += _hole(cell, hole, scale, system, room)
    rounds = _rounds(cell)
    for curve in rounds:
        pieces += _radius_label(cell, curve, scale, system, room)
    for shape in cell.shapes:
        pieces += _labels(cell, shape.ring, rounds, scale, system, room)
    return tag("g", *pieces, *signs, *names, *_overall(cell, scale, system))


def _rounds(cell: Cell) -> list[Curve]:
    """The round parts of a plan of several; of one alone the overall dimensions tell the size."""
    found = [edge for shape in cell.shapes for edge in edges(shape.ring)] if cell.names else []
    return [edge for edge in found if isinstance(edge, Curve) and edge.full and edge.radius]


def _ring(cell: Cell, ring: Sequence[Point], scale: float, kind: str) -> Markup:
    points = " ".join(f"{x:.1f},{y:.1f}" for x, y in (cell.at(p, scale) for p in ring))
    return tag("polygon", points=points, class_=kind)


def _hole(
    cell: Cell, ring: Sequence[Point], scale: float, system: System, room: Room
) -> list[Markup]:
    """A cut-out: dashed, crossed through, and measured."""
    low, high = box(ring)
    found = edges(ring)
    curve = next((e for e in found if isinstance(e, Curve) and e.full and e.radius), None)
    across, down = high[0] - low[0], high[1] - low[1]
    words = (
        f"⌀ {measure(2 * curve.radius, system)}"
        if curve and curve.radius
        else f"{measure(across, system)} × {measure(down, system)}"
    )
    (x1, y1), (x2, y2) = cell.at(low, scale), cell.at(high, scale)
    inset = 0.15 if curve else 0.0
    dx, dy = (x2 - x1) * inset, (y1 - y2) * inset
    middle = (x1 + x2) / 2
    places = [((middle, y1 + 10), 0.0), ((middle, y2 - 10), 0.0), ((middle, (y1 + y2) / 2), 0.0)]
    x, y = places[room.first_free(words, places) or 0][0]
    return [
        _ring(cell, ring, scale, "outline cut"),
        tag("line", x1=x1 + dx, y1=y1 - dy, x2=x2 - dx, y2=y2 + dy, class_="thin"),
        tag("line", x1=x1 + dx, y1=y2 + dy, x2=x2 - dx, y2=y1 - dy, class_="thin"),
        lettering(x, y + 4, words, "dimension middle halo"),
    ]


def _overall(cell: Cell, scale: float, system: System) -> list[Markup]:
    """The dimension lines of the whole part: along its foot and up its left side."""
    (x1, y1), (x2, y2) = cell.at(cell.low, scale), cell.at(cell.high, scale)
    left, bottom = cell.at(cell.whole[0], scale)
    foot, side = bottom + 16, left - 16
    middle = (y1 + y2) / 2
    return [
        *_dimension((x1, foot), (x2, foot)),
        lettering((x1 + x2) / 2, foot + 15, _span(cell, 0, system), "dimension middle"),
        *_dimension((side, y1), (side, y2)),
        lettering(
            side - 6,
            middle,
            _span(cell, 1, system),
            "dimension middle",
            transform=f"rotate(-90 {side - 6:.1f} {middle:.1f})",
        ),
    ]


def _span(cell: Cell, axis: int, system: System) -> str:
    return measure(cell.high[axis] - cell.low[axis], system)


def _dimension(a: Point, b: Point) -> list[Markup]:
    """A line between two points with an oblique tick at each end."""
    ticks = [tag("line", x1=x - 4, y1=y + 4, x2=x + 4, y2=y - 4, class_="tick") for x, y in (a, b)]
    return [tag("line", x1=a[0], y1=a[1], x2=b[0], y2=b[1], class_="thin"), *ticks]


def _labels(
    cell: Cell,
    ring: Sequence[Point],
    rounds: Sequence[Curve],
    scale: float,
    system: System,
    room: Room,
) -> list[Markup]:
    """Lengths along inner edges and radii of curves, where there is room for them.

    What lies against a round part has its radius, which is told there.
    """
    pieces: list[Markup] = []
    for edge in edges(ring):
        if isinstance(edge, Straight):
            if not _is_overall(cell, edge):
                pieces += _edge_label(cell, ring, edge, scale, system, room)
        elif edge.radius and not edge.full and not any(_on(edge, other) for other in rounds):
            pieces += _radius_label(cell, edge, scale, system, room)
    return pieces


def _is_overall(cell: Cell, edge: Straight) -> bool:
    """Whether an edge is as long as the whole part, so that its length is already written."""
    spans = (abs(edge.end[0] - edge.start[0]), abs(edge.end[1] - edge.start[1]))
    whole = (cell.high[0] - cell.low[0], cell.high[1] - cell.low[1])
    return any(abs(spans[i] - whole[i]) < 1e-6 and spans[1 - i] < 1e-6 for i in (0, 1))


def _edge_label(
    cell: Cell, ring: Sequence[Point], edge: Straight, scale: float, system: System, room: Room
) -> list[Markup]:
    """The length of an edge inside the shape, where nothing else is written."""
    words = measure(edge.length, system)
    if edge.length * scale < len(words) * _LETTER + 6:
        return []
    (ax, ay), (bx, by) = edge.start, edge.end
    normal = (-(by - ay) / edge.length, (bx - ax) / edge.length)
    if not inside(_beside(_along(edge, 0.5), normal, 0.01), ring):
        normal = (-normal[0], -normal[1])
    around = _ROOM + (_NAME if cell.names else 0.0)
    if not inside(_beside(_along(edge, 0.5), normal, around / scale), ring):
        return []
    angle = reading(-math.degrees(math.atan2(by - ay, bx - ax)))
    slack = (len(words) * _LETTER / 2 + 3) / (edge.length * scale)
    shares = [share for share in _SHARES if slack <= share <= 1 - slack] or [0.5]
    spots = [cell.at(_along(edge, share), scale) for share in shares]
    places = [((x + normal[0] * 11, y - normal[1] * 11), angle) for x, y in spots]
    found = room.first_free(words, places)
    if found is None:
        return []
    x, y = places[found][0]
    turn = f"rotate({angle:.1f} {x:.1f} {y:.1f})" if abs(angle) > 0.05 else None
    return [lettering(x, y + 4, words, "dimension middle", transform=turn)]


def _along(edge: Straight, share: float) -> Point:
    (ax, ay), (bx, by) = edge.start, edge.end
    return ax + (bx - ax) * share, ay + (by - ay) * share


def _beside(point: Point, normal: Point, distance: float) -> Point:
    return point[0] + normal[0] * distance, point[1] + normal[1] * distance


def _radius_label(
    cell: Cell, curve: Curve, scale: float, system: System, room: Room
) -> list[Markup]:
    assert curve.radius is not None
    words = f"R {measure(curve.radius, system)}"
    if curve.radius * scale < len(words) * _LETTER + 18:
        return []
    (cx, cy), (px, py) = _radius_line(cell, curve, scale, room)
    steep = abs(px - cx) < abs(py - cy) / 2  # words stand beside such a line, else above it
    right, up = (len(words) * _LETTER / 2 + 5, 0) if steep else (0, 10)
    places = [
        ((cx + (px - cx) * n + right, cy + (py - cy) * n - up), 0.0) for n in (0.5, 0.65, 0.35)
    ]
    x, y = places[room.first_free(words, places) or 0][0]
    return [
        tag("line", x1=cx - 4, y1=cy, x2=cx + 4, y2=cy, class_="thin"),
        tag("line", x1=cx, y1=cy - 4, x2=cx, y2=cy + 4, class_="thin"),
        tag("line", x1=cx, y1=cy, x2=px, y2=py, class_="thin"),
        tag("circle", cx=px, cy=py, r=2.5, class_="dot"),
        lettering(x, y + 4, words, "dimension middle halo"),
    ]


def _on(curve: Curve, other: Curve) -> bool:
    """Whether a curve lies on the circle of another, as near as the drawing shows."""
    return (
        math.dist(curve.centre, other.centre) < _SAME
        and abs((curve.radius or 0.0) - (other.radius or 0.0)) < _SAME
    )


def _radius_line(cell: Cell, curve: Curve, scale: float, room: Room) -> tuple[Point, Point]:
    """From the centre to a point of the arc, over no words if that can be: a name in the middle
    of a round part is left alone by a line that begins beside it.
    """
    centre, last = cell.at(curve.centre, scale), len(curve.points) - 1
    ends = [
        cell.at(curve.points[round(last * share)], scale)
        for share in (0.5, 0.375, 0.625, 0.25, 0.75, 0.125, 0.875)
    ]
    cx, cy = centre
    free = (e for e in ends if not room.crossed(((cx + e[0]) / 2, (cy + e[1]) / 2), e))
    return centre, next(free, ends[0])


def _scale_bar(scale: float, system: System, y: float) -> Markup:
    """A bar of round length, in two halves, at the foot of the sheet."""
    unit, name = (FOOT, "ft") if system == "imperial" else (1.0, "m")
    number = max(n for n in (0.5, 1, 2, 4, 5, 10, 20, 50) if n == 0.5 or n * unit * scale <= 150)
    long = number * unit * scale
    words = f"{trimmed(number)} {name}"
    return tag(
        "g",
        tag("rect", x=1, y=y, width=long / 2, height=6, class_="scale-dark"),
        tag("rect", x=1 + long / 2, y=y, width=long / 2, height=6, class_="scale-light"),
        lettering(0, y + 22, "0", "dimension"),
        lettering(long + 8, y + 7, words, "dimension"),
    )
