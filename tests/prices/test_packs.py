"""Whole packs: never short, never one too many, cents that add up."""

import numpy as np
import pytest
from hypothesis import given as examples
from hypothesis import strategies as st

from budget.figures import constant, given, recalculate
from budget.prices.options import Offer
from budget.prices.packs import buy, left_to_buy, packs_to_buy, take
from budget.units import LENGTH, MASS, MONEY, RATIO, round_half_up


def edging(**fields) -> Offer:
    values = {
        "key": "Edging @ A, each", "item": "Edging", "supplier": "A", "measure": "length",
        "per": "piece", "holds": constant(2.0, LENGTH, "one piece"),
        "price": given(999.0, MONEY, "price", "Quotes!C2"),
        "tax": constant(0.0825, RATIO, "tax"), "least": 0, "step": 1,
        "weight": constant(1.5, MASS, "weight"), "volume": None,
        "deposit": constant(50.0, MONEY, "deposit"), "bulk": False, "expired": False,
        "lead_days": 0, "restocking": None, "cell": "Quotes!C2", **fields,
    }  # fmt: skip
    return Offer(**values)


def length(metres: float):
    return given(metres, LENGTH, "edge", "need")


def test_a_purchase_by_hand() -> None:
    """7.1 m in pieces of 2 m are 4 pieces: 4 x 9.99 = 39.96, tax 3.2967, so 3.30."""
    bought = buy(edging(), length(7.1))
    assert bought.packs.value == 4
    assert (bought.price.value, bought.tax.value, bought.cash.value) == (3996, 330, 4326)
    assert bought.left_over.value == pytest.approx(1 - 7.1 / 8)
    assert bought.weight is not None
    assert bought.weight.value == 6.0
    assert bought.deposit is not None
    assert bought.deposit.value == 200


def test_nothing_needed_buys_nothing_even_with_a_least() -> None:
    bought = buy(edging(least=10), length(0))
    assert (bought.packs.value, bought.cash.value, bought.left_over.value) == (0, 0, 0)


@pytest.mark.parametrize(
    ("metres", "least", "step", "packs"),
    [(7.1, 10, 1, 10), (21, 10, 1, 11), (7.1, 0, 0.5, 4), (6.9, 0, 0.5, 3.5), (7.1, 5, 3, 6)],
)
def test_leasts_and_steps(metres, least, step, packs) -> None:
    assert packs_to_buy(edging(least=least, step=step), length(metres)).value == packs


@examples(
    amount=st.floats(0.01, 1e4), holds=st.floats(0.01, 50), step=st.sampled_from([0.25, 0.5, 1, 3]),
    least=st.sampled_from([0, 1, 2.5, 40]),
)  # fmt: skip
def test_packs_cover_the_need_and_no_smaller_order_would(amount, holds, step, least) -> None:
    offer = edging(holds=constant(holds, LENGTH, "holds"), step=step, least=least)
    packs = packs_to_buy(offer, length(amount)).value
    assert packs * holds >= amount - 2e-6 * holds * step
    assert packs >= least - 1e-6
    assert packs / step == pytest.approx(round(packs / step))
    smaller = packs - step
    assert smaller * holds < amount or smaller < least


@examples(amount=st.floats(0.01, 1e3), price=st.integers(1, 99999), tax=st.floats(0, 0.3))
def test_lines_are_whole_cents_and_add_up(amount, price, tax) -> None:
    offer = edging(price=constant(float(price), MONEY, "p"), tax=constant(tax, RATIO, "tax"))
    bought = buy(offer, length(amount))
    assert bought.price.value == bought.packs.value * price
    assert bought.tax.value == round_half_up(bought.price.value * tax)
    assert bought.cash.value == bought.price.value + bought.tax.value


def test_draws_of_the_need_and_of_the_price() -> None:
    cash = buy(edging(tax=constant(0.0, RATIO, "none")), length(7.1)).cash
    draws = recalculate(cash, {"need": np.array([7.1, 8.0, 8.1]), "Quotes!C2": 1000.0})
    assert draws.tolist() == [4000, 4000, 5000]


def test_a_part_bought_elsewhere_leaves_the_rest() -> None:
    """Of 9 m, 3 pieces of 2 m leave 3 m, and 5 leave nothing. Sold by weight, 3 pieces of 10 kg
    are a third of the 90 kg that the whole weighs: 6 of 9 m are left."""
    offer = edging()
    left = [left_to_buy(length(9), [(length(9), offer, take(offer, n))]).value for n in (3, 5)]
    assert left == [3, 0]
    scrap = edging(measure="mass", holds=constant(10.0, MASS, "one piece"))
    weight = constant(90.0, MASS, "weight of all")
    assert left_to_buy(length(9), [(weight, scrap, take(scrap, 3))]).value == pytest.approx(6)
