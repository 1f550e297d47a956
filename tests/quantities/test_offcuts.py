"""Which pieces come out of one paver, against shapely's turning and another library's pairing."""

from __future__ import annotations

import math
import random

import networkx
import numpy as np
import pytest
from shapely import Polygon, box
from shapely.affinity import rotate

from budget.quantities.laid import offcuts
from budget.quantities.laid.offcuts import DIRECTIONS, pairs, spans

FACE = (0.21, 0.13)
PAVER = box(0, 0, *FACE)


def halves(pick: random.Random) -> list[Polygon]:
    """Both parts of a paver that is cut straight, in a direction that is looked at."""
    angle = pick.randrange(DIRECTIONS) * math.pi / DIRECTIONS
    x, y = pick.uniform(0.2, 0.8) * FACE[0], pick.uniform(0.2, 0.8) * FACE[1]
    cos, sin = math.cos(angle), math.sin(angle)
    along = [(x + s * cos, y + s * sin) for s in (-1, 1)]
    side = [(px - sin, py + cos) for px, py in reversed(along)]
    left = PAVER.intersection(Polygon([*along, *side]))
    return [left, PAVER.difference(left)]


def paired(pieces: list[Polygon]) -> int:
    """Pairs of pieces by the program."""
    rings = [np.array(piece.exterior.coords[:-1]) for piece in pieces]
    of = np.repeat(np.arange(len(pieces)), [len(ring) for ring in rings])
    low, high = spans(np.vstack(rings), of, len(pieces))
    return pairs(low, high, np.array([piece.area for piece in pieces]), FACE)


def fit(one: Polygon, other: Polygon) -> bool:
    """Whether both lie in one paver side by side, the other as it lies or half turned."""
    turned = rotate(other, 180, origin=(FACE[0] / 2, FACE[1] / 2))
    return bool(min(one.intersection(other).area, one.intersection(turned).area) < 1e-6)


def by_others(pieces: list[Polygon]) -> int:
    found = networkx.Graph()
    found.add_edges_from(
        (i, j)
        for i, one in enumerate(pieces)
        for j, other in enumerate(pieces[:i])
        if fit(one, other)
    )
    return len(networkx.max_weight_matching(found, maxcardinality=True))


@pytest.mark.parametrize("seed", range(6))
def test_as_many_pavers_give_two_pieces_as_can(seed: int) -> None:
    """Parts of pavers cut across in any direction, some of both sides and some twice."""
    pick = random.Random(seed)
    pieces = [piece for _ in range(9) for piece in halves(pick)[: pick.randint(1, 2)]]
    pieces += pieces[:3]
    assert 0 < paired(pieces) == by_others(pieces) < len(pieces)


@pytest.mark.parametrize("direction", range(DIRECTIONS))
def test_both_parts_of_a_cut_come_out_of_one_paver(direction: int) -> None:
    """As they lie; and of two left parts of a cut through the middle one is turned."""
    angle = direction * math.pi / DIRECTIONS
    cos, sin = math.cos(angle), math.sin(angle)
    for off, twice in ((0.0, True), (0.01, False)):
        x, y = FACE[0] / 2 - off * sin, FACE[1] / 2 + off * cos
        ring = [(x + s * cos + u * sin, y + s * sin - u * cos) for s, u in
                ((-1, 0), (-1, 1), (1, 1), (1, 0))]  # fmt: skip
        larger = PAVER.intersection(Polygon(ring))
        smaller = PAVER.difference(larger)
        assert paired([larger, smaller]) == 1
        assert paired([smaller, smaller]) == 1
        assert paired([larger, larger]) == int(twice)


@pytest.mark.parametrize(("at_once", "found"), [(4, 2), (3, 1)])
def test_few_pieces_are_paired_as_often_as_can_be_and_many_largest_first(
    monkeypatch: pytest.MonkeyPatch, at_once: int, found: int
) -> None:
    """Of 99, 96, 88 and 80 sq cm: the largest goes with both that follow it.

    Taken with the first of those it leaves two that overlap however they are turned; with the
    second, the first goes with the smallest.
    """
    monkeypatch.setattr(offcuts, "MOST_EXACT", at_once)
    corners = (0, 0, 16, 5), (0, 5, 12, 13), (0, 0, 8, 11), (12, 0, 21, 11)
    assert paired([box(*(n / 100 for n in each)) for each in corners]) == found


def test_of_very_many_pieces_each_is_paired_with_the_largest_that_fit(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Of 21 cm: 40 of 13 go with 15 of 7 and then with 2 of 5 cm; 30 of 12 with nothing left."""
    monkeypatch.setattr(offcuts, "MOST_EXACT", 50)
    sizes = [0.12] * 30 + [0.05] * 2 + [0.13] * 40 + [0.07] * 15
    pieces = [box(0, 0, long, FACE[1]) for long in sizes]
    assert paired(pieces) == 15 + 2
    few = [box(0, 0, long, FACE[1]) for long in [0.12] * 30 + [0.05] * 7 + [0.13] * 3 + [0.09] * 15]
    # 3 of 13 with as many of 5; 15 of 12 with 9; of 12 with the 4 of 5 that are left
    assert paired(few) == 3 + 15 + 4
