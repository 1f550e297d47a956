"""Areas and edges against published surveys, training manuals and worked examples.

Each case carries its source in its id; tolerances admit the rounding of the printed answer.
"""

import math

import pytest

from budget.figures import constant
from budget.quantities.formulas import shapes
from budget.units import FOOT, LENGTH


def ft(number):
    return constant(number * FOOT, LENGTH, "length")


def sq_ft(figure):
    return figure.value / FOOT**2


def offsets(spacing, heights):
    """A strip along a base line, as a polygon through the ends of its offsets."""
    tops = [(i * spacing, height) for i, height in enumerate(heights) if height]
    return [(0.0, 0.0), ((len(heights) - 1) * spacing, 0.0), *tops[::-1]]


POLYGONS = [
    pytest.param(
        [(2000, 500), (1561.426, 323.614), (1488.321, 526.996), (1686.956, 719.336)],
        102_935.72,
        0.05,
        id="open surveying notes G-3, four-point traverse: half of the printed cross products",
    ),
    pytest.param(
        [
            (1259.97, 406.31),
            (1489.47, 235.12),
            (1126.40, 65.81),
            (942.04, 317.89),
            (1282.54, 675.32),
        ],
        140_494,
        1.5,
        id="open surveying notes COGO H, five-point traverse: half of the printed sums",
    ),
    pytest.param([(30, 28), (30, 33), (50, 30)], 50.0, 1e-9, id="triangle by corners: 50.00"),
    pytest.param(
        [(0, 0), (0, 300), (200, 300), (200, 0)], 60_000, 1e-6, id="rectangular parcel: 60,000"
    ),
    pytest.param(
        offsets(50, [0, 5.2, 8.7, 9.2, 4.9, 10.4, 5.2, 12.2, 2.8]),
        2_860,
        1e-6,
        id="construction surveying slides, equal offsets by trapezoids: 2,860 sq ft",
    ),
    pytest.param(
        offsets(30, [0, 2.65, 3.80, 3.75, 4.65, 3.60, 5.00, 5.80]),
        790.5,
        1e-6,
        id="surveying question, odd number of intervals by trapezoids: 790.5",
    ),
    pytest.param([(0, 0), (25, 0), (25, 39.6), (0, 19.4)], 737.5, 1e-6, id="one trapezoid: 737.5"),
]


@pytest.mark.parametrize(("corners", "area", "tolerance"), POLYGONS)
def test_polygon_areas(corners, area, tolerance):
    found = shapes.polygon(corners, "Outline!A2")
    assert found.area.value == pytest.approx(area, abs=tolerance)
    backwards = shapes.polygon(corners[::-1], "Outline!A2")
    assert backwards.area.value == pytest.approx(area, abs=tolerance)


CIRCLES = [
    pytest.param(12, 113.10, 0.01, id="how-to page: round patio 12 ft across, exact 113.10 sq ft"),
    pytest.param(24, 452, 0.5, id="mulch page: circle of 24 ft, 452 sq ft"),
    pytest.param(24, 452.39, 0.01, id="gravel page: 24 x 24 x 0.7854 = 452.39 sq ft"),
]


@pytest.mark.parametrize(("across", "area", "tolerance"), CIRCLES)
def test_circle_areas(across, area, tolerance):
    assert sq_ft(shapes.circle(ft(across)).area) == pytest.approx(area, abs=tolerance)


def test_circumference_of_a_16_ft_pool():
    """A gravel page prints 50.26 ft; exact 50.27."""
    assert shapes.circle(ft(16)).curved.value / FOOT == pytest.approx(50.265, abs=0.01)


def test_annulus():
    """US Navy training manual 14119 p. 445: D 10, d 3 -> .7854 (D² - d²) = 71.4714."""
    found = shapes.ring(constant(10, LENGTH, "D"), constant(3, LENGTH, "d"))
    assert found.area.value == pytest.approx(71.4714, abs=0.0003)


def test_ring_of_stone_around_a_pool():
    """A yard prints 125.65 sq ft (inner edge x width); the true annulus is 145.30 sq ft."""
    found = sq_ft(shapes.ring(ft(16 + 2 * 2.5), ft(16)).area)
    assert found == pytest.approx(145.30, abs=0.01)
    assert found > 125.65 * 1.1


def test_corner_outside_a_quarter_circle():
    """US Navy training manual 14119: radius 3 -> .2146 R² = 1.9314."""
    quarter = shapes.quarter_circle(constant(6, LENGTH, "diameter")).area.value
    assert 3 * 3 - quarter == pytest.approx(1.9314, abs=0.0004)


def test_two_beds():
    """A mulch page: 9 x 22 + 6 x 30 = 198 + 180 = 378 sq ft."""
    beds = [shapes.rectangle(ft(9), ft(22)), shapes.rectangle(ft(6), ft(30))]
    assert [round(sq_ft(bed.area), 6) for bed in beds] == [198, 180]


def test_ellipse_of_semi_axes_6_and_4():
    """pi x a x b = 75.3982; the circumference against numerical integration of the arc."""
    from scipy.integrate import quad

    found = shapes.ellipse(constant(12, LENGTH, "l"), constant(8, LENGTH, "w"))
    assert found.area.value == pytest.approx(75.3982, abs=5e-5)
    around, _ = quad(lambda t: math.hypot(6 * math.sin(t), 4 * math.cos(t)), 0, 2 * math.pi)
    assert found.curved.value == pytest.approx(around, rel=1e-6)
