"""Triangular ranges and percentiles against published formulas and an independent library."""

from __future__ import annotations

import numpy as np
import pytest
from scipy import stats

from budget.decide.risk.draws import draws
from budget.decide.risk.result import percentile, percentile_error
from budget.decide.risk.spread import Spread
from budget.decide.risk.unknowns import Unknown

#: Low, likely, high; mean by (a + m + b) / 3, Hubbard, How to Measure Anything, appendix A.
RANGES = [(2500, 3500, 7200, 4400), (9000, 10000, 12000, 31000 / 3), (5, 8, 14, 9)]


@pytest.mark.parametrize(("low", "likely", "high", "mean"), RANGES)
def test_mean_variance_and_percentiles(low: float, likely: float, high: float, mean: float) -> None:
    spread = Spread(low, likely, high)
    same = stats.triang((likely - low) / (high - low), low, high - low)
    every = spread.at((np.arange(20_000) + 0.5) / 20_000)
    drawn_mean, variance = float(every.mean()), float(every.var())
    assert drawn_mean == pytest.approx(mean, rel=1e-6)
    assert variance == pytest.approx(float(same.var()), rel=1e-4)
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


@pytest.mark.parametrize(("low", "likely", "high", "mean"), RANGES)
def test_the_share_below_a_value(low: float, likely: float, high: float, mean: float) -> None:
    same = stats.triang((likely - low) / (high - low), low, high - low)
    values = np.linspace(low - 10, high + 10, 203)
    assert Spread(low, likely, high).below(values) == pytest.approx(same.cdf(values), abs=1e-12)


def convolved(spreads: list[Spread], step: float) -> tuple[np.ndarray, np.ndarray]:
    """The sum of independent triangles by convolution on a fine grid: values and chances."""
    density = np.ones(1)
    low = 0.0
    for s in spreads:
        edges = np.arange(0, s.high - s.low + step, step)
        same = stats.triang((s.likely - s.low) / (s.high - s.low), 0, s.high - s.low)
        density = np.convolve(density, np.diff(same.cdf(edges)))
        low += s.low + step / 2
    return low + step * np.arange(len(density)), density


def drawn_sum(spreads: list[Spread], count: int) -> np.ndarray:
    found = [Unknown(f"u{i}", "price", s, ((f"k{i}", 1),), "") for i, s in enumerate(spreads)]
    parts = list(draws(found, count))
    return sum(np.concatenate([p[u.name] for p in parts]) for u in found)


def test_a_sum_of_ranges_against_its_convolution() -> None:
    """Mean, variance, P10, P50, P80 and P90 within four standard errors of the exact ones."""
    spreads = [Spread(0.25, 0.35, 0.72), Spread(0.9, 1.0, 1.2), Spread(0.5, 0.8, 1.4)]
    count = 100_000
    rising = np.sort(drawn_sum(spreads, count))
    same = [
        stats.triang((s.likely - s.low) / (s.high - s.low), s.low, s.high - s.low) for s in spreads
    ]
    mean, variance = sum(s.mean() for s in same), sum(s.var() for s in same)
    assert abs(rising.mean() - mean) < 4 * (variance / count) ** 0.5
    assert rising.var() == pytest.approx(variance, rel=0.02)
    values, chances = convolved(spreads, 0.0005)
    below = np.cumsum(chances)
    for share in (0.1, 0.5, 0.8, 0.9):
        exact = float(np.interp(share, below, values + 0.00025))
        error = percentile_error(rising, share)
        assert abs(percentile(rising, share) - exact) < 4 * error


def test_the_chance_that_one_beats_another_against_an_integral() -> None:
    """P(A < B) of two independent triangles is the integral of A's share below B's density."""
    one, other = Spread(0.9, 1.0, 1.4), Spread(0.95, 1.05, 1.3)
    a, b = (
        stats.triang((s.likely - s.low) / (s.high - s.low), s.low, s.high - s.low)
        for s in (one, other)
    )
    exact = b.expect(a.cdf)
    count = 100_000
    parts = [drawn_sum([one], count)]
    found = [Unknown("another", "price", other, (("k", 1),), "")]
    parts.append(np.concatenate([p["another"] for p in draws(found, count)]))
    error = (exact * (1 - exact) / count) ** 0.5
    assert abs(float((parts[0] < parts[1]).mean()) - exact) < 4 * error
