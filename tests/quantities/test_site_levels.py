"""Where the paving finishes, and how far the ground lies above it: planes worked out by hand.

The region is 10 by 4 m beside a house wall along y = 0. The sill is 1.0508 m up, so that the
paving starts 2 in (0.0508 m) below it at 1.00 m, and falls 2 %.
"""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from shapely import Polygon, box

from budget.job import Job, Level, Place, Settings
from budget.quantities.formulas.levels import (
    Plane,
    average_depth,
    means,
    plane_through,
    surface,
)
from budget.quantities.formulas.surveyed import Offsets, simpson, spacing, walked
from budget.quantities.plan.parts import parts_of
from budget.quantities.plan.placing import place as put
from budget.quantities.site_levels import finish_of, levels_of
from budget.units import INCH

REGION = box(0, 0, 10, 4)
SILL = 1.0 + 2 * INCH
NOWHERE = Polygon()


def level(row: int = 2, **values: Any) -> Level:
    return Level(place=Place("Levels", row, {"level": "E", "finish": "F"}), **values)


def sill(**values: Any) -> Level:
    return level(9, what="sill", **{"level": SILL, **values})


def height(plane: Plane | None, x: float, y: float) -> float:
    assert plane is not None
    return plane.height(x, y)


def test_paving_falls_from_the_sill_away_from_the_house() -> None:
    plane = finish_of([sill(x=5.0, y=0.0)], REGION)
    assert height(plane, 5, 0) == pytest.approx(1.0)
    assert height(plane, 5, 4) == pytest.approx(1.0 - 0.08)
    assert height(plane, 0, 0) == pytest.approx(1.0)  # level along the wall


def test_the_way_and_the_fall_that_were_measured_count() -> None:
    plane = finish_of([sill(x=5.0, y=0.0, toward=0.0, fall=0.03)], REGION)
    assert height(plane, 7, 2) == pytest.approx(1.0 - 0.06)


def test_a_finish_at_the_sill_is_taken_as_it_is() -> None:
    plane = finish_of([sill(x=5.0, y=0.0, level=None, finish=0.9)], REGION)
    assert height(plane, 5, 0) == pytest.approx(0.9)


def test_a_sill_without_a_place_or_a_plan_gives_a_level_finish() -> None:
    for plane in (finish_of([sill()], REGION), finish_of([sill(x=5.0, y=0.0)], NOWHERE)):
        assert height(plane, 0, 0) == height(plane, 9, 3) == pytest.approx(1.0)


def test_two_finish_heights_slope_along_their_line() -> None:
    marks = [level(2, x=0.0, y=0.0, finish=1.0), level(3, x=10.0, y=0.0, finish=0.8)]
    plane = finish_of(marks, REGION)
    assert height(plane, 5, 0) == height(plane, 5, 4) == pytest.approx(0.9)
    # three set the plane, whatever the sill says; two do not overrule it
    third = level(4, x=0.0, y=4.0, finish=0.9)
    at = sill(x=5.0, y=0.0)
    assert height(finish_of([*marks, third, at], REGION), 0, 4) == pytest.approx(0.9)
    assert height(finish_of([*marks, at], REGION), 5, 0) == pytest.approx(1.0)


def test_finish_heights_without_places_give_their_mean() -> None:
    marks = [level(2, finish=1.0), level(3, finish=0.8)]
    assert height(finish_of(marks, REGION), 3, 3) == pytest.approx(0.9)
    assert finish_of([level(2, level=1.0)], REGION) is None


@pytest.mark.parametrize(
    ("area", "spots", "above"),
    [
        # without places: held against the finish in the middle, 1.00 - 2 x 0.02 = 0.96
        ({"x": 0.0, "y": 0.0}, [{"level": 1.2}, {"level": 1.0}], (0.24 + 0.04) / 2),
        # with places, too few for a surface: each against the finish where it is
        (
            {"x": 0.0, "y": 0.0},
            [{"level": 1.2, "x": 5.0, "y": 0.0}, {"level": 1.0, "x": 5.0, "y": 1.0}],
            (0.2 + 0.02) / 2,
        ),
        # half a place is none: held against the finish in the middle
        (
            {"x": 0.0, "y": 0.0},
            [{"level": 1.2, "x": 5.0}, {"level": 1.0, "y": 0.0}],
            (0.24 + 0.04) / 2,
        ),
        # a part that lies nowhere: held against the height at the sill
        ({}, [{"level": 1.2}, {"level": 0.9}], (0.2 - 0.1) / 2),
        # a spot that says its own finish needs no plane
        ({"x": 0.0, "y": 0.0}, [{"level": 1.2, "finish": 1.1}], 0.1),
    ],
)
def test_spots_too_few_for_a_surface_are_averaged(
    make: Any, area: dict[str, Any], spots: list[dict[str, Any]], above: float
) -> None:
    rows = tuple(level(i, **values) for i, values in enumerate(spots, 2))
    feet = {name: value / 0.3048 for name, value in {"length": 10.0, "width": 4.0, **area}.items()}
    job = Job(
        settings=Settings(place=Place("Job", 1)), areas=(make.area(**feet),),
        levels=(*rows, sill(x=5.0, y=0.0)),
    )  # fmt: skip
    ((part,), _) = put(parts_of(job)[0], "metric")
    found, _ = levels_of(part, {"sand": 0.2}, job)
    assert found is not None
    assert found.method == "average depth"
    assert found.above.value == pytest.approx(above)
    assert found.fill["sand"].value == pytest.approx(0.0)


def test_a_part_that_lies_nowhere_is_held_against_the_zero_point(make: Any) -> None:
    """The finish falls from the sill there; ground 0.2 m above the sill's foot."""
    area = make.area(length=30.0, width=12.0)
    row = sill(x=0.0, y=0.0, toward=30.0, fall=0.02)
    job = Job(
        settings=Settings(place=Place("Job", 1)), areas=(area,), levels=(level(level=1.2), row)
    )
    ((part,), _) = put(parts_of(job)[0], "metric")
    found, _ = levels_of(part, {"sand": 0.2}, job)
    assert found is not None
    assert found.above.value == pytest.approx(0.2)


def test_past_the_spots_the_ground_runs_on() -> None:
    """A ramp from 0 to 1 m over the first 5 of 10 m: twice as high at the end, 1 m on average."""
    spots = [(x, y, x / 5) for x in (0.0, 5.0) for y in (0.0, 4.0)]
    found = means(REGION, surface(spots), Plane(0.0), Plane(0.0, 0.2, 0.0), 0.2)
    assert (found.above, found.fill) == (pytest.approx(1.0), pytest.approx(0.0))
    # with the finish 1 m up and 0.2 m dug below it, what lies under 0.8 m is filled: 4 of 10 m,
    # by 0.4 m on average
    found = means(REGION, surface(spots), Plane(1.0), Plane(0.0, 0.2, 0.0), 0.2)
    assert (found.above, found.fill) == (pytest.approx(0.0), pytest.approx(0.16))


@pytest.mark.parametrize("far", [0.5, 0.25])
def test_heights_over_a_small_part(far: float) -> None:
    """Half a metre each way, spots over all of it or half: 0.1 + 0.2 / 4 + 0.4 / 4 on average.

    With the finish a metre up that is 0.75 m below it; dug to 0.2 m below it, 0.55 m are filled.
    """
    spots = [(x, y, 0.1 + 0.2 * x + 0.4 * y) for x in (0.0, far) for y in (0.0, 0.5)]
    beyond = Plane(0.1, 0.2, 0.4)
    found = means(box(0, 0, 0.5, 0.5), surface(spots), Plane(1.0), beyond, 0.2)
    assert (found.above, found.fill) == (pytest.approx(-0.75), pytest.approx(0.55))


def test_what_is_low_is_clipped_where_it_begins_to_be() -> None:
    """Ground level with the finish on the left and 4 m lower on the right, 10 by 4 m; dug to 1 m:
    from 2.5 m on it is filled, by 1.5 m on average over three quarters; and half as deep, with
    ground that is nowhere a metre off, from 0.5 of 1 m on over the other half."""
    for deep, stack, fill in ((4.0, 1.0, 0.75 * 1.5), (1.0, 0.5, 0.5 * 0.25)):
        ground = Plane(0.0, -deep / 10, 0.0)
        spots = [(x, y, ground.height(x, y)) for x in (0.0, 10.0) for y in (0.0, 4.0)]
        found = means(REGION, surface(spots), Plane(0.0), ground, stack)
        assert (found.above, found.fill) == (pytest.approx(-deep / 2), pytest.approx(fill))


@pytest.mark.parametrize(
    "slope", [(-0.02, -0.2), (-0.2, -0.03), (0.1, -0.1), (-0.1, 0.25), (-0.09, -0.12)]
)
@pytest.mark.parametrize("far", [10.0, 20.0])
def test_fill_below_a_slanted_line_is_that_of_many_small_cells(
    slope: tuple[float, float], far: float
) -> None:
    """Ground that falls across both sides of 10 by 4 m, dug to 0.4 m: 1,000 by 400 cells.

    The finish falls too, and the spots may lie around much more than the paving.
    """
    ground, finish = Plane(0.1, *slope), Plane(0.0, 0.01, -0.02)
    along = [n for n in (0.0, 10.0, far) if n <= far]
    spots = [(x, y, ground.height(x, y)) for x in along for y in (0.0, 4.0)]
    found = means(REGION, surface(sorted(set(spots))), finish, ground, 0.4)
    x, y = np.meshgrid(np.arange(0.005, 10, 0.01), np.arange(0.005, 4, 0.01))
    height = 0.1 + (slope[0] - 0.01) * x + (slope[1] + 0.02) * y
    assert found.above == pytest.approx(height.mean(), abs=1e-9)
    assert found.fill == pytest.approx(np.maximum(0.0, -(height + 0.4)).mean(), abs=1e-5)


def test_ground_at_the_bottom_of_the_dig_is_not_filled() -> None:
    spots = [(x, y, -0.2) for x in (0.0, 10.0) for y in (0.0, 4.0)]
    found = means(REGION, surface(spots), Plane(0.0), Plane(-0.2), 0.2)
    assert (found.above, found.fill) == (pytest.approx(-0.2), 0.0)


def test_each_spot_is_filled_by_what_it_lacks() -> None:
    """0.3 and 0.5 m below a dig of 0.2 m, and one that lies above: 0.8 m over three."""
    found = average_depth([-0.5, -0.7, 0.1], 0.2)
    assert (found.above, found.fill) == (pytest.approx(-1.1 / 3), pytest.approx(0.8 / 3))


def test_spots_in_a_line_but_for_rounding_slope_along_it_only() -> None:
    """The nearest line through 0, 0.1 and 0.4 m at 0, 5 and 10 m rises by 0.04 a metre."""
    plane = plane_through([(0.0, 0.0, 0.0), (5.0, 0.0, 0.1), (10.0, 1e-8, 0.4)])
    assert plane is not None
    assert (plane.along_x, plane.along_y) == (pytest.approx(0.04), pytest.approx(0.0, abs=1e-6))


def test_spots_in_a_line_make_no_surface() -> None:
    assert surface([(0.0, 0.0, 1.0), (1.0, 0.0, 2.0)]) == []
    assert surface([(0.0, 0.0, 1.0), (1.0, 1.0, 2.0), (2.0, 2.0, 2.0)]) == []


@pytest.mark.parametrize(
    ("sides", "diagonals", "words"),
    [
        ([3, 4], [], "2 sides"),
        ([3, 4, 3, 4], [], "0 diagonals; a shape of 4 sides needs 1"),
        ([3, 4, 5], [5], "1 diagonals; a shape of 3 sides needs 0"),
        ([3, 4, 8], [], "cannot close"),
        ([3, 4, 7], [], "cannot close"),
    ],
)
def test_sides_that_make_no_shape_are_refused(
    sides: list[float], diagonals: list[float], words: str
) -> None:
    with pytest.raises(ValueError, match=words):
        walked(sides, diagonals)


def test_one_offset_out_of_step_is_enough_to_be_uneven() -> None:
    away = (1.0, 1.2, 1.1, 0.9, 1.0)
    assert spacing(Offsets((0, 1, 2, 3, 4), away)) == pytest.approx(1.0)
    with pytest.raises(ValueError, match="even"):
        spacing(Offsets((0, 1, 2, 3, 4.5), away))
    with pytest.raises(ValueError, match="even"):
        spacing(Offsets((0, 1, 2, 3, 4.1, 5), (*away, 1.0)))


def test_offsets_within_a_hundredth_of_their_spacing_are_even() -> None:
    """10 m by 5 cm more or less; half a metre by no more than 5 mm."""
    assert spacing(Offsets((0, 10.05, 20, 30), (1.0,) * 4)) == pytest.approx(10)
    with pytest.raises(ValueError, match="even"):
        spacing(Offsets((0, 0.51, 1.0, 1.5), (1.0,) * 4))


def test_two_offsets_are_a_trapezoid() -> None:
    assert simpson(Offsets((0, 2), (1, 3))) == pytest.approx(4)


def test_no_corner_lies_at_minus_nought() -> None:
    """Squares put together of two halves: their last corner is above the first."""
    for side in range(1, 40):
        corners = walked([side] * 4, [side * 2**0.5])
        assert "-0.0" not in str(corners)
        assert corners[-1] == (0.0, float(side))
