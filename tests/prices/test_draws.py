"""Every price recalculated for many draws at once equals recalculating one by one."""

import numpy as np
import pytest

from budget.figures import constant, given, recalculate
from budget.prices.bids import bid_cost, bids
from budget.prices.defaults import Notes
from budget.prices.delivery import drop_fee, shipment
from budget.prices.disposal import disposal_cost, disposal_ways
from budget.prices.equipment import hire_cost, machines
from budget.prices.flatten import flatten
from budget.prices.hauling import haul
from budget.prices.options import Drop, Haul
from budget.prices.packs import buy
from budget.prices.tax import UNTAXED
from budget.units import AREA, DAYS, HOURS, LOOSE_VOLUME, MASS, MILE, RATIO, SHORT_TON

DAY = constant(8.0, HOURS, "hours per day")


def delivered(make):
    quote = make.quote("Base stone", "A", 4000, per="m³", holds=1.0, measure="volume")
    yard = make.supplier(
        "A", delivery_fee=5000, free_above=16000, most_per_drop=3000.0, distance=9 * MILE, site=900
    )
    van = make.vehicle("Van", payload=900.0, bed_volume=0.7, hire_per_day=6000)
    job = make.job(quotes=(quote,), suppliers=(yard,), vehicles=(van,),
                   settings=make.settings(sales_tax=0.08))  # fmt: skip
    takeoff = make.takeoff([make.need("Base stone", "base", 3.3)])
    options = flatten(job, takeoff)
    bought = buy(options.offers[0], given(3.3, LOOSE_VOLUME, "stone", "amount"))
    return options, bought


def delivery_fee(make):
    options, bought = delivered(make)
    drop = next(r for r in options.routes["A"] if isinstance(r, Drop))
    return drop_fee(drop, shipment(drop, [(options.offers[0], bought)]))


def trips(make):
    options, bought = delivered(make)
    way = next(r for r in options.routes["A"] if isinstance(r, Haul))
    found = haul(way, bought.weight, bought.volume, DAY)
    return found.cash


def goods(make):
    return delivered(make)[1].cash


def hire(make):
    row = make.equipment("Saw", half_day=4500, day=7000, week=20000, waiver=0.1, fuel=310)
    tax = constant(0.08, RATIO, "tax")
    [machine] = machines(make.job(equipment=(row,)), tax, Notes("metric"))["Saw"]
    used = given(3.3, DAYS, "days", "amount")
    return hire_cost(machine, [used], constant(20.0, HOURS, "hours"))


def bid(make):
    row = make.bid("Lay", steps=("Lay",), price=4100, basis="per unit", unit="m²", least=3.0)
    [found] = bids(make.job(bids=(row,)), UNTAXED, Notes("metric"))
    return bid_cost(found, None, given(3.3, AREA, "area", "amount"))


def spoil(make):
    row = make.disposal("Box", price=21000, volume=2.0, weight=2000.0, over_price=5.5)
    [way] = disposal_ways(make.job(disposal=(row,)), UNTAXED, Notes("metric"))
    volume = given(3.3, LOOSE_VOLUME, "spoil", "amount")
    return disposal_cost(way, volume, constant(1.6 * SHORT_TON, MASS, "weight"), DAY).cash


@pytest.mark.parametrize("price", [goods, delivery_fee, trips, hire, bid, spoil])
def test_draws_equal_single_values(make, price) -> None:
    figure = price(make)
    draws = np.array([0.4, 2.9, 3.0, 3.0000001, 3.3, 5.2, 6.6])
    at_once = np.broadcast_to(recalculate(figure, {"amount": draws}), draws.shape)
    one_by_one = [recalculate(figure, {"amount": float(draw)}) for draw in draws]
    assert at_once.tolist() == one_by_one
    assert recalculate(figure, {}) == figure.value
    assert len(set(one_by_one)) > 1
    assert all(value == int(value) for value in one_by_one)
