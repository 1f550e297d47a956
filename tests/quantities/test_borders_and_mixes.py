"""Borders in whole units, mixed sizes by their shares, packs in words, and what to question."""

import itertools
import math
import re
from dataclasses import replace

import pytest
import shapely
from shapely import Polygon, box, unary_union

from budget.quantities import take_off
from budget.quantities.laid.border_drawing import border_units
from budget.quantities.laid.borders import border_of, runs
from budget.quantities.laid.mixed_courses import MixedSize, courses, lay_mixed
from budget.units import FOOT, INCH

PATIO = ((0.0, 0.0), (20 * FOOT, 0.0), (20 * FOOT, 10 * FOOT), (0.0, 10 * FOOT))
ELL = tuple(
    (x * FOOT, y * FOOT) for x, y in ((0, 0), (20, 0), (20, 10), (12, 10), (12, 16), (0, 16))
)
BRICK = 8 / 12 * FOOT, 4 / 12 * FOOT, 0.0


def need(takeoff, item):
    return next(n for n in takeoff.needs if n.item == item)


def test_a_soldier_course_on_paper():
    """BIA Seven Easy Steps: one brick for each 4 in of edge, so 60 ft take 180."""
    border = border_of("Patio", "Brick", "soldier", BRICK, [(PATIO,)])
    assert border.units.value == 180
    assert border.cut.value == 4 * 2 * 2  # the mitre crosses two bricks on each side of a corner
    inner = (20 - 16 / 12) * (10 - 16 / 12)
    assert border.area.value / FOOT**2 == pytest.approx(200 - inner)
    assert border.cut_length.value / FOOT == pytest.approx(4 * 2 * 8 / 12 * math.sqrt(2))


def test_a_sailor_course_on_paper():
    """Lengthwise, 8 in each: 30 along a side of 20 ft, 15 along one of 10 ft."""
    border = border_of("Patio", "Brick", "sailor", BRICK, [(PATIO,)])
    assert border.units.value == 2 * (30 + 15)
    assert shapely.Polygon(border.field[0][0]).area / FOOT**2 == pytest.approx(
        (20 - 8 / 12) * (10 - 8 / 12)
    )


def test_a_hollow_corner_is_counted_by_its_inner_side():
    """The sides at the hollow corner of an L, 8 and 6 ft, are longer inside by the depth."""
    lengths = sorted(run.length / FOOT for run in runs(ELL, 0.5 * FOOT))
    assert lengths == pytest.approx([6.5, 8.5, 10, 12, 16, 20])


def test_a_curve_is_one_run():
    ring = tuple((math.cos(math.tau * i / 96), math.sin(math.tau * i / 96)) for i in range(96))
    (run,) = runs(ring, 0.2)
    assert run.length == pytest.approx(math.tau, rel=1e-3)
    assert run.turns == ()


def circle(radius):
    turn = math.tau / 96
    return tuple((radius * math.cos(turn * i), radius * math.sin(turn * i)) for i in range(96))


@pytest.mark.parametrize(
    ("radius", "tapered"),
    [
        # 8 in deep, 4 in apart: 2 pi 8 in over 2 pi r / 4 in units open each by 32 in / r
        (60, True),  # 0.53 in
        (72, False),  # 0.44 in: below half an inch
    ],
)
def test_units_of_a_tight_curve_are_cut_to_a_taper(radius, tapered):
    ring = circle(radius / 12 * FOOT)
    border = border_of("Round", "Brick", "soldier", BRICK, [(ring,)])
    units = math.ceil(math.tau * radius / 4 - 0.5)  # the chords are a little shorter
    assert border.units.value == pytest.approx(units, abs=1)
    assert border.cut.value == (border.units.value if tapered else 0)
    each = 8 / 12 * FOOT if tapered else 0
    assert border.cut_length.value == pytest.approx(border.units.value * each)


def test_a_curve_that_bends_inwards_is_counted_by_its_inner_side():
    """A square of 4 m with a bay of 1 m cut round out of one side: pi (1 + 0.2) inside."""
    bay = tuple(
        (2 + math.cos(math.pi * i / 48), math.sin(math.pi * i / 48)) for i in range(48, -1, -1)
    )
    ring = ((0.0, 0.0), *bay, (4.0, 0.0), (4.0, 4.0), (0.0, 4.0))
    curve = next(run for run in runs(ring, 0.2) if len(run.points) > 2)
    assert curve.length == pytest.approx(math.pi * 1.2, rel=5e-3)


SHAPES = {
    "patio": PATIO,
    "L": ELL,
    "kinked": ((0.0, 0.0), (4.0, 0.6), (7.0, 3.0), (4.4, 5.9), (-0.6, 4.1)),
    "round": circle(3.0),
    "tight": circle(1.2),
}


@pytest.mark.parametrize("course", ["soldier", "sailor"])
@pytest.mark.parametrize("name", SHAPES)
@pytest.mark.parametrize("joint", [0.0, 0.004])
def test_the_drawn_border_is_the_counted_one(course, name, joint):
    """As many units as counted, the cut ones shaded, side by side and inside the strip."""
    border = border_of("Patio", "Brick", course, (*BRICK[:2], joint), [(SHAPES[name],)])
    whole, cut = border_units(border)
    assert len(cut) == border.cut.value
    assert len(whole) + len(cut) == border.units.value
    shapes = [Polygon(ring) for ring in (*whole, *cut)]
    faces = sum(shape.area for shape in shapes)
    assert unary_union(shapes).area == pytest.approx(faces, rel=2e-3)
    outline = Polygon(SHAPES[name])
    assert outline.buffer(2e-4).covers(unary_union(shapes))
    share = 1 - BRICK[0] * BRICK[1] / ((BRICK[0] + joint) * (BRICK[1] + joint))
    assert border.area.value - faces == pytest.approx(
        share * border.area.value, abs=0.03 * border.area.value
    )
    if name in ("patio", "L"):
        assert all(
            Polygon(ring).area == pytest.approx(BRICK[0] * BRICK[1], rel=1e-3) for ring in whole
        )
        assert all(Polygon(ring).area < BRICK[0] * BRICK[1] for ring in cut)


def test_drawn_units_lie_on_tenths_of_a_millimetre():
    """Finer than that no paver is laid, and a plan of many stays small."""
    border = border_of("Patio", "Brick", "soldier", BRICK, [(SHAPES["kinked"],)])
    drawn = [n for rings in border_units(border) for ring in rings for at in ring for n in at]
    assert any(n * 1e3 != pytest.approx(round(n * 1e3), abs=1e-6) for n in drawn)
    assert [n * 1e4 for n in drawn] == pytest.approx([round(n * 1e4) for n in drawn], abs=1e-6)


def test_the_border_is_in_the_drawing_of_its_field(make):
    [drawing] = take_off(bordered(make, "Edge brick")).parts[0].laid
    assert drawing.border == "soldier course of Edge brick"
    assert len(drawing.border_whole) + len(drawing.border_cut) == 180
    assert len(drawing.border_cut) == 16
    [outline] = drawing.outlines
    assert Polygon(outline).area / FOOT**2 == pytest.approx(200)
    pavers = [Polygon(ring) for ring in (*drawing.whole, *drawing.cut)]
    edge = [Polygon(ring) for ring in (*drawing.border_whole, *drawing.border_cut)]
    assert unary_union(pavers + edge).area / FOOT**2 == pytest.approx(200, rel=2e-3)


def bordered(make, border, **product):
    return make.job(
        make.area(length=20, width=10, paver="Brick", border=border, border_course="soldier"),
        products=(
            make.product("Brick", "paver", length=8, width=4, height=2.375, joint=0, **product),
            make.product("Edge brick", "paver", length=8, width=4, height=2.375, joint=0),
        ),
    )


def test_border_and_field_are_two_needs_of_two_units(make):
    found = take_off(bordered(make, "Edge brick"))
    edge = need(found, "Edge brick")
    assert edge.net.value == 180
    assert edge.order.value == pytest.approx(180 * 1.03 + 16 * 0.1)
    inner = (20 - 16 / 12) * (10 - 16 / 12)
    assert need(found, "Brick").net.value == pytest.approx(inner * 4.5)
    assert found.parts[0].area.value / FOOT**2 == pytest.approx(200)


def test_border_and_field_of_one_unit_are_one_need(make):
    apart, together = (take_off(bordered(make, item)) for item in ("Edge brick", "Brick"))
    both = need(apart, "Brick").order.value + need(apart, "Edge brick").order.value
    assert need(together, "Brick").order.value == pytest.approx(both)
    assert sum(n.kind == "paver" for n in together.needs) == 1


def test_without_a_border_nothing_changes(make):
    area = {"length": 20, "width": 10, "paver": "Brick"}
    brick = make.product("Brick", "paver", length=8, width=4, height=2.375, joint=0)
    plain = take_off(make.job(make.area(**area), products=(brick,)))
    assert need(plain, "Brick").net.value == pytest.approx(900)


def test_a_mixed_set_by_its_shares(make):
    """100 sq ft, 60 % in 12 x 12 in and 40 % in 6 x 12 in: 60 and 80 pieces.

    Courses of 12 in close on 10 ft without a cut, so only the spares (3 %) are added.
    """
    found = take_off(mixed(make, make.area(length=10, width=10, paver="Ashlar", pattern="random")))
    for item, count in (("Large", 60), ("Small", 80)):
        assert need(found, item).net.value == pytest.approx(count)
        assert need(found, item).order.value == pytest.approx(count * 1.03, abs=1.5)
    assert sum(s.amount.value for s in found.steps if s.step == "Cut") == 0
    [drawing] = found.parts[0].laid
    assert drawing.item == "Large and Small"
    assert sum(Polygon(ring).area for ring in drawing.whole) / FOOT**2 == pytest.approx(100)


def test_sizes_without_a_share_take_as_much_as_an_even_one(make):
    """Half is said of the first of three; of the others a third each: 3 to 2 to 2 of 70 sq ft."""
    sizes = (("Large", 12, {"share": 0.5}), ("Middle", 8, {}), ("Small", 6, {}))
    rows = [
        make.product(n, "paver", length=12, width=wide, height=2, joint=0, mix="Ashlar", **share)
        for n, wide, share in sizes
    ]
    area = make.area(shape="measured", area=70, paver="Ashlar", pattern="random")
    found = take_off(make.job(area, products=tuple(rows)))
    counts = [need(found, name).net.value for name, _, _ in sizes]
    assert counts == pytest.approx([30, 20 / (8 / 12), 20 / 0.5])


def test_a_mixed_set_of_unknown_outline_by_a_percentage(make):
    """Given by its area alone: 10 % more, a general guide's figure for random work."""
    area = make.area(shape="measured", area=100, paver="Ashlar", pattern="random")
    found = take_off(mixed(make, area))
    for item, count in (("Large", 60), ("Small", 80)):
        assert need(found, item).order.value == pytest.approx(count * 1.10)


@pytest.mark.parametrize(
    ("spares", "outlined", "measured"),
    [
        (None, 0.02, 0.0),  # 2 % by default; within the rule of thumb's 5 %
        (0.0, 0.0, 0.0),
        (0.04, 0.04, 0.04),  # asked for: beside it
    ],
)
def test_spares_to_keep_are_a_quantity_of_their_own(make, spares, outlined, measured):
    """A field of 15 by 15 bricks: 1 % breaks, a tenth of the cuts is spoiled; 5 % by the rule."""
    brick = make.product("Brick", "paver", length=8, width=4, height=2.375, joint=0)

    def order(**area):
        rows = make.area(paver="Brick", pattern="stack bond", **area)
        job = make.job(rows, products=(brick,), settings={"spares": spares})
        return need(take_off(job), "Brick")

    laid = order(length=10, width=5)
    cuts = float(laid.why.split(" cut,")[0].split()[-1])
    assert laid.order.value == pytest.approx(225 * (1.01 + outlined) + cuts * 0.1)
    assert order(shape="measured", area=50).order.value == pytest.approx(225 * (1.05 + measured))


def ringed(make, border):
    """12 x 12 ft, a soldier course of 12 in all round: the field is the 10 x 10 ft above."""
    return make.area(length=12, width=12, paver="Ashlar", pattern="random", border=border,
                     border_course="soldier")  # fmt: skip


def test_the_curves_of_a_mixed_set_are_counted_once(make):
    """An arc of 5.5 by pi feet, 17.3 ft, shared by two sizes, beside slanted sides that are longer.

    So much of the cutting is straight that a splitter suits, and the arc is what it leaves.
    """
    sets = {"paver": "Ashlar", "pattern": "random"}
    job = mixed(make, make.area(shape="half circle", diameter=11, **sets))
    slant = make.area(shape="triangle", length=60, width=37, **sets)
    said = take_off(replace(job, areas=(*job.areas, slant))).way_to_cut
    left = re.search(r"The other ([\d.]+) ft", said)
    assert left is not None, said
    assert float(left[1]) == pytest.approx(5.5 * math.pi, abs=0.5)


def test_a_mixed_set_inside_a_border_of_its_own_size(make):
    """24 units of 6 in on each side of 12 ft: 96, and the field's 60 and 80 as without border."""
    found = take_off(mixed(make, ringed(make, "Small")))
    assert need(found, "Large").net.value == pytest.approx(60)
    assert need(found, "Small").net.value == pytest.approx(80 + 96)
    # 2 units a side end are cut at the mitres: 16, a tenth of them spoiled; field: no cuts
    assert need(found, "Large").order.value == pytest.approx(60 * 1.03, abs=1.5)
    assert need(found, "Small").order.value == pytest.approx(176 * 1.03 + 1.6, abs=1.5)
    assert sum(n.kind == "paver" for n in found.needs) == 2
    assert "border-unlaid" not in {w.code for w in found.warnings}
    assert found.parts[0].area.value / FOOT**2 == pytest.approx(144)
    # four mitres, each cut across both units: 8 cuts of a foot's diagonal
    assert found.parts[0].cut_length.value / FOOT == pytest.approx(8 * math.sqrt(2))


def test_a_mixed_set_inside_a_border_of_another_unit(make):
    found = take_off(mixed(make, ringed(make, "Edge")))
    assert need(found, "Edge").net.value == 96
    assert need(found, "Large").net.value == pytest.approx(60)
    assert need(found, "Small").net.value == pytest.approx(80)


def mixed(make, area):
    edge = make.product("Edge", "paver", length=12, width=6, height=2.375, joint=0)
    rows = (
        edge,
        make.product("Large", "paver", length=12, width=12, height=2.375, joint=0, mix="Ashlar",
                     share=0.6),
        make.product("Small", "paver", length=12, width=6, height=2.375, joint=0, mix="Ashlar",
                     share=0.4),
    )  # fmt: skip
    return make.job(area, products=rows)


SETS = {
    "one course height": [(0.15, 0.15, 0.25), (0.225, 0.15, 0.35), (0.3, 0.15, 0.4)],
    "two course heights": [(0.15, 0.15, 0.25), (0.225, 0.15, 0.35), (0.225, 0.225, 0.4)],
}
CORNERS = ((0.0, 0.0), (6.0, 0.4), (6.2, 3.0), (3.3, 3.9), (3.0, 6.2), (0.0, 5.0))


@pytest.mark.parametrize("joint", [0.0, 0.004])
@pytest.mark.parametrize("name", SETS)
def test_a_mixed_set_on_an_outline_of_any_shape(name, joint):
    """Pavers and joints fill the outline, and each size has its share of the area."""
    sizes = tuple(MixedSize(a - joint, b - joint, joint, share) for a, b, share in SETS[name])
    found = lay_mixed((CORNERS,), sizes, 0.01)
    area = Polygon(CORNERS).area
    for i in range(len(found[0].layings)):
        layings = [layout.layings[i] for layout in found]
        laid = sum(lay.laid for lay in layings)
        if joint:
            cells = sum(
                lay.laid * (size.unit.cell / size.unit.face)
                for lay, size in zip(layings, sizes, strict=True)
            )
            assert cells == pytest.approx(area, rel=0.01)
        else:
            assert laid == pytest.approx(area, rel=1e-6)
        for lay, size in zip(layings, sizes, strict=True):
            assert lay.laid / laid == pytest.approx(size.share, abs=0.03)
            assert lay.units * size.unit.face >= lay.laid


@pytest.mark.parametrize("name", SETS)
def test_joints_of_a_mixed_set_are_staggered(name):
    """Few joints stand over one below, and pavers never lie over each other."""
    sizes = tuple(MixedSize(*one[:2], 0.0, one[2]) for one in SETS[name])
    put = list(courses(sizes, 6.0, 4.0, seed=1))
    rows: dict[float, list[float]] = {}
    for one in put:
        rows.setdefault(round(one.y, 6), []).append(round(one.x, 6))
    inner = [set(row[1:]) for _, row in sorted(rows.items())]
    through = sum(len(low & high) for low, high in itertools.pairwise(inner))
    assert through < 0.2 * sum(len(row) for row in inner)
    boxes = [box(*one.box) for one in put]
    assert unary_union(boxes).area == pytest.approx(sum(one.area for one in boxes))


def test_packs_are_said(make):
    found = take_off(bordered(make, "Edge brick", per_pallet=400, per_layer=40))
    inner = need(found, "Brick")
    pallets, rest = divmod(math.ceil(inner.order.value), 400)
    assert f"{pallets} pallet" in inner.why
    assert f"{rest // 40} layers" in inner.why


QUESTIONED = [
    ("pattern-unfit", {"pattern": "herringbone 90"}, {"length": 12, "width": 12}),
    ("sliver", {"width": 0.025, "length": 4}, {}),
    ("border-unlaid", {"shape": "measured", "area": 100, "border": "Brick"}, {}),
]


@pytest.mark.parametrize(("code", "area", "paver"), QUESTIONED)
def test_what_a_mason_would_question(make, code, area, paver):
    sizes = {"length": 8, "width": 4, "height": 4, "joint": 0.125} | paver
    shape = {"length": 20, "width": 10} | area
    if "area" in area:
        shape = area
    row = make.product("Brick", "paver", **sizes)
    found = take_off(make.job(make.area(paver="Brick", **shape), products=(row,)))
    assert code in {w.code for w in found.warnings}
    plain = make.area(paver="Brick", length=20, width=10, pattern="running bond")
    assert code not in {w.code for w in take_off(make.job(plain, products=(row,))).warnings}


@pytest.mark.parametrize(("thick", "told"), [(2.5, False), (2.6, True)])
def test_pavers_of_uneven_thickness(make, thick, told):
    """ICPI tolerance guide: at most 1/8 in between neighbours."""
    rows = (
        make.product("Thin", "paver", length=8, width=4, height=2.375, joint=0),
        make.product("Thick", "paver", length=8, width=4, height=thick, joint=0),
    )
    areas = (
        make.area(name="a", paver="Thin", length=8, width=4),
        make.area(name="b", paver="Thick", length=8, width=4),
    )
    found = take_off(make.job(*areas, products=rows))
    assert ("uneven-pavers" in {w.code for w in found.warnings}) == told


def test_below_thinner_pavers_lies_more_bedding(make):
    """100 sq ft each of 2 3/8 and of 3 1/8 in on one base: 3/4 in more sand below the thin ones."""
    rows = (
        make.product("Thin", "paver", length=8, width=4, height=2.375, joint=0),
        make.product("Thick", "paver", length=8, width=4, height=3.125, joint=0),
    )
    areas = [
        make.area(name=name, paver=paver, length=10, width=10)
        for name, paver in (("a", "Thin"), ("b", "Thick"))
    ]
    layers = make.build_up(bedding="sand")
    found = take_off(make.job(*areas, products=rows, build_ups=(layers,)))
    sand = next(need for need in found.needs if need.kind == "bedding sand")
    assert sand.net.value / FOOT**3 == pytest.approx(200 / 12 + 100 * 0.75 / 12)
    dug = next(s.amount for s in found.steps if s.step == "Dig").value
    assert dug / found.parts[0].base_area.value == pytest.approx((3.125 + 1 + 4) * INCH)


def test_a_thick_border_is_dug_for_and_its_field_bedded_deeper(make):
    """A border 1 in thicker than the field, 4 in wide around 10 x 10 ft: the field is 9.33 ft."""
    rows = (
        make.product("Field", "paver", length=8, width=4, height=2.375, joint=0),
        make.product("Edge", "paver", length=8, width=4, height=3.375, joint=0),
    )
    area = make.area(paver="Field", border="Edge", border_course="sailor", length=10, width=10)
    layers = make.build_up(bedding="sand")
    found = take_off(make.job(area, products=rows, build_ups=(layers,)))
    sand = next(need for need in found.needs if need.kind == "bedding sand")
    field = (10 - 2 * 4 / 12) ** 2
    assert sand.net.value / FOOT**3 == pytest.approx(100 / 12 + field / 12)
    dug = next(s.amount for s in found.steps if s.step == "Dig").value
    assert dug / found.parts[0].base_area.value == pytest.approx((3.375 + 1 + 4) * INCH)


def test_joints_of_a_border_go_by_its_own_unit(make):
    """10 x 10 ft: a border 4 in wide without joints takes no filler, the field inside does."""
    rows = (
        make.product("Field", "paver", length=7.875, width=3.875, height=2.375, joint=0.125),
        make.product("Edge", "paver", length=8, width=4, height=2.375, joint=0),
    )
    area = make.area(paver="Field", border="Edge", border_course="sailor", length=10, width=10)
    found = take_off(make.job(area, products=rows))
    filler = next(need for need in found.needs if need.kind == "joint sand")
    field, share = (10 - 2 * 4 / 12) ** 2, 1 - 7.875 * 3.875 / 32
    assert filler.net.value / FOOT**3 == pytest.approx(field * share * (2.375 - 0.125) / 12)
