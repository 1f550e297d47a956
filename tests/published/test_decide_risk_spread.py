"""Triangular ranges and percentiles against published formulas and an independent library."""

from __future__ import annotations

import numpy as np
import pytest
from scipy import stats

from budget.decide.risk.result import percentile, percentile_error
from budget.decide.risk.spread import Spread

#: Low, likely, high; mean by (a + m + b) / 3, Hubbard, How to Measure Anything, appendix A.
RANGES = [(2500, 3500, 7200, 4400), (9000, 10000, 12000, 31000 / 3), (5, 8, 14, 9)]


@pytest.mark.parametrize(("low", "likely", "high", "mean"), RANGES)
def test_mean_variance_and_percentiles(low: float, likely: float, high: float, mean: float) -> None:
    spread = Spread(low, likely, high)
    same = stats.triang((likely - low) / (high - low), low, high - low)
    assert spread.mean == pytest.approx(mean)
    assert spread.variance == pytest.approx(same.var())
    shares = np.linspace(0, 1, 101)
    assert spread.at(shares) == pytest.approx(same.ppf(shares))
    assert [spread.at(float(share)) for share in shares] == pytest.approx(same.ppf(shares))


@pytest.mark.parametrize("spread", [(1, 1, 3), (1, 3, 3)])
def test_the_likely_value_may_be_at_an_end(spread: tuple[float, float, float]) -> None:
    low, likely, high = spread
    same = stats.triang((likely - low) / (high - low), low, high - low)
    assert Spread(*spread).at(0.3) == pytest.approx(same.ppf(0.3))


def test_the_two_dice_of_the_gao_guide() -> None:
    """GAO-09-3SP, figure 18: 2 to 12, median 7; 9 is the least sum with a chance of 80 %."""
    rolls = sorted(a + b for a in range(1, 7) for b in range(1, 7))
    assert [percentile(rolls, p) for p in (0, 0.5, 0.8, 1)] == [2, 7, 9, 12]


def test_the_error_of_a_percentile() -> None:
    """sqrt(p (1 - p) / n) / density, the usual large-sample error of a quantile."""
    spread = Spread(2500, 3500, 7200)
    same = stats.triang(1000 / 4700, 2500, 4700)
    count = 100_000
    drawn = np.sort(spread.at(np.random.default_rng(7).random(count)))
    for share in (0.1, 0.5, 0.8, 0.9):
        expected = (share * (1 - share) / count) ** 0.5 / same.pdf(same.ppf(share))
        assert percentile_error(drawn, share) == pytest.approx(expected, rel=0.1)
        assert abs(percentile(drawn, share) - same.ppf(share)) < 4 * expected
