"""Published warehouse-location instances, solved as sellers with a delivery fee each.

A customer is an item, a site is a seller who delivers everything for one flat fee, and the cost
of serving a customer from a site is that seller's price. Nothing else is in the job, so the
published optimum is the cash of the best plan. Costs are put into whole cents line by line; the
published costs have up to five decimals, hence the tolerance of half a cent a line.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from budget.decide.model.model import Model
from budget.decide.plan import Priced
from budget.decide.terms.situation import Situation
from budget.figures import Figure, constant, given
from budget.prices.options import Drop, Offer, Options
from budget.quantities.takeoff import Bedding, Need, Takeoff
from budget.units import COUNT, DENSITY, DEPTH, HOURS, LENGTH, MONEY, RATIO, per

DATA = Path(__file__).parent / "data"
ZERO = constant(0.0, RATIO, "none")


def money(amount: float) -> Figure:
    return given(amount * 100, MONEY, "cost", "-")


def sold(customer: int, site: int, cost: float) -> Offer:
    return Offer(
        key=f"item {customer:02} @ site {site:02}", item=f"item {customer:02}",
        supplier=f"site {site:02}", measure="count", per="each",
        holds=constant(1, COUNT, "one"), price=money(cost), tax=ZERO, least=0, step=1,
        weight=None, volume=None, deposit=None, bulk=False, expired=False, lead_days=0,
        restocking=None, cell="-",
    )  # fmt: skip


def delivered(site: int, fixed: float) -> Drop:
    return Drop(
        key="deliver to drive", supplier=f"site {site:02}", point="drive", per_drop=money(fixed),
        per_mass=None, per_volume=None, per_pallet=None, free_pallets=0, value_steps=(),
        free_above=None, least=0, most=None, heaps_share=False, tax=ZERO,
    )  # fmt: skip


def wanted(customer: int) -> Need:
    one = constant(1, COUNT, "one")
    return Need(
        line=f"item {customer:02}", part="", item=f"item {customer:02}", kind="extra",
        step="Build", group="Features", net=one, order=one, overage=ZERO, why="",
        measures={"count": one}, weight=None,
    )  # fmt: skip


def solved(fixed: list[float], costs: list[list[float]]) -> Priced:
    """The best plan; ``costs`` has a row for each customer with a cost for each site."""
    takeoff = Takeoff(
        needs=tuple(wanted(c) for c in range(len(costs))), steps=(),
        beddings=(Bedding("sand", "", "", constant(0, DEPTH, ""), False, False, "", ""),),
        parts=(), spoil=(), spoil_density=constant(1000, DENSITY, ""),
    )  # fmt: skip
    way = constant(0.0, LENGTH, "way")
    options = Options(
        offers=tuple(
            sold(c, s, cost) for c, row in enumerate(costs) for s, cost in enumerate(row)
        ),
        routes={f"site {s:02}": (delivered(s, f),) for s, f in enumerate(fixed)},
        methods={}, bids=(), machines={}, disposal=(),
        carry={"street": way, "drive": way, "site": way}, checklist=(),
        hour_value=constant(0, per(MONEY, HOURS), ""), hours_per_day=constant(8, HOURS, ""),
        people=1, paid_helpers=0, helper_pay=None, sales_tax=ZERO, card_surcharge={},
    )  # fmt: skip
    found = Model(Situation(takeoff, options, "sand", frozenset())).solve(0.0)
    assert found is not None
    assert found.proved
    assert not found.priced.missing
    return found.priced


def sites_used(priced: Priced) -> set[int]:
    return {int(order.supplier.split()[1]) for order in priced.orders}


def read_cap71() -> tuple[list[float], list[list[float]]]:
    numbers = [float(text) for text in (DATA / "cap71.txt").read_text().split()]
    sites, customers = int(numbers[0]), int(numbers[1])
    fixed = numbers[3 : 2 + 2 * sites : 2]
    rest = numbers[2 + 2 * sites :]
    rows = [rest[c * (sites + 1) + 1 : (c + 1) * (sites + 1)] for c in range(customers)]
    return fixed, rows


@pytest.mark.parametrize(
    ("fixed", "optimum", "used"),
    [
        pytest.param(7500, 932615.750, {1, 2, 3, 4, 6, 7, 8, 9, 11, 12, 13}, id="cap71"),
        pytest.param(25000, 1034976.975, {3, 11, 12, 13}, id="cap74"),
    ],
)
def test_warehouse_location_of_the_or_library(fixed: float, optimum: float, used: set[int]) -> None:
    """OR-Library cap71 and cap74 with the optima of uncapopt; site 11 has no fixed cost."""
    given_fixed, rows = read_cap71()
    assert given_fixed.count(7500) == 15
    priced = solved([fixed if f else 0.0 for f in given_fixed], rows)
    assert priced.cash / 100 == pytest.approx(optimum, abs=0.005 * len(rows))
    assert {site + 1 for site in sites_used(priced)} == used


def test_opl_warehouses_without_capacities() -> None:
    """The warehouse example of the OPL book, CSPLib problem 034, CC BY 4.0.

    Its store limits are left out here: the optimum without them, 328, was worked out with
    another solver and stands in no publication (with them it is 383).
    """
    rows = [
        [20, 24, 11, 25, 30], [28, 27, 82, 83, 74], [74, 97, 71, 96, 70], [2, 55, 73, 69, 61],
        [46, 96, 59, 83, 4], [42, 22, 29, 67, 59], [1, 5, 73, 59, 56], [10, 73, 13, 43, 96],
        [93, 35, 63, 85, 46], [47, 65, 55, 71, 95],
    ]  # fmt: skip
    assert solved([30.0] * 5, [[float(c) for c in row] for row in rows]).cash == 32800
