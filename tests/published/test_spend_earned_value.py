"""Earned-value figures against published worked examples.

Each example stands with its source. Where a source rounded an index before going on, the exact
figure is tested to a cent and the printed one only within what that rounding can do.
"""

from __future__ import annotations

import pytest

from budget.spend.earned import Earned


def test_fence_on_day_three() -> None:
    """Source: earned value exercise, four-sided fence (studylib.net/doc/5898152)."""
    e = Earned(4000, 3000, 2500, 2800)
    assert (e.cost_variance, e.schedule_variance) == (-300, -500)
    assert e.cost_index == pytest.approx(0.893, abs=5e-4)
    assert e.schedule_index == pytest.approx(0.833, abs=5e-4)
    assert e.forecast_typical == pytest.approx(4480)
    assert e.to_complete == pytest.approx(1680)
    assert e.variance_at_completion == pytest.approx(-480)


def test_fence_as_printed_rounded_its_index_first() -> None:
    """The same source prints 4,479, 1,679 and -479: it divides by an index cut to .893."""
    e = Earned(4000, 3000, 2500, 2800)
    assert round(4000 / 0.893) == 4479
    assert e.forecast_typical == pytest.approx(4479, abs=4000 / 0.8925 - 4000 / 0.8935)
    assert e.to_complete == pytest.approx(1679, abs=5)
    assert e.variance_at_completion == pytest.approx(-479, abs=5)


def test_fence_second_part() -> None:
    """Source: the same exercise, part 2; earned 1000 + 1000 + 500 + 750."""
    e = Earned(4000, 3000, 1000 + 1000 + 500 + 750, 3200)
    assert (e.cost_variance, e.schedule_variance) == (50, 250)
    assert e.cost_index == pytest.approx(1.016, abs=5e-4)
    assert e.schedule_index == pytest.approx(1.0833, abs=5e-5)
    assert e.forecast_typical == pytest.approx(3938.46, abs=0.005)


def test_design_build_test_slides() -> None:
    """Source: slides on three tasks of 200, 200 and 100 (slideplayer.com/slide/3217182)."""
    e = Earned(200 + 200 + 100, 300, 200, 250)
    assert (e.cost_variance, e.schedule_variance) == (-50, -100)
    assert e.cost_index == pytest.approx(0.80)
    assert e.schedule_index == pytest.approx(0.67, abs=5e-3)
    assert e.forecast_typical == pytest.approx(625)
    assert (e.to_complete, e.variance_at_completion) == (pytest.approx(375), pytest.approx(-125))


def test_index_to_be_kept() -> None:
    """Source: remark on 3.0 of 10 million earned for 3.5: .857 so far, 1.077 from now on."""
    e = Earned(10e6, None, 3.0e6, 3.5e6)
    assert e.cost_index == pytest.approx(0.857, abs=5e-4)
    assert e.index_to_budget == pytest.approx(1.077, abs=5e-4)


@pytest.mark.parametrize(
    ("earned", "forecast", "expected"),
    [
        (Earned(5e6, None, 1.5e6, 1.8e6), "forecast_typical", 6e6),
        (Earned(2e6, None, 1.0e6, 1.1e6), "forecast_atypical", 2.1e6),
        (Earned(5e6, None, 2.0e6, 2.5e6), "index_to_budget", 1.2),
        (Earned(1e6, 5e5, 4.5e5, 4.8e5), "cost_index", 0.9375),
        (Earned(1e6, 5e5, 4.5e5, 4.8e5), "cost_variance", -30_000),
        (Earned(1e6, 5e5, 4.5e5, 4.8e5), "schedule_variance", -50_000),
        (Earned(1e6, 5e5, 4.5e5, 4.8e5), "schedule_index", 0.90),
        (Earned(1e6, 5e5, 4.5e5, 4.8e5), "forecast_typical", 1_066_666.67),
    ],
    ids=[
        "board-exam item, typical", "storm item, atypical", "same page, index to keep",
        "same page, cost index printed", "same page, CV printed", "same page, SV printed",
        "same page, SPI", "same page, EAC",
    ],
)  # fmt: skip
def test_exam_items(earned: Earned, forecast: str, expected: float) -> None:
    """Source: published exam items; where the page hides its answer the identities give it."""
    assert getattr(earned, forecast) == pytest.approx(expected, rel=1e-8)


def test_undefined_figures_are_none_not_infinite() -> None:
    """Boundary cases, fixed by our own decision: no cost, no work, no budget left."""
    idle = Earned(1000, 0, 0, 0)
    assert (idle.cost_index, idle.schedule_index, idle.forecast_typical) == (None, None, None)
    spent = Earned(1000, None, 400, 1000)
    assert spent.index_to_budget is None
    assert (spent.schedule_variance, spent.schedule_index, spent.forecast_late) == (None,) * 3
    over = Earned(1000, 1000, 1000, 900)
    assert (over.schedule_variance, over.to_complete) == (0, pytest.approx(0))


def test_doubtful_inputs_are_named() -> None:
    """Checks of the GAO cost guide, analysing performance: negative sums, work without cost."""
    assert Earned(100, 50, 50, 50).doubts == ()
    assert len(Earned(100, 0, 50, 0).doubts) == 2
    assert Earned(100, 50, 50, -1).doubts == ("A sum is below zero.",)
