"""The whole answer for one small job by hand, and searches that were stopped on the way to one."""

from __future__ import annotations

import math
from dataclasses import replace
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest

from budget.decide import brief, compare_options
from budget.decide.brief import plan_briefly
from budget.decide.calendar.network import day_of
from budget.decide.calendar.schedule import _spared
from budget.decide.deeper import bids_alike, deepen
from budget.decide.model.model import Model, Solved
from budget.decide.outcome import Comparison
from budget.decide.pins import Pinned
from budget.decide.plan import Plan
from budget.decide.planner import Planner
from budget.decide.programme.branching import Search
from budget.decide.programme.milp import Programme, _stopped
from budget.decide.programme.search import Answer
from budget.decide.risk.accuracy import firm_share
from budget.decide.risk.findings import _by_order
from budget.decide.risk.ordering import Order, Stakes
from budget.decide.terms.situation import Situation
from budget.decide.thorough.growing import growths
from budget.decide.thorough.pareto import _Steps
from budget.decide.varying import vary
from budget.decide.whynot import _already, _sentence, force
from budget.decide.wording import so_far
from budget.job import Area, BuildUp, Job, Place, Settings
from budget.prices.options import Options
from budget.quantities.takeoff import Takeoff

JOB = Job(settings=Settings(place=Place("Job", 1), currency="USD", hour_value=2000))


@pytest.fixture(scope="module")
def dug(make: SimpleNamespace) -> tuple[Takeoff, Options]:
    """Ten hours of digging by hand, or 300.00."""
    options = make.options(
        methods=[make.method("Dig", "by hand", 5.0)], bids=[make.bid("Digger", ["Dig"], 30000)]
    )
    return make.takeoff([], [make.amount("Dig", 2.0)]), options


@pytest.fixture(scope="module")
def answer(dug: tuple[Takeoff, Options]) -> Comparison:
    return compare_options(JOB, *dug)


def test_own_digging_is_best_below_thirty_an_hour(answer: Comparison) -> None:
    """At 20.00 an hour ten hours are 200.00, less than 300.00; at 30.00 both are the same."""
    best = answer.best
    assert best is not None
    assert best.priced is not None
    assert (best.priced.cash, best.priced.own_hours, best.proved) == (0, 10.0, True)
    assert answer.complete
    (flip,) = answer.flips
    assert (flip.choice, flip.alternative) == ("step:Dig", "bid: Digger")
    assert (flip.cash, flip.hours) == (30000, -10.0)
    assert flip.hour_values == pytest.approx((3000.0,), abs=0.5)


def test_the_frontier_has_both(answer: Comparison) -> None:
    found = [(p.priced.cash, p.priced.own_hours) for p in answer.frontier]
    assert found == [(0, 10.0), (30000, 0.0)]
    assert answer.frontier[0].to_value == pytest.approx(3000.0, abs=0.5)


def test_a_plan_found_briefly_is_complete_where_no_price_is_missing(
    make: SimpleNamespace, dug: tuple[Takeoff, Options], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(brief, "take_off", lambda _: dug[0])
    monkeypatch.setattr(brief, "flatten", lambda *_: dug[1])
    found = plan_briefly(JOB, every=False)
    assert found.complete
    assert not found.missing
    # and there is none where nobody lays the base
    more = replace(dug[0], steps=(*dug[0].steps, make.amount("Base", 1.0)))
    monkeypatch.setattr(brief, "take_off", lambda _: more)
    found = plan_briefly(JOB, every=False)
    assert found.best is None
    assert not found.complete
    assert not found.missing


def test_bids_like_for_like_need_one_plan(
    make: SimpleNamespace, dug: tuple[Takeoff, Options], monkeypatch: pytest.MonkeyPatch
) -> None:
    """No scenario beside it; and nothing is said where there is no plan."""
    monkeypatch.setattr(brief, "take_off", lambda _: dug[0])
    monkeypatch.setattr(brief, "flatten", lambda *_: dug[1])
    found, bids = bids_alike(JOB)
    assert found.best is not None
    assert (found.scenarios, [bid.bid for bid in bids]) == ((found.best,), ["Digger"])
    more = replace(dug[0], steps=(*dug[0].steps, make.amount("Base", 1.0)))
    monkeypatch.setattr(brief, "take_off", lambda _: more)
    found, bids = bids_alike(JOB)
    assert (found.best, bids) == (None, ())


def test_without_a_plan_there_is_nothing_to_deepen(answer: Comparison) -> None:
    assert answer.best is not None
    for best in (None, replace(answer.best, priced=None)):
        nothing = replace(answer, best=best)
        assert deepen(nothing) is nothing


def test_all_trades_are_found_with_or_without_a_frontier(answer: Comparison) -> None:
    """Ten own hours or 300.00, and nothing between."""
    for before in (answer, replace(answer, frontier=())):
        deeper = deepen(before).deeper
        assert deeper is not None
        assert deeper.trades is not None
        found = [(p.priced.cash, p.priced.own_hours) for p in deeper.trades.plans]
        assert found == [(0, 10.0), (30000, 0.0)]


def test_goods_without_a_weight_are_told_where_they_stand(make: SimpleNamespace) -> None:
    """Of three quotes the one in row 41 has none."""
    offers = [
        replace(make.offer("Stone", seller, 100, weight=weight), cell=f"Quotes!AB{row}")
        for seller, weight, row in (("North", 20.0, 7), ("South", None, 41), ("West", 30.0, 106))
    ]
    options = make.options(
        offers=offers, routes=[make.drop(s, 0) for s in ("North", "South", "West")],
        methods=[make.method("Base", "by hand", 1.0), make.method("Carry", "barrow", 0.001)],
    )  # fmt: skip
    takeoff = make.takeoff([make.need("Stone", "Base", {"mass": 5})], [make.amount("Base", 1.0)])
    (told,) = compare_options(JOB, takeoff, options).warnings
    assert (told.code, told.sheet, told.cell, told.row) == (
        "weight-not-known", "Quotes", "Quotes!AB41", 41,
    )  # fmt: skip
    assert told.found == "Stone from South without a weight"


def test_a_job_that_nobody_prices_has_no_complete_plan() -> None:
    """No quotes: a plan of own work for which prices are missing, and no cents for them."""
    area = Area(place=Place("Areas", 2), part="Yard", name="Yard", length=5.0, width=4.0)
    layers = BuildUp(place=Place("Build-up", 2), name="Layers", bedding="sand")
    found = plan_briefly(replace(JOB, areas=(area,), build_ups=(layers,)), every=False)
    assert found.best is not None
    assert found.missing
    assert not found.complete


def test_a_day_ends_at_midnight() -> None:
    assert [day_of(moment) for moment in (0.0, 23.0, 24.0, 25.0)] == [0, 0, 1, 1]
    assert [day_of(moment, end=True) for moment in (23.0, 24.0, 25.0)] == [0, 0, 1]


def _had(equipment: str, cash: int, there_to: int | None = None) -> Any:
    return SimpleNamespace(equipment=equipment, cash=cash, planned=6000, there_to=there_to)


@pytest.mark.parametrize(
    ("saw", "mixer", "spared"),
    [
        (_had("Saw", 6000), _had("Mixer", 6000), True),
        (_had("Saw", 6001), _had("Mixer", 6000), False),  # still more than is planned
        (_had("Saw", 6000), _had("Mixer", 6001), False),  # the other is then dearer
        (_had("Saw", 6000), _had("Mixer", 6000, 4), False),  # or has to go back before
    ],
)
def test_waiting_spares_a_machine_if_no_other_is_worse_off(
    saw: Any, mixer: Any, spared: bool
) -> None:
    now = [_had("Saw", 9000), _had("Mixer", 6000)]
    assert _spared(now, [saw, mixer], "Saw") is spared


@pytest.mark.parametrize(
    ("floor", "least", "found", "gap"),
    [
        (90.0, math.inf, (100.0, 0.05), 0.05),  # none is below 95
        (96.0, math.inf, (100.0, 0.05), 0.04),
        (90.0, 100.0, None, 0.1),  # only the first search found one
        (90.0, 98.0, (100.0, 0.05), 3 / 98),  # the first found a better one
        (None, math.inf, (100.0, 0.05), 0.05),
        (99.0, 98.0, None, 0.0),  # to the rounding of the solver
        (0.2, 0.5, None, 0.3),  # of less than a cent, by the cent
    ],
)
def test_two_stopped_searches_know_what_either_knows(
    floor: float | None, least: float, found: tuple[float, float] | None, gap: float
) -> None:
    begun = Search(None if math.isinf(least) else np.array([least]), least)
    begun.root = None if floor is None else SimpleNamespace(floor=floor)  # type: ignore[assignment]
    second = None if found is None else Answer((found[0],), math.nan, False, found[1])
    told = _stopped(begun, second, math.nan if found is None else found[0])
    best = min(least, math.inf if found is None else found[0])
    assert (told.values, told.proved) == ((best,), False)
    assert told.gap == pytest.approx(gap)


def test_a_plan_of_a_stopped_search_tells_what_a_better_one_may_save(
    dug: tuple[Takeoff, Options], monkeypatch: pytest.MonkeyPatch
) -> None:
    """No plan is below 190.00, 5 % less than the 200.00 that are found."""
    solve = Programme.solve

    def stopped(self: Programme, *asked: Any) -> Answer | None:
        found = solve(self, *asked)
        return found and replace(found, proved=False, gap=0.05)

    monkeypatch.setattr(Programme, "solve", stopped)
    found = Model(Situation(*dug, "sand", frozenset())).solve(2000.0)
    assert found is not None
    assert (found.proved, found.gap) == (False, pytest.approx(0.05))


@pytest.mark.parametrize("trees", [[True, True], [True, False], [False, False]])
def test_a_trade_is_proved_if_every_tree_is(trees: list[bool]) -> None:
    chain: Any = SimpleNamespace(
        proved=True, fronts=[SimpleNamespace(proved=each) for each in trees],
        stairs=SimpleNamespace(points=[]),
    )  # fmt: skip
    _Steps(0)._end(None, chain)  # type: ignore[arg-type]
    assert chain.proved is all(trees)


def test_a_gap_is_told_in_per_cent() -> None:
    assert so_far(0.101) == "best so far, gap 10.1 %"


def test_no_cash_is_no_firm_cash() -> None:
    assert firm_share([], []) == 0.0


def test_knowing_the_need_spares_what_is_ordered_for_nothing() -> None:
    """Ten packs or twelve, as likely, at 1.00; a second delivery is 10.00.

    Twelve are ordered, 12.00. Who knows orders ten in half the cases: 1.00 less on average.
    """
    where = np.arange(400) // 2 % 2
    order = Order(np.where(where == 0, 10, 12), Stakes(each=100, again=100, short=1000))
    assert order.best == 12
    assert _by_order(where, SimpleNamespace(order=order)) == pytest.approx(100.0)  # type: ignore[arg-type]


def test_a_forced_choice_by_hand(answer: Comparison, monkeypatch: pytest.MonkeyPatch) -> None:
    """The digger at 300.00 instead of ten hours; and own hands, as the best plan has it."""
    hired = force(answer, {"step:Dig": "hire"})
    assert (hired.cash, hired.hours, hired.proved, hired.gap) == (30000, -10.0, True, 0.0)
    assert force(answer, {"step:Dig": "own"}).sentence == "The best plan does this already."
    best = Planner.best

    def stopped(self: Planner, value: float, pinned: Pinned | None = None) -> Solved | None:
        found = best(self, value, pinned)
        return replace(found, proved=False, gap=0.05) if found and pinned else found

    monkeypatch.setattr(Planner, "best", stopped)
    hired = force(answer, {"step:Dig": "hire"})
    assert (hired.proved, hired.gap) == (False, 0.05)


@pytest.mark.parametrize(
    ("cash", "hours", "gaps", "words"),
    [
        (1, 0.0, 0, "It costs $0.01 more in cash: at your value of an hour it is $0.01 worse"),
        (-1, 0.0, 0, "It saves $0.01 in cash: at your value of an hour it is $0.01 better"),
        (0, 0.05, 0, "It takes 0.05 hours more of own work: at your value of an hour it is $1 "),
        (0, -0.06, 0, "It saves 0.06 hours of own work: at your value of an hour it is $1 better"),
        (0, -0.04, 0, "It makes no difference: a plan with it is as good as the best plan."),
        (0, 0.04, 1, "It makes no difference"),
        (500, 0.0, 1, "It costs $5 more in cash, and 1 more of its prices is not known."),
        (500, 0.0, 2, "It costs $5 more in cash, and 2 more of its prices are not known."),
        (500, 0.0, -1, "It costs $5 more in cash: at your value of an hour it is $5 worse"),
        (4000, -2.0, 0, "it is as good as the best plan."),
    ],
)
def test_a_forced_choice_in_words(cash: int, hours: float, gaps: int, words: str) -> None:
    assert words in _sentence(cash, hours, 2000.0, gaps, "USD")


@pytest.mark.parametrize(
    ("asked", "held"),
    [
        (Pinned({"step:Dig": frozenset({"own: by hand"})}, "sand"), True),
        (Pinned({"step:Dig": frozenset({"own: by hand", "bid: X"})}), True),
        (
            Pinned({"step:Dig": frozenset({"own: by hand"}), "step:Lay": frozenset({"own: a"})}),
            False,
        ),
        (Pinned({"step:Dig": frozenset({"own: by hand"})}, "stone"), False),
        (Pinned({"step:Dig": frozenset({"bid: Y"})}, "sand"), False),
        (Pinned(kept=frozenset({"Bench"}), dropped=frozenset({"Arbour"})), True),
        (Pinned(kept=frozenset({"Bench", "Arbour"})), False),
        (Pinned(dropped=frozenset({"Bench"})), False),
        (Pinned({"step:Dig": frozenset({"bid: Y"})}, kept=frozenset({"Bench"})), False),
    ],
)
def test_what_the_best_plan_does_already(asked: Pinned, held: bool) -> None:
    steps = {"Dig": "own: by hand", "Lay": "bid: X"}
    free = Plan("sand", frozenset({"Bench"}), {}, {}, steps, {}, "")
    assert bool(_already(free, asked)) is held


def test_prices_that_both_plans_miss_do_not_matter_to_a_forced_choice(
    make: SimpleNamespace, dug: tuple[Takeoff, Options]
) -> None:
    """Nobody has priced the permit; the digger is 300.00, ten hours of one's own are 200.00."""
    options = replace(dug[1], checklist=(make.check_line("Permit", "to price"),))
    found = force(compare_options(JOB, dug[0], options), {"step:Dig": "hire"})
    assert "it is $100 worse than the best plan" in found.sentence
    assert (found.cash, found.hours) == (30000, -10.0)


def test_why_a_forced_choice_cannot_be_had_is_told_of_the_bedding_that_is_asked_for(
    make: SimpleNamespace,
) -> None:
    """Stone can be bedded by nobody, and sand is bedded by hand alone: no bid covers that."""
    options = make.options(methods=[make.method("Bed", "screed", 1.0, bedding="sand")])
    takeoff = make.takeoff(
        [], [make.amount("Bed", 2.0)], beddings=[make.bedding("sand"), make.bedding("stone")]
    )
    found = compare_options(JOB, takeoff, options)
    told = [force(found, asked).sentence for asked in ({"bedding": "stone"}, {"step:Bed": "hire"})]
    assert told == [
        "Nobody can do Bed: no own method and no bid covers it.", "No bid covers Bed.",
    ]  # fmt: skip


def test_a_choice_that_no_plan_has_costs_nothing_and_says_why(
    dug: tuple[Takeoff, Options],
) -> None:
    nobody = compare_options(JOB, dug[0], replace(dug[1], bids=()))
    found = force(nobody, {"step:Dig": "hire"})
    assert (found.priced, found.cash, found.hours) == (None, 0, 0.0)
    assert found.sentence


def test_an_input_over_a_range(
    dug: tuple[Takeoff, Options], make: SimpleNamespace, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The bid at 300.00 and at 100.00, below the 200.00 of ten hours; and a base nobody lays."""
    bids = {price: (make.bid("Digger", ["Dig"], price),) for price in (30000, 10000)}
    more = replace(dug[0], steps=(*dug[0].steps, make.amount("Base", 1.0)))
    asked: list[str] = []

    def job_at(value: str) -> Job:
        asked.append(value)
        return JOB

    monkeypatch.setattr(brief, "take_off", lambda _: more if asked[-1] == "none" else dug[0])
    monkeypatch.setattr(
        brief, "flatten", lambda *_: replace(dug[1], bids=bids[int(asked[-1])])
        if asked[-1] != "none" else dug[1],
    )  # fmt: skip
    monkeypatch.setattr(brief, "scenarios", None)  # none of them is planned for it
    found = vary(["30000", "10000", "none"], job_at)
    assert [(v.value, v.total, v.proved, v.gap) for v in found] == [
        ("30000", 20000.0, True, 0.0), ("10000", 10000.0, True, 0.0), ("none", 0.0, True, 0.0),
    ]  # fmt: skip
    assert [bool(v.change) for v in found] == [False, True, False]


def test_more_paving_is_like_the_largest_shape_of_its_part() -> None:
    areas = tuple(
        Area(place=Place("Areas", row), part="Yard", name=name, paver=paver, **size)
        for row, (name, paver, size) in enumerate(
            (("a", "Slab", {"length": 5.0, "width": 4.0}), ("b", "Brick", {"diameter": 2.0})), 2
        )
    )
    (paving,) = (g for g in growths(replace(JOB, areas=areas), frozenset()) if g.what == "paving")
    assert paving.grown(1.0).areas[-1].paver == "Slab"
