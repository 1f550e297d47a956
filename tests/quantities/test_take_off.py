"""A whole takeoff, recomputed with plain arithmetic, and what changes it."""

from dataclasses import replace

import pytest

from budget.figures import inputs, recalculate, workings
from budget.quantities import take_off
from budget.quantities.needs.fire import has_fire
from budget.reference import steps
from budget.units import FOOT, INCH, POUND, SHORT_TON, YARD


def need(takeoff, item, bedding=None, part=None):
    found = [
        n
        for n in takeoff.needs
        if n.item == item
        and bedding in (None, n.bedding)
        and part in (None, n.part)
    ]  # fmt: skip
    assert len(found) == 1, [(n.item, n.part, n.bedding) for n in takeoff.needs]
    return found[0]


def amount(takeoff, step, bedding="", part=None):
    return sum(
        s.amount.value
        for s in takeoff.steps
        if s.step == step and s.bedding == bedding and part in (None, s.part)
    )


@pytest.fixture
def patio(make):
    """10 x 20 ft, open all round, 4 x 8 in pavers 2 3/8 in thick laid tight."""
    return make.job(
        make.area(length=20, width=10, pattern="running bond"),
        products=(make.product("Paver", "paver", length=8, width=4, height=2.375, joint=0),),
        build_ups=(make.build_up(bedding="sand", joint_filler="joint sand", geotextile=False),),
    )


def test_patio_by_plain_arithmetic(patio):
    found = take_off(patio)
    part = found.parts[0]
    assert part.area.value / FOOT**2 == pytest.approx(200)
    assert part.base_area.value / FOOT**2 == pytest.approx(231)
    assert part.edge.value / FOOT == pytest.approx(60)
    pavers = need(found, "Paver")
    assert pavers.net.value == pytest.approx(900)
    # 30 courses of 30; every other course has two halves: 30 cut pieces out of 15 pavers, 3 spoiled
    assert pavers.order.value == pytest.approx(900 * 1.03 + 3)
    assert pavers.measures["area"].value / FOOT**2 == pytest.approx(930 * 8 * 4 / 144)
    stone = need(found, "Base stone")
    tons = 231 * 4 / 324 * 1.85
    assert stone.measures["mass"].value / SHORT_TON == pytest.approx(tons * 1.05)
    assert stone.net.value / YARD**3 == pytest.approx(tons / 1.475)
    dug = 231 * (4 + 1 + 2.375) / 324
    assert amount(found, "Dig") / YARD**3 == pytest.approx(dug)
    assert amount(found, "Spoil") / YARD**3 == pytest.approx(dug * 1.25)
    assert [s.amount.value for s in found.spoil] == [
        s.amount.value for s in found.steps if s.step == "Spoil"
    ]
    assert found.spoil_density.value * YARD**3 / POUND == pytest.approx(2106)
    sand = need(found, "Bedding sand")
    assert sand.net.value / YARD**3 == pytest.approx(200 / 324)
    assert sand.order.value / YARD**3 == pytest.approx(200 / 324 * 1.15)
    edging = need(found, "Edging")
    assert edging.order.value / FOOT == pytest.approx(63)
    assert edging.measures["count"].value == pytest.approx(63 / 8)
    assert need(found, "Edging spike").net.value == 61
    assert amount(found, "Cut") / FOOT == pytest.approx(30 * 4 / 12)
    assert amount(found, "Edge") / FOOT == pytest.approx(60)
    assert not [n for n in found.needs if n.kind == "joint sand"], "tight joints take no filler"


@pytest.mark.parametrize(("in_a_kit", "bought"), [(4, 61 - 31.5), (8, 0), (None, 61)])
def test_only_spikes_beyond_the_kits_are_bought(make, in_a_kit, bought):
    """60 ft held and 5 % of cut ends: 7.875 pieces of 8 ft; a spike a foot and one: 61."""
    edging = make.product("Rail", "edging", holds=8, spikes=in_a_kit)
    job = make.job(make.area(length=20, width=10), products=(edging,))
    spikes = [n for n in take_off(job).needs if n.item == "Edging spike"]
    assert sum(n.net.value for n in spikes) == pytest.approx(bought)
    assert sum(n.order.value for n in spikes) == pytest.approx(bought * 1.05)
    if in_a_kit == 4:
        assert "32 come with the edging; the spacing asks for 61" in spikes[0].why


def test_edge_against_the_house(make):
    """A 20 ft side against the house: (20 + 1) x (10 + 1/2) = 220.5 sq ft, 40 ft held."""
    part = take_off(make.job(make.area(length=20, width=10, house_edge=20))).parts[0]
    assert part.base_area.value / FOOT**2 == pytest.approx(220.5)
    assert part.restrained.value / FOOT == pytest.approx(40)


def test_edges_against_house_and_other_paving(make):
    """Two neighbouring sides covered: (20 + 1/2) x (10 + 1/2) = 215.25 sq ft, 30 ft held."""
    area = make.area(length=20, width=10, house_edge=20, joined_edge=10)
    part = take_off(make.job(area)).parts[0]
    assert part.base_area.value / FOOT**2 == pytest.approx(215.25)
    assert part.restrained.value / FOOT == pytest.approx(30)
    both = make.area(length=20, width=10, house_edge=20, joined_edge=20)
    assert take_off(make.job(both)).parts[0].base_area.value / FOOT**2 == pytest.approx(210)


def test_half_circle_against_the_house(make):
    """Only the arc is open: a half ring of 1/2 ft outside a radius of 6 ft."""
    half = take_off(make.job(make.area(shape="half circle", diameter=12, house_edge=12))).parts[0]
    assert half.restrained.value / FOOT == pytest.approx(3.14159265 * 6)
    assert half.base_area.value / FOOT**2 == pytest.approx(3.14159265 / 2 * 6.5**2)


def test_cut_out_takes_area_off_and_adds_edge(make):
    whole = make.area(length=20, width=10)
    tree = make.area(name="tree", length=4, width=3, cut_out=True)
    found = take_off(make.job(whole, tree)).parts[0]
    assert found.area.value / FOOT**2 == pytest.approx(188)
    assert found.edge.value / FOOT == pytest.approx(74)
    assert found.base_area.value / FOOT**2 == pytest.approx(231 - 3 * 2)
    assert len(found.outlines) == len(found.holes) == 1


def test_cut_out_narrower_than_the_overrun_is_dug_through(make):
    whole = make.area(length=20, width=10)
    post = make.area(name="post", length=0.5, width=0.5, cut_out=True)
    found = take_off(make.job(whole, post)).parts[0]
    assert found.base_area.value / FOOT**2 == pytest.approx(231)
    assert found.area.value / FOOT**2 == pytest.approx(199.75)


def test_beddings_and_their_fillers(make):
    area = make.area(length=20, width=10)
    only = take_off(make.job(area))
    assert [b.name for b in only.beddings] == ["sand"]
    both = take_off(make.job(area, quotes=(make.quote("Small gravel"),)))
    assert [(b.name, b.filler, b.discouraged) for b in both.beddings] == [
        ("sand", "Joint sand", False),
        ("small gravel", "Joint gravel", False),
    ]
    gravel = need(both, "Small gravel")
    assert gravel.bedding == "small gravel"
    assert gravel.net.value / YARD**3 == pytest.approx(200 * 2 / 324)
    deeper = amount(both, "Dig", "small gravel") - amount(both, "Dig", "sand")
    assert deeper / YARD**3 == pytest.approx(231 * 1 / 324)
    assert need(both, "Joint gravel").bedding == "small gravel"
    quoted = (make.quote("Polymeric sand"), make.quote("Screenings"))
    third = take_off(make.job(area, quotes=quoted))
    assert [(b.name, b.filler, b.discouraged) for b in third.beddings] == [
        ("sand", "Polymeric sand", False),
        ("screenings", "Polymeric sand", True),
    ]


def test_rounded_stone_is_computed_and_discouraged(make):
    """1.5 in under 200 sq ft: 200 * 1.5 / 324 cu yd; a patio on it is dug half an inch deeper."""
    area = make.area(length=20, width=10)
    found = take_off(make.job(area, quotes=(make.quote("Pea gravel"),)))
    assert [(b.name, b.filler, b.discouraged, b.allowed) for b in found.beddings] == [
        ("sand", "Joint sand", False, True),
        ("pea gravel", "Joint gravel", True, False),
    ]
    assert need(found, "Pea gravel").net.value / YARD**3 == pytest.approx(200 * 1.5 / 324)
    deeper = amount(found, "Dig", "pea gravel") - amount(found, "Dig", "sand")
    assert deeper / YARD**3 == pytest.approx(231 * 0.5 / 324)


def test_discouraged_pair_unless_allowed(make):
    area = make.area(length=20, width=10)
    layer = make.build_up(joint_filler="polymeric sand")
    quotes = (make.quote("Small gravel"),)
    job = make.job(area, build_ups=(layer,), quotes=quotes)
    found = take_off(job)
    gravel = found.beddings[1]
    assert (gravel.discouraged, gravel.allowed) == (True, False)
    assert "works down" in gravel.note
    assert "ICPI" in gravel.source
    assert "discouraged-pair" in {w.code for w in found.warnings}
    assert need(found, "Polymeric sand").bedding == "", "one filler whatever the bedding"
    maker = make.product("Polymeric sand", "polymeric sand", allows="small gravel")
    assert take_off(replace(job, products=(maker,))).beddings[1].allowed
    user = replace(job.settings, allow_discouraged=True)
    allowed = take_off(replace(job, settings=user))
    assert allowed.beddings[1].allowed
    assert "discouraged-pair" not in {w.code for w in allowed.warnings}


def test_a_tiny_part_takes_of_everything(make):
    """0.9 sq ft, about 3.8 ft round: less than one slab, than a square metre, than a metre."""
    slab = make.product("Slab", "paver", length=12, width=12, height=2, joint=0.25)
    area = make.area(shape="measured", area=0.9, perimeter=2)
    found = take_off(make.job(area, products=(slab,)))
    assert need(found, "Slab").order.value < 1
    assert need(found, "Edging").order.value / FOOT < 3.28
    assert amount(found, "Lay") / FOOT**2 == pytest.approx(0.9)


@pytest.mark.parametrize(("spikes", "left"), [(0, [3]), (8, [0.9]), (12, [])])
def test_spikes_that_come_with_the_edging(make, spikes, left):
    """2 ft of edge, a spike a foot and one: 3; 2.1 ft of a piece of 8 ft bring their share."""
    edging = make.product("Edging", "edging", holds=8, spikes=spikes)
    area = make.area(length=0.5, width=0.5)
    found = take_off(make.job(area, products=(edging,)))
    found = [n.net.value for n in found.needs if n.item == "Edging spike"]
    assert found == pytest.approx(left)


def test_paving_with_other_paving_all_round_is_not_cut(make):
    area = make.area(shape="measured", area=100, perimeter=40, joined_edge=40)
    found = take_off(make.job(area))
    assert {"Cut", "Edge"}.isdisjoint({s.step for s in found.steps})
    assert not [n for n in found.needs if n.kind in ("edging", "spike")]


def test_each_run_of_edge_has_a_spike_more(make):
    """Two shapes of 60 ft of edge each: 60 and one, twice."""
    areas = [make.area(name=n, shape="measured", area=200, perimeter=60) for n in ("a", "b")]
    assert need(take_off(make.job(*areas)), "Edging spike").net.value == 122


@pytest.mark.parametrize(
    ("second", "words"),
    [({"shape": "circle", "diameter": 6}, "with curved and straight edges."),
     ({"length": 6, "width": 6}, "with straight edges.")],
)  # fmt: skip
def test_a_rule_of_thumb_names_its_edges(make, second, words):
    """A square slab closes no herringbone: a percentage stands for the count."""
    slab = make.product("Slab", "paver", length=12, width=12, height=2.375)
    areas = [
        make.area(name=name, pattern="herringbone 90", **sizes)
        for name, sizes in (("a", {"length": 9, "width": 9}), ("b", second))
    ]
    assert words in need(take_off(make.job(*areas, products=(slab,))), "Slab").why


def test_joints_of_a_border_are_filled_by_its_own_unit(make):
    """A field laid tight; units of 8 x 4 in with 1/4 in, filled to 1/8 in below 2.375 in."""
    field = make.product("Field", "paver", length=8, width=4, height=2.375, joint=0)
    edge = make.product("Edge", "paver", length=8, width=4, height=2.375, joint=0.25)
    area = make.area(length=20, width=10, paver="Field", border="Edge", border_course="soldier")
    found = take_off(make.job(area, products=(field, edge)))
    strip = 200 - (20 - 16.5 / 12) * (10 - 16.5 / 12)
    share = 1 - 8 * 4 / (8.25 * 4.25)
    fill = strip * share * 2.25 / 12
    assert need(found, "Joint sand").net.value / FOOT**3 == pytest.approx(fill)


def test_the_bedding_under_most_of_the_paving_stands_for_a_job_that_names_all(make):
    """200 sq ft on sand; 150 and 120 on small gravel."""
    layers = [make.build_up(n, bedding=n) for n in ("sand", "small gravel")]
    areas = (
        make.area("Drive", length=12, width=10, build_up="small gravel"),
        make.area("Terrace", length=20, width=10, build_up="sand"),
        make.area("Walk", length=50, width=3, build_up="small gravel"),
    )
    for order in (areas, areas[::-1]):
        found = take_off(make.job(*order, build_ups=tuple(layers)))
        assert [b.name for b in found.beddings] == ["small gravel"]
    found = take_off(make.job(*areas[:2], build_ups=tuple(layers)))
    assert [b.name for b in found.beddings] == ["sand"]


def test_a_bedding_is_as_deep_as_under_the_largest_part(make):
    layers = [make.build_up(n, bedding_depth=d) for n, d in (("thin", 1), ("thick", 1.5))]
    areas = (
        make.area("Terrace", length=20, width=10, build_up="thin"),
        make.area("Walk", length=10, width=3, build_up="thick"),
    )
    found = take_off(make.job(*areas, build_ups=tuple(layers)))
    assert [b.depth.value / INCH for b in found.beddings] == pytest.approx([1])


@pytest.mark.parametrize(
    ("named", "field"),
    [
        ({"bedding": "small gravel", "joint_filler": "polymeric sand"}, "joint_filler"),
        ({"bedding": "pea gravel"}, "bedding"),
        ({}, None),
    ],
)
def test_a_discouraged_pair_is_told_where_it_was_named(make, named, field):
    """Pea gravel is discouraged with any filler; where nothing is named, nobody asked for it."""
    row = make.build_up(**named)
    quotes = (make.quote("Pea gravel"),)
    area = make.area(length=20, width=10, build_up="standard")
    told = take_off(make.job(area, build_ups=(row,), quotes=quotes)).warnings
    cells = [w.cell for w in told if w.code == "discouraged-pair"]
    assert cells == ([row.cell(field)] if field else [])


def test_bedding_named_for_one_part_only(make):
    areas = (
        make.area("Terrace", length=20, width=10, build_up="free"),
        make.area("Walk", length=10, width=3, build_up="fixed"),
    )
    layers = (make.build_up("free"), make.build_up("fixed", bedding="sand"))
    quotes = (make.quote("Small gravel"),)
    found = take_off(make.job(*areas, build_ups=layers, quotes=quotes))
    assert [b.name for b in found.beddings] == ["sand", "small gravel"]
    assert need(found, "Bedding sand", part="Walk").bedding == ""
    assert need(found, "Bedding sand", part="Terrace").bedding == "sand"


def test_concrete_haunch(make):
    layer = make.build_up(restraint="concrete haunch")
    found = take_off(make.job(make.area(length=20, width=10), build_ups=(layer,)))
    mix = need(found, "Concrete mix")
    assert mix.net.value / FOOT**3 == pytest.approx(60 * 0.5 * 4 / 12)
    assert mix.measures["mass"].value / POUND == pytest.approx(10 * 1.1 / 0.15 * 20, rel=1e-4)
    assert "Edging" not in {n.item for n in found.needs}


def test_no_restraint(make):
    layer = make.build_up(restraint="none")
    found = take_off(make.job(make.area(length=20, width=10), build_ups=(layer,)))
    assert not [n for n in found.needs if n.step == "Edge"]
    assert amount(found, "Edge") == 0


def test_geotextile_by_strips_of_the_roll(make):
    """11 x 21 ft with the overrun, 6 ft roll, 1 ft overlap: 2 strips of 21 ft (42 ft)."""
    layer = make.build_up(geotextile=True)
    roll = make.product("Geotextile", "geotextile", roll_width=6)
    job = make.job(make.area(length=20, width=10), build_ups=(layer,), products=(roll,))
    found = need(take_off(job), "Geotextile")
    assert found.order.value / FOOT**2 == pytest.approx(42 * 6)
    assert found.net.value / FOOT**2 == pytest.approx(231)
    plain = need(take_off(replace(job, products=())), "Geotextile")
    assert plain.order.value / FOOT**2 == pytest.approx(231 * 6 / 5)


def test_geotextile_follows_its_quote(make):
    area = make.area(length=20, width=10)
    assert "Geotextile" not in {n.item for n in take_off(make.job(area)).needs}
    quoted = take_off(make.job(area, quotes=(make.quote("Geotextile"),)))
    assert "Geotextile" in {n.item for n in quoted.needs}
    assert any("geotextile" in a.what for a in quoted.assumed)


def test_stock_comes_off_the_order_and_is_cleaned(make, patio):
    job = replace(patio, stock=(make.stock("Paver", 100, usable=0.8, cleaning=0.05),))
    found = take_off(job)
    assert need(found, "Paver").order.value == pytest.approx(930 - 80)
    assert amount(found, "Build") == pytest.approx(80 * 0.05)
    plenty = take_off(replace(patio, stock=(make.stock("Paver", 2000),)))
    assert "Paver" not in {n.item for n in plenty.needs}
    assert amount(plenty, "Build") == pytest.approx(930 * 2 / 60)


def test_stock_is_shared_between_parts(make):
    areas = (make.area("A", length=10, width=10), make.area("B", length=10, width=10))
    without = take_off(make.job(*areas))
    whole = sum(n.order.value for n in without.needs if n.item == "Paver")
    found = take_off(make.job(*areas, stock=(make.stock("Paver", 600),)))
    left = sum(n.order.value for n in found.needs if n.item == "Paver")
    assert left == pytest.approx(whole - 600)


def test_extras_and_their_hours(make):
    area = make.area(length=20, width=10)
    bowl = make.extra("Terrace", "Fire bowl", 1, hours_each=6)
    bench = make.extra("Bench", "Bench kit", 2, optional=True)
    found = take_off(make.job(area, extras=(bowl, bench)))
    assert need(found, "Fire bowl").order.value == 1
    assert need(found, "Fire bowl").optional == ""
    assert need(found, "Bench kit").optional == "Bench"
    assert amount(found, "Build") == 6
    assert any("Bench kit" in a.what for a in found.assumed)
    assert need(found, "Bench kit").weight is None


def test_optional_parts_mark_all_they_need(make):
    found = take_off(make.job(make.area("Walk", length=20, width=3, optional=True)))
    assert {n.optional for n in found.needs} == {"Walk"}
    assert {s.optional for s in found.steps} == {"Walk"}
    assert found.parts[0].optional


def test_two_pavers_in_one_part(make):
    products = (
        make.product("Small", "paver", length=8, width=4, height=2.375, joint=0),
        make.product("Slab", "paver", length=24, width=24, height=3, joint=0),
    )
    areas = (
        make.area(name="a", length=10, width=10, paver="Small"),
        make.area(name="b", length=8, width=10, paver="Slab"),
    )
    found = take_off(make.job(*areas, products=products))
    assert need(found, "Small").net.value == pytest.approx(450)
    assert need(found, "Slab").net.value == pytest.approx(20)
    assert "slab" in {w.code for w in found.warnings}
    base_area = found.parts[0].base_area.value
    assert amount(found, "Dig", "sand") == pytest.approx(base_area * (3 + 1 + 4) * INCH)


WARNED = [
    ("thin-base", {"base_depth": 3}, {}),
    ("short-overrun", {"overrun": 2}, {}),
    ("bedding-depth", {"bedding_depth": 2, "bedding": "sand"}, {}),
    ("bedding-depth", {"bedding_depth": 1, "bedding": "small gravel"}, {}),
    ("joint-wide", {"bedding": "sand"}, {"joint": 0.25}),
    ("joint-narrow", {"bedding": "small gravel"}, {"joint": 0.125}),
    ("slab", {}, {"length": 12, "width": 12}),
]


@pytest.mark.parametrize(("code", "layer", "paver"), WARNED)
def test_warnings_against_published_limits(make, code, layer, paver):
    sizes = {"length": 8, "width": 4, "height": 2.375, "joint": 0.125} | paver
    job = make.job(
        make.area(length=20, width=10),
        build_ups=(make.build_up(**layer),),
        products=(make.product("Paver", "paver", **sizes),),
    )
    assert code in {w.code for w in take_off(job).warnings}
    plain = make.job(
        make.area(length=20, width=10),
        build_ups=(make.build_up(base_depth=4, overrun=6, bedding="sand", bedding_depth=1),),
        products=(make.product("Paver", "paver", length=8, width=4, height=2.375, joint=0.125),),
    )
    assert not take_off(plain).warnings


def test_unclear_names_are_warned_about(make):
    layers = (make.build_up("a"), make.build_up("b"))
    products = (make.product("One", "paver"), make.product("Two", "paver"))
    roll = make.product("Cloth", "geotextile", roll_width=0.5)
    job = make.job(
        make.area(length=20, width=10),
        make.area(length=2, width=1, optional=True, house_edge=99),
        build_ups=layers,
        products=(*products, roll),
        quotes=(make.quote("Cloth"),),
    )
    codes = {w.code for w in take_off(job).warnings}
    assert {
        "build-up-unclear",
        "paver-unclear",
        "part-optional",
        "edge-too-long",
        "narrow-roll",
    } <= codes


def test_impossible_shapes_are_named_and_left_out(make):
    bow = make.area("Bow", name="bow", shape="polygon")
    good = make.area("Terrace", length=20, width=10)
    gone = make.area("Gone", length=2, width=2)
    hole = make.area("Gone", length=3, width=3, cut_out=True)
    ring = make.area("Ring", shape="ring", diameter=3, inner_diameter=4)
    corners = make.corners("bow", (0, 0), (4, 4), (4, 0), (0, 4))
    found = take_off(make.job(bow, good, gone, hole, ring, corners=corners))
    assert [p.part for p in found.parts] == ["Terrace"]
    problems = {w.code: w for w in found.warnings if w.severity == "problem"}
    assert set(problems) == {"impossible-shape", "no-area"}
    assert any("crosses itself" in w.found for w in found.warnings)


def test_defaults_are_listed_once_each(make):
    found = take_off(make.job(make.area(length=20, width=10)))
    listed = [(a.sheet, a.what) for a in found.assumed]
    assert len(listed) == len(set(listed))
    whats = {a.what for a in found.assumed}
    assert {"compacted base depth", "depth of bedding sand", "swell of common earth"} <= whats
    assert all(a.source for a in found.assumed)


def test_every_figure_can_be_followed_and_recalculated(make, patio):
    for line in take_off(patio).needs:
        for figure in (line.net, line.order, line.overage, *line.measures.values()):
            assert recalculate(figure, {}) == pytest.approx(figure.value)
            assert workings(figure, "imperial")[-1].result
            assert all(leaf.name and leaf.origin != "worked" for leaf in inputs(figure))


def test_a_longer_side_recalculates(make, patio):
    """Ten feet more of the cell that holds the length: 10 x 30 ft, 1,350 pavers."""
    pavers = need(take_off(patio), "Paver")
    length = patio.areas[0].cell("length")
    found = recalculate(pavers.net, {length: 30 * FOOT})
    assert found == pytest.approx(1350)


def test_cautions_follow_the_steps(make):
    found = take_off(make.job(make.area(length=20, width=10)))
    named = [step for step, _, _ in found.cautions]
    assert named == sorted(named, key=lambda step: steps()[step].order)
    assert {"Dig", "Cut", "Carry"} <= set(named)
    assert "Build" not in named
    assert all(source for _, _, source in found.cautions)


@pytest.mark.parametrize(
    ("item", "said"),
    [
        ("Fire bowl kit", "25 ft (7.6 m) from buildings"),
        ("Brick barbecue", "25 ft (7.6 m) from buildings"),
        ("Garden lamp", "Gas and electricity are for licensed trades"),
        ("Step light", "Gas and electricity are for licensed trades"),
        ("Light pole", "Gas and electricity are for licensed trades"),
        ("Light gray planter", None),
        ("Power-wash the path", None),
        ("Oak bench", None),
        ("Firewood rack", None),
    ],
)
def test_the_fire_caution_stands_beside_fire_features_only(make, item, said):
    """International Fire Code section 307: 25 ft from structures; a bench has no such words."""
    found = take_off(
        make.job(
            make.area(length=20, width=10), extras=(make.extra("Terrace", item, 1, hours_each=2),)
        )
    )
    build = [text for step, text, _ in found.cautions if step == "Build"]
    assert bool(build) == (said is not None)
    assert said is None or said in build[0]
    assert any("made for heat" in text for text in build) == ("25 ft" in (said or ""))


def test_a_lined_ring_is_for_a_fire_whatever_its_name(make):
    block = make.product("Block", "wall unit", length=12, width=8, height=4)
    ring = make.wall("bowl", kind="ring", diameter=48, height=12, liner=30)
    job = make.job(make.area(length=20, width=10), walls=(ring,), products=(block,))
    assert has_fire(job)
    assert any("25 ft" in text for _, text, _ in take_off(job).cautions)
    assert not has_fire(replace(job, walls=(replace(ring, liner=None),)))


def test_an_empty_job_needs_nothing(make):
    found = take_off(make.job())
    assert not found.needs
    assert not found.steps
    assert not found.beddings
    assert not found.cautions
