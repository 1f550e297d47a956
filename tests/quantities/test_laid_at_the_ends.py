"""What is laid, at the ends of its rules: as wide as a rule asks, very many, none at all."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest
import shapely
from shapely.affinity import rotate

from budget.quantities import take_off
from budget.quantities.laid import cutting
from budget.quantities.laid.bonds import Unit
from budget.quantities.laid.border_drawing import border_units
from budget.quantities.laid.borders import border_of
from budget.quantities.laid.fabric_layout import LaidStrip, strips_on
from budget.quantities.laid.laid_pattern import LaidPattern, outlines_of
from budget.quantities.laid.layout import CORNERS, direction, lay_out
from budget.quantities.laid.mixed_courses import MixedSize, courses, lay_mixed
from budget.quantities.laid.offcuts import DIRECTIONS, MOST_EXACT, pairs, spans
from budget.quantities.plan.parts import parts_of
from budget.units import FOOT


def strips_of_pavers(lengths: list[float], face: tuple[float, float]) -> int:
    """Pairs among pieces that are as wide as their paver, each from its left end on."""
    ends = [(x, y) for n in lengths for x, y in ((0, 0), (n, 0), (n, face[1]), (0, face[1]))]
    low, high = spans(np.array(ends, float), np.repeat(range(len(lengths)), 4), len(lengths))
    return pairs(low, high, np.array(lengths) * face[1], face)


def test_of_very_many_pieces_each_serves_once() -> None:
    """Pavers of 1 m: 500 pieces of 0.6 m and 400 of 0.4 m make 400 pairs, then 0.6 is too long.

    The other way round 400 pairs are made, and of the 100 of 0.4 m that are left 50.
    """
    face = (1.0, 0.5)
    assert MOST_EXACT < 900
    assert strips_of_pavers([0.6] * 500 + [0.4] * 400, face) == 400
    assert strips_of_pavers([0.4] * 500 + [0.6] * 400, face) == 400 + 50


def test_a_piece_that_is_left_pairs_with_the_next_smaller_ones() -> None:
    """Of 500 pieces of 0.6 m 200 pair with those of 0.4 m and 150 with those of 0.3 m."""
    assert strips_of_pavers([0.6] * 500 + [0.4] * 200 + [0.3] * 150, (1.0, 0.5)) == 200 + 150


@pytest.mark.parametrize("kept", ["below", "above"])
@pytest.mark.parametrize("step", range(DIRECTIONS))
def test_a_half_turned_piece_comes_out_of_the_other_half(step: int, kept: str) -> None:
    """A paver cut through its middle at any angle gives two pieces that are alike.

    Each lies in the same half of its own paver, so that as they lie they do not go together.
    """
    long, wide = 0.31, 0.17
    turn = step * math.pi / DIRECTIONS
    across = math.cos(turn), math.sin(turn)
    far = [(long / 2 + 9 * x, wide / 2 + 9 * y) for x, y in
           ((-across[1], across[0]), (across[1], -across[0]))]  # fmt: skip
    sign = 1 if kept == "above" else -1
    beyond = [(x + sign * 9 * across[0], y + sign * 9 * across[1]) for x, y in reversed(far)]
    half = shapely.Polygon([*far, *beyond]).intersection(shapely.box(0, 0, long, wide))
    ends = np.array(half.exterior.coords[:-1])
    low, high = spans(np.vstack([ends, ends]), np.repeat([0, 1], len(ends)), 2)
    assert pairs(low, high, np.array([half.area] * 2), (long, wide)) == 1


def test_pieces_that_overlap_in_their_paver_do_not_come_out_of_one() -> None:
    """Triangles drawn by lot, none above half of a paver, as they lie and half turned."""
    long, wide = 0.31, 0.17
    lots = np.random.default_rng(7)
    found = np.zeros(2, dtype=int)
    while found.min() < 60:
        ends = lots.random((2, 3, 2)) * (long, wide)
        one, other = (shapely.Polygon(each) for each in ends)
        areas = np.array([one.area, other.area])
        if areas.max() > long * wide / 2:
            continue
        low, high = spans(ends.reshape(6, 2), np.repeat([0, 1], 3), 2)
        both = pairs(low, high, areas, (long, wide))
        ways = other, rotate(other, 180, (long / 2, wide / 2))
        if min(one.intersection(way).area for way in ways) > 1e-4 * (long + wide):
            assert both == 0
        found[both] += 1


def test_two_pieces_larger_than_a_paver_do_not_come_out_of_it() -> None:
    """Of 200 mm: two of 100 do; two of 100.04 do not, though a blade takes far more than that."""
    assert strips_of_pavers([0.1] * 2, (0.2, 0.1)) == 1
    assert strips_of_pavers([0.10004] * 2, (0.2, 0.1)) == 0


def test_a_piece_half_as_long_as_a_paver_is_wide_is_a_strip() -> None:
    """Pavers of 200 x 100 mm, and 4 mm beyond them: 50 mm long, to a millimetre more or less.

    It may be of the left end of its paver or of the right one.
    """
    one = Unit(0.2, 0.1, 0.2, 0.1)
    for tall, strips in ((0.051, 1), (0.049, 0)):
        ring = ((0.0, 0.0), (0.204, 0.0), (0.204, tall), (0.0, tall))
        found = lay_out((ring,), "stack bond", one, 0.01).layings
        corners = [lay for lay in found if lay.start in ("lower left corner", "lower right corner")]
        assert [(lay.cut, lay.slivers) for lay in corners] == [(2, strips)] * 2


@pytest.mark.parametrize("turn", [0, 90, 180, 270])
def test_strips_of_a_trapezoid_begin_at_its_long_side(turn: int) -> None:
    """27 tapering to 21 over 9, a roll of 6 and a lap of 1: two strips either way.

    Begun at the long side the second begins 5 further in, where 27 - 6 x 5 / 9 are left; begun
    at the short side the first reaches 6 in, and is 21 + 6 x 6 / 9 long.
    """
    shape = rotate(shapely.Polygon([(0, 9), (27, 9), (24, 0), (3, 0)]), turn, (0, 0))
    found = [strip.length for strip in strips_on(shape, 6, 1)]
    assert found == pytest.approx([27, 27 - 6 * 5 / 9])


@pytest.mark.parametrize("turn", [0, 115])
def test_a_bent_way_is_parted_on_the_line_that_halves_its_bend(turn: int) -> None:
    """Two arms 10 long outside and 3.5 wide that meet at 40 degrees, a roll of 4 and a lap of 1.

    Either strip is as long as its arm; one goes on until 1 past the line that halves the bend,
    along the other's outer side 1 / cos 20, of which cos 40 lies along the strip.
    """
    bend, half = math.radians(40), math.radians(20)
    inner = 10 - 3.5 * math.tan(half)
    ends = [(-10.0, 0.0), (0.0, 0.0), (10 * math.cos(bend), 10 * math.sin(bend))]
    over = (-math.sin(bend), math.cos(bend))
    ends += [
        (ends[2][0] + 3.5 * over[0], ends[2][1] + 3.5 * over[1]),
        (inner - 10, 3.5),
        (-10, 3.5),
    ]
    way = rotate(shapely.Polygon(ends), turn, (0, 0))
    found = [strip.length for strip in strips_on(way, 4, 1)]
    assert found == pytest.approx([10 + math.cos(bend) / math.cos(half), 10], abs=1e-4)


@pytest.mark.parametrize("turn", range(0, 180, 15))
def test_strips_run_along_or_across_any_long_side_however_it_lies(turn: int) -> None:
    """Like a triangle of 30 degrees, its top 6 above the foot; a roll of 4, a lap of 0.5.

    Across the foot, from the high end: 6, and 3.5 and 7 further in 10.392 less that times tan 30.
    """
    slope = math.tan(math.radians(30))
    shape = rotate(shapely.Polygon([(0, 0), (10, 0), (10, 3), (6 / slope, 6)]), turn, (0, 0))
    found = [strip.length for strip in strips_on(shape, 4, 0.5)]
    assert found == pytest.approx([6, 6 - 3.5 * slope, 6 - 7 * slope], abs=1e-5)


def test_where_both_sides_are_alike_strips_begin_at_the_foot_or_at_the_right() -> None:
    """5 by 9, two strips of 3 with a lap of 0.5: 5.5 wide together, half a metre past the edge."""
    lying, standing = (strips_on(shapely.box(0, 0, *size), 3, 0.5) for size in ((9, 5), (5, 9)))
    reach = [
        shapely.union_all([shapely.Polygon(strip.corners) for strip in strips]).bounds
        for strips in (lying, standing)
    ]
    assert reach == [pytest.approx((0, 0, 9, 5.5)), pytest.approx((-0.5, 0, 5, 9))]


def test_a_sliver_that_rounding_leaves_takes_no_strip() -> None:
    """Half a millimetre by a millimetre beside a room of 4 by 3 m."""
    both = shapely.MultiPolygon([shapely.box(0, 0, 4, 3), shapely.box(9, 0, 9.0005, 0.001)])
    assert [strip.length for strip in strips_on(both, 3.5, 0.5)] == [4.0]


def test_corners_of_a_strip_are_told_to_a_micrometre() -> None:
    """Half the root of 2 is 0.707 106 78."""
    corners = LaidStrip(1.0, 0.0, 0.0, 1.0, 45.0).corners
    assert corners == ((0, 0), (0.707107, 0.707107), (0, 1.414214), (-0.707107, 0.707107))


def test_nothing_is_left_of_a_roll_that_is_used_up(make: Any) -> None:
    """Two strips of 21 ft of rolls of 15 ft, laps of 1 ft: 15; 7 and 8; 14, which leaves 1 ft."""
    roll = make.product("Geotextile", "geotextile", roll_width=6, holds=90 * FOOT)
    build_up = make.build_up(geotextile=True, overrun=6)
    area = make.area(length=20, width=10)
    (plan,) = take_off(make.job(area, build_ups=(build_up,), products=(roll,))).cutting
    assert [cut.left / FOOT for cut in plan.cuts] == pytest.approx([0, 0, 1])
    assert plan.count == 3


def test_what_is_said_of_a_cutting_is_what_was_searched(monkeypatch: pytest.MonkeyPatch) -> None:
    """Five of 3 1/2 ft: two of a length of 10 ft, so three lengths, though 17 1/2 ft are two.

    Lengths alone do not prove it, the search does; and a search that is not made proves nothing.
    """

    def found() -> tuple[dict[int, int], bool, str]:
        way = cutting.cut([3.5 * FOOT], [5], [10 * FOOT], 0.0)
        return way.stock_used, way.proved, way.bound

    assert found() == ({0: 3}, True, "an exact search found none better")
    monkeypatch.setattr(cutting, "MOST_ARCS", 0)
    assert found() == ({0: 3}, False, "good, but not proved the best")
    assert cutting.cut([3.5 * FOOT], [0], [10 * FOOT], 0.0).bound == "nothing to cut"


@pytest.mark.parametrize(
    ("room", "sliver"),
    [
        (((0.0, 0.0), (1.7, 0.0), (1.0, 0.9), (0.3, 0.9)), 0.05),
        (((0.0, 0.0), (1.4, 0.0), (1.3, 0.3), (0.1, 0.3)), 0.001),
        (((0.0, 0.0), (1.0, 0.0), (0.7, 0.45), (0.2, 0.45)), 0.001),
    ],
    ids=["slivers", "pavers", "cuts"],
)
def test_the_drawn_mixed_set_is_the_best_of_all_its_sizes_together(
    room: Any, sliver: float
) -> None:
    """Fewest slivers; of draws with as few the least area of pavers, then the fewest cuts."""
    shares = [(0.15, 0.15, 0.25), (0.225, 0.15, 0.35), (0.3, 0.15, 0.4)]
    found = lay_mixed((room,), tuple(MixedSize(a, b, 0.0, c) for a, b, c in shares), sliver)
    merit = {}
    for draw in zip(*(each.layings for each in found), strict=True):
        used = sum(lay.units * a * b for lay, (a, b, _) in zip(draw, shares, strict=True))
        slivers, cuts = sum(lay.slivers for lay in draw), sum(lay.cut for lay in draw)
        merit[draw[0].start] = (slivers, round(used, 9), cuts)
    best = min(merit.values())
    assert list(merit.values()).count(best) == 1
    assert {merit[each.drawn_from] for each in found} == {best}


def test_the_first_course_of_a_mixed_set_is_that_of_most_of_its_area() -> None:
    """Squares of 0.3 m have 0.7 of the area and are laid first, those of 0.2 m once as behind.

    A course is as high as the highest of its sizes: pavers of 0.202 m do not reach into the next.
    """
    squares = MixedSize(0.2, 0.2, 0.0, 0.3), MixedSize(0.3, 0.3, 0.0, 0.7)
    put = list(courses(squares, 1.2, 1.2, seed=1))
    assert {one.size for one in put if one.y == 0} == {1}
    mixed = MixedSize(0.2, 0.2, 0.0, 0.5), MixedSize(0.4, 0.202, 0.0, 0.5)
    boxes = [shapely.box(*one.box) for one in courses(mixed, 2.0, 1.0, seed=1)]
    together = shapely.union_all(boxes).area
    assert together == pytest.approx(sum(each.area for each in boxes))


def test_pavers_of_a_course_lie_with_half_a_joint_all_round() -> None:
    """496 by 246 mm with joints of 4 mm; the second course begins half of 500 mm back."""
    put = list(courses((MixedSize(0.496, 0.246, 0.004, 1.0),), 1.0, 0.5, seed=1))
    starts = [(0.0, 0.0), (0.5, 0.0), (-0.25, 0.25), (0.25, 0.25), (0.75, 0.25)]
    assert [(p.x, p.y) for p in put] == [pytest.approx((x + 0.002, y + 0.002)) for x, y in starts]
    assert {(round(p.along, 9), round(p.high, 9)) for p in put} == {(0.496, 0.246)}


def test_sizes_take_their_share_with_their_joints() -> None:
    """Of 0.1 and of 0.4 m with joints of 20 mm: as many small ones as fill half of the area."""
    sizes = MixedSize(0.1, 0.2, 0.02, 0.5), MixedSize(0.4, 0.2, 0.02, 0.5)
    along = [0.0, 0.0]
    for put in courses(sizes, 40.0, 1.0, seed=1):
        along[put.size] += put.along + 0.02
    assert along[0] / sum(along) == pytest.approx(0.5, abs=0.01)


def test_each_course_is_of_the_sizes_that_lack_most_with_it() -> None:
    """6 m wide, squares of 0.2 m for 0.3 of the area and of 0.3 m for 0.7.

    First 0.36 and 1.26 m2 are lacking; with 1.8 m2 of the large laid 0.9 and 0.72; with 1.2 of
    the small besides 0.06 and 1.56; with 3.6 of the large 0.6 and 1.02.
    """
    squares = MixedSize(0.2, 0.2, 0.0, 0.3), MixedSize(0.3, 0.3, 0.0, 0.7)
    rows = {round(p.y, 6): p.high for p in courses(squares, 6.0, 1.0, seed=1)}
    assert list(rows.values()) == [0.3, 0.2, 0.3, 0.3]


def test_cuts_of_pavers_that_stand_in_their_course_on_paper() -> None:
    """Squares of 0.3 m and 0.2 by 0.3 m standing beside them, 1.03 by 0.45 m.

    Cut are all of the second course along it, and both at their ends: 0.3 and 0.15 m.
    """
    room = ((0.0, 0.0), (1.03, 0.0), (1.03, 0.45), (0.0, 0.45))
    sizes = MixedSize(0.3, 0.2, 0.0, 0.4), MixedSize(0.3, 0.3, 0.0, 0.6)
    found = lay_mixed((room,), sizes, 0.001)
    for draw in zip(*(each.layings for each in found), strict=True):
        assert sum(lay.cut_length for lay in draw) == pytest.approx(1.03 + 0.3 + 0.15)
    assert min(lay.units for lay in found[0].layings) > 0


def test_a_mixed_set_leaves_out_a_hole() -> None:
    """3 by 2 m around a fire ring in a square of 0.8 m."""
    room = ((0.0, 0.0), (3.0, 0.0), (3.0, 2.0), (0.0, 2.0))
    hole = ((1.1, 0.7), (1.9, 0.7), (1.9, 1.5), (1.1, 1.5))
    sizes = MixedSize(0.3, 0.2, 0.0, 0.4), MixedSize(0.3, 0.3, 0.0, 0.6)
    found = lay_mixed((room, hole), sizes, 0.001)
    for draw in zip(*(each.layings for each in found), strict=True):
        assert sum(lay.laid for lay in draw) == pytest.approx(3 * 2 - 0.8**2)


@pytest.mark.parametrize("wide", [0.504, 0.508])
@pytest.mark.parametrize("seed", [1, 2, 3, 4])
def test_a_size_that_closes_a_course_is_laid_to_its_end(wide: float, seed: int) -> None:
    """0.2 and 0.3 m, a joint of 4 mm between them and perhaps another at the end.

    Whichever is first, the other fills the course.
    """
    sizes = MixedSize(0.2, 0.2, 0.004, 0.5), MixedSize(0.3, 0.2, 0.004, 0.5)
    rows: dict[float, list[float]] = {}
    for one in courses(sizes, wide, 3.0, seed):
        rows.setdefault(round(one.y, 6), []).append(round(one.along, 6))
    assert {tuple(sorted(row)) for row in rows.values()} == {(0.2, 0.3)}


def test_cuts_along_other_paving_are_a_share_of_the_whole_way_round(make: Any) -> None:
    """Two squares of 10 ft in unknown places: of 80 ft round them 10 are against other paving."""

    def cut(joined: float) -> float:
        areas = (
            make.area(name="a", length=10, width=10, joined_edge=joined, paver="Slab"),
            make.area(name="b", length=10, width=10, paver="Slab"),
        )
        slab = make.product("Slab", "paver", length=18, width=18, height=2, joint=0)
        (part,) = take_off(make.job(*areas, products=(slab,))).parts
        return float(part.cut_length.value)

    assert cut(0) > 0
    assert cut(10) / cut(0) == pytest.approx(70 / 80)


def test_the_drawn_units_of_a_border_fill_it_where_a_curve_meets_a_straight_side() -> None:
    """A round of 2 m with a way of 1.5 m: in the hollows between, the inner side is the longer."""
    round_ = shapely.Point(0, 0).buffer(2, quad_segs=24)
    ring = tuple(round_.union(shapely.box(-0.75, 0, 0.75, 6)).exterior.coords)[:-1]
    border = border_of("Patio", "Brick", "soldier", (0.2, 0.1, 0.0), [(ring,)])
    units = [shapely.Polygon(each) for rings in border_units(border) for each in rings]
    assert sum(unit.area for unit in units) == pytest.approx(border.area.value, rel=2e-3)
    assert shapely.union_all(units).area == pytest.approx(border.area.value, rel=2e-3)


@pytest.mark.parametrize("turn", [0.0, 30.0, 75.0, 120.0])
def test_whole_modules_are_whole_from_every_corner_however_they_lie(turn: float) -> None:
    """6 by 4 pavers: from each corner nothing is cut, half a paver on one in each course is."""
    one = Unit(0.2, 0.1, 0.204, 0.104)
    shape = rotate(shapely.box(3, 5, 3 + 6 * 0.204, 5 + 4 * 0.104), turn, (0, 0))
    ring = tuple(shape.exterior.coords)[:-1]
    found = {lay.start: lay for lay in lay_out((ring,), "stack bond", one, 0.01).layings}
    for corner in CORNERS:
        lay = found[f"{corner} corner"]
        assert (lay.whole, lay.cut) == (24, 0)
    halves = [lay for start, lay in found.items() if "half" in start]
    assert {(lay.whole, lay.cut, lay.reused) for lay in halves} == {(20, 8, 4)}


@pytest.mark.parametrize(("wide", "tall"), [(5, 2), (6, 4), (7, 4)])
def test_a_start_half_a_paver_on_is_that_much_further_in(wide: int, tall: int) -> None:
    """Herringbone of 0.2 by 0.1 m, the whole ones counted on paper squared by 0.1 m.

    Squares with x - y a multiple of 4 start a lying paver, those of one less an upright one;
    half a paver on, the pattern begins at the second square of the foot.
    """
    one = Unit(0.2, 0.1, 0.2, 0.1)
    ring = tuple((x * 0.1, y * 0.1) for x, y in ((0, 0), (wide, 0), (wide, tall), (0, tall)))
    starts = {lay.start: lay.whole for lay in lay_out((ring,), "herringbone 90", one, 0.01).layings}
    for start, on in (("lower left corner", 0), ("lower left corner, half a paver on", 1)):
        lying = [(x - on - y) % 4 == 0 for x in range(wide - 1) for y in range(tall)]
        upright = [(x - on - y) % 4 == 3 for x in range(wide) for y in range(tall - 1)]
        assert starts[start] == sum(lying) + sum(upright)


def test_more_starts_are_tried_only_where_all_leave_slivers() -> None:
    """9 mm beyond ten pavers: a sliver after whole ones, none where the first is a half one."""
    ring = ((0.0, 0.0), (2.009, 0.0), (2.009, 1.0), (0.0, 1.0))
    found = lay_out((ring,), "stack bond", Unit(0.2, 0.1, 0.2, 0.1), 0.02)
    slivers = [lay.slivers for lay in found.layings]
    assert max(slivers) > 0
    assert min(slivers) == 0
    assert found.shifted == ()


def test_pavers_run_along_the_longest_edge_wherever_it_lies() -> None:
    shape = shapely.Polygon([(7, 2), (10, 6), (9, 5)])
    assert direction(shape) == pytest.approx(math.degrees(math.atan2(4, 3)))


def test_third_bond_comes_round_in_the_third_course() -> None:
    """7 courses of 10: three are whole, four begin and end with a third and two thirds.

    A third and two thirds are one paver together.
    """
    unit = Unit(0.3, 0.1, 0.3, 0.1)
    ring = ((0.0, 0.0), (3.0, 0.0), (3.0, 0.7), (0.0, 0.7))
    first = lay_out((ring,), "third bond", unit, 0.01).layings[0]
    assert (first.whole, first.cut, first.reused) == (3 * 10 + 4 * 9, 8, 4)


def test_pavers_of_all_outlines_are_told_with_the_drawing() -> None:
    """Two rooms of 2.1 by 1 m: 10 courses of ten whole ones and a half, wherever they begin."""
    unit = Unit(0.2, 0.1, 0.2, 0.1)
    rings = [((x, 0.0), (x + 2.1, 0.0), (x + 2.1, 1.0), (x, 1.0)) for x in (0.0, 5.0)]
    outlines = tuple((ring,) for ring in rings)
    laid = tuple(lay_out(outline, "stack bond", unit, 0.02) for outline in outlines)
    found = LaidPattern("Terrace", "Slab", "stack bond", unit, outlines, laid)
    assert found.drawing().counted == (2 * 100, 2 * 10)


def test_cuts_of_a_course_of_one_size_on_paper() -> None:
    """0.3 by 0.2 m in 3 by 0.45 m: ten whole ones, then half a paver back nine and two halves.

    Of the third course 50 mm are left, ten strips of 0.3 m. Two halves and five times two strips
    come out of one paver each; cut are twice 0.2 m across and 3 m along.
    """
    room = ((0.0, 0.0), (3.0, 0.0), (3.0, 0.45), (0.0, 0.45))
    (found,) = lay_mixed((room,), (MixedSize(0.3, 0.2, 0.0, 1.0),), 0.01)
    for lay in found.layings:
        assert (lay.whole, lay.cut, lay.reused) == (10 + 9, 2 + 10, 1 + 5)
        assert lay.cut_length == pytest.approx(2 * 0.2 + 3)


def test_outlines_that_start_alike_name_their_start_and_others_none() -> None:
    """Whole modules start at the lower left corner; a room 9 mm longer half a paver on."""
    unit = Unit(0.2, 0.1, 0.2, 0.1)
    rings = [
        ((x, 0.0), (x + long, 0.0), (x + long, 1.0), (x, 1.0))
        for x, long in ((0.0, 2.0), (5.0, 2.0), (9.0, 2.009))
    ]
    layouts = [lay_out((ring,), "stack bond", unit, 0.02) for ring in rings]

    def start(*which: int) -> str:
        outlines = tuple((rings[i],) for i in which)
        laid = tuple(layouts[i] for i in which)
        return LaidPattern("Terrace", "Slab", "stack bond", unit, outlines, laid).drawing().start

    assert start(0) == start(0, 1) == "lower left corner"
    assert start(2) == "lower left corner, half a paver on"
    assert start(0, 2) == ""


def test_one_shape_of_unknown_outline_and_none_is_laid_out(make: Any) -> None:
    rows = (make.area(name="a", length=10, width=10), make.area(name="b", shape="measured", area=9))
    (part,), _ = parts_of(make.job(*rows))
    assert outlines_of("Terrace", part.added, (), "imperial") == ()
    assert len(outlines_of("Terrace", part.added[:1], (), "imperial")) == 1
