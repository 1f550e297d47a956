"""Rental terms and make-or-buy examples against published answers."""

import pytest

from budget.figures import constant
from budget.prices.bids import bid_cost
from budget.prices.equipment import hire_cost
from budget.prices.options import Bid, Machine, Offer, Term
from budget.prices.packs import buy
from budget.prices.tax import NOTHING, UNTAXED
from budget.prices.terms import cheapest_terms
from budget.units import AREA, COUNT, DAYS, HOURS, MONEY, NUMBER


def term(name: str, dollars: float, days: float) -> Term:
    return Term(name, constant(dollars * 100, MONEY, name), days)


#: $100 a day, $300 a week, $800 for 28 days.
SHOP = [term("day", 100, 1), term("week", 300, 7), term("4 weeks", 800, 28)]


@pytest.mark.parametrize(
    ("days", "dollars"),
    [
        pytest.param(9, 500, id="lowest-combination clause: 9 days are 300 + 2 x 100"),
        pytest.param(21, 800, id="lowest-combination clause: 3 weeks are 800, not 900"),
        pytest.param(3, 300, id="ratios of that clause: a week is 3 days' rate"),
        pytest.param(4, 300, id="ratios of that clause: from the 4th day on it is a week"),
        pytest.param(2, 200, id="that clause: 2 days by the day"),
        pytest.param(28, 800, id="that clause: 28 days"),
    ],
)
def test_lowest_combination_of_terms(days: float, dollars: float) -> None:
    assert cheapest_terms(SHOP, days).price.value == dollars * 100


def rented(terms: list[Term], hours_a_day: float = 8) -> Machine:
    return Machine(
        key="rent", equipment="Loader", way="rent", source="Shop", terms=tuple(terms),
        once=NOTHING, once_taxed=NOTHING, per_spell=NOTHING, waiver=None, fuel=None, deposit=None,
        hours_a_day=constant(hours_a_day, HOURS, "hours a day"), tax=UNTAXED, fits=True,
        cell="Equipment!E2",
    )  # fmt: skip


@pytest.mark.parametrize(
    ("hours", "dollars"),
    [
        pytest.param(10, 300, id="rental contract: $240 a day, 10 h on the meter, 240 + 2 x 30"),
        pytest.param(8, 240, id="rental contract: 8 h on the meter within the day"),
    ],
)
def test_hours_over_the_meter(hours: float, dollars: float) -> None:
    machine = rented([term("day", 240, 1)])
    one_day = constant(1.0, DAYS, "out one day")
    cost = hire_cost(machine, [one_day], constant(hours, HOURS, "machine hours"))
    assert cost.value == dollars * 100


def made(fixed: float, each: float) -> Bid:
    return Bid(
        key="made", firm="", steps=("Lay",), price=constant(each * 100, MONEY, "each"),
        basis="per unit", unit_step="Lay", unit_size=1, hours=None, least=None,
        mobilisation=constant(fixed * 100, MONEY, "fixed"), tax=UNTAXED, materials=True,
        equipment=True, supervise=constant(0.0, HOURS, "-"), risks=(), expired=False,
        cell="Bids!D2",
    )  # fmt: skip


def bought(each: float) -> Offer:
    return Offer(
        key="bought", item="x", supplier="s", measure="count", per="each",
        holds=constant(1, COUNT, "one"), price=constant(each * 100, MONEY, "each"), tax=UNTAXED,
        least=0, step=1, weight=None, volume=None, deposit=None, bulk=False, expired=False,
        lead_days=0, restocking=None, cell="Quotes!C2",
    )  # fmt: skip


def costs(fixed: float, made_each: float, bought_each: float, count: int) -> tuple[float, float]:
    area = constant(1.0, AREA, "area")
    making = bid_cost(made(fixed, made_each), constant(count, NUMBER, "count"), area)
    buying = buy(bought(bought_each), constant(count, COUNT, "count")).price
    return making.value / 100, buying.value / 100


@pytest.mark.parametrize(
    ("fixed", "made_each", "bought_each", "count"),
    [
        pytest.param(10125, 12.50, 14.75, 4500, id="Univ. of Kentucky notes: indifferent at 4,500"),
        pytest.param(300000, 8, 23, 20000, id="Univ. of Kentucky notes: 300,000/(23-8) = 20,000"),
        pytest.param(150000, 25, 45, 7500, id="Univ. of Kentucky notes: 150,000/(45-25) = 7,500"),
        pytest.param(40000, 5.5, 8, 16000, id="make-or-buy exercise: indifferent at 16,000"),
    ],
)
def test_break_even(fixed: float, made_each: float, bought_each: float, count: int) -> None:
    making, buying = costs(fixed, made_each, bought_each, count)
    assert making == buying
    fewer_making, fewer_buying = costs(fixed, made_each, bought_each, count - 1)
    assert fewer_making > fewer_buying


@pytest.mark.parametrize(
    ("fixed", "made_each", "bought_each", "count", "making", "buying"),
    [
        pytest.param(10125, 12.50, 14.75, 70000, 885125, 1032500, id="Univ. of Kentucky: 70,000"),
        pytest.param(40000, 5.5, 8, 15000, 122500, 120000, id="make-or-buy exercise: 15,000"),
        pytest.param(40000, 5.5, 8, 16000, 128000, 128000, id="make-or-buy exercise: 16,000"),
    ],
)
def test_make_or_buy_totals(
    fixed: float, made_each: float, bought_each: float, count: int, making: float, buying: float
) -> None:
    assert costs(fixed, made_each, bought_each, count) == (making, buying)
