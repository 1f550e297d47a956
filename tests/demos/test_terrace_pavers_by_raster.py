"""The terrace demo's pavers counted a second way: points on a fine grid, none of the tool's code.

Shapes are inequalities, patterns are formulas from a point to its paver, and two pieces come out
of one paver if their points, as they lie or half turned, do not meet. Every corner of the box
around a shape is tried as the start, as the tool does; counts agree within one paver in a
hundred. The edge to cut is walked in small paces along the shape's own lines: a pace counts where
it crosses the face of a paver that is cut.
"""

from __future__ import annotations

import itertools
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import pytest

from budget.quantities import take_off
from budget.quantities.takeoff import Takeoff
from budget.workbook import read, write_blank

JOINT = 3 / 16  # everything here is in inches
GRID = 3 / 8  # from point to point
PACE = 1 / 16  # along an edge
FOOT = 0.3048

Inside = Callable[[np.ndarray, np.ndarray], np.ndarray]


def circle(x: np.ndarray, y: np.ndarray) -> np.ndarray:
    """The fire corner, 9 ft across, from the corner of the square around it."""
    return (x - 54) ** 2 + (y - 54) ** 2 <= 54**2


def terrace(x: np.ndarray, y: np.ndarray) -> np.ndarray:
    """Both arms with the curve between them, less the tree, seen along the longest side."""
    x, y = 192 - y, x  # on the plan, from the foot of the short arm
    long = (x >= 0) & (x <= 192) & (y >= 120) & (y <= 264)
    short = (x >= 0) & (x <= 96) & (y >= 0) & (y <= 120)
    curve = (x >= 96) & (y <= 120) & ((x - 96) ** 2 + (y - 120) ** 2 <= 72**2)
    return (long | short | curve) & ((x - 48) ** 2 + (y - 48) ** 2 > 18**2)


SLOPE = np.arctan2(5, 10)  # of the path's longest side
FIRE = (37.14, 10.75)  # the middle of the fire corner on the plan, in ft


def level(x: np.ndarray, y: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Points seen along the path's longest side, from its corner (23, 7.5), back on the plan."""
    cos, sin = np.cos(SLOPE), np.sin(SLOPE)
    return 23 + (x * cos - y * sin) / 12, 7.5 + (x * sin + y * cos) / 12


def along(x: float, y: float) -> tuple[float, float]:
    """A point of the plan in ft as seen along the path's longest side."""
    cos, sin = np.cos(SLOPE), np.sin(SLOPE)
    dx, dy = 12 * (x - 23), 12 * (y - 7.5)
    return dx * cos + dy * sin, dy * cos - dx * sin


def on_path(x: np.ndarray, y: np.ndarray) -> np.ndarray:
    """The path: between its two bent sides, from the terrace to the fire corner."""
    x, y = level(x, y)
    lower = np.where(x < 24, 4, 4 + (x - 24) * 5 / 9)
    upper = np.where(x < 23, 7.5, 7.5 + (x - 23) / 2)
    outside = (x - FIRE[0]) ** 2 + (y - FIRE[1]) ** 2 > 4.5**2
    return (x >= 16) & (x < 34) & (y >= lower) & (y <= upper) & outside


def line(*corners: tuple[float, float]) -> np.ndarray:
    """Paces along straight lines from corner to corner."""
    pieces = []
    for (a, b), (c, d) in itertools.pairwise(corners):
        count = max(1, round(np.hypot(c - a, d - b) / PACE))
        share = (np.arange(count) + 0.5) / count
        pieces.append(np.column_stack([a + (c - a) * share, b + (d - b) * share]))
    return np.vstack(pieces)


def arc(x: float, y: float, r: float, start: float, end: float) -> np.ndarray:
    """Paces along a part of a circle, from one angle to another."""
    count = round(abs(end - start) * r / PACE)
    turn = start + (end - start) * (np.arange(count) + 0.5) / count
    return np.column_stack([x + r * np.cos(turn), y + r * np.sin(turn)])


@dataclass(frozen=True)
class Paver:
    """A paver's true size and its cell: how it lies, and how far it is from the next."""

    long: float
    wide: float
    lay: Callable[[Paver, np.ndarray, np.ndarray], tuple[np.ndarray, ...]]

    @property
    def cell(self) -> tuple[float, float]:
        along, across = self.long + JOINT, self.wide + JOINT
        if self.lay is not herringbone:
            return along, across
        side = np.sqrt(along * across / 2)  # joints even out, so that a paver is two squares
        return 2 * side, side


@dataclass(frozen=True)
class Shape:
    """What is paved, the box around it, and its edge in paces."""

    inside: Inside
    box: tuple[float, float, float, float]
    edge: np.ndarray


def running(paver: Paver, x: np.ndarray, y: np.ndarray) -> tuple[np.ndarray, ...]:
    """Paver of each point in running bond, and its place in it."""
    long, wide = paver.cell
    row = np.floor(y / wide)
    along = x + (row % 2) * long / 2
    column = np.floor(along / long)
    return column, row, 0 * row, along - column * long, y - row * wide


def herringbone(paver: Paver, x: np.ndarray, y: np.ndarray) -> tuple[np.ndarray, ...]:
    """Paver of each point in herringbone."""
    side = paver.cell[1]
    i, j = np.floor(x / side), np.floor(y / side)
    turn = (i - j) % 4
    i0 = np.where(turn == 1, i - 1, i)
    j0 = np.where(turn == 2, j - 1, j)
    upright = turn >= 2
    u, v = x - i0 * side, y - j0 * side
    return i0, j0, upright * 1.0, np.where(upright, v, u), np.where(upright, side - u, v)


Pieces = dict[tuple[float, ...], set[tuple[int, int]]]


def pieces(shape: Shape, paver: Paver, start: tuple[float, float]) -> Pieces:
    """Points of every paver of the shape, as boxes of a grid over the paver."""
    left, low, right, top = shape.box
    x, y = np.meshgrid(np.arange(left + GRID / 2, right, GRID), np.arange(low, top, GRID))
    kept = shape.inside(x, y)
    x, y = x[kept] - start[0], y[kept] - start[1]
    found: Pieces = {}
    i, j, turned, u, v = paver.lay(paver, x, y)
    for name, a, b in zip(
        zip(i, j, turned, strict=True), u // (2 * GRID), v // (2 * GRID), strict=True
    ):
        found.setdefault(name, set()).add((int(a), int(b)))
    return found


def used(parts: list, along: int, across: int) -> tuple[int, int, int]:
    """Whole pavers, cut ones, and pairs of cut ones out of one paver: largest first."""
    full = along * across
    whole = [p for p in parts if len(p) >= full * 0.985]
    cut = sorted((p for p in parts if full * 0.015 < len(p) < full * 0.985), key=len)[::-1]
    pairs = 0
    while cut:
        piece = cut.pop(0)
        turned = {(along - 1 - a, across - 1 - b) for a, b in piece}
        for k, other in enumerate(cut):
            fits = len(piece) + len(other) <= full
            if fits and (len(piece & other) <= 2 or len(turned & other) <= 2):
                cut.pop(k)
                pairs += 1
                break
    total = len([p for p in parts if full * 0.015 < len(p) < full * 0.985])
    return len(whole), total, pairs


def cut_edge(shape: Shape, paver: Paver, start: tuple[float, float], cut: set) -> float:
    """Length of edge that crosses the faces of cut pavers, in ft."""
    x, y = shape.edge[:, 0] - start[0], shape.edge[:, 1] - start[1]
    i, j, turned, u, v = paver.lay(paver, x, y)
    face = [(n - size) / 2 for n, size in zip(paver.cell, (paver.long, paver.wide), strict=True)]
    on_face = (u > face[0]) & (u < paver.cell[0] - face[0])
    on_face &= (v > face[1]) & (v < paver.cell[1] - face[1])
    names = zip(i, j, turned, strict=True)
    return sum(PACE for name, on in zip(names, on_face, strict=True) if on and name in cut) / 12


def counts(shape: Shape, paver: Paver) -> list[tuple[int, float]]:
    """Pavers used and edge cut from every corner, with a whole paver or half a paver on."""
    cell = paver.cell
    along, across = (int(np.ceil(n / (2 * GRID))) for n in cell)
    left, low, right, top = shape.box
    starts = list(itertools.product((left, right), (low, top)))
    starts += [(left + cell[0] / 2, low), (left + cell[0] / 2, top)]
    found = []
    for start in starts:
        parts = pieces(shape, paver, start)
        whole, cut, pairs = used(list(parts.values()), along, across)
        full = along * across
        at_edge = {k for k, p in parts.items() if full * 0.015 < len(p) < full * 0.985}
        found.append((whole + cut - pairs, cut_edge(shape, paver, start, at_edge)))
    return found


PI = np.pi
BLOCK = Paver(8, 4, running)
COBBLE = Paver(9, 6, running)
FIRE_CORNER = Shape(circle, (0, 0, 108, 108), arc(54, 54, 54, 0, 2 * PI))
TERRACE = Shape(
    terrace,
    (0, 0, 264, 192),
    np.vstack([
        line((120, 24), (120, 0), (264, 0), (264, 192), (0, 192), (0, 96), (48, 96)),
        arc(120, 96, 72, PI, PI * 3 / 2),
        arc(48, 144, 18, 0, 2 * PI),
    ]),
)  # fmt: skip
# The path's sides end on the fire corner: 10.264 and 11.148 ft from their corners, worked out in
# test_terrace_by_hand.
ENDS = {
    "lower": (24 + 10.264 * 9 / np.hypot(9, 5), 4 + 10.264 * 5 / np.hypot(9, 5)),
    "upper": (23 + 11.148 * np.cos(SLOPE), 7.5 + 11.148 * np.sin(SLOPE)),
}
ROUND = np.array([
    along(FIRE[0] + 4.5 * np.cos(t), FIRE[1] + 4.5 * np.sin(t))
    for t in np.linspace(
        np.arctan2(ENDS["upper"][1] - FIRE[1], ENDS["upper"][0] - FIRE[0]),
        np.arctan2(ENDS["lower"][1] - FIRE[1], ENDS["lower"][0] - FIRE[0]) + 2 * PI,
        688,  # 43 in of it, in paces
    )
])  # fmt: skip
CORNERS = [along(*at) for at in [(16, 4), (24, 4), ENDS["lower"]]]
CORNERS += [along(*at) for at in [ENDS["upper"], (23, 7.5), (16, 7.5)]]
PATH = Shape(
    on_path,
    (*np.min(CORNERS, axis=0), *np.max(CORNERS, axis=0)),
    np.vstack([line(*CORNERS[:3]), ROUND, line(*CORNERS[3:], CORNERS[0])]),
)


@pytest.fixture(scope="module")
def takeoff(tmp_path_factory: pytest.TempPathFactory) -> Takeoff:
    path: Path = tmp_path_factory.mktemp("terrace") / "terrace.xlsx"
    write_blank(path, "imperial", example="terrace")
    job = read(path).job
    assert job is not None
    return take_off(job)


ON_HAND = {"Path": 48 * 0.9}  # cobbles, sheet Stock


@pytest.mark.parametrize(
    ("part", "shape", "paver"),
    [
        ("Fire corner", FIRE_CORNER, BLOCK),
        ("Terrace", TERRACE, Paver(8, 4, herringbone)),
        ("Path", PATH, COBBLE),
    ],
)
def test_pavers_and_edge_to_cut(takeoff: Takeoff, part: str, shape: Shape, paver: Paver) -> None:
    found = counts(shape, paver)
    most = max(count for count, _ in found)
    need = next(n for n in takeoff.needs if n.kind == "paver" and n.part == part)
    geometry = next(p for p in takeoff.parts if p.part == part)
    spoiled = 0.1 * len(geometry.laid[0].cut)
    ordered = need.order.value + ON_HAND.get(part, 0)
    assert ordered == pytest.approx(most * 1.03 + spoiled, rel=0.01)
    edges = [edge for count, edge in found if count >= most * 0.998]
    assert min(abs(geometry.cut_length.value / FOOT / edge - 1) for edge in edges) < 0.015
