"""What unopened packs beyond the need bring, by hand."""

from __future__ import annotations

import dataclasses
import datetime as dt
from types import SimpleNamespace

import pytest

from budget.decide.model import Model
from budget.decide.returns import going_back
from budget.decide.situation import Situation
from budget.job import Job, Place, Settings, Supplier


def told(make: SimpleNamespace, count: float, days: float | None, **fields: object) -> list[str]:
    """Notes on caps sold from 12 at 5.00 with 10 % tax, of which so many are needed."""
    needs = [make.need("Cap", "Build", {"count": count}, weight=5.0)]
    cap = make.offer("Cap", "North", 500, measure="count", least=12, tax=0.1, weight=5.0)
    options = make.options(
        offers=[dataclasses.replace(cap, **fields)],
        routes=[make.drop("North", 4000)],
        methods=[make.method("Build", "by hand", 1.0), make.method("Carry", "barrow", 0.0)],
    )
    takeoff = make.takeoff(needs, [make.amount("Build", 1.0)])
    solved = Model(Situation(takeoff, options, "sand", frozenset())).solve(0.0)
    assert solved is not None
    settings = Settings(place=Place("Job", 2), as_of=dt.date(2030, 5, 1), currency="USD")
    seller = Supplier(place=Place("Suppliers", 2), supplier="north", return_days=days)
    return going_back(Job(settings=settings, suppliers=(seller,)), options, solved.priced)


def test_caps_beyond_the_need_go_back_less_the_fee(make: SimpleNamespace) -> None:
    """12 bought, 7 needed: 5 x 5.50 = 27.50, less 20 % = 22.00."""
    assert told(make, 7, 30.0, restocking=0.2) == [
        "Cap: 5 of the 12 packs bought are beyond the need. Left unopened, they bring about $22 "
        "back from North (less 20 % that it keeps, within 30 days); this is not taken off the "
        "total."
    ]


def test_a_fee_that_nobody_told_is_asked_for(make: SimpleNamespace) -> None:
    """5 x 5.50 = 27.50."""
    (text,) = told(make, 7, 30.0)
    assert "about $28 back from North (ask what it keeps, within 30 days)" in text


def test_what_is_sold_by_the_half_goes_back_by_the_half(make: SimpleNamespace) -> None:
    """12 bought, 7.5 needed: 4.5 x 5.50 = 24.75."""
    (text,) = told(make, 7.5, 30.0, step=0.5)
    assert text.startswith("Cap: 4.5 of the 12 packs")
    assert "about $25 back" in text


@pytest.mark.parametrize(("count", "days"), [(12, 30.0), (40, 30.0), (7, None)])
def test_nothing_is_told_where_nothing_goes_back(
    make: SimpleNamespace, count: int, days: float | None
) -> None:
    assert told(make, count, days) == []
