"""What the programme counts for goods on their way, by hand."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from types import SimpleNamespace
from typing import Any

import pytest

from budget.decide.model.build import Build
from budget.decide.model.goods import _burden
from budget.decide.model.lanes import lanes
from budget.decide.model.model import Model, Solved
from budget.decide.terms.situation import Situation
from budget.prices.options import Drop, Haul, Offer


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


def _several(
    make: SimpleNamespace, weights: dict[str, float], routes: Sequence[Drop | Haul],
    *, hours_per_day: float = 8, **quotes: dict[str, Any],
) -> Solved:  # fmt: skip
    """The cheapest way to one of each, each for a step of its own, by North if not told."""
    steps = dict(zip(weights, ("Base", "Lay", "Joint", "Build"), strict=False))
    offers = [
        make.offer(item, "North", weight=kg, **{"price": 0, "measure": "count", "per": "each",
                   **quotes.get(item, {})})
        for item, kg in weights.items()
    ]  # fmt: skip
    needs = [make.need(i, steps[i], {"count": 1}, weight=kg) for i, kg in weights.items()]
    options = make.options(
        offers=offers,
        routes=routes,
        methods=[make.method("Carry", "barrow", 0.0)],
        hours_per_day=hours_per_day,
    )
    found = Model(Situation(make.takeoff(needs, []), options, "sand", frozenset())).solve(0.0)
    assert found is not None
    assert found.proved
    return found


def test_all_goods_of_a_seller_come_one_way(make: SimpleNamespace) -> None:
    """A heap and caps are two drops at 30.00; fetched they are eleven trips at 5.00.

    The heap brought and the caps fetched would be 35.00.
    """
    routes = [make.drop("North", 3000), make.haul("North", 500)]
    found = _several(make, {"Stone": 5000.0, "Cap": 10.0}, routes, Stone={"bulk": True})
    assert found.priced.cash == 5500


@pytest.mark.parametrize(("free", "fee"), [(11000, 0), (11001, 3000), (None, 3000)])
def test_what_comes_together_has_its_value_and_its_pallets_together(
    make: SimpleNamespace, free: int | None, fee: int
) -> None:
    """Caps for 60.00 and posts for 50.00 of one seller alone, each on a pallet at 15.00."""
    prices = {"Cap": 6000, "Post": 5000}
    offers = [
        make.offer(item, "North", price, measure="count", per="each", weight=40)
        for item, price in prices.items()
    ]
    needs = [make.need(item, "Build", {"count": 1}, weight=40) for item in prices]
    route = make.drop("North", 3000, free_above=free, per_pallet=1500)
    options = make.options(offers=offers, routes=[route])
    found = Model(Situation(make.takeoff(needs, []), options, "sand", frozenset())).solve(0.0)
    assert found is not None
    assert found.priced.cash == 11000 + fee + (3000 if fee else 0)


def test_each_of_two_goods_is_bought_where_it_costs_less(make: SimpleNamespace) -> None:
    """Caps 10.00 at North and 20.00 at South, posts 30.00 and 15.00, either brought for 1.00."""
    prices = {"Cap": (1000, 2000), "Post": (3000, 1500)}
    offers = [
        make.offer(item, seller, price, measure="count", per="each")
        for item, both in prices.items()
        for seller, price in zip(("North", "South"), both, strict=True)
    ]
    needs = [make.need(item, "Build", {"count": 1}) for item in prices]
    routes = [make.drop("North", 100), make.drop("South", 100)]
    options = make.options(offers=offers, routes=routes)
    found = Model(Situation(make.takeoff(needs, []), options, "sand", frozenset())).solve(0.0)
    assert found is not None
    assert found.priced.cash == 1000 + 1500 + 200


@pytest.mark.parametrize(
    ("kg", "least", "brought"),
    [(1000.0, 1000.0, True), (999.5, 1000.0, False), (0.5, 1.0, False), (1.0, 1.0, True)],
)
def test_less_than_the_least_load_is_fetched(
    make: SimpleNamespace, kg: float, least: float, brought: bool
) -> None:
    """Brought for nothing, or fetched at 5.00 a trip."""
    routes = [make.drop("North", 0, least=least), make.haul("North", 2000)]
    assert _several(make, {"Stone": kg}, routes).priced.cash == (0 if brought else 500)


@pytest.mark.parametrize(
    ("price", "start", "fee"),
    [(20000, 20000, 5000), (19999, 20000, 3000), (20000, 20000.5, 3000), (20001, 20000.5, 5000)],
)
def test_a_fee_that_rises_at_an_order_value_is_paid_from_it_on(
    make: SimpleNamespace, price: int, start: float, fee: int
) -> None:
    routes = [make.drop("North", 0, tiers=[(0, 3000), (start, 5000)])]
    found = _several(make, {"Cap": 40.0}, routes, Cap={"price": price})
    assert found.priced.cash == price + fee


@pytest.mark.parametrize("share", [True, False])
def test_heaps_pay_their_drops_with_tax(make: SimpleNamespace, share: bool) -> None:
    """Of 150 and 60 tonnes by four: 38 and 15 drops of 40.00, or 53 for both; a tenth of tax."""
    heap = {"bulk": True}
    route = make.drop("North", 4000, most=4000.0, tax=0.1, share=share)
    found = _several(make, {"Stone": 150000.0, "Sand": 60000.0}, [route], Stone=heap, Sand=heap)
    assert found.priced.cash == 53 * 4400


@pytest.mark.parametrize(("of", "tonnes"), [("", 7), ("bulk", 5), ("packs", 2)])
def test_a_fee_by_weight_or_volume_is_for_what_it_counts_with_tax(
    make: SimpleNamespace, of: str, tonnes: int
) -> None:
    """Five tonnes of stone, 3 m³ loose, and two of caps: 10.00 a tonne, 20.00 a cubic metre."""
    route = make.drop("North", 0, per_mass=1.0, per_volume=2000.0, mass_of=of, tax=0.1)
    goods = {"bulk": True, "volume": 3.0}
    found = _several(make, {"Stone": 5000.0, "Cap": 2000.0}, [route], Stone=goods)
    assert found.priced.cash == tonnes * 1100 + 3 * 2200


@pytest.mark.parametrize(("card", "cash"), [({}, 16500), ({"North": 0.03}, 16995)])
def test_a_drop_is_paid_with_tax_and_what_a_card_costs(
    make: SimpleNamespace, card: dict[str, float], cash: int
) -> None:
    """2,500 kg by the tonne are three drops of 50.00."""
    offer = make.offer("Cap", "North", 0, measure="count", per="each", weight=2500)
    options = make.options(
        offers=[offer], routes=[make.drop("North", 5000, most=1000.0, tax=0.1)], card=card
    )
    needs = [make.need("Cap", "Build", {"count": 1}, weight=2500)]
    found = Model(Situation(make.takeoff(needs, []), options, "sand", frozenset())).solve(0.0)
    assert found is not None
    assert found.priced.cash == cash


def test_one_day_of_a_hired_vehicle_is_enough_for_short_trips(make: SimpleNamespace) -> None:
    """To two sellers, six minutes each."""
    sellers = ("North", "South")
    options = make.options(
        offers=[make.offer(s, s, 0, measure="count", per="each", weight=100) for s in sellers],
        routes=[
            make.haul(s, 900, vehicle="Van", mileage=0, hours=0.1, handling=0.001, hire=6000)
            for s in sellers
        ],
    )  # fmt: skip
    needs = [make.need(s, "Base", {"count": 1}, weight=100) for s in sellers]
    found = Model(Situation(make.takeoff(needs, []), options, "sand", frozenset())).solve(0.0)
    assert found is not None
    assert found.priced.cash == 6000


def test_free_pallets_come_off_those_of_all_goods(make: SimpleNamespace) -> None:
    """Caps on three pallets and posts on four, of which one is free: six at 15.00."""
    route = make.drop("North", 0, per_pallet=1500, free_pallets=1)
    found = _several(make, {"Cap": 2500.0, "Post": 3500.0}, [route])
    assert found.priced.cash == 6 * 1500


def test_trips_are_counted_over_all_goods(make: SimpleNamespace) -> None:
    """Three times 400 kg by 500 kg: three trips at 5.00."""
    weights = {"Cap": 400.0, "Post": 400.0, "Step": 400.0}
    found = _several(make, weights, [make.haul("North", 500)])
    assert found.priced.cash == 1500


def test_a_hired_vehicle_is_paid_while_it_is_loaded(make: SimpleNamespace) -> None:
    """900 kg at 0.02 h and an hour to drive are 19 h, of 6 a day four days at 60.00."""
    van = make.haul("North", 900, vehicle="Van", mileage=0, handling=0.02, hire=6000)
    assert _several(make, {"Cap": 900.0}, [van], hours_per_day=6).priced.cash == 24000


def test_what_nobody_quotes_is_one_price_that_is_missing(make: SimpleNamespace) -> None:
    needs = [make.need("Stone", "Base", {"mass": 100})]
    model = Model(Situation(make.takeoff(needs, []), make.options(), "sand", frozenset()))
    fewest = model.fewest_missing()
    assert fewest is not None
    assert fewest.count == 1.0


def test_what_a_purchase_asks_of_a_plan(make: SimpleNamespace) -> None:
    """10.00 paid of which 3.00 come back; unknown weights, volumes and hours are none."""
    offer = make.offer("Stone", "North", 1000, measure="count")
    told: Any = SimpleNamespace(
        cash=make.cash(1000), credit=300.0, kept=make.cash(650), weight=None, volume=None,
        picking=None,
    )  # fmt: skip
    assert _burden(offer, told) == (1000.0, 700.0, 650.0, 0.0, 0.0, 0.0)
    told.weight, told.volume = make.fig(40.0, make.MASS), make.fig(0.5, make.LOOSE_VOLUME)
    told.picking = make.fig(0.25, make.HOURS)
    assert _burden(offer, told) == (1000.0, 700.0, 650.0, 40.0, 0.0, 0.25)  # it is no heap
    assert _burden(replace(offer, bulk=True), told)[3:] == (40.0, 0.5, 0.25)
