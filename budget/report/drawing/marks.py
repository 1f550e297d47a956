"""What a measured drawing shows beside outlines: edges by kind, things standing, levels, drops.

Every kind has a line or a sign of its own, so that none hangs on a colour; :func:`sample` draws
each for the key.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise
from typing import TYPE_CHECKING

from budget.report.drawing.outline import Point, box, heart, inside
from budget.report.drawing.room import Room, reading
from budget.report.drawing.sheet import Cell, Fall, Mark, Ring
from budget.report.drawing.svg import lettering, tag

if TYPE_CHECKING:
    from markupsafe import Markup

_HATCH = 9.0  # px between the strokes along the edge against the house
_STROKE = 6.0  # px, their length along and across
_LETTER = 6.6  # px, the usual width of one character
_ARROW = 34.0  # px

#: What each line and sign says, in the order of the key.
KEY = {
    "held": "open edge, held by a restraint",
    "joined": "edge against other paving, or against something standing in it",
    "house": "edge against the house",
    "optional": "outline of a part that may be left out",
    "cut": "cut-out, not paved",
    "standing": "wall, ring, column or steps",
    "run": "trench or pad below",
    "ground": "height of the ground above your mark",
    "sill": "door sill, with its height",
    "drop": "where a truck puts goods down",
    "fall": "the way the paving falls",
}


def marks(cell: Cell, scale: float, room: Room) -> list[Markup]:
    """Everything of the cell's site, runs below and signs on top."""
    site = cell.site
    for mark in site.marks:
        room.take_sign(cell.at(mark.at, scale))
    pieces = [_solid(cell, "run", ring, scale) for _, ring in site.runs]
    for kind, line in site.edges:
        pieces += _edge(cell, kind, line, scale)
    pieces += [_solid(cell, "standing", ring, scale) for _, ring in site.standing]
    pieces += [_mark(cell, mark, scale, room) for mark in site.marks]
    pieces += [_fall(cell, fall, scale, room) for fall in site.falls]
    named = [_named(name, _points(cell, ring, scale), room) for name, ring in site.standing]
    return pieces + named + [_named(n, _points(cell, ring, scale), room) for n, ring in site.runs]


def sample(kind: str) -> Markup:
    """A small picture of one line or sign, for the key beside the drawing."""
    shapes = {
        "house": lambda: [_line([(2, 12), (38, 12)], "edge held"), *_hatch((2, 12), (38, 12), -1)],
        "cut": lambda: _crossed(12, 2, 16, 12),
        "standing": lambda: [tag("rect", x=4, y=4, width=32, height=8, class_="standing")],
        "run": lambda: [tag("rect", x=2, y=5, width=36, height=6, class_="run")],
        "ground": lambda: [_sign("ground", 20, 8)],
        "sill": lambda: [_sign("sill", 20, 8)],
        "drop": lambda: [_sign("drop", 20, 8)],
        "fall": lambda: _arrow(4, 8, 0.0),
    }
    made = shapes.get(kind, lambda: [_line([(2, 8), (38, 8)], f"edge {kind}")])()
    return tag("svg", *made, width=40, height=16, class_="sample", aria_hidden="true",
               focusable="false")  # fmt: skip


def _points(cell: Cell, ring: Sequence[Point], scale: float) -> list[Point]:
    return [cell.at(point, scale) for point in ring]


def _line(points: Sequence[Point], class_: str) -> Markup:
    text = " ".join(f"{x:.1f},{y:.1f}" for x, y in points)
    return tag("polyline", points=text, class_=class_)


def _edge(cell: Cell, kind: str, line: Ring, scale: float) -> list[Markup]:
    points = _points(cell, line, scale)
    if kind != "house":
        return [_line(points, f"edge {kind}")]
    pieces = [_line(points, "edge held")]
    for (a, b), (c, d) in zip(pairwise(line), pairwise(points), strict=True):
        pieces += _hatch(c, d, _outward(cell, a, b))
    return pieces


def _outward(cell: Cell, a: Point, b: Point) -> int:
    """On which side of a line the house is: 1 left of it on the sheet, else -1."""
    long = math.dist(a, b) or 1.0
    x, y = (a[0] + b[0]) / 2, (a[1] + b[1]) / 2
    left = (x - (b[1] - a[1]) / long * 0.05, y + (b[0] - a[0]) / long * 0.05)
    return -1 if any(inside(left, shape.ring) for shape in cell.shapes) else 1


def _hatch(a: Point, b: Point, side: int) -> list[Markup]:
    """Short oblique strokes along a line, on the side of the house."""
    long = math.dist(a, b)
    if not long:
        return []
    ux, uy = (b[0] - a[0]) / long, (b[1] - a[1]) / long
    nx, ny = uy * side, -ux * side
    count = int(long // _HATCH)
    start = (long - count * _HATCH) / 2
    found = []
    for i in range(count + 1):
        x, y = a[0] + ux * (start + i * _HATCH), a[1] + uy * (start + i * _HATCH)
        far = (x + _STROKE * (nx + ux), y + _STROKE * (ny + uy))
        found.append(tag("line", x1=x, y1=y, x2=far[0], y2=far[1], class_="thin"))
    return found


def _crossed(x: float, y: float, wide: float, tall: float) -> list[Markup]:
    ends = ((x, y, x + wide, y + tall), (x, y + tall, x + wide, y))
    lines = [tag("line", x1=a, y1=b, x2=c, y2=d, class_="thin") for a, b, c, d in ends]
    return [tag("rect", x=x, y=y, width=wide, height=tall, class_="outline cut"), *lines]


def _solid(cell: Cell, kind: str, ring: Ring, scale: float) -> Markup:
    text = " ".join(f"{x:.1f},{y:.1f}" for x, y in _points(cell, ring, scale))
    return tag("polygon", points=text, class_=kind)


def _named(name: str, points: Sequence[Point], room: Room) -> Markup:
    """A name inside a shape where there is room for it, else along its longest side."""
    (left, top), (right, bottom) = box(points)
    places = []
    if right - left > len(name) * _LETTER and bottom - top > 16 and len(points) != 4:
        places.append((heart(points), 0.0))
    if len(points) == 4:
        places += _along_sides(points)
    else:
        middle = (left + right) / 2
        places += [((middle, top - 9), 0.0), ((middle, bottom + 9), 0.0)]
    (x, y), turn = places[room.first_free(name, places) or 0]
    turned = f"rotate({turn:.1f} {x:.1f} {y:.1f})" if abs(turn) > 0.05 else None
    return lettering(x, y + 4, name, "dimension middle halo", transform=turned)


def _along_sides(ring: Sequence[Point]) -> list[tuple[Point, float]]:
    """Places of words in the middle of a long shape, and along both of its long sides."""
    sides = list(zip(ring, [*ring[1:], ring[0]], strict=True))
    longest = max(range(len(sides)), key=lambda i: (round(math.dist(*sides[i]), 3), -i))
    (ax, ay), (bx, by) = sides[longest]
    deep = math.dist(*sides[(longest + 1) % 4])
    long = math.dist((ax, ay), (bx, by)) or 1.0
    nx, ny = -(by - ay) / long, (bx - ax) / long
    cx, cy = sum(x for x, _ in ring) / 4, sum(y for _, y in ring) / 4
    turn = reading(math.degrees(math.atan2(by - ay, bx - ax)))
    offsets = [0.0] * (deep > 16) + [deep / 2 + 9, -deep / 2 - 9]
    return [
        ((cx + nx * off + (bx - ax) * share, cy + ny * off + (by - ay) * share), turn)
        for share in (0.0, 0.25, -0.25)
        for off in offsets
    ]


def _mark(cell: Cell, mark: Mark, scale: float, room: Room) -> Markup:
    """A sign with its words at the right, or else where there is room."""
    x, y = cell.at(mark.at, scale)
    half = len(mark.words) * _LETTER / 2
    places = [
        ((x + 10 + half, y), 0.0),
        ((x - 10 - half, y), 0.0),
        ((x, y + 15), 0.0),
        ((x, y - 15), 0.0),
    ]
    if mark.kind == "sill":  # beside it runs the wall
        places.reverse()
    at = places[room.first_free(mark.words, places) or 0][0]
    words = lettering(at[0], at[1] + 4, mark.words, "dimension middle halo")
    return tag("g", _sign(mark.kind, x, y), words)


def _sign(kind: str, x: float, y: float) -> Markup:
    """A cross for the ground, a triangle for a sill, a box with a cross for a drop point."""
    if kind == "sill":
        return tag("path", d=f"M{x:.1f} {y + 4:.1f}l-5 -9h10z", class_="standing")
    cross = f"M{x - 4:.1f} {y - 4:.1f}l8 8m0 -8l-8 8"
    if kind == "drop":
        cross += f"M{x - 6:.1f} {y - 6:.1f}h12v12h-12z"
    return tag("path", d=cross, class_="sign")


def _fall(cell: Cell, fall: Fall, scale: float, room: Room) -> Markup:
    """An arrow the way a part falls, below its name, with the fall beside it."""
    place = next((at for at, name in cell.names if name == fall.part), None)
    x, y = cell.at(place or heart(cell.shapes[0].ring, cell.holes), scale)
    dx, dy = math.cos(fall.toward) * _ARROW / 2, -math.sin(fall.toward) * _ARROW / 2
    y += 14 + abs(dy)
    away = abs(dx) + 8 + len(fall.words) * _LETTER / 2
    room.take_sign((x, y), max(abs(dx), abs(dy)))
    places = [((x + away, y), 0.0), ((x - away, y), 0.0), ((x, y + abs(dy) + 10), 0.0)]
    at = places[room.first_free(fall.words, places) or 0][0]
    arrow = _arrow(x - dx, y - dy, fall.toward)
    return tag("g", *arrow, lettering(at[0], at[1] + 4, fall.words, "dimension middle halo"))


def _arrow(x: float, y: float, toward: float) -> list[Markup]:
    """An arrow from a point; ``toward`` counts against the clock, as on the plan."""
    end = (x + math.cos(toward) * _ARROW, y - math.sin(toward) * _ARROW)
    tips = [
        (end[0] - 8 * math.cos(toward + turn), end[1] + 8 * math.sin(toward + turn))
        for turn in (0.4, -0.4)
    ]
    return [_line([(x, y), end], "sign"), _line([tips[0], end, tips[1]], "sign")]
