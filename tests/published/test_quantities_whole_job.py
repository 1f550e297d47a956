"""Whole takeoffs, and the documented values behind them, against published figures."""

import pytest

from budget.figures import constant
from budget.job import Area, BuildUp, Job, Place, Product, Settings
from budget.quantities import take_off
from budget.quantities.formulas import base, earthwork, paving, restraint
from budget.quantities.materials import Materials
from budget.quantities.needs.tamping import tamping_words
from budget.quantities.needs.wall_sizes import unit_of
from budget.reference import coefficient
from budget.reference.tables import grounds, old_surfaces
from budget.units import (
    AREA,
    BANK_VOLUME,
    BULK_DENSITY,
    COMPACTED_VOLUME,
    FOOT,
    INCH,
    LENGTH,
    NUMBER,
    POUND,
    RATIO,
    SHORT_TON,
    YARD,
)

CUBIC_YARD = YARD**3
PLACE = Place("Areas", 2)


def job(**fields):
    """A patio of 10 x 20 ft laid in tight 4 x 8 in pavers, 2 3/8 in thick."""
    area = Area(place=PLACE, part="Patio", length=20 * FOOT, width=10 * FOOT, paver="Brick")
    brick = Product(
        place=PLACE, item="Brick", kind="paver", length=8 * INCH, width=4 * INCH,
        height=2.375 * INCH, joint=0.0,
    )  # fmt: skip
    layers = BuildUp(place=PLACE, name="Layers", bedding="sand")
    settings = Settings(place=PLACE)
    rows = {"areas": (area,), "products": (brick,), "build_ups": (layers,), "settings": settings}
    return take_off(Job(**rows | fields))


def need(found, kind):
    return next(need for need in found.needs if need.kind == kind)


def test_a_patio_of_the_brochure_from_end_to_end():
    """BIA Seven Easy Steps and ICPI tolerance guide: 10 x 20 ft.

    900 pavers 4 x 8 in laid tight; sand 200 x 0.00309 = 0.62 cu yd; the base 6 in past four
    sides, so 11 x 21 ft = 231 sq ft and at 4 in 231 x 0.01235 = 2.85 cu yd.
    """
    found = job()
    assert need(found, "paver").net.value == pytest.approx(900)
    assert need(found, "bedding sand").net.value / CUBIC_YARD == pytest.approx(0.62, abs=0.005)
    assert found.parts[0].base_area.value / FOOT**2 == pytest.approx(231)
    stone = next(s.amount for s in found.steps if s.step == "Base")
    assert stone.value / CUBIC_YARD == pytest.approx(2.85, abs=0.005)


def test_dig_of_the_brochure_patio():
    """A how-to page's stack with the guide's layers: 2 3/8 + 1 + 4 = 7 3/8 in; x 231 sq ft."""
    found = job()
    dug = next(s.amount for s in found.steps if s.step == "Dig")
    assert dug.value / CUBIC_YARD == pytest.approx(231 * 7.375 / 324)


KEPT = [
    pytest.param("sand or gravel", 95, 111, id="FM 5-434 Table 1-1, sand: 95 compacted of 111"),
    pytest.param("common earth", 90, 125, id="FM 5-434 Table 1-1, earth: 90 compacted of 125"),
    pytest.param("clay", 90, 143, id="FM 5-434 Table 1-1, clay: 90 compacted of 143"),
    pytest.param("rock", 130, 150, id="FM 5-434 Table 1-1, blasted rock: 130 compacted of 150"),
]


@pytest.mark.parametrize(("ground", "compacted", "loose"), KEPT)
def test_soil_kept_to_fill_a_room(ground, compacted, loose):
    row = grounds()[ground]
    room = constant(compacted * CUBIC_YARD, COMPACTED_VOLUME, "room")
    found = earthwork.put_back(room, row.compacted_figure(), row.swell_figure())
    assert found.value / CUBIC_YARD == pytest.approx(loose)


DUG = [
    pytest.param("sand or gravel", 2565, id="TM 9-2320-366-10-1 Table 2-15: gravel and sand, dry"),
    pytest.param("common earth", 2106, id="a quarry's table: earth, damp loose 2,106 lb"),
    pytest.param("clay", 2800, id="a quarry's chart: clay 1.40 ton"),
    pytest.param("rock", 2565, id="TM 9-2320-366-10-1 Table 2-15: rock and stone, crushed"),
]


@pytest.mark.parametrize(("ground", "pounds"), DUG)
def test_weight_of_a_yard_of_spoil(ground, pounds):
    found = grounds()[ground].density_figure().value
    assert found / POUND * CUBIC_YARD == pytest.approx(pounds)


OLD = [
    pytest.param("concrete", "in_place", 4104, id="a supplier's table: concrete 4,104 lb a cu yd"),
    pytest.param("concrete", "loose", 3100, id="a quarry's chart: crushed concrete 1.55 ton"),
    pytest.param("gravel", "in_place", 3700, id="WSDOT M 22-01: 3,700 lb compacted"),
    pytest.param("gravel", "loose", 2950, id="WSDOT M 22-01: 2,950 lb in the truck"),
]


@pytest.mark.parametrize(("surface", "which", "pounds"), OLD)
def test_weight_of_an_old_surface(surface, which, pounds):
    found = old_surfaces()[surface].figure(which).value
    assert found / POUND * CUBIC_YARD == pytest.approx(pounds)


def test_an_inch_more_of_digging():
    """A soil page's table of cover: a cubic yard is one inch on 324 sq ft."""
    dug = earthwork.an_inch(constant(324 * FOOT**2, AREA, "dig"))
    assert dug.value / CUBIC_YARD == pytest.approx(1)


def test_top_course_loose_against_compacted():
    """WSDOT M 22-01 Exhibit 620-1: top course 2,850 lb in the truck, 3,700 compacted: 1.298."""
    yard = constant(CUBIC_YARD, COMPACTED_VOLUME, "base")
    dense, light = (
        constant(pounds * POUND / CUBIC_YARD, BULK_DENSITY, "density") for pounds in (3700, 2850)
    )
    heap = base.loose_base(base.base_mass(yard, dense), light)
    assert heap.value / CUBIC_YARD == pytest.approx(1.298, abs=0.0005)


def test_most_extra_sand():
    """Beall p. 312: 1 cu yd for 150 sq ft at 1 3/4 in; neat it is 0.810, so 23 % more."""
    neat = 150 * 1.75 / 324
    assert 1 / neat - 1 == pytest.approx(coefficient("overage sand").high, abs=0.005)


def test_top_up_holds_what_loose_sand_loses():
    """FM 5-434 Table 1-1: loose sand compacts to 0.86, so 16 % more fills it again."""
    share = coefficient("joint top-up")
    assert share.low <= 1 / 0.86 - 1 <= share.likely


def test_a_beam_of_concrete_as_an_edge():
    """Estimating text: grade beam 12 x 14 in x 20 ft is 0.86 cu yd, with 8 % 0.93."""
    sides = [constant(n * INCH, LENGTH, "side") for n in (12, 14)]
    neat = restraint.haunch(constant(20 * FOOT, LENGTH, "beam"), *sides)
    assert neat.value / CUBIC_YARD == pytest.approx(0.86, abs=0.005)
    order = paving.with_extra("order", neat, constant(0.08, RATIO, "extra"))
    assert order.value / CUBIC_YARD == pytest.approx(0.93, abs=0.005)


SIZES = [
    pytest.param("depth small gravel", "likely", 2, id="ICPI Interlock Design 2018: 2 in of No. 8"),
    pytest.param("depth small gravel", "low", 40 / 25.4, id="TRCA guide: No. 8 from 40 mm"),
    pytest.param("depth small gravel", "high", 75 / 25.4, id="TRCA guide: No. 8 to 75 mm"),
    pytest.param("depth sand", "low", 0.75, id="BIA Technical Note 14A: at least 3/4 in"),
    pytest.param("depth sand", "high", 1, id="BIA Technical Note 14A: at most 1 in"),
    pytest.param("paver joint", "low", 1 / 16, id="ICPI tolerance guide: joints from 1/16 in"),
    pytest.param("joint low level", "high", 0.5, id="ICPI tolerance guide: at most 1/2 in low"),
    pytest.param("smallest piece", "likely", 3 / 8, id="ICPI tolerance guide: pieces from 3/8 in"),
    pytest.param("lippage", "likely", 1 / 8, id="ICPI tolerance guide: lippage at most 1/8 in"),
    pytest.param("lift depth", "likely", 4, id="a how-to page: lifts of at most 4 in"),
    pytest.param("tamper lift", "likely", 2, id="a maker's steps: lifts of 2 in"),
    pytest.param("trench protection", "likely", 60, id="29 CFR 1926.652(a)(1): from 5 ft"),
    pytest.param("trench ladder", "likely", 48, id="29 CFR 1926.651(c)(2): from 4 ft"),
]


@pytest.mark.parametrize(("name", "end", "inches"), SIZES)
def test_documented_sizes(name, end, inches):
    """A printed pair of inches and millimetres may differ by 5 %: 1 1/2 in for 40 mm."""
    assert getattr(coefficient(name), end) / INCH == pytest.approx(inches, rel=0.05)


def test_a_slab_is_named_as_one():
    """ICPI tolerance guide: at most 4 to 1; a 12 in slab of 2 3/8 in is 5.05 to 1."""
    assert coefficient("aspect limit").likely == pytest.approx(4)
    slab = Product(place=PLACE, item="Brick", kind="paver", length=12 * INCH, width=12 * INCH,
                   height=2.375 * INCH)  # fmt: skip
    [said] = [n.found for n in job(products=(slab,)).warnings if n.code == "slab"]
    assert float(said.split()[0]) == pytest.approx(5.05, abs=0.051)


def test_pace_of_placing_a_block():
    """Labour list: two men lay 100 hollow blocks in a day of 8 h; NAVFAC P-405: 160 h for 1,125."""
    pace = coefficient("wall hours")
    assert pace.likely == pytest.approx(2 * 8 / 100)
    assert pace.low <= 160 / 1125 <= pace.high


def test_weight_of_a_usual_wall_unit():
    """CMHA SRW-TEC-001-15: wall units weigh 30 to 100 lb each."""
    block = unit_of("Block", Materials(Job(settings=Settings(place=PLACE))))
    assert 30 <= block.weight.value / POUND <= 100
    # 12 x 8 x 4 in at the 140 lb a cubic foot of the supplier's table.
    assert block.weight.value / POUND == pytest.approx(12 * 8 * 4 / 1728 * 140)


def test_a_ton_of_spoil_in_the_ground_and_in_the_truck():
    """Worked answer: bank 3,400, loose 2,700 lb a cu yd: swell 26 %; a ton 0.59 and 0.74 cu yd."""
    bank, loose = (n * POUND / CUBIC_YARD for n in (3400, 2700))
    swell = constant(bank / loose, NUMBER, "swell")
    dug = constant(SHORT_TON / bank, BANK_VOLUME, "dug")
    assert dug.value / CUBIC_YARD == pytest.approx(0.59, abs=0.005)
    assert earthwork.loose_volume(dug, swell).value / CUBIC_YARD == pytest.approx(0.74, abs=0.005)


def test_lifts_by_hand():
    """A maker's steps for a small base: 4 in of stone in lifts of 2 in, so two."""
    area = constant(100 * FOOT**2, AREA, "area")
    compacted = constant(100 * FOOT**2 * 4 * INCH, COMPACTED_VOLUME, "base")
    assert tamping_words(area, compacted, "imperial").startswith("2 lifts of 2 in")
