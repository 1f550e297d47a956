"""Plugin for pytest under ``coverage run``: which lines each test runs, and how long it takes."""

from __future__ import annotations

import json
import os
import time
from collections.abc import Iterator
from pathlib import Path

import coverage
import pytest

#: Processor seconds of each test that passed, by its node; written to the file ``SECONDS_TO``.
_seconds: dict[str, float] = {}
_failed: set[str] = set()


@pytest.hookimpl(wrapper=True)
def pytest_runtest_protocol(item: pytest.Item) -> Iterator[None]:
    """Name the lines run by a test, its fixtures included, after the test."""
    current = coverage.Coverage.current()
    assert current is not None
    current.switch_context(item.nodeid)
    begun = time.process_time()
    try:
        return (yield)
    finally:
        _seconds[item.nodeid] = time.process_time() - begun


def pytest_runtest_logreport(report: pytest.TestReport) -> None:
    """Note what failed or was left out."""
    if report.outcome != "passed":
        _failed.add(report.nodeid)


def pytest_sessionfinish() -> None:
    """Write the seconds."""
    passed = {node: seconds for node, seconds in _seconds.items() if node not in _failed}
    Path(os.environ["SECONDS_TO"]).write_text(json.dumps(passed), encoding="utf-8")
