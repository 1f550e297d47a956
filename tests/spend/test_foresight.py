"""Early warnings and re-planning, on the terrace's own plan with entries made for each case."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from budget.decide.outcome import Comparison
from budget.decide.plan import BID
from budget.job import Place, Progress, Spend
from budget.spend.baseline import Accepting, baseline_of
from budget.spend.standing import Standing, stand, standing_of

DAY = dt.date(2026, 5, 20)
Demo = Callable[[str], Comparison]


def entry(line: str, state: str, amount: float | None = None, **more: Any) -> Spend:
    return Spend(
        place=Place("Spend", 50, {}), date=more.pop("date", DAY), line=line, amount=amount,
        state=state, **more,  # type: ignore[arg-type]
    )  # fmt: skip


def progress(line: str, **more: Any) -> Progress:
    return Progress(place=Place("Progress", 5, {}), date=DAY, line=line, **more)


@pytest.fixture
def terrace(demo_comparison: Demo) -> Comparison:
    """The terrace without its own entries."""
    found = demo_comparison("terrace")
    return replace(found, job=replace(found.job, spend=(), progress=()))


def stood(found: Comparison, *rows: Spend | Progress, **more: Any) -> Standing:
    job = replace(
        found.job,
        spend=tuple(r for r in rows if isinstance(r, Spend)),
        progress=tuple(r for r in rows if isinstance(r, Progress)),
    )
    return standing_of(replace(found, job=job), **more)


def codes(found: Standing) -> set[str]:
    return {w.code for w in found.tracking.warnings}


def bid_line(found: Comparison) -> tuple[str, str]:
    """A bid of the best plan and a step that it does."""
    assert found.best is not None
    assert found.best.priced is not None
    steps = found.best.priced.plan.steps
    return next((v[len(BID) :], s) for s, v in steps.items() if v.startswith(BID))


def order(found: Comparison) -> tuple[str, float, str]:
    """An item of the best plan bought in whole packs: its name, packs and seller."""
    assert found.best is not None
    assert found.best.priced is not None
    first = next(o for o in found.best.priced.orders if o.packs >= 3)
    return first.item, first.packs, first.supplier


def test_a_firm_paid_ahead_of_its_work(terrace: Comparison) -> None:
    bid, step = bid_line(terrace)
    rows = (entry(bid, "ordered", 40000.0), entry(bid, "paid", 30000.0))
    (ahead,) = [w for w in stood(terrace, *rows).tracking.warnings if w.code == "spend-paid-ahead"]
    assert "75" in ahead.found
    done = progress(step, percent=0.7)
    assert "spend-paid-ahead" not in codes(stood(terrace, *rows, done))


def test_a_payment_without_an_order(terrace: Comparison) -> None:
    item, packs, seller = order(terrace)
    alone = entry(item, "paid", 5000.0, supplier=seller)
    assert "spend-no-order" in codes(stood(terrace, alone))
    told = replace(alone, quantity=packs)
    assert "spend-no-order" not in codes(stood(terrace, told))


def test_a_payment_without_an_order_may_be_the_last(terrace: Comparison) -> None:
    item, _, seller = order(terrace)
    final = entry(item, "final payment", 5000.0, supplier=seller)
    found = stood(terrace, final)
    assert "spend-no-order" not in codes(found)
    assert next(t for t in found.tracking.lines if t.line == item).will_come_to == 5000
    from budget.spend.track import held_against

    steps = held_against(terrace, None, ()).lines[item.casefold()].steps
    done = [progress(step, percent=1.0) for step in steps]
    alone = entry(item, "paid", 5000.0, supplier=seller)
    (told,) = [w for w in stood(terrace, alone, *done).tracking.warnings
               if w.code == "spend-no-order"]  # fmt: skip
    assert "last payment" in told.mend


def test_a_firm_whose_work_is_done_may_still_send_its_bill(terrace: Comparison) -> None:
    bid, step = bid_line(terrace)
    rows = (entry(bid, "paid", 1000.0), progress(step, percent=1.0))
    line = next(t for t in stood(terrace, *rows).tracking.lines if t.line == bid)
    assert line.will_come_to == line.planned > 1000


def test_an_order_short_of_the_need_measured_again(terrace: Comparison) -> None:
    item, packs, seller = order(terrace)
    whole = entry(item, "ordered", None, quantity=packs, supplier=seller)
    assert "spend-order-short" not in codes(stood(terrace, whole))
    from budget.spend.track import held_against

    need = held_against(terrace, None, ()).needs[item.casefold()]
    again = stood(terrace, whole, progress(item, need=need * 1.5))
    assert "spend-order-short" in codes(again)
    enough = replace(whole, quantity=packs * 2)
    assert "spend-order-short" not in codes(stood(terrace, enough, progress(item, need=need * 1.5)))
    line = next(t for t in again.tracking.lines if t.line == item)
    assert line.to_buy is not None
    assert line.to_buy > 0
    assert line.why.quantity > 0


def test_room_that_goes_faster_than_the_work(terrace: Comparison) -> None:
    limit = terrace.job.settings.spending_limit
    assert limit is not None
    assert terrace.best is not None
    assert terrace.best.priced is not None
    room = limit - terrace.best.priced.cash
    lost = entry("Something unplanned", "paid", room * 0.8)
    begun = progress("Dig", percent=0.5)
    assert "spend-room-going" in codes(stood(terrace, lost, begun))
    small = entry("Something unplanned", "paid", room * 0.05)
    assert "spend-room-going" not in codes(stood(terrace, small, begun))


def test_planned_anew_keeps_what_is_bought_and_saves_nothing_at_the_best(
    terrace: Comparison,
) -> None:
    item, packs, seller = order(terrace)
    bought = entry(item, "paid", 5000.0, quantity=packs, supplier=seller)
    again = stood(terrace, bought).again
    assert again is not None
    assert (again.changes, again.total, again.why_not) == ((), 0.0, "")
    assert f"item:{item}" in again.fixed


def test_planned_anew_finds_what_the_accepted_plan_could_still_save(terrace: Comparison) -> None:
    """All own hands was accepted; what the best plan saves can still be had, by its choices."""
    own = min(
        (s for s in terrace.scenarios if s.name == "All own hands" and s.priced),
        key=lambda s: s.title,
    )
    assert own.priced is not None
    assert terrace.best is not None
    assert terrace.best.priced is not None
    accepted = baseline_of(terrace, own, Accepting(dt.date(2026, 4, 6)))
    again = stood(terrace, baselines=(accepted,)).again
    assert again is not None
    value = terrace.options.hour_value.value
    expected = own.priced.total(value) - terrace.best.priced.total(value)
    assert again.total == pytest.approx(expected, abs=1.0)
    assert again.total == pytest.approx(again.cash + again.hours * value)
    assert again.changes
    # once it is begun by own hands, the step stays as it is
    step = next(c.choice for c in again.changes if c.choice.startswith("step:"))
    name = step.removeprefix("step:")
    begun = stood(terrace, progress(name, percent=0.5), baselines=(accepted,)).again
    assert begun is not None
    assert step in begun.fixed
    assert step not in {c.choice for c in begun.changes}
    assert begun.total <= again.total + 1.0


def test_later_accepted_plans_tell_chosen_from_unforeseen(terrace: Comparison) -> None:
    assert terrace.best is not None
    first = baseline_of(terrace, terrace.best, Accepting(dt.date(2026, 4, 6)))
    dearer = replace(first.lines[0], cash=first.lines[0].cash + 1200)
    second = replace(first, number=2, because="unforeseen", lines=(dearer, *first.lines[1:]))
    other = replace(second.lines[1], cash=second.lines[1].cash + 500)
    third = replace(second, number=3, because="chosen", accepted=dt.date(2026, 5, 1),
                    lines=(second.lines[0], other, *second.lines[2:]))  # fmt: skip
    old = entry(dearer.line, "change agreed", 1200.0, date=dt.date(2026, 4, 20))
    found = stood(terrace, old, baselines=(first, second, third)).tracking
    assert (found.planned, found.changes, found.unforeseen) == (first.cash, 1700, 1200)
    assert found.accepted == 3
    # a change agreed on the day of the latest plan is in it; one of the day after is not
    for day, more in ((1, 0), (2, 700)):
        change = entry(dearer.line, "change agreed", 700.0, date=dt.date(2026, 5, day))
        found = stood(terrace, change, baselines=(first, second, third)).tracking
        assert found.changes == 1700 + more


def comings(found: Standing, kind: str) -> list[tuple[str, dt.date | None, str]]:
    return [(c.line, c.day, c.note) for c in found.coming if c.kind == kind]


def test_the_next_step_waits_on_what_is_not_here(terrace: Comparison) -> None:
    begun = [progress(step, percent=1.0) for step in ("Dig", "Spoil")]
    assert comings(stood(terrace), "waits") == []  # digging needs nothing
    assert comings(stood(terrace, *begun), "waits") == [("Fabric", None, "waits on Geotextile")]
    # three rolls are needed, two have come; then the third
    two = entry("Geotextile", "delivered", quantity=2.0)
    assert comings(stood(terrace, *begun, two), "waits")
    one = entry("Geotextile", "paid", 7000.0, quantity=3.0)
    assert comings(stood(terrace, *begun, two, one), "waits") == []
    every = [progress(a.step, percent=1.0) for a in terrace.takeoff.steps]
    assert comings(stood(terrace, *every), "waits") == []


def test_money_of_goods_sent_back_is_awaited_after_an_earlier_lower_price(
    terrace: Comparison,
) -> None:
    item, _, seller = order(terrace)
    quotes = tuple(
        replace(q, restocking=0.15 if (q.item, q.supplier) == (item, seller) else q.restocking)
        for q in terrace.job.quotes
    )
    kind = replace(terrace, job=replace(terrace.job, quotes=quotes))

    def on(day: int, state: str, amount: float) -> Spend:
        return entry(item, state, amount, date=dt.date(2026, 5, day), supplier=seller)

    def awaited(*rows: Spend) -> list[int]:
        found = stood(kind, on(1, "ordered", 50000.0), on(2, "paid", 50000.0), *rows)
        return [c.cents for c in found.coming if c.kind == "refund"]

    cheaper, back = on(3, "refunded", 3000.0), on(5, "returned", 10000.0)
    assert awaited(cheaper) == []
    assert awaited(cheaper, back) == [10000]
    assert awaited(cheaper, back, on(6, "refunded", 8500.0)) == []  # 15 % are the stated fee
    # 60.00 of 100.00 came; the fee explains 15.00, so that 25.00 are still to come
    assert awaited(cheaper, back, on(6, "refunded", 6000.0)) == [2500]


def test_what_is_left_over_can_go_back_while_the_seller_takes_it(terrace: Comparison) -> None:
    item, packs, seller = order(terrace)
    allowed = tuple(
        replace(s, return_days=30.0 if s.supplier == seller else None)
        for s in terrace.job.suppliers
    )
    fees = tuple(
        replace(q, restocking=0.15 if (q.item, q.supplier) == (item, seller) else q.restocking)
        for q in terrace.job.quotes
    )
    kind = replace(terrace, job=replace(terrace.job, suppliers=allowed, quotes=fees))
    bought = entry(item, "paid", 9000.0, quantity=packs + 2, supplier=seller)
    ((line, day, note),) = comings(stood(kind, bought), "return")
    assert (line, day) == (item, dt.date(2026, 6, 19))  # 30 days from 20 May
    assert note.startswith("2 ")
    assert note.endswith("(15 % restocking)")
    assert comings(stood(kind, bought, day=dt.date(2026, 6, 20)), "return") == []
    said = replace(bought, due=dt.date(2026, 6, 1))  # the receipt says until when
    assert comings(stood(kind, said), "return")[0][1] == dt.date(2026, 6, 1)
    exact = replace(bought, quantity=packs)
    assert comings(stood(kind, exact), "return") == []


def test_a_plan_that_the_workbook_no_longer_gives_keeps_its_own_sums(terrace: Comparison) -> None:
    assert terrace.best is not None
    first = baseline_of(terrace, terrace.best, Accepting(dt.date(2026, 4, 6)))
    item, packs, seller = order(terrace)
    gone = replace(first, choices={**first.choices, f"item:{item}": "a quote taken out"})
    half = entry(item, "ordered", 5000.0, quantity=packs / 2, supplier=seller)
    found = stood(terrace, half, baselines=(gone,))
    assert item in found.tracking.why_not
    assert found.tracking.planned == first.cash
    planned = next(line for line in first.lines if line.line == item).cash
    line = next(t for t in found.tracking.lines if t.line == item)
    assert line.will_come_to == pytest.approx(5000 + planned / 2, abs=1)
    assert found.again is not None
    assert found.again.why_not.startswith("The accepted plan no longer fits")
    assert found.tracking.deposits_planned == 0


def test_need_measured_again_scales_own_hours(terrace: Comparison) -> None:
    """Digging a quarter more than the plan's amount takes a quarter more hours."""
    from budget.spend.track import held_against

    amount = sum(held_against(terrace, None, ()).amounts["dig"].values())
    found = stood(terrace, progress("Dig", need=amount * 1.25)).tracking
    dig = next(t for t in found.lines if t.line == "Dig")
    assert dig.will_hours == pytest.approx(dig.planned_hours * 1.25)
    assert dig.why_hours.quantity == pytest.approx(dig.planned_hours * 0.25)


def test_what_was_ordered_is_expected_until_it_has_come(terrace: Comparison) -> None:
    item, _, seller = order(terrace)

    def told(*rows: Spend) -> list[str]:
        found = stood(terrace, *rows)
        return [note.split(" ")[0] for line, _, note in comings(found, "expect") if line == item]

    ten = entry(item, "ordered", 9000.0, quantity=10.0, supplier=seller)
    four = entry(item, "delivered", quantity=4.0)
    assert told(ten) == ["10"]
    assert told(ten, four) == ["6"]
    # two orders of 4 and 6: the first to be ordered is the first to come
    first = replace(ten, quantity=4.0, date=dt.date(2026, 5, 10))
    second = replace(ten, quantity=6.0, date=dt.date(2026, 5, 11))
    assert told(first, second) == ["4", "6"]
    assert told(first, second, four) == ["6"]
    assert told(first, second, replace(four, quantity=10.0)) == []
    # without quantities: until something is delivered, or all of it is paid
    plain = entry(item, "ordered", 9000.0, supplier=seller)
    half = entry(item, "paid", 4000.0, quantity=2.0, supplier=seller)
    assert told(plain) == told(plain, half) == ["ordered,"]
    assert told(plain, entry(item, "delivered")) == []
    assert told(plain, replace(half, amount=9000.0)) == []


def test_an_accepted_plan_ends_on_the_last_day_of_its_calendar(terrace: Comparison) -> None:
    assert terrace.best is not None
    accepted = baseline_of(terrace, terrace.best, Accepting(dt.date(2026, 4, 6)))
    assert accepted.days
    assert accepted.days == tuple(sorted(accepted.days, key=lambda step: step.days))
    assert accepted.finish == max(step.days[-1] for step in accepted.days)
    assert accepted.days[0].days[0] == terrace.job.settings.start
    said = baseline_of(terrace, terrace.best, Accepting(dt.date(2026, 4, 6), finish=DAY))
    assert (said.finish, said.days) == (DAY, accepted.days)
    undated = replace(terrace.job, settings=replace(terrace.job.settings, start=None))
    bare = baseline_of(replace(terrace, job=undated), terrace.best, Accepting(dt.date(2026, 4, 6)))
    assert (bare.finish, bare.days) == (None, ())


def test_without_an_accepted_plan_the_best_or_the_named_scenario_is_the_measure(
    terrace: Comparison, tmp_path: Path
) -> None:
    book = tmp_path / "terrace.xlsx"  # no journal and no accepted plan stand beside it
    assert terrace.best is not None
    best = stand(terrace.job, book)
    assert (best.tracking.against, best.tracking.accepted) == (terrace.best.title, 0)
    named = stand(terrace.job, book, "All own hands")
    assert named.tracking.against.startswith("All own hands")
