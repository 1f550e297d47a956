"""Sums and differences in words."""

from __future__ import annotations

import pytest

from budget.decide.plan import Plan
from budget.decide.wording import NAMED, changes, round_money


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
