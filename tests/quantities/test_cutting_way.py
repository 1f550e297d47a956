"""Which way of cutting suits a job, and the blades that its cuts wear."""

import math
from dataclasses import replace

import pytest

from budget.figures import constant
from budget.quantities import take_off
from budget.quantities.materials import Materials
from budget.quantities.needs.consumables import blades
from budget.quantities.needs.cutting_way import StoneCut, paver_cuts, way_to_cut
from budget.quantities.pavers import groups_of
from budget.quantities.plan.parts import parts_of
from budget.reference import coefficient
from budget.units import DEPTH, FOOT, INCH, LENGTH
from budget.workbook.sheets.made import PRODUCTS

MATERIALS = next(column for column in PRODUCTS.columns if column.field == "material").choices


def cut(feet, curved=0.0, inches=2.375, material="concrete"):
    """Cuts through pieces of one thickness."""
    length, height = constant(feet * FOOT, LENGTH, "cut"), constant(inches * INCH, DEPTH, "height")
    return StoneCut("Paver", length, curved * FOOT, height, material)


WAYS = [
    pytest.param([cut(12, 12)], "angle grinder", "cut from both faces", id="little"),
    pytest.param([cut(12, inches=1.2)], "angle grinder", "or water.", id="little and thin"),
    pytest.param([cut(100, 20)], "paver splitter", "other 20 ft", id="mostly straight"),
    pytest.param([cut(100)], "paver splitter", "edge restraint.", id="all straight"),
    pytest.param([cut(100, 60)], "wet saw", "60 ft of it follows curves", id="curved"),
    pytest.param([cut(100, material="porcelain")], "wet saw", "does not split", id="porcelain"),
    pytest.param([cut(100, inches=4.5)], "wet saw", "thicker than the 4 in", id="thick"),
    pytest.param([cut(90), cut(10, inches=8)], "paver splitter", "turn them", id="some too deep"),
    pytest.param([cut(20)], "angle grinder", "20 ft to cut", id="as much as a grinder does"),
    pytest.param([cut(20.1)], "paver splitter", "20.1 ft to cut", id="more than it does"),
    pytest.param([cut(2)], "angle grinder", "2 ft to cut", id="very little"),
    pytest.param([cut(50), cut(50)], "paver splitter", "100 ft to cut", id="two kinds"),
    pytest.param([cut(50, 50)] * 2, "wet saw", "all of it follows", id="curved all along"),
    pytest.param([cut(100, inches=4)], "paver splitter", "edge restraint.", id="as thick as it is"),
    pytest.param([cut(80, 20)], "paver splitter", "other 20 ft", id="three quarters of it"),
    pytest.param([cut(100, 2)], "paver splitter", "other 2 ft", id="two feet more"),
    pytest.param([cut(74), cut(26, inches=8)], "wet saw", "thicker than", id="not quite"),
]


@pytest.mark.parametrize(("cuts", "way", "why"), WAYS)
def test_the_way_suits_length_line_thickness_and_material(cuts, way, why) -> None:
    """Common practice: a grinder for little, a splitter for straight cuts, else a wet saw."""
    said = way_to_cut(cuts, "imperial")
    assert f"{way} suits" in said
    assert why in said


@pytest.mark.parametrize(
    ("system", "thin", "both"), [("metric", "60 mm", "60 mm to 203 mm"),
                                 ("imperial", "2.375 in", "2.375 in to 8 in")],
)  # fmt: skip
def test_how_thick_the_pieces_are_is_told(system, thin, both) -> None:
    """2.375 in are 60.3 mm, 8 in 203.2 mm."""
    assert f"through pieces {thin} thick" in way_to_cut([cut(10), cut(10)], system)
    said = way_to_cut([cut(10, inches=8), cut(10)], system)
    assert f"through pieces from {both} thick" in said


def test_cuts_in_optional_parts_are_told() -> None:
    """Also where only some are."""
    some = [cut(10), replace(cut(10), optional=True)]
    assert "to cut with every optional part" in way_to_cut(some, "imperial")
    assert "optional" not in way_to_cut(some[:1], "imperial")


def cuts_of(make, *areas):
    slab = make.product("Slab", "paver", length=12, width=12, height=2, joint=0)
    mix = [
        make.product(name, "paver", length=long, width=12, height=2.375, joint=0, mix="Ashlar",
                     share=share)
        for name, long, share in (("Large", 12, 0.6), ("Small", 6, 0.4))
    ]  # fmt: skip
    edge = make.product("Edge", "paver", length=8, width=4, height=2.375, joint=0)
    job = make.job(*areas, products=(slab, *mix, edge))
    materials = Materials(job)
    [part] = parts_of(job)[0]
    return [cut_ for group in groups_of(part, materials) for cut_ in paver_cuts(group, materials)]


def test_only_what_is_cut_is_a_cut(make) -> None:
    """Courses of 12 in lie whole in 10 by 10 ft."""
    assert cuts_of(make, make.area(length=10, width=10, paver="Ashlar", pattern="random")) == []


def test_a_single_cut_is_one(make) -> None:
    """A slab and a half take one cut or two of 1 ft."""
    half = make.area(length=1.5, width=1, paver="Slab", pattern="stack bond")
    [found] = cuts_of(make, half)
    assert round(found.length.value / FOOT, 6) in (1, 2)
    assert found.curved == 0


def test_curves_are_cut_along_their_edge_at_most(make) -> None:
    """All that is cut of a circle follows its curve."""
    by_share = make.area(shape="measured", area=100, perimeter=40, paver="Slab")
    assert [c.curved for c in cuts_of(make, by_share)] == [0]
    [disc] = cuts_of(make, make.area(shape="circle", diameter=7, paver="Slab"))
    assert 0 <= disc.length.value - disc.curved < 0.02 * disc.length.value
    assert disc.splits >= 0


def test_the_curve_of_half_a_circle_is_cut_once(make) -> None:
    """Of 5 ft across 7.85 ft, beside what is cut along the straight side."""
    area = make.area(shape="half circle", diameter=5, paver="Slab", pattern="stack bond")
    [half] = cuts_of(make, area)
    assert half.curved / FOOT == pytest.approx(2.5 * math.pi, rel=1e-3)
    assert half.splits == pytest.approx(half.length.value - half.curved)


def test_the_mitres_of_a_border_are_cut_in_its_own_stone(make) -> None:
    """Units 8 in deep: four corners, both sides of each a cut of 8 in times the root of two."""
    area = make.area(length=10 + 4 / 3, width=10 + 4 / 3, paver="Ashlar", pattern="random",
                     border="Edge", border_course="soldier")  # fmt: skip
    [mitres] = cuts_of(make, area)
    assert (mitres.item, mitres.curved, mitres.splits) == ("Edge", 0, mitres.length.value)
    assert mitres.length.value / INCH == pytest.approx(8 * 8 * math.sqrt(2))


@pytest.mark.parametrize(("inches", "turned"), [(4.75, False), (4.8, True)])
def test_what_is_as_thick_as_a_saw_cuts_is_not_turned(inches, turned) -> None:
    """Common practice: a wet saw cuts 4 3/4 in deep."""
    assert ("turn them" in way_to_cut([cut(100, inches=inches)], "imperial")) is turned


@pytest.mark.parametrize(("inches", "both"), [(1.25, False), (1.3, True)])
def test_what_is_as_thick_as_a_grinder_cuts_is_cut_from_one_face(inches, both) -> None:
    """Common practice: an angle grinder cuts 1 1/4 in deep."""
    assert ("both faces" in way_to_cut([cut(12, inches=inches)], "imperial")) is both


def test_without_a_cut_nothing_is_said() -> None:
    assert way_to_cut([], "metric") == ""


def test_blades_by_length_thickness_and_material() -> None:
    """150 ft a blade in concrete 2 3/8 in thick; from memory granite wears 2.5 times as much.

    200 ft at twice the thickness wear as 400: 2.67 blades; 100 ft of granite as 250: 1.67.
    """
    found = blades([cut(200, inches=4.75), cut(100, material="hard stone")])
    assert [(f.name, f.value) for f in found] == [
        ("diamond blades", 3), ("diamond blades for hard stone", 2),
    ]  # fmt: skip


@pytest.mark.parametrize("material", MATERIALS)
def test_every_material_that_can_be_chosen_is_known(material) -> None:
    if material != "concrete":
        assert coefficient(f"blade wear {material}").likely > 0
        assert coefficient(f"density {material}").likely > 0


def test_a_paver_of_granite_weighs_more_and_wears_blades_of_its_own(make) -> None:
    """4 x 8 x 2 3/8 in at 164 against 140 lb a cubic foot."""
    area = make.area(shape="circle", diameter=60, paver="Sett")
    masses = {}
    for material in ("", "hard stone"):
        sett = make.product("Sett", "paver", length=8, width=4, height=2.375, material=material)
        found = take_off(make.job(area, products=(sett,)))
        masses[material] = next(n for n in found.needs if n.item == "Sett").weight.value
    assert masses["hard stone"] / masses[""] == pytest.approx(164 / 140)
    assert any(f.name == "diamond blades for hard stone" for _, f in found.consumables)
    assert "wet saw suits" in found.way_to_cut
    assert found.not_split == ""


def test_what_no_splitter_parts_is_told(make) -> None:
    tile = make.product("Tile", "paver", length=24, width=24, height=0.79, material="porcelain")
    area = make.area(shape="circle", diameter=120, paver="Tile")
    assert take_off(make.job(area, products=(tile,))).not_split == "porcelain"


def test_halved_wall_units_wear_a_blade_too(make) -> None:
    """A wall of 8 in units: its halves are cut through 8 in, deeper than a usual saw reaches."""
    unit = make.product("Block", "wall unit", length=16, width=8, height=8)
    wall = make.wall("wall", length=20, height=24, unit="Block")
    found = take_off(make.job(make.area(length=20, width=10), products=(unit,), walls=(wall,)))
    cut_ = next(f for _, f in found.consumables if f.name == "cut in stone or concrete")
    steps = sum(s.amount.value for s in found.steps if s.step == "Cut")
    assert cut_.value == pytest.approx(steps)
    assert "turn them" in found.way_to_cut


def test_cuts_of_a_part_that_may_be_left_out_are_said_to_be_in_it(make) -> None:
    paver = make.product("Sett", "paver", length=8, width=4, height=2.375)

    def said(**about) -> str:
        area = make.area(shape="circle", diameter=60, paver="Sett", **about)
        return take_off(make.job(area, products=(paver,))).way_to_cut

    assert "ft to cut, through" in said()
    assert "ft to cut with every optional part, through" in said(optional=True)
