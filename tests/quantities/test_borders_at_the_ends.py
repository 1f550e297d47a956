"""Borders at the ends of their rules: corners of every kind, joints, several outlines."""

from __future__ import annotations

import math

import pytest
from shapely import Polygon, union_all

from budget.figures import constant
from budget.quantities.laid.border_drawing import border_units
from budget.quantities.laid.borders import Border, Face, border_of, runs
from budget.quantities.plan.parts import Ring
from budget.units import RATIO


def box(x: float, y: float, wide: float, tall: float) -> Ring:
    """A rectangle from its lower left corner, against the clock."""
    return ((x, y), (x + wide, y), (x + wide, y + tall), (x, y + tall))


def soldiers(sizes: tuple[float, float, float], *outlines: tuple[Ring, ...]) -> Border:
    return border_of("Patio", "Brick", "soldier", sizes, outlines)


@pytest.mark.parametrize(("deep", "each_end"), [(0.208, 2), (0.215, 3)])
def test_a_mitre_cuts_the_units_that_it_reaches(deep: float, each_end: int) -> None:
    """Bricks 80 mm wide with joints of 20 mm along 2 m: the third begins at 210 mm.

    A mitre of a right corner reaches as far along the side as the bricks are deep: 208 mm do not
    cut the third, 215 mm do. The last but two ends at 210 mm from the other end.
    """
    border = soldiers((deep, 0.08, 0.02), (box(0, 0, 2, 2),))
    assert border.units.value == 4 * 20
    assert border.cut.value == 4 * 2 * each_end


def test_a_mitre_reaches_further_at_a_sharper_corner() -> None:
    """An equal-sided triangle of 4 m: 0.2 m times the root of three, 4.33 of 80 mm at each end.

    Its cuts are as long as twice the depth, for half of 120 degrees has a cosine of a half.
    """
    ring = ((0.0, 0.0), (4.0, 0.0), (2.0, 2 * math.sqrt(3)))
    border = soldiers((0.2, 0.08, 0.0), (ring,))
    assert (border.units.value, border.cut.value) == (3 * 50, 3 * 2 * 5)
    assert border.cut_length.value == pytest.approx(3 * 2 * 0.4)


def test_the_curve_of_half_a_disc_is_cut_at_its_ends_alone() -> None:
    """Of 3 m: 75 along the diameter and 3 pi / 0.08 = 117.8 along the curve, three at each end.

    0.2 m of mitre are two and a half units of 80 mm, or of a little less on the curve.
    """
    curve = [(3 * math.cos(math.pi * i / 96), 3 * math.sin(math.pi * i / 96)) for i in range(97)]
    border = soldiers((0.2, 0.08, 0.0), (tuple(curve),))
    assert (border.units.value, border.cut.value) == (75 + 118, 2 * 2 * 3)


def test_no_cut_is_longer_than_at_a_corner_of_30_degrees() -> None:
    """A needle of 20 degrees: 0.2 m through the cosine of 75 degrees; at its foot, of 50."""
    long = 6.0
    foot = long * math.tan(math.radians(10))
    ring = ((0.0, 0.0), (long, -foot), (long, foot))
    border = soldiers((0.2, 0.08, 0.0), (ring,))
    needle, other = (2 * 0.2 / math.cos(math.radians(half)) for half in (75, 50))
    assert border.cut_length.value == pytest.approx(needle + 2 * other)


def test_sides_between_hollow_corners_are_longer_inside_at_both_ends() -> None:
    """The foot of a bay of 2 m, 0.2 m deep: 2.4 m inside; its sides at one end each."""
    ring = ((0.0, 0.0), (6.0, 0.0), (6.0, 4.0), (4.0, 4.0), (4.0, 1.0), (2.0, 1.0), (2.0, 4.0),
            (0.0, 4.0))  # fmt: skip
    lengths = [round(run.length, 9) for run in runs(ring, 0.2)]
    assert sorted(lengths) == sorted([6, 4, 2, 3.2, 2.4, 3.2, 2, 4])


def test_a_wide_hollow_corner_lengthens_its_sides_by_less() -> None:
    """Turned inwards by 60 degrees: 0.3 m times the tangent of 30 degrees on either side.

    It lies between two sides of 5 m, of which the other ends turn outwards.
    """
    rise = 2.5
    run = 5 * math.cos(math.radians(30))
    ring = ((0.0, 0.0), (2 * run, 0.0), (2 * run, 3 + rise), (run, 3.0), (0.0, 3 + rise))
    lengths = [each.length for each in runs(ring, 0.3)]
    inside = 5 + 0.3 * math.tan(math.radians(30))
    assert lengths == pytest.approx([2 * run, 3 + rise, inside, inside, 3 + rise])


@pytest.mark.parametrize("turned", [False, True])
def test_an_outline_below_a_square_metre_is_walked_either_way_round(turned: bool) -> None:
    """0.8 by 0.6 m: 8 and 6 of 0.1 m along its sides, whichever way the corners are told."""
    ring = box(3, 2, 0.8, 0.6)
    border = soldiers((0.2, 0.1, 0.0), (ring[::-1] if turned else ring,))
    assert border.units.value == 2 * (8 + 6)


def test_a_side_shorter_than_a_unit_takes_one() -> None:
    """A corner taken off by 0.1 m beside bricks that lie along the edge, 0.2 m long."""
    ring = ((0.0, 0.0), (2.0, 0.0), (2.0, 1.9), (1.9, 2.0), (0.0, 2.0))
    border = border_of("Patio", "Brick", "sailor", (0.2, 0.1, 0.0), [(ring,)])
    assert border.units.value == 10 + 10 + 1 + 10 + 10


def test_the_only_unit_of_a_short_side_is_cut_at_a_sharp_corner() -> None:
    """0.2 m long, 40 mm deep, joints of 20 mm: the side has 0.1 m, and one blunt corner."""
    first, last = math.radians(26), math.radians(100)
    ring = ((-1.0, 0.0), (0.0, 0.0), (0.1 * math.cos(first), 0.1 * math.sin(first)),
            (0.1 * math.cos(first) + math.cos(first + last),
             0.1 * math.sin(first) + math.sin(first + last)))  # fmt: skip
    run = next(run for run in runs(ring, 0.04) if run.length == pytest.approx(0.1))
    assert [round(math.degrees(turn)) for turn in run.turns] == [26, 100]
    face = Face(deep=0.06, pitch=0.22, joint=0.02)
    assert (run.units(face), run.cut(face)) == (1, frozenset({0}))


def test_the_border_of_several_outlines_is_that_of_each() -> None:
    """5 by 4 m and 3 by 2 m, bricks 0.2 m deep: 20 less 4.6 by 3.6, and 6 less 2.6 by 1.6 m."""
    border = soldiers((0.2, 0.1, 0.0), (box(0, 0, 5, 4),), (box(9, 1, 3, 2),))
    assert border.units.value == 2 * (50 + 40) + 2 * (30 + 20)
    assert border.area.value == pytest.approx(20 - 4.6 * 3.6 + 6 - 2.6 * 1.6)


def test_units_that_are_cut_are_told_where_there_are_any() -> None:
    spares = constant(0.02, RATIO, "spares")
    circle = [(3 * math.cos(math.tau * i / 96), 3 * math.sin(math.tau * i / 96)) for i in range(96)]
    square, round_ = (
        soldiers((0.2, 0.1, 0.0), (ring,)).why(spares) for ring in (box(0, 0, 2, 2), tuple(circle))
    )
    assert "Soldier course along the edge: 80 units, 16 of them cut at mitres or bends. " in square
    assert "Soldier course along the edge: 189 units. " in round_


def drawn(border: Border) -> list[Polygon]:
    return [Polygon(ring) for rings in border_units(border) for ring in rings]


def test_the_border_of_an_island_in_a_hole_is_drawn() -> None:
    """6 by 5 m around a lawn of 4 by 3 m, in which lies a place of 1.5 by 1 m of its own."""
    frame, island = (box(0, 0, 6, 5), box(1, 1, 4, 3)), (box(2, 2, 1.5, 1),)
    border = soldiers((0.2, 0.1, 0.0), frame, island)
    units = drawn(border)
    assert len(units) == border.units.value == 2 * (60 + 50) + 2 * (15 + 10)
    assert union_all(units).area == pytest.approx(border.area.value, rel=1e-3)
    assert union_all(units).intersection(Polygon(island[0])).area == pytest.approx(
        1.5 - 1.1 * 0.6, rel=1e-3
    )


def test_no_unit_is_drawn_over_a_hole_in_the_border() -> None:
    """A tree pit 0.1 m from the edge of 4 by 3 m, where bricks are 0.2 m deep."""
    pit = box(1, 0.1, 0.5, 0.6)
    border = soldiers((0.2, 0.1, 0.0), (box(0, 0, 4, 3), pit))
    together = union_all(drawn(border))
    assert border.area.value == pytest.approx(12 - 3.6 * 2.6 - 0.5 * 0.1)
    assert together.area == pytest.approx(border.area.value, rel=1e-3)
    assert together.intersection(Polygon(pit)).area == pytest.approx(0, abs=1e-6)


@pytest.mark.parametrize("radius", [0.08, 0.12, 0.15, 0.19])
def test_around_a_bend_tighter_than_they_are_deep_units_end_in_a_point(radius: float) -> None:
    """A disc smaller than the bricks are long: wedges from its edge to its middle fill it."""
    turn = math.tau / 96
    ring = tuple((3 + radius * math.cos(turn * i), radius * math.sin(turn * i)) for i in range(96))
    border = soldiers((0.2, 0.1, 0.0), (ring,))
    whole, cut = border_units(border)
    assert (len(whole), len(cut)) == (0, border.units.value)
    wedges = [Polygon(each) for each in cut]
    disc = Polygon(ring).area
    # the chord of a wedge leaves more of the disc the fewer wedges there are
    left = 1 - math.sin(math.tau / len(cut)) / (math.tau / len(cut))
    assert sum(wedge.area for wedge in wedges) == pytest.approx(disc * (1 - left), rel=0.03)
    assert union_all(wedges).area == pytest.approx(sum(w.area for w in wedges), rel=0.01)


def test_a_notch_as_thin_as_a_hair_takes_no_more_units_than_its_sides() -> None:
    """2 by 1 m with a slit of 0.1 mm, half a metre deep: its bottom is as a corner of 150 degrees.

    Where it was taken at its word, the units past the bottom would run on for kilometres.
    """
    slit = (1.00005, 1.0), (1.0, 0.5), (0.99995, 1.0)
    ring = ((0.0, 0.0), (2.0, 0.0), (2.0, 1.0), *slit, (0.0, 1.0))
    along = [run.length for run in runs(ring, 0.2)]
    past = 0.2 * math.tan(math.radians(150 / 2))
    expected = [2, 1, 0.99995, 0.5 + past, 0.5 + past, 0.99995, 1]
    assert along == pytest.approx(expected, abs=1e-6)
