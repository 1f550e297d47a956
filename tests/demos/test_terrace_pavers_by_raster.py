"""The terrace demo's pavers counted a second way: points on a fine grid, none of the tool's code.

Shapes are inequalities, patterns are formulas from a point to its paver, and two pieces come out
of one paver if their points, as they lie or half turned, do not meet. Every corner of the box
around a shape is tried as the start, as the tool does; counts agree within one paver in a
hundred.
"""

from __future__ import annotations

import itertools
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest

from budget.quantities import take_off
from budget.quantities.takeoff import Takeoff
from budget.workbook import read, write_blank

JOINT = 3 / 16  # everything here is in inches
GRID = 3 / 8  # from point to point

Inside = Callable[[np.ndarray, np.ndarray], np.ndarray]


def circle(x: np.ndarray, y: np.ndarray) -> np.ndarray:
    """The fire corner, 9 ft across."""
    return (x - 54) ** 2 + (y - 54) ** 2 <= 54**2


def arms(x: np.ndarray, y: np.ndarray) -> np.ndarray:
    """Long arm 16 x 12 ft and short arm 10 x 8 ft side by side, less the tree in the middle."""
    long = (x >= 0) & (x <= 192) & (y >= 0) & (y <= 144)
    short = (x >= 192) & (x <= 312) & (y >= 0) & (y <= 96)
    return (long | short) & ((x - 96) ** 2 + (y - 72) ** 2 > 18**2)


def quarter(x: np.ndarray, y: np.ndarray) -> np.ndarray:
    """A quarter of a circle 12 ft across."""
    return (x >= 0) & (y >= 0) & (x**2 + y**2 <= 72**2)


def running(x: np.ndarray, y: np.ndarray) -> tuple[np.ndarray, ...]:
    """Paver of each point in running bond, and its place in it."""
    long, wide = 8 + JOINT, 4 + JOINT
    row = np.floor(y / wide)
    along = x + (row % 2) * long / 2
    column = np.floor(along / long)
    return column, row, 0 * row, along - column * long, y - row * wide


def herringbone(x: np.ndarray, y: np.ndarray) -> tuple[np.ndarray, ...]:
    """Paver of each point in herringbone; joints even out, so that a paver is two squares."""
    side = np.sqrt((8 + JOINT) * (4 + JOINT) / 2)
    i, j = np.floor(x / side), np.floor(y / side)
    turn = (i - j) % 4
    i0 = np.where(turn == 1, i - 1, i)
    j0 = np.where(turn == 2, j - 1, j)
    upright = turn >= 2
    u, v = x - i0 * side, y - j0 * side
    return i0, j0, upright * 1.0, np.where(upright, v, u), np.where(upright, side - u, v)


def pieces(inside: Inside, box: tuple[float, float], lay, start: tuple[float, float]) -> list:
    """Points of every paver of the shape, as boxes of a grid over the paver."""
    x, y = np.meshgrid(np.arange(GRID / 2, box[0], GRID), np.arange(GRID / 2, box[1], GRID))
    kept = inside(x, y)
    x, y = x[kept] - start[0], y[kept] - start[1]
    found: dict[tuple[float, ...], set[tuple[int, int]]] = {}
    i, j, turned, u, v = lay(x, y)
    for name, a, b in zip(
        zip(i, j, turned, strict=True), u // (2 * GRID), v // (2 * GRID), strict=True
    ):
        found.setdefault(name, set()).add((int(a), int(b)))
    return list(found.values())


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


def counts(inside: Inside, box: tuple[float, float], lay, length: float) -> list[int]:
    """Pavers used from every corner, with a whole paver or half a paver on."""
    side = np.sqrt((8 + JOINT) * (4 + JOINT) / 2)
    cell = (2 * side, side) if lay is herringbone else (8 + JOINT, 4 + JOINT)
    along, across = (int(np.ceil(n / (2 * GRID))) for n in cell)
    starts = [(a, b) for a, b in itertools.product((0.0, box[0]), (0.0, box[1]))]
    starts += [(cell[0] / 2, 0.0), (cell[0] / 2, box[1])]
    found = []
    for start in starts:
        whole, cut, pairs = used(pieces(inside, box, lay, start), along, across)
        found.append(whole + cut - pairs)
    return found


@pytest.fixture(scope="module")
def takeoff(tmp_path_factory: pytest.TempPathFactory) -> Takeoff:
    path: Path = tmp_path_factory.mktemp("terrace") / "terrace.xlsx"
    write_blank(path, "imperial", example="terrace")
    job = read(path).job
    assert job is not None
    return take_off(job)


def order(takeoff: Takeoff, part: str) -> float:
    return next(n for n in takeoff.needs if n.kind == "paver" and n.part == part).order.value


def laid(takeoff: Takeoff, part: str):
    return next(p for p in takeoff.parts if p.part == part).laid[0]


def test_the_fire_corner(takeoff: Takeoff) -> None:
    most = max(counts(circle, (108, 108), running, 8))
    pavers = laid(takeoff, "Fire corner")
    spoiled = 0.1 * len(pavers.cut)
    assert order(takeoff, "Fire corner") == pytest.approx(most * 1.03 + spoiled, rel=0.01)


def test_the_terrace(takeoff: Takeoff) -> None:
    most = max(counts(arms, (312, 144), herringbone, 8))
    most += max(counts(quarter, (72, 72), herringbone, 8))
    pavers = laid(takeoff, "Terrace")
    spoiled = 0.1 * len(pavers.cut)
    assert order(takeoff, "Terrace") == pytest.approx(most * 1.03 + spoiled, rel=0.01)
