"""How sure an answer is: draws, plans priced under them, and what moves them."""

from __future__ import annotations

import dataclasses
import itertools
from collections.abc import Callable
from typing import Any

import numpy as np
import pytest
from scipy import stats

from budget.decide import compare, evaluate
from budget.decide.deeper import more_draws
from budget.decide.outcome import Comparison
from budget.decide.risk.draws import PACE_CORRELATION, changed, draws, written
from budget.decide.risk.simulate import USUAL_DRAWS, risk_of
from budget.decide.risk.spread import Spread
from budget.decide.risk.unknowns import PACE, Unknown, unknowns
from budget.figures import Recalculation, given, product, recalculate, recalculate_all, total
from budget.job import Job
from budget.prices import flatten
from budget.quantities import take_off
from budget.report import risk as in_report
from budget.report.page import risk as page_risk
from budget.report.page.view import View
from budget.units import AREA, COUNT, LENGTH, MONEY

PRICE = Spread(0.8, 1.0, 1.5)
#: The same triangle in an independent library, which takes the place of its top.
MEAN, VARIANCE = stats.triang((1.0 - 0.8) / 0.7, 0.8, 0.7).stats()


def unknown(name: str, together: str = "", power: int = 1) -> Unknown:
    return Unknown(name, "price", PRICE, ((f"Quotes!{name}", power),), together)


def drawn(found: list[Unknown], count: int, chunk: int = 5_000) -> dict[str, np.ndarray]:
    parts = list(draws(found, count, chunk=chunk))
    return {u.name: np.concatenate([p[u.name] for p in parts]) for u in found}


def test_a_sum_of_priced_goods_has_the_mean_and_variance_of_the_closed_form() -> None:
    found = [unknown("A"), unknown("B")]
    money = total(
        "goods",
        [
            product("a", MONEY, given(40_000, MONEY, "a", "Quotes!A"), given(3, COUNT, "n", "N!1")),
            given(70_000, MONEY, "b", "Quotes!B"),
        ],
    )
    count = 100_000
    result = recalculate(money, changed(found, drawn(found, count), written([money])))
    variance = (120_000**2 + 70_000**2) * VARIANCE
    assert abs(result.mean() - 190_000 * MEAN) < 4 * (variance / count) ** 0.5
    assert result.var() == pytest.approx(variance, rel=0.02)


def test_one_tape_is_in_a_length_once_and_in_an_area_twice() -> None:
    side = given(4, LENGTH, "side", "Areas!D5")
    surface = given(10, AREA, "area", "Areas!H5")
    u = Unknown("tape", "measures", PRICE, (("Areas!D5", 1), ("Areas!H5", 2)), "")
    inputs = changed([u], {"tape": 1.1}, written([side, surface]))
    assert inputs == pytest.approx({"Areas!D5": 4.4, "Areas!H5": 12.1})


def test_paces_move_together_and_prices_do_not() -> None:
    names = [unknown("Dig", PACE), unknown("Lay", PACE), unknown("A"), unknown("B")]
    found = drawn(names, 100_000)
    together = np.corrcoef(found["Dig"], found["Lay"])[0, 1]
    apart = np.corrcoef(found["A"], found["B"])[0, 1]
    assert together == pytest.approx(PACE_CORRELATION, abs=0.02)
    assert apart == pytest.approx(0, abs=0.02)
    assert found["Dig"].mean() == pytest.approx(MEAN, abs=0.005)
    assert found["Dig"].var() == pytest.approx(VARIANCE, rel=0.02)


def test_neither_chunks_nor_order_nor_other_unknowns_move_a_draw() -> None:
    found = [unknown("Dig", PACE), unknown("A"), unknown("Lay", PACE)]
    whole = drawn(found, 1_000)
    for other in (drawn(found, 1_000, chunk=37), drawn([*found[::-1], unknown("C")], 1_000)):
        for name, factors in whole.items():
            assert np.array_equal(other[name], factors)


@pytest.fixture
def terrace(demo_comparison: Callable[[str], Comparison]) -> Comparison:
    return demo_comparison("terrace")


def test_one_changed_input_prices_as_the_changed_workbook_does(terrace: Comparison) -> None:
    """A draw is the same as writing another number into the workbook and pricing the plan."""
    assert terrace.best is not None
    assert terrace.best.priced is not None
    job, plan = terrace.job, terrace.best.priced.plan
    lines = terrace.best.priced.lines
    cash = total("cash", [line.money for line in lines if line.money is not None], MONEY)
    for row, factor in itertools.product(job.build_ups[:1], (0.9, 1.25)):
        assert row.base_depth is not None
        deeper = dataclasses.replace(row, base_depth=row.base_depth * factor)
        other = dataclasses.replace(job, build_ups=(deeper, *job.build_ups[1:]))
        takeoff = take_off(other)
        expected = evaluate(plan, takeoff, flatten(other, takeoff)).cash
        key = row.cell("base_depth")
        assert recalculate(cash, {key: row.base_depth * factor}) == pytest.approx(expected, abs=1)


def test_what_is_made_ready_once_gives_what_is_worked_out_each_time(terrace: Comparison) -> None:
    plans = [s.priced for s in terrace.scenarios if s.priced is not None]
    figures = [f for plan in plans for x in plan.lines for f in (x.money, x.time) if f is not None]
    found = unknowns(terrace.job, figures)
    again = Recalculation(figures, {key for u in found for key, _ in u.powers})
    for part in draws(found, 300, chunk=200):
        inputs = changed(found, part, written(figures))
        each = zip(again.run(inputs), recalculate_all(figures, inputs), strict=True)
        assert all(np.array_equal(mine, theirs) for mine, theirs in each)


def test_the_answer_carries_its_risk(terrace: Comparison) -> None:
    risk = terrace.risk
    assert risk is not None
    assert terrace.best is not None
    assert risk.draws == USUAL_DRAWS
    built = [s.title for s in terrace.scenarios if s.priced is not None]
    assert [o.title for o in risk.outcomes] == built
    for outcome in risk.outcomes:
        assert list(outcome.cash) == sorted(outcome.cash)
        assert list(outcome.hours) == sorted(outcome.hours)
        assert outcome.safe == outcome.cash[2]
        assert (outcome.beaten is None) == (outcome.title == terrace.best.title)
    shares = [m.cash_share for m in risk.movers]
    assert shares == sorted(shares, reverse=True)
    assert min(shares) >= 0
    assert sum(shares) == pytest.approx(1)
    assert sum(m.hours_share for m in risk.movers) == pytest.approx(1)
    said = in_report.in_words(terrace)
    assert said[0].startswith("likely $")
    assert f"biggest unknown: {risk.movers[0].name}" in said


def test_percentiles_are_those_that_numpy_finds_in_the_same_draws(terrace: Comparison) -> None:
    assert terrace.risk is not None
    for scenario in (s for s in terrace.scenarios if s.priced is not None):
        assert scenario.priced is not None
        every = [s.priced for s in terrace.scenarios if s.priced is not None]
        figures = [f for p in every for x in p.lines for f in (x.money, x.time) if f is not None]
        cash = total("cash", [x.money for x in scenario.priced.lines if x.money], MONEY)
        found = unknowns(terrace.job, figures)
        (part,) = draws(found, USUAL_DRAWS)
        priced = recalculate(cash, changed(found, part, written(figures)))
        wanted = np.percentile(priced, (10, 50, 80, 90), method="inverted_cdf")
        assert terrace.risk.of(scenario.title).cash == pytest.approx(list(wanted), abs=1e-6)


def test_the_same_seed_says_the_same_whatever_the_order_of_rows(terrace: Comparison) -> None:
    def names(job: Job) -> list[str]:
        assert terrace.best is not None
        assert terrace.best.priced is not None
        lines = terrace.best.priced.lines
        found = unknowns(job, [f for x in lines for f in (x.money, x.time) if f is not None])
        return [u.name for u in found]

    job = terrace.job
    turned = dataclasses.replace(job, quotes=job.quotes[::-1], work=job.work[::-1])
    assert names(turned) == names(job)
    assert terrace.calendar is not None
    again = risk_of(
        turned, terrace.takeoff, terrace.options, terrace.scenarios, terrace.best,
        beyond=terrace.calendar.beyond,
    )  # fmt: skip
    assert again == terrace.risk
    other = risk_of(job, terrace.takeoff, terrace.options, terrace.scenarios, terrace.best, seed=3)
    assert other is not None
    assert terrace.risk is not None
    assert other.outcomes != terrace.risk.outcomes
    title = terrace.risk.best
    for mine, theirs, error in zip(
        other.of(title).cash, terrace.risk.of(title).cash, other.of(title).cash_errors, strict=True
    ):
        assert abs(mine - theirs) < 6 * max(error, 100)


def test_rows_in_another_order_give_the_same_numbers(terrace: Comparison) -> None:
    """The workbook with its rows turned round: every cell has another address."""
    job = terrace.job
    turned = dataclasses.replace(
        job,
        quotes=_turned(job.quotes),
        work=_turned(job.work),
        products=_turned(job.products),
        suppliers=_turned(job.suppliers),
    )
    assert turned.quotes[0].item == job.quotes[-1].item
    assert turned.quotes[0].place.row == job.quotes[0].place.row
    assert compare(turned).risk == terrace.risk


def _turned(rows: tuple[Any, ...]) -> tuple[Any, ...]:
    places = [row.place for row in rows]
    moved = [
        dataclasses.replace(row, place=dataclasses.replace(row.place, row=place.row))
        for row, place in zip(rows[::-1], places, strict=True)
    ]
    return tuple(moved)


def test_the_confidence_asked_for_decides_what_is_safe(terrace: Comparison) -> None:
    settings = dataclasses.replace(terrace.job.settings, confidence=0.9)
    job = dataclasses.replace(terrace.job, settings=settings)
    careful = risk_of(job, terrace.takeoff, terrace.options, terrace.scenarios, terrace.best)
    assert careful is not None
    assert terrace.risk is not None
    assert terrace.best is not None
    assert terrace.best.priced is not None
    best = careful.of(careful.best)
    assert best.safe == best.cash[3]
    assert best.safe_error == best.cash_errors[3]
    assert best.contingency == best.safe - terrace.best.priced.cash
    assert best.cash == terrace.risk.of(careful.best).cash
    said = in_report.in_words(dataclasses.replace(terrace, risk=careful))
    assert said[1].endswith("is enough in 9 of 10 cases")


def test_the_plans_beat_each_other_in_every_case_or_tie(terrace: Comparison) -> None:
    risk = terrace.risk
    assert risk is not None
    best = next(i for i, o in enumerate(risk.outcomes) if o.title == risk.best)
    for i, row in enumerate(risk.wins):
        assert row[i] == 0
        assert risk.outcomes[i].beaten in (None, risk.wins[best][i])
        for j, share in enumerate(row):
            assert share + risk.wins[j][i] <= 1 + 1e-9
    assert list(risk.curve) == sorted(risk.curve)
    assert (risk.curve[10], risk.curve[50]) == risk.of(risk.best).cash[:2]


def test_a_firm_job_without_own_work_has_no_risk(terrace: Comparison) -> None:
    assert risk_of(terrace.job, terrace.takeoff, terrace.options, (), None) is None


def test_thorough_draws_say_the_same_within_their_error(terrace: Comparison) -> None:
    many = more_draws(terrace, 20_000).risk
    few = terrace.risk
    assert many is not None
    assert few is not None
    assert many.draws == 20_000
    for mine, theirs, error in zip(
        many.of(many.best).cash, few.of(few.best).cash, few.of(few.best).cash_errors, strict=True
    ):
        assert abs(mine - theirs) < 6 * max(error, 100)


def test_the_page_says_how_sure_it_is(terrace: Comparison) -> None:
    shown = page_risk.how_sure(View(terrace))
    assert shown is not None
    assert terrace.risk is not None
    assert [row.cells[0] for row in shown.ranges.table.rows] == [
        o.title for o in terrace.risk.outcomes
    ]
    assert sum(bool(row.marked) for row in shown.ranges.table.rows) == 1
    assert page_risk.how_sure(View(dataclasses.replace(terrace, risk=None))) is None


@pytest.mark.thorough
@pytest.mark.parametrize("name", ["terrace", "courtyard", "fire-bowl"])
def test_usual_draws_lie_within_their_stated_error_of_many(
    name: str, demo_comparison: Callable[[str], Comparison]
) -> None:
    """Percentiles and chances of every plan and order, 2,000 draws against 100,000."""
    few = demo_comparison(name)
    many = more_draws(few).risk
    assert few.risk is not None
    assert many is not None
    for mine, theirs in zip(few.risk.outcomes, many.outcomes, strict=True):
        for a, b, error in zip(mine.cash, theirs.cash, mine.cash_errors, strict=True):
            assert abs(a - b) < 6 * max(error, 100)
    chances = {(s.item, s.supplier): s for s in many.shortfalls}
    for short in few.risk.shortfalls:
        same = chances[short.item, short.supplier]
        error = (same.chance * (1 - same.chance) / few.risk.draws) ** 0.5
        assert abs(short.chance - same.chance) < 5 * error + 1e-3


def test_a_plan_of_the_same_choices_is_never_called_better(terrace: Comparison) -> None:
    best = terrace.best
    assert best is not None
    assert best.priced is not None
    cheaper = dataclasses.replace(best.priced, lines=best.priced.lines[1:])
    twin = dataclasses.replace(best, name="The same by another name", priced=cheaper)
    risk = risk_of(
        terrace.job, terrace.takeoff, terrace.options, (*terrace.scenarios, twin), best
    )  # fmt: skip
    assert risk is not None
    assert risk.of(twin.title).total_at_confidence < risk.of(best.title).total_at_confidence
    assert (risk.safest, risk.middle) == (best.title, best.title)
    assert all(finding.instead != twin.title for finding in risk.findings)


@pytest.mark.parametrize("ends", [(2.0, 1.0, 3.0), (1.0, 4.0, 3.0), (1.0, 1.0, 1.0)])
def test_a_range_out_of_order_is_refused(ends: tuple[float, float, float]) -> None:
    with pytest.raises(ValueError, match="are not a low, a likely and a high"):
        Spread(*ends)
    assert Spread(1.0, 1.0, 2.0).low == Spread(1.0, 2.0, 2.0).low == 1.0


def test_hire_days_and_lost_days_stand_in_the_sum_that_is_enough(terrace: Comparison) -> None:
    """A certain 100.00 lifts the sum by that; a coin's toss of 400.00 as the sum of both does."""
    args = (terrace.job, terrace.takeoff, terrace.options, terrace.scenarios, terrace.best)
    alone, certain = (risk_of(*args, beyond=b) for b in ((), (10_000.0,) * 101))
    assert alone is not None
    assert certain is not None
    safe = alone.of(alone.best).safe
    assert alone.with_days == safe
    assert certain.with_days == safe + 10_000
    assert certain.over_with_days is not None
    assert alone.over_with_days == alone.of(alone.best).over_limit
    tossed = risk_of(*args, beyond=(0.0,) * 50 + (40_000.0,) * 51, count=20_000)
    many = risk_of(*args, count=20_000)
    assert tossed is not None
    assert many is not None
    # the 80th percentile of the mixture: 30 of the 50 points above lie in the dearer half
    assert tossed.with_days == pytest.approx(40_000 + _curve_at(many.curve, 0.6), abs=400)


def _curve_at(curve: tuple[float, ...], share: float) -> float:
    return curve[round(share * 100)]
