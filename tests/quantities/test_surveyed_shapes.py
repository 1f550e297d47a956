"""Shapes measured on site: walked sides, offsets, and what is said when they cannot be."""

import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from budget.job import Corner, Place
from budget.quantities import take_off
from budget.quantities.formulas import surveyed
from budget.units import FOOT


def rows(*values, sheet="Outline"):
    columns = {"x": "C", "y": "D", "length": "E", "diagonal": "F"}
    return tuple(
        Corner(
            place=Place(sheet, i + 2, columns), area="Terrace", order=i,
            **{k: v * FOOT for k, v in row.items()},
        )
        for i, row in enumerate(values)
    )  # fmt: skip


def area_of(found):
    return found.parts[0].area.value / FOOT**2


@given(
    radii=st.lists(st.floats(5, 20), min_size=3, max_size=8),
    turns=st.lists(st.floats(0.5, 1.5), min_size=8, max_size=8),
)
@settings(max_examples=40, deadline=None)
def test_walked_sides_give_back_the_polygon(radii, turns):
    """Any shape seen whole from its first corner is rebuilt from sides and diagonals."""
    from shapely import Polygon

    count = len(radii)
    share = math.pi * 0.9 / sum(turns[: count - 1])
    angles = [0.0]
    for turn in turns[: count - 1]:
        angles.append(angles[-1] + turn * share)
    tips = [
        (r * math.cos(a), r * math.sin(a)) for r, a in zip(radii, angles, strict=True)
    ]  # fmt: skip
    points = [(0.0, 0.0), *tips]
    sides = [math.dist(a, b) for a, b in zip(points, [*points[1:], points[0]], strict=True)]
    diagonals = [math.dist(points[0], p) for p in points[2:-1]]
    again = surveyed.walked(sides, diagonals)
    assert Polygon(again).area == pytest.approx(Polygon(points).area, rel=1e-6)


def test_a_walked_terrace(make):
    """20 x 10 ft by four sides and one diagonal."""
    walked = rows(
        {"length": 20}, {"length": 10}, {"length": 20, "diagonal": math.hypot(20, 10)},
        {"length": 10},
    )  # fmt: skip
    found = take_off(make.job(make.area(shape="walked", name="Terrace"), corners=walked))
    assert area_of(found) == pytest.approx(200)
    assert found.parts[0].base_area.value / FOOT**2 == pytest.approx(231)


@pytest.mark.parametrize(
    ("diagonal", "words"),
    [(9.0, "cannot close at corners 1, 2 and 3"), (31.0, "cannot close"), (None, "no diagonal")],
)
def test_a_diagonal_that_cannot_be_is_named_with_its_cells(make, diagonal, words):
    third = {"length": 20} if diagonal is None else {"length": 20, "diagonal": diagonal}
    walked = rows({"length": 20}, {"length": 10}, third, {"length": 10})
    found = take_off(make.job(make.area(shape="walked", name="Terrace"), corners=walked))
    (problem,) = [w for w in found.warnings if w.severity == "problem"]
    assert problem.code == "impossible-shape"
    assert words in problem.found
    assert "Outline!" in problem.found


def test_sides_that_cannot_close_are_named_from_first_to_last(make):
    """Of five sides: 9, 20 and 40 ft can be no triangle."""
    sides = rows(
        {"length": 9}, {"length": 20}, {"length": 7, "diagonal": 40},
        {"length": 8, "diagonal": 42}, {"length": 38},
    )  # fmt: skip
    found = take_off(make.job(make.area(shape="walked", name="Terrace"), corners=sides))
    (problem,) = [w for w in found.warnings if w.severity == "problem"]
    assert problem.found.endswith(" in Outline!E2 to Outline!E6")


def test_corners_are_found_by_the_shape_or_else_by_its_part(make):
    """The yard has rows of its own, 5 by 4 ft; the nook has none: it is drawn as its part is."""
    of_yard = rows(*({"x": x, "y": y} for x, y in ((0, 0), (5, 0), (5, 4), (0, 4))))
    of_yard = tuple(replace(row, area="YARD") for row in of_yard)
    of_part = rows(*({"x": x, "y": y} for x, y in ((9, 9), (9, 2), (2, 2))))
    listed = of_part + of_yard
    for name, area in (("Yard", 5 * 4), ("nook", 7 * 7 / 2), ("", 7 * 7 / 2)):
        found = take_off(make.job(make.area(shape="polygon", name=name), corners=listed))
        assert area_of(found) == pytest.approx(area)


def test_a_crossing_polygon_names_the_cells_of_its_sides(make):
    points = rows({"x": 0, "y": 0}, {"x": 9, "y": 9}, {"x": 9, "y": 0}, {"x": 0, "y": 9})
    found = take_off(make.job(make.area(shape="polygon", name="Terrace"), corners=points))
    (problem,) = [w for w in found.warnings if w.severity == "problem"]
    assert "Outline!C2" in problem.found
    assert "Outline!C4" in problem.found


def test_offsets_straight_and_curved(make):
    """Kerb offsets of the published question, in feet: 472.5 and 476.0."""
    away = (3.9, 4.5, 5.1, 6.5, 6.3, 5.1, 4.1)
    listed = rows(*({"length": n} for n in away))
    area = make.area(shape="offsets", name="Terrace", length=90)
    assert area_of(take_off(make.job(area, corners=listed))) == pytest.approx(472.5)
    curved = replace(area, shape="curved offsets")
    found = take_off(make.job(curved, corners=listed))
    assert area_of(found) == pytest.approx(476.0)
    spaced = rows(*({"length": n, "x": 15.0 * i} for i, n in enumerate(away)))
    alone = make.area(shape="offsets", name="Terrace")
    assert area_of(take_off(make.job(alone, corners=spaced))) == pytest.approx(472.5)


@pytest.mark.parametrize(
    ("values", "words"),
    [
        ([{"length": 3}], "1 offsets"),
        ([{"length": 0}, {"length": 0}], "all 0"),
        ([{"length": 3}, {"length": 4}], "without x"),
        ([{"length": 3, "x": 9}, {"length": 4, "x": 2}], "do not run on along x in Outline!C3"),
        ([{"length": 3, "x": 1}, {"length": 4, "x": 0}], "do not run on along x in Outline!C3"),
        ([{"length": n, "x": x} for n, x in ((3, 0), (4, 5), (2, 5))], "along x in Outline!C4"),
        ([{"length": n, "x": x} for n, x in ((3, 7), (4, 8), (2, 9), (5, 8.5))], "Outline!C5"),
    ],
)
def test_offsets_that_cannot_be(make, values, words):
    job = make.job(make.area(shape="offsets", name="Terrace"), corners=rows(*values))
    (problem,) = [w for w in take_off(job).warnings if w.severity == "problem"]
    assert words in problem.found


def test_curved_offsets_must_be_evenly_spaced(make):
    values = [{"length": 3, "x": 0}, {"length": 4, "x": 2}, {"length": 4, "x": 9}]
    job = make.job(make.area(shape="curved offsets", name="Terrace"), corners=rows(*values))
    (problem,) = [w for w in take_off(job).warnings if w.severity == "problem"]
    assert "evenly spaced" in problem.found


@pytest.mark.parametrize(
    ("away", "area"),
    [
        # 1 + x (4 - x) / 4 from 0 to 4: 4 + 32/12 = 6 2/3 by the integral
        ((1.0, 1.75, 2.0, 1.75, 1.0), 20 / 3),
        # and a last strip of 1.0 to 2.0 without a partner, straight: 1.5 more
        ((1.0, 1.75, 2.0, 1.75, 1.0, 2.0), 20 / 3 + 1.5),
    ],
    ids=["even", "a strip over"],
)
def test_the_drawn_curve_encloses_the_area_of_its_parabola(away, area):
    from shapely import Polygon

    offsets = surveyed.Offsets(tuple(float(x) for x in range(len(away))), away)
    outline = Polygon(surveyed.curved_outline(offsets))
    assert outline.is_valid
    assert surveyed.simpson(offsets) == pytest.approx(area)
    assert outline.area == pytest.approx(area, rel=2e-3)
    assert outline.bounds == pytest.approx((0, 0, len(away) - 1, 2))
