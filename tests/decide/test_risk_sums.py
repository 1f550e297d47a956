"""The arithmetic under the risk: classes of estimates, what is sure."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np
import pytest

from budget.decide.risk.accuracy import class_of
from budget.decide.risk.findings import _if_sure
from budget.decide.risk.ordering import Order, Stakes, costs
from budget.decide.risk.result import Accuracy, Finding, percentile, percentile_error
from budget.decide.risk.unknowns import unknowns
from budget.figures import laid_out
from budget.job import Area, Job, Place, Settings
from budget.reference import coefficient, rows
from budget.units import AREA, DEPTH, LENGTH


def test_the_class_of_an_estimate_is_that_whose_range_lies_nearest() -> None:
    """The middle of 30 to 75 % is 52.5, of 65 to 100 % 82.5: 72 % is nearer to the second."""
    assert [class_of(share)["class"] for share in (0.12, 0.35, 0.67, 0.72)] == ["4", "3", "2", "1"]


def test_a_gain_counts_only_if_it_is_sure() -> None:
    """A mean of 10 with a standard error of 1 is sure; one of 10 is not, nor half a cent."""
    near, far = (np.tile([-spread, spread], 5000) for spread in (100.0, 1000.0))
    assert _if_sure(10.0 + near) == pytest.approx(10.0)
    assert _if_sure(10.0 + far) == 0.0
    assert _if_sure(np.full(100, 1.5)) == 1.5
    assert _if_sure(np.full(100, 0.5)) == 0.0


def test_what_is_kept_as_spares_is_not_taken_back() -> None:
    """Eight packs at 1.00 for a need of three: one kept at its price, four taken back at 0.80
    less 0.30 for the trip."""
    stakes = Stakes(each=100, again=100, spares=1, back=80, bring_back=30)
    assert float(costs(8, 3, stakes)) == 800 - 100 - (4 * 80 - 30)


def test_the_average_cost_of_an_order_is_that_over_all_draws() -> None:
    needed = np.array([3, 4, 4, 5, 9])
    stakes = Stakes(each=100, again=130, short=50, least=2, back=80, bring_back=30)
    order = Order(needed, stakes)
    for count in range(10):
        wanted = np.mean([float(costs(count, need, stakes)) for need in needed])
        assert order.mean(count) == pytest.approx(wanted)
    means = dict(zip(order.choices.tolist(), order.means.tolist(), strict=True))
    for count, mean in means.items():
        assert mean == pytest.approx(order.mean(count))
    assert order.mean(order.best) == pytest.approx(min(means.values()))


NOWHERE = Job(settings=Settings(place=Place("Job", 1)))


def test_every_coefficient_with_a_range_is_an_unknown() -> None:
    names = [row["name"] for row in rows("ranges") if row["use"] == "coefficient"]
    assert names
    for name in names:
        found = unknowns(NOWHERE, [coefficient(name).figure()])
        assert [(f"reference:{name}", 1)] == [power for u in found for power in u.powers]


def test_what_was_laid_out_on_a_part_shares_its_measuring_error() -> None:
    area = Area(place=Place("Areas", 5), part="Terrace")
    told = [
        laid_out(7.0, LENGTH, "edge", "layout of Slab, Terrace, bond: cut length"),
        laid_out(20.0, AREA, "laid", "layout of Slab, Terrace, bond: laid"),
        laid_out(3.0, DEPTH, "ground", "levels, Terrace, spots"),
        laid_out(9.0, AREA, "other", "layout of Slab, Walk, bond: laid"),
    ]
    (found,) = unknowns(replace(NOWHERE, areas=(area,)), told)
    assert set(found.powers) == {
        ("layout of Slab, Terrace, bond: cut length", 1),
        ("layout of Slab, Terrace, bond: laid", 2),
    }


@pytest.mark.parametrize(
    ("draws", "share", "error"),
    [
        (range(1, 101), 0.8, 4.0),  # 0.04 to each side: 84 and 76
        (range(1, 401), 0.5, 10.0),  # 0.025 to each side: 210 and 190
        ((2, 4, 8, 16), 0.9, 4.0),  # 0.15 to each side, all cases at the most: 16 and 8
        ((2, 4, 8, 16), 0.15, 1.0),  # 0.18 to each side, none at the least: 4 and 2
    ],
)
def test_how_far_draws_may_be_off_at_a_share_of_all_cases(
    draws: Sequence[float], share: float, error: float
) -> None:
    """The draws one binomial standard error to each side, half of what is between them."""
    assert percentile_error(list(draws), share) == error


def test_the_share_that_is_not_passed() -> None:
    """Of eight, six are three quarters; a little more takes the seventh."""
    eight = [10, 20, 30, 40, 50, 60, 70, 80]
    assert [percentile(eight, s) for s in (0.0, 0.75, 0.76, 1.0)] == [10, 60, 70, 80]


@pytest.mark.parametrize(
    ("high", "verdict"),
    [(0.049, "narrower"), (0.05, "within"), (0.2, "within"), (0.21, "wider")],
)
def test_a_range_is_held_against_what_is_published(high: float, verdict: str) -> None:
    found = Accuracy(0.5, 2, 0.1, high, (0.05, 0.15), (0.05, 0.2), "a source")
    assert found.verdict == verdict


def test_what_is_found_out_is_worth_both_that_it_saves() -> None:
    assert Finding("count", "measures", "measure", 700.0, 450.0, "", 90.0, 100.0).worth == 1150.0
