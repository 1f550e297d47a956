"""Where the published limits of layers and pavers begin to be told, and counts in packs."""

from __future__ import annotations

import pytest

from budget.quantities import take_off
from budget.quantities.packing import in_packs
from budget.reference import coefficient
from budget.units import INCH

AT_THE_LIMIT = [
    # at least 4 in of base, an inch of sand and so on, nominal: a fiftieth less passes
    ("thin-base", {"base_depth": 3.93}, {}, False),
    ("thin-base", {"base_depth": 3.9}, {}, True),
    ("short-overrun", {"base_depth": 4, "overrun": 5.9}, {}, False),
    ("short-overrun", {"base_depth": 4, "overrun": 5.8}, {}, True),
    ("short-overrun", {"base_depth": 8, "overrun": 7.9}, {}, False),
    ("short-overrun", {"base_depth": 8, "overrun": 7.8}, {}, True),
    ("bedding-depth", {"bedding": "sand", "bedding_depth": 0.74}, {}, False),
    ("bedding-depth", {"bedding": "sand", "bedding_depth": 0.73}, {}, True),
    ("bedding-depth", {"bedding": "sand", "bedding_depth": 1.02}, {}, False),
    ("bedding-depth", {"bedding": "sand", "bedding_depth": 1.03}, {}, True),
    # 3/16 in is printed as 5 mm, and 1/4 in as 6
    ("joint-wide", {"bedding": "sand"}, {"joint": 0.198}, False),
    ("joint-wide", {"bedding": "sand"}, {"joint": 0.2}, True),
    ("joint-narrow", {"bedding": "small gravel"}, {"joint": 0.238}, False),
    ("joint-narrow", {"bedding": "small gravel"}, {"joint": 0.236}, True),
]


@pytest.mark.parametrize(("code", "layer", "paver", "told"), AT_THE_LIMIT)
def test_warnings_begin_where_the_published_limits_end(make, code, layer, paver, told):
    sizes = {"length": 8, "width": 4, "height": 2.375, "joint": 0.125} | paver
    job = make.job(
        make.area(shape="measured", area=50),
        build_ups=(make.build_up(**layer),),
        products=(make.product("Paver", "paver", **sizes),),
    )
    assert (code in {w.code for w in take_off(job).warnings}) is told


@pytest.mark.parametrize(("inches", "told"), [(2.5, []), (2.51, ["Thin 2.375 in thick beside "])])
def test_an_eighth_of_an_inch_between_pavers_is_even(make, inches, told):
    """ICPI Construction Tolerances guide: at most 1/8 in."""
    pavers = [
        make.product(n, "paver", length=8, width=4, height=h, joint=0.125)
        for n, h in (("Thin", 2.375), ("A thick", inches))
    ]
    areas = [make.area(name=n, shape="measured", area=50, paver=n) for n in ("A thick", "Thin")]
    found = take_off(make.job(*areas, products=tuple(pavers)))
    said = [w.found for w in found.warnings if w.code == "uneven-pavers"]
    assert [text[:27] for text in said] == told


@pytest.mark.parametrize(("feet", "told"), [(1, True), (1.01, False)])
def test_a_roll_must_be_wider_than_its_overlap(make, feet, told):
    roll = make.product("Cloth", "geotextile", roll_width=feet)
    row = make.build_up(geotextile=True)
    area = make.area(shape="measured", area=50)
    found = take_off(make.job(area, products=(roll,), build_ups=(row,)))
    assert ("narrow-roll" in {w.code for w in found.warnings}) is told


@pytest.mark.parametrize(
    ("rows", "names", "told"),
    [(1, ("",), False), (2, ("",), True), (2, ("a",), False), (2, ("a", "b"), True),
     (2, ("a", "A"), False), (2, ("a", ""), False)],
)  # fmt: skip
def test_one_build_up_a_part(make, rows, names, told):
    layers = tuple(make.build_up(n, base_depth=d) for n, d in (("a", 4), ("b", 6)))[:rows]
    areas = [
        make.area(name=f"shape {i}", shape="measured", area=50, build_up=name)
        for i, name in enumerate(names)
    ]
    found = take_off(make.job(*areas, build_ups=layers))
    assert ("build-up-unclear" in {w.code for w in found.warnings}) is told
    depth = 4 if names[0] or rows == 1 else coefficient("base depth").likely / INCH
    assert found.parts[0].base_depth.value / INCH == pytest.approx(depth)


def test_several_pavers_are_told_apart_by_name(make):
    slabs = [make.product(n, "paver", length=8, width=4, height=2) for n in ("One", "Two")]
    for count, named, told in ((1, "", False), (2, "", True), (2, "Two", False)):
        area = make.area(shape="measured", area=50, paver=named)
        found = take_off(make.job(area, products=tuple(slabs[:count])))
        said = [w.expected for w in found.warnings if w.code == "paver-unclear"]
        assert said == ["one of the pavers on Products, such as One"] * told


def test_a_border_around_a_measured_shape_cannot_be_laid_out(make):
    slab = make.product("One", "paver", length=8, width=4, height=2, joint=0)
    codes = []
    for sizes in ({"shape": "measured", "area": 50}, {"length": 10, "width": 5}):
        for border in ("", "One"):
            area = make.area(paver="One", border=border, border_course="soldier", **sizes)
            found = take_off(make.job(area, products=(slab,)))
            codes.append("border-unlaid" in {w.code for w in found.warnings})
    assert codes == [False, True, False, False]


@pytest.mark.parametrize(
    ("packs", "count", "words"),
    [
        ({"per_pallet": 400, "per_layer": 40}, 400, "400 pieces are 1 pallet."),
        ({"per_pallet": 400, "per_layer": 40}, 401, "401 pieces are 1 pallet and 1 piece."),
        ({"per_pallet": 400, "per_band": 10}, 30, "30 pieces are 3 bands."),
        ({"per_pallet": 400}, 19, "19 pieces are 19 pieces."),
        ({"per_layer": 1}, 1, "1 piece is 1 layer."),
        ({"per_layer": 0.5}, 3, ""),
        ({}, 3, ""),
    ],
)
def test_a_count_in_packs(make, packs, count, words):
    said = in_packs(make.product("Cobble", "paver", **packs), count)
    assert said.removesuffix(" Take them from one lot.") == words
