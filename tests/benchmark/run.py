"""Speed, as ratios in one run: ``python tests/benchmark/run.py [RUNS]`` prints the table.

Each command is a whole process, run in turn with its yardstick, and the medians are compared.
The yardsticks do only what cannot be avoided: importing click, or reading every cell of the
quotes workbook twice and writing every cell of the comparison workbook with the libraries alone.
Ratios are of processor time, which other programs on the machine disturb least; seconds are those
that passed, and those of the processor.
"""

from __future__ import annotations

import datetime as dt
import resource
import statistics
import subprocess
import sys
import tempfile
import time
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).parent.parent.parent
DEMO = ROOT / "workbooks" / "terrace.xlsx"

READ_AND_WRITE = """
import sys
import openpyxl, xlsxwriter
from openpyxl import load_workbook
quotes, comparison, out = sys.argv[1:]
for formulas in (False, True):
    book = load_workbook(quotes, data_only=not formulas)
    cells = [c.value for sheet in book for row in sheet.iter_rows() for c in row]
cells = __import__("pickle").load(open(comparison, "rb"))
book = xlsxwriter.Workbook(out)
for name, rows in cells:
    sheet = book.add_worksheet(name)
    for r, c, value in rows:
        sheet.write(r, c, value)
book.close()
"""

READ_TWICE = """
import sys
from openpyxl import load_workbook
for formulas in (False, True):
    book = load_workbook(sys.argv[1], data_only=not formulas, read_only=True)
    rows = [len(row) for sheet in book for row in sheet.iter_rows(values_only=True)]
"""

#: Entries of the long Spend sheet, and what they say in turn.
ENTRIES = 50_000
STATES = ("paid", "ordered", "delivered", "worked", "refunded")
LINES = ("Base stone", "Garden paver", "Path cobble", "Dig", "Lay", "Edging", "Drainage")


def long_diary(to: Path) -> None:
    """The demo with so many entries on its Spend sheet."""
    from openpyxl import load_workbook

    book = load_workbook(DEMO)
    sheet = book["Spend"]
    first = next(row[0].row for row in sheet.iter_rows() if row[0].value == "Date *") + 1
    for n in range(ENTRIES):
        state = STATES[n % len(STATES)]
        money = state != "worked"
        day = dt.date(2026, 4, 1) + dt.timedelta(days=n % 70)
        values = (
            day, LINES[n % len(LINES)], "Heron Yard", f"thing {n}", 1 + n % 9,
            (10 + n % 290) / 100 if money else None, (n % 20) / 100 if money else None, state,
            None if money else 0.01, f"R{n}",
        )  # fmt: skip
        for column, value in enumerate(values, 1):
            sheet.cell(first + n, column).value = value
    book.save(to)


@dataclass(frozen=True)
class Seconds:
    """How long one whole process took: on the clock, and of the processors."""

    wall: float
    cpu: float


def seconds(command: list[str]) -> Seconds:
    """Run one process to its end."""
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    start = time.perf_counter()
    subprocess.run(command, cwd=ROOT, check=True, capture_output=True)
    wall = time.perf_counter() - start
    then = resource.getrusage(resource.RUSAGE_CHILDREN)
    return Seconds(wall, then.ru_utime + then.ru_stime - used.ru_utime - used.ru_stime)


def paired(command: list[str], yardstick: list[str], runs: int) -> tuple[Seconds, Seconds]:
    """Medians of a command and its yardstick, run in turn after one warm-up each."""
    seconds(command)
    seconds(yardstick)
    pairs = [(seconds(command), seconds(yardstick)) for _ in range(runs)]
    return _median([p[0] for p in pairs]), _median([p[1] for p in pairs])


def _median(runs: list[Seconds]) -> Seconds:
    return Seconds(statistics.median(r.wall for r in runs), statistics.median(r.cpu for r in runs))


def stored_cells(comparison: Path, to: Path) -> None:
    """Keep the comparison workbook's cells, so that the yardstick need not read them."""
    import pickle

    from openpyxl import load_workbook

    book = load_workbook(comparison)
    cells = [
        (sheet.title, [(c.row - 1, c.column - 1, c.value) for row in sheet.iter_rows()
                       for c in row if c.value is not None])
        for sheet in book
    ]  # fmt: skip
    to.write_bytes(pickle.dumps(cells))


def main() -> None:
    """Measure and print."""
    python = sys.executable
    budget = [python, "-m", "budget"]
    with tempfile.TemporaryDirectory() as folder:
        out = Path(folder)
        seconds([*budget, "compare", str(DEMO), "--out", folder])
        stored_cells(out / "terrace-comparison.xlsx", out / "cells")
        long_diary(out / "long.xlsx")
        bare = [python, "-c", READ_AND_WRITE, str(DEMO), str(out / "cells"), str(out / "x.xlsx")]
        click = [python, "-c", "import click"]
        table = [
            ("budget --help", "import click", [*budget, "--help"], click, 15),
            ("check terrace", "import click", [*budget, "check", str(DEMO)], click, 5),
            (
                "compare terrace, answer only",
                "read and write the same cells",
                [*budget, "compare", str(DEMO), "--no-files"],
                bare,
                5,
            ),
            (
                "compare terrace, all outputs",
                "read and write the same cells",
                [*budget, "compare", str(DEMO), "--out", folder],
                bare,
                5,
            ),
            (
                f"spend, {ENTRIES:,} entries",
                "read the file in two passes",
                [*budget, "spend", str(out / "long.xlsx"), "--quiet"],
                [python, "-c", READ_TWICE, str(out / "long.xlsx")],
                3,
            ),
        ]
        print(f"{'command':32}{'yardstick':34}{'ratio':>7}{'seconds':>9}{'processor':>11}")
        for name, against, command, yardstick, usual in table:
            mine, theirs = paired(command, yardstick, int(sys.argv[1]) if sys.argv[1:] else usual)
            ratio = mine.cpu / theirs.cpu
            print(f"{name:32}{against:34}{ratio:7.2f}{mine.wall:9.2f}{mine.cpu:11.2f}", flush=True)


if __name__ == "__main__":
    main()
