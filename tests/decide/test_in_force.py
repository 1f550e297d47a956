"""What there is to do and to buy in one situation, who may meet it, and what a bid costs in it."""

from __future__ import annotations

from dataclasses import replace
from types import SimpleNamespace

import pytest

from budget.decide.terms.situation import Situation, step_order
from budget.decide.terms.tariffs import bid_money, cover_price
from budget.prices.options import Answer
from budget.reference import steps as step_kinds


def test_steps_that_are_not_known_come_last_by_name() -> None:
    known = list(step_kinds())
    found = sorted(["Sing", "Arrange", *known], key=step_order)
    assert found[-2:] == ["Arrange", "Sing"]
    assert [step for step in found if step in known] == sorted(
        known, key=lambda step: step_kinds()[step].order
    )


def test_what_comes_to_nothing_or_is_not_chosen_is_not_in_force(make: SimpleNamespace) -> None:
    """Under sand without the bench; the walk is kept."""
    parts = (
        ("", "", 0.25), ("", "", 0.0), ("sand", "", 0.5), ("stone", "", 4.0),
        ("", "Bench", 8.0), ("", "Walk", 16.0),
    )  # fmt: skip
    needs = [
        make.need(f"Item {n}", "Base", {"mass": each}, bedding=bed, optional=part)
        for n, (bed, part, each) in enumerate(parts)
    ]
    rows = [make.amount("Dig", each, bedding=bed, optional=part) for bed, part, each in parts]
    takeoff = make.takeoff(needs, [*rows, make.amount("Lay", 0.0)])
    heaps = tuple(replace(row, step="Spoil") for row in rows)
    situation = Situation(
        replace(takeoff, spoil=heaps), make.options(), "sand", frozenset(("Walk",))
    )
    assert list(situation.items) == ["Item 0", "Item 2", "Item 5"]
    assert {step: figure.value for step, figure in situation.amounts.items()} == {"Dig": 16.75}
    assert situation.spoil is not None
    assert situation.spoil.value == 16.75


@pytest.mark.parametrize(("loose", "found"), [(0.0, None), (0.5, 0.5)])
def test_spoil_of_nothing_is_none(make: SimpleNamespace, loose: float, found: float | None) -> None:
    heap = replace(make.amount("Dig", loose), step="Spoil")
    takeoff = replace(make.takeoff([], []), spoil=(heap,))
    spoil = Situation(takeoff, make.options(), "sand", frozenset()).spoil
    assert (spoil and spoil.value) == found


def test_an_offer_must_meet_every_need_of_its_item(make: SimpleNamespace) -> None:
    """Stone is needed by weight or volume, and elsewhere by weight alone; nobody needs caps."""
    needs = [
        make.need("Stone", "Base", {"mass": 700.0, "volume": 0.5}),
        make.need("Stone", "Bed", {"mass": 300.0}),
    ]
    by_weight = make.offer("Stone", "North", 100)
    by_volume = make.offer("Stone", "South", 100, measure="volume")
    caps = make.offer("Cap", "North", 100, measure="count")
    options = make.options(offers=[caps, by_volume, by_weight])
    situation = Situation(make.takeoff(needs, []), options, "sand", frozenset())
    assert situation.offers("Stone") == (by_weight,)
    assert situation.offers("Cap") == ()


@pytest.mark.parametrize(
    ("step", "carried", "cents"),
    [
        ("Dig", None, 250 * 4),
        ("Spoil", None, 0),  # there is none of it
        ("Carry", None, 0),
        ("Carry", 700.0, 250 * 700),
        ("", None, 250 * 20),  # by the paved area
    ],
)
def test_a_price_per_unit_counts_what_there_is_of_its_step(
    make: SimpleNamespace, step: str, carried: float | None, cents: int
) -> None:
    """2.50 a unit, for 4 m³ to dig beside 20 m² of paving; so much that is bought is carried."""
    crew = make.bid("Crew", ["Dig"], 250, basis="per unit", unit_step=step)
    takeoff = make.takeoff([], [make.amount("Dig", 4.0)])
    situation = Situation(takeoff, make.options(bids=[crew]), "sand", frozenset())
    weight = None if carried is None else make.fig(carried, make.MASS)
    assert bid_money(situation, crew, weight).value == cents


@pytest.mark.parametrize(
    ("answer", "said", "key", "offer", "extra"),
    [
        ("in bid", "", "Crew", "", 0.0),
        ("in bid", "", "Crew without Dig", "Crew", 0.0),  # a form of that offer
        ("in bid", "", "Digger", "", None),
        ("priced", "", "Crew", "", None),
        ("priced", "yes", "Crew", "", 0.0),
        ("to price", "no", "Crew", "", None),
        ("in bid", "extra", "Digger", "", 4000.0),
        ("in bid", "extra", "Crew", "", 0.0),
    ],
)
def test_a_cost_line_is_in_the_bid_that_it_names_or_in_one_that_says_so(
    make: SimpleNamespace, answer: str, said: str, key: str, offer: str, extra: float | None
) -> None:
    """The list says that the drain is in the bid of a crew; a bid may ask 40.00 more for it."""
    line = make.check_line("Drain", answer, bid="Crew")
    asked = make.cash(4000) if said == "extra" else None
    scope = (Answer("Drain", said, asked),) if said else ()
    one = replace(make.bid(key, ["Dig"], 90000), offer=offer, scope=scope)
    found = cover_price(line, one)
    assert (found and found.value) == extra
