"""Offsets, grids of levels and end areas against published examples.

Each case carries its source in its id; tolerances admit the rounding of the printed answer.
"""

import math

import pytest

from budget.figures import constant
from budget.quantities.formulas import earthwork, levels, shapes, surveyed
from budget.quantities.formulas.levels import Plane
from budget.quantities.formulas.surveyed import Offsets
from budget.reference import coefficient
from budget.units import AREA, FOOT, INCH, LENGTH, RATIO, YARD


def evenly(spacing, away):
    return Offsets(tuple(spacing * i for i in range(len(away))), tuple(away))


def by_trapezoids(offsets):
    """Straight lines from offset to offset: the shape as it is measured from its corners."""
    return shapes.polygon(surveyed.straight_outline(offsets), "Outline!A2").area.value


ODD = evenly(30, [0, 2.65, 3.80, 3.75, 4.65, 3.60, 5.00, 5.80])
KERB = evenly(15, [3.9, 4.5, 5.1, 6.5, 6.3, 5.1, 4.1])
NINE = evenly(50, [0, 5.2, 8.7, 9.2, 4.9, 10.4, 5.2, 12.2, 2.8])
OFFSETS = [
    pytest.param(by_trapezoids, NINE, 2_860, 1e-6, id="surveying slides: trapezoids 2,860"),
    pytest.param(
        by_trapezoids, ODD, 790.5, 1e-6, id="surveying question, all trapezoids: 790.5"
    ),
    pytest.param(
        surveyed.simpson, ODD, 781, 0.5,
        id="surveying question, six intervals by Simpson and one trapezoid: 781",
    ),
    pytest.param(
        by_trapezoids, evenly(25, [19.4, 39.6]), 737.5, 1e-6, id="one trapezoid: 737.5"
    ),
    pytest.param(
        by_trapezoids, KERB, 472.5, 0.05,
        id="kerb offsets at 15 m: trapezoids 472.5 (inputs published, worked by hand)",
    ),
    pytest.param(
        surveyed.simpson, KERB, 476.0, 0.05,
        id="kerb offsets at 15 m: Simpson 476.0 (inputs published, worked by hand)",
    ),
]  # fmt: skip


@pytest.mark.parametrize(("rule", "offsets", "area", "tolerance"), OFFSETS)
def test_offset_areas(rule, offsets, area, tolerance):
    assert rule(offsets) == pytest.approx(area, abs=tolerance)


@pytest.mark.parametrize("offsets", [ODD, KERB, NINE])
def test_drawn_curve_encloses_what_the_rule_says(offsets):
    """The parabolas of Simpson's rule, drawn as chords, against shapely's area."""
    from shapely import Polygon

    drawn = Polygon(surveyed.curved_outline(offsets))
    assert drawn.area == pytest.approx(surveyed.simpson(offsets), rel=3e-3)


@pytest.mark.parametrize(
    ("first", "second", "feet", "yards"),
    [
        pytest.param(10, 14, 50, 24 * 1.85 * 0.5, id="Navy operator text: 24 x 1.85 x 0.5 = 22.2"),
        pytest.param(0, 20, 100, 20 * 1.85, id="same rule, running out to nothing"),
    ],
)
def test_average_end_areas(first, second, feet, yards):
    ends = [constant(n * FOOT**2, AREA, "end") for n in (first, second)]
    found = earthwork.end_areas(*ends, constant(feet * FOOT, LENGTH, "apart"))
    assert found.value / YARD**3 == pytest.approx(yards, rel=0.0015)  # 1.85 is 100/54 rounded


def grid(heights, step=50.0):
    return [
        (step * column, step * row, height)
        for row, line in enumerate(heights)
        for column, height in enumerate(line)
    ]


def test_one_grid_cell_of_a_published_exam_question():
    """Corners 87.6, 87.6, 87.6 and 88.6 ft, wanted 90 ft, 50 x 50 ft: fill of 199 cu yd."""
    from shapely import box

    net = levels.surface(grid([[87.6, 87.6], [87.6, 88.6]]))
    found = levels.means(box(0, 0, 50, 50), net, Plane(90.0), Plane(0.0), 0.0)
    assert found.fill * 50 * 50 / 27 == pytest.approx(199, abs=0.5)
    assert found.above == pytest.approx(-2.15)


def test_grid_of_cells_weighs_corners_by_the_published_rule():
    """Volume = cell area x (A + 2B + 3C + 4D) / 4, heights at 1, 2, 3 or 4 cells' corners."""
    from shapely import box

    cuts = [[1.0, 2.0, 1.5, 0.5], [2.5, 3.0, 2.0, 1.0], [1.2, 2.2, 1.8, 0.7]]
    ones = cuts[0][0] + cuts[0][3] + cuts[2][0] + cuts[2][3]
    twos = sum(cuts[0][1:3]) + sum(cuts[2][1:3]) + cuts[1][0] + cuts[1][3]
    fours = sum(cuts[1][1:3])
    volume = 50 * 50 * (ones + 2 * twos + 4 * fours) / 4
    net = levels.surface(grid(cuts))
    found = levels.means(box(0, 0, 150, 100), net, Plane(0.0), Plane(0.0), 0.0)
    assert found.above * 150 * 100 == pytest.approx(volume)
    assert found.fill == 0


def test_cut_and_fill_of_a_wedge_stand_apart():
    """A wedge from 3 ft of cut to 1 ft of fill over 40 ft: 30 x 3 / 2 and 10 x 1 / 2 a foot."""
    from shapely import box

    net = levels.surface([(0, 0, 3.0), (40, 0, -1.0), (40, 10, -1.0), (0, 10, 3.0)])
    found = levels.means(box(0, 0, 40, 10), net, Plane(0.0), Plane(0.0), 0.0)
    assert found.fill * 400 == pytest.approx(50)
    assert (found.above + found.fill) * 400 == pytest.approx(450)


def test_published_fall():
    """2 % on 10 ft is 2.4 in; a quarter inch a foot is 2.5 in (guide and technical note)."""
    fall = coefficient("fall").figure()
    assert fall.kind is RATIO
    plane = levels.falling(0, 0, 1.0, 0, fall.value)
    drop = 1.0 - plane.height(10 * FOOT, 0)
    assert drop / INCH == pytest.approx(2.4)
    assert math.isclose(drop / INCH, 2.5, rel_tol=0.05)
