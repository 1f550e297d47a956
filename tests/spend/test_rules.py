"""The rules of what a line will come to, for any entries."""

from hypothesis import given
from hypothesis import strategies as st

from budget.spend.rules import settled_share, will_come_to
from budget.spend.tracking import Tally

CENTS = st.integers(0, 10**7)
PACKS = st.one_of(st.none(), st.floats(0.5, 500))
TALLIES = st.builds(
    Tally, ordered=CENTS, paid=CENTS, open_changes=CENTS, orders=st.integers(0, 3),
    ordered_quantity=st.one_of(st.none(), st.floats(0.1, 500)), paid_quantity=st.floats(0, 500),
)  # fmt: skip


@given(CENTS, TALLIES, PACKS)
def test_never_less_than_what_is_paid_or_owed(planned: int, tally: Tally, packs: float) -> None:
    will = will_come_to(planned, tally, packs)
    assert will >= tally.paid_net
    assert will >= tally.owing


@given(CENTS, TALLIES, PACKS)
def test_share_lies_between_nothing_and_all(planned: int, tally: Tally, packs: float) -> None:
    assert 0.0 <= settled_share(tally, packs) <= 1.0


@given(CENTS, TALLIES, PACKS, CENTS)
def test_a_payment_never_lowers_it(planned: int, tally: Tally, packs: float, more: int) -> None:
    paid = Tally(
        ordered=tally.ordered, paid=tally.paid + more, open_changes=tally.open_changes,
        orders=tally.orders, ordered_quantity=tally.ordered_quantity,
        paid_quantity=tally.paid_quantity,
    )  # fmt: skip
    assert will_come_to(planned, paid, packs) >= will_come_to(planned, tally, packs)


def test_nearly_whole_packs_settle_the_line() -> None:
    assert settled_share(Tally(orders=1, ordered_quantity=9.9999999), 10) == 1.0
