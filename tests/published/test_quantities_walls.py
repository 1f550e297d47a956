"""Walls, rings, adhesive, timber and beams against published tables and worked examples."""

import itertools
import math

import pytest

from budget.figures import constant
from budget.job import Area, Job, Place, Product, Settings, Wall
from budget.quantities import take_off
from budget.quantities.formulas import adhesive, lumber, rings, span, walls
from budget.reference import coefficient
from budget.units import (
    COUNT,
    DEPTH,
    FOOT,
    INCH,
    INERTIA,
    LENGTH,
    MASS,
    NUMBER,
    POUND,
    STIFFNESS,
    TUBE_VOLUME,
)


def inches(number):
    return constant(number * INCH, DEPTH, "size")


def feet(number):
    return constant(number * FOOT, LENGTH, "length")


def number(n):
    return constant(n, NUMBER, "number")


BLOCKS = [
    pytest.param(20, 8, 8, 42, 12, 504, id="Navy 14045 ch. 4: 20 x 8 ft building, 504 block"),
    pytest.param(28, 48, 8, 114, 12, 1368, id="how-to page: 28 x 48 ft foundation, 1,368 block"),
]


@pytest.mark.parametrize(("long", "wide", "high", "course", "courses", "block"), BLOCKS)
def test_blocks_of_a_building(long, wide, high, course, courses, block):
    """The published rule counts the whole outside, corners not taken off."""
    each = walls.in_a_course(feet(2 * (long + wide)), inches(16))
    high_in_courses = walls.courses(feet(high), inches(8))
    assert (each.value, high_in_courses.value) == (course, courses)
    assert each.value * high_in_courses.value == block


COURSES = [
    pytest.param(3.3 * 12, 0.67 * 12, 5, id="how-to page: 3.3 ft of 0.67 ft, rounded up: 5"),
    pytest.param(28, 4, 7, id="NCMA booklet: height from the lowest row, 28 in of 4 in: 7"),
]


@pytest.mark.parametrize(("height", "unit", "count"), COURSES)
def test_courses(height, unit, count):
    assert walls.courses(inches(height), inches(unit)).value == count


def test_wall_height_without_an_engineer():
    """NCMA SRW Residential Applications booklet, Table 1: up to 4 ft (1,219 mm)."""
    assert coefficient("wall height limit").likely == pytest.approx(1.219, abs=0.001)


def test_levelling_pad():
    """A maker's steps: trench 16 in wide, 4 in of stone; 20 ft: 8.9 cu ft, 0.33 cu yd.

    A block 8 in deep on a pad that reaches 4 in past both faces, as long as the wall.
    """
    block = Product(place=Place("Products", 2), item="Block", kind="wall unit", length=12 * INCH,
                    width=8 * INCH, height=4 * INCH)  # fmt: skip
    reach = coefficient("pad past the wall").likely
    wall = Wall(place=Place("Walls", 2), part="Terrace", name="Wall", unit="Block", pad=4 * INCH,
                length=20 * FOOT - 2 * reach, height=12 * INCH)  # fmt: skip
    area = Area(place=Place("Areas", 2), part="Terrace", length=10 * FOOT, width=10 * FOOT)
    job = Job(settings=Settings(place=Place("Job", 1)), areas=(area,), walls=(wall,),
              products=(block,))  # fmt: skip
    found = take_off(job)
    figures = [figure for need in found.needs for figure in (need.net, need.order)]
    pads = [pad for figure in figures for pad in found_in(figure, "stone below Wall")]
    assert 8 * INCH + 2 * reach == pytest.approx(16 * INCH, rel=0.02)
    assert pads[0].value / FOOT**3 == pytest.approx(8.9, rel=0.02)
    assert pads[0].value / (3 * FOOT) ** 3 == pytest.approx(0.33, abs=0.01)


def found_in(figure, name):
    """Figures of one name that a figure was made from."""
    own = [figure] if figure.name == name else []
    return own + [found for arg in figure.args for found in found_in(arg, name)]


def test_units_of_a_ring():
    """A question with its numbers: 12 in face, 9 in back, 8 in deep, 10 ft 3 in: 32.2, so 33."""
    assert math.pi * 123 / 12 == pytest.approx(32.2, abs=0.01)
    assert rings.units(inches(123), inches(8), inches(12), inches(9)).value == 33


def test_the_smallest_ring_that_a_taper_closes():
    """Plane geometry of a closed polygon: 12 x 8 / 3 = 32 in; 16.95 units of 12 in, so 17."""
    units = [inches(n) for n in (8, 12, 9)]
    assert rings.smallest_radius(*units) / INCH == pytest.approx(32)
    polygon = 2 * math.pi / (2 * math.atan((12 - 9) / 2 / 8))
    assert polygon == pytest.approx(16.95, abs=0.01)
    found = rings.units(inches(64), inches(8), inches(12), inches(9)).value
    assert found == math.ceil(polygon) == 17


WHICH = [
    pytest.param("inner", 19, id="48 in inside: 48 pi / 8 = 18.85, so 19"),
    pytest.param("middle", 16, id="48 in in the middle: 40 pi / 8 = 15.71, so 16"),
    pytest.param("outer", 13, id="48 in outside: 32 pi / 8 = 12.57, so 13"),
]


@pytest.mark.parametrize(("circle", "count"), WHICH)
def test_which_diameter_decides(circle, count):
    """Square blocks touch at their backs: the inner circle decides (plane geometry)."""
    outer = rings.outer_diameter(inches(48), circle, inches(8))
    assert rings.units(outer, inches(8), inches(8)).value == count


BEADS = [
    pytest.param(18.3, 0.25, 24.4, id="a maker's yield table: 10.1 oz, 1/4 in: 24.4 ft"),
    pytest.param(18.3, 0.375, 10.8, id="a maker's yield table: 10.1 oz, 3/8 in: 10.8 ft"),
    pytest.param(36.6, 0.25, 48.8, id="a maker's yield table: 20 oz, 1/4 in: 48.8 ft"),
]


@pytest.mark.parametrize(("tube", "side", "length"), BEADS)
def test_bead_of_one_tube(tube, side, length):
    volume = adhesive.bead_volume(feet(length), inches(side))
    one = constant(tube * INCH**3, TUBE_VOLUME, "tube")
    assert adhesive.tubes(volume, one).value == pytest.approx(1, abs=0.005)


def test_a_tube_in_fluid_ounces():
    """NIST SP 811: a gallon is 231 cu in, of 128 fl oz: 27 fl oz are 48.7 cu in."""
    assert coefficient("tube").likely / INCH**3 == pytest.approx(27 * 231 / 128, abs=0.05)


def test_adhesive_for_caps():
    """On the same table: 20 ft wall, two 3/8 in beads, 27 oz: 40 / 28.9 = 1.39, so 2 tubes."""
    bead = adhesive.bead_length(feet(20), number(2), number(1))
    tube = constant(48.7 * INCH**3, TUBE_VOLUME, "tube")
    found = adhesive.tubes(adhesive.bead_volume(bead, inches(0.375)), tube).value
    assert found == pytest.approx(1.39, abs=0.01)


DRESSED = [
    ("1x2", 0.75, 1.5), ("1x3", 0.75, 2.5), ("1x4", 0.75, 3.5), ("1x6", 0.75, 5.5),
    ("1x8", 0.75, 7.25), ("1x10", 0.75, 9.25), ("1x12", 0.75, 11.25), ("5/4x4", 1, 3.5),
    ("5/4x6", 1, 5.5), ("2x4", 1.5, 3.5), ("2x6", 1.5, 5.5), ("2x8", 1.5, 7.25),
    ("2x10", 1.5, 9.25), ("2x12", 1.5, 11.25), ("4x4", 3.5, 3.5), ("4x6", 3.5, 5.5),
    ("6x6", 5.5, 5.5),
]  # fmt: skip


@pytest.mark.parametrize(("nominal", "thickness", "width"), DRESSED)
def test_dressed_sizes(nominal, thickness, width):
    """American Softwood Lumber Standard PS 20, dry dressed sizes, as a how-to page lists them."""
    found = lumber.dressed_sizes()[nominal]
    assert (found.thickness, found.width) == pytest.approx((thickness * INCH, width * INCH))


def test_seat_of_slats_by_their_true_width():
    """PS 20: three 1x6 (5 1/2 in) with two 1/4 in gaps are 17.0 in; by nominal 6 in, 18.5."""
    slat = lumber.dressed_sizes()["1x6"].width / INCH
    assert 3 * slat + 2 * 0.25 == pytest.approx(17.0)


SECTIONS = [
    pytest.param("2x4", True, 5.359, id="PS 20 and b h^3 / 12: 2x4 on edge 5.359 in4"),
    pytest.param("2x6", True, 20.797, id="PS 20 and b h^3 / 12: 2x6 on edge 20.797 in4"),
    pytest.param("2x6", False, 1.547, id="PS 20 and b h^3 / 12: 2x6 flat 1.547 in4"),
    pytest.param("2x10", True, 98.93, id="PS 20 and b h^3 / 12: 2x10 on edge 98.93 in4"),
]


@pytest.mark.parametrize(("nominal", "on_edge", "inertia"), SECTIONS)
def test_moment_of_inertia(nominal, on_edge, inertia):
    sides = [lumber.dressed_sizes()[nominal].figure(side) for side in ("thickness", "width")]
    base, height = sides if on_edge else reversed(sides)
    assert lumber.inertia(base, height).value / INCH**4 == pytest.approx(inertia, abs=0.005)


def test_moment_of_inertia_of_a_tube_against_shapely():
    """Second moment of a tube's ring of points, by Green's theorem on shapely's outline."""
    from shapely import box

    def moment(shape):
        xy = list(shape.exterior.coords)
        return abs(
            sum(
                (y0 * y0 + y0 * y1 + y1 * y1) * (x0 * y1 - x1 * y0) / 12
                for (x0, y0), (x1, y1) in itertools.pairwise(xy)
            )
        )

    outer, inner = box(-1, -1.5, 1, 1.5), box(-0.75, -1.25, 0.75, 1.25)
    found = lumber.tube_inertia(inches(2), inches(3), inches(0.25)).value / INCH**4
    assert found == pytest.approx(moment(outer) - moment(inner))


def beam(load):
    return (
        constant(load * POUND, MASS, "load"),
        constant(100 * INCH, LENGTH, "span"),
        constant(29e6 * POUND / INCH**2, STIFFNESS, "steel"),
        constant(285 * INCH**4, INERTIA, "W12x35"),
    )


def test_bending_under_a_spread_load():
    """Machine-shop text: W12x35, 100 in, 100 lb/in, 285 in4, 29,000,000 psi: 0.016 in."""
    assert span.deflection(*beam(100 * 100)).value / INCH == pytest.approx(0.016, abs=0.0005)


def test_stiffness_and_wall_of_steel():
    """Machine-shop text: 29,000,000 psi. AISC engineer's note: 1/4 in of A500 counts 0.2325."""
    stiff = coefficient("stiffness steel")
    assert stiff.likely / (POUND / INCH**2) == pytest.approx(29e6)
    assert coefficient("design wall").likely * 0.25 == pytest.approx(0.2325)


def test_stiffness_in_metric():
    """NIST SP 811: 1 psi is 6.894757 kPa, and a pound-force is a pound under 9.80665 m/s2."""
    one_psi = POUND / INCH**2
    assert one_psi / STIFFNESS.metric.size == pytest.approx(6.894757e-3, rel=1e-6)


def test_the_lifting_guideline():
    """NIOSH 94-110 p. 7: load constant 51 lb = 23 kg."""
    limit = coefficient("lifting guideline").likely
    assert limit / POUND == pytest.approx(51)
    assert limit == pytest.approx(23, abs=0.2)


def test_one_for_every_riser():
    """Whole risers: 21 in in risers of at most 7 3/4 in are three of 7 in."""
    found = walls.risers(inches(21), inches(7.75))
    assert (found.kind, found.value) == (COUNT, 3)
