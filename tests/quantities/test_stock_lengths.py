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
