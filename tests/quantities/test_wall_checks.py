"""What is said of walls, rings, columns and steps at the very limits, and what is not bought."""

from __future__ import annotations

import math

import pytest

from budget.figures import constant, workings
from budget.quantities import take_off
from budget.quantities.formulas.rings import open_joint
from budget.quantities.formulas.spares import in_words
from budget.quantities.materials import Materials
from budget.quantities.needs.features_on_plan import outlines, with_features
from budget.units import COUNT, FOOT, INCH, RATIO


@pytest.fixture
def built(make):
    """The takeoff of some walls of 12 x 8 x 4 in blocks with caps of 2 in."""
    block = make.product("Block", "wall unit", length=12, width=8, height=4)
    cap = make.product("Coping", "cap", length=12, width=12, height=2)

    def run(*walls, products=(), **sheets):
        job = make.job(
            make.area(length=9, width=9), walls=walls, products=(block, cap, *products), **sheets
        )
        return take_off(job)

    return run


def codes(found):
    return {w.code for w in found.warnings if w.sheet == "Walls"}


def needs(found, item):
    return [n for n in found.needs if n.item == item]


def names_in(figure):
    return {line.name for line in workings(figure, "imperial")}


def said_of(found, step):
    return {s.amount.name for s in found.steps if s.step == step}


@pytest.mark.parametrize(
    ("inches", "cap", "told"),
    [(16, "", False), (18, "Coping", False), (15, "", False), (14.5, "", True), (16.5, "", True)],
)
def test_a_height_in_whole_courses(make, built, inches, cap, told):
    """Courses of 4 in, rounded up, and a cap of 2 in; an inch is not worth saying."""
    wall = make.wall(length=10, height=inches, cap=cap, buried=0.0)
    assert ("height-not-in-courses" in codes(built(wall))) is told


@pytest.mark.parametrize(
    ("kind", "feet", "told"),
    [("wall", 4, False), ("wall", 4.4, True), ("wall", 1, False), ("column", 5, True),
     ("ring", 5, False)],
)  # fmt: skip
def test_walls_above_four_feet_are_for_an_engineer(make, built, kind, feet, told):
    """NCMA SRW Residential Applications, Table 1: up to 4 ft, buried courses counted."""
    size = {"diameter": 80} if kind == "ring" else {"length": 2}
    wall = make.wall(kind=kind, height=12 * feet, buried=0.0, **size)
    assert ("wall-too-high" in codes(built(wall))) is told


@pytest.mark.parametrize(
    ("long", "wide", "told"), [(24, 24, False), (24, 12, True), (12, 24, True), (30, 24, False)]
)
def test_a_cap_as_wide_as_its_column(make, built, long, wide, told):
    cap = make.product("Lid", "cap", length=long, width=wide, height=2)
    post = make.wall("post", kind="column", length=2, height=10, cap="Lid")
    found = built(post, products=(cap,))
    assert ("cap-too-small" in codes(found)) is told
    texts = [w.found for w in found.warnings if w.code == "cap-too-small"]
    assert all(text.endswith("on a 24 in column") for text in texts)


@pytest.mark.parametrize(("inches", "told"), [(0.0, False), (0.1, True)])
def test_a_liner_with_half_an_inch_all_round(make, built, inches, told):
    """13 blocks of 12 in touch at their backs: 156 in around, 49.7 in across."""
    ring = make.wall("ring", kind="ring", diameter=64, height=8, liner=156 / math.pi - 1 + inches)
    assert ("liner-does-not-fit" in codes(built(ring))) is told


@pytest.mark.parametrize(
    ("values", "told"),
    [({"optional": True, "stands": "in the paving"}, True), ({"optional": True}, False),
     ({"stands": "in the paving"}, False)],
)  # fmt: skip
def test_only_something_optional_in_the_paving_is_questioned(make, built, values, told):
    found = built(make.wall(length=3, height=12, **values))
    assert ("optional-in-paving" in codes(found)) is told


def test_a_wall_set_on_the_ground_is_not_dug_for(make, built):
    """Without a pad and a buried course there is neither digging nor stone."""
    found = built(make.wall(length=10, height=12, pad=0, buried=0.0))
    for step in ("Dig", "Base", "Spoil"):
        assert not [name for name in said_of(found, step) if "seat wall" in name]
    assert [n.what for n in needs(found, "Base stone") if n.what] == []
    kept = built(make.wall(length=10, height=12), settings={"keep_soil": True})
    assert [name for name in said_of(kept, "Dig") if "seat wall" in name]


def test_soil_beside_a_wall_without_buried_courses_all_goes(make, built):
    """Only the pad is dug, and stone fills it: nothing goes back."""
    row = make.wall(length=10, height=12, buried=0.0)
    given, kept = (built(row, settings={"keep_soil": keep}) for keep in (False, True))
    heaps = [
        [s.amount.value for s in found.spoil if "seat wall" in s.amount.name]
        for found in (given, kept)
    ]
    assert heaps[0] == heaps[1] != []


def test_what_is_glued(make, built):
    """A single course without a cap has no joint to glue; nor has a step without a tread."""
    low = make.wall(length=10, height=4, buried=0.0, glue="every course")
    step = make.wall("step", kind="steps", length=4, height=4, risers=1, glue="caps", cap="Coping")
    bare = make.wall(length=10, height=8, glue="caps")
    for row in (low, step, bare):
        assert not needs(built(row), "Adhesive")


@pytest.mark.parametrize("inches", [18.3, 36.6])
def test_tubes_hold_what_their_product_says(make, built, inches):
    """One layer, two beads of 3/8 by 3/8 in along 12 ft."""
    tube = make.product("Adhesive", "adhesive", holds=inches * INCH**3 / FOOT)
    found = built(make.wall(length=12, height=18, cap="Coping", glue="caps"), products=(tube,))
    assert needs(found, "Adhesive")[0].order.value == pytest.approx(
        2 * 144 * 0.375**2 / inches, rel=1e-6
    )


def test_half_a_block_is_still_bought(make, built):
    """One block and a twentieth, less half of one that lies there."""
    wall = make.wall(length=1, height=4, buried=0.0)
    found = built(wall, stock=(make.stock("Block", 1, usable=0.5),))
    assert [n.order.value for n in needs(found, "Block")] == pytest.approx([0.55])


def test_what_caps_ask_for_is_said_of_the_caps(make, built):
    found = built(make.wall(length=11, height=18, cap="Coping"))
    assert "cut flush" in needs(found, "Coping")[0].why
    assert "cut flush" not in needs(found, "Block")[0].why
    assert needs(found, "Block")[0].order.name == "Block to order, seat wall"


def test_halves_of_blocks_are_cut_straight(make, built):
    """Ten walls of 10 ft: a splitter does all of it, since blocks of 4 in are not too thick."""
    found = built(make.wall(length=10, height=48, count=10, buried=0.0))
    assert "paver splitter suits" in found.way_to_cut
    assert "The other" not in found.way_to_cut


def features(make, **values):
    block = make.product("Block", "wall unit", length=12, width=8, height=3.5)
    job = make.job(walls=(make.wall(stands="in the paving", **values),), products=(block,))
    materials = Materials(job)
    return with_features(job, materials).areas, outlines(job, materials)


def test_each_of_several_alike_is_a_hole_of_its_own(make):
    """Columns of 2 by 2 ft: 8 ft of edge that is held as by a house."""
    holes, _ = features(make, name="post", kind="column", length=2, height=12, count=2)
    assert [hole.name for hole in holes] == ["post 1", "post 2"]
    assert [hole.house_edge / FOOT for hole in holes] == pytest.approx([8, 8])
    [one], _ = features(make, name="post", kind="column", length=2, height=12)
    assert one.name == "post"


@pytest.mark.parametrize(("risers", "deep"), [(1, 1), (2, 1), (3, 2)])
def test_steps_reach_as_far_as_their_treads(make, risers, deep):
    """Treads of 14 in, the landing being the top one; a single step lies a tread deep too."""
    _, [(_, ring)] = features(
        make, kind="steps", length=4, height=7 * risers, tread=14, risers=risers, x=0, y=0
    )
    assert max(y for _, y in ring) / INCH == pytest.approx(14 * deep)


def test_caps_of_a_wall_with_a_corner(make, built):
    """11 ft and 2 in past each end are 136 in: 12 caps, one more at the mitre; 11 and 1 flush.

    Of a column, and of a wall that has not its own length, nothing of the kind is said.
    """
    [caps] = needs(built(make.wall(length=11, height=18, cap="Coping", corners=1)), "Coping")
    assert caps.net.value == 13
    assert "take 13; cut flush with the ends, 12 would do" in caps.why
    post = make.wall("post", kind="column", length=2, height=10, cap="Coping")
    [caps] = needs(built(post), "Coping")
    assert caps.net.value == 4
    assert "cut flush" not in caps.why


def test_a_ring_and_a_column_by_their_middles(make, built):
    """A ring of 80 in outside and 64 inside is 72 in across its middle, its pad 8 + 8 in wide.

    Around the middle of a column of 24 in: four times 24 less 8 in, glued between two courses.
    """
    ring = make.wall("ring", kind="ring", diameter=80, height=8, buried=0.0)
    stone = next(
        s.amount for s in built(ring).steps if s.step == "Base" and "ring" in s.amount.name
    )
    assert stone.value / INCH**3 == pytest.approx(math.pi * 72 * 16 * 4)
    assert stone.op == "product"  # and no sum of one
    post = make.wall("post", kind="column", length=2, height=8, buried=0.0, glue="every course")
    [glue] = needs(built(post), "Adhesive")
    assert glue.measures["length"].value / INCH == pytest.approx(4 * (24 - 8) * 2)


def test_a_single_step_is_worked_out_without_what_only_more_have(make, built):
    """4 ft wide and 12 in deep on a pad 4 in past it all round; one tread of no units."""
    step = make.wall("step", kind="steps", length=4, height=4, tread=12, risers=1, cap="Coping")
    found = built(step)
    assert not needs(found, "Coping")
    stone = next(s.amount for s in found.steps if s.step == "Base" and "step" in s.amount.name)
    assert stone.value / FOOT**3 == pytest.approx((4 + 8 / 12) * (1 + 8 / 12) * 4 / 12)
    assert "stone below the treads" not in names_in(stone)
    high = make.wall("step", kind="steps", length=4, height=8, risers=1, buried=0.0,
                     glue="every course")  # fmt: skip
    [glue] = needs(built(high), "Adhesive")  # two beads between two courses along 4 ft
    assert glue.measures["length"].value / FOOT == pytest.approx(8)


def test_two_risers_by_their_sums(make, built):
    """Two of 8 in, 4 ft wide, treads of 12 in, one course buried, glued in every course.

    Front: 4 blocks, two courses, twice; sides: two treads of 12 in, 2 blocks, two courses. Glued
    along one tread of 4 ft and 2 ft of sides: 6 ft, two beads, three layers between four courses.
    """
    steps = make.wall("steps", kind="steps", length=4, height=16, tread=12, risers=2, buried=1.0,
                      glue="every course")  # fmt: skip
    found = built(steps)
    [blocks], [glue] = needs(found, "Block"), needs(found, "Adhesive")
    assert blocks.net.value == 2 * 4 * 2 + 2 * 2
    assert glue.measures["length"].value / FOOT == pytest.approx(6 * 2 * 3)
    dug = next(s.amount for s in found.steps if s.step == "Dig" and "steps" in s.amount.name)
    pad = (4 + 8 / 12) * (1 + 8 / 12)
    assert dug.value / FOOT**3 == pytest.approx(pad * 8 / 12)  # 4 in of pad, 4 in buried


def test_backs_gape_where_the_fronts_touch():
    """21 units of 12 in at the front and 9 at the back, 8 in deep: 252 in around the outside,
    50.3 in less around the inside, where each has 9.61 in for its 9."""
    assert open_joint(21, 8, 12, 9) == pytest.approx((252 - 16 * math.pi) / 21 - 9)


def test_spares_are_told_to_a_hundredth_of_a_per_cent():
    said = in_words(constant(1000, COUNT, "laid"), constant(0.02346, RATIO, "spares"))
    assert "24 spares to keep (2.35 % of those laid)" in said
