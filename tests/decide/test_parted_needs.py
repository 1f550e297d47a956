"""What the programme holds of goods bought in part: the rest, what goes back, whole steps."""

from __future__ import annotations

import math
from collections.abc import Sequence
from types import SimpleNamespace

import pytest

from budget.decide.model.model import Model, Solved
from budget.decide.model.splits import _Part, _rounded
from budget.decide.terms.situation import Situation
from budget.prices.options import Offer


def best(make: SimpleNamespace, need: float, offers: Sequence[Offer]) -> Solved:
    """The cheapest plan for so many kilograms of sand, all of it brought for nothing."""
    options = make.options(
        offers=offers, methods=[make.method("Joint", "by hand", 0.1)],
        routes=[make.drop(seller, 0) for seller in sorted({o.supplier for o in offers})],
    )  # fmt: skip
    takeoff = make.takeoff(
        [make.need("Sand", "Joint", {"mass": need})], [make.amount("Joint", 20.0)]
    )
    found = Model(Situation(takeoff, options, "sand", frozenset())).solve(0.0)
    assert found is not None
    assert found.proved
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
