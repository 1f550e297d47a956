"""What the measured drawing of the workbook shows: lines, lengths and signs as points in metres."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from budget.job import Job
from budget.quantities.takeoff import PartGeometry, Takeoff
from budget.report.drawing.outline import Curve, Point, Straight, box, edges, heart, inside
from budget.report.drawing.plan import measure
from budget.report.drawing.sheet import Site
from budget.report.drawing.site import site
from budget.units import System

Ring = tuple[Point, ...]

_GAP = 2.5  # m between parts whose places are not given
_SHORT = 0.04  # share of the plan's size, below which an edge bears no length
_INSIDE = 0.03  # share of the plan's size, that a length stands inside its edge
_LETTER, _TALL = 0.016, 0.045  # shares of it, that a letter is wide and a line tall
_HALF = 0.015  # share of it, that a letter reaches above and below its middle
_FINE = 0.001  # share of it, that a drawn curve may be off
_ARROW = 0.1  # share of the plan's size

#: How each kind of line and sign looks on the chart, in the order of its key.
LOOKS = {
    "held": "thin line",
    "joined": "dotted line",
    "house": "broad line",
    "optional": "long dashes",
    "cut": "short dashes",
    "standing": "bold line",
    "run": "dashes and dots",
    "ground": "cross",
    "sill": "triangle",
    "drop": "square",
    "fall": "arrow",
}


@dataclass(frozen=True, slots=True)
class Drawn:
    """One series of the drawing: points, how they look, and words at them."""

    name: str
    what: str
    points: Ring
    look: str
    words: tuple[str, ...] = ()


def drawn(job: Job, takeoff: Takeoff) -> list[Drawn]:
    """Every outline, cut-out, edge, feature, length, height, drop point and fall."""
    around = site(job, takeoff)
    shapes = list(_shapes(takeoff))
    if not shapes:
        return []
    low, high = box([point for shape in shapes for point in shape.points])
    size = max(high[0] - low[0], high[1] - low[1])
    more = list(_around(around, takeoff, size))
    lettering = Lettering(size, job.settings.units)
    return [*shapes, *more, *lettering.of([*shapes, *more])]


def _shapes(takeoff: Takeoff) -> Iterator[Drawn]:
    """Outlines and cut-outs, parts without a place side by side."""
    right = -_GAP
    for part in sorted(takeoff.parts, key=lambda part: (not part.placed, part.part)):
        rings = [*sorted(part.outlines, key=_size, reverse=True), *part.holes]
        if not rings:
            continue
        shift = 0.0 if part.placed else right + _GAP - min(x for ring in rings for x, _ in ring)
        right = max(right, max(x for ring in rings for x, _ in ring) + shift)
        for number, ring in enumerate(rings):
            moved = tuple((x + shift, y) for x, y in (*ring, ring[0]))
            hole = number >= len(part.outlines)
            what = f"cut-out, {part.part}" if hole else f"outline, {part.part}"
            name = part.part if number == 0 else ""
            yield Drawn(name, what, moved, "cut" if hole else _look(part))


def _look(part: PartGeometry) -> str:
    """A placed outline is drawn edge by edge."""
    return "name" if part.placed else "optional outline" if part.optional else "outline"


def _around(around: Site, takeoff: Takeoff, size: float) -> Iterator[Drawn]:
    for kind, line in around.edges:
        yield Drawn(kind, _EDGES[kind], _fewer(line, size * _FINE), kind)
    for name, ring in takeoff.features:
        yield Drawn(name, "wall, ring, column or steps", (*ring, ring[0]), "standing")
    for name, ring in around.runs:
        yield Drawn(name, "trench or pad below", (*ring, ring[0]), "run")
    for kind in ("ground", "sill", "drop"):
        marks = [mark for mark in around.marks if mark.kind == kind]
        if marks:
            points, words = tuple(m.at for m in marks), tuple(m.words for m in marks)
            yield Drawn(kind, _MARKS[kind], points, kind, words)
    parts = {part.part: part for part in takeoff.parts}
    for fall in around.falls:
        part = parts[fall.part]
        x, y = heart(sorted(part.outlines, key=_size)[-1], part.holes)
        below = x, y - (1 if math.sin(fall.toward) <= 0 else -1) * _TALL * size  # the name
        arrow = _arrow(below, fall.toward, size * _ARROW)
        words = ("", fall.words, "", "", "")
        yield Drawn(fall.part, "the way the paving falls", arrow, "fall", words)


_OUTLINES = ("name", "outline", "optional outline")
_NAMED = (*_OUTLINES, "cut", "standing", "run")


def _fewer(line: Ring, off: float) -> Ring:
    """A line with no more points than it takes to be nowhere further off than ``off`` [m]."""
    from shapely import LineString

    return tuple((x, y) for x, y in LineString(line).simplify(off).coords)


_EDGES = {
    "held": "open edge, held",
    "optional": "outline that may be left out",
    "joined": "edge against other paving",
    "house": "edge against the house",
}
_MARKS = {"ground": "height of the ground", "sill": "height of a sill", "drop": "drop point"}


def _arrow(start: Point, toward: float, long: float) -> Ring:
    """From a point on, and back to both tips of its head."""
    end = start[0] + math.cos(toward) * long, start[1] + math.sin(toward) * long
    tips = [
        (end[0] - long / 4 * math.cos(toward + turn), end[1] - long / 4 * math.sin(toward + turn))
        for turn in (0.4, -0.4)
    ]
    return start, end, tips[0], end, tips[1]


class Lettering:
    """Names and lengths on the drawing, where nothing else is written and no line is crossed."""

    def __init__(self, size: float, system: System) -> None:
        """``size`` is the longer side of the plan [m]."""
        self._size, self._system = size, system
        self._taken: list[tuple[Point, int]] = []
        self._lines = np.empty((0, 2, 2))

    def of(self, drawn: Sequence[Drawn]) -> list[Drawn]:
        """The words of signs are where they are; then names, then lengths."""
        for sign in (each for each in drawn if any(each.words)):
            self._taken += [
                (at, len(text) + 4) for at, text in zip(sign.points, sign.words, strict=True)
            ]
        pairs = [p for each in drawn if each.look not in _MARKS
                 for p in itertools.pairwise(each.points)]  # fmt: skip
        self._lines = np.array(pairs).reshape(-1, 2, 2)
        holes = [each.points[:-1] for each in drawn if each.look == "cut"]
        shapes = [each for each in drawn if each.look in _OUTLINES]
        names = [self._name(each, holes) for each in drawn if each.look in _NAMED]
        lengths = [self._lengths(shape) for shape in shapes]
        return [found for found in (*names, *lengths) if found is not None]

    def _name(self, shape: Drawn, holes: Sequence[Ring]) -> Drawn | None:
        """The name in the middle of a part; beside a cut-out its sizes, beside a wall its name."""
        ring = shape.points[:-1]
        if shape.look in _OUTLINES:
            if not shape.name:
                return None  # a further outline of the same part
            words = shape.name
            x, y = heart(ring, [hole for hole in holes if inside(hole[0], ring)])
            (_, y1), (_, y2) = box(ring)
            line = _TALL * self._size
            places = [(x, y + n * line) for n in (0, 1, -1, 2, -2)]
            places += [(x, y1 - line), (x, y2 + line)]
        else:
            words = f"cut out {self._across(ring)}" if shape.look == "cut" else shape.name
            (x1, y1), (x2, y2) = box(ring)
            middle, gap = (x1 + x2) / 2, _INSIDE * self._size
            wide = (len(words) / 2 + 1) * _LETTER * self._size
            places = [(middle, y1 - gap), (middle, y2 + gap), (x2 + wide, (y1 + y2) / 2),
                      (x1 - wide, (y1 + y2) / 2)]  # fmt: skip
        at = self._place(places, len(words)) or places[0]
        self._taken.append((at, len(words)))
        return Drawn(words, f"name of {shape.what}", (at,), "length", (words,))

    def _across(self, ring: Ring) -> str:
        (x1, y1), (x2, y2) = box(ring)
        found = edges(ring)
        if len(found) == 1 and isinstance(found[0], Curve) and found[0].radius:
            return f"⌀ {measure(2 * found[0].radius, self._system)}"
        return f"{measure(x2 - x1, self._system)} × {measure(y2 - y1, self._system)}"

    def _lengths(self, shape: Drawn) -> Drawn | None:
        """The lengths of straight edges and the radii of curves, beside their edge."""
        ring = shape.points[:-1]
        found: list[tuple[Point, str]] = []
        for edge in edges(ring):
            words, places = self._length(edge, ring)
            free = self._place(places, len(words))
            if words and free is not None:
                self._taken.append((free, len(words)))
                found.append((free, words))
        if not found:
            return None
        points, told = zip(*found, strict=True)
        return Drawn(shape.name, f"lengths of {shape.what}", points, "length", told)

    def _length(self, edge: Straight | Curve, ring: Ring) -> tuple[str, list[Point]]:
        if isinstance(edge, Straight):
            if edge.length < _SHORT * self._size:
                return "", []
            words = measure(edge.length, self._system)
            upright = abs(edge.end[1] - edge.start[1]) / edge.length
            gap = _INSIDE * self._size + upright * len(words) / 2 * _LETTER * self._size * 0.8
            return words, [
                _beside(edge, ring, side * gap * further, share)
                for further in (1, 1.5)
                for shares in ((0.5, 0.3, 0.7), (0.15, 0.85))
                for side in (1, -1)
                for share in shares
            ]
        if not edge.radius:
            return "", []
        if edge.full:
            x, y = edge.centre
            line = _TALL * self._size
            around = [(x, y - n * line) for n in (1.2, -1.2, 0)]
            around += [(x, y - n * (edge.radius + line)) for n in (1, -1)]
            return f"⌀ {measure(2 * edge.radius, self._system)}", around
        (x, y), (cx, cy) = edge.middle, edge.centre
        share = 2 * _INSIDE * self._size / edge.radius
        toward = x + (cx - x) * share, y + (cy - y) * share
        hollow = not inside(toward, ring)  # what lies in the hollow has the same radius
        return f"R {measure(edge.radius, self._system)}", [] if hollow else [toward]

    def _place(self, places: Sequence[Point], letters: int) -> Point | None:
        """The first place that is free and crosses no line, else the first that is free."""
        free = [at for at in places if self._free(at, letters)]
        return next((at for at in free if not self._crosses(at, letters)), next(iter(free), None))

    def _crosses(self, at: Point, letters: int) -> bool:
        """Whether a line goes through the box of some words."""
        wide, tall = letters / 2 * _LETTER * self._size, _HALF * self._size
        a, b = self._lines[:, 0] - at, self._lines[:, 1] - at
        near = (np.minimum(a, b) < (wide, tall)) & (np.maximum(a, b) > (-wide, -tall))
        (dx, dy), (x, y) = (b - a).T, a.T
        through = np.abs(x * dy - y * dx) < wide * np.abs(dy) + tall * np.abs(dx)
        return bool(np.any(near.all(axis=1) & through))

    def _free(self, at: Point, letters: int) -> bool:
        return all(
            abs(at[0] - x) > (letters + more) / 2 * _LETTER * self._size
            or abs(at[1] - y) > _TALL * self._size * 1.1
            for (x, y), more in self._taken
        )


def _beside(edge: Straight, ring: Ring, gap: float, share: float) -> Point:
    """A point along an edge, moved into the shape; with a gap below 0 out of it."""
    (ax, ay), (bx, by) = edge.start, edge.end
    at = ax + (bx - ax) * share, ay + (by - ay) * share
    across = (-(by - ay) / edge.length, (bx - ax) / edge.length)
    side = gap if inside((at[0] + across[0] * 0.01, at[1] + across[1] * 0.01), ring) else -gap
    return at[0] + across[0] * side, at[1] + across[1] * side


def _size(ring: Ring) -> float:
    """The area within corners, by the shoelace formula."""
    pairs = itertools.pairwise((*ring, ring[0]))
    return abs(sum(x * v - u * y for (x, y), (u, v) in pairs)) / 2
