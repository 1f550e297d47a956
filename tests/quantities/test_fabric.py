"""Geotextile in strips: counted by hand, and against the formula for rectangles."""

import math

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from budget.figures import constant
from budget.quantities import take_off
from budget.quantities.formulas.geotextile import better, strip_area
from budget.quantities.laid.fabric_layout import strips_on
from budget.quantities.laid.fabric_rolls import Strip, unroll
from budget.units import FOOT, LENGTH


def laid_strips(outline, roll, lap):
    return tuple(strip.length for strip in strips_on(outline, roll, lap))


def fabric(found, part="Terrace"):
    return next(n for n in found.needs if n.item == "Geotextile" and n.part == part)


@pytest.fixture
def covered(make):
    """The takeoff of some shapes on geotextile from a 6 ft roll, the base 6 in past the edge."""

    def run(*areas, **layer):
        roll = make.product("Geotextile", "geotextile", roll_width=6)
        build_up = make.build_up(geotextile=True, overrun=6, **layer)
        return take_off(make.job(*areas, build_ups=(build_up,), products=(roll,)))

    return run


def test_a_circle_by_hand(make, covered):
    """9 ft and 6 in all round is 10 ft: two strips of 6 ft with 1 ft between, 10 ft each."""
    need = fabric(covered(make.area(shape="circle", diameter=9)))
    assert need.order.value / FOOT**2 == pytest.approx(2 * 10 * 6, rel=2e-3)
    assert need.net.value / FOOT**2 == pytest.approx(math.pi * 25, rel=2e-3)
    assert "2 strips" in need.why


def test_a_slanted_rectangle_is_laid_along_its_sides():
    square = shapely.affinity.rotate(shapely.box(0, 0, 21, 11), 33)
    assert laid_strips(square, 6, 1) == pytest.approx((21, 21))


def test_strips_start_from_the_side_that_needs_least():
    """An L, 17 x 12 over 9 x 10: from the top 17, 17, 17 and 9 twice, from the foot 9 and 17s.

    Strips of 6 with 1 of lap, a strip every 5. From the top of 22: 22..16, 17..11 and 12..6 reach
    into the arm of 17 (down to 10), 7..1 and 2..-4 do not. From the foot only 0..6 does not:
    5..11, 10..16, 15..21 and 20..26 do. Across, two strips of 22 and two of 12.
    """
    shape = shapely.union_all([shapely.box(0, 10, 17, 22), shapely.box(0, 0, 9, 10)])
    assert sum(laid_strips(shape, 6, 1)) == pytest.approx(
        min(3 * 17 + 2 * 9, 4 * 17 + 9, 2 * 22 + 2 * 12)
    )


def test_a_narrow_way_takes_one_strip_along_it():
    """6.8 x 1.5 m, roll 2 m, lap 0.3: four strips across take 6 m, one along it 6.8 (13 % more)."""
    assert laid_strips(shapely.box(0, 0, 6.8, 1.5), 2, 0.3) == pytest.approx((6.8,))
    # 8.6 x 1.4 m: (8.6 - 0.3) / 1.7 is 4.9, five across take 7 m, one along it 8.6 (23 % more)
    assert laid_strips(shapely.box(0, 0, 8.6, 1.4), 2, 0.3) == pytest.approx((1.4,) * 5)


def test_ways_that_differ_by_rounding_are_alike():
    """By less than a thousandth of a millimetre the first is kept, by more the shorter."""
    assert better([(2, 10.0000004), (2, 10.0)]) == 0
    assert better([(2, 10.000002), (2, 10.0)]) == 1
    # common practice: fewer strips may take up to 15 % more
    assert better([(4, 10.0), (2, 11.5)]) == 1
    assert better([(4, 10.0), (2, 11.51)]) == 0


def test_two_arms_apart_are_covered_each_by_itself():
    """A U of 10 x 10 with a gap of 4 x 8: a strip of 10 along each arm, 3.5 wide with its lap.

    Between them 4 x 2 are left, one strip of 2.
    """
    shape = shapely.box(0, 0, 10, 10).difference(shapely.box(3, 2, 7, 10))
    found = laid_strips(shape, 4, 0.5)
    assert found == pytest.approx((10, 10, 2))


@given(length=st.floats(1, 40), width=st.floats(1, 40), roll=st.floats(1, 5), lap=st.floats(0, 0.9))
@settings(max_examples=60, deadline=None)
def test_strips_of_a_rectangle_are_those_of_the_formula(length, width, roll, lap):
    sizes = [constant(n, LENGTH, "m") for n in (length, width, roll, lap)]
    laid = sum(laid_strips(shapely.box(0, 0, length, width), roll, lap)) * roll
    assert laid == pytest.approx(strip_area(*sizes).value, rel=1e-5)


@given(
    points=st.lists(
        st.tuples(st.integers(0, 60), st.integers(0, 60)), min_size=3, max_size=9, unique=True
    )
)
@settings(max_examples=60, deadline=None)
def test_strips_never_cover_less_than_the_outline(points):
    outline = shapely.MultiPoint(points).convex_hull.buffer(0.5)
    assert sum(laid_strips(outline, 3, 0.5)) * 3 >= outline.area - 1e-6


def covering(strips):
    return shapely.union_all([shapely.Polygon(strip.corners) for strip in strips])


LONG_WAY = shapely.Polygon([(0, 0), (8, 0), (17, 5), (17, 8.5), (7, 3.5), (0, 3.5)])


def test_a_bent_way_takes_a_strip_along_each_arm():
    """Arms of 7 to 8 and of 10.3 to 11.2 ft, 3.5 ft and less wide; a roll of 4 ft: two strips.

    Together no shorter than the middle line (7.5 + 10.7) and a lap, no longer than both outer
    sides with two laps; a 6 ft roll covers the whole bend with one strip of 18.7 ft.
    """
    strips = strips_on(LONG_WAY, 4, 1)
    assert len(strips) == 2
    assert 7.5 + 10.7 + 1 < sum(s.length for s in strips) < 8 + 11.2 + 3
    assert len(strips_on(LONG_WAY, 6, 1)) == 1
    assert covering(strips).buffer(1.1e-3).covers(LONG_WAY)
    first, second = (shapely.Polygon(s.corners) for s in strips)
    assert first.intersection(second).intersection(LONG_WAY).area >= 3.5 * 1 * 0.99


def test_an_l_takes_strips_along_each_of_its_arms():
    """Arms 5 wide, 30 and 25 long from the corner: a roll of 6 laps 1 under the second arm.

    30 and 25 - 5; a roll of 5.5 does not reach a lap of 1: 30 and 21.
    """
    shape = shapely.union_all([shapely.box(0, 0, 30, 5), shapely.box(0, 0, 5, 25)])
    assert laid_strips(shape, 6, 1) == pytest.approx((30, 20))
    assert laid_strips(shape, 5.5, 1) == pytest.approx((30, 21))


hollow_outlines = st.lists(st.floats(0.8, 9), min_size=4, max_size=9).map(
    lambda radii: shapely.Polygon(
        [
            (r * math.cos(math.tau * i / len(radii)), r * math.sin(math.tau * i / len(radii)))
            for i, r in enumerate(radii)
        ]
    )
)


@given(outline=hollow_outlines, roll=st.floats(1.2, 5), lap=st.floats(0.1, 1.0))
@settings(max_examples=25, deadline=None)
def test_strips_and_their_laps_cover_any_outline(outline, roll, lap):
    """Every spot is covered, and where a strip ends inside the outline another laps over it."""
    strips = strips_on(outline, roll, lap)
    assert covering(strips).buffer(1.1e-3).covers(outline)
    area = sum(shapely.Polygon(s.corners).intersection(outline).area for s in strips)
    assert area >= outline.area * (1 - 1e-3)  # to a millimetre
    assert sum(s.length for s in strips) * roll >= outline.area


def test_no_overrun_goes_into_the_house(make, covered):
    """20 x 10 ft against the house with a long side: 21 x 10.5 ft, strips of 6 with 1 of lap.

    Along: two strips cover 11 ft, so 2 x 21 = 42 ft; across: five of 10.5 ft.
    """
    need = fabric(covered(make.area(length=20, width=10, house_edge=20)))
    assert need.net.value / FOOT**2 == pytest.approx(21 * 10.5)
    assert need.order.value / FOOT**2 == pytest.approx(2 * 21 * 6)
    # against the house at a short side, 20.5 x 11 ft: two strips of 20.5
    need = fabric(covered(make.area(length=20, width=10, house_edge=10)))
    assert need.order.value / FOOT**2 == pytest.approx(2 * 20.5 * 6)


def test_an_l_in_a_corner_of_the_house(make, covered):
    """20 + 20 ft of wall are the pair of sides at the outer corner: there nothing runs past."""
    points = ((0, 0), (20, 0), (20, 8), (8, 8), (8, 20), (0, 20))
    sizes = {}
    for house in (0, 40):
        area = make.area(name="L", shape="polygon", house_edge=house)
        roll = make.product("Geotextile", "geotextile", roll_width=6)
        job = make.job(area, corners=make.corners("L", *points), products=(roll,),
                       build_ups=(make.build_up(geotextile=True, overrun=6),))  # fmt: skip
        sizes[house] = fabric(take_off(job)).order.value / FOOT**2 / 6
    # open all round, 21 x 21 and 9 wide: at 0 and 5 strips of 21, at 10 and 15 of 9
    assert sizes[0] == pytest.approx(2 * 21 + 2 * 9)
    assert sizes[40] == pytest.approx(2 * 20.5 + 2 * 8.5)


def test_two_parts_lap_at_their_joint(make, covered):
    """A walk of 4 x 15 ft on a terrace: 5 ft wide, 15 long, 6 in past its end and 6 under it."""
    found = covered(
        make.area("Terrace", length=20, width=10, x=0, y=0),
        make.area("Walk", length=4, width=15, x=8, y=-15),
    )
    assert fabric(found, "Walk").order.value / FOOT**2 == pytest.approx(16 * 6)


def test_turned_up_at_the_sides(make, covered):
    """With 3 in up each side 21.5 x 11.5 ft: 3 strips of 21.5 (64.5 ft), or 5 of 11.5 (57.5).

    Two laps fewer for 12 % more geotextile: the three are laid.
    """
    area = make.area(length=20, width=10)
    flat, up = fabric(covered(area)), fabric(covered(area, turned_up=3))
    assert flat.order.value / FOOT**2 == pytest.approx(2 * 21 * 6)
    assert up.order.value / FOOT**2 == pytest.approx(3 * 21.5 * 6)
    assert up.net.value / FOOT**2 == pytest.approx(231 + 60 * 3 / 12)


def test_strips_that_fit_their_rolls_are_cut_in_one_piece():
    """17, 17, 14.5, 10, 10, 9 on rolls of 50: 77.5 is two, 48.5 on one and 29 on the other."""
    strips = [Strip("Terrace", n) for n in (17, 17, 14.5, 9)] + [Strip("Fire", 10)] * 2
    found = unroll(strips, 50, 1)
    assert found.laps == 0
    assert not found.more
    assert sorted(sum(n for _, n in roll) for roll in found.rolls) == pytest.approx([29, 48.5])


def test_a_strip_longer_than_what_is_left_goes_on_from_the_next_roll():
    """Three of 20 on rolls of 30: 20 and 10 of the next; 11 with its lap and 19; 2 and the end.

    Whole, each would take a roll; 60 ft are two rolls, and the second lap makes it 62: a third.
    """
    found = unroll([Strip("Yard", 20.0)] * 3, 30, 1)
    assert [[n for _, n in roll] for roll in found.rolls] == [[20, 10], [11, 19], [2]]
    assert (found.laps, found.more) == (2, {"Yard": 2})


def test_a_strip_longer_than_a_roll_is_lapped():
    """25 on rolls of 10 with laps of 1: 10, 10 and 7; the two laps are 2 m more."""
    found = unroll([Strip("Yard", 25.0)], 10, 1)
    assert [[n for _, n in roll] for roll in found.rolls] == [[10], [10], [7]]
    assert found.more == {"Yard": 2}


def test_an_end_too_short_to_lap_is_left_over():
    found = unroll([Strip("Yard", 8.5), Strip("Yard", 8.5), Strip("Walk", 4, optional=True)], 10, 1)
    assert [[n for _, n in roll] for roll in found.rolls] == [[8.5], [8.5], [4]]
    assert found.laps == 0
    assert found.rolls[2] == (("Walk", 4),)


def test_strips_stay_whole_only_if_those_that_must_be_built_and_all_together_fit():
    """Rolls of 10 with laps of 0.5.

    Two of 5 fill a roll. Four of 7 beside them are 28 m, three rolls with their laps, and whole
    they would take four. Three of 6 are 18 m, two rolls, and whole they take three, however well
    two of 4 would fill those.
    """
    must, optional = [Strip("Yard", 5)] * 2, [Strip("Walk", 7, optional=True)] * 4
    found = unroll([*must, *optional], 10, 0.5)
    assert [[n for _, n in roll] for roll in found.rolls] == [[5, 5], [7, 3], [4.5, 5.5], [2, 7]]
    must, optional = [Strip("Yard", 6)] * 3, [Strip("Walk", 4, optional=True)] * 2
    found = unroll([*must, *optional], 10, 0.5)
    assert [[n for _, n in roll] for roll in found.rolls] == [[6, 4], [2.5, 6, 1.5], [3, 4]]


@given(
    lengths=st.lists(st.floats(0.5, 40), min_size=1, max_size=12),
    roll=st.floats(4, 40),
    lap=st.floats(0.1, 1.5),
)
@settings(max_examples=80, deadline=None)
def test_rolls_bought_by_length_are_the_rolls_cut(lengths, roll, lap):
    """Strips, laps and ends come to as many rolls as are cut, and every strip is covered."""
    found = unroll([Strip("Yard", n) for n in lengths], roll, lap)
    used = [sum(n for _, n in pieces) for pieces in found.rolls]
    assert all(n <= roll + 1e-6 for n in used)
    assert sum(used) == pytest.approx(sum(lengths) + found.laps * lap)
    ordered = sum(lengths) + found.more.get("Yard", 0.0)
    assert math.ceil(ordered / roll - 1e-6) == len(found.rolls)


def test_end_laps_are_ordered(make):
    """Two strips of 21 ft under 20 x 10 ft, rolls of 15 ft: 15; 7 and 8; 14; two laps of 1 ft."""
    roll = make.product("Geotextile", "geotextile", roll_width=6, holds=90 * FOOT)
    build_up = make.build_up(geotextile=True, overrun=6)
    job = make.job(make.area(length=20, width=10), build_ups=(build_up,), products=(roll,))
    found = take_off(job)
    assert fabric(found).order.value / FOOT**2 == pytest.approx((2 * 21 + 2) * 6)
    (plan,) = found.cutting
    assert [[round(n / FOOT, 6) for n in cut.lengths] for cut in plan.cuts] == [[15], [7, 8], [14]]
    assert "2 times, lapped by 1 ft" in plan.bound


def test_pins_by_the_length_of_the_strips(make, covered):
    """Two strips of 21 ft, a pin every 3 ft: 14."""
    found = covered(make.area(length=20, width=10))
    pins = next(figure for line, figure in found.consumables if line == "Geotextile pins")
    assert pins.value == 14


def test_shapes_whose_places_are_unknown_take_an_allowance(make, covered):
    """6 ft of roll for 5 ft of cover."""
    found = covered(make.area(length=20, width=10), make.area(length=5, width=5, name="nook"))
    need = fabric(found)
    assert need.order.value == pytest.approx(need.net.value * 6 / 5)


def test_some_shapes_without_a_place_take_an_allowance(make, covered):
    """However many of the others have one, and whatever their shapes."""
    points = (0, 0), (6, 0), (0, 6)
    plain = make.area(length=20, width=10)
    placed = make.area(name="placed", length=20, width=10, x=0, y=0)
    bare = make.area(shape="measured", area=200)
    mixes = [(placed, make.area(name="nook", length=5, width=5)), (bare,)]
    for name, where in (("here", {"x": 0, "y": 0}), ("there", {})):
        row = make.area(name=name, shape="polygon", **where)
        mixes.append((row, make.area(name="other", shape="polygon")))
        mixes.append((row, plain))
    roll = make.product("Geotextile", "geotextile", roll_width=6)
    corners = [c for n in ("here", "there", "other") for c in make.corners(n, *points)]
    for areas in mixes[:3] + mixes[5:]:
        job = make.job(*areas, build_ups=(make.build_up(geotextile=True, overrun=6),),
                       products=(roll,), corners=tuple(corners))  # fmt: skip
        need = fabric(take_off(job))
        assert need.order.value == pytest.approx(need.net.value * 6 / 5), [a.name for a in areas]


def test_an_allowance_comes_off_the_roll_as_one_length(make):
    """100 sq ft of unknown shape, its dig and its laps, on a roll of 6 by 200 ft."""
    roll = make.product("Geotextile", "geotextile", roll_width=6, holds=1200 * FOOT)
    build_up = make.build_up(geotextile=True, overrun=6)
    area = make.area(shape="measured", area=100)
    found = take_off(make.job(area, build_ups=(build_up,), products=(roll,)))
    [plan] = found.cutting
    long = sum(n for cut in plan.cuts for n in cut.lengths)
    assert long / FOOT == pytest.approx(fabric(found).net.value / FOOT**2 * 6 / 5 / 6)


@pytest.mark.parametrize(("feet", "plans"), [(2, 0), (2.5, 1)])
def test_a_roll_of_two_laps_is_none(make, feet, plans):
    roll = make.product("Geotextile", "geotextile", roll_width=6, holds=6 * feet * FOOT)
    build_up = make.build_up(geotextile=True, overrun=6)
    area = make.area(length=4, width=4)
    found = take_off(make.job(area, build_ups=(build_up,), products=(roll,)))
    assert len(found.cutting) == plans


def test_a_roll_as_wide_as_the_overlap_is_not_believed(make):
    """1 ft: the documented width counts."""
    row = make.build_up(geotextile=True, overrun=6)
    orders = [
        fabric(take_off(make.job(make.area(length=20, width=10), build_ups=(row,), products=rolls)))
        for rolls in ((), (make.product("Geotextile", "geotextile", roll_width=1),))
    ]
    assert orders[0].order.value == orders[1].order.value


@pytest.mark.parametrize(
    ("across", "words"),
    [
        (4, "One strip laid the better way, of 5 ft."),
        (
            30,
            "6 strips laid the better way, of 31 ft, 31 ft, 29.7 ft, 29.7 ft, 24.5 ft and "
            "24.5 ft; they overlap by 1 ft.",
        ),
        (35, "7 strips laid the better way, of 36 ft, 35.8 ft, 35.8 ft,"),
        (
            40,
            "8 strips laid the better way, of 41 ft, 41 ft, 40 ft, 40 ft, 36.3 ft, 36.3 ft and "
            "2 more; they overlap by 1 ft.",
        ),
    ],
)
def test_strips_are_told_by_their_lengths(make, covered, across, words):
    """A circle with 6 in more all round: of 31 and 41 ft across strips 0, 4.5 and 9.5 ft off the
    middle are as long as their chords; of more than six the first are told."""
    why = fabric(covered(make.area(shape="circle", diameter=across))).why
    assert why.startswith(words)
    assert ("and 1 more; they overlap" in why) is (across == 35)


@pytest.mark.parametrize(
    ("sizes", "house", "feet"),
    [
        # one of each side: 20.5 x 11.5, four of 11.5 across (46) against three of 20.5 (61.5)
        ((20, 11), 31, 4 * 11.5),
        # both sides of 20, rather than one of them and two of 10: 10 x 21, two of 21 along
        ((10, 20), 40, 2 * 21),
        # 7 ft are no whole side: which is against the house is not known, so 21 x 11 are covered
        ((20, 10), 7, 2 * 21),
        # nor are 30 ft of 10 and 8: 11 x 9, two of 9 across
        ((10, 8), 30, 2 * 9),
    ],
)
def test_sides_of_a_rectangle_against_the_house(make, covered, sizes, house, feet):
    area = make.area(length=sizes[0], width=sizes[1], house_edge=house)
    assert fabric(covered(area)).order.value / FOOT**2 == pytest.approx(feet * 6)


def test_strips_lie_where_their_outline_does():
    """A triangle of 3, 4 and 5 m turned onto its long side, here and far out: the strips cover
    it, and their corners are as far apart as the outlines."""
    shape = shapely.Polygon([(0, 0), (5, 0), (3.2, 2.4)])
    away = shapely.affinity.translate(shapely.affinity.rotate(shape, 30, (0, 0)), 900, -400)
    for outline in (shape, away):
        strips = strips_on(outline, 1.0, 0.2)
        laid = shapely.union_all([shapely.Polygon(strip.corners) for strip in strips])
        assert outline.difference(laid.buffer(0.02)).area == pytest.approx(0, abs=1e-3)
