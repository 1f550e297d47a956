"""Patterns laid out, at the ends of their rules: several outlines, starts, cuts between shapes."""

from __future__ import annotations

import itertools
import math
from typing import Any

import numpy as np
import pytest
import shapely
from shapely import Polygon
from shapely.affinity import rotate, translate

from budget.figures import constant
from budget.quantities import take_off
from budget.quantities.laid import layout
from budget.quantities.laid.bonds import Unit
from budget.quantities.laid.laid_pattern import LaidPattern
from budget.quantities.laid.layout import direction, lay_out
from budget.quantities.laid.mixed_courses import MixedSize, lay_mixed
from budget.quantities.plan.parts import Ring, parts_of
from budget.units import COUNT, FOOT, RATIO

TIGHT = Unit(0.2, 0.1, 0.2, 0.1)
#: Three courses of five.
ROOM = ((3.0, 0.0), (4.0, 0.0), (4.0, 0.3), (3.0, 0.3))
#: Two courses of 0.75 m below three of 0.5 m, flush at the left.
STEPPED = ((0.0, 0.0), (0.75, 0.0), (0.75, 0.2), (0.5, 0.2), (0.5, 0.5), (0.0, 0.5))


def laid(*rings: Ring, sliver: float = 0.01) -> LaidPattern:
    """Pavers of 200 by 100 mm without joints, in a stack."""
    layouts = tuple(lay_out((ring,), "stack bond", TIGHT, sliver) for ring in rings)
    outlines = tuple((ring,) for ring in rings)
    return LaidPattern("Terrace", "Slab", "stack bond", TIGHT, outlines, layouts)


def test_pavers_of_several_outlines_on_paper() -> None:
    """The room takes 15; half a paver on, of each course two halves out of one are cut.

    The stepped one takes, from the left, 6 and two pieces of 0.15 m below, 6 and three of 0.1 m
    above, of which two come out of one: 16. From the right the 0.15 m are at the left, and above
    each course has 0.15, 0.2 and 0.15 m, so that 9 are whole and 8 pieces take a paver each: 17.
    Half a paver on 12 are whole, and of 5 pieces of 0.1 m and 2 of 0.05 m six make pairs: 16.
    """
    found = laid(ROOM, STEPPED)
    assert (found.fewest, found.most) == (15 + 16, 15 + 17)
    area, spares = constant(30, COUNT, "by area"), constant(0.0, RATIO, "spares")
    assert found.cuts().value == 6 + 8
    assert found.needed(area).value == 12 + 9 + 6 + 8 - 3
    assert found.needed(constant(40, COUNT, "by area")).value == 40
    assert found.why("a tenth", area, spares).startswith(
        "Stack bond laid out on the outline: 21 whole and 14 cut, 3 of them from offcuts; "
        "31 to 32 by where laying starts. "
    )
    small = ((6.0, 0.0), (6.8, 0.0), (6.8, 0.2), (6.0, 0.2))
    assert ": 18 whole and 10 cut, 5 of them from offcuts; " in laid(ROOM, small).why(
        "a tenth", area, spares
    )
    assert "; 15 wherever laying starts. " in laid(ROOM).why("a tenth", area, spares)


def test_the_length_of_the_cuts_of_several_outlines(make: Any) -> None:
    """Each of 6 and of 8 pieces is cut across, 0.1 m; all of it is against no other paving."""
    (part,), _ = parts_of(make.job(make.area(length=30, width=20)))
    found = laid(ROOM, STEPPED).cut_length(part.added)
    assert found.value == pytest.approx(1.4)
    assert (found.origin, found.args) == ("laid out", ())


@pytest.mark.parametrize(("joined", "placed"), [(0, {}), (10, {}), (10, {"x": 0, "y": 0})])
def test_a_share_of_the_cuts_is_told_only_where_some_edge_is_against_other_paving(
    make: Any, joined: float, placed: dict[str, float]
) -> None:
    """Two squares of 10 ft; 10 of their 80 ft are joined, and not both have a place."""
    rows = (
        make.area(name="a", length=10, width=10, **placed),
        make.area(name="b", length=10, width=10, joined_edge=joined),
    )
    (part,), _ = parts_of(make.job(*rows))
    side = 10 * FOOT
    rings = [((x, 0.0), (x + side, 0.0), (x + side, side), (x, side)) for x in (0.0, 5.0)]
    found = laid(*rings).cut_length(part.added)
    if joined:
        assert [each.name for each in found.args] == [
            "cuts all round",
            "share not against other paving",
        ]
        assert found.value == pytest.approx(found.args[0].value * 70 / 80)
    else:
        assert (found.name, found.args) == ("edge to cut", ())


def test_strips_of_all_outlines_are_counted_and_the_narrowest_is_told() -> None:
    """8 and 6 mm deep: 10 and 7 pieces, all of them too narrow to lay."""
    deep = ((0.0, 0.0), (2.0, 0.0), (2.0, 0.008), (0.0, 0.008))
    narrow = ((0.0, 5.0), (1.4, 5.0), (1.4, 5.006), (0.0, 5.006))
    found = laid(deep, narrow)
    assert found.slivers == 10 + 7
    assert found.narrowest.value == pytest.approx(0.006)


def cut(make: Any, *areas: Any) -> float:
    """Cuts of the terrace in ft; slabs of 18 in, and tiles of which no side is whole."""
    slab = make.product("Slab", "paver", length=18, width=18, height=2, joint=0)
    tile = make.product("Tile", "paver", length=17, width=17, height=2, joint=0)
    (part,) = take_off(make.job(*areas, products=(slab, tile))).parts
    return float(part.cut_length.value / FOOT)


def test_edges_against_another_paver_are_cut_where_shapes_have_their_place(make: Any) -> None:
    """On the plan such an edge is inside or cut on either side; else a share is taken off."""
    here = make.area(name="here", length=10, width=10, x=0, y=0, paver="Slab")
    there = make.area(name="there", length=10, width=10, x=10, y=0, paver="Tile")
    alone = [cut(make, area) for area in (here, there)]
    assert min(alone) > 0
    assert cut(make, here, there) == pytest.approx(sum(alone))


def two_steps(more: float) -> Polygon:
    """Two courses of 0.8 m below three of 0.4 m, and some more at the right and above."""
    wide, tall = 0.4 + more, 0.2 + more
    return Polygon([(0, 0), (0.8, 0), (0.8, tall), (wide, tall), (wide, 0.5), (0, 0.5)])


def test_what_lies_around_a_hollow_corner_is_one_piece_where_it_is_wider_than_a_joint() -> None:
    """3 mm more than in whole pavers: one piece around the corner, one beside it, two above it."""
    ring = tuple(two_steps(0.003).exterior.coords)[:-1]
    first = lay_out((ring,), "stack bond", TIGHT, 0.01).layings[0]
    assert (first.start, first.whole, first.cut) == ("lower left corner", 14, 4)


@pytest.mark.parametrize("turn", [0.0, 10.0, 30.0, 45.0, 75.0])
@pytest.mark.parametrize("more", [0.0, 0.0008])
def test_nothing_is_cut_where_pavers_meet_at_a_hollow_corner(turn: float, more: float) -> None:
    """Two courses of 0.8 m below three of 0.4 m: 14 whole ones from each corner, however turned.

    Nor is the 0.8 mm beside them, which is narrower than a joint. Half a paver on each course
    begins and ends with a half.
    """
    shape = rotate(two_steps(more), turn, (0, 0))
    ring = tuple(shape.exterior.coords)[:-1]
    for lay in lay_out((ring,), "stack bond", TIGHT, 0.01).layings:
        half = "half" in lay.start
        assert (lay.whole, lay.cut) == ((9, 10) if half else (14, 0))
        if not more:
            assert lay.reused == (5 if half else 0)


def faces_on_paper(pattern: str, unit: Unit, reach: int) -> Any:
    """Faces of pavers around 0, 0, by their places in a pattern that starts there."""
    a, b = unit.cell_length, unit.cell_width
    places = []
    for i, j in itertools.product(range(-reach, reach), repeat=2):
        if pattern == "stack bond":
            places.append((i * a, j * b, False))
        else:  # in each row of squares every fourth begins a lying one, that before an upright one
            places += [(i * b, j * b, up) for up in (False, True) if (i - j - 3 * up) % 4 == 0]
    x, y, up = (np.array(each) for each in zip(*places, strict=True))
    along, across = (a - unit.length) / 2, (b - unit.width) / 2
    x, y = x + np.where(up, across, along), y + np.where(up, along, across)
    wide = np.where(up, unit.width, unit.length)
    return shapely.box(x, y, x + wide, y + unit.length + unit.width - wide)


def turned(points: Any, degrees: float) -> Any:
    turn = math.radians(degrees)
    cos, sin = math.cos(turn), math.sin(turn)
    return points @ np.array([[cos, sin], [-sin, cos]])


def counted_on_plan(region: Polygon, faces: Any, unit: Unit) -> tuple[int, int, float, float]:
    """Whole and cut ones, the length of cuts and the area laid, of faces that lie on the plan.

    Whole is also what lies over the edge by less than a joint; what is narrower than a joint is
    left to it. None is near either limit.
    """
    whole = shapely.contains(region.buffer(1e-9), faces)
    parts, of = shapely.get_parts(shapely.intersection(faces[~whole], region), return_index=True)
    there = shapely.area(parts) > 1e-12
    parts, of, area = parts[there], of[there], shapely.area(parts[there])
    rims = [list(shapely.minimum_rotated_rectangle(part).exterior.coords) for part in parts]
    narrow = np.array([min(math.dist(*rim[:2]), math.dist(*rim[1:3])) for rim in rims])
    full = area >= unit.face - unit.joint * unit.width
    cut = ~full & (narrow >= unit.joint)
    cuts = shapely.length(shapely.intersection(region.exterior, faces[~whole][of[cut]])).sum()
    return (
        int(whole.sum() + full.sum()), int(cut.sum()), float(cuts),
        float(whole.sum() * unit.face + area.sum()),
    )  # fmt: skip


#: Its longest edge is the foot, 1.33 m; no side is whole in pavers, and no two corners are alike.
UNEVEN = (0.0, 0.0), (1.33, 0.0), (1.17, 0.83), (0.44, 0.97), (-0.13, 0.37)
STARTS = {
    "lower left corner": (0, 0, 0), "lower left corner, half a paver on": (0, 0, 0.5),
    "lower right corner": (1, 0, 0), "upper left corner": (0, 1, 0),
    "upper left corner, half a paver on": (0, 1, 0.5), "upper right corner": (1, 1, 0),
}  # fmt: skip


@pytest.mark.parametrize("turn", [0.0, 25.0, -70.0])
@pytest.mark.parametrize("pattern", ["stack bond", "herringbone 90", "herringbone 45"])
def test_every_start_is_where_it_is_said_to_be(pattern: str, turn: float) -> None:
    """Whole pavers, pieces and cuts of each, against boxes laid on the plan one by one."""
    unit = Unit(0.2, 0.097, 0.206, 0.103)
    shape = translate(rotate(Polygon(UNEVEN), turn, (0, 0)), 3, -2)
    ring = tuple(shape.exterior.coords)[:-1]
    region = Polygon(ring)
    around = rotate(region, -turn, (0, 0)).bounds  # seen along the longest edge
    slant = 45 if pattern.endswith("45") else 0
    on_paper = faces_on_paper(pattern, unit, 24)
    found = lay_out((ring,), pattern, unit, 0.0)
    assert [lay.start for lay in found.layings] == list(STARTS)
    for lay in found.layings:
        right, upper, on = STARTS[lay.start]
        start = around[2 * right] + on * unit.cell_length, around[1 + 2 * upper]
        faces = shapely.transform(
            on_paper, lambda points, at=start: turned(turned(points, slant) + at, turn)
        )
        whole, cut, cuts, area = counted_on_plan(region, faces, unit)
        assert (lay.whole, lay.cut) == (whole, cut), lay.start
        assert lay.cut_length == pytest.approx(cuts, abs=1e-4)
        assert lay.laid == pytest.approx(area)
    assert len({(lay.whole, lay.cut) for lay in found.layings}) > 3


FURTHER_ON = {"": 0, ", a quarter on": 1, ", half a paver on": 2, ", three quarters on": 3}


def test_starts_within_a_paver_are_tried_where_every_other_leaves_a_sliver() -> None:
    """A strip of 1.33 by 0.093 m, pavers of 0.097 with joints of 6 mm: from a corner all are cut.

    Half a width in, half a paver less half a joint is 48.5 mm deep, and 38.5 mm are left above it.
    """
    unit = Unit(0.2, 0.097, 0.206, 0.103)
    ring = ((0.0, 0.0), (1.33, 0.0), (1.33, 0.093), (0.0, 0.093))
    found = lay_out((ring,), "stack bond", unit, 0.095)
    assert [lay.start for lay in found.layings] == list(STARTS)
    wanted = {
        f"lower left corner{on}{half}": (quarters, halves)
        for on, quarters in FURTHER_ON.items()
        for half, halves in (("", 0), (", half a width in", 1))
    }
    assert [lay.start for lay in found.shifted] == [at for at in wanted if at not in STARTS]
    for lay in found.shifted:
        quarters, halves = wanted[lay.start]
        start = quarters * unit.cell_length / 4, halves * unit.cell_width / 2
        faces = shapely.transform(
            faces_on_paper("stack bond", unit, 24), lambda points, at=start: points + at
        )
        whole, cut, cuts, area = counted_on_plan(Polygon(ring), faces, unit)
        assert (lay.whole, lay.cut) == (whole, cut), lay.start
        assert lay.cut_length == pytest.approx(cuts, abs=1e-4)
        assert lay.laid == pytest.approx(area)
        if halves:
            assert lay.narrowest == pytest.approx(0.0385, abs=1e-6)


def test_drawn_pavers_lie_on_a_turned_outline_to_a_tenth_of_a_millimetre() -> None:
    """Those of the best start, far from where the plan begins."""
    unit = Unit(0.2, 0.097, 0.206, 0.103)
    shape = translate(rotate(Polygon(UNEVEN), 25, (0, 0)), 31, -17)
    found = lay_out((tuple(shape.exterior.coords)[:-1],), "herringbone 90", unit, 0.0)
    rings = (*found.drawn.whole, *found.drawn.cut)
    pavers = shapely.union_all([Polygon(ring) for ring in rings])
    assert pavers.difference(shape.buffer(1e-3)).area == 0
    assert pavers.area == pytest.approx(found.best.laid, rel=1e-2)
    seen = [10_000 * n for ring in rings for corner in ring for n in corner]
    assert seen == pytest.approx([round(n) for n in seen], abs=1e-3)


@pytest.mark.parametrize(("fewer", "drawn"), [(0, 20), (1, 0)])
def test_as_many_pavers_as_are_drawn_one_by_one_are(
    fewer: int, drawn: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Four courses of five and a half: 20 whole ones and four halves."""
    monkeypatch.setattr(layout, "MOST_DRAWN", 24 - fewer)
    ring = ((0.0, 0.0), (1.1, 0.0), (1.1, 0.4), (0.0, 0.4 + fewer * 1e-7))
    found = lay_out((ring,), "stack bond", TIGHT, 0.01)
    assert (len(found.drawn.whole), len(found.drawn.cut)) == (drawn, 4)


def test_a_long_thin_piece_is_a_strip_wherever_it_lies() -> None:
    """5 mm left at the upper side of 2 by 0.105 m: ten strips, though no deeper than that."""
    ring = ((0.0, 0.0), (2.0, 0.0), (2.0, 0.105), (0.0, 0.105))
    first = lay_out((ring,), "stack bond", TIGHT, 0.01).layings[0]
    assert (first.whole, first.cut, first.slivers) == (10, 10, 10)
    assert first.narrowest == pytest.approx(0.005)


@pytest.mark.parametrize(
    ("turn", "wanted"), [(30, 30), (-30, -30), (50, -40), (45, -45), (90, 0), (0, 0)]
)
def test_of_equal_edges_pavers_run_along_the_one_that_is_turned_least(
    turn: float, wanted: float
) -> None:
    """A square; turned by half a right angle, along the edge that falls."""
    assert direction(rotate(shapely.box(0, 0, 2, 2), turn)) == pytest.approx(wanted, abs=1e-6)


@pytest.mark.parametrize("turn", [0, 90, 180, 270])
def test_an_upright_outline_is_upright_whichever_way_round(turn: float) -> None:
    """4 by 2 m, standing or lying: just 90 or 0 degrees."""
    shape = rotate(shapely.box(0, 0, 4, 2), turn)
    assert direction(shape) == direction(shape.reverse()) == turn % 180


@pytest.mark.parametrize(
    ("hole", "gone"),
    [
        # a corner of it on the lower side, and by rounding a nanometre beyond
        (((1.1, -1e-9), (1.5, 0.4), (0.7, 0.4)), 0.16),
        # from side to side: what is left are two pieces
        (((1.1, -1e-9), (1.5, 0.4), (1.1, 1.0 + 1e-9), (0.7, 0.4)), 0.4),
    ],
    ids=["at one side", "from side to side"],
)
def test_a_hole_that_touches_the_edge_is_laid_around(hole: Ring, gone: float) -> None:
    """2 by 1 m in slabs and in slabs of two sizes; triangles of 0.8 by 0.4 and 0.8 by 0.6 m."""
    room = ((0.0, 0.0), (2.0, 0.0), (2.0, 1.0), (0.0, 1.0))
    for laying in lay_out((room, hole), "stack bond", Unit(0.2, 0.1, 0.2, 0.1), 0.01).layings:
        assert laying.laid == pytest.approx(2 - gone)
    sizes = MixedSize(0.4, 0.2, 0.0, 0.5), MixedSize(0.2, 0.2, 0.0, 0.5)
    mixed = lay_mixed((room, hole), sizes, 0.01)
    for draws in zip(*(one.layings for one in mixed), strict=True):
        assert sum(laying.laid for laying in draws) == pytest.approx(2 - gone)


@pytest.mark.parametrize("along", [3, 5, 7, 10])
@pytest.mark.parametrize(("strip", "cut"), [(0.004, 0), (0.0041, 4)])
def test_a_strip_just_as_narrow_as_a_joint_is_left_to_it(
    along: int, strip: float, cut: int
) -> None:
    """Four courses of whole modules of 204 mm, then half a joint and 4 mm, or a little more."""
    unit = Unit(0.2, 0.1, 0.204, 0.104)
    long, wide = along * 0.204 + 0.002 + strip, 4 * 0.104
    ring = ((0.0, 0.0), (long, 0.0), (long, wide), (0.0, wide))
    first = lay_out((ring,), "stack bond", unit, 0.01).layings[0]
    assert (first.start, first.whole, first.cut) == ("lower left corner", 4 * along, cut)


@pytest.mark.parametrize(("side", "turn"), [(0.7, 0), (0.85, 30)])
def test_an_edge_sets_the_direction_by_its_share_of_the_whole_way_round(
    side: float, turn: float
) -> None:
    """A round of 2 m beside a square, together 12.56 m and four sides, of which 5 % count.

    0.7 m are less than 0.77 m, and 0.85 m are more than 0.8 m.
    """
    square = rotate(shapely.box(0, 0, side, side), 30)
    both = shapely.MultiPolygon([shapely.Point(5, 0).buffer(2, quad_segs=24), square])
    assert direction(both) == pytest.approx(turn)


def test_a_region_is_sound_also_where_a_hole_crosses_its_edge_by_rounding() -> None:
    """2 by 1 m less a triangle of 0.8 by 0.4 m that reaches a nanometre beyond the foot."""
    room = ((0.0, 0.0), (2.0, 0.0), (2.0, 1.0), (0.0, 1.0))
    found = layout.region_in((room, ((1.1, -1e-9), (1.5, 0.4), (0.7, 0.4))))
    assert found.is_valid
    assert found.area == pytest.approx(2 - 0.16)


def test_where_rounding_makes_an_edge_cross_itself_it_is_laid(make: Any) -> None:
    """A ring of 6 ft around a hole of 2 ft, and a disc of 5 ft 3 ft off that lies over both."""
    cos, sin = math.cos(math.radians(45)), math.sin(math.radians(45))
    sizes = {"ring": {"diameter": 6, "inner_diameter": 2}, "circle": {"diameter": 5}}
    rows = [
        make.area(name=name, shape=name, turn=45.0, x=x * cos - sin, y=x * sin + cos, **sizes[name])
        for name, x in (("ring", 5), ("circle", 8))
    ]
    (part,) = take_off(make.job(*rows)).parts
    [drawing] = part.laid
    pavers = [Polygon(each) for each in (*drawing.whole, *drawing.cut)]
    faces = 8 * 4 / (8.125 * 4.125)  # of the default paver, with joints of an eighth of an inch
    assert sum(each.area for each in pavers) == pytest.approx(part.area.value * faces, rel=0.02)
