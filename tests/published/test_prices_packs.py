"""Whole packs and order steps against published orders (sources in the parameter ids)."""

import pytest

from budget.figures import constant, product
from budget.prices.options import Offer
from budget.prices.packs import buy, packs_to_buy
from budget.prices.tax import UNTAXED
from budget.units import DENSITY, FOOT, LOOSE_VOLUME, MASS, MONEY, POUND, SHORT_TON, YARD

CF, CY = FOOT**3, YARD**3


def offer(holds: float, price: float = 100.0, least: float = 0, step: float = 1) -> Offer:
    return Offer(
        key="x", item="x", supplier="s", measure="volume", per="pack",
        holds=constant(holds, LOOSE_VOLUME, "pack"), price=constant(price, MONEY, "price"),
        tax=UNTAXED, least=least, step=step, weight=None, volume=None, deposit=None, bulk=True,
        expired=False, lead_days=0, restocking=None, cell="Quotes!C2",
    )  # fmt: skip


@pytest.mark.parametrize(
    ("bag_cf", "bags"),
    [
        pytest.param(0.60, 45, id="supplier's bag page: 80 lb mix, 45 bags a cu yd"),
        pytest.param(0.45, 60, id="supplier's bag page: 60 lb mix, 60 bags a cu yd"),
        pytest.param(0.30, 90, id="supplier's bag page: 40 lb mix, 90 bags a cu yd"),
    ],
)
def test_bags_for_one_cubic_yard(bag_cf: float, bags: int) -> None:
    assert packs_to_buy(offer(bag_cf * CF), constant(CY, LOOSE_VOLUME, "1 cu yd")).value == bags


@pytest.mark.parametrize(
    ("pounds", "cubic_feet"),
    [
        pytest.param(50, 0.375, id="maker's yield rule 0.15 cu ft per 20 lb: 50 lb"),
        pytest.param(60, 0.45, id="maker's yield rule 0.15 cu ft per 20 lb: 60 lb"),
        pytest.param(80, 0.60, id="maker's yield rule 0.15 cu ft per 20 lb: 80 lb"),
        pytest.param(90, 0.675, id="maker's yield rule 0.15 cu ft per 20 lb: 90 lb"),
    ],
)
def test_a_bag_fills_exactly_its_yield(pounds: float, cubic_feet: float) -> None:
    """Ten bags cover ten yields, and a cubic inch more takes an eleventh."""
    bag = offer(0.15 / 20 * pounds * CF)
    ten = constant(10 * cubic_feet * CF, LOOSE_VOLUME, "ten bags' worth")
    more = constant(10 * cubic_feet * CF + CF / 1728, LOOSE_VOLUME, "a cubic inch more")
    assert packs_to_buy(bag, ten).value == 10
    assert packs_to_buy(bag, more).value == 11


@pytest.mark.parametrize(
    ("cubic_feet", "yards"),
    [
        pytest.param(20 * 30 * 0.5, 12, id="a stone yard's page: 20 x 30 ft x 6 in, 12 cu yd"),
        pytest.param(18 * 10 * 0.5, 4, id="a supplier's page: slab 18 x 10 ft x 6 in, 4 cu yd"),
        pytest.param(23.34 * 1.08, 1, id="estimating text: grade beam 0.86 + 8 % is 0.93, use 1"),
        pytest.param(
            527.40 * 1.10, 22, id="Navy 14070 p. 103: 580.14 cu ft, an order must round up"
        ),
    ],
)
def test_whole_yards(cubic_feet: float, yards: int) -> None:
    amount = constant(cubic_feet * CF, LOOSE_VOLUME, "needed")
    assert packs_to_buy(offer(CY), amount).value == yards


@pytest.mark.parametrize(
    ("square_feet", "ordered"),
    [
        pytest.param(200, 2.5, id="ready-mix plant: 200 sq ft at 4 in, /81 is 2.47, order 2.5"),
        pytest.param(40, 1.0, id="ready-mix plant: 40 sq ft at 4 in is 0.49, least order 1"),
    ],
)
def test_half_yards_with_a_least(square_feet: float, ordered: float) -> None:
    amount = constant(square_feet / 81 * CY, LOOSE_VOLUME, "needed")
    assert packs_to_buy(offer(CY, least=1, step=0.5), amount).value == ordered


@pytest.mark.parametrize(
    ("density", "yards", "tons"),
    [
        pytest.param(1.35, 4, 5.40, id="quarry's conversion chart: crushed stone, 4 cu yd"),
        pytest.param(1.70, 6, 10.2, id="quarry's conversion chart: 3/4 in dense base, 6 cu yd"),
        pytest.param(1.20, 2, 2.4, id="quarry's conversion chart: mason sand, 1.20 ton a cu yd"),
    ],
)
def test_weight_of_bulk_goods(density: float, yards: float, tons: float) -> None:
    weight = product(
        "weight of a yard", MASS, constant(CY, LOOSE_VOLUME, "cu yd"),
        constant(density * SHORT_TON / CY, DENSITY, "loose density"),
    )  # fmt: skip
    stone = offer(CY)
    loaded = Offer(**{f: getattr(stone, f) for f in Offer.__slots__} | {"weight": weight})
    bought = buy(loaded, constant(yards * CY, LOOSE_VOLUME, "needed"))
    assert bought.weight is not None
    assert bought.weight.value / SHORT_TON == pytest.approx(tons, abs=0.005)
    assert bought.weight.value / POUND == pytest.approx(tons * 2000, abs=10)
