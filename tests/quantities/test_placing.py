"""Shapes as they lie on one plan: overlaps, shared edges, cut-outs, and laws they keep."""

import math
from dataclasses import replace

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from budget.quantities import take_off
from budget.quantities.plan.parts import parts_of
from budget.quantities.plan.placing import place
from budget.quantities.plan.regions import NOWHERE, close_by, near, region_of
from budget.units import AREA, FOOT, LENGTH

few = settings(max_examples=25, deadline=None)


def feet(figure):
    return figure.value / (FOOT**2 if figure.kind is AREA else FOOT)


def parts(found):
    return {part.part: part for part in found.parts}


def codes(found):
    return {warning.code for warning in found.warnings}


def terrace(make, **values):
    return make.area("Terrace", length=20, width=10, x=0.0, y=0.0, **values)


def test_walk_against_a_terrace_shares_its_edge(make):
    """20 x 10 ft and a 4 ft walk at its long side: 4 ft shared, base as of the joined outline."""
    found = take_off(make.job(terrace(make), make.area("Walk", length=4, width=15, x=8, y=10)))
    big, walk = parts(found)["Terrace"], parts(found)["Walk"]
    assert feet(big.area) == pytest.approx(200)
    assert feet(big.restrained) == pytest.approx(56)
    assert feet(walk.restrained) == pytest.approx(34)
    assert feet(walk.edge) == pytest.approx(38)
    together = feet(big.base_area) + feet(walk.base_area)
    # 260 sq ft, 90 ft of open edge by 6 in, six outward corners and two inward ones
    assert together == pytest.approx(260 + 90 * 0.5 + (6 - 2) * 0.25)
    assert not codes(found) & {"overlap", "no-area"}


def test_a_gap_of_a_tape_is_no_gap(make):
    walk = make.area("Walk", length=4, width=15, x=8, y=10.02)
    found = parts(take_off(make.job(terrace(make), walk)))
    assert feet(found["Terrace"].restrained) == pytest.approx(56)
    assert feet(found["Walk"].restrained) == pytest.approx(34)
    apart = replace(walk, y=10.5 * FOOT)
    found = parts(take_off(make.job(terrace(make), apart)))
    assert feet(found["Terrace"].restrained) == pytest.approx(60)


def test_shapes_of_a_part_that_lie_apart_all_keep_their_place(make):
    """Five squares of 10 ft, in the middle and around; a walk of 4 ft over 2 ft of each outer."""
    middles = {"m": (0, 0), "e": (30, 0), "n": (0, 30), "w": (-30, 0), "s": (0, -30)}
    squares = [
        make.area("Terrace", name=name, length=10, width=10, x=x - 5, y=y - 5)
        for name, (x, y) in middles.items()
    ]
    walks = [
        make.area(f"Walk {name}", length=4, width=4, x=x * 35 / 30 - 2, y=y * 35 / 30 - 2)
        for name, (x, y) in middles.items()
        if name != "m"
    ]
    found = parts(take_off(make.job(*squares, *walks)))
    assert feet(found.pop("Terrace").area) == pytest.approx(5 * 100)
    assert [feet(walk.area) for walk in found.values()] == pytest.approx([16 - 8] * 4)


def test_an_edge_that_row_and_plan_both_know_counts_once(make):
    """An L of 16 x 12 and 8 x 10 ft: 56 ft and 36 ft round, less 8 ft of each between them."""
    arm = {"name": "arm", "length": 10, "width": 8, "x": 8.0, "y": -10.0, "turn": 90.0}
    long = make.area(name="long", length=16, width=12, x=0.0, y=0.0, joined_edge=8)
    found = parts(take_off(make.job(long, make.area(joined_edge=8, **arm))))["Terrace"]
    assert feet(found.restrained) == pytest.approx(56 + 36 - 16)
    # something else that is not on the plan lies along 3 ft more
    long = replace(long, joined_edge=11 * FOOT)
    found = parts(take_off(make.job(long, make.area(joined_edge=8, **arm))))["Terrace"]
    assert feet(found.restrained) == pytest.approx(56 + 36 - 16 - 3)


def test_turned_shapes_of_one_part_leave_no_edge_between_them(make):
    """The rounding of a turn parts them by less than an atom; six corners are left."""
    arm = make.area(name="arm", length=10, width=8, x=8.0, y=-10.0, turn=90.0)
    long = make.area(name="long", length=16, width=12, x=0.0, y=0.0)
    part = parts(take_off(make.job(long, arm)))["Terrace"]
    (outline,) = part.outlines
    around = sum(math.dist(*pair) for pair in zip(outline, (*outline[1:], outline[0]), strict=True))
    assert around / FOOT == pytest.approx(56 + 36 - 16)


def test_shapes_of_one_part_a_tape_apart_are_one(make):
    left = make.area(name="left", length=6, width=8, x=0.0, y=0.0)
    right = make.area(name="right", length=4, width=8, x=6.02, y=0.0)
    part = parts(take_off(make.job(left, right)))["Terrace"]
    assert len(part.outlines) == 1
    assert len(part.laid) == 1
    assert feet(part.area) == pytest.approx(80)
    assert feet(part.restrained) == pytest.approx(36, abs=0.05)


def test_overlap_counts_once_and_stays_with_the_part_listed_first(make):
    first = terrace(make)
    walk = make.area("Walk", length=4, width=15, x=8, y=8)
    found = take_off(make.job(first, walk))
    assert feet(parts(found)["Terrace"].area) == pytest.approx(200)
    assert feet(parts(found)["Walk"].area) == pytest.approx(60 - 8)
    assert "overlap" in codes(found)
    cell = next(w for w in found.warnings if w.code == "overlap").cell
    assert cell == walk.cell("x")
    moved = replace(first, place=replace(first.place, row=99))
    found = take_off(make.job(walk, moved))
    assert feet(parts(found)["Terrace"].area) == pytest.approx(192)
    assert feet(parts(found)["Walk"].area) == pytest.approx(60)


def test_a_part_that_must_be_built_goes_before_an_optional_one(make):
    walk = make.area("Walk", length=4, width=15, x=8, y=8)
    found = parts(take_off(make.job(terrace(make, optional=True), walk)))
    assert feet(found["Walk"].area) == pytest.approx(60)
    assert feet(found["Terrace"].area) == pytest.approx(192)
    # the walk needs its edge whether the terrace is built or not
    assert feet(found["Walk"].restrained) == pytest.approx(38)
    assert feet(found["Terrace"].restrained) == pytest.approx(64 - 8)


def test_a_bowl_in_a_hole_of_its_size(make):
    hole = make.area("Terrace", name="hole", shape="circle", diameter=6, x=10, y=5, cut_out=True)
    bowl = make.area("Bowl", shape="circle", diameter=6, x=10, y=5)
    found = parts(take_off(make.job(terrace(make, house_edge=20), hole, bowl)))
    circle = math.pi * 9
    assert feet(found["Terrace"].area) == pytest.approx(200 - circle)
    assert feet(found["Bowl"].area) == pytest.approx(circle)
    assert feet(found["Terrace"].restrained) == pytest.approx(40)
    assert feet(found["Bowl"].restrained) == pytest.approx(0, abs=1e-6)
    base = feet(found["Terrace"].base_area) + feet(found["Bowl"].base_area)
    assert base == pytest.approx(200 + 40 * 0.5 + 2 * 0.25)
    assert len(found["Terrace"].holes) == 1
    assert found["Terrace"].placed


def test_a_placed_cut_out_adds_edge_and_one_outside_is_named(make):
    hole = make.area("Terrace", name="tree", length=2, width=3, x=4, y=4, cut_out=True)
    found = take_off(make.job(terrace(make), hole))
    part = parts(found)["Terrace"]
    assert feet(part.area) == pytest.approx(194)
    assert feet(part.edge) == pytest.approx(70)
    outside = replace(hole, x=19 * FOOT)
    found = take_off(make.job(terrace(make), outside))
    assert feet(parts(found)["Terrace"].area) == pytest.approx(197)
    assert feet(parts(found)["Terrace"].edge) == pytest.approx(60 + 2)
    assert "cut-out-outside" in codes(found)


def test_nothing_left_of_a_part_is_a_problem(make):
    first, covered = terrace(make), make.area("Bowl", shape="circle", diameter=6, x=10, y=5)
    found = take_off(make.job(first, covered))
    problem = next(w for w in found.warnings if w.code == "no-area")
    assert problem.severity == "problem"
    assert problem.cell == covered.cell("x")
    assert "Bowl" not in parts(found)


def test_half_round_end_turned_into_place(make):
    """A half circle at the right end of a rectangle, turned by a quarter against the clock."""
    end = make.area("Terrace", name="end", shape="half circle", diameter=10, x=20, y=5, turn=-90.0)
    part = parts(take_off(make.job(terrace(make), end)))["Terrace"]
    assert feet(part.area) == pytest.approx(200 + math.pi * 12.5)
    assert feet(part.restrained) == pytest.approx(50 + math.pi * 5, rel=1e-4)
    assert max(x for x, _ in part.outlines[0]) / FOOT == pytest.approx(25, rel=1e-3)


def test_outlines_lie_where_they_are(make):
    walk = make.area("Walk", length=4, width=15, x=8, y=10)
    found = parts(take_off(make.job(terrace(make), walk)))
    corners = {(round(x / FOOT, 6), round(y / FOOT, 6)) for x, y in found["Walk"].outlines[0]}
    assert {(8, 10), (12, 10), (12, 25), (8, 25)} <= corners


@given(
    boxes=st.lists(
        st.tuples(st.floats(-20, 20), st.floats(-20, 20), st.floats(2, 15), st.floats(2, 15)),
        min_size=1,
        max_size=5,
    ),
    turn=st.floats(-180, 180),
)
@example(boxes=[(0.0, 0.0, 2.0, 2.0), (0.0, 0.0, 2.0, 5.0)], turn=122.0)
@example(boxes=[(0.0, 1.5e-231, 2.0, 2.0), (0.0, 0.0, 2.0, 2.0)], turn=0.0)
@few
def test_parts_fill_the_union_and_nothing_twice(make_many, boxes, turn):
    """All parts together have the area and the outer edge of shapely's union of the boxes."""
    from shapely import box, unary_union
    from shapely.affinity import rotate

    make = make_many
    rows = [
        make.area(f"part {i}", length=w, width=h, x=x, y=y, turn=turn)
        for i, (x, y, w, h) in enumerate(boxes)
    ]
    built, _ = place(parts_of(make.job(*rows))[0], "metric")
    expected = unary_union(
        [
            rotate(box(x, y, x + w, y + h), turn, origin=(x, y))
            for x, y, w, h in boxes
        ]
    )  # fmt: skip
    area = sum(part.area().value for part in built) / FOOT**2
    assert area == pytest.approx(expected.area, rel=1e-6, abs=0.05)
    regions = unary_union([region_of(part) for part in built])
    assert regions.area / FOOT**2 == pytest.approx(expected.area, rel=1e-6, abs=0.05)
    open_edge = sum(part.edge("open", "open").value for part in built) / FOOT
    assert open_edge <= expected.length * (1 + 1e-6) + 0.4 * len(boxes)
    assert all(piece.edges.open.value >= 0 for part in built for piece in part.pieces)


@given(length=st.floats(4, 60), width=st.floats(4, 60), share=st.floats(0.1, 0.9))
@few
def test_split_and_merged_is_the_same(make_many, length, width, share):
    make = make_many
    at = {"x": 0.0, "y": 0.0}
    whole = take_off(make.job(make.area(length=length, width=width)))
    left = make.area(name="left", length=length * share, width=width, **at)
    right = make.area(
        name="right", length=length * (1 - share), width=width, x=length * share, y=0.0
    )
    split = take_off(make.job(left, right))
    two = take_off(make.job(left, replace(right, part="Walk")))
    one = whole.parts[0]
    for name in ("area", "base_area", "restrained"):
        value = getattr(one, name).value
        assert getattr(split.parts[0], name).value == pytest.approx(value, rel=1e-6)
        both = sum(getattr(part, name).value for part in two.parts)
        assert both == pytest.approx(value, rel=1e-6)


@given(x=st.floats(-50, 50), y=st.floats(-50, 50), turn=st.floats(-180, 180))
@few
def test_where_the_plan_lies_does_not_matter(make_many, x, y, turn):
    make = make_many
    cos, sin = math.cos(math.radians(turn)), math.sin(math.radians(turn))

    def at(a, b):
        return {"x": x + a * cos - b * sin, "y": y + a * sin + b * cos, "turn": turn}

    def job(place_of):
        return make.job(
            make.area("Terrace", length=20, width=10, **place_of(0, 0)),
            make.area("Walk", length=4, width=15, **place_of(8, 8)),
            make.area("Bowl", shape="circle", diameter=8, **place_of(20, 5)),
        )

    still = parts(take_off(job(lambda a, b: {"x": a, "y": b, "turn": 0.0})))
    moved = parts(take_off(job(at)))
    for name, part in still.items():
        assert moved[name].area.value == pytest.approx(part.area.value, rel=1e-5)
        assert moved[name].base_area.value == pytest.approx(part.base_area.value, rel=1e-3)
        assert moved[name].restrained.value == pytest.approx(part.restrained.value, abs=0.05)


def test_a_lone_placed_shape_counts_as_an_unplaced_one(make):
    for values in (
        {"length": 20, "width": 10, "house_edge": 20},
        {"shape": "circle", "diameter": 12},
        {"shape": "ring", "diameter": 12, "inner_diameter": 4},
        {"shape": "triangle", "length": 12, "width": 5},
        {"shape": "half circle", "diameter": 9},
        {"shape": "quarter circle", "diameter": 9},
        {"shape": "ellipse", "length": 12, "width": 8},
    ):
        alone = take_off(make.job(make.area(**values))).parts[0]
        set_down = take_off(make.job(make.area(x=3.0, y=-2.0, turn=30.0, **values))).parts[0]
        assert set_down.area.value == pytest.approx(alone.area.value)
        assert set_down.base_area.value == pytest.approx(alone.base_area.value, rel=1e-3)
        assert set_down.restrained.value == pytest.approx(alone.restrained.value)
        assert set_down.edge.kind is LENGTH


@given(st.lists(st.tuples(*[st.floats(-9, 9)] * 2, *[st.floats(0, 3)] * 2), max_size=12))
def test_those_close_by_are_the_same_as_asking_every_two(boxes):
    bounds = [NOWHERE, *((x, y, x + wide, y + high) for x, y, wide, high in boxes)]
    numbers = range(len(bounds))
    asked = [[j for j in numbers if i != j and near(bounds[i], bounds[j])] for i in numbers]
    assert close_by(bounds) == asked
