"""The page's weight and times: ``python tests/benchmark/page.py`` prints a line for each job.

The demos, and the large job of ``writing.py``: what a page weighs, how long it takes to write, and
how long Chromium takes from opening it until it is laid out and drawn, as a ratio to the same for
an empty page in the same run.
"""

from __future__ import annotations

import shutil
import statistics
import tempfile
import time
from collections.abc import Iterator
from pathlib import Path

from playwright.sync_api import Browser, sync_playwright

from budget.decide import compare
from budget.decide.outcome import Comparison
from budget.report.page import page
from budget.workbook import read
from tests.benchmark.writing import large

DEMOS = Path(__file__).parent.parent.parent / "workbooks"
RUNS = 3

#: Two frames drawn after everything is loaded.
DRAWN = "new Promise(done => requestAnimationFrame(() => requestAnimationFrame(done)))"


def jobs() -> Iterator[tuple[str, Comparison]]:
    """Names and comparisons, the demos first."""
    for name in ("fire-bowl", "courtyard", "terrace"):
        job = read(DEMOS / f"{name}.xlsx").job
        assert job is not None
        yield name, compare(job)
    yield "large", large()


def opened(browser: Browser, path: Path) -> float:
    """Seconds until a page stands on a phone's screen, the middle of some runs."""
    times = []
    for _ in range(RUNS):
        tab = browser.new_page(viewport={"width": 360, "height": 740})
        start = time.perf_counter()
        tab.goto(path.as_uri())
        tab.evaluate(DRAWN)
        times.append(time.perf_counter() - start)
        tab.close()
    return statistics.median(times)


def main() -> None:
    """Measure and print."""
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        browser = playwright.chromium.launch(
            executable_path=shutil.which("chromium"), args=["--no-sandbox"]
        )
        empty = Path(folder) / "empty.html"
        empty.write_text("<!doctype html><title>empty</title>", encoding="utf-8")
        nothing = opened(browser, empty)
        for name, comparison in jobs():
            start = time.process_time()
            text = page.render(comparison)
            written = time.process_time() - start
            path = Path(folder) / f"{name}.html"
            path.write_text(text, encoding="utf-8")
            plan = comparison.best and comparison.best.priced
            lines = len(plan.lines) if plan else 0
            weight = len(text.encode()) / 1000
            shown = opened(browser, path)
            print(
                f"{name}: {lines:,} lines, {len(comparison.job.quotes):,} quotes, {weight:,.0f} kB,"
                f" written in {written:.2f} s, shown in {shown:.2f} s,"
                f" {shown / nothing:.1f} times an empty page"
            )
        browser.close()


if __name__ == "__main__":
    main()
