"""Open edges and corners of shapes against a house or other paving, each counted on paper."""

from __future__ import annotations

import math
from typing import Any

import pytest

from budget.figures import Figure, constant, in_order, recalculate
from budget.quantities.plan.edges_open import Edges, open_corners
from budget.quantities.plan.parts import Part, parts_of
from budget.quantities.plan.placing import place
from budget.units import DEPTH, FOOT

PI = math.pi


def parts(make: Any, *areas: Any) -> dict[str, Part]:
    """The parts of a job on one plan, by name."""
    found, _ = place(parts_of(make.job(*areas))[0], "imperial")
    return {part.name: part for part in found}


def edges(make: Any, **row: Any) -> Edges:
    """The edges of a part of one shape."""
    return parts(make, make.area(**row))["Terrace"].added[0].edges


def feet(found: Edges) -> list[float]:
    """Open straight and curved edge, and edge that pavers are cut to, straight and curved."""
    figures = (found.open_straight, found.open_curved, found.free_straight, found.free_curved)
    return [figure.value / FOOT for figure in figures]


@pytest.mark.parametrize(
    ("house", "joined", "corners"),
    [
        (9, 0, 4), (9.7, 8, 4), (9.95, 0, 2), (10.4, 0, 2), (19.85, 0, 2), (29.5, 0, 2),
        (30.2, 0, 1), (31, 0, 0), (20, 10, 1), (10, 20, 1), (20, 20, 0), (10, 10, 0),
        (20, 9, 2), (9, 20, 2), (30, 10, 0), (3, 2, 4),
    ],
)  # fmt: skip
def test_of_twenty_by_ten_feet_covered_sides_take_their_corners(
    make: Any, house: float, joined: float, corners: int
) -> None:
    """A whole side takes two, two neighbours three and two that face each other all four.

    A side is whole to a hundredth of its length, and a run that is longer than a side goes
    around a corner or along all of a longer one.
    """
    row = make.area(length=20, width=10, house_edge=house, joined_edge=joined)
    (part,) = parts_of(make.job(row))[0]
    assert open_corners(row, part.added[0].shape) == corners


@pytest.mark.parametrize(
    ("shape", "house", "joined", "corners"),
    [
        ("half circle", 20, 0, PI / 2),
        ("half circle", 12, 8, PI / 2),
        ("half circle", 5, 0, (PI / 2 + 2) * (1 - 5 / (20 + 10 * PI))),
        ("quarter circle", 20, 0, PI / 4),
        ("quarter circle", 11, 9, PI / 4),
        ("quarter circle", 10, 0, PI / 4 + 1),
        ("quarter circle", 4, 6, PI / 4 + 1),
        ("quarter circle", 7, 0, (PI / 4 + 3) * (1 - 7 / (20 + 5 * PI))),
        ("circle", 5, 3, PI * (1 - 8 / (20 * PI))),
        ("circle", 2, 0, PI * (1 - 2 / (20 * PI))),
        ("circle", 20, 0, PI * (1 - 20 / (20 * PI))),
        ("circle", 4, 6, PI * (1 - 10 / (20 * PI))),
        ("circle", 40, 50, 0),
    ],
)
def test_of_a_round_of_twenty_feet_covered_runs_take_their_corners(
    make: Any, shape: str, house: float, joined: float, corners: float
) -> None:
    """A straight side takes the square corners at its ends; what is no whole side takes its share.

    A strip around a half disc of radius r is pi / 2 corners more than its edge along the curve,
    and has a square corner at both ends of the straight side; a quarter has three.
    """
    row = make.area(shape=shape, diameter=20, house_edge=house, joined_edge=joined)
    (part,) = parts_of(make.job(row))[0]
    assert open_corners(row, part.added[0].shape) == pytest.approx(corners)


@pytest.mark.parametrize(
    ("house", "joined", "left"),
    [
        (0, 0, (20, 10 * PI, 20, 10 * PI)),
        (2, 0, (18, 10 * PI, 20, 10 * PI)),
        (0, 3, (17, 10 * PI, 17, 10 * PI)),
        (12, 15, (0, 10 * PI - 7, 5, 10 * PI)),
        (12, 23, (0, 10 * PI - 15, 0, 10 * PI - 3)),
        (40, 50, (0, 0, 0, 20 + 10 * PI - 50)),
    ],
)
def test_covered_edge_is_taken_off_the_straight_side_first(
    make: Any, house: float, joined: float, left: tuple[float, ...]
) -> None:
    """A half circle of 20 ft has 20 ft of straight and 10 pi of curved edge.

    Pavers are cut to the house as to open edge, not to other paving.
    """
    found = edges(make, shape="half circle", diameter=20, house_edge=house, joined_edge=joined)
    assert feet(found) == pytest.approx(left)
    assert found.whole.value / FOOT == pytest.approx(20 + 10 * PI)
    assert found.open.value / FOOT == pytest.approx(sum(left[:2]))


def test_what_is_not_there_is_not_spoken_of(make: Any) -> None:
    """Of a circle no straight edge is added, of a bare side nothing is taken."""
    bare = edges(make, shape="circle", diameter=8)
    assert (bare.whole.name, bare.open.name) == ("edge", "open edge")
    assert {"sum", "minus", "largest"}.isdisjoint({bare.whole.op, bare.open.op})
    rectangle = edges(make, length=20, width=10, house_edge=4)
    assert "house" in repr(rectangle.open)
    assert "other paving" not in repr(rectangle.open)
    half = edges(make, shape="half circle", diameter=20)
    assert [figure.name for figure in half.open.args] == [
        "straight edge of half circle", "curved edge of half circle",
    ]  # fmt: skip


def idle(figure: Figure) -> list[str]:
    """What adds or takes nothing where a figure comes from."""
    nodes = [node for node in in_order(figure) if node.op in ("sum", "minus")]
    return [node.name for node in nodes if any(arg.value == 0 for arg in node.args)]


def test_on_the_plan_nothing_is_added_or_taken_that_is_not_there(make: Any) -> None:
    """A half circle of 10 ft at the end of a terrace, and 14 ft named where 10 are hidden."""
    areas = (
        make.area(name="a", length=20, width=10, x=0.0, y=0.0, joined_edge=14),
        make.area(name="end", shape="half circle", diameter=10, x=20.0, y=5.0, turn=-90.0),
        make.area("Walk", shape="half circle", diameter=6, x=90.0, y=50.0),
    )
    found = parts(make, *areas)
    pieces = [*found["Terrace"].added, *found["Walk"].added]
    assert [idle(piece.edges.open) for piece in pieces] == [[]] * 3
    assert pieces[0].edges.open.value / FOOT == pytest.approx(50 - 4)


@pytest.mark.parametrize(("named", "beyond"), [(0, 0), (9.5, 0), (12, 12 - 3 * PI)])
def test_a_bowl_half_in_the_terrace_shares_half_its_curve(
    make: Any, named: float, beyond: float
) -> None:
    """A bowl of 6 ft in a hole of that size at the middle of a side: 3 pi ft stand free.

    What its row names beyond the shared 3 pi is taken off too.
    """
    around = {"shape": "circle", "diameter": 6, "x": 20.0, "y": 5.0}
    found = parts(
        make,
        make.area(name="a", length=20, width=10, x=0.0, y=0.0),
        make.area(name="hole", cut_out=True, **around),
        make.area("Bowl", joined_edge=named, **around),
    )
    terrace, hole = found["Terrace"].added[0], found["Terrace"].cut_out[0]
    bowl = found["Bowl"].added[0].edges
    assert bowl.whole.value / FOOT == pytest.approx(6 * PI)
    assert bowl.open.value / FOOT == pytest.approx(3 * PI - beyond, abs=0.05)
    assert hole.edges.whole.value / FOOT == pytest.approx(3 * PI, abs=0.05)
    assert hole.edges.open.value / FOOT == pytest.approx(0, abs=0.05)
    assert terrace.edges.open.value / FOOT == pytest.approx(54, abs=0.05)


def test_an_edge_that_is_all_covered_opens_when_less_of_it_is(make: Any) -> None:
    """40 of 60 ft against the house leave 20 where the row said 60."""
    row = make.area(length=20, width=10, house_edge=60)
    found = parts(make, row)["Terrace"].added[0].edges
    assert found.open.value == 0
    assert recalculate(found.open, {row.cell("house_edge"): 40 * FOOT}) / FOOT == pytest.approx(20)


@pytest.mark.parametrize("corner", [{}, {"x": 3.0, "y": 4.0}], ids=["alone", "on the plan"])
@pytest.mark.parametrize(
    ("hatch", "overrun", "left"),
    [((3, 2), 0.5, 2 * 1), ((1, 1), 0.7, 0), ((1, 1), 1.0, 0), ((4, 1), 0.6, 0), ((9, 8), 2, 20)],
)
def test_the_base_runs_into_a_cut_out_until_nothing_is_left_of_it(
    make: Any, corner: Any, hatch: Any, overrun: float, left: float
) -> None:
    """20 by 10 ft, so far past its edge on all sides and as far into a hatch."""
    at = {"x": 5.0, "y": 5.0} if corner else {}
    areas = (
        make.area(length=20, width=10, **corner),
        make.area(name="hatch", length=hatch[0], width=hatch[1], cut_out=True, **at),
    )
    part = parts(make, *areas)["Terrace"]
    base = part.base_area(constant(overrun * FOOT, DEPTH, "overrun"))
    assert base.value / FOOT**2 == pytest.approx((20 + 2 * overrun) * (10 + 2 * overrun) - left)
    assert part.area().value / FOOT**2 == pytest.approx(200 - hatch[0] * hatch[1])


def test_a_small_bowl_in_a_hole_of_its_size_has_no_open_edge(make: Any) -> None:
    """9 in across: 0.72 m of edge, all of it against the terrace; its hole is held by it."""
    found = parts(
        make,
        make.area(length=20, width=10, x=0.0, y=0.0),
        make.area(name="h", shape="circle", diameter=0.75, x=9.0, y=5.0, cut_out=True),
        make.area("Bowl", shape="circle", diameter=0.75, x=9.0, y=5.0),
    )
    bowl, hole = found["Bowl"].added[0].edges, found["Terrace"].cut_out[0].edges
    assert [bowl.open.value, hole.open.value] == pytest.approx([0, 0], abs=1e-9)
    assert bowl.whole.value / FOOT == pytest.approx(0.75 * PI)
    assert "not shared" not in repr(found["Terrace"].added[0].edges.open)


def test_of_a_triangle_on_the_plan_the_house_takes_its_share_of_the_corners(make: Any) -> None:
    """3, 4 and 5 ft: 3 of 12 ft are against the house, a quarter of the corners."""
    row = {"shape": "triangle", "length": 4, "width": 3, "x": 7.0, "y": 2.0}
    bare, housed = (edges(make, **row, house_edge=house).corners.value for house in (0, 3))
    # turns of 90 degrees, of 180 less atan(3/4), and of 90 plus that: tan of half of each
    assert bare == pytest.approx(1 + 3 + 2)
    assert housed == pytest.approx(6 * 9 / 12)


@pytest.mark.parametrize(("named", "open_edge"), [(0, 40), (10, 40), (14, 36)])
def test_a_half_round_end_hides_the_side_that_it_stands_at(
    make: Any, named: float, open_edge: float
) -> None:
    """20 by 10 ft show 50 ft, 10 of them against the house; 4 ft are named beyond the hidden 10."""
    terrace = make.area(
        name="a", length=20, width=10, x=0.0, y=0.0, house_edge=10, joined_edge=named
    )
    end = make.area(name="end", shape="half circle", diameter=10, x=20.0, y=5.0, turn=-90.0)
    main, half = parts(make, terrace, end)["Terrace"].added
    assert feet(main.edges) == pytest.approx([open_edge, 0, 50 - max(0, named - 10), 0], abs=1e-3)
    assert feet(half.edges) == pytest.approx([0, 5 * PI, 0, 5 * PI], abs=1e-3)


@pytest.mark.parametrize(("named", "curve"), [(0, 3 * PI), (3 * PI, 3 * PI), (11, 6 * PI - 11)])
def test_a_circle_half_over_an_end_hides_half_its_curve(
    make: Any, named: float, curve: float
) -> None:
    """Of 6 pi ft 3 pi lie inside the terrace; of 11 ft named the rest is taken off the curve."""
    terrace = make.area(name="a", length=20, width=10, x=0.0, y=0.0)
    end = make.area(name="end", shape="circle", diameter=6, x=20.0, y=5.0, joined_edge=named)
    main, round_ = parts(make, terrace, end)["Terrace"].added
    assert feet(main.edges)[0] == pytest.approx(54, abs=2e-3)
    assert feet(round_.edges)[:2] == pytest.approx([0, curve], abs=2e-3)


@pytest.mark.parametrize(("named", "beyond"), [(0, 0), (4.05, 0), (7, 3)])
def test_edge_named_beyond_what_the_plan_shows_is_taken_off_too(
    make: Any, named: float, beyond: float
) -> None:
    """A walk 4 ft wide at a side of 20 ft: 56 ft are open, less what the row names beyond it."""
    found = parts(
        make,
        make.area(length=20, width=10, x=0.0, y=0.0, joined_edge=named),
        make.area("Walk", length=4, width=9, x=8.0, y=10.0),
    )["Terrace"].added[0].edges  # fmt: skip
    assert feet(found) == pytest.approx([56 - beyond, 0, 56 - beyond, 0])
    assert ("beyond" in repr(found.open)) is (beyond > 0)
    assert "edge against Walk" in repr(found.open)


@pytest.mark.parametrize("inlaid", [False, True])
def test_a_slot_narrower_than_a_tape_has_no_sides(make: Any, inlaid: bool) -> None:
    """A slot of 3 ft by 6 mm shows its two ends alone, with a strip of 3 mm let into it or not."""
    strip = make.area("Inlay", length=2.8, width=0.01, x=6.1, y=5.005)
    areas = [
        make.area(length=20, width=10, x=0.0, y=0.0),
        make.area(name="slot", length=3, width=0.02, x=6.0, y=5.0, cut_out=True),
    ]
    terrace = parts(make, *areas, *[strip] * inlaid)["Terrace"]
    slot = terrace.cut_out[0].edges
    assert slot.whole.value / FOOT == pytest.approx(2 * 0.02, abs=1e-4)
    assert slot.open.value / FOOT == pytest.approx(2 * 0.02, abs=1e-4)
    assert terrace.added[0].edges.open.value / FOOT == pytest.approx(60)


def test_a_side_with_its_middle_at_nought_is_a_side(make: Any) -> None:
    around = parts(make, make.area(length=20, width=10, x=-10.0, y=0.0))["Terrace"].added[0]
    assert around.edges.whole.value / FOOT == pytest.approx(60)
    hole = make.area(name="h", length=2, width=2, x=-1.0, y=4.0, cut_out=True)
    with_hole = parts(make, make.area(length=20, width=8, x=-10.0, y=0.0), hole)["Terrace"]
    assert with_hole.edge("whole", "edge").value / FOOT == pytest.approx(56 + 8)


def test_a_jog_of_a_thumb_between_two_parts_has_its_corners_once(make: Any) -> None:
    """A walk at the end of a terrace whose side lies 1.5 cm behind the terrace's.

    The terrace has two corners at its far end, one at the jog and half of the hollow one there.
    """
    short = 10 - 0.015 / FOOT
    found = parts(
        make,
        make.area(length=20, width=10, x=0.0, y=0.0),
        make.area("Walk", length=5, width=short, x=20.0, y=0.0),
    )
    turns = {name: part.added[0].edges.corners.value for name, part in found.items()}
    assert turns == pytest.approx({"Terrace": 2.5, "Walk": 1.5})


def test_paving_that_touches_at_a_corner_alone_is_not_named_beside_an_edge(make: Any) -> None:
    found = parts(
        make,
        make.area(length=20, width=10, x=0.0, y=0.0),
        make.area("Walk", length=4, width=9, x=8.0, y=10.0),
        make.area("Court", length=5, width=6, x=20.0, y=10.0),
        make.area("Den", length=5, width=6, x=-5.0, y=10.0),
    )["Terrace"].added[0].edges  # fmt: skip
    assert found.open.value / FOOT == pytest.approx(56)
    told = repr(found.open)
    assert "edge against Walk" in told
    assert "Court" not in told
    assert "Den" not in told


def test_a_size_of_nought_is_a_size_that_is_missing(make: Any) -> None:
    for row, told in (
        ({"length": 0, "width": 4}, "a rectangle without length"),
        ({"length": 4}, "a rectangle without width"),
        ({"shape": "ring", "diameter": 4, "inner_diameter": 0}, "a ring without inner diameter"),
    ):
        found, (notice,) = parts_of(make.job(make.area(**row)))
        assert found == ()
        assert (notice.code, notice.found) == ("impossible-shape", told)


@pytest.mark.parametrize(("turn", "shared"), [(45.0, 0.0), (3.0, 0.0), (0.5, 1.0), (0.0, 1.0)])
def test_only_sides_that_run_along_each_other_are_shared(
    make: Any, turn: float, shared: float
) -> None:
    """A step of 1 by 1 ft whose corner touches a side of 20 ft; at half a degree it is 3 mm off."""
    step = make.area("Step", length=1, width=1, x=8.0, y=10.0, turn=turn)
    found = parts(make, make.area(length=20, width=10, x=0.0, y=0.0), step)
    opens = {name: part.added[0].edges.open.value / FOOT for name, part in found.items()}
    wanted = {"Terrace": 60 - shared, "Step": 4 - shared}
    assert opens == pytest.approx(wanted, abs=1e-3)
