"""What tests of several packages share."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from pathlib import Path

import pytest

from budget.decide import compare
from budget.decide.plan import Comparison
from budget.workbook import read

WORKBOOKS = Path(__file__).parents[1] / "workbooks"


@cache
def _compared(name: str) -> Comparison:
    job = read(WORKBOOKS / f"{name}.xlsx").job
    assert job is not None
    return compare(job)


@pytest.fixture(scope="session")
def demo_comparison() -> Callable[[str], Comparison]:
    """The comparison of a committed demo workbook by name, worked out once."""
    return _compared
