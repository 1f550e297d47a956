"""What is drawn of each part: corners, places and sizes, each as drawn on squared paper."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from typing import Any

import pytest
from shapely import Polygon

from budget.job import Corner, Place
from budget.quantities.plan.outlines import drawing, rings_of
from budget.quantities.plan.own_corner import Drawn, from_corner
from budget.quantities.plan.parts import parts_of, piece_of
from budget.quantities.plan.placing import place
from budget.units import FOOT

Ring = Sequence[tuple[float, float]]
GAP = 0.4 / FOOT


def feet(ring: Ring) -> list[tuple[float, float]]:
    return [(x / FOOT, y / FOOT) for x, y in ring]


def drawn(make: Any, *areas: Any, corners: tuple[Corner, ...] = ()) -> tuple[Any, Any, Any]:
    """Outlines and holes as polygons in feet, and labels, of a job of one part."""
    job = make.job(*areas, corners=corners)
    (part,), _ = place(parts_of(job)[0], "imperial")
    outlines, holes, labels = drawing(part, "imperial")
    found = [(round(x / FOOT, 3), round(y / FOOT, 3), text) for x, y, text in labels]
    return [Polygon(feet(r)) for r in outlines], [Polygon(feet(r)) for r in holes], found


def bounds(shapes: Sequence[Polygon]) -> list[Any]:
    return [pytest.approx(shape.bounds, abs=1e-6) for shape in shapes]


@pytest.mark.parametrize(
    ("row", "ring"),
    [
        ({"shape": "rectangle", "length": 7, "width": 3}, [(0, 0), (7, 0), (7, 3), (0, 3)]),
        ({"shape": "triangle", "length": 7, "width": 3}, [(0, 0), (7, 0), (0, 3)]),
    ],
    ids=["rectangle", "triangle"],
)
def test_straight_shapes_are_drawn_by_their_corners(make: Any, row: Any, ring: Ring) -> None:
    found = rings_of(piece_of(make.area(**row), make.job()))
    assert [feet(one) for one in found] == [[pytest.approx(point) for point in ring]]


@pytest.mark.parametrize(
    ("row", "middle", "first", "last", "turns"),
    [
        ({"shape": "circle"}, (4, 4), (8, 4), None, 1),
        ({"shape": "half circle"}, (4, 0), (8, 0), (0, 0), 1 / 2),
        ({"shape": "quarter circle"}, (0, 0), (4, 0), (0, 4), 1 / 4),
    ],
    ids=["circle", "half circle", "quarter circle"],
)
def test_round_shapes_are_drawn_in_even_chords(
    make: Any, row: Any, middle: Any, first: Any, last: Any, turns: float
) -> None:
    """Of 8 ft, all points 4 ft from the middle and as far from each other as in the circle."""
    (ring,) = rings_of(piece_of(make.area(diameter=8, **row), make.job()))
    points = feet(ring)
    if row["shape"] == "quarter circle":
        assert points.pop(0) == (0, 0)
    assert points[0] == pytest.approx(first, abs=1e-9)
    assert [math.dist(point, middle) for point in points] == pytest.approx([4] * len(points))
    ends = [*points, points[0]] if last is None else points
    assert ends[-1] == pytest.approx(last or first, abs=1e-9)
    (whole,) = rings_of(piece_of(make.area(diameter=8, shape="circle"), make.job()))
    chord = math.dist(*feet(whole)[:2])
    assert 0 < chord < 0.5
    chords = [math.dist(*pair) for pair in itertools.pairwise(ends)]
    assert chords == pytest.approx([chord] * len(chords))
    assert sum(chords) == pytest.approx(8 * math.pi * turns, rel=1e-3)


def test_an_ellipse_is_drawn_once_around(make: Any) -> None:
    """9 by 6 ft: of every point x^2 / 4.5^2 + y^2 / 3^2 is 1, seen from the middle."""
    row = make.area(shape="ellipse", length=9, width=6)
    (ring,) = rings_of(piece_of(row, make.job()))
    points = feet(ring)
    assert points[0] == pytest.approx((9, 3))
    on_it = [((x - 4.5) / 4.5) ** 2 + ((y - 3) / 3) ** 2 for x, y in points]
    assert on_it == pytest.approx([1] * len(points))
    assert Polygon(points).is_valid


def test_a_shape_with_only_half_a_place_has_none(make: Any) -> None:
    """7 by 3 ft are drawn from 0, 0 on whichever of x and y is missing."""
    for half in ({"x": 30.0}, {"y": 20.0}):
        assert bounds(drawn(make, make.area(length=7, width=3, **half))[0]) == [(0, 0, 7, 3)]


def test_a_ring_is_drawn_as_two_circles_around_one_middle(make: Any) -> None:
    row = make.area(shape="ring", diameter=12, inner_diameter=5)
    outer, inner = (feet(ring) for ring in rings_of(piece_of(row, make.job())))
    for ring, radius in ((outer, 6), (inner, 2.5)):
        assert [math.dist(p, (6, 6)) for p in ring] == pytest.approx([radius] * len(ring))
        around = Polygon(ring)
        assert around.length == pytest.approx(2 * math.pi * radius, rel=1e-3)
        assert around.is_valid


def test_shapes_stand_side_by_side_from_the_left(make: Any) -> None:
    """7, 12 and 5 ft wide and a gap between each two; what is only measured takes no room."""
    areas = (
        make.area(name="a", shape="measured", area=30, perimeter=22),
        make.area(name="b", length=7, width=3),
        make.area(name="c", shape="ring", diameter=12, inner_diameter=4),
        make.area(name="d", shape="polygon"),
    )
    corners = make.corners("d", (20, 30), (25, 30), (22, 34))
    outlines, holes, labels = drawn(make, *areas, corners=corners)
    ring, last = 7 + GAP, 19 + 2 * GAP
    assert bounds(outlines) == [(0, 0, 7, 3), (ring, 0, ring + 12, 12), (last, 0, last + 5, 4)]
    assert bounds(holes) == [(ring + 4, 4, ring + 8, 8)]
    assert labels == [
        (3.5, 0, "7 ft"), (0, 1.5, "3 ft"), (round(ring + 6, 3), 0, "⌀ 12 ft"),
    ]  # fmt: skip


@pytest.mark.parametrize("shape", ["triangle", "ellipse"])
def test_length_stands_below_and_width_at_the_left(make: Any, shape: str) -> None:
    """Of the second of two shapes, 6 by 4 ft, that begins a gap beyond 7 ft."""
    areas = (
        make.area(name="a", length=7, width=3),
        make.area(name="b", shape=shape, length=6, width=4),
    )
    left = 7 + GAP
    labels = drawn(make, *areas)[2][2:]
    assert labels == [(round(left + 3, 3), 0, "6 ft"), (round(left, 3), 2, "4 ft")]


def test_only_sizes_that_make_a_shape_are_written_at_it(make: Any) -> None:
    """A length beside a circle's diameter is not used, nor is the base line of offsets a side."""
    circle = make.area(shape="circle", diameter=8, length=5)
    assert drawn(make, circle)[2] == [(4, 0, "⌀ 8 ft")]
    bed = make.area(name="bed", shape="offsets", length=9)
    rows = tuple(
        Corner(place=Place("Outline", 3 + i, {"length": "E"}), area="bed", order=i, length=n * FOOT)
        for i, n in enumerate((2, 3))
    )
    outlines, _, labels = drawn(make, bed, corners=rows)
    assert bounds(outlines) == [(0, 0, 9, 3)]
    assert labels == []


def test_polygons_lie_as_their_corners_say_unless_another_shape_has_none(make: Any) -> None:
    corners = (
        *make.corners("a", (10, 20), (15, 20), (15, 27)),
        *make.corners("b", (40, 50), (43, 50), (43, 54)),
    )
    two = [make.area(name=name, shape="polygon") for name in "ab"]
    assert bounds(drawn(make, *two, corners=corners)[0]) == [(10, 20, 15, 27), (40, 50, 43, 54)]
    third = make.area(name="c", length=2, width=6)
    apart = [(0, 0, 5, 7), (5 + GAP, 0, 8 + GAP, 4), (8 + 2 * GAP, 0, 10 + 2 * GAP, 6)]
    assert bounds(drawn(make, *two, third, corners=corners)[0]) == apart


def test_shapes_without_a_place_stand_right_of_those_that_have_one(make: Any) -> None:
    """A terrace from 30 to 50 ft with a hatch of 2 by 1 ft in it, and a polygon of 5 by 7 ft."""
    areas = (
        make.area(name="a", length=20, width=10, x=30.0, y=7.0),
        make.area(name="b", shape="polygon"),
        make.area(name="c", length=2, width=1, x=33.0, y=9.0, cut_out=True),
    )
    corners = make.corners("b", (10, 20), (15, 20), (15, 27))
    outlines, holes, labels = drawn(make, *areas, corners=corners)
    assert bounds(outlines) == [(30, 7, 50, 17), (50 + GAP, 0, 55 + GAP, 7)]
    assert bounds(holes) == [(33, 9, 35, 10)]
    assert labels == []


def test_cut_outs_without_a_place_lie_in_the_largest_shape(make: Any) -> None:
    """The second of two, of 14 ft beyond 5 ft and a gap; a measured one is not drawn."""
    areas = (
        make.area(name="a", length=5, width=6),
        make.area(name="b", length=14, width=9),
        make.area(name="s", shape="measured", area=3, cut_out=True),
        make.area(name="t", length=2, width=1, cut_out=True),
    )
    left = 5 + GAP
    assert bounds(drawn(make, *areas)[1]) == [(left + 6, 4, left + 8, 5)]


@pytest.mark.parametrize(
    ("hatch", "kept"),
    [((12, 22), (12, 22)), ((29, 22), (19, 24)), ((50, 60), (19, 24))],
    ids=["inside", "half outside", "outside"],
)
def test_a_cut_out_by_corners_is_drawn_there_only_where_there_is_paving(
    make: Any, hatch: tuple[int, int], kept: tuple[int, int]
) -> None:
    """2 by 2 ft out of 20 by 10 ft from 10, 20 ft on, or else in the middle of them."""
    x, y = hatch
    areas = (
        make.area(name="a", shape="polygon"), make.area(name="h", shape="polygon", cut_out=True),
    )  # fmt: skip
    corners = (
        *make.corners("a", (10, 20), (30, 20), (30, 30), (10, 30)),
        *make.corners("h", (x, y), (x + 2, y), (x + 2, y + 2), (x, y + 2)),
    )
    (found,) = bounds(drawn(make, *areas, corners=corners)[1])
    assert found == (*kept, kept[0] + 2, kept[1] + 2)


def test_a_cut_out_by_corners_is_drawn_in_the_middle_of_a_shape_without_any(make: Any) -> None:
    areas = (make.area(name="a", length=20, width=10),
             make.area(name="h", shape="polygon", cut_out=True))  # fmt: skip
    corners = make.corners("h", (2, 3), (4, 3), (4, 5), (2, 5))
    assert bounds(drawn(make, *areas, corners=corners)[1]) == [(9, 4, 11, 6)]


def test_cut_outs_lie_along_the_middle_or_where_there_is_paving(make: Any) -> None:
    """Of 20 ft from 30, 7 ft on, at a quarter, a half and three quarters of 10 ft up.

    In an L whose middle is not paved all lie at a point inside it.
    """
    holes = [
        make.area(name=name, length=long, width=1, cut_out=True)
        for name, long in (("t", 1), ("u", 2), ("v", 3))
    ]
    placed = make.area(name="a", length=20, width=10, x=30.0, y=7.0)
    found = [hole.centroid.coords[0] for hole in drawn(make, placed, *holes)[1]]
    assert found == [pytest.approx(spot) for spot in ((35, 12), (40, 12), (45, 12))]
    points = (4, 5), (24, 5), (24, 8), (7, 8), (7, 25), (4, 25)
    ell, corners = make.area(name="ell", shape="polygon"), make.corners("ell", *points)
    (hole,) = drawn(make, ell, holes[0], corners=corners)[1]
    inside = Polygon(points).representative_point()
    assert hole.centroid.coords[0] == pytest.approx((inside.x, inside.y), abs=0.1)


def test_a_shape_seen_from_its_corner_is_drawn_where_it_lies() -> None:
    """Rings of 9 and 3 m seen from (-4, 2.5), to the nanometre and back to a tenth of a mm."""
    outer = ((5.0, 2.5), (5.0, 11.5), (-4.0, 7.12345678949))
    hole = ((1.0, 6.0), (3.0, 7.5), (1.0, 9.0))
    corner, (seen, seen_hole) = from_corner((outer, hole))
    assert corner == (-4.0, 2.5)
    assert seen == ((9.0, 0.0), (9.0, 9.0), (0.0, 4.623456789))
    assert seen_hole == ((5.0, 3.5), (7.0, 5.0), (5.0, 6.5))
    again = Drawn((seen,), (seen_hole,), corner)
    assert again.whole == (((5.0, 2.5), (5.0, 11.5), (-4.0, 7.1235)),)
    assert again.cut == (hole,)
