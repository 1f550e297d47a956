"""More single rules of the takeoff, each with a figure worked out beside it."""

from __future__ import annotations

import math
from types import SimpleNamespace

import numpy as np
import pytest
from shapely import LineString, Point, Polygon, box

from budget.figures import constant
from budget.job import Corner, Level, Place
from budget.quantities import take_off
from budget.quantities.formulas.shapes import under_curve
from budget.quantities.laid.bonds import Unit
from budget.quantities.laid.border_drawing import border_units
from budget.quantities.laid.borders import border_of
from budget.quantities.laid.cutting import cut
from budget.quantities.laid.fabric_layout import strips_on
from budget.quantities.laid.layout import lay_out
from budget.quantities.laid.mixed_courses import MixedSize, lay_mixed
from budget.quantities.laid.offcuts import pairs, spans
from budget.quantities.layers import base_item_of
from budget.quantities.materials import Materials
from budget.quantities.needs.cutting_way import StoneCut, way_to_cut
from budget.quantities.needs.fabric_outline import beside, covered_outline
from budget.quantities.needs.features_on_plan import outlines
from budget.quantities.needs.stock_lengths import all_stock
from budget.quantities.needs.wall_counts import overhang
from budget.quantities.needs.wall_sizes import unit_of
from budget.quantities.plan.outline_rows import crossing_cells
from budget.quantities.plan.parts import parts_of
from budget.quantities.plan.placing import place
from budget.quantities.plan_lines import plan_lines
from budget.quantities.site_levels import finish_of
from budget.reference import coefficient
from budget.units import DEPTH, FOOT, INCH, LENGTH


def need(found, item):
    return next(n for n in found.needs if n.item == item)


BRICK = (8 * INCH, 4 * INCH, 0.0)
HOUSE_SHAPES = {
    "square": ((0.0, 0.0), (4.0, 0.0), (4.0, 4.0), (0.0, 4.0)),
    "turned": ((0.0, 0.0), (4.0, 0.6), (7.0, 3.0), (4.4, 5.9), (-0.6, 4.1)),
}


@pytest.mark.parametrize("course", ["soldier", "sailor"])
@pytest.mark.parametrize("name", HOUSE_SHAPES)
def test_a_border_without_joints_fills_its_strip(course, name):
    """The drawn units, those at the mitres too, are together what the border takes off."""
    border = border_of("Patio", "Brick", course, BRICK, [(HOUSE_SHAPES[name],)])
    units = [Polygon(ring) for rings in border_units(border) for ring in rings]
    assert sum(unit.area for unit in units) == pytest.approx(border.area.value, rel=1e-4)


def test_units_around_a_circle_are_alike():
    """Also the first and the last, which meet."""
    ring = tuple((math.cos(math.tau * i / 96), math.sin(math.tau * i / 96)) for i in range(96))
    border = border_of("Patio", "Brick", "soldier", BRICK, [(ring,)])
    whole, tapered = border_units(border)
    areas = [Polygon(ring).area for ring in (*whole, *tapered)]
    assert min(areas) > 0.97 * max(areas)


def cut_stone(feet, curved=0.0, inches=2.375):
    length, height = constant(feet * FOOT, LENGTH, "cut"), constant(inches * INCH, DEPTH, "height")
    return StoneCut("Paver", length, curved * FOOT, height, "concrete")


def test_curves_of_every_kind_of_paver_add_up():
    assert "80 ft of it follows curves" in way_to_cut([cut_stone(60, 40), cut_stone(60, 40)],
                                                      "imperial")  # fmt: skip


def test_pieces_as_thick_as_a_splitter_takes_are_not_too_thick():
    said = way_to_cut([cut_stone(100, 60, inches=4)], "imperial")
    assert "follows curves" in said
    assert "thicker" not in said


def test_two_halves_come_out_of_one_length():
    """Without a kerf four pieces of 4 ft are two lengths of 8 ft, which nothing can go below."""
    found = cut([4 * FOOT], [4], [8 * FOOT], 0.0)
    assert found.stock_used == {0: 2}
    assert found.proved
    assert found.cost == pytest.approx(2 * cut([8 * FOOT], [1], [8 * FOOT], 0.0).cost)


def test_halves_share_a_length_among_other_pieces():
    """47 ft out of lengths of 12: 6+6, 6+6, 6+3+3 and 4+4+3, which no rule of thumb finds."""
    found = cut([6.0, 4.0, 3.0], [5, 2, 3], [12.0], 0.0)
    assert found.stock_used == {0: 4}


def test_what_a_row_names_beyond_the_plan_is_off_the_edge_too(make):
    """20 x 10 ft and 4 ft of walk at it; 6 ft named: 2 ft of something that is not on the plan."""
    areas = (
        make.area("Terrace", length=20, width=10, x=0, y=0, joined_edge=6),
        make.area("Walk", length=4, width=15, x=8, y=-15),
    )
    held = {part.part: part.restrained.value / FOOT for part in take_off(make.job(*areas)).parts}
    assert held["Terrace"] == pytest.approx(60 - 6)


def test_a_placed_triangle_at_the_house_keeps_its_corners(make):
    """Dug 6 in past what is open, 5 and 13 ft, and around two fifths of its corners."""
    values = {"shape": "triangle", "length": 12, "width": 5, "house_edge": 12}
    alone, placed = (
        take_off(make.job(make.area(**values, **where))).parts[0]
        for where in ({}, {"x": 3.0, "y": -2.0})
    )
    assert placed.base_area.value == pytest.approx(alone.base_area.value, rel=1e-6)


def test_an_edge_alone_on_the_plan_is_its_formula(make):
    def names(figure):
        yield figure.name
        for part in figure.args:
            yield from names(part)

    [part] = take_off(make.job(make.area(length=20, width=10, x=0, y=0))).parts
    assert {"length", "width"} <= set(names(part.edge))


def test_steps_reach_over_their_treads(make):
    """Three risers have two treads of 12 in: 4 by 2 ft, the landing being the top one."""
    block = make.product("Block", "wall unit", length=12, width=8, height=7)
    row = make.wall(kind="steps", length=4, height=21, tread=12, x=0, y=0)
    job = make.job(walls=(row,), products=(block,))
    [(_, ring)] = outlines(job, Materials(job))
    left, low, right, high = (side / FOOT for side in Polygon(ring).bounds)
    assert (right - left, high - low) == pytest.approx((4, 2))


def test_two_risers_have_one_tread_and_a_pad_of_it(make):
    """14 in, 12 in deep and 4 ft wide: a tread of 4 caps; 8 in of pad more in each direction."""
    block = make.product("Block", "wall unit", length=12, width=8, height=3.5)
    cap = make.product("Slab", "cap", length=12, width=12, height=2)
    row = make.wall(kind="steps", length=4, height=14, tread=12, risers=2, cap="Slab")
    found = take_off(make.job(make.area(length=20, width=10), walls=(row,), products=(block, cap)))
    assert need(found, "Slab").net.value == 4
    stone = next(a.amount for a in found.steps if a.step == "Base" and "seat wall" in a.amount.name)
    pad = (1 + 8 / 12) * (4 + 8 / 12) * 4 / 12
    assert stone.value / FOOT**3 == pytest.approx(pad + 4 * 1 * 7 / 12)


def test_a_cap_no_deeper_than_its_wall_still_runs_past_the_end(make):
    """Nothing is known of its end then, so that the usual overhang counts."""
    block = make.product("Block", "wall unit", length=12, width=12, height=4)
    cap = make.product("Slab", "cap", length=12, width=12, height=2)
    wall = make.wall(length=8, height=12, cap="Slab")
    job = make.job(make.area(length=9, width=9), walls=(wall,), products=(block, cap))
    materials = Materials(job)
    sizes = unit_of("Block", materials), unit_of("Slab", materials)
    assert overhang(*sizes).value == coefficient("cap overhang").likely


def test_a_pattern_is_drawn_from_the_start_it_was_counted_from(make):
    """Shapes apart may each start best at another corner: then no one start is named."""
    squares = [
        make.area(name=str(n), shape=shape, length=10, width=10, x=40.0 * n, y=0.0,
                  pattern="running bond")
        for n, shape in enumerate(("rectangle", "rectangle", "triangle"))
    ]  # fmt: skip
    slab = make.product("Paver", "paver", length=7, width=4, height=2, joint=0.1)

    def starts(*rows):
        [part] = take_off(make.job(*rows, products=(slab,))).parts
        [drawing] = part.laid
        return drawing.start

    alone = [starts(row) for row in squares]
    assert all(alone)
    assert alone[0] == alone[1] == starts(squares[0], squares[1])
    assert alone[2] != alone[0]
    assert starts(squares[0], squares[2]) == ""


def test_each_part_takes_the_stone_of_its_own_build_up(make):
    job = make.job(
        make.area("Terrace", length=9, width=9, build_up="deep"),
        make.area("Walk", length=9, width=3, build_up="shallow"),
        build_ups=(make.build_up("deep", base_item="Coarse"),
                   make.build_up("shallow", base_item="Fine")),
        products=(make.product("Coarse", "base"), make.product("Fine", "base")),
    )  # fmt: skip
    materials = Materials(job)
    assert base_item_of("terrace", materials) == "Coarse"
    assert base_item_of("Walk", materials) == "Fine"


def test_the_drawn_mixed_set_is_the_draw_of_fewest_slivers():
    room = ((0.0, 0.0), (6.0, 0.4), (6.2, 3.0), (3.3, 3.9), (3.0, 6.2), (0.0, 5.0))
    shares = [(0.15, 0.15, 0.25), (0.225, 0.15, 0.35), (0.3, 0.15, 0.4)]
    layouts = lay_mixed((room,), tuple(MixedSize(a, b, 0.0, c) for a, b, c in shares), 0.01)
    draws = list(zip(*(layout.layings for layout in layouts), strict=True))
    slivers = {sizes[0].start: sum(lay.slivers for lay in sizes) for sizes in draws}
    assert len(set(slivers.values())) > 1
    assert slivers[layouts[0].drawn_from] == min(slivers.values())
    of_each = {sizes[0].start: [lay.whole for lay in sizes] for sizes in draws}
    assert [len(each.drawn.whole) for each in layouts] == of_each[layouts[0].drawn_from]


def test_two_halves_lengthwise_come_out_of_one_paver():
    """8 x 4 in, cut along its length in two of 8 x 2: they part across, not along."""
    corners = np.array([(0, 0), (8, 0), (8, 2), (0, 2), (0, 2), (8, 2), (8, 4), (0, 4)], float)
    low, high = spans(corners, np.repeat([0, 1], 4), 2)
    assert pairs(low, high, np.array([16.0, 16.0]), (8.0, 4.0)) == 1
    # both from the same half: one of them lies turned by half a turn; both from the middle: not
    for up, found in ((0, 1), (1, 0)):
        low, high = spans(np.vstack([corners[:4] + np.array([0, up])] * 2), np.repeat([0, 1], 4), 2)
        assert pairs(low, high, np.array([16.0, 16.0]), (8.0, 4.0)) == found


def test_an_offset_without_its_place_among_placed_ones_is_a_problem(make):
    """It would else be spread evenly, wherever the others were measured."""
    places = Place("Outline", 3, {"x": "C", "length": "E"})
    rows = tuple(
        Corner(place=places, area="Terrace", order=i, x=x, length=FOOT)
        for i, x in enumerate((0.0, None, 4 * FOOT))
    )
    area = make.area(shape="offsets", name="Terrace", length=4)
    found = take_off(make.job(area, corners=rows)).warnings
    assert [w.code for w in found if w.severity == "problem"]


def test_a_cut_out_without_a_paver_comes_off_the_largest(make):
    """100 and 40 sq ft of 12 in slabs, laid without joints; 12 sq ft out of the larger."""
    slabs = [make.product(n, "paver", length=12, width=12, height=2, joint=0) for n in ("A", "B")]
    rows = (
        make.area(name="small", length=4, width=10, paver="A"),
        make.area(name="large", length=10, width=10, paver="B"),
        make.area(name="hole", length=4, width=3, cut_out=True),
    )
    found = take_off(make.job(*rows, products=tuple(slabs)))
    assert [need(found, n).net.value for n in ("A", "B")] == pytest.approx([40, 88])


def test_only_a_sill_shows_where_the_door_is(make):
    """A measured spot at the other side of the terrace is none."""
    at = {"x": 10 * FOOT, "level": 0.2}
    spot = Level(place=Place("Levels", 4), what="ground", y=0.0, **at)
    sill = Level(place=Place("Levels", 5), what="sill", y=10 * FOOT, toward=270, fall=0.02, **at)
    area = make.area("Terrace", length=20, width=10, x=0, y=0, house_edge=20)
    job = make.job(area, levels=(spot, sill))
    house = plan_lines(job, take_off(job))["Terrace"].house
    assert {round(y / FOOT) for line in house for _, y in line} == {10}


def test_upright_ends_are_straight_and_what_lies_between_is_not():
    """A base line of 4 m, ends of 2 and 1 m, and a curve of two bends above."""
    outline = [(0.0, 0.0), (4.0, 0.0), (4.0, 2.0), (2.0, 2.5), (0.0, 1.0)]
    found = under_curve(8.0, outline, "row")
    assert found.straight.value == pytest.approx(4 + 2 + 1)
    assert found.curved.value == pytest.approx(math.hypot(2, 0.5) + math.hypot(2, 1.5))


def _sill(**values):
    return Level(place=Place("Levels", 9, {"level": "E", "finish": "F"}), what="sill", **values)


def test_paving_falls_from_the_door_toward_its_middle():
    """A door at (0, 8), the middle of 6 by 6 m at (3, 3): down a line of 3 and -5."""
    region = Polygon([(0, 0), (6, 0), (6, 6), (0, 6)])
    plane = finish_of([_sill(x=0.0, y=8.0, finish=1.0, fall=0.02)], region)
    assert plane is not None
    assert plane.height(3, 3) == pytest.approx(1.0 - 0.02 * math.hypot(3, 5))
    assert plane.height(5, 3) == pytest.approx(plane.height(0, 0))  # across the fall


def test_a_covered_shape_takes_no_spike(make):
    """20 x 10 ft held all round with a spike a foot and one: 61; 4 x 3 ft between walls: none.

    Feet are no whole millimetres: what is left of 14 ft less 14 ft may not be quite nothing.
    """
    open_ = make.area(length=20, width=10)
    nook = make.area(name="nook", length=4, width=3, house_edge=14)
    jobs = make.job(open_), make.job(open_, nook)
    spikes = [need(take_off(job), "Edging spike").net.value for job in jobs]
    assert spikes == [61, 61]


def test_a_short_arm_of_a_bent_way_takes_a_strip_across():
    """4 ft wide, arms of 14 and 6 ft that meet at 60 degrees, a roll of 6 ft.

    The outer side of the long arm is 14 ft and the mitre, 2 ft times the tangent of 60 degrees;
    what is left of the short arm is less than a roll is wide.
    """
    bend = 2 * math.pi / 3
    way = LineString([(0, 0), (6, 0), (6 + 14 * math.cos(bend), 14 * math.sin(bend))])
    strips = strips_on(way.buffer(2, cap_style="flat", join_style="mitre"), 6.0, 1.0)
    assert [s.length for s in strips] == pytest.approx([14 + 2 * math.sqrt(3), 4.0])


def _covered(make, *areas, corners=()):
    """What geotextile covers of each part, laid a foot past its edges, in square feet."""
    job = make.job(*areas, corners=corners)
    parts = place(parts_of(job)[0], job.settings.units)[0]
    sites = [SimpleNamespace(part=part, materials=Materials(job)) for part in parts]
    near = beside(sites)
    return {
        site.part.name: covered_outline(site, near.get(site.part.name, ()), FOOT, FOOT).area
        / FOOT**2
        for site in sites
    }


def test_geotextile_laps_into_other_paving_by_half_an_overlap(make):
    """A walk of 4 by 15 ft, a foot past three sides, and half of a lap of 12 in past the fourth
    and around its ends, less what a tape may err there (1 cm)."""
    found = _covered(
        make,
        make.area("Terrace", length=20, width=10, x=0, y=0),
        make.area("Walk", length=4, width=15, x=8, y=-15),
    )
    assert found["Walk"] == pytest.approx(6 * 16 + 5 * 0.5 - 2 * 0.01 / FOOT / 2, abs=1e-3)


def test_geotextile_keeps_out_of_the_house_and_no_further(make):
    """Two wings of a terrace with 2.5 ft between them, one along a wall of 8 ft: the other keeps
    its foot of overrun."""
    points = ((0, 0), (14.5, 0), (14.5, 11), (8.5, 11), (8.5, 4), (6, 4), (6, 12), (0, 12))
    area = make.area(name="U", shape="polygon", house_edge=8)
    found = _covered(make, area, corners=make.corners("U", *points))
    wanted = Polygon(points).buffer(1, join_style="mitre").difference(box(6, 4, 7, 13))
    assert found["Terrace"] == pytest.approx(wanted.area, abs=0.05)


def _turns(points):
    """The same corners from each of them on, and the other way round."""
    for way in (points, points[::-1]):
        yield from (way[i:] + way[:i] for i in range(len(way)))


def test_the_house_around_a_corner_is_kept_out_of(make):
    """An L against both its outer sides: a foot past the others and in their line."""
    points = ((0, 0), (20, 0), (20, 8), (8, 8), (8, 20), (0, 20))
    wide = Polygon(points).buffer(1, join_style="mitre").intersection(box(0, 0, 30, 30))
    for corners in _turns(points):
        area = make.area(name="L", shape="polygon", house_edge=40)
        found = _covered(make, area, corners=make.corners("L", *corners))
        assert found["Terrace"] == pytest.approx(wide.area, abs=0.05), corners


@pytest.mark.parametrize("where", [{}, {"x": 5, "y": 7}])
def test_the_wall_of_the_house_goes_on_past_a_corner(make, where):
    """Sides of 20, 10.8, 16 and 10 ft, the first against the house: a foot past the other three,
    and nothing beyond the wall or a foot of its line on either side."""
    points = ((0, 0), (20, 0), (16, 10), (0, 10))
    wide = Polygon(points).buffer(1, join_style="mitre").difference(box(-1, -1.01, 21, 0))
    for corners in _turns(points):
        area = make.area(name="yard", shape="polygon", house_edge=20, **where)
        found = _covered(make, area, corners=make.corners("yard", *corners))
        assert found["Terrace"] == pytest.approx(wide.area, abs=0.05), corners


def test_paving_beside_a_shape_of_a_part_counts_though_another_has_no_place(make):
    areas = (
        make.area("Terrace", length=20, width=10, x=0, y=0),
        make.area("Terrace", name="nook", length=5, width=5),
        make.area("Walk", length=4, width=15, x=8, y=-15),
    )
    job = make.job(*areas)
    parts = place(parts_of(job)[0], job.settings.units)[0]
    near = beside([SimpleNamespace(part=part, materials=Materials(job)) for part in parts])
    assert {name: len(others) for name, others in near.items()} == {"Terrace": 1, "Walk": 1}


def test_a_board_that_is_measured_has_no_nominal_size(make):
    board = make.product("Board", "timber", length=96, width=3.5, height=1.5)
    [stock] = all_stock(make.job(products=(board,)))
    assert stock.straight() == "straight, dry pieces."


def test_a_pattern_starts_at_each_corner_of_the_rectangle_around():
    """Whole pavers in stack bond without joints, counted cell by cell from each corner."""
    room = ((0.0, 0.0), (1.03, 0.0), (0.61, 0.57), (0.0, 0.57))
    long, wide = 0.2, 0.1
    found = lay_out((room,), "stack bond", Unit(long, wide, long, wide), 0.01)
    whole = {laying.start: laying.whole for laying in found.layings}
    region = Polygon(room).buffer(1e-9)
    for corner, (x, y) in {
        "lower left corner": (0.0, 0.0), "lower right corner": (1.03, 0.0),
        "upper left corner": (0.0, 0.57), "upper right corner": (1.03, 0.57),
    }.items():  # fmt: skip
        cells = (box(x + i * long, y + j * wide, x + (i + 1) * long, y + (j + 1) * wide)
                 for i in range(-7, 7) for j in range(-7, 7))  # fmt: skip
        assert whole[corner] == sum(region.covers(cell) for cell in cells), corner


def test_the_sides_that_cross_are_named(make):
    """Of five sides the second and the fourth cross, at (4, 2)."""
    rows = make.corners("Terrace", (0, 0), (4, 0), (4, 4), (6, 2), (2, 2))
    said = crossing_cells(rows)
    assert said == f"; the sides after {rows[1].cell('x')} and {rows[3].cell('x')} meet"


def test_a_ring_without_any_width_is_impossible(make):
    row = make.area(shape="ring", diameter=6, inner_diameter=6)
    assert "impossible-shape" in {notice.code for notice in parts_of(make.job(row))[1]}


def test_edging_at_hand_for_the_whole_edge_is_not_bought(make):
    """60 ft and a twentieth of cut ends are 8 pieces of 8 ft; 40 lie in the yard."""
    area = make.area(length=20, width=10)
    needs = [take_off(make.job(area, stock=at_hand)).needs
             for at_hand in ((), (make.stock("Edging", 40),))]  # fmt: skip
    assert ["Edging" in {need.item for need in found} for found in needs] == [True, False]


def test_a_quarter_circle_lies_around_its_lower_left_corner(make):
    """Of 4 ft: (3, 0.5) and (0.5, 3) lie in it, (3, 3) is 4.2 ft off."""
    [part] = take_off(make.job(make.area(shape="quarter circle", diameter=8))).parts
    drawn = Polygon([(x / FOOT, y / FOOT) for x, y in part.outlines[0]])
    inside = [drawn.covers(Point(*at)) for at in ((3, 0.5), (0.5, 3), (3, 3))]
    assert inside == [True, True, False]


def test_an_ellipse_is_drawn_as_long_and_as_wide_as_it_is(make):
    [part] = take_off(make.job(make.area(shape="ellipse", length=20, width=10))).parts
    drawn = Polygon([(x / FOOT, y / FOOT) for x, y in part.outlines[0]])
    left, low, right, high = drawn.bounds
    assert (right - left, high - low) == pytest.approx((20, 10), rel=1e-3)
    assert drawn.area == pytest.approx(math.pi / 4 * 20 * 10, rel=1e-2)
    assert (drawn.centroid.x - left, drawn.centroid.y - low) == pytest.approx((10, 5), rel=1e-3)


def test_cut_outs_without_a_place_are_drawn_along_the_middle(make):
    """Of 20 by 10 ft, two of them a third and two thirds along; in an L where there is paving."""
    holes = [
        make.area(name="tree", shape="circle", diameter=2, cut_out=True),
        make.area(name="drain", shape="triangle", length=3, width=1, cut_out=True),
    ]
    [part] = take_off(make.job(make.area(length=20, width=10), *holes)).parts
    left, low, _, _ = Polygon(part.outlines[0]).bounds
    middles = [Polygon(ring).centroid for ring in part.holes]
    found = [((m.x - left) / FOOT, (m.y - low) / FOOT) for m in middles]
    assert found == [pytest.approx((20 / 3, 5)), pytest.approx((40 / 3, 5))]
    ell = make.area(name="ell", shape="polygon")
    corners = make.corners("ell", (0, 0), (20, 0), (20, 3), (3, 3), (3, 10), (0, 10))
    [part] = take_off(make.job(ell, holes[0], corners=corners)).parts
    assert Polygon(part.outlines[0]).contains(Polygon(part.holes[0]))


def _offsets(make, *away):
    rows = tuple(
        Corner(place=Place("Outline", 3 + i, {"length": "E"}), area="bed", order=i, length=n * FOOT)
        for i, n in enumerate(away)
    )
    return take_off(make.job(make.area(shape="offsets", name="bed", length=4), corners=rows))


def test_offsets_may_be_nothing_but_not_all_of_them(make):
    """0, 2 and 0 ft along 4 ft: two triangles of 2 sq ft."""
    assert _offsets(make, 0, 2, 0).parts[0].area.value / FOOT**2 == pytest.approx(4)
    said = [w for w in _offsets(make, 0, 0, 0).warnings if w.severity == "problem"]
    assert "all 0 in Outline!E3" in said[0].found


def test_a_narrow_part_at_the_end_of_a_long_one_has_the_corners_there(make):
    """A band 3 ft wide at the end of 40 ft: of four corners each part has the two at its end."""
    job = make.job(
        make.area(part="Band", length=3, width=10, x=0, y=0),
        make.area(part="Terrace", length=40, width=10, x=3, y=0),
    )
    parts = place(parts_of(job)[0], job.settings.units)[0]
    assert {p.name: p.pieces[0].edges.corners.value for p in parts} == pytest.approx(
        {"Band": 2.0, "Terrace": 2.0}
    )
