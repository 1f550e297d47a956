"""Figures: the tree's value, its recalculation and its explanation cannot drift apart."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from budget.figures import (
    Figure,
    cents,
    constant,
    in_order,
    inputs,
    largest,
    minus,
    product,
    ratio,
    recalculate,
    smallest,
    tier,
    total,
    whole,
    workings,
)
from budget.figures import given as given_figure
from budget.units import AREA, COUNT, LENGTH, MONEY, NUMBER, VOLUME, round_half_up, whole_packs

sizes = st.floats(0.01, 1e4, allow_nan=False)


def _order(side: float, other: float, pack: float, price: float) -> tuple[Figure, Figure]:
    """Packs and price for an area: a small tree with every operation but ``smallest``."""
    a = given_figure(side, LENGTH, "side", "Areas!D5")
    b = given_figure(other, LENGTH, "other side", "Areas!E5")
    area = product("area", AREA, a, b)
    least = constant(1.0, AREA, "least area")
    need = largest("need", area, least)
    packs = whole("packs", ratio("share", NUMBER, need, constant(pack, AREA, "a pack")))
    each = given_figure(price, MONEY, "price", "Quotes!C5")
    goods = cents("goods", product("goods", MONEY, packs, each))
    fee = tier(
        "fee",
        goods,
        [
            (constant(0, MONEY, "from"), constant(6000, MONEY, "fee")),
            (constant(50000, MONEY, "free from"), constant(0, MONEY, "free")),
        ],
    )
    return packs, total("cost", [goods, fee])


def _by_hand(side: float, other: float, pack: float, price: float) -> tuple[int, float]:
    packs = whole_packs(max(side * other, 1.0) / pack)
    goods = round_half_up(packs * price)
    return packs, goods + (0 if goods >= 50000 else 6000)


@given(sizes, sizes, sizes, st.integers(0, 10**6))
def test_the_tree_gives_what_plain_arithmetic_gives(
    side: float, other: float, pack: float, price: int
) -> None:
    packs, cost = _order(side, other, pack, price)
    assert (packs.value, cost.value) == _by_hand(side, other, pack, price)


@given(sizes, sizes, sizes, st.integers(0, 10**6), sizes)
def test_recalculation_equals_building_anew(
    side: float, other: float, pack: float, price: int, new: float
) -> None:
    _, cost = _order(side, other, pack, price)
    assert recalculate(cost, {"Areas!D5": new}) == _by_hand(new, other, pack, price)[1]
    assert recalculate(cost, {}) == cost.value


@given(st.lists(sizes, min_size=1, max_size=20), sizes, sizes, st.integers(0, 10**6))
def test_draws_give_what_single_values_give(
    draws: list[float], other: float, pack: float, price: int
) -> None:
    _, cost = _order(1.0, other, pack, price)
    found = recalculate(cost, {"Areas!D5": np.array(draws)})
    assert list(found) == [recalculate(cost, {"Areas!D5": d}) for d in draws]


@given(sizes, sizes)
def test_smallest_minus_and_largest(a: float, b: float) -> None:
    one, two = constant(a, LENGTH, "one"), constant(b, LENGTH, "two")
    spread = minus("spread", largest("more", one, two), smallest("less", one, two))
    assert spread.value == abs(a - b)


def test_every_step_stands_after_what_it_is_made_from() -> None:
    _, cost = _order(3, 4, 2, 500)
    seen: set[int] = set()
    for figure in in_order(cost):
        assert {id(arg) for arg in figure.args} <= seen
        assert id(figure) not in seen
        seen.add(id(figure))


def test_inputs_are_named_by_their_cells() -> None:
    _, cost = _order(3, 4, 2, 500)
    assert {f.key for f in inputs(cost) if f.key} == {"Areas!D5", "Areas!E5", "Quotes!C5"}


@pytest.mark.parametrize("system", ["imperial", "metric"])
def test_an_explanation_ends_with_the_result(system: str) -> None:
    _, cost = _order(3, 4, 2, 500)
    lines = workings(cost, system)  # type: ignore[arg-type]
    assert lines[-1].name == "cost"
    assert lines[-1].result == "90.00"  # 6 packs of 5.00 and a fee of 60.00
    assert all(line.arithmetic for line in lines)


def test_kinds_cannot_be_mixed() -> None:
    length, area = constant(1, LENGTH, "length"), constant(1, AREA, "area")
    with pytest.raises(TypeError):
        total("nonsense", [length, area])
    with pytest.raises(TypeError):
        product("nonsense", VOLUME, length, length)
    with pytest.raises(TypeError):
        ratio("nonsense", COUNT, area, length)
    with pytest.raises(TypeError):
        cents("nonsense", length)


def test_nothing_adds_up_to_nothing_of_a_kind() -> None:
    assert total("none", [], LENGTH).value == 0
    assert math.isclose(total("some", [constant(0.1, LENGTH, "a")] * 3).value, 0.3)
