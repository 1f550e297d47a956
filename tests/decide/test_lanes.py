"""What the programme counts for goods on their way, by hand."""

from __future__ import annotations

import math
from dataclasses import replace
from types import SimpleNamespace

import pytest

from budget.decide.model.build import Build
from budget.decide.model.lanes import lanes
from budget.decide.model.model import Model, Solved
from budget.decide.terms.situation import Situation
from budget.prices.options import Drop, Offer


def _situation(
    make: SimpleNamespace, need: dict[str, float], offers: list[Offer], routes: list[Drop]
) -> Situation:
    takeoff = make.takeoff([make.need("Stone", "Base", need)], [make.amount("Base", 1.0)])
    options = make.options(
        offers=offers, routes=routes, methods=[make.method("Base", "by hand", 1.0)]
    )
    return Situation(takeoff, options, "sand", frozenset())


def _best(
    make: SimpleNamespace, need: dict[str, float], offers: list[Offer], routes: list[Drop]
) -> Solved:
    found = Model(_situation(make, need, offers, routes)).solve(0.0)
    assert found is not None
    assert found.proved
    return found


def test_a_lane_for_each_step_of_the_order_value(make: SimpleNamespace) -> None:
    """90.00 up to 200.00 and 60.00 from there on, nothing above 450.00; a drop without steps."""
    offer = make.offer("Stone", "North", 1000, holds=1000, per="tonne")
    for route, expected in (
        (
            make.drop("North", 0, tiers=[(0, 9000), (20000, 6000)], free_above=45000),
            [
                (-math.inf, 20000.0, 9000.0, False), (20000.0, math.inf, 6000.0, False),
                (45000.0, math.inf, 0.0, True),
            ],
        ),
        (make.drop("North", 2500), [(-math.inf, math.inf, 0.0, False)]),
    ):  # fmt: skip
        build = Build(_situation(make, {"mass": 1000}, [offer], [route]))
        found = [(lane.low, lane.high, lane.fee, lane.free) for lane in lanes(build, "North")]
        assert found == expected


@pytest.mark.parametrize(("free", "cash"), [(1, 6050), (0, 7700), (3, 2750)])
def test_pallets_beyond_the_free_ones_are_charged_with_tax(
    make: SimpleNamespace, free: int, cash: int
) -> None:
    """Three pallets at 100.00; a drop at 25.00 and pallets at 15.00, 10 % tax."""
    offer = make.offer("Stone", "North", 10000, measure="count", holds=40, per="pallet")
    route = make.drop("North", 2500, per_pallet=1500, free_pallets=free, tax=0.1)
    found = _best(make, {"count": 120}, [offer], [route])
    assert found.priced.cash == 30000 + cash


@pytest.mark.parametrize("north", [1000, 1001])
def test_a_heap_bought_in_part_comes_in_as_many_drops_as_it_takes(
    make: SimpleNamespace, north: int
) -> None:
    """Seven tonnes at 10.00: North brings two for 30.00, South three for 50.00.

    Of North alone four drops, 120.00; of South alone three, 150.00; two drops of North and one of
    South are 110.00.
    """
    stone = {"holds": 1000, "per": "tonne", "weight": 1000, "bulk": True, "in_part": True}
    offers = [make.offer("Stone", "North", north, **stone)]
    offers.append(make.offer("Stone", "South", 1000, **stone))
    routes = [make.drop("North", 3000, most=2000), make.drop("South", 5000, most=3000)]
    found = _best(make, {"mass": 7000}, offers, routes)
    assert found.priced.cash == 11000 + 3 * 1000 + 4 * north
    assert {o.supplier: o.packs for o in found.priced.orders} == {"North": 4, "South": 3}


@pytest.mark.parametrize(("free", "cash"), [(None, 12500), (10100, 10100), (10101, 12500)])
def test_a_dearer_order_that_is_brought_for_nothing_is_bought(
    make: SimpleNamespace, free: int | None, cash: int
) -> None:
    """The same stone of one seller for 95.00 or 101.00, either brought for 30.00."""
    offers = [
        make.offer("Stone", "North", price, measure="count", per=per)
        for price, per in ((9500, "bag"), (10100, "box"))
    ]
    found = _best(make, {"count": 1}, offers, [make.drop("North", 3000, free_above=free)])
    assert found.priced.cash == cash


@pytest.mark.parametrize("first", ["clean", "dirty"])
def test_of_stone_at_one_price_that_is_taken_which_asks_fewer_hours(
    make: SimpleNamespace, first: str
) -> None:
    """Where an hour is worth nothing, an hour of picking is still not worked for nothing."""
    second = "dirty" if first == "clean" else "clean"
    hours = {"clean": 1.0, "dirty": 2.0}
    offers = [
        make.offer("Stone", "North", 9500, measure="count", key=place, picking=hours[kind])
        for place, kind in (("a", first), ("b", second))
    ]
    found = _best(make, {"count": 1}, offers, [make.drop("North", 3000)])
    assert found.priced.plan.offers == {"Stone": "a" if first == "clean" else "b"}


@pytest.mark.parametrize(
    ("site", "drive", "point"),
    [
        ({}, {}, "site"),  # three metres to carry, not fifteen
        ({"place": 100.0}, {"place": 100.0}, "site"),
        ({"place": 100.0}, {"place": 99.0}, "drive"),
    ],
)
def test_goods_of_unknown_weight_come_to_the_nearer_of_points_that_cost_the_same(
    make: SimpleNamespace, site: dict[str, float], drive: dict[str, float], point: str
) -> None:
    offer = make.offer("Stone", "North", 1000, measure="count", per="each")
    routes = [make.drop("North", 3000, point="site", **site)]
    routes.append(make.drop("North", 3000, **drive))
    found = _best(make, {"count": 1}, [offer], routes)
    assert found.priced.plan.routes == {"North": f"deliver to {point}"}


def test_goods_whose_delivery_is_not_priced_come_to_the_point_that_costs_less(
    make: SimpleNamespace,
) -> None:
    """Two points as far from the work, of which the second by name asks nothing of its own."""
    offer = make.offer("Stone", "North", 1000, measure="count", per="each")
    routes = [
        make.drop("North", 0, place=500.0, priced=False),
        make.drop("North", 0, point="street", priced=False),
    ]
    situation = _situation(make, {"count": 1}, [offer], routes)
    level = dict.fromkeys(situation.options.carry, situation.options.carry["drive"])
    found = Model(replace(situation, options=replace(situation.options, carry=level))).solve(0.0)
    assert found is not None
    assert found.priced.plan.routes == {"North": "deliver to street"}


@pytest.mark.parametrize(
    ("free", "place", "note"),
    [
        (9500, None, "free of charge at this order value"),
        (9500, 500.0, "free but for the drop point"),
        (10000, None, "5 of goods short of free delivery"),
        (None, None, ""),
    ],
)
def test_beside_a_delivery_stands_what_it_is_free_of(
    make: SimpleNamespace, free: int | None, place: float | None, note: str
) -> None:
    """Goods for 95.00, brought for 1.00, free above some value but for the drop point."""
    offer = make.offer("Stone", "North", 9500, measure="count", per="each")
    route = make.drop("North", 100, free_above=free, place=place)
    (arrival,) = _best(make, {"count": 1}, [offer], [route]).priced.arrivals
    assert arrival.note.lstrip("$ ") == note
