"""What the programme counts for goods on their way, by hand."""

from __future__ import annotations

import math
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
