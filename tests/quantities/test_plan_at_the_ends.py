"""Edges and corners of what is planned, at the ends of their rules, each counted on paper."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import pytest
import shapely

from budget.figures import constant
from budget.quantities import take_off
from budget.quantities.plan.outlines import drawing
from budget.quantities.plan.parts import add, parts_of
from budget.quantities.plan.placed_shapes import footprint
from budget.quantities.plan.placing import place
from budget.quantities.plan.regions import near, rings, trimmed, union
from budget.units import FOOT, LENGTH


@pytest.mark.parametrize(("named", "open_edge"), [(0, 58), (5, 55)])
def test_a_narrow_walk_takes_its_two_feet_off_the_open_edge(
    make: Any, named: float, open_edge: float
) -> None:
    """20 x 10 ft are 60 round, 2 of them along the walk; 5 named are 3 beyond what is shown."""
    areas = (
        make.area("Terrace", length=20, width=10, x=0.0, y=0.0, joined_edge=named),
        make.area("Walk", length=9, width=2, x=20.0, y=4.0),
    )
    parts, _ = place(parts_of(make.job(*areas))[0], "imperial")
    edges = parts[0].added[0].edges
    assert edges.open.value / FOOT == pytest.approx(open_edge)
    assert "edge against Walk" in repr(edges.open)
    assert "house" not in repr(edges.open)


@pytest.mark.parametrize(
    ("house", "joined", "base"),
    [(20, 20, 200 + 20 / 2), (20, 10, 200 + 30 / 2 + 1 / 4), (20, 0, 200 + 40 / 2 + 2 / 4)],
    ids=["opposite sides", "neighbours", "one side"],
)
def test_corners_at_covered_sides_gain_nothing(
    make: Any, house: float, joined: float, base: float
) -> None:
    """20 x 10 ft, 6 in past every open side, and a square of 6 in at corners between two."""
    area = make.area(length=20, width=10, house_edge=house, joined_edge=joined)
    (part,) = take_off(make.job(area, build_ups=(make.build_up(overrun=6),))).parts
    assert part.base_area.value / FOOT**2 == pytest.approx(base)


def test_of_a_triangle_covered_runs_take_their_share_of_the_corners(make: Any) -> None:
    """3, 4 and 5 ft: 3 against the house and 4 against paving leave 5 of 12 ft."""
    bare, covered = (
        parts_of(make.job(make.area(shape="triangle", length=4, width=3, **edges)))[0][0]
        for edges in ({}, {"house_edge": 3, "joined_edge": 4})
    )
    corners = [part.added[0].edges.corners.value for part in (bare, covered)]
    assert corners[1] / corners[0] == pytest.approx(5 / 12)


@pytest.mark.parametrize(("joined", "told"), [(35, ["edge-too-long"]), (30, [])])
def test_house_and_paving_together_are_no_longer_than_the_edge(
    make: Any, joined: float, told: list[str]
) -> None:
    """Of 60 ft 30 are against the house."""
    area = make.area(length=20, width=10, house_edge=30, joined_edge=joined)
    assert [notice.code for notice in parts_of(make.job(area))[1]] == told


def test_a_part_without_area_names_its_last_cut_out(make: Any) -> None:
    areas = [
        make.area(name=name, length=length, width=10, cut_out=name != "all")
        for name, length in (("all", 20), ("west", 10), ("zone", 10))
    ]
    parts, notices = parts_of(make.job(*areas))
    assert parts == ()
    assert [(n.code, n.cell) for n in notices] == [("no-area", areas[-1].cell("cut_out"))]


def test_of_nothing_and_nothing_one_is_told() -> None:
    nothing = [constant(0, LENGTH, name) for name in ("here", "there")]
    assert add("edge", nothing).args == nothing[0].called("edge").args
    five = constant(5, LENGTH, "five")
    assert add("edge", [*nothing, five]).args == five.called("edge").args


@pytest.mark.parametrize(("named", "open_edge"), [(9.9, 50), (10, 50), (10.1, 50), (12, 48)])
def test_an_edge_named_as_long_as_the_plan_shows_it_is_that_edge(
    make: Any, named: float, open_edge: float
) -> None:
    """20 x 10 ft with a walk at a short side of 10 ft: 50 ft are open, less what is named beyond.

    A tape that reads a hundredth more or less tells of no other edge.
    """
    areas = (
        make.area("Terrace", length=20, width=10, x=0.0, y=0.0, joined_edge=named),
        make.area("Walk", length=5, width=10, x=20.0, y=0.0),
    )
    terrace, _ = take_off(make.job(*areas)).parts
    assert terrace.restrained.value / FOOT == pytest.approx(open_edge)


@pytest.mark.parametrize(("shape", "times"), [("half circle", 2), ("quarter circle", 4)])
def test_the_base_of_a_part_of_a_circle_in_a_corner_of_the_house(
    make: Any, shape: str, times: int
) -> None:
    """Against the house with every straight side: a share of a disc 6 in larger all round."""
    area = make.area(shape=shape, diameter=20, house_edge=20)
    (part,) = take_off(make.job(area, build_ups=(make.build_up(overrun=6),))).parts
    assert part.base_area.value / FOOT**2 == pytest.approx(math.pi * 10.5**2 / times)


def test_the_base_of_a_quarter_circle_along_one_wall(make: Any) -> None:
    """Mirrored in the wall it is a half disc of 10 ft, with square corners 6 in past its edge."""
    area = make.area(shape="quarter circle", diameter=20, house_edge=10)
    (part,) = take_off(make.job(area, build_ups=(make.build_up(overrun=6),))).parts
    disc = shapely.Point(0, 0).buffer(10, quad_segs=400)
    half = disc.intersection(shapely.box(-11, 0, 11, 11))
    assert part.base_area.value / FOOT**2 == pytest.approx(
        half.buffer(0.5, join_style="mitre", quad_segs=400).area / 2, rel=1e-4
    )


def test_an_edge_that_touches_no_paving_is_told_without_it(make: Any) -> None:
    parts, _ = parts_of(make.job(make.area(length=20, width=10, x=0.0, y=0.0)))
    (part,), _ = place(parts, "imperial")
    edges = part.added[0].edges
    assert edges.open.value / FOOT == pytest.approx(60)
    assert "paving" not in repr((edges.open, edges.free_straight))


def test_a_shape_is_told_by_its_name_or_else_by_what_it_is(make: Any) -> None:
    areas = make.area(name="yard", length=20, width=10), make.area("Walk", length=9, width=3)
    told = [part.added[0].shape.area.name for part in parts_of(make.job(*areas))[0]]
    assert told == ["area of yard", "area of rectangle"]


def test_an_ellipse_lies_as_long_and_as_wide_as_it_is(make: Any) -> None:
    """20 by 10 ft around 3, 4 ft, turned by a quarter."""
    area = make.area(shape="ellipse", length=20, width=10, x=3.0, y=4.0, turn=90.0)
    (part,), _ = parts_of(make.job(area))
    found = footprint(part.added[0])
    assert found is not None
    shape = found.polygon()
    assert [n / FOOT for n in shape.bounds] == pytest.approx([-2, -6, 8, 14], abs=1e-2)
    assert shape.area / FOOT**2 == pytest.approx(math.pi * 20 * 10 / 4, rel=1e-6)


@pytest.mark.parametrize("end", [1.0, 0.0])
def test_of_curved_offsets_the_base_line_and_the_ends_are_straight(make: Any, end: float) -> None:
    """end + x (4 - x) / 4 over 4 ft; the curve's length is the sum of sqrt(1 + (1 - x / 2)^2).

    By the integral: with a slope from 1 to -1 it is sqrt(2) + asinh(1), times 2.
    """
    base = make.area(shape="curved offsets", name="Terrace", length=4, x=7.0, y=5.0, turn=30.0)
    corner = make.corners("Terrace", (0, 0))[0]
    rows = tuple(
        replace(corner, order=i, x=None, y=None, length=(end + i * (4 - i) / 4) * FOOT)
        for i in range(5)
    )
    (part,), _ = parts_of(make.job(base, corners=rows))
    found = footprint(part.added[0])
    assert found is not None
    straight, curved = (
        sum(side.length for side in found.sides if side.curved is bent) / FOOT
        for bent in (False, True)
    )
    assert straight == pytest.approx(4 + 2 * end)
    assert curved == pytest.approx(2 * (math.sqrt(2) + math.asinh(1)), rel=1e-2)
    area = found.polygon().area / FOOT**2
    assert area == pytest.approx(4 * end + 4**3 / 24, rel=1e-2)


def test_shapes_without_a_place_are_drawn_apart_unless_they_are_joined(make: Any) -> None:
    """From the lower left corner of the drawing on, 0.4 m between those that are not joined."""

    def spans_of(joined: float) -> list[tuple[float, ...]]:
        areas = (
            make.area(name="a", length=20, width=10),
            make.area(name="b", length=5, width=10, joined_edge=joined),
        )
        (part,), _ = parts_of(make.job(*areas))
        rings, holes, _ = drawing(part, "imperial")
        assert holes == ()
        return [shapely.Polygon(ring).bounds for ring in rings]

    wide, tall, next_ = 20 * FOOT, 10 * FOOT, 5 * FOOT
    for joined, gap in ((0.0, 0.4), (10.0, 0.0)):
        first, second = spans_of(joined)
        assert first == pytest.approx((0, 0, wide, tall))
        assert second == pytest.approx((wide + gap, 0, wide + gap + next_, tall))


@pytest.mark.parametrize(
    ("row", "told"),
    [
        ({"part": "Walk", "x": 18.0}, [("overlap", "parts beside each other", "warning")]),
        (
            {"part": "Walk", "x": 2.0},
            [
                ("no-area", "some paved area", "problem"),
                ("overlap", "parts beside each other", "warning"),
            ],
        ),
        (
            {"cut_out": True, "x": 18.0},
            [("cut-out-outside", "a cut-out inside its part", "warning")],
        ),
    ],
    ids=["half over", "wholly over", "hole half outside"],
)
def test_what_is_amiss_on_the_plan_is_told_with_what_is_expected(
    make: Any, row: dict[str, Any], told: list[tuple[str, str, str]]
) -> None:
    """4 by 4 ft at the end of a terrace of 20 ft, or in the midst of it."""
    areas = (
        make.area(length=20, width=10, x=0.0, y=0.0),
        make.area(name="nook", length=4, width=4, y=2.0, **row),
    )
    said = [w for w in take_off(make.job(*areas)).warnings if w.sheet == "Areas"]
    assert [(w.code, w.expected, w.severity) for w in said] == told
    assert {w.cell for w in said} == {areas[1].cell("x")}


def test_cut_outs_without_a_place_are_drawn_along_the_middle_of_a_placed_shape(make: Any) -> None:
    """Of 20 by 10 ft from 30, 7 ft on, one a third and one two thirds along."""
    trees = [make.area(name=n, shape="circle", diameter=2, cut_out=True) for n in ("elm", "oak")]
    job = make.job(make.area(length=20, width=10, x=30.0, y=7.0), *trees)
    (part,), _ = place(parts_of(job)[0], "imperial")
    _, holes, _ = drawing(part, "imperial")
    middles = [shapely.Polygon(hole).centroid for hole in holes]
    found = [(middle.x / FOOT, middle.y / FOOT) for middle in middles]
    assert found == [pytest.approx((30 + 20 / 3, 12)), pytest.approx((30 + 40 / 3, 12))]


def test_a_hollow_corner_between_two_parts_is_half_of_each(make: Any) -> None:
    """A terrace has its four corners, less half of a hollow one at either side of the walk.

    The walk has its two outer ones, less the other halves. Far from 0, 0 as well as beside it.
    """
    for x, y in ((0.0, 0.0), (200.0, -300.0)):
        areas = (
            make.area(length=20, width=10, x=x, y=y),
            make.area("Walk", length=5, width=4, x=x + 20, y=y + 3),
        )
        parts, _ = place(parts_of(make.job(*areas))[0], "imperial")
        found = {part.name: part.added[0].edges.corners.value for part in parts}
        assert found == pytest.approx({"Terrace": 4 - 2 * 0.5, "Walk": 2 - 2 * 0.5})


def test_a_pointed_corner_stays_whole_where_no_gap_is_closed() -> None:
    """A wedge out of a box: 2 m² of box, and beyond it a triangle of 4 m by 0.4 m."""
    wedge = shapely.Polygon([(1, 0.5), (6, 0.5), (1, 1.0)])
    assert union([shapely.box(0, 0, 2, 1), wedge]).area == pytest.approx(2.8, abs=1e-12)


@pytest.mark.parametrize(
    "rows",
    [
        [{"length": 7, "width": 3}, {"length": 5, "width": 9}],
        [{"length": 7, "width": 3}, {"length": 7, "width": 2}],
        [{"shape": "measured", "area": 5, "perimeter": n} for n in (3, None)],
    ],
    ids=["lengths", "widths", "a perimeter of a metre and none"],
)
def test_shapes_without_a_name_may_stand_in_any_order(make: Any, rows: list[Any]) -> None:
    areas = [make.area(**row) for row in rows]
    areas = [replace(area, perimeter=area.perimeter and 1.0) for area in areas]
    both = [parts_of(make.job(*order))[0][0] for order in (areas, areas[::-1])]
    assert repr(both[0]) == repr(both[1])


def test_of_a_part_that_is_optional_only_in_part_its_first_shape_is_told(make: Any) -> None:
    areas = [
        make.area(name=name, length=5, width=4, optional=name == "c") for name in ("b", "c", "a")
    ]
    (part,), (notice,) = parts_of(make.job(*areas))
    assert not part.optional
    assert (notice.code, notice.severity) == ("part-optional", "warning")
    assert notice.cell == areas[2].cell("optional")


@pytest.mark.parametrize("turn", [0.0, 30.0])
@pytest.mark.parametrize("off", [0.0, 0.005, 0.03, 0.04])
def test_a_walk_over_a_corner_a_tape_off_its_side_leaves_its_edge_open(
    make: Any, off: float, turn: float
) -> None:
    """A walk of 4 by 6 ft over the last 2 ft of a side of 20 by 10 ft, up to 1.2 cm past its end.

    Together they are 60 and 2 x 4 ft round and twice as far more as the walk stands out: a strip
    of it along the terrace, however narrow, has its edge instead of the terrace.
    """
    cos, sin = math.cos(math.radians(turn)), math.sin(math.radians(turn))
    x, y = 16 + off, 8
    areas = (
        make.area(length=20, width=10, x=0.0, y=0.0, turn=turn),
        make.area("Walk", length=4, width=6, x=x * cos - y * sin, y=x * sin + y * cos, turn=turn),
    )
    parts, _ = place(parts_of(make.job(*areas))[0], "imperial")
    found = sum(part.edge("open", "open edge").value for part in parts) / FOOT
    assert found == pytest.approx(68 + 2 * off, abs=1e-3)


def test_regions_half_a_metre_apart_may_touch_and_no_others() -> None:
    """A room of 2 by 1 m, and others right, left, above and below it; each the other's too."""
    room = (10.0, 20.0, 12.0, 21.0)
    for gap, may in ((0.0, True), (0.5, True), (0.501, False), (40.0, False)):
        around = [
            (12 + gap, 20.2, 13 + gap, 20.7), (8 - gap, 20.1, 10 - gap, 20.9),
            (10.5, 21 + gap, 11.5, 24 + gap), (10.5, 18 - gap, 11.5, 20 - gap),
        ]  # fmt: skip
        assert [near(room, other) for other in around] == [may] * 4
        assert [near(other, room) for other in around] == [may] * 4


def test_specks_and_lines_are_not_drawn() -> None:
    """5 cm square is, 0.5 cm is not; an outer ring runs against the clock, a hole with it."""
    small, speck = shapely.box(9, 9, 9.05, 9.05), shapely.box(5, 5, 5.005, 5.005)
    room = shapely.box(0, 0, 4, 3).difference(shapely.box(1, 1, 2, 2))
    line = shapely.LineString([(20, 20), (30, 30)])
    found = rings(shapely.GeometryCollection([small, speck, line, room]))
    assert [len(each) for each in found] == [2, 1]
    outer, hole = found[0]
    assert shapely.LinearRing(outer).is_ccw
    assert not shapely.LinearRing(hole).is_ccw
    assert [set(ring) for ring in found[0]] == [
        {(0, 0), (4, 0), (4, 3), (0, 3)}, {(1, 1), (2, 1), (2, 2), (1, 2)},
    ]  # fmt: skip
    assert set(found[1][0]) == {(9, 9), (9.05, 9), (9.05, 9.05), (9, 9.05)}


def test_what_has_no_hair_stays_to_the_last_digit() -> None:
    """However pointed: 4 m long and 5 cm wide at its end. A hair alone is nothing."""
    for points in ([(0, 0), (4, 0), (4, 0.05)], [(0, 0), (0.1, 0), (0.1, 0.3), (1e-3, 0.3)]):
        shape = shapely.Polygon(points)
        assert trimmed(shape).equals_exact(shape, 0)
    assert trimmed(shapely.box(0, 0, 5, 1e-9)).is_empty
    assert trimmed(shapely.box(0, 0, 1e-9, 1e-9)).is_empty


def test_an_overlap_is_told_with_all_its_area_and_no_other_shape_is(make: Any) -> None:
    """A walk of 4 and of 3 ft, 2 ft over the terrace, and its second shape 1 ft over its first.

    Of the terrace, its hatch and the bench nothing is taken: they keep their sizes as given.
    """
    areas = (
        make.area(length=20, width=10, x=0.0, y=0.0),
        make.area("Walk", name="a", length=4, width=15, x=2.0, y=8.0),
        make.area("Walk", length=3, width=15, x=5.0, y=8.0),
        make.area(name="hatch", length=2, width=1, x=15.0, y=4.0, cut_out=True),
        make.area("Bench", shape="half circle", diameter=9, x=60.0, y=5.0),
    )
    parts, notices = place(parts_of(make.job(*areas))[0], "imperial")
    (said,) = notices
    # 4 x 2 and 3 x 2 sq ft, the foot that both cover with them
    assert (said.code, said.found) == ("overlap", "Walk over Terrace by 14 sq ft")
    assert said.cell == areas[1].cell("x")
    found = {part.name: part for part in parts}
    assert found["Walk"].area().value / FOOT**2 == pytest.approx(60 - 8 + 45 - 6 - 13)
    names = {piece.shape.area.name for piece in found["Walk"].added}
    assert names == {"area of a left", "area of rectangle left"}
    kept = [*found["Terrace"].pieces, *found["Bench"].pieces]
    told = repr([(p.shape.area, p.shape.straight, p.shape.curved) for p in kept])
    assert "already counted" not in told
    assert "left on the plan" not in told.replace("straight edge of rectangle left on the plan", "")
