"""Pavers, joints and edges against association notes, textbooks and worked examples."""

import pytest

from budget.figures import constant
from budget.quantities.formulas import joints, paving, restraint
from budget.reference import coefficient
from budget.reference.tables import patterns
from budget.units import (
    AREA,
    COUNT,
    DENSITY,
    DEPTH,
    FOOT,
    INCH,
    LENGTH,
    POUND,
    RATIO,
    SMALL_VOLUME,
    YARD,
)


def inches(number):
    return constant(number * INCH, DEPTH, "size")


def ft(number):
    return constant(number * FOOT, LENGTH, "length")


def sq_ft(number):
    return constant(number * FOOT**2, AREA, "area")


def pavers(area, length, width, joint=0.0):
    one = paving.module(inches(length), inches(width), inches(joint))
    return paving.count(sq_ft(area), one)


PER_SQUARE_FOOT = [
    pytest.param(8, 4, 0, 4.5, id="BIA Seven Easy Steps: 4 x 8 in laid tight, 4.5"),
    pytest.param(7.625, 3.625, 0, 5.2, id="BIA Seven Easy Steps: 3 5/8 x 7 5/8 in, 5.2"),
    pytest.param(7.5, 3.75, 0, 5.1, id="BIA Seven Easy Steps: 3 3/4 x 7 1/2 in, 5.1"),
    pytest.param(7.625, 3.625, 0.375, 4.5, id="Beall p. 140: modular with 3/8 in joints, 4.5"),
]


@pytest.mark.parametrize(("length", "width", "joint", "count"), PER_SQUARE_FOOT)
def test_pavers_in_a_square_foot(length, width, joint, count):
    assert pavers(1, length, width, joint).value == pytest.approx(count, abs=0.05)


COUNTS = [
    pytest.param(200, 900, 945, 0.05, id="BIA Seven Easy Steps: 10 x 20 ft, 900, with 5 % 945"),
    pytest.param(100, 450, 495, 0.10, id="how-to page: 10 x 10 ft, 450, with 10 % 495"),
    pytest.param(120, 540, 567, 0.05, id="how-to page: 12 x 10 ft in 4 x 8, 540 (and 5 %)"),
]


@pytest.mark.parametrize(("area", "net", "order", "extra"), COUNTS)
def test_count_and_extra(area, net, order, extra):
    found = pavers(area, 8, 4)
    assert found.value == pytest.approx(net, abs=1e-6)
    more = paving.with_extra("to order", found, constant(extra, RATIO, "extra"))
    assert more.value == pytest.approx(order, abs=1e-6)


def test_a_yard_of_old_paving_brick():
    """Old pocketbook: paving brick 9 x 4.5 x 1.75 in, 82 on edge to a square yard."""
    assert pavers(9, 9, 1.75).value == pytest.approx(82, abs=0.5)


def test_extra_lies_in_the_published_range():
    """General guides: 5 % for simple work, up to 15 % for intricate."""
    for pattern in patterns().values():
        assert 0.05 <= pattern.straight <= pattern.curved <= 0.15


JOINTS = 8, 4, 0.125


def test_joint_share():
    """4 x 8 in face, 1/8 in joint: 1 - 32 / (8.125 x 4.125) = 4.52 %."""
    length, width, joint = (inches(n) for n in JOINTS)
    share = joints.joint_share(length, width, paving.module(length, width, joint))
    assert share.value == pytest.approx(0.0452, abs=5e-5)


def test_joint_filler_of_a_hundred_square_feet():
    """Same joint, 2 3/8 in deep: 0.895 cu ft per 100 sq ft, about 90 lb at 100 lb per cu ft."""
    length, width, joint = (inches(n) for n in JOINTS)
    share = joints.joint_share(length, width, paving.module(length, width, joint))
    first = joints.first_fill(sq_ft(100), share, inches(2.375), inches(0))
    assert first.value / FOOT**3 == pytest.approx(0.895, abs=0.0005)
    mass = joints.filler_mass(first, coefficient("density joint sand").figure())
    assert mass.value / POUND == pytest.approx(90, abs=1)


WEIGHTS = [
    pytest.param(60 / 25.4, 140, 27.6, id="140 lb per cu ft x 60 mm = 27.6 lb per sq ft"),
    pytest.param(2.375, 155, 30.7, id="a supplier's table: 155 x 2.375 / 12 = 30.7"),
]


@pytest.mark.parametrize(("height", "density", "pounds"), WEIGHTS)
def test_weight_of_a_square_foot(height, density, pounds):
    dense = constant(density * POUND / FOOT**3, DENSITY, "density")
    found = paving.weight(inches(12), inches(12), inches(height), dense)
    assert found.value / POUND == pytest.approx(pounds, abs=0.05)


def test_documented_paver_weight():
    """A supplier's table: 27.44 lb per sq ft on hand, 27 to 31 lb for a 2 3/8 in paver."""
    height = coefficient("paver height").figure()
    found = paving.weight(inches(12), inches(12), height, coefficient("density paver").figure())
    assert 27 <= found.value / POUND <= 31
    assert found.value / POUND == pytest.approx(27.44, rel=0.02)


MATERIALS = [
    pytest.param("clay", "likely", 3694 / 27, id="a supplier's table: paving brick 3,694 lb a yd³"),
    pytest.param("soft stone", "low", 140, id="Beall p. 140: limestone, sandstone 140 lb a ft³"),
    pytest.param(
        "soft stone", "high", 4536 / 27, id="a supplier's table: limestone 4,536 lb a yd³"
    ),
    pytest.param("hard stone", "low", 160, id="Beall p. 140: granite 160 lb a ft³"),
]


@pytest.mark.parametrize(("material", "end", "pounds"), MATERIALS)
def test_density_of_what_pavers_are_made_of(material, end, pounds):
    found = getattr(coefficient(f"density {material}"), end)
    assert found / POUND * FOOT**3 == pytest.approx(pounds, rel=2e-4)


def test_weight_of_a_paved_deck():
    """A supplier's page: 800 sq ft at 27.44 lb is about 11 tons (exact 10.98)."""
    found = paving.weight(
        inches(12), inches(12), inches(2.375), constant(27.44 * 12 / 2.375 * POUND / FOOT**3,
                                                        DENSITY, "density")
    )  # fmt: skip
    assert 800 * found.value / POUND / 2000 == pytest.approx(10.98, abs=0.005)


def test_documented_thickness():
    """PAV-TEC-002-22: 2 3/8 in, also printed 60 mm; allow 1 %."""
    assert coefficient("paver height").likely == pytest.approx(0.060, rel=0.01)


EDGING = [
    pytest.param(60, 4 / 12, 180, id="BIA Seven Easy Steps: one brick each 4 in, 60 ft -> 180"),
    pytest.param(60, 8, 7.5, id="60 ft in pieces of 8 ft"),
]


@pytest.mark.parametrize(("edge", "piece", "count"), EDGING)
def test_pieces_along_an_edge(edge, piece, count):
    assert restraint.pieces(ft(edge), ft(piece)).value == pytest.approx(count)


STAKES = [
    pytest.param(3, 20, id="BIA Seven Easy Steps: one stake each 3 ft, 60 ft -> 20 and one a run"),
    pytest.param(2, 30, id="BIA Seven Easy Steps: one stake each 2 ft, 60 ft -> 30 and one a run"),
]


@pytest.mark.parametrize(("spacing", "count"), STAKES)
def test_stakes(spacing, count):
    """A magazine guide's 3 ft spacing on 60 ft gives 21 spikes: 20 and one for the open run."""
    run = constant(1, COUNT, "runs")
    found = restraint.spikes(ft(60), ft(0), ft(spacing), ft(spacing), run)
    assert found.value == count + 1


BAGS = [
    pytest.param(40, 0.30, 90, id="a yield rule: 40 lb bag 0.30 cu ft, 90 a cu yd"),
    pytest.param(60, 0.45, 60, id="a bag's label: 60 lb 0.45 cu ft, 60 a cu yd"),
    pytest.param(80, 0.60, 45, id="a bag's label: 80 lb 0.60 cu ft, 45 a cu yd"),
    pytest.param(50, 0.375, 72, id="a yield rule: 50 lb bag 0.375 cu ft (72 a cu yd)"),
]


@pytest.mark.parametrize(("pounds", "cubic_feet", "bags"), BAGS)
def test_yield_of_a_bag_of_mix(pounds, cubic_feet, bags):
    dry = coefficient("density concrete mix").figure()
    one = restraint.dry_mix(constant(cubic_feet * FOOT**3, SMALL_VOLUME, "bag"), dry)
    assert one.value / POUND == pytest.approx(pounds, rel=0.001)
    yard = restraint.dry_mix(constant(YARD**3, SMALL_VOLUME, "cubic yard"), dry)
    assert yard.value / POUND / pounds == pytest.approx(bags, rel=0.001)


def test_concrete_extra_lies_in_the_published_range():
    """NRMCA CIP 8: order 4 to 10 % over plan."""
    extra = coefficient("overage concrete")
    assert (extra.low, extra.high) == (0.04, 0.10)
    assert 0.04 <= extra.likely <= 0.10


LIMITS = [
    pytest.param("base depth", 4, id="ICPI tolerance guide: base at least 4 in"),
    pytest.param("overrun", 6, id="ICPI tolerance guide: 6 in past the edge"),
    pytest.param("depth sand", 1, id="ICPI tolerance guide: bedding sand 1 in"),
    pytest.param("widest sand joint", 3 / 16, id="ICPI tolerance guide: joints up to 3/16 in"),
    pytest.param("narrowest gravel joint", 1 / 4, id="ICPI tolerances for PICP: from 1/4 in"),
]


@pytest.mark.parametrize(("name", "value"), LIMITS)
def test_documented_limits(name, value):
    assert coefficient(name).likely / INCH == pytest.approx(value)
