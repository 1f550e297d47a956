"""The table of faults: ``python tests/battery/faults.py`` prints fault, tests, and what happens."""

from __future__ import annotations

import os
import sys
from collections import Counter
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]


class Table:
    """Plugin for pytest: counts the tests of each fault, and those that ended otherwise."""

    def __init__(self) -> None:
        self.faults: dict[str, tuple[str, str]] = {}
        self.happens: dict[tuple[str, str], Counter[str]] = {}

    def pytest_collection_modifyitems(self, items: list[pytest.Item]) -> None:
        """Note the fault of each test; none may be without one."""
        for item in items:
            mark = item.get_closest_marker("fault")
            assert mark is not None, f"{item.nodeid} names no fault"
            what, happens = mark.args
            self.faults[item.nodeid] = (what, happens)
            self.happens.setdefault((what, happens), Counter())

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        """Count each test once: as it ended, or as what kept it from running."""
        if report.when == "call" or not report.passed:
            self.happens[self.faults[report.nodeid]][report.outcome] += 1

    def lines(self) -> list[str]:
        """The table."""
        rows = [f"{'fault':30}{'tests':>6}{'as written':>12}{'left out':>10}  what happens"]
        for (what, happens), ended in self.happens.items():
            left = ended["skipped"] or ""
            counts = f"{ended.total():6}{ended['passed']:12}{left:>10}"
            rows.append(f"{what:30}{counts}  {happens}")
        return rows


def main() -> int:
    """Run every test of a fault and print the table; gives 1 if one ended otherwise."""
    os.chdir(ROOT)
    table = Table()
    status = pytest.main(["-q", "-p", "no:cacheprovider", "tests/battery/test_faults.py"], [table])
    print("\n".join(["", *table.lines()]))
    return int(status != pytest.ExitCode.OK)


if __name__ == "__main__":
    sys.exit(main())
