"""Charts and the measured drawing, checked against the numbers they draw."""

from __future__ import annotations

import itertools
import math
import re
import xml.etree.ElementTree as ET

import pytest
from hypothesis import given
from hypothesis import strategies as st

from budget.figures import constant
from budget.quantities.takeoff import PartGeometry
from budget.report.drawing import bars as svg_bars
from budget.report.drawing import frontier, marks, outline, plan, room, spread, svg
from budget.report.drawing.sheet import Fall, Mark, Site
from budget.units import AREA, LENGTH

SQUARE = ((0.0, 0.0), (2.0, 0.0), (2.0, 2.0), (0.0, 2.0))


def circle(radius: float, start: int = 0, end: int = 360) -> tuple[tuple[float, float], ...]:
    angles = [math.radians(a) for a in range(start, end, 5)]
    return tuple((radius * math.cos(a), radius * math.sin(a)) for a in angles)


def part(name: str, *outlines: tuple[tuple[float, float], ...], **more: object) -> PartGeometry:
    area, edge = constant(4.0, AREA, "area"), constant(8.0, LENGTH, "edge")
    return PartGeometry(name, area, area, edge, edge, edge, outlines=outlines, **more)  # type: ignore[arg-type]


def parsed(picture: object) -> ET.Element:
    return ET.fromstring(str(picture))


def percent(text: str | None) -> float:
    assert text is not None
    assert text.endswith("%")
    return float(text[:-1])


def test_a_picture_is_an_image_named_by_its_first_child() -> None:
    root = parsed(svg.picture("key", "A <title>", svg.tag("rect", x=1)))
    assert root.get("role") == "img"
    assert root[0].tag == "title"
    assert root[0].text == "A <title>"
    assert root.get("aria-labelledby") == root[0].get("id")


@pytest.mark.parametrize("text", ["<script>", '"', "&amp;", "a\x00b", "\u202eabc\u2066"])
def test_text_never_becomes_markup(text: str) -> None:
    root = parsed(svg.tag("g", svg.tag("text", text, class_=text)))
    assert root[0].text == re.sub("[\x00\u202e\u2066]", "", text)
    assert len(root) == 1


def test_bars_are_as_long_as_their_money_and_hours() -> None:
    bars = [
        svg_bars.Bar("one", (svg_bars.Segment(1, 100, "a"), svg_bars.Segment(2, 300, "b")), "$4",
                     10, "10 hours"),
        svg_bars.Bar("two", (svg_bars.Segment(1, 200, "a"),), "$2", 40, "40 hours"),
    ]  # fmt: skip
    root = parsed(svg_bars.stacked("bars", "title", bars))
    pieces = [r for r in root.iter("rect") if "piece" in r.get("class", "")]
    wide = [percent(r.get("width")) for r in pieces]
    assert wide[1] == pytest.approx(3 * wide[0], rel=0.01)
    assert wide[2] == pytest.approx(2 * wide[0], rel=0.01)
    assert percent(pieces[1].get("x")) == pytest.approx(wide[0], abs=0.02)
    hours = [percent(r.get("width")) for r in root.iter("rect") if r.get("class") == "hours-bar"]
    assert hours[1] == pytest.approx(4 * hours[0], rel=0.01)


def test_bars_with_nothing_in_them_are_drawn_without_fault() -> None:
    root = parsed(svg_bars.stacked("bars", "title", [svg_bars.Bar("one", (), "$0", 0, "0 hours")]))
    assert [percent(r.get("width")) for r in root.iter("rect")] == [0]


def test_plans_stand_where_their_cash_and_hours_put_them() -> None:
    spots = [
        frontier.Spot(40, 1000, "1", "a"),
        frontier.Spot(20, 2000, "2", "b"),
        frontier.Spot(0, 5000, "3", "c"),
    ]
    ends = frontier.Ends("$10", "$50", "0 hours", "40 hours")
    root = parsed(frontier.frontier("f", "title", spots, [], ends))
    circles = [c for c in root.iter("circle") if c.get("class") == "spot"]
    x = [percent(c.get("cx")) for c in circles]
    y = [float(c.get("cy", "")) for c in circles]
    assert x[0] - x[1] == pytest.approx(x[1] - x[2], abs=0.02)
    assert (y[0] - y[1]) * 3 == pytest.approx(y[1] - y[2], rel=0.01)


def test_numbers_of_plans_that_lie_close_do_not_cover_each_other() -> None:
    spots = [
        frontier.Spot(100 - n / 2, 1000 + n, str(n), f"plan {n}", current=n == 7) for n in range(12)
    ]
    far = frontier.Spot(0, 9000, "12", "plan 12")
    letters = [frontier.Spot(60 + n / 10, 5000 + n, "AB"[n], "other") for n in range(2)]
    ends = frontier.Ends("$10", "$90", "0 hours", "100 hours")
    root = parsed(frontier.frontier("f", "title", [*spots, far], letters, ends))
    points = [g for g in root.iter("g") if "point" in g.get("class", "")]
    assert {g.get("data-point") for g in points} == {str(n) for n in range(13)}
    numbered = [g for g in points if "close" not in g.get("class", "")]
    assert "7" in {g.get("data-point") for g in numbered}
    assert points[-1].get("class") == "point current"  # drawn last, so on top
    middles = [
        (3 * percent(c.get("cx")), float(c.get("cy", "")))  # px at a width of 300
        for g in numbered
        for c in g.iter("circle")
    ]
    assert len(middles) >= 2
    assert min(math.dist(a, b) for a, b in itertools.combinations(middles, 2)) >= 22
    assert [t.text for t in root.iter("text") if t.text in ("A", "B")] == ["A"]


def test_one_plan_alone_is_drawn_without_fault() -> None:
    ends = frontier.Ends("$10", "$10", "1 hour", "1 hour")
    spot = frontier.Spot(1, 1000, "1", "a")
    root = parsed(frontier.frontier("f", "title", [spot], [], ends))
    assert len([c for c in root.iter("circle") if c.get("class") == "spot"]) == 1


def test_the_strip_covers_every_stop_once() -> None:
    root = parsed(frontier.ribbon("r", "title", [0, 0, 0, 1, 1, 2, 2, 2, 2], ["1", "2", "3"], 4))
    stretches = [r for r in root.iter("rect") if "stretch" in r.get("class", "")]
    assert [r.get("data-plan") for r in stretches] == ["0", "1", "2"]
    ends = [percent(r.get("x")) + percent(r.get("width")) for r in stretches]
    assert [percent(r.get("x")) for r in stretches] == pytest.approx([0, *ends[:-1]], abs=0.02)
    assert ends[-1] == pytest.approx(100, abs=0.02)


def test_an_outline_is_told_apart_into_edges_and_curves() -> None:
    quarter = ((0.0, 0.0), *circle(3.0, 0, 91))
    found = outline.edges(quarter)
    straight = sorted(e.length for e in found if isinstance(e, outline.Straight))
    curves = [e for e in found if isinstance(e, outline.Curve)]
    assert straight == pytest.approx([3.0, 3.0])
    assert [c.radius for c in curves] == [pytest.approx(3.0)]
    assert curves[0].centre == pytest.approx((0.0, 0.0), abs=1e-9)


def test_a_full_circle_has_no_straight_edge() -> None:
    (curve,) = outline.edges(circle(1.5))
    assert isinstance(curve, outline.Curve)
    assert curve.full
    assert curve.radius == pytest.approx(1.5)


def test_an_ellipse_is_given_no_radius() -> None:
    ring = tuple((2 * x, y) for x, y in circle(1.0))
    curves = [e for e in outline.edges(ring) if isinstance(e, outline.Curve)]
    assert {c.radius for c in curves} == {None}


def test_points_in_a_straight_line_make_one_edge() -> None:
    ring = ((0.0, 0.0), (1.0, 0.0), (2.0, 0.0), (2.0, 2.0), (0.0, 2.0), (0.0, 0.0))
    assert [e.length for e in outline.edges(ring) if isinstance(e, outline.Straight)] == [
        2.0, 2.0, 2.0, 2.0,
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("metres", "words"),
    [
        (3.6576, "12'"),  # 12 x 0.3048
        (3.81, "12' 6\""),
        (0.1524, '6"'),
        (3.8227, "12' 6½\""),  # 150.5 in x 0.0254
        (3.6575, "12'"),  # never 11' 12"
    ],
)
def test_dimensions_in_feet_and_inches(metres: float, words: str) -> None:
    assert plan.measure(metres, "imperial") == words


@pytest.mark.parametrize("width", [328, 720])
def test_all_parts_are_drawn_to_one_scale_inside_the_sheet(width: int) -> None:
    parts = [
        part("Terrace", ((0.0, 0.0), (6.0, 0.0), (6.0, 4.0), (0.0, 4.0))),
        part("Path", ((10.0, 0.0), (15.0, 0.0), (15.0, 1.2), (10.0, 1.2))),
        part("A bowl with quite a long name indeed", circle(1.5)),
    ]
    root = parsed(plan.plan("plan", "title", parts, "metric", width))
    _, _, wide, tall = (float(n) for n in root.get("viewBox", "").split())
    scales = []
    for polygon, metres in zip(root.iter("polygon"), (6.0, 5.0, 3.0), strict=True):
        points = [tuple(map(float, p.split(","))) for p in polygon.get("points", "").split()]
        (x1, y1), (x2, y2) = outline.box(points)  # type: ignore[arg-type]
        assert 0 <= x1 < x2 <= wide
        assert 0 <= y1 < y2 <= tall
        scales.append((x2 - x1) / metres)
    assert scales == pytest.approx([scales[0]] * 3, rel=0.01)
    texts = [t.text for t in root.iter("text")]
    assert {"6.00", "4.00", "5.00", "1.20", "3.00"} <= set(texts)


def test_a_cut_out_is_measured_where_it_lies() -> None:
    hole = ((0.5, 0.5), (1.0, 0.5), (1.0, 1.25), (0.5, 1.25))
    root = parsed(plan.plan("p", "t", [part("Yard", SQUARE, holes=(hole,))], "metric", 328))
    assert "0.50 × 0.75" in [t.text for t in root.iter("text")]
    assert [p.get("class") for p in root.iter("polygon")] == ["outline", "outline cut"]


def texts(*parts: PartGeometry) -> list[str | None]:
    root = parsed(plan.plan("p", "t", parts, "metric", 720))
    return [t.text for t in root.iter("text")]


def test_shapes_of_one_part_are_drawn_apart_where_they_have_labels() -> None:
    beside = tuple((x + 2.0, y) for x, y in SQUARE)
    apart = texts(part("Yard", SQUARE, beside, labels=((1.0, 0.0, "2 m"),)))
    assert apart.count("2.00") == 4
    assert "4.00" not in apart
    assert "4.00" in texts(part("Yard", SQUARE, beside))


def test_placed_parts_are_drawn_as_they_lie() -> None:
    beside = tuple((x + 2.0, y) for x, y in SQUARE)
    parts = [part("Yard", SQUARE, placed=True), part("Walk", beside, placed=True, optional=True)]
    root = parsed(plan.plan("p", "t", parts, "metric", 720))
    first, second = (
        [tuple(map(float, p.split(","))) for p in polygon.get("points", "").split()]
        for polygon in root.iter("polygon")
    )
    assert first[1] == second[0]  # the corner they share
    written = [t.text for t in root.iter("text")]
    assert {"Yard", "Walk", "4.00", "2.00"} <= set(written)


@pytest.mark.parametrize("width", [328, 720])
def test_a_very_long_name_does_not_push_the_drawing_off_the_sheet(width: int) -> None:
    root = parsed(plan.plan("p", "t", [part("W" * 300, SQUARE)], "metric", width))
    (polygon,) = root.iter("polygon")
    points = [tuple(map(float, p.split(","))) for p in polygon.get("points", "").split()]
    assert points[1][0] - points[0][0] > 0.5 * width
    title = next(t.text for t in root.iter("text"))
    assert title is not None
    assert title.endswith("…")


HOUSE = ((0.0, 2.0), (2.0, 2.0))
SITE = Site(
    edges=(("house", HOUSE), ("joined", ((2.0, 2.0), (2.0, 0.0)))),
    standing=(("Low wall", ((-0.3, 0.0), (0.0, 0.0), (0.0, 2.0), (-0.3, 2.0))),),
    runs=(("Drain", ((0.5, -1.0), (0.7, -1.0), (0.7, 1.0), (0.5, 1.0))),),
    marks=(
        Mark("ground", (0.2, 0.2), "+0.10"),
        Mark("ground", (0.4, 0.2), "+0.12"),
        Mark("sill", (1.0, 2.0), "+0.35"),
        Mark("drop", (4.0, 1.0), "Drive"),
    ),
    falls=(Fall("Yard", -math.pi / 2, "falls 2 %"),),
)


def placed(width: int) -> ET.Element:
    yard = part("Yard", SQUARE, placed=True)
    return parsed(plan.plan("p", "t", [yard], "metric", width, SITE))


@pytest.mark.parametrize("width", [328, 720])
def test_everything_on_the_site_is_drawn_inside_the_sheet(width: int) -> None:
    root = placed(width)
    _, _, wide, tall = (float(n) for n in root.get("viewBox", "").split())
    for element in [*root.iter("polygon"), *root.iter("polyline")]:
        for point in element.get("points", "").split():
            x, y = map(float, point.split(","))
            assert 0 <= x <= wide
            assert 0 <= y <= tall
    written = {t.text for t in root.iter("text")}
    assert {"Low wall", "Drain", "+0.10", "+0.12", "+0.35", "Drive", "falls 2 %"} <= written
    for text in root.iter("text"):
        if "middle" in text.get("class", "") and text.text and not text.get("transform"):
            half = len(text.text) * 3.3
            assert float(text.get("x", "")) - half >= 0
            assert float(text.get("x", "")) + half <= wide


def test_the_house_is_hatched_on_its_own_side_only() -> None:
    root = placed(720)
    wall = next(p for p in root.iter("polyline") if p.get("class") == "edge held")
    _, y = map(float, wall.get("points", "").split()[0].split(","))
    near = [
        line
        for line in root.iter("line")
        if line.get("class") == "thin" and abs(float(line.get("y1", "")) - y) < 0.1
    ]
    assert len(near) > 10
    assert all(float(line.get("y2", "")) < y for line in near)  # up the sheet, out of the yard


def test_levels_close_together_are_not_written_over_each_other() -> None:
    root = placed(720)
    boxes = [
        room.box_of(t.text or "", (float(t.get("x", "")), float(t.get("y", "")) - 4))
        for t in root.iter("text")
        if t.text in ("+0.10", "+0.12", "Drain", "falls 2 %") and not t.get("transform")
    ]
    for a, b in itertools.combinations(boxes, 2):
        assert a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] or b[3] <= a[1]


def test_every_line_and_sign_of_the_key_has_a_picture_of_its_own() -> None:
    samples = {str(marks.sample(kind)) for kind in marks.KEY}
    assert len(samples) == len(marks.KEY)


@given(at=st.floats(0, 100), letters=st.integers(1, 40))
def test_words_about_a_place_stay_inside_the_narrowest_drawing(at: float, letters: int) -> None:
    # 288 px are left of a phone 320 px wide; a letter of 13 px takes about half its height
    place, side = spread._beside(at, "n" * letters)
    wide = 100 * letters * 6.5 / 288
    start = {"start": place, "middle": place - wide / 2, "end": place - wide}[side]
    assert start >= -0.01
    assert start + wide <= 100.01
    assert side == "start" or place == at  # only words too long for either side leave the place
