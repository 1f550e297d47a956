"""What tests of several packages share."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from pathlib import Path

import pytest
from hypothesis import HealthCheck, is_hypothesis_test, settings

from budget.decide import compare
from budget.decide.outcome import Comparison
from budget.workbook import read

_SLOW = (HealthCheck.too_slow, HealthCheck.data_too_large, HealthCheck.filter_too_much)
WORKBOOKS = Path(__file__).parents[1] / "workbooks"


def pytest_addoption(parser: pytest.Parser) -> None:
    """``--examples N``: as many made-up cases for every property, whatever it asks for itself."""
    parser.addoption("--examples", type=int, default=0, help="made-up cases for every property")


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """Give every property the number of cases that was asked for."""
    count = config.getoption("--examples")
    for item in items if count else ():
        test = getattr(item, "obj", None)
        if is_hypothesis_test(test):
            own = test._hypothesis_internal_use_settings or settings()
            quiet = {*own.suppress_health_check, *_SLOW}
            wider = settings(own, max_examples=count, deadline=None, suppress_health_check=quiet)
            test._hypothesis_internal_use_settings = wider


@cache
def compared(name: str) -> Comparison:
    """The comparison of a demo, worked out once."""
    job = read(WORKBOOKS / f"{name}.xlsx").job
    assert job is not None
    return compare(job)


@pytest.fixture(scope="session")
def demo_comparison() -> Callable[[str], Comparison]:
    """The comparison of a committed demo workbook by name, worked out once."""
    return compared
