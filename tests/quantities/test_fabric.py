"""Geotextile in strips: counted by hand, and against the formula for rectangles."""

import math

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from budget.figures import constant
from budget.quantities import take_off
from budget.quantities.geotextile import laid_strips, strip_area
from budget.units import FOOT, LENGTH


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


def test_two_arms_apart_are_covered_each_by_itself():
    """A U of 10 x 10 with a gap of 4 x 8: one strip of 10 across the foot, then 3 and 3 twice."""
    shape = shapely.box(0, 0, 10, 10).difference(shapely.box(3, 2, 7, 10))
    found = laid_strips(shape, 4, 0.5)
    assert found == pytest.approx((10, 3, 3, 3, 3))


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


def test_turned_up_at_the_sides(make, covered):
    """With 3 in up each side 21.5 x 11.5 ft: 3 strips of 21.5 (64.5 ft), or 5 of 11.5 (57.5)."""
    area = make.area(length=20, width=10)
    flat, up = fabric(covered(area)), fabric(covered(area, turned_up=3))
    assert flat.order.value / FOOT**2 == pytest.approx(2 * 21 * 6)
    assert up.order.value / FOOT**2 == pytest.approx(5 * 11.5 * 6)
    assert up.net.value / FOOT**2 == pytest.approx(231 + 60 * 3 / 12)


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
