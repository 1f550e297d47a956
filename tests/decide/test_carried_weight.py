"""Carrying billed by the ton counts what is ordered; goods of unknown weight still take a trip."""

from __future__ import annotations

from types import SimpleNamespace

import pytest

from budget.decide.model.model import Model
from budget.decide.terms.situation import Situation
from budget.prices.options import Options
from budget.quantities.takeoff import Takeoff


def stone(make: SimpleNamespace, **bid: object) -> tuple[Takeoff, Options]:
    """3,200 kg needed, sold by whole tonnes: 4,000 kg come."""
    takeoff = make.takeoff(
        [make.need("Base stone", "Base", {"mass": 3200}, weight=3200)], [make.amount("Base", 2.0)]
    )
    options = make.options(
        offers=[make.offer("Base stone", "North", 2500, holds=1000, per="tonne", weight=1000)],
        routes=[make.drop("North", 6000)],
        methods=[make.method("Base", "by hand", 2.0), make.method("Carry", "barrow", 0.01)],
        bids=[make.bid("Barrow men", ["Carry"], 2, basis="per unit", unit_step="Carry", **bid)],
    )  # fmt: skip
    return takeoff, options


@pytest.mark.parametrize(
    ("extra", "expected"),
    [
        ({}, 8000),  # 4,000 kg at 0.02
        ({"least": 5000.0}, 10000),  # they bill 5,000 kg at least
        ({"mobilisation": 1500.0}, 9500),
    ],
)
def test_a_bid_by_weight_bills_the_ordered_weight(
    make: SimpleNamespace, extra: dict[str, float], expected: int
) -> None:
    """Own carrying is 40 h, so the men carry at any price here."""
    takeoff, options = stone(make, **extra)
    solved = Model(Situation(takeoff, options, "sand", frozenset())).solve(2000.0)
    assert solved is not None
    line = next(line for line in solved.priced.lines if line.name == "Barrow men")
    assert line.cash == expected


def test_goods_of_unknown_weight_take_a_trip(make: SimpleNamespace) -> None:
    takeoff = make.takeoff(
        [make.need("Bench kit", "Build", {"count": 1})], [make.amount("Build", 1.0)]
    )
    options = make.options(
        offers=[make.offer("Bench kit", "North", 30000, measure="count", per="kit")],
        routes=[make.haul("North", 900, mileage=300, hours=1.5)],
        methods=[make.method("Build", "by hand", 1.0), make.method("Carry", "barrow", 0.01)],
    )
    solved = Model(Situation(takeoff, options, "sand", frozenset())).solve(2000.0)
    assert solved is not None
    arrival = solved.priced.arrivals[0]
    assert (arrival.drops, arrival.hours) == (1, pytest.approx(1.5))


@pytest.mark.parametrize(
    ("weight", "each", "reworked", "hours"),
    [
        # 15 m from the drive at 0.00002 h a metre are 0.0003 h a kilogram more
        (1000.0, 0.001, None, 1.3),
        (1000.0, 0.001, 0.25, 1.625),
        (0.5, 2.0, 0.2, 0.50015 * 2.4),
    ],
)
def test_hours_of_carrying_and_of_what_is_carried_again(
    make: SimpleNamespace, weight: float, each: float, reworked: float | None, hours: float
) -> None:
    """Programme and plan agree on them, or no answer would come."""
    takeoff = make.takeoff(
        [make.need("Bowl", "Build", {"count": 1}, weight=weight)], [make.amount("Build", 0.0)]
    )
    options = make.options(
        offers=[make.offer("Bowl", "North", 0, measure="count", per="each", weight=weight)],
        routes=[make.drop("North", 0)],
        methods=[
            make.method("Build", "by hand", 1.0),
            make.method("Carry", "barrow", each, walk=0.00002, reworked=reworked),
        ],
    )
    solved = Model(Situation(takeoff, options, "sand", frozenset())).solve(10000.0)
    assert solved is not None
    assert solved.priced.own_hours == pytest.approx(hours, rel=1e-3)
