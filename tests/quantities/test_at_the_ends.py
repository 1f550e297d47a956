"""Rules of the takeoff at the ends of what they meet: nothing, one, alike, at the very edge."""

from __future__ import annotations

from dataclasses import replace

import pytest
from shapely import LinearRing, box
from shapely.affinity import scale

from budget.figures import constant
from budget.job import Place, Trench
from budget.quantities import take_off
from budget.quantities.formulas.surveyed import Offsets, straight_outline
from budget.quantities.laid.borders import border_of
from budget.quantities.needs.fire import has_fire
from budget.quantities.plan.outlines import drawing
from budget.quantities.plan.parts import parts_of
from budget.quantities.plan.placed_shapes import footprint
from budget.quantities.takeoff import SpanCheck
from budget.units import DEPTH, FOOT, INCH


def test_a_border_takes_off_no_hole_that_it_covers():
    """Units 0.2 m deep around 4 by 4 m; of a hole from 0.1 to 1 m the first tenth is in it."""
    square, hole = box(0, 0, 4, 4), box(0.1, 1, 1, 2)
    rings = tuple(tuple(LinearRing(ring.exterior).coords)[:-1] for ring in (square, hole))
    border = border_of("Patio", "Brick", "soldier", (0.2, 0.1, 0.0), [rings])
    around = square.difference(square.buffer(-0.2, join_style="mitre")).difference(hole)
    assert border.area.value == pytest.approx(around.area)
    assert border.area.value == pytest.approx(16 - 3.6**2 - 0.1)


def test_a_notch_in_the_edge_has_its_corners_once(make):
    """20 by 10 ft with 4 by 4 ft out of one side, a base 6 in past the edge."""
    areas = (
        make.area(name="all", length=20, width=10, x=0.0, y=0.0),
        make.area(name="notch", length=4, width=4, x=8.0, y=0.0, cut_out=True),
    )
    (part,) = take_off(make.job(*areas, build_ups=(make.build_up(overrun=6),))).parts
    paved = box(0, 0, 20, 10).difference(box(8, 0, 12, 4))
    past = paved.buffer(0.5, join_style="mitre", mitre_limit=20)
    assert part.base_area.value / FOOT**2 == pytest.approx(past.area)


def test_a_half_circle_is_the_same_from_either_side(make):
    area = make.area(shape="half circle", diameter=10, x=0.0, y=0.0)
    (part,) = parts_of(make.job(area))[0]
    found = footprint(part.pieces[0])
    assert found is not None
    half = found.polygon()
    assert half.symmetric_difference(scale(half, -1, 1, origin=(0, 0))).area < 1e-12


@pytest.mark.parametrize(("inches", "caps"), [(24, 1), (12, 4), (23, 4)])
def test_a_column_is_capped_by_whole_caps_both_ways(make, inches, caps):
    """24 in square: one cap of 24 in, two by two of 12 in or of 23 in."""
    products = (
        make.product("Block", "wall unit", length=12, width=8, height=4),
        make.product("Coping", "cap", length=inches, width=inches, height=2),
    )
    post = make.wall("post", kind="column", length=2, height=8, buried=0.0, cap="Coping")
    found = take_off(make.job(make.area(length=9, width=9), walls=(post,), products=products))
    assert [n.net.value for n in found.needs if n.item == "Coping"] == [caps]


def test_soil_that_all_goes_back_into_its_trench_is_no_spoil(make):
    """What is dug is put back, more compacted than it lay: nothing is left over."""
    row = Trench(place=Place("Trenches", 2), part="Terrace", name="cable", what="conduit",
                 length=30 * FOOT, width=6 * INCH, depth=18 * INCH)  # fmt: skip
    job = make.job(make.area(length=20, width=10))
    bare, found = take_off(job), take_off(replace(job, trenches=(row,)))
    assert [s.amount.value for s in found.spoil] == [s.amount.value for s in bare.spoil]
    both = ([s.step for s in one.steps if s.step in ("Dig", "Spoil")] for one in (bare, found))
    assert tuple(both) == (["Dig", "Spoil"], ["Dig", "Dig", "Spoil"])


def test_without_a_base_no_stone_is_bought_and_no_plate_is_run(make):
    """4 in under 3 by 3 ft without overrun are 3 cu ft, which are compacted in one lift."""
    bare, thin = (make.build_up(base_depth=depth, overrun=0) for depth in (0, 4))
    area = make.area(length=3, width=3)
    none, some = (take_off(make.job(area, build_ups=(row,))) for row in (bare, thin))
    assert none.compaction == ()
    assert not [n for n in none.needs if n.kind == "base"]
    assert "Base" not in {s.step for s in none.steps}
    assert [c.lifts.value for c in some.compaction] == [1]
    (base,) = (s.amount for s in some.steps if s.step == "Base")
    assert base.value / FOOT**3 == pytest.approx(3)


def test_counted_items_that_are_alike_may_stand_in_any_order(make):
    """Three benches in rows of one: hours of two of them are said, 2 and 1 h."""
    rows = [
        make.extra("Terrace", "Bench", 1, **h)
        for h in ({"hours_each": 2.0}, {}, {"hours_each": 1.0})
    ]
    area = make.area(length=20, width=10)
    both = [take_off(make.job(area, extras=tuple(order))) for order in (rows, rows[::-1])]
    counted = [[figure.key for figure in found.needs[-1].net.args] for found in both]
    assert counted[0] == counted[1]
    assert {found.needs[-1].item for found in both} == {"Bench"}
    built = [s.amount for found in both for s in found.steps if s.step == "Build"]
    assert [amount.value for amount in built] == [3.0, 3.0]
    assert [[figure.value for figure in amount.args] for amount in built] == [[1.0, 2.0]] * 2


def test_rows_of_stock_that_differ_in_cleaning_alone_may_stand_in_any_order(make):
    area = make.area(length=20, width=10)
    rows = [make.stock("Paver", 10, cleaning=hours) for hours in (0.5, 0.1)]
    hours = [
        [s.amount.value for s in take_off(make.job(area, stock=tuple(order))).steps
         if "cleaning" in s.amount.name]
        for order in (rows, rows[::-1])
    ]  # fmt: skip
    assert hours[0] == hours[1] != []


def test_nothing_on_hand_is_not_spoken_of(make):
    area = make.area(length=20, width=10)
    said = [
        next(n.why for n in take_off(make.job(area, stock=(make.stock("Paver", count),))).needs
             if n.item == "Paver")
        for count in (0, 5)
    ]  # fmt: skip
    assert ["on hand" in why for why in said] == [False, True]


def test_a_wall_goes_with_its_part_only_if_all_of_that_may_be_left_out(make):
    block = make.product("Block", "wall unit", length=12, width=8, height=4)
    wall = make.wall(part="Nook", length=6, height=12)
    for second, goes in ((True, "Nook"), (False, "")):
        areas = (
            make.area("Nook", name="a", length=6, width=6, optional=True),
            make.area("Nook", name="b", length=3, width=3, optional=second),
        )
        found = take_off(make.job(make.area(length=9, width=9), *areas, walls=(wall,),
                                  products=(block,)))  # fmt: skip
        assert {n.optional for n in found.needs if n.item == "Block"} == {goes}


def test_a_part_has_a_place_if_any_of_its_shapes_has(make):
    areas = make.area(length=9, width=9, x=0, y=0), make.area(name="nook", length=3, width=3)
    assert [part.placed for part in take_off(make.job(*areas)).parts] == [True]
    assert [part.placed for part in take_off(make.job(areas[1])).parts] == [False]


def test_the_pavers_of_a_drawing_are_counted_over_its_shapes(make):
    """Slabs of 12 in without a joint: 9 x 9 of them, apart from 3 x 2 and as many halves."""
    slab = make.product("Slab", "paver", length=12, width=12, height=3, joint=0)
    areas = (
        make.area(name="a", length=9, width=9, x=0, y=0, pattern="stack bond"),
        make.area(name="b", length=3.5, width=2, x=20, y=0, pattern="stack bond"),
    )
    [part] = take_off(make.job(*areas, products=(slab,))).parts
    [drawing] = part.laid
    assert drawing.pavers == len(drawing.whole) + len(drawing.cut) == 81 + 6 + 2


def test_what_bends_as_far_as_it_may_holds():
    limit = constant(0.005, DEPTH, "limit")
    for share, holds in ((1.0, True), (1.001, False)):
        bends = constant(0.005 * share, DEPTH, "bends")
        assert SpanCheck("Bench", "seat", "2x4", bends, limit).holds is holds


def test_one_part_with_a_fire_is_enough(make):
    areas = make.area(length=9, width=9), make.area("Fire corner", length=5, width=5)
    assert has_fire(make.job(*areas))
    assert not has_fire(make.job(areas[0]))


def test_the_ground_is_assumed_only_where_it_is_not_given(make):
    area = make.area(length=9, width=9)
    for places, assumed in (({}, True), ({"ground": "Job!B9"}, False)):
        found = take_off(make.job(area, settings={"places": places}))
        assert ("ground" in {a.what for a in found.assumed}) is assumed


def test_a_curve_of_offsets_that_starts_and_ends_at_the_line_has_no_corner_twice():
    """0, 2 and 0 m away at 0, 2 and 4 m: a triangle."""
    found = straight_outline(Offsets((0.0, 2.0, 4.0), (0.0, 2.0, 0.0)))
    assert sorted(found) == [(0.0, 0.0), (2.0, 2.0), (4.0, 0.0)]


@pytest.mark.parametrize(("inches", "told"), [(3, False), (2.9, True)])
def test_a_paver_four_times_as_long_as_thick_is_no_slab(make, inches, told):
    """ICPI Construction Tolerances guide: 4 to 1."""
    slab = make.product("Paver", "paver", length=12, width=6, height=inches, joint=0)
    found = take_off(make.job(make.area(length=6, width=6), products=(slab,)))
    assert ("slab" in {w.code for w in found.warnings}) is told


def test_how_long_a_paver_is_for_its_width_is_told_where_the_pattern_does_not_close(make):
    """12 by 4 in, whichever of the two is called its length."""
    area = make.area(length=6, width=6, pattern="herringbone 90")
    for sizes in ({"length": 12, "width": 4}, {"length": 4, "width": 12}):
        strip = make.product("Strip", "paver", height=3, joint=0, **sizes)
        found = take_off(make.job(area, products=(strip,)))
        (told,) = (w for w in found.warnings if w.code == "pattern-unfit")
        assert told.found == "Strip in herringbone 90, 3.00 times as long as wide"


def test_a_counted_item_is_bought_as_counted(make):
    """Hours of one bench of two are not known; of boxes that lie there none is bought."""
    rows = (
        make.extra("Terrace", "Bench", 1, hours_each=2.0), make.extra("Terrace", "Bench", 1),
        make.extra("Terrace", "Box", 2, hours_each=1.0),
    )  # fmt: skip
    area = make.area(length=20, width=10)
    found = take_off(make.job(area, extras=rows, stock=(make.stock("Box", 2),)))
    needs = {n.item: n for n in found.needs if n.kind == "extra"}
    assert set(needs) == {"Bench"}
    assert (needs["Bench"].order.value, needs["Bench"].overage.value) == (2, 0)
    told = {a.what for a in found.assumed}
    assert "own hours to build Bench" in told
    assert "own hours to build Box" not in told


@pytest.mark.parametrize(
    ("across", "back", "told"), [(48, 9, True), (64, 9, False), (80, 9, False), (48, 12, False)]
)
def test_a_ring_too_small_is_told_the_least_diameter(make, across, back, told):
    """8 in deep, 12 in at the front and 9 in at the back: 8 x 12 / (12 - 9) = 32 in of radius.

    Blocks as wide at the back close at none, however large the ring is.
    """
    block = make.product(
        "Ring block", "wall unit", length=12, width=8, height=4, back_width=back
    )  # fmt: skip
    ring = make.wall("ring", kind="ring", unit="Ring block", diameter=across, height=8)
    found = take_off(make.job(make.area(length=9, width=9), walls=(ring,), products=(block,)))
    said = [w for w in found.warnings if w.code == "ring-needs-cutting"]
    assert [w.found for w in said] == ["an outer diameter of 48 in"] * told
    assert all(w.expected.startswith("at least 64 in") for w in said)


def test_a_measured_shape_may_be_small(make):
    small, none = (
        take_off(
            make.job(make.area(shape="measured", area=size), make.area("Walk", length=9, width=3))
        )
        for size in (5.0, 0.0)
    )
    assert {p.part: round(p.area.value / FOOT**2, 6) for p in small.parts} == {
        "Terrace": 5.0, "Walk": 27.0,
    }  # fmt: skip
    assert not small.warnings
    assert [w.severity for w in none.warnings if w.sheet == "Areas"] == ["problem"]


def test_sizes_stand_beside_their_shape(make):
    """A rectangle's below its middle and left of it, a circle's below its middle."""
    areas = (
        make.area(name="a", length=20, width=10),
        make.area(name="b", shape="circle", diameter=10),
    )
    (part,) = parts_of(make.job(*areas))[0]
    rings, _, labels = drawing(part, "imperial")
    found = []
    for ring, (x, y, _) in zip((rings[0], rings[0], rings[1]), labels, strict=True):
        left, low, right, high = LinearRing(ring).bounds
        found.append(((x - left) / (right - left), (y - low) / (high - low)))
    assert found == [pytest.approx(spot, abs=1e-9) for spot in ((0.5, 0), (0, 0.5), (0.5, 0))]


def test_tubes_of_adhesive_are_whole_and_nothing_is_added(make):
    block = make.product("Block", "wall unit", length=12, width=8, height=4)
    wall = make.wall(length=10, height=12, glue="every course")
    found = take_off(make.job(make.area(length=9, width=9), walls=(wall,), products=(block,)))
    (glue,) = (n for n in found.needs if n.kind == "adhesive")
    assert glue.overage.value == 0
    assert glue.order.value == glue.net.value


@pytest.mark.parametrize(("inches", "small"), [(8, False), (7.5, True)])
def test_a_cap_as_deep_as_its_wall_is_deep_enough(make, inches, small):
    products = (
        make.product("Block", "wall unit", length=12, width=8, height=4),
        make.product("Coping", "cap", length=12, width=inches, height=2),
    )
    wall = make.wall(length=10, height=12, cap="Coping")
    found = take_off(make.job(make.area(length=9, width=9), walls=(wall,), products=products))
    assert ("cap-too-small" in {w.code for w in found.warnings}) is small
