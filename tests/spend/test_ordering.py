"""Until when to order: the same days as the calendar has, before and after work has begun."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

from budget.decide.calendar.schedule import schedule
from budget.decide.outcome import Comparison
from budget.job import Place, Spend
from budget.report.spend_evening import evening
from budget.report.terminal.blocks import Table
from budget.spend import baseline_book
from budget.spend.baseline import Accepting, Baseline, PlannedOrder, baseline_of
from budget.spend.coming import Coming
from budget.spend.ordering import Ordering
from budget.spend.standing import standing_of

Demo = Callable[[str], Comparison]
HERON = PlannedOrder("Heron Yard", dt.date(2026, 4, 21), dt.date(2026, 5, 4), 11, False)


@pytest.fixture
def terrace(demo_comparison: Demo) -> Comparison:
    """The terrace without its own entries."""
    found = demo_comparison("terrace")
    return replace(found, job=replace(found.job, spend=(), progress=()))


def accepted(found: Comparison) -> Baseline:
    assert found.best is not None
    return baseline_of(found, found.best, Accepting(found.job.settings.as_of))


def due(found: Comparison, *plans: Baseline, day: dt.date | None = None) -> list[Coming]:
    return list(standing_of(found, plans, day=day, anew=False).coming)


def test_orders_are_due_on_the_days_of_the_calendar(terrace: Comparison) -> None:
    assert terrace.best is not None
    assert terrace.best.priced is not None
    calendar = schedule(terrace.job, terrace.takeoff, terrace.options, terrace.best.priced)
    days = {order.who: calendar.date(order.order) for order in calendar.orders}
    for told in (due(terrace), due(terrace, accepted(terrace))):
        orders = {c.who: c.day for c in told if c.kind == "order"}
        orders |= {c.line: c.day for c in told if c.kind == "book"}
        assert orders == days
    # an accepted plan that keeps no such days asks the calendar as of the day it was accepted
    bare = replace(accepted(terrace), orders=())
    later = replace(terrace.job.settings, as_of=dt.date(2026, 5, 20))
    now = replace(terrace, job=replace(terrace.job, settings=later))
    assert {c.day for c in due(now, bare) if c.kind == "order"} <= set(days.values())


def test_the_days_of_ordering_are_read_back(terrace: Comparison, tmp_path: Path) -> None:
    plan = accepted(terrace)
    assert plan.orders
    baseline_book.write([plan], tmp_path / "baseline.xlsx")
    assert baseline_book.read(tmp_path / "baseline.xlsx") == (plan,)


def test_what_was_left_out_of_the_one_order_has_until_its_step() -> None:
    """Base is begun on Saturday 9 May: there on the 8th, ordered 11 days before, on the 27th."""
    days = Ordering({"heron yard": HERON}, {"base": dt.date(2026, 5, 9)})
    assert days.of_rest(HERON, ("Base",)) == dt.date(2026, 4, 27)
    # Sunday 3 May is 11 days before Thursday the 14th: closed, so Saturday
    sunday = Ordering({"heron yard": HERON}, {"base": dt.date(2026, 5, 15)})
    assert sunday.of_rest(HERON, ("Base",)) == dt.date(2026, 5, 2)
    weekdays = replace(sunday, open_days={"heron yard": frozenset(range(5))})
    assert weekdays.of_rest(HERON, ("Base",)) == dt.date(2026, 5, 1)
    assert days.of_rest(HERON, ("Lay",)) == HERON.order


def test_a_firm_is_booked_until_it_is_ordered(terrace: Comparison) -> None:
    plan = accepted(terrace)
    firm = next(c.line for c in due(terrace, plan) if c.kind == "book")
    told = Spend(place=Place("Spend", 5), date=dt.date(2026, 4, 10), line=firm, state="ordered",
                 amount=10000.0)  # fmt: skip
    booked = replace(terrace, job=replace(terrace.job, spend=(told,)))
    assert firm not in [c.line for c in due(booked, plan) if c.kind == "book"]


def test_a_day_gone_by_is_told_as_late(terrace: Comparison) -> None:
    told = standing_of(terrace, (accepted(terrace),), day=dt.date(2026, 4, 23), anew=False)
    (next_,) = [block for block in evening(told) if isinstance(block, Table)]
    first, second = [row[1] for row in next_.rows[:2]]
    assert first.startswith("Late: order from Heron Yard: Base stone")
    assert second.startswith("Order from Button Mill Supply: Edging")
