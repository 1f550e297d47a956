"""Bids: each basis worked out by hand, and what a bid leaves out."""

import datetime as dt

import pytest

from budget.figures import constant
from budget.job import BidScope
from budget.prices.bids import bid_cost, bids
from budget.prices.defaults import Notes
from budget.prices.forms import rows_by_bid
from budget.prices.scope import answers
from budget.units import AREA, BANK_VOLUME, FOOT, RATIO, YARD

AREA_100 = constant(100 * FOOT**2, AREA, "paved area")


@pytest.fixture
def offered(make):
    """The bids of some rows, with the notes taken."""

    def run(*rows, **settings):
        notes = Notes("imperial")
        job = make.job(bids=rows, settings=make.settings(**settings))
        return bids(job, constant(0.05, RATIO, "tax"), notes), notes

    return run


def test_lump_sum_with_mobilisation_and_tax(offered, make) -> None:
    """1,200 + 80 = 1,280 and 5 %, 64."""
    row = make.bid("All", steps=("Dig", "Lay"), price=120000, mobilisation=8000, taxed=True)
    [bid] = offered(row)[0]
    assert bid_cost(bid, None, AREA_100).value == 128000 + 6400


def test_steps_left_out_for_a_deduct(offered, make) -> None:
    """1,200 + 80 - 150 = 1,130 and 5 %, 56.50; the whole offer stands beside it."""
    row = make.bid(
        "All", steps=("Dig", "Lay", "Joint"), price=120000, mobilisation=8000, taxed=True,
        may_leave=("Joint",), deduct=15000,
    )  # fmt: skip
    whole, smaller = offered(row)[0]
    assert (whole.key, whole.steps) == ("All", ("Dig", "Lay", "Joint"))
    assert (smaller.key, smaller.steps) == ("All without Joint", ("Dig", "Lay"))
    assert bid_cost(whole, None, AREA_100).value == 128000 + 6400
    assert bid_cost(smaller, None, AREA_100).value == 113000 + 5650
    assert rows_by_bid(make.job(bids=(row,))) == {"All": row, "All without Joint": row}


def test_each_set_of_steps_has_a_deduct_of_its_own(make) -> None:
    """1,200 - 150 without Joint, - 300 without Dig, - 450 without both; Dig and Lay would leave
    nothing beside Joint, and one row for Dig and Joint comes to a cent less than the two.
    """
    row = make.bid("All", steps=("Dig", "Lay", "Joint"), price=120000, may_leave=("Joint",),
                   deduct=15000)  # fmt: skip
    scope = [
        make.scope("Dig", bid="all", deduct=30000),
        make.scope("Dig, Joint", bid="All", deduct=44999),
        make.scope("Lay", bid="Others", deduct=99), make.scope("Drainage", bid="All", answer="no"),
    ]  # fmt: skip
    job = make.job(bids=(row,), bid_scope=tuple(scope))
    found = bids(job, constant(0.05, RATIO, "tax"), Notes("imperial"))
    assert {b.key: bid_cost(b, None, AREA_100).value for b in found} == {
        "All": 120000, "All without Dig": 90000, "All without Joint": 105000,
        "All without Dig and Joint": 75000,
    }  # fmt: skip
    assert {b.steps for b in found if b.offer} == {("Lay", "Joint"), ("Dig", "Lay"), ("Lay",)}
    assert list(rows_by_bid(job)) == ["All", "All without Dig", "All without Joint",
                                      "All without Dig and Joint"]  # fmt: skip
    assert [a.item for a in found[0].scope] == ["Drainage"]


def test_more_deducts_than_can_be_weighed_are_told(make) -> None:
    steps = ("Dig", "Spoil", "Base", "Bed", "Lay", "Joint", "Edge")
    row = make.bid("All", steps=steps, price=120000)
    scope = tuple(make.scope(step, bid="All", deduct=1000) for step in steps[:6])
    notes = Notes("imperial")
    found = bids(make.job(bids=(row,), bid_scope=scope), constant(0.05, RATIO, "tax"), notes)
    assert len(found) == 2**5
    assert [w.code for w in notes.warnings] == ["too-many-deducts"]


@pytest.mark.parametrize(("least", "dollars"), [(None, 850), (150, 1275), (90, 850)])
def test_per_square_foot_of_paving(offered, make, least, dollars) -> None:
    row = make.bid(
        "Lay", steps=("Lay",), price=850, basis="per unit", unit="sq ft", unit_size=FOOT**2,
        least=least,
    )  # fmt: skip
    [bid] = offered(row)[0]
    assert bid.unit_step == ""
    assert bid_cost(bid, None, AREA_100).value == dollars * 100


def test_per_hundred_square_feet(offered, make) -> None:
    row = make.bid(
        "Lay", steps=("Lay",), price=85000, basis="per unit", unit="100 sq ft",
        unit_size=100 * FOOT**2,
    )  # fmt: skip
    [bid] = offered(row)[0]
    assert bid_cost(bid, None, AREA_100).value == 85000


def test_per_cubic_yard_counts_the_step_in_that_measure(offered, make) -> None:
    row = make.bid(
        "Dig", steps=("Base", "Dig"), price=4000, basis="per unit", unit="cu yd",
        unit_size=YARD**3,
    )  # fmt: skip
    [bid] = offered(row)[0]
    assert bid.unit_step == "Dig"
    dug = constant(7.5 * YARD**3, BANK_VOLUME, "dig")
    assert bid_cost(bid, dug, AREA_100).value == 30000
    with pytest.raises(ValueError, match="counts Dig"):
        bid_cost(bid, None, AREA_100)


@pytest.mark.parametrize(
    ("hours", "least", "billed"), [(6, None, 6), (3, 4, 4), (6, 4, 6), (None, 4, 4)]
)
def test_hourly_with_a_least(offered, make, hours, least, billed) -> None:
    row = make.bid("Dig", steps=("Dig",), price=9500, basis="hourly", hours=hours, least=least)
    [bid] = offered(row)[0]
    assert bid_cost(bid, None, AREA_100).value == billed * 9500


@pytest.mark.parametrize("fields", [{"price": None}, {"price": 9500, "basis": "hourly"}])
def test_a_bid_that_cannot_be_priced_is_a_warning(offered, make, fields) -> None:
    found, notes = offered(make.bid("Dig", steps=("Dig",), **fields))
    assert found == ()
    assert [w.code for w in notes.warnings] == ["not-priced"]


def test_supervising_hours_are_given_or_assumed(offered, make) -> None:
    given, notes = offered(make.bid("Dig", steps=("Dig",), price=1, supervise=2.5))
    assert given[0].supervise.value == 2.5
    assert notes.assumed == ()
    blank, notes = offered(make.bid("Dig", steps=("Dig",), price=1))
    assert blank[0].supervise.value > 0
    assert len(notes.assumed) == 1


def test_risks_left_with_the_owner_in_words(offered, make) -> None:
    row = make.bid(
        "Dig", steps=("Dig",), price=9500, basis="hourly", hours=3, rain_on_owner=True,
        rock_on_owner=False,
    )  # fmt: skip
    assert offered(row)[0][0].risks == (
        "The hours are an estimate: slower work costs you more.", "You pay for days lost to rain.",
    )  # fmt: skip
    silent = offered(make.bid("Dig", steps=("Dig",), price=9500))[0][0]
    assert len(silent.risks) == 2
    assert all(risk.startswith("Ask who pays") for risk in silent.risks)


def test_expired_bids_stay_and_are_marked(offered, make) -> None:
    row = make.bid("Dig", steps=("Dig",), price=9500, valid_until=dt.date(2030, 4, 1))
    assert offered(row)[0][0].expired


def test_a_bid_holds_through_its_last_day(offered, make) -> None:
    row = make.bid("Dig", steps=("Dig",), price=9500, valid_until=dt.date(2030, 5, 1))
    assert not offered(row, as_of=dt.date(2030, 5, 1))[0][0].expired
    assert offered(row, as_of=dt.date(2030, 5, 2))[0][0].expired


def test_what_a_bid_says_itself_comes_before_what_holds_for_every_bid(make) -> None:
    """Permit: its own no. Drainage: the yes of every bid. Safety gear: nobody says."""
    place = make.place("Bid scope")
    scope = (
        BidScope(place=place, item="Permit", bid="Dig", answer="no"),
        BidScope(place=place, item="Permit", answer="yes"),
        BidScope(place=place, item="Drainage", answer="yes"),
        BidScope(place=place, item="Safety gear", bid="Dig", cost=4000),
        BidScope(place=place, item="Fence", bid="Lay", answer="no"),
    )
    row = make.bid("dig", steps=("Dig",), price=9500)
    found = answers(make.job(bids=(row,), bid_scope=scope), row, constant(0.0, RATIO, "tax"))
    said = {answer.item: answer.said for answer in found}
    assert said == {"Permit": True, "Drainage": True, "Safety gear": False}
    words = {answer.item: answer.answer for answer in found}
    assert words == {"Permit": "no", "Drainage": "yes", "Safety gear": ""}
