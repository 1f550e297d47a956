"""The reasons of a line add up to the cent, whatever the plan, the entries and the need."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from budget.spend.forecast import hours_in_the_end
from budget.spend.reasons import why_hours, why_money
from budget.spend.tracking import Why
from budget.spend.yardstick import PlanLine, Side

CENTS = st.integers(0, 10**7)
PACKS = st.one_of(st.none(), st.floats(0.5, 500))
SIDES = st.builds(Side, cash=CENTS, hours=st.floats(0, 500), packs=PACKS, there=st.booleans())
LINES = st.builds(
    PlanLine, name=st.just("Paver"), group=st.just(""), supplier=st.just(""), choice=st.just(""),
    per=st.sampled_from(["", "ton", "day", "hour"]), first=SIDES, now=SIDES,
)  # fmt: skip
GROWTH = st.floats(0.2, 5)


@given(LINES, CENTS, st.integers(-(10**6), 10**6), PACKS, GROWTH)
def test_reasons_add_up_to_the_cent(
    line: PlanLine, will: int, changes: int, final: float | None, growth: float
) -> None:
    why = why_money(line, will, changes, final, growth)
    assert why.sum == will - line.first.cash
    assert all(isinstance(v, int) for v in (why.price, why.quantity, why.scope, why.pace))


@given(LINES, st.floats(0, 1000), GROWTH, GROWTH)
def test_reasons_of_hours_add_up(
    line: PlanLine, will: float, growth: float, measured: float
) -> None:
    why = why_hours(line, will, growth, measured)
    first = line.first.hours if line.first.there else 0.0
    scale = max(1.0, will, line.first.hours * growth * measured)
    assert abs(why.quantity + why.scope + why.pace - (will - first)) < 1e-9 * scale


def planned(packs: float | None = 10.0, per: str = "pallet", now: float | None = None) -> PlanLine:
    """Ten packs for 500.00."""
    first = Side(50000, 0.0, packs, True)
    return PlanLine("Paver", "", "", "", per, first, Side(50000, 0.0, now or packs, True))


def test_a_dearer_pack_is_price() -> None:
    assert why_money(planned(), 54000, 0, 10.0, 1.0) == Why(price=4000)


def test_two_packs_more_at_a_dearer_price_are_quantity_and_price() -> None:
    # 12 packs at 55.00 are 660.00: two more at 50.00, and 12 times 5.00
    assert why_money(planned(), 66000, 0, 12.0, 1.0) == Why(price=6000, quantity=10000)


def test_a_part_made_larger_is_scope() -> None:
    assert why_money(planned(now=11.0), 55000, 0, 11.0, 1.1) == Why(scope=5000)


def test_a_line_that_is_not_counted_grows_with_its_work() -> None:
    # a tenth more work at 500.00, of which 30.00 is price
    assert why_money(planned(None), 58000, 0, None, 1.1) == Why(price=3000, scope=5000)


def test_a_change_agreed_is_scope() -> None:
    assert why_money(planned(None), 53000, 3000, None, 1.0) == Why(scope=3000)


def test_packs_bought_for_a_change_agreed_are_counted_once() -> None:
    # 13 packs at 55.00 are 715.00: two of the three more were agreed at 50.00 each
    assert why_money(planned(), 71500, 10000, 13.0, 1.0) == Why(
        price=6500, quantity=5000, scope=10000
    )


def test_a_day_more_of_hire_is_pace() -> None:
    # two days planned for 500.00, three in the end for 800.00: 250.00 pace, 50.00 price
    assert why_money(planned(2.0, "day"), 80000, 0, 3.0, 1.0) == Why(price=5000, pace=25000)


def test_a_line_not_in_the_plan_is_scope() -> None:
    line = PlanLine("Lamp", "", "", "", "", Side(), Side())
    assert why_money(line, 700, 0, None, 1.0) == Why(scope=700)


@pytest.mark.parametrize(
    ("spent", "done", "hours"),
    [
        (0.0, 0.5, 10.0),  # done without a word on the hours: as planned
        (3.0, 0.2, 15.0),  # a fifth done in three hours: fifteen
        (3.0, 0.19, 3.0 + 8.1),  # before that the plan is trusted for the rest
        (0.0, 0.0, 10.0),
        (12.0, 1.0, 12.0),
    ],
)
def test_hours_in_the_end(spent: float, done: float, hours: float) -> None:
    assert hours_in_the_end(10.0, spent, done) == pytest.approx(hours)


@given(st.floats(0, 500), st.floats(0, 500), st.one_of(st.none(), st.floats(0, 1)))
def test_hours_in_the_end_are_never_fewer_than_spent(
    hours: float, spent: float, done: float | None
) -> None:
    assert hours_in_the_end(hours, spent, done) >= spent
