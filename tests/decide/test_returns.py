"""What unopened packs beyond the need bring, by hand."""

from __future__ import annotations

import dataclasses
import datetime as dt
from types import SimpleNamespace

import pytest

from budget.decide.model.model import Model
from budget.decide.pricing.returns import going_back
from budget.decide.terms.situation import Situation
from budget.figures import recalculate
from budget.job import Job, Place, Settings, Supplier


def told(
    make: SimpleNamespace, count: float, days: float | None, limit: float | None = None,
    **fields: object,
) -> list[str]:  # fmt: skip
    """Notes on caps sold from 12 at 5.00 with 10 % tax, of which so many are needed.

    They are brought for 40.00.
    """
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
    settings = Settings(
        place=Place("Job", 2), as_of=dt.date(2030, 5, 1), currency="USD", spending_limit=limit
    )
    seller = Supplier(place=Place("Suppliers", 2), supplier="north", return_days=days)
    return going_back(Job(settings=settings, suppliers=(seller,)), options, solved.priced)


def kept(make: SimpleNamespace, ratio: float) -> dict[str, object]:
    """A seller that keeps a share of what goes back."""
    return {"restocking": ratio, "back": make.fig(1 - ratio, make.RATIO, "share paid back")}


def test_caps_beyond_the_need_go_back_less_the_fee(make: SimpleNamespace) -> None:
    """12 bought, 7 needed: 5 x 5.00 less 20 % = 20.00, and 10 % tax: 22.00."""
    assert told(make, 7, 30.0, **kept(make, 0.2)) == [
        "Cap: 5 of the 12 packs bought are beyond the need. Left unopened, they bring $22 back "
        "from North (less 20 % that it keeps, within 30 days), which is taken off the cash; "
        "taking them there is not counted, nor do they count towards a free delivery."
    ]


@pytest.mark.parametrize(("limit", "more"), [(8399, 0), (8400, 22), (9999, 6), (10600, 0)])
def test_money_that_is_out_meanwhile_is_told(make: SimpleNamespace, limit: int, more: int) -> None:
    """66.00 and 40.00 are paid first: 106.00; 22.00 come back: 84.00."""
    found = told(make, 7, 30.0, limit, **kept(make, 0.2))
    words = f"Until the money for goods that go back is here, ${more} more is out"
    assert [text.startswith(words) for text in found[1:]] == [True] * (more > 0)


def caps(make: SimpleNamespace, count: float, north: int, **delivery: int) -> SimpleNamespace:
    """The best plan for some caps: at North from 12 at 5.00, less 20 % taken back, or singly."""
    needs = [make.need("Cap", "Build", {"count": count}, weight=5.0 * count)]
    options = make.options(
        offers=[
            make.offer("Cap", "North", 500, measure="count", least=12, tax=0.1, back=0.8),
            make.offer("Cap", "South", north, measure="count", per="each", tax=0.1),
        ],
        routes=[make.drop("North", 1000, **delivery), make.drop("South", 1000)],
        methods=[make.method("Build", "by hand", 1.0), make.method("Carry", "barrow", 0.0)],
    )
    takeoff = make.takeoff(needs, [make.amount("Build", 1.0)])
    solved = Model(Situation(takeoff, options, "sand", frozenset())).solve(0.0)
    assert solved is not None
    lines = {line.name: line.cash for line in solved.priced.lines if line.cash}
    return SimpleNamespace(plan=solved.priced, lines=lines)


def test_the_plan_counts_on_what_comes_back(make: SimpleNamespace) -> None:
    """At North 66.00 less 5 x 5.00 x 80 % x 1.10 = 22.00: 44.00. At South 7 x 1.1 x 6.00 = 46.20,
    or 7 x 1.1 x 5.70 = 43.89.
    """
    dear = caps(make, 7, 600)
    assert dear.lines == {"Cap": 6600, "Comes back later: Cap": -2200, "Delivery from North": 1000}
    assert (dear.plan.cash, dear.plan.comes_back) == (5400, 2200)
    assert caps(make, 7, 570).lines == {"Cap": 4389, "Delivery from South": 1000}


def test_no_line_tells_of_what_does_not_go_back(make: SimpleNamespace) -> None:
    """Twelve are needed of a least order of twelve."""
    lines = [line.name for line in caps(make, 12, 900).plan.lines]
    assert lines == ["Cap", "Delivery from North", "Build"]


def test_what_goes_back_does_not_earn_a_free_delivery(make: SimpleNamespace) -> None:
    """Seven stay of twelve: 35.00, and not 60.00, is the order that the delivery hangs on."""
    assert caps(make, 7, 900, free_above=3501).lines["Delivery from North"] == 1000
    assert "Delivery from North" not in caps(make, 7, 900, free_above=3500).lines


def test_the_credit_follows_a_changed_need(make: SimpleNamespace) -> None:
    """With 9 caps three go back: 13.20; with 13 none."""
    found = caps(make, 7, 900).plan
    figure = next(line.money for line in found.lines if line.cash < 0)
    assert figure is not None
    again = [recalculate(figure, {"Test!Cap count": float(n)}) for n in (7, 9, 13)]
    assert again == [-2200, -1320, 0]


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


@pytest.mark.parametrize(
    ("count", "words"),
    [
        (10, "2 of the 12 packs bought are beyond the need. Left unopened, they bring"),
        (11, "1 of the 12 packs bought is beyond the need. Left unopened, it brings"),
    ],
)
def test_what_is_beyond_the_need_is_said_as_people_say_it(
    make: SimpleNamespace, count: int, words: str
) -> None:
    for terms in ({}, kept(make, 0.2)):
        (text,) = told(make, count, 30.0, **terms)
        assert words in text


def test_one_cap_that_goes_back_is_told_as_one(make: SimpleNamespace) -> None:
    """5.50 less a fifth is 4.40."""
    assert told(make, 11, 30.0, **kept(make, 0.2)) == [
        "Cap: 1 of the 12 packs bought is beyond the need. Left unopened, it brings $4 back from "
        "North (less 20 % that it keeps, within 30 days), which is taken off the cash; taking it "
        "there is not counted, nor does it count towards a free delivery."
    ]


@pytest.mark.parametrize(
    ("keeps", "days", "words"),
    [
        (0.0, 30.0, "$28 back from North (less 0 % that it keeps, within 30 days)"),
        (0.2, None, "$22 back from North (less 20 % that it keeps)"),
    ],
)
def test_terms_are_told_as_far_as_they_are_known(
    make: SimpleNamespace, keeps: float, days: float | None, words: str
) -> None:
    """5 x 5.50 = 27.50 of a seller that keeps nothing, and less a fifth 22.00."""
    (text,) = told(make, 7, days, **kept(make, keeps))
    assert words in text


@pytest.mark.parametrize(
    ("count", "least", "words"),
    [
        (1, 2.0, "Cap: 1 of the 2 packs bought is beyond the need. Left unopened, it brings "
         "about $6 back"),
        (0.5, 1.0, "Cap: 0.5 of the one pack bought is beyond the need. Left unopened, it brings "
         "about $3 back"),
    ],
)  # fmt: skip
def test_a_pack_of_two_and_half_a_pack_of_one_are_to_spare(
    make: SimpleNamespace, count: float, least: float, words: str
) -> None:
    """Sold by the half, a pack 5.50."""
    (text,) = told(make, count, 30.0, least=least, step=0.5)
    assert text.startswith(words)
