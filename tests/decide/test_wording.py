"""Sums and differences in words, and who works together."""

from __future__ import annotations

from types import SimpleNamespace

import pytest

from budget.decide.plan import Plan
from budget.decide.terms.work import Team, team
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


@pytest.mark.parametrize(
    ("room", "people", "paid", "expected"),
    [(1, 2, 1, Team(1, 0)), (2, 1, 1, Team(1, 1)), (3, 2, 2, Team(2, 1)), (0, 2, 1, Team(1, 0)),
     (4, 2, 1, Team(2, 1))],
)  # fmt: skip
def test_as_many_as_fit_the_household_first(
    make: SimpleNamespace, room: int, people: int, paid: int, expected: Team
) -> None:
    options = make.options(people=people, paid_helpers=paid)
    assert team(make.method("Dig", "by hand", 1.0, people=room), options) == expected
