"""What is laid and placed, at the ends of its rules: as wide as a rule asks, very many, none."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
import shapely
from shapely.affinity import rotate

from budget.quantities import take_off
from budget.quantities.laid import cutting
from budget.quantities.laid.bonds import Unit
from budget.quantities.laid.fabric_layout import strips_on
from budget.quantities.laid.layout import lay_out
from budget.quantities.laid.offcuts import MOST_EXACT, pairs, spans
from budget.units import FOOT


def strips_of_pavers(lengths: list[float], face: tuple[float, float]) -> int:
    """Pairs among pieces that are as wide as their paver, each from its left end on."""
    ends = [(x, y) for n in lengths for x, y in ((0, 0), (n, 0), (n, face[1]), (0, face[1]))]
    low, high = spans(np.array(ends, float), np.repeat(range(len(lengths)), 4), len(lengths))
    return pairs(low, high, np.array(lengths) * face[1], face)


def test_of_very_many_pieces_each_serves_once() -> None:
    """Pavers of 1 m: 500 pieces of 0.6 m and 400 of 0.4 m make 400 pairs, then 0.6 is too long.

    The other way round 400 pairs are made, and of the 100 of 0.4 m that are left 50.
    """
    face = (1.0, 0.5)
    assert MOST_EXACT < 900
    assert strips_of_pavers([0.6] * 500 + [0.4] * 400, face) == 400
    assert strips_of_pavers([0.4] * 500 + [0.6] * 400, face) == 400 + 50


def test_two_pieces_larger_than_a_paver_do_not_come_out_of_it() -> None:
    """Of 200 mm: two of 100 do; two of 100.04 do not, though a blade takes far more than that."""
    assert strips_of_pavers([0.1] * 2, (0.2, 0.1)) == 1
    assert strips_of_pavers([0.10004] * 2, (0.2, 0.1)) == 0


def test_a_piece_half_as_long_as_a_paver_is_wide_is_a_strip() -> None:
    """Pavers of 200 x 100 mm, and 4 mm beyond them: 50 mm long, to a millimetre more or less."""
    one = Unit(0.2, 0.1, 0.2, 0.1)
    for tall, strips in ((0.051, 1), (0.049, 0)):
        ring = ((0.0, 0.0), (0.204, 0.0), (0.204, tall), (0.0, tall))
        first = lay_out((ring,), "stack bond", one, 0.01).layings[0]
        assert (first.start, first.cut) == ("lower left corner", 2)
        assert first.slivers == strips


@pytest.mark.parametrize("turn", [0, 90, 180, 270])
def test_strips_of_a_trapezoid_begin_at_its_long_side(turn: int) -> None:
    """27 tapering to 21 over 9, a roll of 6 and a lap of 1: two strips either way.

    Begun at the long side the second begins 5 further in, where 27 - 6 x 5 / 9 are left; begun
    at the short side the first reaches 6 in, and is 21 + 6 x 6 / 9 long.
    """
    shape = rotate(shapely.Polygon([(0, 9), (27, 9), (24, 0), (3, 0)]), turn, (0, 0))
    found = [strip.length for strip in strips_on(shape, 6, 1)]
    assert found == pytest.approx([27, 27 - 6 * 5 / 9])


def test_nothing_is_left_of_a_roll_that_is_used_up(make: Any) -> None:
    """Two strips of 21 ft of rolls of 15 ft, laps of 1 ft: 15; 7 and 8; 14, which leaves 1 ft."""
    roll = make.product("Geotextile", "geotextile", roll_width=6, holds=90 * FOOT)
    build_up = make.build_up(geotextile=True, overrun=6)
    area = make.area(length=20, width=10)
    (plan,) = take_off(make.job(area, build_ups=(build_up,), products=(roll,))).cutting
    assert [cut.left / FOOT for cut in plan.cuts] == pytest.approx([0, 0, 1])


def test_what_is_said_of_a_cutting_is_what_was_searched(monkeypatch: pytest.MonkeyPatch) -> None:
    """Five of 3 1/2 ft: two of a length of 10 ft, so three lengths, though 17 1/2 ft are two.

    Lengths alone do not prove it, the search does; and a search that is not made proves nothing.
    """

    def found() -> tuple[dict[int, int], bool, str]:
        way = cutting.cut([3.5 * FOOT], [5], [10 * FOOT], 0.0)
        return way.stock_used, way.proved, way.bound

    assert found() == ({0: 3}, True, "an exact search found none better")
    monkeypatch.setattr(cutting, "MOST_ARCS", 0)
    assert found() == ({0: 3}, False, "good, but not proved the best")


@pytest.mark.parametrize(("named", "open_edge"), [(9.9, 50), (10, 50), (10.1, 50), (12, 48)])
def test_an_edge_named_as_long_as_the_plan_shows_it_is_that_edge(
    make: Any, named: float, open_edge: float
) -> None:
    """20 x 10 ft with a walk at a short side of 10 ft: 50 ft are open, less what is named beyond.

    A tape that reads a hundredth more or less tells of no other edge.
    """
    areas = (
        make.area("Terrace", length=20, width=10, x=0.0, y=0.0, joined_edge=named),
        make.area("Walk", length=5, width=10, x=20.0, y=0.0),
    )
    terrace, _ = take_off(make.job(*areas)).parts
    assert terrace.restrained.value / FOOT == pytest.approx(open_edge)
