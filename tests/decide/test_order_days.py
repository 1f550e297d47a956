"""Until when to order goods and to call a firm: by hand."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from types import SimpleNamespace

import pytest

from budget.decide.calendar.schedule import schedule
from budget.decide.terms.situation import Situation
from budget.job import Bid, Job, Place, Settings, Supplier

SATURDAY = dt.date(2026, 5, 2)
PLACE = Place("Job", 2)
EVERY_DAY = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
JOB = Job(settings=Settings(place=PLACE, start=SATURDAY, as_of=dt.date(2026, 4, 1),
                            working_days=EVERY_DAY))  # fmt: skip


@pytest.mark.parametrize("fetched", [False, True])
def test_goods_are_there_for_the_first_step_that_uses_them(
    make: SimpleNamespace, fetched: bool
) -> None:
    """Dig on days 0 and 1 (12 hours at six a day), then six hours each of base and bed that use
    North's stone, brought the day before the base; fetched, in an hour of its own, it comes when
    it is fetched."""
    needs = [make.need("Stone", step, {"count": 1}, weight=0) for step in ("Base", "Bed")]
    route = make.haul("North", 500, hours=1.0, handling=0.0) if fetched else make.drop("North", 0)
    options = make.options(
        offers=[make.offer("Stone", "North", 100, measure="count", per="each", weight=0)],
        routes=[route], hours_per_day=6,
        methods=[make.method(s, "by hand", 1.0) for s in ("Dig", "Base", "Bed")],
    )  # fmt: skip
    hours = {"Dig": 12.0, "Base": 6.0, "Bed": 6.0}
    takeoff = make.takeoff(needs, [make.amount(step, n) for step, n in hours.items()])
    (priced,) = make.all_priced(Situation(takeoff, options, "sand", frozenset()))
    north = Supplier(place=PLACE, supplier="North", lead_days=3, lead_low=3, lead_high=3,
                     open_days=EVERY_DAY)  # fmt: skip
    found = schedule(replace(JOB, suppliers=(north,)), takeoff, options, priced)
    (order,) = found.orders
    days = {e.name: e.first for e in found.entries}
    if fetched:
        assert order.arrives == order.needed == days["Fetch from North"]
    else:
        assert (order.arrives, order.needed) == (1, 2)
        assert days["Base"] == 2
    assert order.order == order.arrives - 3
    assert not order.late


def test_a_firm_is_called_for_the_first_of_its_steps(make: SimpleNamespace) -> None:
    """A crew of two steps comes on Monday the 4th and goes on to the Tuesday; it must know five
    days ahead. Seen on that very day it can still be called; a day later it is too late, so that
    it comes a day later."""
    options = make.options(
        methods=[make.method(s, "by hand", 1.0) for s in ("Base", "Bed")],
        bids=[make.bid("Crew", ["Base", "Bed"], 100)], hours_per_day=6,
    )  # fmt: skip
    takeoff = make.takeoff([], [make.amount(step, 8.0) for step in ("Base", "Bed")])
    hired = next(
        p for p in make.all_priced(Situation(takeoff, options, "sand", frozenset()))
        if p.plan.steps["Base"] == "bid: Crew"
    )  # fmt: skip
    row = Bid(place=PLACE, bid="Crew", steps=("Base", "Bed"), work_days=2.0, lead_days=5,
              lead_low=5, lead_high=5)  # fmt: skip
    for seen, needed, order in ((1, 2, -3), (29, 2, -3), (30, 3, -2)):
        settings = replace(JOB.settings, as_of=dt.date(2026, 4, seen))
        found = schedule(replace(JOB, bids=(row,), settings=settings), takeoff, options, hired)
        (call,) = found.orders
        assert (call.needed, call.order, call.hired, call.late) == (needed, order, True, False)


def _brought(make: SimpleNamespace, job: Job, *uses: str) -> tuple[int, int, int, bool]:
    """Day of ordering, of coming and of use of what North brings for some steps; whether late."""
    needs = [make.need(f"Goods {n}", step, {"count": 1}) for n, step in enumerate(uses)]
    options = make.options(
        offers=[make.offer(n.item, "North", 100, measure="count", per="each") for n in needs],
        routes=[make.drop("North", 0)], hours_per_day=6,
        methods=[make.method(s, "by hand", 1.0) for s in ("Dig", "Base", "Bed")],
    )  # fmt: skip
    takeoff = make.takeoff(needs, [make.amount(step, 6.0) for step in ("Dig", "Base", "Bed")])
    (priced,) = make.all_priced(Situation(takeoff, options, "sand", frozenset()))
    (order,) = schedule(job, takeoff, options, priced).orders
    return order.order, order.arrives, order.needed, order.late


def test_goods_of_one_seller_come_for_the_first_step_of_all(make: SimpleNamespace) -> None:
    """A day each for Dig, Base and Bed; goods that no step of the job uses are there at once."""
    north = Supplier(place=PLACE, supplier="North", lead_days=0, lead_low=0, lead_high=0,
                     open_days=EVERY_DAY)  # fmt: skip
    job = replace(JOB, suppliers=(north,))
    assert _brought(make, job, "Bed", "Base") == (0, 0, 1, False)
    assert _brought(make, job, "Joint") == (-1, -1, 0, False)


def test_without_dates_no_order_is_late(make: SimpleNamespace) -> None:
    """However long it takes: 90 days before the day before the second."""
    north = Supplier(place=PLACE, supplier="North", lead_days=90, lead_low=90, lead_high=90)
    job = replace(JOB, suppliers=(north,), settings=replace(JOB.settings, start=None))
    assert _brought(make, job, "Base") == (-90, 0, 1, False)
