"""What a margin is made of, on plans whose price at every place is written out in the test."""

from __future__ import annotations

import math
from collections.abc import Callable
from types import SimpleNamespace
from typing import Any

import pytest

from budget.decide.plan import Line, Order, Plan, Priced
from budget.decide.thorough import margins as module
from budget.decide.thorough.growing import Growth
from budget.decide.thorough.margins import Margin, _jumps, _lines, _margin, _used_up, _Walk

PLAN = Plan("sand", frozenset(), {}, {}, {}, {}, "")


def priced(*lines: tuple[str, int], hours: float = 0.0, orders: tuple[Order, ...] = ()) -> Priced:
    rows = tuple(
        Line("", "", name, cash, 0.0, None, None, "", f"{cash} of it") for name, cash in lines
    )
    cash = sum(line.cash for line in rows)
    return Priced(PLAN, rows, (), orders, (), (), cash, hours, 0.0, 0.0, 0, ())


def order(price: int, tax: int, left_over: float, credit: int = 0) -> Order:
    return Order("Slab", "", "", 1, "", price, tax, 0, None, left_over, "", 0.0, credit)


@pytest.fixture
def margin_of(monkeypatch: pytest.MonkeyPatch) -> Any:
    """The margin of a plan whose price is a function of the units it has grown by."""

    def walk(
        price: Callable[[float], Priced], grown: Callable[[float], float] = lambda units: units
    ) -> tuple[Growth, Any, Any]:
        def laid(units: float) -> Any:
            return SimpleNamespace(takeoff=units, options=SimpleNamespace(bids=()))

        monkeypatch.setattr(module, "lay_out", laid)
        monkeypatch.setattr(module, "between", lambda a, b, share: a + (b - a) * share)
        monkeypatch.setattr(module, "evaluate", lambda plan, units, options: price(units))
        growth: Any = Growth("paving", "Yard", "m²", 1.0, 4, 0.5, grown)  # type: ignore[arg-type]
        return (
            growth,
            laid(0.0),
            _Walk(growth, PLAN, laid(0.0), (laid(grown(1.0)), laid(grown(4.0)))),
        )

    return SimpleNamespace(
        margin=lambda *how: _margin(walk(*how)[0], PLAN, walk(*how)[1]),
        walk=lambda *how: walk(*how)[2],
    )


def yard(units: float) -> Priced:
    """Slabs in packs for six at 60.00 and 6.00 tax, five of them used before; stone at 12.00 a
    unit; an hour, and half an hour a unit."""
    packs = math.ceil((5 + units) / 6 - 1e-9)
    slabs = order(6000 * packs, 600 * packs, 1 - (5 + units) / (6 * packs))
    return priced(
        ("Slab", 6600 * packs), ("Stone", round(1200 * units)), hours=1 + units / 2, orders=(slabs,)
    )


def test_a_margin_is_smooth_and_has_its_jumps(margin_of: Any) -> None:
    """11.00 of slabs and 12.00 of stone a unit. The next unit opens no pack; beyond it one does.
    Stone rises by 6.00 from place to place, which is no jump."""
    found: Margin = margin_of.margin(yard)
    assert found.smooth == pytest.approx(1100 + 1200)
    assert (found.hours, found.next_cash, found.ends) == (0.5, 1200, None)
    assert [(j.line, j.after, j.cash) for j in found.jumps] == [("Slab", 1.0, 6600)]


def test_every_place_to_the_end_is_looked_at_and_none_beyond(margin_of: Any) -> None:
    """What is one after a unit and sixteen after four lies in proportion between them: at one and
    a half it is 1 + 15 × 0.5 / 3 = 3.5."""
    seen: list[float] = []

    def price(units: float) -> Priced:
        seen.append(units)
        return priced(("Stone", round(100 * units)))

    places = list(margin_of.walk(price, lambda units: units * units).places())
    assert [units for units, _ in places] == [0.0, 0.5, 1.0, 1.5, 2.0, 2.5, 3.0, 3.5, 4.0]
    assert seen == pytest.approx([0.0, 0.5, 1.0, 3.5, 6.0, 8.5, 11.0, 13.5, 16.0])


def test_a_plan_that_ends_is_followed_to_its_end(margin_of: Any) -> None:
    def until(most: float) -> Callable[[float], Priced]:
        def price(units: float) -> Priced:
            if units > most:
                raise ValueError
            return yard(units)

        return price

    assert margin_of.margin(until(2.0)).ends == 2.0
    assert margin_of.margin(until(0.5)) is None  # it does not hold for one unit


@pytest.mark.parametrize(
    ("price", "told"),
    [
        (lambda units: priced(("Stone", 100)), False),
        (lambda units: priced(("Stone", 103 if units >= 4 else 100)), False),
        # four cents over four units are a cent a unit
        (lambda units: priced(("Stone", 104 if units >= 4 else 100)), True),
        # a unit costs 0.30 that a fourth brings back
        (lambda units: priced(("Stone", 130 if 1 <= units < 4 else 100)), True),
        (lambda units: priced(("Stone", 100), hours=units), True),
    ],
)
def test_what_a_plan_does_not_rest_on_has_no_margin(
    margin_of: Any, price: Callable[[float], Priced], told: bool
) -> None:
    assert (margin_of.margin(price) is not None) is told


def test_what_is_used_up_of_packs() -> None:
    """Half of 11.00 and a quarter of 20.00 are left over, and 0.50 comes back: 40.00 of 50.00."""
    orders = (order(1000, 100, 0.5, credit=50), order(2000, 0, 0.25))
    assert _used_up(priced(("Slab", 5000), orders=orders)) == 4000


def test_lines_of_one_name_are_one() -> None:
    found = _lines(priced(("Slab", 100), ("Sand", 20), ("Slab", 50)))
    assert {key[0]: cash for key, (cash, _) in found.items()} == {"Slab": 150, "Sand": 20}


def test_a_jump_is_told_once_and_from_where_it_is_seen() -> None:
    """Slabs rise by the least that is a jump at once, and again; a second line is new."""
    places = [
        (0.0, priced(("Slab", 1000))), (0.5, priced(("Slab", 1600))),
        (1.0, priced(("Slab", 2600), ("Sand", 599))), (1.5, priced(("Slab", 2600), ("Sand", 1200))),
    ]  # fmt: skip
    found = [(j.line, j.before, j.then, j.after, j.cash) for j in _jumps(places, 600)]
    assert found == [
        ("Slab", "1000 of it", "1600 of it", 0.0, 600),
        ("Sand", "599 of it", "1200 of it", 1.0, 601),
    ]
    (new,) = _jumps([(0.0, priced()), (0.5, priced(("Sand", 600)))], 600)
    assert (new.before, new.cash) == ("", 600)
