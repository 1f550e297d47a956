"""Goods of the plan bought in other packs than the plan's: every sum worked out by hand.

The plan buys 100 m² of pavers as 10 pallets of 10 m² at 50.00. The yard sells them by the square
metre at 5.20 as well; the depot sells single pieces at 0.12, of which 5,000 make 100 m².
"""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from types import MappingProxyType
from typing import Any

import pytest

from budget.decide.outcome import Comparison
from budget.decide.plan import Line, Order, Plan, Priced, Scenario
from budget.figures import constant
from budget.job import Job, Measure, Place, Settings, Spend
from budget.prices.options import Offer, Options
from budget.quantities.takeoff import Need, Takeoff
from budget.spend import Tracked, track
from budget.units import AREA, COUNT, DENSITY, HOURS, MONEY, RATIO, Kind, per

NONE = constant(0.0, RATIO, "none")
KINDS: dict[Measure, Kind] = {"area": AREA, "count": COUNT}


def offer(supplier: str, word: str, measure: Measure, holds: float, cents: float) -> Offer:
    return Offer(
        f"Paver @ {supplier}, {word}", "Paver", supplier, measure, word,
        constant(holds, KINDS[measure], "holds"), constant(cents, MONEY, "price"), NONE, 0.0, 1.0,
        None, None, None, False, False, 0.0, None, "",
    )  # fmt: skip


OFFERS = (
    offer("Yard", "pallet", "area", 10.0, 5000.0),
    offer("Yard", "m²", "area", 1.0, 520.0),
    offer("Depot", "each", "count", 1.0, 12.0),
)


def need(**measures: float) -> Need:
    area = constant(100.0, AREA, "pavers")
    told = {k: constant(v, KINDS[k], k) for k, v in measures.items()}  # type: ignore[index]
    return Need("Paver", "Terrace", "Paver", "paver", "Lay", "Paving", area, area, NONE, "", told,
                None)  # type: ignore[arg-type]  # fmt: skip


def comparison(needed: Need, entries: tuple[Spend, ...]) -> Comparison:
    plan = Plan("sand", frozenset(), {"Paver": OFFERS[0].key}, {}, {}, {}, "")
    order = Order("Paver", OFFERS[0].key, "Yard", 10.0, "pallet", 50000, 0, 0, None, 0.0, "Paver")
    line = Line("", "Paving", "Paver", 50000, 0.0, None, None, "Yard", "10 pallets", "item:Paver")
    priced = Priced(
        plan=plan, lines=(line,), missing=(), orders=(order,), arrivals=(), hires=(), cash=50000,
        own_hours=0.0, helper_hours=0.0, clock_hours=0.0, deposits=0, risks=(),
    )  # fmt: skip
    options = Options(
        offers=OFFERS, routes={}, methods={}, bids=(), machines={}, disposal=(), carry={},
        checklist=(), hour_value=constant(2000, per(MONEY, HOURS), "hour value"),
        hours_per_day=constant(8, HOURS, "day"), people=1, paid_helpers=0, helper_pay=None,
        sales_tax=NONE, card_surcharge={},
    )  # fmt: skip
    best = Scenario("Mixed hands", "sand", {}, True, "", priced, True, 0.0)
    settings = Settings(place=Place("Job", 1), places=MappingProxyType({}))
    return Comparison(
        job=Job(settings=settings, spend=entries),
        takeoff=Takeoff((needed,), (), (), (), (), constant(1400, DENSITY, "spoil")),
        options=options, scenarios=(best,), best=best, hired=best, complete=True, flips=(),
        frontier=(), warnings=(), assumed=(), missing=(), next_step="",
    )  # fmt: skip


def entry(state: str, amount: float | None, quantity: float | None, day: int = 1, **more: Any):  # type: ignore[no-untyped-def]
    return Spend(
        place=Place("Spend", day + 2, {}), date=dt.date(2026, 5, day), line="Paver",
        state=state, amount=amount, quantity=quantity, **more,  # type: ignore[arg-type]
    )  # fmt: skip


def tracked(*entries: Spend, needed: Need | None = None) -> Tracked:
    (found,) = track(comparison(needed or need(area=100.0, count=5000.0), entries)).lines
    return found


def test_the_quote_nearest_in_price_tells_the_packs() -> None:
    # 40 at 5.20 are square metres, so 4 pallets' worth; 6 more pallets at 50.00
    found = tracked(entry("ordered", 40 * 520.0, 40.0))
    assert (found.tally.ordered_quantity, found.to_buy) == (4.0, 6.0)
    assert found.will_come_to == 20800 + 30000
    # 4 at 51.00 are pallets; nobody sells a square metre at that
    found = tracked(entry("ordered", 4 * 5100.0, 4.0))
    assert (found.tally.ordered_quantity, found.will_come_to) == (4.0, 20400 + 30000)


def test_a_delivery_without_a_price_follows_the_order_before_it() -> None:
    ordered = entry("ordered", 40 * 520.0, 40.0)
    found = tracked(ordered, entry("delivered", None, 30.0, 2))
    assert found.tally.delivered_quantity == pytest.approx(3.0)
    # without an order before it, it is taken to be in the plan's packs
    assert tracked(entry("delivered", None, 3.0)).tally.delivered_quantity == 3.0


def test_pieces_of_another_seller_are_a_share_of_the_need() -> None:
    # 1,000 of 5,000 pieces are a fifth: 2 of 10 pallets
    found = tracked(entry("ordered", 12000.0, 1000.0, supplier="Depot"))
    assert (found.tally.ordered_quantity, found.to_buy) == (2.0, 8.0)
    assert found.will_come_to == 12000 + 40000
    # all of them are all of the plan's packs
    found = tracked(entry("ordered", 60000.0, 5000.0, supplier="Depot"))
    assert (found.tally.ordered_quantity, found.to_buy, found.will_come_to) == (10.0, 0.0, 60000)


def test_two_parts_are_needed_together() -> None:
    half = need(area=50.0, count=2500.0)
    base = comparison(half, (entry("ordered", 12000.0, 1000.0, supplier="Depot"),))
    both = replace(base, takeoff=replace(base.takeoff, needs=(half, replace(half, part="Path"))))
    assert track(both).lines[0].tally.ordered_quantity == pytest.approx(2.0)
    # what belongs to another bedding is not needed
    other = replace(half, bedding="small gravel")
    alone = replace(base, takeoff=replace(base.takeoff, needs=(half, half, other)))
    assert track(alone).lines[0].tally.ordered_quantity == pytest.approx(2.0)


def test_what_cannot_be_compared_settles_the_line() -> None:
    found = tracked(entry("ordered", 12000.0, 1000.0, supplier="Depot"), needed=need(area=100.0))
    assert found.tally.ordered_quantity is None
    assert found.will_come_to == 12000


def test_a_seller_without_a_quote_is_taken_to_sell_the_plans_packs() -> None:
    found = tracked(entry("ordered", 18000.0, 4.0, supplier="Market stall"))
    assert (found.tally.ordered_quantity, found.will_come_to) == (4.0, 18000 + 30000)
