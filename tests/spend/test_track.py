"""Entries against a plan of three lines: pavers (10 pallets, 500.00), a bid, own digging.

Every expected sum is worked out by hand in the test that states it.
"""

import datetime as dt
import random
from collections.abc import Callable
from dataclasses import replace
from types import MappingProxyType
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from budget.decide.outcome import Comparison
from budget.decide.plan import Line, Missing, Order, Plan, Priced, Scenario
from budget.figures import constant
from budget.job import Job, Place, Progress, Settings, Spend
from budget.prices.options import Options
from budget.quantities.takeoff import Takeoff
from budget.spend import NoPlanError, Tracked, Tracking, UnknownNameError, find_scenario, track
from budget.spend.baseline import Accepting, baseline_of, planned_lines, planned_steps
from budget.spend.finding import priced
from budget.spend.tallying import in_time
from budget.spend.tracking import Why
from budget.spend.weeks import work_done
from budget.spend.yardstick import yardstick
from budget.units import DENSITY, HOURS, MONEY, RATIO, per

Tracker = Callable[..., Tracking]


def line(name: str, cash: int, hours: float = 0.0, part: str = "") -> Line:
    return Line(part, "Group", name, cash, hours, None, None)


def plan(
    lines: tuple[Line, ...], missing: tuple[Missing, ...] = (), deposits: int = 2000
) -> Priced:
    return Priced(
        plan=Plan("sand", frozenset(), {}, {}, {}, {}, ""),
        lines=lines,
        missing=missing,
        orders=(
            Order(
                "Paver",
                "Paver @ Yard",
                "Yard",
                10.0,
                "pallet",
                47000,
                3000,
                2000,
                None,
                0.0,
                "Paver",
            ),
        ),
        arrivals=(),
        hires=(),
        cash=sum(x.cash for x in lines),
        own_hours=sum(x.own_hours for x in lines),
        helper_hours=0.0,
        clock_hours=0.0,
        deposits=deposits,
        risks=(),
    )


LINES = (
    line("Paver", 50000),
    line("Paving crew", 200000),
    line("Dig", 0, 30.0, "Terrace"),
    line("Dig", 0, 6.0, "Path"),
)


def options() -> Options:
    none = constant(0, RATIO, "none")
    return Options(
        offers=(), routes={}, methods={}, bids=(), machines={}, disposal=(), carry={},
        checklist=(), hour_value=constant(2000, per(MONEY, HOURS), "hour value"),
        hours_per_day=constant(8, HOURS, "day"), people=1, paid_helpers=0, helper_pay=None,
        sales_tax=none, card_surcharge={},
    )  # fmt: skip


def comparison(
    spend: tuple[Spend, ...], limit: float | None = None, missing: tuple[Missing, ...] = (),
    progress: tuple[Progress, ...] = (),
) -> Comparison:  # fmt: skip
    best = Scenario("Mixed hands", "sand", {}, True, "", plan(LINES, missing), True, 0.0)
    dear = plan((line("Paving crew", 400000),))
    hired = Scenario("Whole job hired", "sand", {}, True, "", dear, True, 0.0)
    cheap = Scenario("Whole job hired", "small gravel", {}, True, "", plan(LINES), True, 0.0)
    refused = Scenario("All own hands", "sand", {}, False, "nobody lays", None, True, 0.0)
    settings = Settings(
        place=Place("Job", 1),
        spending_limit=limit,
        places=MappingProxyType({"spending_limit": "Job!B11"}),
    )
    return Comparison(
        job=Job(settings=settings, spend=spend, progress=progress),
        takeoff=Takeoff((), (), (), (), (), constant(1400, DENSITY, "spoil")),
        options=options(),
        scenarios=(best, hired, cheap, refused),
        best=best,
        hired=hired,
        complete=True,
        flips=(),
        frontier=(),
        warnings=(),
        assumed=(),
        missing=(),
        next_step="",
    )


def entry(name: str, state: str, amount: float | None = None, day: int = 1, **more: Any) -> Spend:
    row = more.pop("row", day + 2)
    columns = {"date": "A", "line": "B", "amount": "F", "receipt": "J"}
    return Spend(
        place=Place("Spend", row, columns),
        date=dt.date(2026, 5, day),
        line=name,
        state=state,  # type: ignore[arg-type]
        amount=amount,
        **more,
    )


def tracked(*entries: Spend, **more: Any) -> Tracking:
    return track(comparison(entries, **more))


def line_of(found: Tracking, name: str) -> Tracked:
    return next(t for t in found.lines if t.line == name)


def sums(found: Tracking, name: str = "Paver") -> tuple[int, int, int, int, int]:
    """Ordered, paid, to come, will come to, left."""
    t = line_of(found, name)
    return (t.ordered, t.paid, t.to_come, t.will_come_to, t.left)


def test_without_entries_everything_is_still_to_come() -> None:
    found = tracked()
    assert (found.planned, found.paid, found.to_come, found.will_come_to) == (
        250000,
        0,
        250000,
        250000,
    )
    assert (found.planned_hours, found.spent_hours, found.hours_to_come) == (36.0, 0.0, 36.0)
    assert found.left == 0
    assert found.warnings == ()


def test_lines_of_one_name_are_one_line_of_entries() -> None:
    found = tracked(entry("Dig", "paid", own_hours=10))
    assert [t.line for t in found.lines] == ["Paver", "Paving crew", "Dig"]
    dig = line_of(found, "Dig")
    assert (dig.planned_hours, dig.spent_hours) == (36.0, 10.0)
    assert found.hours_to_come == 26.0


def test_order_without_quantity_settles_the_whole_line() -> None:
    # ordered at 480.00 where 500.00 was planned: 20.00 left
    found = tracked(entry("Paver", "ordered", 45000, tax=3000))
    assert sums(found) == (48000, 0, 48000, 48000, 2000)


def test_order_of_a_part_leaves_the_rest_at_the_plan() -> None:
    # 4 of 10 pallets for 240.00; 6 more at the plan's 50.00 are 300.00; 540.00 in all
    found = tracked(entry("Paver", "ordered", 24000, quantity=4))
    assert sums(found) == (24000, 0, 54000, 54000, -4000)


def test_order_that_completes_the_quantity_settles_the_line() -> None:
    found = tracked(
        entry("Paver", "ordered", 24000, quantity=4),
        entry("Paver", "ordered", 31000, 2, quantity=6),
        entry("Paver", "paid", 24000, 3),
    )
    assert sums(found) == (55000, 24000, 31000, 55000, -5000)


def test_more_ordered_than_planned_is_quantity() -> None:
    # 12 of 10 pallets at the plan's 50.00
    found = tracked(entry("Paver", "ordered", 60000, quantity=12))
    assert line_of(found, "Paver").why == Why(quantity=10000)


def test_payment_alone_is_a_part_payment() -> None:
    # a crew paid half in advance will still come to its plan
    found = tracked(entry("Paving crew", "paid", 100000))
    assert sums(found, "Paving crew") == (0, 100000, 100000, 200000, 0)


def finished(name: str, day: int = 5, percent: float = 1.0) -> Progress:
    return Progress(
        place=Place("Progress", 3), date=dt.date(2026, 5, day), line=name, percent=percent
    )


def test_a_final_payment_settles_its_line() -> None:
    # a crew paid 1,500.00 in two goes, where 2,000.00 were planned
    rows = (entry("Paving crew", "paid", 100000), entry("Paving crew", "final payment", 50000, 2))
    found = tracked(*rows)
    assert sums(found, "Paving crew") == (0, 150000, 0, 150000, 50000)
    assert line_of(found, "Paving crew").why == Why(price=-50000)
    # bought off the yard without a word on how many: all that was needed, 30.00 cheaper
    yard = tracked(entry("Paver", "final payment", 47000))
    assert sums(yard) == (0, 47000, 0, 47000, 3000)
    assert line_of(yard, "Paver").why == Why(price=-3000)


def test_a_final_payment_of_less_than_ordered_leaves_nothing_owed() -> None:
    bought = (entry("Paver", "ordered", 50000), entry("Paver", "final payment", 48000, 1))
    assert sums(tracked(*bought)) == (50000, 48000, 0, 48000, 2000)


def test_a_final_payment_counts_what_was_refunded_before_it() -> None:
    # 1,000.00 paid, 200.00 of it back, 500.00 at the end: 1,300.00 in all
    rows = (
        entry("Paving crew", "paid", 100000),
        entry("Paving crew", "refunded", 20000, 2),
        entry("Paving crew", "final payment", 50000, 3),
    )
    assert sums(tracked(*rows), "Paving crew") == (0, 130000, 0, 130000, 70000)


def test_entries_of_the_sheet_come_before_equal_ones_of_the_journal() -> None:
    here = entry("Paver", "paid", 1000, row=9)
    there = replace(here, place=Place("terrace-entries.csv", 2))
    assert [e.place.sheet for e in in_time([there, here])] == ["Spend", "terrace-entries.csv"]


def test_what_is_ordered_or_agreed_after_a_final_payment_comes_on_top() -> None:
    paid = (entry("Paver", "ordered", 50000), entry("Paver", "final payment", 48000, 2))
    more = tracked(*paid, entry("Paver", "ordered", 5000, 3, quantity=1))
    assert sums(more) == (55000, 48000, 5000, 53000, -3000)
    agreed = tracked(*paid, entry("Paver", "change agreed", 1000, 3))
    assert sums(agreed) == (50000, 48000, 1000, 49000, 2000)
    # agreed before, it was part of what the payment settled
    before = tracked(entry("Paver", "change agreed", 1000), *paid)
    assert sums(before) == (50000, 48000, 0, 48000, 3000)


def test_a_final_payment_taken_back_settles_nothing() -> None:
    rows = (
        entry("Paving crew", "final payment", 50000),
        entry("Paving crew", "final payment", -50000, 2),
    )
    assert sums(tracked(*rows), "Paving crew") == (0, 0, 200000, 200000, 0)


def test_goods_of_finished_work_come_to_what_was_paid() -> None:
    # 5 of 10 pallets were enough
    bought = entry("Paver", "paid", 23000, quantity=5)
    done = tracked(bought, progress=(finished("Paver"),))
    assert sums(done) == (0, 23000, 0, 23000, 27000)
    assert line_of(done, "Paver").why == Why(price=-2000, quantity=-25000)
    nearly = tracked(bought, progress=(finished("Paver", percent=0.99),))
    assert sums(nearly) == (0, 23000, 25000, 48000, 2000)
    # ordered and not paid is still owed; nothing said at all is still to come
    owed = tracked(entry("Paver", "ordered", 24000, quantity=4), progress=(finished("Paver"),))
    assert sums(owed) == (24000, 0, 24000, 24000, 26000)
    assert sums(tracked(progress=(finished("Paver"),))) == (0, 0, 50000, 50000, 0)


def test_payment_beyond_the_plan_is_what_it_comes_to() -> None:
    found = tracked(entry("Paving crew", "paid", 210000))
    assert sums(found, "Paving crew") == (0, 210000, 0, 210000, -10000)
    assert [w.code for w in found.warnings] == ["spend-over-plan"]


def test_payment_with_its_quantity_settles_that_quantity() -> None:
    # 5 of 10 pallets bought off the yard for 230.00; 5 more at 50.00
    found = tracked(entry("Paver", "paid", 23000, quantity=5))
    assert sums(found) == (0, 23000, 25000, 48000, 2000)


def test_paid_more_than_ordered_counts_as_paid() -> None:
    found = tracked(entry("Paver", "ordered", 50000), entry("Paver", "paid", 51000, 2))
    assert sums(found) == (50000, 51000, 0, 51000, -1000)


def test_goods_sent_back_are_money_only_once_refunded() -> None:
    bought = (entry("Paver", "ordered", 50000), entry("Paver", "paid", 50000, 2))
    back = entry("Paver", "returned", 10000, 3)
    waiting = tracked(*bought, back)
    assert sums(waiting) == (40000, 50000, 0, 50000, 0)
    assert waiting.refund_due == 10000
    # the yard keeps 15.00 for restocking
    refunded = tracked(*bought, back, entry("Paver", "refunded", 8500, 4))
    assert sums(refunded) == (40000, 41500, 0, 41500, 8500)
    assert refunded.refund_due == 1500


def test_a_refund_without_goods_sent_back_makes_the_line_cheaper() -> None:
    # ordered and paid at 500.00, 30.00 of it back: 470.00, and nothing is owed again
    bought = (entry("Paver", "ordered", 50000), entry("Paver", "paid", 50000, 2))
    found = tracked(*bought, entry("Paver", "refunded", 3000, 3))
    assert sums(found) == (50000, 47000, 0, 47000, 3000)
    assert line_of(found, "Paver").why == Why(price=-3000)
    assert line_of(found, "Paver").tally.owing == 47000
    # before all is paid the price is lower at once: 200.00 paid, 50.00 back, 300.00 still owed
    early = tracked(
        entry("Paver", "ordered", 50000), entry("Paver", "paid", 20000, 2),
        entry("Paver", "refunded", 5000, 3),
    )  # fmt: skip
    assert sums(early) == (50000, 15000, 30000, 45000, 5000)
    # four of ten for 240.00 and 30.00 back; six more at 50.00
    part = tracked(
        entry("Paver", "ordered", 24000, quantity=4), entry("Paver", "paid", 24000, 2),
        entry("Paver", "refunded", 3000, 3),
    )  # fmt: skip
    assert sums(part) == (24000, 21000, 30000, 51000, -1000)


def test_a_refund_of_what_was_paid_too_much_leaves_the_price() -> None:
    bought = (entry("Paver", "ordered", 50000), entry("Paver", "paid", 51000, 2))
    even = tracked(*bought, entry("Paver", "refunded", 1000, 3))
    assert sums(even) == (50000, 50000, 0, 50000, 0)
    # 30.00 back: 10.00 were too much, 20.00 are a lower price
    more = tracked(*bought, entry("Paver", "refunded", 3000, 3))
    assert sums(more) == (50000, 48000, 0, 48000, 2000)
    # goods for 100.00 sent back and 115.00 refunded: those, 10.00 too much, 5.00 cheaper
    both = (entry("Paver", "returned", 10000, 3), entry("Paver", "refunded", 11500, 4))
    assert sums(tracked(*bought, *both)) == (40000, 39500, 0, 39500, 10500)


def test_a_refund_without_an_order_counts_once_the_plan_was_paid_in_full() -> None:
    full = (entry("Paving crew", "paid", 200000), entry("Paving crew", "refunded", 20000, 2))
    assert sums(tracked(*full), "Paving crew") == (0, 180000, 0, 180000, 20000)
    # an advance given back because the crew cannot come: another one is still to be paid
    advance = (entry("Paving crew", "paid", 50000), entry("Paving crew", "refunded", 50000, 2))
    assert sums(tracked(*advance), "Paving crew") == (0, 0, 200000, 200000, 0)
    undone = (entry("Paving crew", "paid", 200000), entry("Paving crew", "refunded", 200000, 2))
    assert sums(tracked(*undone), "Paving crew") == (0, 0, 200000, 200000, 0)


def test_a_refund_after_a_final_payment_makes_the_line_cheaper() -> None:
    rows = (entry("Paver", "ordered", 50000), entry("Paver", "final payment", 48000, 2))
    assert sums(tracked(*rows, entry("Paver", "refunded", 3000, 3))) == (
        50000,
        45000,
        0,
        45000,
        5000,
    )


def test_more_refunded_than_was_paid_is_told() -> None:
    found = tracked(
        entry("Paver", "ordered", 50000), entry("Paver", "paid", 2000, 2),
        entry("Paver", "refunded", 3000, 3),
    )  # fmt: skip
    assert [w.code for w in found.warnings] == ["spend-refund-over-paid"]
    assert found.will_come_to == found.paid + found.to_come


STATES = ("ordered", "paid", "final payment", "returned", "refunded", "change agreed")
SAID = st.tuples(
    st.sampled_from(("Paver", "Paving crew", "Lamp")), st.sampled_from(STATES),
    st.integers(1, 90000), st.integers(1, 9), st.sampled_from((None, 1.0, 4.0, 10.0)),
)  # fmt: skip


@given(st.lists(SAID, max_size=12), st.randoms(use_true_random=False))
def test_whatever_is_entered_the_sums_hold_and_the_order_of_rows_does_not_matter(
    said: list[tuple[str, str, int, int, float | None]], shuffle: random.Random
) -> None:
    rows = [entry(name, state, float(cents), day, row=n, quantity=many)
            for n, (name, state, cents, day, many) in enumerate(said, 3)]  # fmt: skip
    found = tracked(*rows)
    for t in found.lines:
        assert t.why.sum == t.will_come_to - t.planned
        assert t.paid + t.to_come == t.will_come_to
        assert t.will_come_to >= t.paid
    again = list(rows)
    shuffle.shuffle(again)
    anew = tracked(*(replace(e, place=replace(e.place, row=n)) for n, e in enumerate(again, 3)))
    told = [(t.line, t.will_come_to, t.paid, t.ordered, t.refund_due, t.why) for t in found.lines]
    assert told == [
        (t.line, t.will_come_to, t.paid, t.ordered, t.refund_due, t.why) for t in anew.lines
    ]


@given(st.integers(1, 10**6), st.integers(0, 10**6), st.integers(0, 10**6))
def test_a_refund_never_opens_a_debt_that_was_paid(cents: int, above: int, back: int) -> None:
    paid = cents + above
    rows = [entry("Paver", "ordered", float(cents)), entry("Paver", "paid", float(paid), 2)]
    if back:
        rows.append(entry("Paver", "refunded", float(min(back, paid)), 3))
    found = line_of(tracked(*rows), "Paver")
    assert found.to_come == 0
    assert found.will_come_to == paid - min(back, paid)


def test_change_agreed_raises_what_is_allowed_and_what_comes() -> None:
    found = tracked(entry("Paving crew", "change agreed", 30000))
    crew = line_of(found, "Paving crew")
    assert (crew.agreed, crew.will_come_to, crew.left) == (230000, 230000, 0)


def test_change_after_the_order_is_still_to_come_and_before_it_is_held_by_it() -> None:
    after = tracked(
        entry("Paving crew", "ordered", 200000), entry("Paving crew", "change agreed", 30000, 2)
    )
    assert line_of(after, "Paving crew").will_come_to == 230000
    before = tracked(
        entry("Paving crew", "change agreed", 30000), entry("Paving crew", "ordered", 230000, 2)
    )
    assert line_of(before, "Paving crew").will_come_to == 230000


def test_deposits_stand_beside_the_money() -> None:
    found = tracked(
        entry("Paver", "deposit paid", 2000),
        entry("Paver", "deposit paid", 1000, 2),
        entry("Paver", "deposit back", 1500, 3),
    )
    assert (found.deposits_out, found.deposits_back, found.deposits_held) == (3000, 1500, 1500)
    assert found.deposits_planned == 2000
    assert (found.paid, found.will_come_to) == (0, 250000)


def test_delivery_carries_no_money() -> None:
    assert sums(tracked(entry("Paver", "delivered", 50000, quantity=10))) == (0, 0, 50000, 50000, 0)


def test_unknown_line_is_counted_and_its_nearest_name_offered() -> None:
    found = tracked(entry("Pavers", "paid", 5000), entry("Paver", "paid", 1000, 2))
    stray = line_of(found, "Pavers")
    assert not stray.in_plan
    assert (stray.planned, stray.paid, stray.will_come_to) == (0, 5000, 5000)
    assert (found.paid, found.will_come_to) == (6000, 255000)
    (warning,) = [w for w in found.warnings if w.code == "spend-unknown-line"]
    assert warning.cell == "Spend!B3"
    assert "“Paver”" in warning.mend


def test_names_are_matched_without_case_or_spacing() -> None:
    assert line_of(tracked(entry(" paving   CREW", "paid", 100)), "Paving crew").paid == 100


def test_left_is_against_the_spending_limit_where_there_is_one() -> None:
    found = tracked(entry("Paver", "ordered", 48000), limit=300000)
    assert (found.limit, found.left) == (300000, 300000 - 248000)
    over = tracked(limit=240000)
    assert over.left == -10000
    assert [(w.code, w.cell) for w in over.warnings] == [("spend-over-limit", "Job!B11")]


def test_entry_without_amount_is_told() -> None:
    found = tracked(entry("Paver", "ordered", None, quantity=2))
    assert [(w.code, w.cell) for w in found.warnings] == [("spend-no-amount", "Spend!F3")]


def test_receipt_entered_twice_is_told() -> None:
    same = {"receipt": "A-17"}
    found = tracked(
        entry("Paver", "paid", 1000, 1, quantity=1, **same),
        entry("Paver", "paid", 1000, 2, quantity=1, **same),
        entry("Paver", "paid", 900, 3, quantity=1, **same),
    )  # fmt: skip
    assert [(w.code, w.cell) for w in found.warnings] == [("spend-twice", "Spend!J4")]


def test_what_is_not_priced_is_named() -> None:
    found = tracked(missing=(Missing("Permit", "Checklist", ""),))
    assert found.unpriced == ("Permit",)


def test_order_of_rows_does_not_matter() -> None:
    entries = [
        entry("Paver", "ordered", 24000, 1, quantity=4),
        entry("Paver", "paid", 24000, 1, row=9),
        entry("Paver", "change agreed", 500, 2),
        entry("Lamp", "paid", 700, 3),
    ]
    assert tracked(*entries) == tracked(*reversed(entries))


def test_totals_are_sums_of_lines() -> None:
    found = tracked(
        entry("Paver", "ordered", 24001, quantity=3), entry("Lamp", "paid", 333, 2),
        entry("Paving crew", "paid", 12345, 3),
    )  # fmt: skip
    for column in ("planned", "changes", "ordered", "paid", "to_come", "will_come_to"):
        assert sum(getattr(t, column) for t in found.lines) == getattr(found, column)
    assert found.will_come_to == found.paid + found.to_come


def test_without_any_plan_the_reasons_are_told() -> None:
    bare = replace(comparison(()), best=None)
    with pytest.raises(NoPlanError, match=r"No plan can be built .* nobody lays"):
        find_scenario(bare, None)
    with pytest.raises(ValueError, match="neither an accepted plan nor a scenario"):
        yardstick(bare, None, ())
    refused = bare.scenarios[-1]
    with pytest.raises(NoPlanError, match="cannot be built: nobody lays"):
        priced(refused)
    with pytest.raises(ValueError, match="has no plan"):
        baseline_of(bare, refused, Accepting(dt.date(2026, 5, 1)))
    assert planned_lines(refused, bare.options) == ()
    assert planned_steps(bare.takeoff, refused, "metric") == ()


def test_work_is_weighed_by_hours_else_by_money() -> None:
    base = line_of(tracked(), "Dig")
    own = [replace(base, planned_hours=30.0, done=0.5), replace(base, planned_hours=10.0)]
    assert work_done(own) == pytest.approx(15 / 40)
    hired = [replace(base, planned_hours=0.0, planned=20000, done=0.5),
             replace(base, planned_hours=0.0, planned=30000, done=1.0)]  # fmt: skip
    assert work_done(hired) == pytest.approx(40000 / 50000)
    assert work_done([replace(base, planned_hours=0.0, planned=0, done=0.5)]) is None
    assert work_done([base]) is None


def test_scenario_is_found_by_title_or_name() -> None:
    found = comparison(())
    assert find_scenario(found, None) is found.best
    assert find_scenario(found, "BEST") is found.best
    assert find_scenario(found, "whole job hired, sand").bedding == "sand"
    # by name alone, the cheaper of its beddings: 2,500.00 and 36 hours at 20.00 against 4,000.00
    assert find_scenario(found, "Whole job hired").bedding == "small gravel"


@pytest.mark.parametrize("typed", ["whole", "Whole job hire", "jbo hired"])
def test_a_part_of_a_name_is_refused_and_the_name_offered(typed: str) -> None:
    with pytest.raises(UnknownNameError, match="Did you mean “Whole job hired"):
        find_scenario(comparison(()), typed)


def test_a_name_near_to_none_is_answered_with_the_names_there_are() -> None:
    there_are = "There are “Mixed hands”, “Whole job hired”"
    with pytest.raises(UnknownNameError, match=there_are):
        find_scenario(comparison(()), "xyzzy")


def test_unknown_scenario_offers_the_nearest() -> None:
    with pytest.raises(UnknownNameError, match="Did you mean “Whole job hired"):
        track(comparison(()), "Hole job hired")


def test_scenario_that_cannot_be_built_says_why() -> None:
    with pytest.raises(NoPlanError, match="nobody lays"):
        track(comparison(()), "All own hands")


def test_a_lower_price_is_kept_apart_from_goods_that_go_back_later() -> None:
    bought = (entry("Paver", "ordered", 50000), entry("Paver", "paid", 50000, 2))
    cheaper, back = entry("Paver", "refunded", 3000, 3), entry("Paver", "returned", 10000, 5)
    # 500.00 less 30.00 is the price, of which 100.00 went back and is not yet refunded
    waiting = tracked(*bought, cheaper, back)
    assert line_of(waiting, "Paver").refund_due == 10000
    assert line_of(waiting, "Paver").tally.refund_awaited == 10000
    assert line_of(waiting, "Paver").tally.owing == 37000
    assert sums(waiting) == (40000, 47000, 0, 47000, 3000)
    # 85.00 of it come: 15.00 are kept for restocking, and nothing is awaited
    here = tracked(*bought, cheaper, back, entry("Paver", "refunded", 8500, 6))
    assert sums(here) == (40000, 38500, 0, 38500, 11500)
    assert line_of(here, "Paver").tally.refund_awaited == 0
    # goods for 20.00 more go back: these are awaited, whatever came before
    more = (entry("Paver", "refunded", 8500, 6), entry("Paver", "returned", 2000, 8))
    again = line_of(tracked(*bought, cheaper, back, *more), "Paver")
    assert (again.tally.refund_awaited, again.refund_due) == (2000, 3500)


def test_a_refund_taken_back_with_a_minus_leaves_what_was_before() -> None:
    bought = (entry("Paver", "ordered", 50000), entry("Paver", "paid", 50000, 2))
    wrong = (entry("Paver", "refunded", 3000, 3), entry("Paver", "refunded", -3000, 4))
    assert sums(tracked(*bought, *wrong)) == sums(tracked(*bought))
    back = entry("Paver", "returned", 10000, 5)
    assert line_of(tracked(*bought, *wrong, back), "Paver").refund_due == 10000


def test_no_more_is_counted_as_refunded_than_was_paid() -> None:
    # 20.00 paid and 30.00 refunded of an order for 500.00: the 20.00 are back, no more
    found = tracked(
        entry("Paver", "ordered", 50000), entry("Paver", "paid", 2000, 2),
        entry("Paver", "refunded", 3000, 3),
    )  # fmt: skip
    assert sums(found) == (50000, 0, 48000, 48000, 2000)
    (warning,) = found.warnings
    assert "no more is counted as refunded" in warning.mend
    # the same on a line that the plan has not: nothing was paid, so nothing counts
    stray = tracked(entry("Old gate", "refunded", 9000))
    assert sums(stray, "Old gate") == (0, 0, 0, 0, 0)
    assert {w.code for w in stray.warnings} == {"spend-unknown-line", "spend-refund-over-paid"}


@given(st.lists(SAID, max_size=12))
def test_no_line_is_ever_paid_below_nought(
    said: list[tuple[str, str, int, int, float | None]],
) -> None:
    rows = [entry(name, state, float(cents), day, row=n, quantity=many)
            for n, (name, state, cents, day, many) in enumerate(said, 3)]  # fmt: skip
    for t in tracked(*rows).lines:
        assert t.paid >= 0
        assert t.will_come_to >= 0
        assert 0 <= t.tally.for_nothing <= t.tally.refunded
        assert t.refund_due <= t.tally.returned
