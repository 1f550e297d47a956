"""Shapes in their place on the plan: true sizes, turned about their own point, side by side."""

from __future__ import annotations

import itertools
import math
from dataclasses import replace
from typing import Any

import pytest
from shapely import Point, Polygon, affinity, box

from budget.job import Corner
from budget.quantities.plan.parts import parts_of
from budget.quantities.plan.placed_shapes import Footprint, footprint
from budget.units import FOOT

PI = math.pi
X, Y, TURN = 7.0, -5.0, 35.0
PLACE: dict[str, Any] = {"x": X, "y": Y, "turn": TURN}


def found(make: Any, corners: tuple[Corner, ...] = (), **row: Any) -> Footprint:
    """Where the only shape of a job lies."""
    (part,), _ = parts_of(make.job(make.area(**row), corners=corners))
    shape = footprint(part.added[0])
    assert shape is not None
    return shape


def placed(shape: Any) -> Any:
    """A shape around 0, 0 in feet, in its place and turned, by shapely."""
    turned = affinity.rotate(shape, TURN, origin=(0, 0))
    return affinity.scale(affinity.translate(turned, X, Y), FOOT, FOOT, origin=(0, 0))


def half(disc: Any) -> Any:
    return disc.intersection(box(-99, 0, 99, 99))


def quarter(disc: Any) -> Any:
    return disc.intersection(box(0, 0, 99, 99))


DISC = Point(0, 0).buffer(6, quad_segs=500)
SHAPES: list[tuple[dict[str, Any], Any, float, float, float]] = [
    ({"shape": "rectangle", "length": 9, "width": 4}, box(0, 0, 9, 4), 36, 26, 0),
    (
        {"shape": "triangle", "length": 12, "width": 5},
        Polygon([(0, 0), (12, 0), (0, 5)]), 30, 30, 0,
    ),
    ({"shape": "circle", "diameter": 12}, DISC, 36 * PI, 0, 12 * PI),
    ({"shape": "half circle", "diameter": 12}, half(DISC), 18 * PI, 12, 6 * PI),
    ({"shape": "quarter circle", "diameter": 12}, quarter(DISC), 9 * PI, 12, 3 * PI),
    (
        {"shape": "ring", "diameter": 12, "inner_diameter": 5},
        DISC.difference(Point(0, 0).buffer(2.5, quad_segs=500)), 29.75 * PI, 0, 17 * PI,
    ),
    (
        {"shape": "ellipse", "length": 12, "width": 6},
        affinity.scale(DISC, 1, 0.5, origin=(0, 0)), 18 * PI, 0,
        affinity.scale(DISC, 1, 0.5, origin=(0, 0)).length,
    ),
]  # fmt: skip


@pytest.mark.parametrize(
    ("row", "shape", "area", "straight", "curved"), SHAPES, ids=[s[0]["shape"] for s in SHAPES]
)
def test_each_shape_lies_turned_about_its_point_with_its_true_edge(
    make: Any, row: Any, shape: Any, area: float, straight: float, curved: float
) -> None:
    """About the first corner, or the middle of what is round; against shapely's own turning."""
    lies = found(make, **row, **PLACE)
    polygon = lies.polygon()
    assert polygon.symmetric_difference(placed(shape)).area < polygon.area * 1e-3
    assert polygon.area / FOOT**2 == pytest.approx(area, rel=3e-3)
    for bent, long in ((False, straight), (True, curved)):
        sides = sum(side.length for side in lies.sides if side.curved is bent)
        assert sides / FOOT == pytest.approx(long, rel=1e-5)
    around = [ring[i] for ring in lies.rings for i in range(len(ring))]
    assert [side.start for side in lies.sides] == around
    after = [ring[(i + 1) % len(ring)] for ring in lies.rings for i in range(len(ring))]
    assert [side.end for side in lies.sides] == after
    assert polygon.is_valid


@pytest.mark.parametrize(
    ("row", "area"),
    [
        ({"shape": "circle", "diameter": 12}, 36 * PI),
        ({"shape": "ring", "diameter": 12, "inner_diameter": 5}, 29.75 * PI),
        ({"shape": "ellipse", "length": 12, "width": 6}, 18 * PI),
    ],
)
def test_what_is_round_covers_its_true_area(make: Any, row: Any, area: float) -> None:
    """Chords that begin on a circle enclose less than it does: their ends lie a hair outside."""
    assert found(make, **row, **PLACE).polygon().area / FOOT**2 == pytest.approx(area, rel=1e-12)


def test_a_part_of_a_circle_ends_where_its_straight_sides_do(make: Any) -> None:
    """6 ft from the middle, at both ends of the curve; between them a hair further out."""
    for shape, last in (("half circle", 180), ("quarter circle", 90)):
        (ring,) = found(make, shape=shape, diameter=12, **PLACE).rings
        points = [(x / FOOT - X, y / FOOT - Y) for x, y in ring]
        if shape == "quarter circle":
            assert points.pop(0) == pytest.approx((0, 0), abs=1e-12)
        for (x, y), degrees in ((points[0], TURN), (points[-1], TURN + last)):
            angle = math.radians(degrees)
            assert (x, y) == pytest.approx((6 * math.cos(angle), 6 * math.sin(angle)), abs=1e-12)
        between = {round(math.hypot(x, y), 9) for x, y in points[1:-1]}
        assert len(between) == 1
        assert 6 < between.pop() < 6.002
        steps = [math.dist(a, b) for a, b in itertools.pairwise(points)]
        assert max(steps) == pytest.approx(min(steps), rel=1e-2)


def test_a_shape_by_corners_keeps_them_and_is_turned_about_zero(make: Any) -> None:
    points = ((1, 2), (8, 3), (4, 9))
    corners = make.corners("plan", *points)
    lies = found(make, corners, name="plan", shape="polygon", **PLACE)
    shape = placed(Polygon(points))
    for ring, wanted in zip(lies.rings, [shape.exterior.coords[:-1]], strict=True):
        assert ring == pytest.approx([pytest.approx(point) for point in wanted])
    assert not any(side.curved for side in lies.sides)


def test_a_shape_without_a_place_or_an_outline_lies_nowhere(make: Any) -> None:
    areas: list[dict[str, Any]] = [
        {"length": 4, "width": 3},
        {"length": 4, "width": 3, "x": 2.0},
        {"length": 4, "width": 3, "y": 2.0},
        {"shape": "measured", "area": 30, "x": 2.0, "y": 2.0},
    ]
    for row in areas:
        (part,), _ = parts_of(make.job(make.area(**row)))
        assert footprint(part.added[0]) is None
    assert found(make, length=4, width=3, x=0.0, y=0.0).polygon().bounds[:2] == (0, 0)


def test_of_curved_offsets_only_the_curve_is_bent(make: Any) -> None:
    """Along 4 ft 3, 2, 2, 5 and 2 ft away: the ends upright, the top bent where it is level too."""
    corner = make.corners("Terrace", (0, 0))[0]
    rows = tuple(
        replace(corner, order=i, x=None, y=None, length=away * FOOT)
        for i, away in enumerate((3, 2, 2, 5, 2))
    )
    lies = found(make, rows, shape="curved offsets", name="Terrace", length=4, **PLACE)
    straight = sorted(side.length / FOOT for side in lies.sides if not side.curved)
    assert straight == pytest.approx([2, 3, 4])
    assert len(lies.sides) - 3 == sum(side.curved for side in lies.sides) > 20
