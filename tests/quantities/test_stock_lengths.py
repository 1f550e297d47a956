"""Stock lengths: weights and stiffness of sections, and the lengths that are cut, by hand."""

from __future__ import annotations

from typing import Any

import pytest

from budget.quantities.laid.cutting import cut
from budget.quantities.needs.stock_lengths import Stock, all_stock
from budget.units import FOOT, INCH, POUND


def stock(make: Any, *products: Any, **sheets: Any) -> list[Stock]:
    return all_stock(make.job(products=products, **sheets))


def test_a_weight_that_is_known_counts(make: Any) -> None:
    (board,) = stock(make, make.product("Board", "timber", length=96, size="2x4", weight=4.0))
    weight = board.weight()
    assert weight is not None
    assert weight.value == 4.0


def test_a_stock_of_unknown_section_has_no_weight_and_no_stiffness(make: Any) -> None:
    (odd,) = stock(make, make.product("Odd", "timber", length=96))
    assert (odd.weight(), odd.inertia(True)) == (None, None)


def test_only_timber_and_steel_are_cut_to_length(make: Any) -> None:
    assert stock(make, make.product("Slab", "paver", length=12, width=12, height=2)) == []


def test_a_tube_weighs_its_walls(make: Any) -> None:
    """4 by 2 in with walls of 1/4 in: 8 less 3.5 by 1.5 in = 2.75 square inches of steel, at 490
    pounds a cubic foot (0.2836 a cubic inch), 20 ft."""
    (tube,) = stock(
        make, make.product("Tube", "steel section", length=240, width=4, height=2, wall=0.25)
    )
    weight = tube.weight()
    assert weight is not None
    assert weight.value / POUND == pytest.approx(2.75 * 240 * 490 / 1728)
    # bending: with 0.93 of the wall, 0.2325 in: (2 x 4^3 - 1.535 x 3.535^3) / 12 on edge
    on_edge, flat = tube.inertia(True), tube.inertia(False)
    assert on_edge is not None
    assert flat is not None
    assert on_edge.value / INCH**4 == pytest.approx((2 * 4**3 - 1.535 * 3.535**3) / 12)
    assert flat.value / INCH**4 == pytest.approx((4 * 2**3 - 3.535 * 1.535**3) / 12)


def test_the_lowest_price_of_one_length_whatever_it_is_sold_by(make: Any) -> None:
    """9.00 for one, 40.00 for five, or 1.10 a foot of 8 ft."""
    quotes = (
        make.quote("Board", price=900.0), make.quote("board", price=4000.0, holds=5.0),
        make.quote("Board", price=110.0, measure="length", holds=FOOT),
        make.quote("Board", price=None), make.quote("Plank", price=1.0),
        make.quote("Board", price=1.0, measure="mass"),
    )  # fmt: skip
    board = make.product("Board", "timber", length=96, size="2x4")
    (found,) = stock(make, board, quotes=quotes)
    assert found.price == pytest.approx(800.0)
    (found,) = stock(make, board, quotes=quotes[2:])
    assert found.price == pytest.approx(110.0 * 8)
    (found,) = stock(make, board)
    assert found.price is None


def test_nothing_wanted_is_nothing_cut() -> None:
    found = cut([FOOT], [0], [8 * FOOT], 0.0)
    assert (found.patterns, found.cost, found.proved) == ((), 0, True)


def test_a_piece_longer_than_every_stock_is_refused() -> None:
    with pytest.raises(ValueError, match="longer than every stock length"):
        cut([9 * FOOT], [1], [8 * FOOT], 0.0)


def test_pieces_and_saw_may_fill_a_length_to_the_last_sixty_fourth() -> None:
    """Two of 4 63/64 in and a saw of 1/32 in are 10 in; a 64th longer they are not."""
    for sixty_fourths, lengths in ((319, 1), (320, 2)):
        found = cut([sixty_fourths / 64 * INCH], [2], [10 * INCH], INCH / 32)
        assert found.stock_used == {0: lengths}


def test_a_length_a_hair_too_short_does_not_take_what_is_longer() -> None:
    """Two of half a metre out of 0.99999 m: by a hundredth of a millimetre they do not fit."""
    assert cut([0.5], [2], [0.99999], 0.0).stock_used == {0: 2}
    assert cut([0.5], [2], [1.0], 0.0).stock_used == {0: 1}


def feet(*lengths: float) -> list[float]:
    return [length * FOOT for length in lengths]


ADD_UP = "no cutting can need less: the lengths add up to it"
SIMPLE = [
    pytest.param((3, 2), (4, 6), (8,), None, {0: 3}, id="24 ft to the last inch"),
    pytest.param((6, 5, 4, 3, 2), (1, 1, 1, 1, 1), (10,), None, {0: 2}, id="where least is left"),
    pytest.param((4.25, 2), (5, 1), (8,), [900], {0: 5}, id="no two of the longer in one"),
    pytest.param((6, 4, 2), (2, 2, 2), (8, 12), [1000, 1400], {1: 2}, id="the cheapest a foot"),
    pytest.param((5, 3), (3, 3), (12, 8), [1500, 800], {1: 3}, id="and where it is the shorter"),
    pytest.param((4,), (4,), (4, 8), [400, 800], {1: 2}, id="of equal cost the longer stock"),
]  # fmt: skip


@pytest.mark.parametrize(("pieces", "counts", "stocks", "costs", "used"), SIMPLE)
def test_a_cutting_that_meets_the_simple_bound_is_proved_by_it(
    pieces: tuple[float, ...], counts: tuple[int, ...], stocks: tuple[float, ...],
    costs: list[int] | None, used: dict[int, int],
) -> None:  # fmt: skip
    found = cut(feet(*pieces), counts, feet(*stocks), 0.0, costs)
    assert (found.stock_used, found.proved, found.bound) == (used, True, ADD_UP)
    if costs:
        assert found.cost == sum(costs[stock] * times for stock, times in used.items())


def test_without_prices_less_length_counts_though_it_is_in_two() -> None:
    """Two of 40 in: two stocks of 45 in are 90, one of 100 in is more."""
    assert cut([40 * INCH], [2], [45 * INCH, 100 * INCH], 0.0).stock_used == {0: 2}


def test_a_piece_is_refused_where_there_is_no_stock() -> None:
    with pytest.raises(ValueError, match=r"a piece of 0\.3048 m is longer than every stock length"):
        cut([FOOT], [1], [], 0.0)


def test_a_piece_too_long_for_the_cheapest_stock_comes_out_of_a_longer_one() -> None:
    """7 ft out of 8, two of 3 out of 6 ft that cost less a foot."""
    found = cut(feet(7, 3), [1, 2], feet(6, 8), 0.0, [500, 900])
    assert dict(found.patterns) == {(0, (1, 1)): 1, (1, (0,)): 1}
    assert (found.cost, found.proved) == (1400, True)


def test_the_search_for_a_cutting_prints_nothing(capfd: pytest.CaptureFixture[str]) -> None:
    """Five of 3 1/2 ft out of 10 ft are searched: lengths alone would allow two."""
    found = cut(feet(3.5), [5], feet(10), 0.0)
    assert dict(found.patterns) == {(0, (0, 0)): 2, (0, (0,)): 1}
    assert capfd.readouterr() == ("", "")
