"""Dig, base, bedding and geotextile against agency tables and worked examples."""

import pytest

from budget.figures import constant
from budget.quantities.formulas import base, bedding, earthwork, geotextile
from budget.quantities.formulas.paving import with_extra
from budget.quantities.layers import published_overrun
from budget.reference import coefficient
from budget.reference.tables import grounds
from budget.units import (
    AREA,
    BANK_VOLUME,
    BULK_DENSITY,
    DEPTH,
    FOOT,
    INCH,
    LENGTH,
    LOOSE_VOLUME,
    POUND,
    RATIO,
    SHORT_TON,
    YARD,
)

CUBIC_YARD = YARD**3


def sq_ft(number):
    return constant(number * FOOT**2, AREA, "area")


def inches(number):
    return constant(number * INCH, DEPTH, "depth")


def ft(number):
    return constant(number * FOOT, LENGTH, "length")


def loose(cubic_yards):
    return constant(cubic_yards * CUBIC_YARD, LOOSE_VOLUME, "loose")


VOLUMES = [
    pytest.param(200, 1, 0.62, 0.003, id="BIA Seven Easy Steps: 200 sq ft x 0.00309 = 0.62 cu yd"),
    pytest.param(200, 4, 200 * 0.01235, 0.001, id="BIA Seven Easy Steps: 4 in base x 0.01235"),
    pytest.param(720, 4, 8.89, 0.011, id="patio slab page: 720 sq ft at 4 in, 8.88 cu yd"),
    pytest.param(600, 6, 11.11, 0.005, id="stone drive page: 20 x 30 ft x 6 in, 11.11 cu yd"),
    pytest.param(180, 4, 2.23, 0.01, id="patio slab page: 12 x 15 ft x 4 in, 2.23 (rounded up)"),
    pytest.param(180, 6, 3.33, 0.005, id="slab page: 18 x 10 ft x 6 in, 3.33 cu yd"),
    pytest.param(600, 4, 7.41, 0.005, id="slab page: 30 x 20 ft x 4 in, 7.41 cu yd"),
    pytest.param(1200, 4, 14.81, 0.005, id="drive: 100 x 12 ft x 4 in, exact 14.81 cu yd"),
    pytest.param(100, 4, 1.235, 0.001, id="gravel page: 10 x 10 ft x 4 in, exact 1.235 cu yd"),
    pytest.param(350, 4, 4.32, 0.005, id="trade association: 350 sq ft at 4 in, 4.32 cu yd"),
    pytest.param(120, 4, 40 / 27, 0.001, id="how-to page: 12 x 10 ft at 4 in, 40 cu ft"),
    pytest.param(452.39, 4, 150.80 / 27, 0.002, id="24 ft circle, 4 in: exact 150.80 cu ft"),
    pytest.param(113.10, 4, 1.396, 0.001, id="round slab 12 ft, 4 in: exact 1.396 cu yd"),
]


@pytest.mark.parametrize(("area", "depth", "cubic_yards", "tolerance"), VOLUMES)
def test_volume_of_a_layer(area, depth, cubic_yards, tolerance):
    for layer in (base.compacted_volume, bedding.bedding_volume):
        found = layer(sq_ft(area), inches(depth)).value / CUBIC_YARD
        assert found == pytest.approx(cubic_yards, abs=tolerance)


COVERS = {
    0.5: 648, 1: 324, 2: 162, 3: 108, 4: 81, 5: 64.8, 6: 54, 7: 46.3, 8: 40.5, 9: 36, 10: 32.4,
    11: 29.5, 12: 27,
}  # fmt: skip


@pytest.mark.parametrize(("depth", "area"), COVERS.items())
def test_area_that_one_cubic_yard_covers(depth, area):
    """A soil and stone page's table of cover, printed to three figures."""
    found = bedding.bedding_volume(sq_ft(area), inches(depth)).value / CUBIC_YARD
    assert found == pytest.approx(1, rel=0.002)


def test_base_by_weight_and_loose():
    """WSDOT M 22-01 Exhibit 620-1: 2.469 cu yd compacted, 4.57 tons, 3.10 cu yd in the truck."""
    compacted = base.compacted_volume(sq_ft(200), inches(4))
    mass = base.base_mass(compacted, coefficient("density base compacted").figure())
    assert mass.value / SHORT_TON == pytest.approx(4.57, abs=0.005)
    heap = base.loose_base(mass, coefficient("density base loose").figure())
    assert heap.value / CUBIC_YARD == pytest.approx(3.10, abs=0.005)
    assert heap.value / compacted.value == pytest.approx(1.254, abs=0.0005)


def test_stockpile_allowance():
    """WSDOT M 22-01 ch. 620: 10 % for a stockpile takes 4.57 to 5.02 tons (exact 5.024)."""
    compacted = base.compacted_volume(sq_ft(200), inches(4))
    mass = base.base_mass(compacted, coefficient("density base compacted").figure())
    order = with_extra("base", mass, constant(0.10, RATIO, "stockpile"))
    assert order.value / SHORT_TON == pytest.approx(5.02, abs=0.006)


@pytest.mark.parametrize(
    ("depth", "overrun"),
    [
        pytest.param(4, 6, id="ICPI tolerance guide: base 4 in -> 6 in"),
        pytest.param(6, 6, id="ICPI Tech Spec 3: base 6 in -> 6 in beyond the spikes"),
        pytest.param(8, 8, id="ICPI tolerance guide: base 8 in -> 8 in"),
    ],
)
def test_base_past_the_edge(depth, overrun):
    assert published_overrun(inches(depth)).value / INCH == pytest.approx(overrun)


@pytest.mark.parametrize(
    ("layers", "depth"),
    [
        pytest.param((2.375, 0.75, 2), 5.125, id="how-to page: 2 3/8 + 3/4 + 2 = 5 1/8 in"),
        pytest.param((2.375, 0.75, 6), 9.125, id="how-to page: with a 6 in base 9 1/8 in"),
        pytest.param((3.125, 2, 14), 19.125, id="ICPI Interlock Design 2018: 10 + 4 + 2 + 3 1/8"),
    ],
)
def test_depth_of_the_dig(layers, depth):
    found = earthwork.dig_depth(*(inches(n) for n in layers))
    assert found.value / INCH == pytest.approx(depth)


@pytest.mark.parametrize(
    ("depth", "lift", "lifts"),
    [
        pytest.param(6 * INCH, 4 * INCH, 2, id="how-to page, lifts of 4 in: base 6 in -> 2"),
        pytest.param(4 * INCH, 4 * INCH, 1, id="how-to page, lifts of 4 in: base 4 in -> 1"),
        pytest.param(1.2, 0.15, 8, id="compaction example: 1,200 mm / 150 mm -> 8"),
        pytest.param(1.25, 0.15, 9, id="compaction example: 1,250 mm / 150 mm -> 9"),
    ],
)
def test_lifts(depth, lift, lifts):
    found = base.lifts(constant(depth, DEPTH, "base"), constant(lift, DEPTH, "lift"))
    assert found.value == lifts


@pytest.mark.parametrize(
    ("ground", "loose_yards"),
    [
        pytest.param("sand or gravel", 111, id="FM 5-434 Table 1-1, sand or gravel"),
        pytest.param("common earth", 125, id="FM 5-434 Table 1-1, common earth"),
        pytest.param("clay", 143, id="FM 5-434 Table 1-1, clay"),
        pytest.param("rock", 150, id="FM 5-434 Table 1-1, blasted rock"),
    ],
)
def test_swell_of_a_hundred_bank_yards(ground, loose_yards):
    row = grounds()[ground]
    bank = constant(100 * CUBIC_YARD, BANK_VOLUME, "dig")
    found = earthwork.loose_volume(bank, row.swell_figure())
    assert found.value / CUBIC_YARD == pytest.approx(loose_yards)


def test_swell_of_dense_clay():
    """Estimating textbook, example 9-2: 1,000 bank cu yd at 30 % -> 1,300 loose."""
    bank = constant(1000 * CUBIC_YARD, BANK_VOLUME, "dig")
    heap = earthwork.loose_volume(bank, constant(1.30, RATIO, "swell"))
    assert heap.value / CUBIC_YARD == pytest.approx(1300)


HEAPS = [
    pytest.param(5.19, 2025, 10_510, id="TM 9-2320-366-10-1 Table 2-15: earth, dry loose"),
    pytest.param(7.78, 2025, 15_755, id="TM 9-2320-366-10-1 Table 2-15: earth, dry loose, 7.78"),
    pytest.param(5.19, 2565, 13_312, id="TM 9-2320-366-10-1 Table 2-15: rock and stone, crushed"),
    pytest.param(5.19, 2700, 14_013, id="TM 9-2320-366-10-1 Table 2-15: earth and gravel"),
    pytest.param(7.78, 2700, 21_006, id="TM 9-2320-366-10-1 Table 2-15: earth and gravel, 7.78"),
]


@pytest.mark.parametrize(("yards", "density", "pounds"), HEAPS)
def test_weight_of_a_heap(yards, density, pounds):
    per_yard = constant(density * POUND / CUBIC_YARD, BULK_DENSITY, "density")
    assert bedding.bedding_mass(loose(yards), per_yard).value / POUND == pytest.approx(
        pounds, abs=1
    )


@pytest.mark.parametrize(
    ("name", "yards", "tons"),
    [
        pytest.param("density small gravel", 4, 5.40, id="a quarry's chart: stone 1.35 ton/cu yd"),
        pytest.param("density screenings", 1.5, 2.1, id="a quarry's chart: screenings 1.40"),
        pytest.param(
            "density bedding sand", 0.617, 1617 / 2000, id="a supplier's table: 0.617 cu yd dry"
        ),
    ],
)
def test_weight_of_bedding(name, yards, tons):
    found = bedding.bedding_mass(loose(yards), coefficient(name).figure())
    assert found.value / SHORT_TON == pytest.approx(tons, rel=0.002)


def test_soil_of_a_small_patio():
    """A supplier's table: 200 sq ft x 7.375 in = 4.55 bank cu yd; packed 2,592 lb -> 11,800 lb."""
    bank = earthwork.bank_volume(sq_ft(200), inches(7.375))
    assert bank.value / CUBIC_YARD == pytest.approx(4.55, abs=0.005)
    packed = constant(2592 * POUND / CUBIC_YARD, BULK_DENSITY, "packed")
    found = bedding.bedding_mass(constant(bank.value, LOOSE_VOLUME, "as it lies"), packed)
    assert found.value / POUND == pytest.approx(11_800, abs=10)


def test_earth_weighs_the_same_dug_as_in_the_ground():
    """A supplier's table: damp packed 2,592, damp loose 2,106 lb per cu yd; FM 5-434 swell 1.25."""
    earth = grounds()["common earth"]
    bank = constant(CUBIC_YARD, BANK_VOLUME, "dig")
    heap = earthwork.loose_volume(bank, earth.swell_figure())
    found = bedding.bedding_mass(heap, earth.density_figure()).value / POUND
    assert found == pytest.approx(2592, rel=0.02)


def test_strips_of_a_wide_field():
    """Worked example: 20 m wide, roll 4.5 m, overlap 1.2 m: 5.7 -> 6 strips."""
    metres = [constant(n, LENGTH, "m") for n in (20, 4.5, 1.2)]
    assert geotextile.strips(*metres).value == 6


def test_strips_without_overlap():
    """How-to page: 10 x 12 ft, 4 ft fabric -> 3 strips of 12 ft = 36 ft."""
    assert geotextile.strips(ft(10), ft(4), ft(0)).value == 3


def test_strips_the_better_way():
    """11 x 21 ft, 6 ft roll, 1 ft overlap: 2 x 21 = 42 ft along beats 4 x 11 = 44 ft across."""
    assert geotextile.strips(ft(11), ft(6), ft(1)).value == 2
    assert geotextile.strips(ft(21), ft(6), ft(1)).value == 4
    found = geotextile.strip_area(ft(21), ft(11), ft(6), ft(1))
    assert found.value / FOOT**2 == pytest.approx(42 * 6)


def test_overlap_of_firm_soil():
    """Overlap table by soil strength: CBR above 3, 0.9 to 1.5 ft."""
    overlap = coefficient("geotextile overlap")
    assert 0.9 * FOOT <= overlap.low <= overlap.likely <= overlap.high <= 1.5 * FOOT
