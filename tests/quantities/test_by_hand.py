"""Single rules of the takeoff, each with a figure worked out beside it."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from shapely import Polygon, box

from budget.figures import constant
from budget.job import Place, Trench
from budget.quantities import take_off
from budget.quantities.formulas import walls
from budget.quantities.formulas.surveyed import Offsets, spacing
from budget.quantities.laid.bonds import Unit
from budget.quantities.laid.fabric_rolls import Strip, unroll
from budget.quantities.laid.layout import lay_out
from budget.quantities.laid.matching import most_pairs
from budget.quantities.laid.mixed_courses import MixedSize, courses
from budget.quantities.plan.edges_open import open_corners
from budget.quantities.plan.parts import parts_of
from budget.units import COUNT, FOOT, INCH, LENGTH


def outline(make, **row) -> Polygon:
    """The only shape of a part as it is drawn, in square feet around its corner."""
    [part] = take_off(make.job(make.area(**row))).parts
    [ring] = part.outlines
    return Polygon([(x / FOOT, y / FOOT) for x, y in ring])


QUARTER = {"shape": "quarter circle", "diameter": 8}


@pytest.mark.parametrize(
    ("row", "area", "bounds"),
    [
        (QUARTER, math.pi * 4, (0, 0, 4, 4)),
        ({**QUARTER, "x": 0, "y": 0}, math.pi * 4, (0, 0, 4, 4)),
        ({"shape": "ellipse", "length": 9, "width": 6}, math.pi * 13.5, (0, 0, 9, 6)),
        ({"shape": "half circle", "diameter": 8}, math.pi * 8, (0, 0, 8, 4)),
    ],
)
def test_drawn_shapes_have_the_area_and_the_reach_of_their_formula(make, row, area, bounds):
    found = outline(make, **row)
    assert found.area == pytest.approx(area, rel=0.002)
    assert found.bounds == pytest.approx(bounds, abs=0.01)


@pytest.mark.parametrize(
    ("house", "joined", "corners"),
    [(0, 0, 4), (4, 0, 2), (7, 0, 1), (2, 0, 4), (5, 0, 2), (9, 0, 0), (4, 3, 1)],
)
def test_corners_that_covered_sides_leave_of_four(make, house, joined, corners):
    """A yard of 4 by 3 ft: a whole side takes two corners, two sides three, 9 ft of 14 all; a
    run shorter than the short side, in the middle of one, takes none."""
    row = make.area(length=4, width=3, house_edge=house, joined_edge=joined)
    [part] = parts_of(make.job(row))[0]
    assert open_corners(row, part.added[0].shape) == corners


def test_covered_runs_on_another_shape_take_their_share_of_its_corners(make):
    """A right triangle of 3, 4 and 5 ft: 3 ft to the house and 4 to a walk are 7 of 12 around."""
    row = make.area(shape="triangle", length=3, width=4, house_edge=3, joined_edge=4)
    [part] = parts_of(make.job(row))[0]
    shape = part.added[0].shape
    assert open_corners(row, shape) == pytest.approx(shape.corners * 5 / 12)


def test_one_uneven_offset_is_enough_to_be_uneven():
    with pytest.raises(ValueError, match="not evenly"):
        spacing(Offsets((0.0, 1.0, 2.0, 3.0, 4.5), (1.0,) * 5))


def test_a_roll_of_just_two_laps_covers_nothing():
    with pytest.raises(ValueError, match="cannot lap"):
        unroll([Strip("Yard", 6.0)], 1.0, 0.5)


def test_a_mitred_corner_takes_one_cap_more():
    """4.04 m in caps of 0.5 m are 9, and one for the corner."""
    sizes = [constant(value, LENGTH, "size") for value in (4.0, 0.02)]
    two, one = constant(2, COUNT, "ends"), constant(1, COUNT, "corners")
    assert walls.caps(*sizes, two, one, constant(0.5, LENGTH, "cap")).value == 10


def test_a_paver_lies_in_the_middle_of_its_cell():
    """Half of a joint of 4 mm on each side."""
    one = Unit(0.2, 0.1, 0.204, 0.104)
    room = ((0.0, 0.0), (0.816, 0.0), (0.816, 0.104), (0.0, 0.104))
    found = lay_out((room,), "stack bond", one, 0.01)
    boxes = sorted(Polygon(ring).bounds for ring in found.drawn.whole)
    assert boxes[0] == pytest.approx((0.002, 0.002, 0.202, 0.102))
    assert len(boxes) == 4


def test_laying_starts_at_every_corner_and_half_a_paver_on_at_the_left_ones():
    room = ((0.0, 0.0), (1.0, 0.0), (1.0, 0.5), (0.0, 0.5))
    found = lay_out((room,), "stack bond", Unit(0.2, 0.1, 0.2, 0.1), 0.01)
    assert [laying.start for laying in found.layings] == [
        "lower left corner", "lower left corner, half a paver on", "lower right corner",
        "upper left corner", "upper left corner, half a paver on", "upper right corner",
    ]  # fmt: skip


def test_courses_of_one_size_lie_half_a_joint_in_and_half_a_paver_back():
    """0.5 by 0.25 m with joints of 10 mm: cells of 0.51 by 0.26."""
    found = [put.box for put in courses((MixedSize(0.5, 0.25, 0.01, 1),), 1.02, 0.52, seed=1)]
    starts = [[x for x, y, _, _ in found if (y > 0.26) == upper] for upper in (False, True)]
    assert starts[0] == pytest.approx([0.005, 0.515])
    assert starts[1] == pytest.approx([-0.25, 0.26, 0.77])
    assert found[0] == pytest.approx((0.005, 0.005, 0.505, 0.255))


def test_cut_outs_as_large_as_their_shape_leave_no_part(make):
    rows = (make.area(length=4, width=3), make.area(length=4, width=3, cut_out=True))
    parts, notices = parts_of(make.job(*rows))
    assert not parts
    assert [notice.code for notice in notices] == ["no-area"]


def test_a_measured_shape_of_no_area_is_impossible(make):
    _, notices = parts_of(make.job(make.area(shape="measured", area=0.0)))
    assert "impossible-shape" in {notice.code for notice in notices}


def test_some_shapes_optional_is_told_at_the_first_of_the_part(make):
    rows = make.area(length=4, width=3), make.area(length=4, width=3, optional=True)
    _, notices = parts_of(make.job(*rows))
    [told] = [notice for notice in notices if notice.code == "part-optional"]
    assert told.row == rows[0].place.row


def test_a_paver_count_names_the_level_it_assumes(make):
    assumed = {a.what for a in take_off(make.job(make.area(length=20, width=10))).assumed}
    assert "finished level" in assumed


@pytest.mark.parametrize(("pattern", "said"), [("", True), ("running bond", False)])
def test_a_pattern_is_assumed_only_where_none_is_named(make, pattern, said):
    found = take_off(make.job(make.area(length=20, width=10, pattern=pattern)))
    assert any("pattern" in a.what for a in found.assumed) is said


def test_greedy_pairs_are_mutual():
    """A path of four points: two pairs; a star of four: one."""
    path = [[abs(a - b) == 1 for b in range(4)] for a in range(4)]
    star = [[(a == 0) != (b == 0) for b in range(4)] for a in range(4)]
    import numpy as np

    assert (most_pairs(np.array(path)), most_pairs(np.array(star))) == (2, 1)


def test_one_riser_is_a_row_of_units_without_treads(make):
    """A single step 4 ft wide and 4 in high, of 12 x 8 x 4 in units: 4 units, nothing to tread."""
    block = make.product("Block", "wall unit", length=12, width=8, height=4)
    row = make.wall("step", kind="steps", length=4, height=4, tread=12, risers=1)
    job = make.job(make.area(length=20, width=10), walls=(row,), products=(block,))
    found = take_off(job)
    [units] = [need for need in found.needs if need.item == "Block"]
    assert units.net.value == 4


def test_blocks_at_hand_for_the_whole_wall_are_not_bought(make):
    """8 ft by 12 in of 12 x 4 in faces and a buried course: 8 x 4 = 32; 40 lie in the yard."""
    block = make.product("Block", "wall unit", length=12, width=8, height=4)
    row = make.wall(length=8, height=12)
    yard = (make.stock("Block", 40),)
    jobs = [make.job(make.area(length=20, width=10), walls=(row,), products=(block,), stock=at_hand)
            for at_hand in ((), yard)]  # fmt: skip
    bought = [[n for n in take_off(job).needs if n.item == "Block"] for job in jobs]
    assert bought[0][0].net.value == 32
    assert bought[1] == []


def dug(make, what, **values):
    row = Trench(
        place=Place("Trenches", 2, {"depth": "F"}), part="Terrace", name="line", what=what,
        length=10 * FOOT, width=6 * INCH, depth=12 * INCH, item="Pipe", **values,
    )  # fmt: skip
    return take_off(replace(make.job(make.area(length=20, width=10)), trenches=(row,)))


def test_a_sleeve_is_for_later_and_a_drain_has_cut_ends(make):
    why = {
        w: next(n.why for n in dug(make, w).needs if n.item == "Pipe") for w in ("sleeve", "drain")
    }
    assert "later" in why["sleeve"]
    assert "later" not in why["drain"]


def _names(figure):
    yield figure.name
    for part in figure.args:
        yield from _names(part)


def test_a_shape_alone_on_the_plan_keeps_its_area(make):
    """Nothing of it lies under another, so that its area is its formula and no remainder."""
    found = take_off(make.job(make.area(length=20, width=10, x=0, y=0)))
    [part] = found.parts
    assert not any("left" in name for name in _names(part.area))
    assert Polygon(part.outlines[0]).equals(box(0, 0, 20 * FOOT, 10 * FOOT))
