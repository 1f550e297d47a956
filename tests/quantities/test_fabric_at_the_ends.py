"""Geotextile at the ends of its rules: as wide as a lap, as long as a roll, arms of every kind."""

from __future__ import annotations

import math
from types import SimpleNamespace
from typing import Any

import pytest
from shapely import Point, Polygon, box, union_all
from shapely.affinity import scale

from budget.quantities.laid.fabric_layout import LaidStrip, strips_on
from budget.quantities.laid.fabric_rolls import Strip, plan_of, unroll
from budget.quantities.materials import Materials
from budget.quantities.needs.fabric_outline import beside, covered_outline
from budget.quantities.plan.parts import parts_of
from budget.quantities.plan.placing import place
from budget.units import FOOT


def lengths(outline: Any, roll: float, lap: float) -> list[float]:
    return [strip.length for strip in strips_on(outline, roll, lap)]


def laid(strips: tuple[LaidStrip, ...]) -> Any:
    return union_all([Polygon(strip.corners) for strip in strips])


def pieces(strips: list[Strip], roll: float, lap: float) -> list[list[float]]:
    return [[length for _, length in each] for each in unroll(strips, roll, lap).rolls]


def test_a_roll_no_wider_than_the_overlap_is_refused() -> None:
    with pytest.raises(ValueError, match=r"a roll 0\.5 m wide cannot overlap by 0\.5 m"):
        strips_on(box(0, 0, 3, 2), 0.5, 0.5)


def test_a_roll_no_longer_than_two_laps_is_refused() -> None:
    with pytest.raises(ValueError, match="a roll 2 m long cannot lap by 1 m"):
        unroll([Strip("Yard", 1.5)], 2.0, 1.0)


def test_strips_that_fill_their_rolls_to_the_end_are_whole() -> None:
    """10, 6 and 4, and two of 5, on three rolls of 10; a tenth and two do fill three tenths."""
    yard = [Strip("Yard", length) for length in (10.0, 6.0, 5.0, 4.0, 5.0)]
    assert pieces(yard, 10, 0.5) == [[10], [6, 4], [5, 5]]
    assert unroll(yard, 10, 0.5).laps == 0
    assert pieces([Strip("Yard", 0.2), Strip("Yard", 0.1)], 0.3, 0.01) == [[0.2, 0.1]]
    assert pieces([Strip("Yard", 0.1)] * 3, 0.3, 0.01) == [[0.1, 0.1, 0.1]]


def test_an_end_of_two_laps_begins_the_next_strip() -> None:
    """Of 10 after 8: two are just two laps; then 8 less 2 and a lap, and 3; 4 less 3 and a lap."""
    yard = [Strip("Yard", length) for length in (8.0, 8.0, 4.0)]
    assert pieces(yard, 10, 1) == [[8, 2], [7, 3], [2]]


def test_a_plan_of_rolls_needs_no_saw_and_is_as_it_is_cut() -> None:
    strips = [Strip("Yard", length) for length in (8.0, 8.0, 4.0)]
    plan = plan_of("Geotextile", unroll(strips, 10, 1), 10, 1, "metric")
    assert (plan.kerf, plan.proved, plan.count, plan.unit) == (0.0, True, 3, "roll")
    assert [cut.left for cut in plan.cuts] == [0, 0, 8]


def test_arms_that_one_strip_would_cover_with_much_waste_take_a_short_one_each() -> None:
    """An L of 3 by 3.5 m, its arms 0.5 m wide, a roll of 4 m: 3 m of it, or twice 0.5 m across."""
    shape = union_all([box(0, 0, 3, 0.5), box(2.5, 0, 3, 3.5)])
    assert lengths(shape, 4, 0.3) == pytest.approx([0.5, 0.5])


def test_strips_run_along_either_of_two_sides_that_are_almost_square() -> None:
    """5.9 m wide, the long sides of 20 m leaning by half a degree, the foot by as much again.

    Two strips of 3.2 m with a lap of 0.5 m cover them along the long sides alone.
    """
    lean, foot = math.radians(89.5), math.radians(0.9)
    up = 20 * math.cos(lean), 20 * math.sin(lean)
    right = 5.9 * math.cos(foot), 5.9 * math.sin(foot)
    shape = Polygon([(0, 0), right, (right[0] + up[0], right[1] + up[1]), up])
    assert len(lengths(shape, 3.2, 0.5)) == 2


def test_arms_of_a_small_outline_are_covered_each_by_itself() -> None:
    """A U of 1 by 1 m with a gap of 0.4 by 0.8 m: along each arm, and 0.2 m between them."""
    shape = box(0, 0, 1, 1).difference(box(0.3, 0.2, 0.7, 1))
    assert lengths(shape, 0.4, 0.05) == pytest.approx([1, 1, 0.2])


def test_a_way_of_three_arms_is_parted_twice() -> None:
    """2 m wide, up between two flights of 10 m; a roll of 2.5 m and laps of 0.5 m.

    The flights' strips are 10 m long and reach 0.5 m beyond; between them 6 m are left, and no
    more than two laps are added.
    """
    shape = union_all([box(0, 0, 10, 2), box(8, 0, 10, 10), box(8, 8, 18, 10)])
    strips = strips_on(shape, 2.5, 0.5)
    assert len(strips) == 3
    assert 10 + 10 + 6 <= sum(strip.length for strip in strips) <= 10 + 10 + 6 + 2 * 0.5
    assert laid(strips).buffer(1.1e-3).covers(shape)


@pytest.mark.parametrize("mirrored", [False, True])
def test_the_wide_arm_is_laid_along_its_whole_length(mirrored: bool) -> None:
    """An L of 30 by 25 m, one arm 10 m wide, two strips of 6 m with a lap of 1 m; one of 4.5 m.

    Along the wide arm 25 m twice and 20 m of the other, not lapped more than they are; the other
    way 30 and twice 20.5 m.
    """
    shape = union_all([box(0, 0, 30, 4.5), box(0, 0, 10, 25)])
    if mirrored:
        shape = Polygon([(y, x) for x, y in shape.exterior.coords])
    assert lengths(shape, 6, 1) == pytest.approx([25, 25, 20])


def test_strips_reach_every_corner_of_a_ring_that_is_not_closed() -> None:
    """Four arms 2 m wide around a yard, of which the last ends 0.1 m before the first."""
    shape = union_all([box(0, 0, 10, 2.2), box(0, 0, 2, 10), box(0, 8, 10, 10),
                       box(8, 2.3, 10, 10)]).difference(box(2, 2, 8, 8))  # fmt: skip
    strips = strips_on(shape, 2.5, 0.5)
    assert laid(strips).buffer(1.1e-3).covers(shape)


def covered(make: Any, past: float, overlap: float, *areas: Any, corners: Any = ()) -> Any:
    """What geotextile covers of the terrace, in feet on the plan."""
    job = make.job(*areas, corners=corners)
    parts = place(parts_of(job)[0], job.settings.units)[0]
    sites = [SimpleNamespace(part=part, materials=Materials(job)) for part in parts]
    site = next(site for site in sites if site.part.name == "Terrace")
    found = covered_outline(site, beside(sites)["Terrace"], past * FOOT, overlap * FOOT)
    return scale(found, 1 / FOOT, 1 / FOOT, origin=(0, 0))


def test_beside_other_paving_only_half_an_overlap_is_covered(make: Any) -> None:
    """A foot past the open edges of 20 by 10 ft, and 2 in under a walk below the foot."""
    found = covered(
        make, 1.0, 4 / 12,
        make.area("Terrace", length=20, width=10, x=0, y=0),
        make.area("Walk", length=22, width=5, x=-1, y=-5),
    )  # fmt: skip
    assert found.bounds[2:] == pytest.approx((21, 11))
    assert found.covers(Point(10, -1.9 / 12))
    below = box(1, -2, 19, -2.1 / 12)
    assert found.intersection(below).area == 0


def test_what_lies_beyond_the_strip_beside_other_paving_is_covered(make: Any) -> None:
    """An L of 10 ft, arms 3 ft wide; a place in its corner, 0.4 ft from the lower arm.

    The lower arm's foot of overrun runs on under the place, but for where the upper arm meets it.
    """
    ends = (0, 0), (10, 0), (10, 3), (3, 3), (3, 10), (0, 10)
    found = covered(
        make, 1.0, 1.0,
        make.area("Terrace", name="L", shape="polygon", x=0, y=0),
        make.area("Nook", length=5, width=6, x=3, y=3.4),
        corners=make.corners("L", *ends),
    )  # fmt: skip
    for spot, there in (((4.5, 3.7), True), ((6, 3.7), True), ((6, 4.2), False),
                        ((3.4, 8), True), ((3.6, 8), False)):  # fmt: skip
        assert found.covers(Point(spot)) is there, spot
