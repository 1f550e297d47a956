"""The laid pattern: paper counts, areas that add up, offcuts, and what must not change it."""

import math

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from budget.quantities.laid.bonds import BONDS, Unit, cells, unit_for
from budget.quantities.laid.layout import direction, lay_out
from budget.reference.tables import patterns

PATTERNS = list(BONDS)
ONE_WAY = [name for name, bond in BONDS.items() if not bond.both_ways]
SLIVER = 0.01
ODD = ((0.0, 0.0), (5.3, 0.4), (7.1, 3.2), (4.4, 5.9), (2.0, 3.7), (-0.6, 4.1))
HOLE = ((2.6, 1.7), (3.9, 1.5), (3.3, 2.9))


def rectangle(length, width):
    return (((0.0, 0.0), (length, 0.0), (length, width), (0.0, width)),)


def unit(pattern, length=0.2, width=0.1, joint=0.004):
    found = unit_for(pattern, length, width, joint)
    assert found is not None
    return found


def test_every_pattern_that_is_laid_out_can_be_chosen():
    assert set(PATTERNS) <= set(patterns())


@pytest.mark.parametrize("pattern", ONE_WAY)
@pytest.mark.parametrize(("along", "rows"), [(1, 1), (20, 30), (7, 12), (13, 5)])
@pytest.mark.parametrize("joint", [0.0, 0.003175, 0.005])
def test_a_rectangle_of_whole_modules_is_the_paper_count(pattern, along, rows, joint):
    """A rectangle of n x m modules takes n x m pavers: two halves come out of one."""
    one = unit(pattern, joint=joint)
    found = lay_out(rectangle(along * one.cell_length, rows * one.cell_width), pattern, one, SLIVER)
    assert {laying.units for laying in found.layings} == {along * rows}


def test_running_bond_on_paper():
    """6 courses of 10: three begin and end with a half, so 57 whole, 6 halves out of 3."""
    one = unit("running bond")
    shape = rectangle(10 * one.cell_length, 6 * one.cell_width)
    for laying in lay_out(shape, "running bond", one, SLIVER).layings:
        assert (laying.whole, laying.cut, laying.reused) == (57, 6, 3)
        assert laying.cut_length == pytest.approx(6 * one.width)


def test_a_brochures_patio_laid_tight():
    """BIA Seven Easy Steps: 10 x 20 ft of 4 x 8 in laid tight are 900 pavers."""
    foot = 0.3048
    one = Unit(8 / 12 * foot, 4 / 12 * foot, 8 / 12 * foot, 4 / 12 * foot)
    for pattern in ("stack bond", "running bond", "basket weave", "herringbone 90"):
        found = lay_out(rectangle(20 * foot, 10 * foot), pattern, one, SLIVER)
        assert found.best.units == 900


@pytest.mark.parametrize("pattern", PATTERNS)
def test_cells_fill_the_plane_without_gap_or_overlap(pattern):
    one = unit(pattern)
    window = shapely.box(0.13, -0.21, 2.4, 1.7)
    boxes = [
        shapely.box(x, y, x + (one.cell_width if turned else one.cell_length),
                    y + (one.cell_length if turned else one.cell_width))
        for x, y, turned in cells(pattern, one, window.bounds)
    ]  # fmt: skip
    parts = [box.intersection(window) for box in boxes]
    assert sum(part.area for part in parts) == pytest.approx(window.area, rel=1e-9)
    assert shapely.unary_union(parts).area == pytest.approx(window.area, rel=1e-9)


@pytest.mark.parametrize("pattern", PATTERNS)
def test_laid_area_and_joints_add_up_to_an_irregular_polygon(pattern):
    """Joints measured by themselves, as what the faces leave of the outline."""
    one = unit(pattern)
    region = shapely.Polygon(ODD, [HOLE])
    found = lay_out((ODD, HOLE), pattern, one, SLIVER)
    faces = shapely.union_all(
        [shapely.Polygon(ring) for ring in (*found.drawn.whole, *found.drawn.cut)]
    )
    joints = region.difference(faces).area
    assert found.best.laid + joints == pytest.approx(region.area, rel=1e-4)
    assert joints / region.area == pytest.approx(1 - one.face / one.cell, abs=0.004)


@pytest.mark.parametrize("pattern", PATTERNS)
def test_drawn_pavers_are_those_counted_and_lie_apart(pattern):
    found = lay_out((ODD, HOLE), pattern, unit(pattern), SLIVER)
    assert (len(found.drawn.whole), len(found.drawn.cut)) == (found.best.whole, found.best.cut)
    shapes = [shapely.Polygon(ring) for ring in (*found.drawn.whole, *found.drawn.cut)]
    assert shapely.union_all(shapes).area == pytest.approx(sum(s.area for s in shapes), rel=1e-4)
    assert shapely.union_all(shapes).difference(shapely.Polygon(ODD, [HOLE])).area < 1e-3


def test_two_pieces_of_a_half_turned_slant_come_out_of_one_paver():
    """A strip as wide as one paver, cut slantwise at both ends alike: one paver does both."""
    one = Unit(0.2, 0.1, 0.2, 0.1)
    ring = ((0.0, 0.0), (1.0, 0.0), (1.1, 0.1), (0.1, 0.1))
    found = lay_out((ring,), "stack bond", one, SLIVER)
    assert found.best.units == 5
    assert found.best.reused >= 1


def test_a_piece_longer_than_the_offcut_takes_a_paver_of_its_own():
    """Two courses of a paver and three fifths: the rest of two fifths does not serve."""
    one = Unit(0.2, 0.1, 0.2, 0.1)
    found = lay_out(rectangle(0.32, 0.2), "stack bond", one, SLIVER)
    whole_start = found.layings[0]
    assert (whole_start.whole, whole_start.cut, whole_start.reused) == (2, 2, 0)


def test_an_offcut_serves_once():
    """Four courses end with a quarter: one paver gives two of them, not four."""
    one = Unit(0.2, 0.1, 0.2, 0.1)
    found = lay_out(rectangle(1.05, 0.4), "stack bond", one, SLIVER)
    assert (found.layings[0].whole, found.layings[0].cut, found.layings[0].reused) == (20, 4, 2)


def test_a_joints_width_is_no_cut():
    one = Unit(0.2, 0.1, 0.204, 0.104)
    exact = 10 * 0.204, 10 * 0.104
    for more in (-0.003, 0.003):
        found = lay_out(rectangle(exact[0] + more, exact[1]), "stack bond", one, SLIVER)
        assert (found.best.units, found.best.cut) == (100, 0)


def test_a_start_without_slivers_is_found():
    """9 mm more than whole pavers: started with a whole one, the last of each course is 7 mm."""
    one = unit("stack bond")
    shape = rectangle(10 * one.cell_length + 0.009, 10 * one.cell_width)
    found = lay_out(shape, "stack bond", one, SLIVER)
    assert found.layings[0].start == "lower left corner"
    assert found.layings[0].slivers == 10
    assert found.best.slivers == 0
    assert found.best.narrowest >= SLIVER
    assert found.worst.units >= found.best.units


def test_slivers_that_no_start_avoids_are_seen():
    found = lay_out(rectangle(2.04, 0.008), "stack bond", unit("stack bond"), SLIVER)
    assert all(laying.slivers >= 10 for laying in (*found.layings, *found.shifted))
    assert found.shifted
    assert found.best.narrowest == pytest.approx(0.006, abs=0.0021)


def test_herringbone_at_45_cuts_more_than_at_90():
    straight, slant = (
        lay_out(rectangle(6, 4), p, unit(p), SLIVER).worst
        for p in ("herringbone 90", "herringbone 45")
    )
    assert slant.units > straight.units
    assert slant.cut_length == pytest.approx(20, rel=0.2)  # all round


@pytest.mark.parametrize(
    ("length", "width", "joint", "fits"),
    [
        (8, 4, 0.125, True),
        (9, 4.5, 0.1, True),
        (9, 6, 0.19, False),
        (12, 12, 0.125, False),
        (9, 4, 0.1, False),  # of its area twice as long as wide: 8.64 in, shorter than it is
        (7.5, 4, 0.1, False),  # 3.95 in wide, narrower than it is
        (7, 3.95, 0.375, False),  # 7.99 in long: joints of almost an inch across, none along
    ],
)
def test_both_ways_only_where_two_widths_make_a_length(length, width, joint, fits):
    inch = 0.0254
    found = unit_for("herringbone 90", length * inch, width * inch, joint * inch)
    assert (found is not None) == fits
    if found:
        module = (length + joint) * (width + joint) * inch**2
        assert found.cell == pytest.approx(module)


def test_a_joint_as_wide_as_it_is_asked_for_is_left_in_a_pattern_that_closes_with_any():
    """20 mm, between stones that are set far apart."""
    found = unit_for("stack bond", 0.1, 0.2, 0.02)
    assert found is not None
    sizes = found.length, found.width, found.cell_length, found.cell_width
    assert sizes == pytest.approx((0.2, 0.1, 0.22, 0.12))


@pytest.mark.parametrize(
    ("room", "joint"), [((0.203, 0.105), 3), ((0.206, 0.102), 2), ((0.2, 0.1), 1)]
)
def test_the_narrower_joint_counts_and_a_millimetre_is_the_least(room, joint):
    assert Unit(0.2, 0.1, *room).joint * 1000 == pytest.approx(joint)


def test_pavers_run_along_the_longest_edge():
    assert direction(shapely.Polygon(ODD)) == pytest.approx(
        math.degrees(math.atan2(0.4, 5.3)), abs=1e-6
    )
    assert direction(shapely.Point(0, 0).buffer(2)) == 0


outlines = st.lists(st.floats(0.6, 3.0), min_size=3, max_size=9).map(
    lambda radii: tuple(
        (r * math.cos(2 * math.pi * i / len(radii)), r * math.sin(2 * math.pi * i / len(radii)))
        for i, r in enumerate(radii)
    )
)


@settings(max_examples=40, deadline=None)
@given(ring=outlines, pattern=st.sampled_from(PATTERNS))
def test_never_fewer_pavers_than_the_faces_need(ring, pattern):
    """Every piece comes out of a paver: their faces are at least as large as what is laid."""
    one = unit(pattern)
    for laying in lay_out((ring,), pattern, one, SLIVER).layings:
        left_to_joints = one.joint * shapely.Polygon(ring).exterior.length
        assert laying.units * one.face >= laying.laid - left_to_joints
        assert laying.whole + laying.cut >= laying.units >= laying.whole + laying.cut / 2


@settings(max_examples=25, deadline=None)
@given(
    ring=outlines,
    pattern=st.sampled_from(PATTERNS),
    x=st.integers(-50, 50),
    y=st.integers(-50, 50),
    scale=st.sampled_from([0.5, 2.0, 4.0]),
)
def test_place_and_scale_do_not_change_the_count(ring, pattern, x, y, scale):
    """Scaled with its paver, and moved, an outline takes the same pavers (but for rounding)."""
    one = unit(pattern)
    larger = Unit(*(scale * n for n in (one.length, one.width, one.cell_length, one.cell_width)))
    moved = tuple((px * scale + x, py * scale + y) for px, py in ring)
    first = lay_out((ring,), pattern, one, SLIVER)
    second = lay_out((moved,), pattern, larger, SLIVER * scale)
    pairs = zip(first.layings, second.layings, strict=True)
    for before, after in pairs:
        assert abs(before.units - after.units) <= 2
        assert after.laid == pytest.approx(before.laid * scale**2, rel=1e-6)


@settings(max_examples=60, deadline=None)
@given(
    sides=st.tuples(st.floats(0.25, 2.5), st.floats(0.25, 2.5)),
    more=st.tuples(st.one_of(st.just(0.0), st.floats(0, 0.3), st.floats(0, 1)), st.floats(0, 0.3)),
    pattern=st.sampled_from(PATTERNS),
)
def test_a_larger_rectangle_never_takes_fewer_pavers(sides, more, pattern):
    """What paves the larger one, cut down, paves the smaller one; so from every start."""
    one = unit(pattern)
    small = lay_out(rectangle(*sides), pattern, one, SLIVER).layings
    larger = sides[0] + more[0], sides[1] + more[1]
    large = lay_out(rectangle(*larger), pattern, one, SLIVER).layings
    touched = [[lay.whole + lay.cut for lay in layings] for layings in (small, large)]
    assert max(touched[0]) <= max(touched[1])
    assert max(lay.units for lay in small) <= max(lay.units for lay in large)


@pytest.mark.parametrize("pattern", PATTERNS)
def test_a_shape_far_out_takes_the_same_pavers_and_is_laid_out_once(pattern):
    """Sliding a shape over the plan slides its pavers, to the tenth of a millimetre drawn."""
    away = (18288.0, -731.52)  # 60,000 ft east, 2,400 ft south
    here = lay_out((ODD, HOLE), pattern, unit(pattern), SLIVER)
    moved = tuple(tuple((x + away[0], y + away[1]) for x, y in ring) for ring in (ODD, HOLE))
    there = lay_out(moved, pattern, unit(pattern), SLIVER)
    assert there.layings is here.layings
    for before, after in zip(here.drawn.cut, there.drawn.cut, strict=True):
        slid = [(x + away[0], y + away[1]) for x, y in before]
        for one, other in zip(after, slid, strict=True):
            assert math.dist(one, other) < 1.5e-4
