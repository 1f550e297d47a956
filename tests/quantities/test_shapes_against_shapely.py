"""Areas, edges and overrun strips against shapely, on the outlines that are drawn."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Polygon

from budget.figures import constant
from budget.quantities import take_off
from budget.quantities.formulas.shapes import crossing, polygon
from budget.quantities.plan.outlines import rings_of
from budget.quantities.plan.parts import piece_of, with_strip
from budget.units import DEPTH

SHAPES = [
    {"shape": "rectangle", "length": 20, "width": 10},
    {"shape": "triangle", "length": 12, "width": 9},
    {"shape": "circle", "diameter": 12},
    {"shape": "half circle", "diameter": 12},
    {"shape": "quarter circle", "diameter": 12},
    {"shape": "ellipse", "length": 14, "width": 9},
    {"shape": "ring", "diameter": 12, "inner_diameter": 6},
]


def ids(values):
    return values["shape"]


@pytest.mark.parametrize("values", SHAPES, ids=ids)
def test_area_and_edge(make, values):
    piece = piece_of(make.area(**values), make.job())
    outline, *holes = rings_of(piece)
    drawn = Polygon(outline, holes)
    assert piece.shape.area.value == pytest.approx(drawn.area, rel=2e-3)
    assert piece.edges.whole.value == pytest.approx(drawn.length, rel=1e-3)


@pytest.mark.parametrize("values", SHAPES, ids=ids)
def test_strip_past_the_edge(make, values):
    piece = piece_of(make.area(**values), make.job())
    outline, *holes = rings_of(piece)
    wide = Polygon(outline, holes).buffer(0.15, join_style="mitre", mitre_limit=8)
    found = with_strip(piece, constant(0.15, DEPTH, "overrun"))
    assert found.value == pytest.approx(wide.area, rel=2e-3)


L_SHAPE = [(0, 0), (6, 0), (6, 2), (2, 2), (2, 5), (0, 5)]


@pytest.mark.parametrize(
    "corners",
    [L_SHAPE, L_SHAPE[::-1], [(0, 0), (4, 0), (5, 3), (2, 5), (-1, 2)]],
    ids=["L", "L backwards", "five sides"],
)
def test_strip_past_a_polygon(make, corners):
    area = make.area(name="plan", shape="polygon")
    points = make.corners("plan", *((x / 0.3048, y / 0.3048) for x, y in corners))
    piece = piece_of(area, make.job(corners=points))
    wide = Polygon(corners).buffer(0.15, join_style="mitre", mitre_limit=8)
    found = with_strip(piece, constant(0.15, DEPTH, "overrun"))
    assert found.value == pytest.approx(wide.area, rel=1e-9)


@given(
    st.lists(
        st.tuples(st.floats(-20, 20), st.floats(-20, 20)).map(
            lambda p: (round(p[0], 2), round(p[1], 2))
        ),
        min_size=3,
        max_size=8,
    )
)
@settings(max_examples=100, deadline=None)
def test_polygons_agree_or_are_refused(corners):
    drawn = Polygon(corners)
    if crossing(corners):
        assert not drawn.is_valid or drawn.area == 0
        with pytest.raises(ValueError, match=r"cross|corner"):
            polygon(corners, "Outline!A2")
    else:
        found = polygon(corners, "Outline!A2")
        assert found.area.value == pytest.approx(drawn.area)
        assert found.straight.value == pytest.approx(drawn.length)


def test_outlines_lie_side_by_side_and_holes_inside(make):
    job = make.job(
        make.area(name="a", length=20, width=10),
        make.area(name="b", shape="circle", diameter=6),
        make.area(name="c", shape="measured", area=30, perimeter=22),
        make.area(name="t", shape="circle", diameter=2, cut_out=True),
        make.area(name="u", length=1, width=1, cut_out=True),
    )
    part = take_off(job).parts[0]
    shapes = [Polygon(ring) for ring in part.outlines]
    assert len(shapes) == 2
    assert not shapes[0].intersects(shapes[1])
    around = max(shapes, key=lambda shape: shape.area)
    holes = [Polygon(ring) for ring in part.holes]
    assert len(holes) == 2
    assert all(around.contains(hole) for hole in holes)
    assert {text for _, _, text in part.labels} == {"20 ft", "10 ft", "⌀ 6 ft"}


def test_polygons_keep_their_corners(make):
    areas = (
        make.area(name="plan", shape="polygon"),
        make.area(name="hatch", shape="polygon", cut_out=True),
    )
    corners = (
        *make.corners("plan", (10, 10), (30, 10), (30, 20), (10, 20)),
        *make.corners("hatch", (12, 12), (14, 12), (14, 15), (12, 15)),
    )
    part = take_off(make.job(*areas, corners=corners)).parts[0]
    assert part.outlines[0][0] == pytest.approx((10 * 0.3048, 10 * 0.3048))
    assert part.holes[0][0] == pytest.approx((12 * 0.3048, 12 * 0.3048))


def test_measured_without_perimeter_is_taken_as_square(make):
    found = take_off(make.job(make.area(shape="measured", area=100)))
    assert found.parts[0].edge.value / 0.3048 == pytest.approx(40)
    assert any("as of a square" in a.source for a in found.assumed)
    assert not found.parts[0].outlines


def test_quarter_circle_by_its_radius(make):
    """A quarter of radius 6 ft in a corner of the house: only its arc is open."""
    row = make.area(shape="quarter circle", diameter=12, house_edge=12)
    part = take_off(make.job(row)).parts[0]
    assert part.restrained.value / 0.3048 == pytest.approx(math.pi * 3)
    assert part.base_area.value / 0.3048**2 == pytest.approx(math.pi / 4 * 6.5**2)
