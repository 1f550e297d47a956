"""The table of published checks in reports is what the checks say today."""

import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).parent.parent.parent


def test_the_table_of_published_checks_is_current():
    found = subprocess.run(
        [sys.executable, "-m", "tests.published.table", "--check"],
        cwd=ROOT, capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert found.returncode == 0, found.stdout + found.stderr


def test_the_table_has_many_checks_and_their_sources():
    import csv

    with (ROOT / "reports" / "published-checks.csv").open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    assert len(rows) >= 120
    assert all(row["source"] and row["published"] and row["ours"] for row in rows)
