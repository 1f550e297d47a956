"""Writing alone, for a large job: ``python tests/benchmark/writing.py`` prints one line.

The terrace with 660 counted items and two quotes of each: about 2,000 rows of the quotes
workbook. The yardstick writes the very same cells with XlsxWriter alone, in a process of its
own, with one number format.
"""

from __future__ import annotations

import pickle
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

from xlsxwriter.worksheet import Worksheet

from budget.decide.brief import laid_out, plan_briefly
from budget.decide.outcome import Comparison
from budget.decide.plan import Scenario
from budget.decide.pricing.evaluation import evaluate
from budget.job import Place
from budget.report.book import book
from budget.workbook import read

DEMO = Path(__file__).parent.parent.parent / "workbooks" / "terrace.xlsx"
ITEMS, RUNS, ADDED = 660, 7, "Fitting "
KINDS = ("write_string", "write_number", "write_formula", "write_blank")

ALONE = """
import pickle, statistics, sys, time
import xlsxwriter
cells = pickle.load(open(sys.argv[1], "rb"))
times = []
for _ in range(int(sys.argv[3])):
    start = time.process_time()
    as_text = {"strings_to_formulas": False, "strings_to_urls": False}
    book = xlsxwriter.Workbook(sys.argv[2], as_text)
    look = book.add_format({"num_format": "0.00"})
    sheets = {}
    for kind, sheet, row, column, content, value in cells:
        page = sheets.get(sheet) or sheets.setdefault(sheet, book.add_worksheet(sheet))
        more = (value,) if kind == "write_formula" else ()
        getattr(page, kind)(row, column, content, look, *more)
    book.close()
    times.append(time.process_time() - start)
print(statistics.median(times))
"""


def large() -> Comparison:
    """The terrace's plans, each with the first seller's offer of every added item."""
    job = read(DEMO).job
    assert job is not None
    small = plan_briefly(job)
    extra = job.extras[0]
    quote = next(q for q in job.quotes if q.item == extra.item)
    sellers = sorted({q.supplier for q in job.quotes})[:2]
    extras, quotes = list(job.extras), list(job.quotes)
    for n in range(ITEMS):
        item = f"{ADDED}{n:03d}"
        extras.append(replace(extra, place=Place("Extras", 1000 + n), item=item))
        quotes += [
            replace(quote, place=Place("Quotes", 2000 + 2 * n + k), item=item, supplier=seller,
                    price=500.0 + 3 * n + 40 * k)
            for k, seller in enumerate(sellers)
        ]  # fmt: skip
    found = laid_out(replace(job, extras=tuple(extras), quotes=tuple(quotes)))
    built = [s for s in small.scenarios if s.priced is not None]
    scenarios = tuple(_grown(s, found) for s in built)
    return replace(found, scenarios=scenarios, best=scenarios[0], complete=True)


def _grown(scenario: Scenario, found: Comparison) -> Scenario:
    assert scenario.priced is not None
    plan = scenario.priced.plan
    offers = dict(plan.offers)
    for offer in found.options.offers:
        if offer.item.startswith(ADDED) and offer.supplier in plan.routes:
            offers.setdefault(offer.item, offer.key)
    priced = evaluate(replace(plan, offers=offers), found.takeoff, found.options)
    return replace(scenario, priced=priced)


def written(comparison: Comparison, to: Path) -> list[tuple[Any, ...]]:
    """Every cell that is written: kind, sheet, row, column, content, value of a formula."""
    cells: list[tuple[Any, ...]] = []
    kept = {kind: getattr(Worksheet, kind) for kind in KINDS}

    def told(kind: str) -> Callable[..., Any]:
        def write(page: Any, row: int, column: int, content: Any, *more: Any) -> Any:
            cells.append((kind, page.name, row, column, content, (*more, None, 0)[1]))
            return kept[kind](page, row, column, content, *more)

        return write

    for kind in KINDS:
        setattr(Worksheet, kind, told(kind))
    book.write(comparison, to)
    for kind, method in kept.items():
        setattr(Worksheet, kind, method)
    return cells


def main() -> None:
    """Measure and print."""
    comparison = large()
    with tempfile.TemporaryDirectory() as folder:
        out = Path(folder)
        cells = written(comparison, out / "ours.xlsx")
        (out / "cells").write_bytes(pickle.dumps(cells))
        times = []
        for _ in range(RUNS):
            start = time.process_time()
            book.write(comparison, out / "ours.xlsx")
            times.append(time.process_time() - start)
        command = [sys.executable, "-c", ALONE, str(out / "cells"), str(out / "x.xlsx"), str(RUNS)]
        alone = float(subprocess.run(command, check=True, capture_output=True, text=True).stdout)
    ours = statistics.median(times)
    print(
        f"{len(cells):,} cells: {ours:.2f} s, the library alone {alone:.2f} s, {ours / alone:.2f}"
    )


if __name__ == "__main__":
    main()
