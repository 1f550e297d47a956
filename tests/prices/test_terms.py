"""The cheapest mix of rental terms, against trying every mix."""

from itertools import product

import pytest
from hypothesis import given as examples
from hypothesis import settings as runs
from hypothesis import strategies as st

from budget.figures import constant, given, recalculate
from budget.prices.options import Term
from budget.prices.terms import cheapest_terms, rent
from budget.units import DAYS, MONEY


def term(name: str, cents: float, days: float) -> Term:
    return Term(name, constant(float(cents), MONEY, name), days)


SHOP = [
    term("4 hours", 4500, 0.5),
    term("day", 7000, 1),
    term("weekend", 10500, 2),
    term("week", 21000, 5),
]


def by_trying_every_mix(terms, days: float) -> float:
    """The least price of any mix that covers the days, found without building it up."""
    ranges = [range(int(-(-days // t.days)) + 1) for t in terms]
    return min(
        sum(n * t.price.value for n, t in zip(counts, terms, strict=True))
        for counts in product(*ranges)
        if sum(n * t.days for n, t in zip(counts, terms, strict=True)) >= days
    )


@pytest.mark.parametrize(
    ("days", "cents"),
    [(0, 0), (0.5, 4500), (1, 7000), (1.5, 10500), (2, 10500), (2.5, 15000), (4, 21000)],
)
def test_by_hand(days, cents) -> None:
    assert cheapest_terms(SHOP, days).price.value == cents


def test_in_words() -> None:
    assert cheapest_terms(SHOP, 5.2).words() == "1 week + 4 hours"
    assert cheapest_terms(SHOP[:3], 3.5).words() == "2 weekends"
    assert cheapest_terms(SHOP[:1], 1).words() == "2 × 4 hours"


@runs(max_examples=60, deadline=None)
@examples(
    prices=st.tuples(*[st.integers(1, 40) for _ in range(4)]), halves=st.integers(1, 14),
    weekend=st.sampled_from([1.5, 2, 2.5]), week=st.sampled_from([3, 4, 5]),
)  # fmt: skip
def test_never_dearer_than_any_mix(prices, halves, weekend, week) -> None:
    days = [0.5, 1, weekend, week]
    terms = [term(str(i), p * 100, d) for i, (p, d) in enumerate(zip(prices, days, strict=True))]
    found = cheapest_terms(terms, halves / 2)
    assert found.price.value == by_trying_every_mix(terms, halves / 2)
    covered = sum(count * terms[int(name)].days for name, count in found.counts)
    assert covered >= halves / 2


def test_the_order_of_the_terms_does_not_matter() -> None:
    for days in (0.5, 3, 6.5, 11):
        assert cheapest_terms(SHOP, days).counts == cheapest_terms(SHOP[::-1], days).counts


def test_no_terms_is_an_error() -> None:
    with pytest.raises(ValueError, match="no rental terms"):
        cheapest_terms([], 1)


def test_rent_as_a_figure_follows_the_days() -> None:
    """The figure recalculated at up to twice the days is the cheapest mix for those days."""
    figure = rent(SHOP, given(9.6, DAYS, "days", "days"))
    for halves in range(41):
        expected = cheapest_terms(SHOP, halves / 2).price.value
        assert recalculate(figure, {"days": halves / 2}) == expected


@pytest.mark.parametrize("made_for", [0.1, 0.5, 1.0])
def test_rent_made_for_a_short_hire_still_holds_for_two_days(made_for) -> None:
    figure = rent(SHOP, given(made_for, DAYS, "days", "days"))
    for halves in range(5):
        expected = cheapest_terms(SHOP, halves / 2).price.value
        assert recalculate(figure, {"days": halves / 2}) == expected
