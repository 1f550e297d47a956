"""Quotes side by side, landed."""

import pytest

from budget.prices import flatten, landed
from budget.units import MILE


@pytest.fixture
def job(make):
    """Two sellers of base stone: the cheap one is far and dear to deliver."""
    return make.job(
        settings=make.settings(sales_tax=0.1, hour_value=2000.0),
        quotes=(
            make.quote("Base stone", "Far Pit", 2500, per="m³", holds=1.0, measure="volume"),
            make.quote("Base stone", "North Yard", 3500, per="m³", holds=1.0, measure="volume"),
            make.quote("Base stone", "No Word", 9900, per="m³", holds=1.0, measure="volume"),
        ),
        suppliers=(
            make.supplier("Far Pit", delivery_fee=9000),
            make.supplier("North Yard", delivery_fee=3000, street=0, site=2500),
        ),
    )


def test_ranked_by_what_it_costs_at_the_work(job, make) -> None:
    """4.5 m³ are 5 m³ to buy. North Yard: 175 + 17.50 + 30 = 222.50 by the street, over 4.5 m³.
    Far Pit: 125 + 12.50 + 90 = 227.50."""
    takeoff = make.takeoff([make.need("Base stone", "base", 4.5)])
    rows = landed(flatten(job, takeoff), takeoff)
    assert [row.supplier for row in rows] == ["North Yard", "Far Pit", "No Word"]
    best = rows[0]
    assert best.route == "deliver to street"
    assert best.cash is not None
    assert best.landed is not None
    assert best.delivery is not None
    assert (best.packs.value, best.goods.value, best.tax.value) == (5, 17500, 1750)
    assert (best.delivery.value, best.cash.value) == (3000, 22250)
    assert best.landed.value == pytest.approx(22250 / 4.5)
    assert best.hours.value == 0  # nobody fetches it


def test_an_offer_without_a_delivery_price_cannot_be_landed(job, make) -> None:
    takeoff = make.takeoff([make.need("Base stone", "base", 4.5)])
    last = landed(flatten(job, takeoff), takeoff)[-1]
    assert (last.route, last.cash, last.landed) == ("", None, None)
    assert last.hours.value == 0


def test_offers_that_cannot_be_landed_stand_by_price_with_tax(job, make) -> None:
    """5 m³ at 20.00 and 10 % are 110.00; at 21.00 without tax 105.00."""
    quotes = (
        make.quote("Base stone", "A", 2000, per="m³", holds=1.0, measure="volume", taxed=True),
        make.quote("Base stone", "B", 2100, per="m³", holds=1.0, measure="volume", taxed=False),
    )
    takeoff = make.takeoff([make.need("Base stone", "base", 4.5)])
    rows = landed(flatten(make.replace(job, quotes=quotes), takeoff), takeoff)
    assert [(row.supplier, row.cash) for row in rows] == [("B", None), ("A", None)]


def test_the_bedding_that_asks_for_most_of_an_item(job, make) -> None:
    needs = [
        make.need("Base stone", "base", 1.0),
        make.need("Base stone", "base", 2.0, bedding="sand"),
        make.need("Base stone", "base", 4.0, bedding="small gravel"),
    ]
    takeoff = make.takeoff(needs)
    assert landed(flatten(job, takeoff), takeoff)[0].packs.value == 5


def test_fetching_is_weighed_with_own_hours(job, make) -> None:
    """At a low hour value the pickup wins over 90 of delivery; at a high one it does not."""
    far = make.supplier("Far Pit", delivery_fee=9000, distance=5 * MILE)
    truck = make.vehicle("Truck", payload=3100.0, people=100.0, cost_per_distance=0.0)
    takeoff = make.takeoff([make.need("Base stone", "base", 4.5)])
    for hour_value, route in ((0.0, "haul with Truck"), (1e6, "deliver to drive")):
        cheap = make.replace(job, suppliers=(far,), vehicles=(truck,), settings=make.settings(
            hour_value=hour_value, sales_tax=0.0))  # fmt: skip
        rows = landed(flatten(cheap, takeoff), takeoff)
        assert rows[0].supplier == "Far Pit"
        assert rows[0].route == route


def test_goods_of_unknown_weight_cannot_be_fetched(make) -> None:
    """A bench kit that nobody has weighed: the drop is taken, though the way there is free."""
    job = make.job(
        settings=make.settings(hour_value=0.0, sales_tax=0.0),
        quotes=(make.quote("Bench kit", "Far Pit", 30000, per="kit", measure="count"),),
        suppliers=(make.supplier("Far Pit", delivery_fee=9000, distance=5 * MILE),),
        vehicles=(make.vehicle("Truck", payload=3100.0, people=100.0, cost_per_distance=0.0),),
    )
    weighed = make.need("Bench kit", "extra", 1.0)
    for need, route in (
        (weighed, "haul with Truck"),
        (make.replace(weighed, weight=None), "deliver to drive"),
    ):
        takeoff = make.takeoff([need])
        assert landed(flatten(job, takeoff), takeoff)[0].route == route
