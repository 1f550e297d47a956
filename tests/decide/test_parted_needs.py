"""What the programme holds of goods bought in part: the rest, what goes back, whole steps."""

from __future__ import annotations

import math
from collections.abc import Sequence
from types import SimpleNamespace
from typing import Any

import pytest

from budget.decide.model.model import Model, Solved
from budget.decide.model.splits import _Part, _rounded
from budget.decide.terms.situation import Situation
from budget.prices.options import Drop, Haul, Offer


def situation(
    make: SimpleNamespace, need: float, offers: Sequence[Offer], routes: Sequence[Drop | Haul] = ()
) -> Situation:
    """So many kilograms of sand, a litre each, by sellers who bring it for nothing if not told."""
    named = {route.supplier for route in routes}
    free = [make.drop(seller, 0) for seller in sorted({o.supplier for o in offers} - named)]
    options = make.options(
        offers=offers, routes=[*free, *routes],
        methods=[make.method("Joint", "by hand", 0.1), make.method("Carry", "barrow", 0.01)],
    )  # fmt: skip
    needs = [make.need("Sand", "Joint", {"mass": need, "volume": need / 1000.0})]
    takeoff = make.takeoff(needs, [make.amount("Joint", 20.0)])
    return Situation(takeoff, options, "sand", frozenset())


def best(
    make: SimpleNamespace, need: float, offers: Sequence[Offer], routes: Sequence[Drop | Haul] = ()
) -> Solved:
    """The cheapest plan for so many kilograms of sand."""
    found = Model(situation(make, need, offers, routes)).solve(0.0)
    assert found is not None
    assert found.proved
    return found


def pinned(
    make: SimpleNamespace, need: float, packs: float, offers: Sequence[Offer],
    routes: Sequence[Drop | Haul] = (),
) -> Solved:  # fmt: skip
    """The plan that buys so many packs of the first offer and has the rest of the second."""
    first, second = offers
    allowed = {"item:Sand": frozenset((f"{packs:g} of {first.key} + rest of {second.key}",))}
    found = Model(situation(make, need, offers, routes)).solve(0.0, allowed)
    assert found is not None
    assert found.priced.plan.shares == {"Sand": {first.key: packs}}
    return found


def sand(make: SimpleNamespace, seller: str, price: float, holds: float, **more: object) -> Offer:
    return make.offer("Sand", seller, price, holds=holds, in_part=True, **more)  # type: ignore[no-any-return]


def test_the_rest_is_had_where_bags_go_back_though_another_takes_none(
    make: SimpleNamespace,
) -> None:
    """55 kg. North sells three bags of 10 kg at 2.00 or more and takes any back; South 40 kg at
    7.00.

    All of North is six, 12.00; all of South two, 14.00. One of South and three of North are
    13.00, of which one of North goes back: 11.00.
    """
    back = make.fig(1.0, make.RATIO, "share paid back")
    offers = [sand(make, "North", 200, 10.0, least=3.0, back=back.value)]
    offers.append(sand(make, "South", 700, 40.0))
    found = best(make, 55.0, offers)
    assert found.priced.cash == 1100
    assert found.priced.plan.shares == {"Sand": {"Sand @ South, bag": 1.0}}
    assert {o.supplier: (o.packs, o.back) for o in found.priced.orders} == {
        "North": (3.0, 1.0), "South": (1.0, 0.0),
    }  # fmt: skip


def test_a_quote_that_sells_no_less_than_all_leaves_the_others_to_be_parted(
    make: SimpleNamespace,
) -> None:
    """55 kg: a bag of 40 kg at 8.00 and two of 10 kg at 2.50 are 13.00; of 40 kg two 16.00.

    Six of 10 kg are 15.00, and no less than ten others of 10 kg at 2.00 20.00.
    """
    offers = [
        sand(make, "East", 200, 10.0, least=10.0), sand(make, "North", 250, 10.0),
        sand(make, "South", 800, 40.0),
    ]  # fmt: skip
    found = best(make, 55.0, offers)
    assert found.priced.cash == 1300
    assert {o.supplier: o.packs for o in found.priced.orders} == {"North": 2.0, "South": 1.0}


def test_halves_of_bags_are_bought_beside_the_rest(make: SimpleNamespace) -> None:
    """Of North 20 kg at 6.00, by the half. 50 kg: of South 40 kg at 8.00, and a half of North.

    55 kg: of South 25 kg at 8.00, and one and a half of North, 9.00; three of North are 18.00, a
    half and two of South 19.00.
    """
    small = sand(make, "North", 600, 20.0, step=0.5)
    for need, price, holds, halves, cash in (
        (50.0, 800, 40.0, 1, 1100),
        (55.0, 800, 25.0, 3, 1700),
    ):
        found = best(make, need, [small, sand(make, "South", price, holds)])
        assert found.priced.cash == cash
        packs = {o.supplier: o.packs for o in found.priced.orders}
        assert packs == {"North": halves / 2, "South": 1.0}


@pytest.mark.parametrize(("need", "cash"), [(175.0, 1750), (175.0001, 1900)])
def test_a_hair_more_than_whole_bags_takes_another(
    make: SimpleNamespace, need: float, cash: int
) -> None:
    """Bags of 25 kg at 2.50 and of 37.5 kg at 4.00. Seven of the small are 175 kg, 17.50.

    For a hair more six and one are 19.00, three and three 19.50, eight small ones 20.00.
    """
    found = best(make, need, [sand(make, "North", 250, 25.0), sand(make, "South", 400, 37.5)])
    assert found.priced.cash == cash


@pytest.mark.parametrize(
    ("need", "each", "counted", "least"),
    [
        (2.4, 1.2, 1.5, 3),  # 0.2 of the 0.4 beyond two: half of the third
        (2.4, 1.5, 2.0, 3),  # 0.5 is all that the third takes
        (2.4, 2.0, 2.0, 3),
        (2.4, 0.1, 0.25, 3),
        (2.0, 1.2, 2.0, 2),  # nothing beyond two: whatever it adds may count as one
        (2.0, 2.0, 2.0, 2),
    ],
)
def test_a_need_is_rounded_in_whole_steps_of_one_quote(
    need: float, each: float, counted: float, least: int
) -> None:
    """The mixed-integer rounding of ``x + each y >= need`` is ``x + counted y >= least``."""
    offer: Offer = SimpleNamespace()  # type: ignore[assignment]
    one, other = _Part(offer, 0.1, 1, counts=[7]), _Part(offer, 0.1 * each, 1, counts=[8, 9])
    terms, found = _rounded([one, other], one, need)
    assert (found, math.ceil(need)) == (least, least)
    assert dict(terms) == {7: 1.0, 8: pytest.approx(counted), 9: pytest.approx(counted)}


def test_whole_bags_that_just_meet_the_need_are_enough(make: SimpleNamespace) -> None:
    """175 kg of 25 kg at 3.00 and 50 kg at 5.00: one and three, 18.00.

    Three and two are 19.00, five and one 20.00, four large ones 20.00, seven small ones 21.00.
    """
    found = best(make, 175.0, [sand(make, "North", 300, 25.0), sand(make, "South", 500, 50.0)])
    assert found.priced.cash == 1800


def test_no_fewer_halves_are_bought_than_are_sold(make: SimpleNamespace) -> None:
    """50 kg. North sells 20 kg at 8.00 by the half, one and a half or more; South 40 kg at 8.00.

    A half beside one of South would be 12.00, but one and a half make 20.00: two of South, 16.00.
    """
    small = sand(make, "North", 800, 20.0, step=0.5, least=1.5)
    found = best(make, 50.0, [small, sand(make, "South", 800, 40.0)])
    assert found.priced.cash == 1600


@pytest.mark.parametrize(("packs", "cash"), [(0.5, 300), (1.5, 900), (2.0, 800), (2.5, 1000)])
def test_halves_cost_what_the_next_lower_price_says(
    make: SimpleNamespace, packs: float, cash: int
) -> None:
    """20 kg at 6.00, from two on at 4.00, and a bag of 90 kg at 9.00 has the rest."""
    small = sand(make, "North", 600, 20.0, step=0.5, breaks=[(2.0, 400)])
    found = pinned(make, 100.0, packs, [small, sand(make, "South", 900, 90.0)])
    assert found.priced.cash == cash + 900


def test_of_two_bags_at_least_one_may_go_back(make: SimpleNamespace) -> None:
    """45 kg: one of 40 kg at 7.00 and two of 10 kg at 2.00, of which one goes back: 9.00.

    Five of 10 kg are 10.00, two of 40 kg 14.00.
    """
    small = sand(make, "North", 200, 10.0, least=2.0, back=1.0)
    found = best(make, 45.0, [small, sand(make, "South", 700, 40.0)])
    assert found.priced.cash == 900


@pytest.mark.parametrize(
    ("packs", "more", "cash"),
    [
        (2.0, {"weight": 400.0}, 200),
        (3.0, {"weight": 400.0}, 400),  # 1,200 kg are two pallets of 1,000
        (2.5, {"weight": 400.0, "step": 0.5}, 200),
        (3.0, {"weight": 400.0, "step": 0.5}, 400),
        (3.0, {}, 200),  # of unknown weight: one
        (3.0, {"weight": 400.0, "per": "pallet"}, 600),
        (3.0, {"weight": 400.0, "bulk": True}, 0),
    ],
)
def test_pallets_are_counted_over_the_packs_of_a_share(
    make: SimpleNamespace, packs: float, more: dict[str, Any], cash: int
) -> None:
    """2.00 a pallet; five bags of 400 kg at 10.00 meet the need."""
    offers = [sand(make, "North", 1000, 400.0, **more), sand(make, "South", 1000, 400.0)]
    found = pinned(make, 2000.0, packs, offers, [make.drop("North", 0, per_pallet=200)])
    assert found.priced.cash == round(1000 * packs + 1000 * math.ceil(5.0 - packs)) + cash


def test_the_last_half_cent_of_an_order_counts(make: SimpleNamespace) -> None:
    """Nine halves of a bag at 5.05 are 22.725, an order of 22.73; a small one of 5.00 is the rest.

    They are brought for 3.00, for nothing from 22.73 on.
    """
    offers = [sand(make, "North", 505, 25.0, step=0.5), sand(make, "South", 500, 5.0)]
    for free, fee in ((2273, 0), (2274, 300)):
        routes = [make.drop("North", 300, free_above=free)]
        assert pinned(make, 115.0, 4.5, offers, routes).priced.cash == 2273 + 500 + fee


def test_a_share_weighs_what_its_seller_sells(make: SimpleNamespace) -> None:
    """100 kg or 100 litres: a bag of 10 kg, and five of 20 litres that weigh 60 kg each.

    That is more than all of either seller.
    """
    wet = make.offer(
        "Sand", "South", 100, measure="volume", holds=0.02, weight=60.0, in_part=True
    )  # fmt: skip
    found = pinned(make, 100.0, 1.0, [sand(make, "North", 100, 10.0, weight=10.0), wet])
    assert found.priced.own_hours == pytest.approx(2.0 + 0.01 * (10 + 5 * 60))


def test_what_is_sold_by_pairs_is_carried_by_pairs(make: SimpleNamespace) -> None:
    """100 kg: a pair of 15 kg and two pairs of 25 kg, 130 kg; of 15 kg alone 120, of 25 kg 100."""
    offers = [
        sand(make, seller, 100, kg, weight=kg, step=2.0)
        for seller, kg in (("North", 15.0), ("South", 25.0))
    ]
    found = pinned(make, 100.0, 2.0, offers)
    assert found.priced.cash == 600
    assert found.priced.own_hours == pytest.approx(2.0 + 0.01 * 130)


@pytest.mark.parametrize(
    ("more", "trips"),
    [
        ({}, 1),
        ({"weight": 100.0}, 1),  # bags fill no bed
        ({"weight": 100.0, "volume": 0.6}, 1),
        ({"weight": 100.0, "bulk": True}, 1),
        ({"weight": 100.0, "volume": 0.6, "bulk": True}, 2),  # 0.9 m³ in a bed of 0.6
        ({"weight": 100.0, "volume": 0.4, "bulk": True}, 1),
        ({"weight": 300.0}, 3),  # 450 kg by 200
    ],
)
def test_trips_for_a_share_are_by_weight_and_of_heaps_by_the_bed(
    make: SimpleNamespace, more: dict[str, Any], trips: int
) -> None:
    """One and a half of North, fetched at 5.00 a trip."""
    offers = [sand(make, "North", 1000, 100.0, step=0.5, **more), sand(make, "South", 1000, 100.0)]
    found = pinned(make, 250.0, 1.5, offers, [make.haul("North", 200, bed=0.6)])
    assert found.priced.cash == 1500 + 1000 + 500 * trips


@pytest.mark.parametrize("bulk", [True, False])
def test_two_loads_of_a_share_may_take_two_drops(make: SimpleNamespace, bulk: bool) -> None:
    """Loads of 600 kg at 10.00 by drops of a tonne at 30.00: two of North take two drops."""
    offers = [
        sand(make, seller, 1000, 600.0, weight=600.0, bulk=bulk) for seller in ("North", "South")
    ]
    found = pinned(make, 1500.0, 2.0, offers, [make.drop("North", 3000, most=1000.0)])
    assert found.priced.cash == 3 * 1000 + 2 * 3000


@pytest.mark.parametrize(("free", "charged"), [(1, 2), (2, 1), (3, 0), (4, 0)])
def test_free_pallets_come_off_those_of_a_share(
    make: SimpleNamespace, free: int, charged: int
) -> None:
    """Five bags of 500 kg of North are three pallets of a tonne at 2.00, one of South the rest."""
    offers = [sand(make, seller, 1000, 500.0, weight=500.0) for seller in ("North", "South")]
    drop = make.drop("North", 0, per_pallet=200, free_pallets=free)
    assert pinned(make, 3000.0, 5.0, offers, [drop]).priced.cash == 6 * 1000 + charged * 200


@pytest.mark.parametrize(("packs", "free", "cash"), [(5.0, 4500, 5300), (9.0, 7500, 8500)])
def test_all_bags_of_a_share_cost_the_one_price_of_their_number(
    make: SimpleNamespace, packs: float, free: int, cash: int
) -> None:
    """Bags of 10 kg at 10.00, from five on at 8.00, brought for 12.00; the rest is a bag of 1.00.

    Five at 10.00 would be brought for nothing, and so would four of nine; at 8.00 they are not.
    """
    offers = [sand(make, "North", 1000, 10.0, breaks=[(5.0, 800)]), sand(make, "South", 100, 50.0)]
    found = pinned(make, 100.0, packs, offers, [make.drop("North", 1200, free_above=free)])
    assert found.priced.cash == cash
