"""The arithmetic under the risk: shares of a spread, classes of estimates, what is sure."""

from __future__ import annotations

import numpy as np
import pytest

from budget.decide.risk.accuracy import class_of
from budget.decide.risk.drawn import Moments
from budget.decide.risk.findings import _if_sure


def test_shares_of_the_spread_are_those_of_a_straight_line_fit() -> None:
    """Against numpy's own covariances: 3 a + b, with a and b spread alike and off their start."""
    rng = np.random.default_rng(7)
    factors = 1.1 + 0.2 * rng.standard_normal((4000, 2))
    result = 1000 * (3 * factors[:, 0] + factors[:, 1]) + rng.standard_normal(4000)
    moments = Moments(np.zeros(2), np.zeros((2, 2)), 0, (3500.0,), [0.0], [0.0], [np.zeros(2)])
    for part in (slice(0, 1500), slice(1500, 4000)):
        moments.add(factors[part], [result[part]])
    spread = np.cov(factors.T, bias=True)
    together = np.array([np.cov(f, result, bias=True)[0, 1] for f in factors.T])
    wanted = np.linalg.solve(spread, together) * together / result.var()
    assert moments.shares(0) == pytest.approx(list(wanted))
    assert moments.shares(0) == pytest.approx([0.9, 0.1], abs=0.03)  # 3² and 1² of 10


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
