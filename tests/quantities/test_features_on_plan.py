"""Footprints of placed features, against shapely's own turning and circles; refusals of strips."""

from __future__ import annotations

import math
from typing import Any

import pytest
from shapely import Point, Polygon, box
from shapely.affinity import rotate

from budget.figures import constant
from budget.quantities import take_off
from budget.quantities.formulas.geotextile import lapped_area, strips
from budget.quantities.formulas.shapes import crossing
from budget.quantities.laid.fabric_layout import strips_on
from budget.quantities.materials import Materials
from budget.quantities.needs.features_on_plan import outlines
from budget.units import AREA, FOOT, INCH, LENGTH, POUND


def drawn(make: Any, **values: Any) -> list[Polygon]:
    block = make.product("Block", "wall unit", length=12, width=8, height=4)
    job = make.job(walls=(make.wall(**values),), products=(block,))
    return [Polygon(ring) for _, ring in outlines(job, Materials(job))]


@pytest.mark.parametrize("turn", [0.0, 30.0, 200.0])
def test_a_wall_is_turned_about_its_first_corner(make: Any, turn: float) -> None:
    (found,) = drawn(make, length=10, height=12, x=3, y=2, turn=turn)
    plain = box(3 * FOOT, 2 * FOOT, 13 * FOOT, 2 * FOOT + 8 * INCH)
    wanted = rotate(plain, turn, origin=(3 * FOOT, 2 * FOOT))
    assert found.symmetric_difference(wanted).area == pytest.approx(0.0, abs=1e-9)


@pytest.mark.parametrize("turn", [0.0, 30.0, 200.0])
def test_a_column_is_turned_about_its_middle(make: Any, turn: float) -> None:
    (found,) = drawn(make, kind="column", length=2, height=12, x=3, y=2, turn=turn)
    wanted = rotate(box(2 * FOOT, FOOT, 4 * FOOT, 3 * FOOT), turn, origin="center")
    assert found.symmetric_difference(wanted).area == pytest.approx(0.0, abs=1e-9)


def test_a_ring_stands_around_its_middle(make: Any) -> None:
    (found,) = drawn(make, kind="ring", diameter=60, height=12, x=3, y=2)
    wanted = Point(3 * FOOT, 2 * FOOT).buffer(30 * INCH, quad_segs=64)
    assert found.symmetric_difference(wanted).area < 0.01 * wanted.area


@pytest.mark.parametrize(
    "values",
    [
        {"kind": "ring", "height": 12, "x": 3, "y": 2},
        {"height": 12, "x": 3, "y": 2},
        {"kind": "steps", "length": 4, "x": 3, "y": 2},
        {"length": 10, "height": 12, "x": 3},
        {"length": 10, "height": 12},
    ],
)
def test_a_feature_without_its_sizes_or_place_is_not_drawn(make: Any, values: Any) -> None:
    assert drawn(make, **values) == []


def test_a_roll_no_wider_than_its_overlap_covers_nothing() -> None:
    wide, roll = constant(10.0, LENGTH, "width"), constant(0.3, LENGTH, "roll")
    for overlap in (constant(0.3, LENGTH, "overlap"), constant(0.5, LENGTH, "overlap")):
        with pytest.raises(ValueError, match="cannot overlap"):
            strips(wide, roll, overlap)
        with pytest.raises(ValueError, match="cannot overlap"):
            lapped_area(constant(40.0, AREA, "area"), roll, overlap)
        with pytest.raises(ValueError, match="cannot overlap"):
            strips_on(box(0, 0, 10, 4), 0.3, overlap.value)


def test_outlines_that_enclose_nothing_are_told() -> None:
    assert crossing([(0, 0), (1, 1)]) == "2 corners"
    assert crossing([(0, 0), (1, 1), (2, 2)]) == "corners on one line"
    assert crossing([(3, 0), (1, 0), (2, 0), (3, 0)]) == "corners on one line"
    assert "crosses itself at x 2 m, y 1 m" in crossing([(0, 0), (4, 2), (4, 0), (0, 2)])
    assert crossing([(0, 0), (4, 0), (0, 3)]) == ""


def test_extras_weigh_what_their_product_weighs(make: Any) -> None:
    bowl = make.product("Fire bowl", "extra", weight=150 * POUND)
    area = make.area(length=10, width=10)
    found = take_off(
        make.job(area, extras=(make.extra("Terrace", "Fire bowl", 2),), products=(bowl,))
    )
    need = next(n for n in found.needs if n.item == "Fire bowl")
    assert need.measures["mass"].value / POUND == pytest.approx(300)
    assert need.weight is not None
    assert math.isclose(need.weight.value, need.measures["mass"].value)
