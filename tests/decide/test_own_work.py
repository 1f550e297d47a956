"""Who works how long at one step, each figure worked out beside it."""

from __future__ import annotations

from dataclasses import replace
from types import SimpleNamespace

import pytest

from budget.decide.terms.situation import Situation
from budget.decide.terms.work import Team, days_on, own_work, person_hours, team
from budget.quantities.takeoff import Need
from budget.units import POUND


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


def pavers(make: SimpleNamespace, item: str, pounds: float, area: float, part: str) -> Need:
    """Ten of one paver; ``part`` may be left out, unless it is blank."""
    amounts = {"count": 10.0, "mass": 10 * pounds * POUND, "area": area}
    return replace(make.need(item, "Lay", amounts, optional=part), kind="paver")


def cut(make: SimpleNamespace, parts: frozenset[str], **people: int) -> Situation:
    """10 m to cut at 0.5 h a metre: 60 m² of pavers, and 40 m² of slabs of 60 lb on a walk."""
    needs = [pavers(make, "Paver", 6, 60, ""), pavers(make, "Slab", 60, 40, "Walk")]
    saw = replace(make.method("Cut", "wet saw", 0.5), alone=True)
    options = make.options(methods=[saw], **people)
    return Situation(make.takeoff(needs, [make.amount("Cut", 10)]), options, "sand", parts)


@pytest.mark.parametrize(
    ("people", "paid", "own", "clock", "helpers"),
    [(1, 0, 7.0, 7.0, 0.0), (2, 0, 7.0, 5.0, 0.0), (2, 1, 7.0, 5.0, 0.0), (1, 1, 5.0, 5.0, 2.0)],
)
def test_a_second_joins_for_the_share_of_heavy_pavers(
    make: SimpleNamespace, people: int, paid: int, own: float, clock: float, helpers: float
) -> None:
    """One cuts for 5 h; 40 of 100 m² take two, so a second is there for 2 h of them.

    NIOSH Publication 94-110: 51 lb for one.
    """
    situation = cut(make, frozenset({"Walk"}), people=people, paid_helpers=paid)
    (saw,) = situation.methods("Cut")
    work = own_work(saw, situation.amounts["Cut"], situation.options)
    assert work.own.value == pytest.approx(own)
    assert work.clock.value == pytest.approx(clock)
    assert (work.paid.value if work.paid else 0.0) == pytest.approx(helpers)
    assert person_hours(saw, situation.amounts["Cut"]).value == pytest.approx(7.0)


def test_slabs_of_a_part_left_out_ask_for_nobody(make: SimpleNamespace) -> None:
    situation = cut(make, frozenset())
    (saw,) = situation.methods("Cut")
    assert person_hours(saw, situation.amounts["Cut"]).value == pytest.approx(5.0)


def test_a_pace_given_on_work_is_everybodys(make: SimpleNamespace) -> None:
    given = make.method("Cut", "saw", 0.5)
    before = cut(make, frozenset({"Walk"}))
    options = make.options(methods=[given])
    (found,) = replace(before, options=options).methods("Cut")
    assert found == given


@pytest.mark.parametrize(
    ("room", "people", "paid", "reworked", "own", "clock", "helpers"),
    [
        (1, 1, 0, None, 6.0, 6.0, None),
        (4, 1, 2, None, 2.0, 2.0, 4.0),
        (5, 2, 3, None, 2.4, 1.2, 3.6),
        (2, 2, 3, None, 6.0, 3.0, None),
        (4, 1, 2, 0.5, 3.0, 3.0, 6.0),  # half of it is done twice
        (1, 1, 0, 1.0, 12.0, 12.0, None),  # all of it is
        (1, 1, 0, 0.0, 6.0, 6.0, None),
    ],
)
def test_each_at_the_work_takes_an_equal_part(
    make: SimpleNamespace, room: int, people: int, paid: int, reworked: float | None,
    own: float, clock: float, helpers: float | None,
) -> None:  # fmt: skip
    """4 m³ at 1.5 h each."""
    method = make.method("Dig", "by hand", 1.5, people=room, reworked=reworked)
    options = make.options(methods=[method], people=people, paid_helpers=paid)
    work = own_work(method, make.amount("Dig", 4.0).amount, options)
    assert work.own.value == pytest.approx(own)
    assert work.clock.value == pytest.approx(clock)
    assert (work.paid and work.paid.value) == (helpers and pytest.approx(helpers))


def test_a_step_that_nobody_here_can_do_keeps_no_machine_waiting(make: SimpleNamespace) -> None:
    takeoff = make.takeoff([], [make.amount("Dig", 4.0)])
    situation = Situation(takeoff, make.options(), "sand", frozenset())
    assert days_on(situation, "Dig", None).value == 0.0
