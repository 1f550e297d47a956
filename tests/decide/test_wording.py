"""Sums and differences in words."""

from __future__ import annotations

import pytest

from budget.decide.plan import Plan
from budget.decide.shares import read_shared
from budget.decide.wording import (
    NAMED,
    changes,
    hours_in_words,
    round_money,
    so_far,
    value_in_words,
)


@pytest.mark.parametrize(
    ("cents", "words"),
    [(49, "$0.49"), (50, "$0.50"), (100, "$1"), (149, "$1"), (151, "$2"), (-123456, "$1,235")],
)
def test_money_is_rounded_to_whole_units_unless_there_is_less(cents: float, words: str) -> None:
    assert round_money(cents, "USD") == words


def plan(**steps: str) -> Plan:
    return Plan("sand", frozenset(), {}, {}, dict(steps), {}, "")


def test_only_the_most_telling_changes_are_named() -> None:
    names = ("Base", "Bed", "Dig", "Edge", "Joint", "Lay")

    def after(count: int) -> str:
        own = dict.fromkeys(names, "own: by hand")
        return changes(plan(**own), plan(**own | dict.fromkeys(names[:count], "bid: Crew")))

    assert after(0) == ""
    assert after(NAMED).count(";") == NAMED - 1
    assert "more change" not in after(NAMED)
    assert after(NAMED + 1).endswith("; and 1 more change")
    assert after(NAMED + 2).endswith("; and 2 more changes")


def test_spoil_that_goes_with_a_bid_is_told_once() -> None:
    own = Plan("sand", frozenset(), {}, {}, {"Spoil": "own: barrow"}, {}, "own trips")
    hired = Plan("sand", frozenset(), {}, {}, {"Spoil": "bid: Soil carted off"}, {}, "")
    assert changes(own, hired) == "Spoil: hiring “Soil carted off” instead of own hands (barrow)"
    assert changes(hired, own).startswith("Spoil: own hands (barrow) instead of hiring")
    assert "own trips" in changes(hired, own)


@pytest.mark.parametrize(
    ("hours", "words"),
    [(9.94, "9.9 hours"), (9.96, "10 hours"), (10.4, "10 hours"), (-10.6, "11 hours")],
)
def test_from_ten_hours_on_no_tenths_are_told(hours: float, words: str) -> None:
    assert hours_in_words(hours) == words


def test_half_of_a_total_is_fifty_per_cent() -> None:
    assert so_far(0.5) == "best so far, gap 50.0 %"


@pytest.mark.parametrize("name", ["Sand @ North", "Sand, coarse", "the usual"])
def test_a_quote_that_names_no_seller_or_no_pack_is_told_as_it_is_written(name: str) -> None:
    assert value_in_words("item:Sand", name) == name


def test_a_share_that_cannot_be_read_leaves_the_whole_as_one_name() -> None:
    """Else what is asked for of the first quote would be lost without a word."""
    text = "some of Sand @ West, bag + 5 of Sand @ South, bag + rest of Sand @ North, bag"
    assert read_shared(text) == (text, {})
