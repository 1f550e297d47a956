"""Speed, as ratios in one run: ``python tests/benchmark/run.py [RUNS]`` prints the table.

Each command is a whole process, run in turn with its yardstick, and the medians are compared.
The yardsticks do only what cannot be avoided: importing click, or reading every cell of the
quotes workbook twice and writing every cell of the comparison workbook with the libraries alone.
Ratios are of processor time, which other programs on the machine disturb least; seconds are those
that passed, and those of the processor; memory is the most that the process held.
"""

from __future__ import annotations

import datetime as dt
import os
import statistics
import subprocess
import sys
import tempfile
import time
from concurrent.futures import ProcessPoolExecutor
from dataclasses import astuple, dataclass
from multiprocessing import get_context
from pathlib import Path

ROOT = Path(__file__).parent.parent.parent
sys.path.insert(0, str(ROOT))
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
class Used:
    """What one whole process took: seconds on the clock and of the processors, peak in MB."""

    wall: float
    cpu: float
    peak: float


def used(command: list[str]) -> Used:
    """Run one process to its end."""
    quiet = subprocess.DEVNULL
    start = time.perf_counter()
    with subprocess.Popen(command, cwd=ROOT, stdout=quiet, stderr=quiet) as running:
        _, status, told = os.wait4(running.pid, 0)
        running.returncode = os.waitstatus_to_exitcode(status)
    wall = time.perf_counter() - start
    if running.returncode:
        raise SystemExit(f"exit status {running.returncode}: {' '.join(command)}")
    return Used(wall, told.ru_utime + told.ru_stime, told.ru_maxrss / 1024)


def paired(command: list[str], yardstick: list[str], runs: int) -> tuple[Used, Used]:
    """Medians of a command and its yardstick, run in turn after one warm-up each."""
    used(command)
    used(yardstick)
    pairs = [(used(command), used(yardstick)) for _ in range(runs)]
    return _median([p[0] for p in pairs]), _median([p[1] for p in pairs])


def _median(runs: list[Used]) -> Used:
    return Used(*(statistics.median(each) for each in zip(*map(astuple, runs), strict=True)))


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


def prepare(folder: Path) -> list[str]:
    """Make the files that are measured on; gives the commands' names."""
    from budget.cli import main as group

    used([sys.executable, "-m", "budget", "compare", str(DEMO), "--out", str(folder)])
    stored_cells(folder / "terrace-comparison.xlsx", folder / "cells")
    long_diary(folder / "long.xlsx")
    return list(group.commands)


def main() -> None:
    """Measure and print."""
    python = sys.executable
    budget = [python, "-m", "budget"]
    with tempfile.TemporaryDirectory() as folder:
        out = Path(folder)
        # Apart, since a process counts the memory of the one that started it as its own.
        with ProcessPoolExecutor(1, mp_context=get_context("spawn")) as apart:
            commands = apart.submit(prepare, out).result()
        bare = [python, "-c", READ_AND_WRITE, str(DEMO), str(out / "cells"), str(out / "x.xlsx")]
        click = [python, "-c", "import click"]
        table = [
            ("budget --help", "import click", [*budget, "--help"], click, 15),
            *(
                (f"budget {name} --help", "import click", [*budget, name, "--help"], click, 9)
                for name in commands
            ),
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
        print(
            f"{'command':32}{'yardstick':31}{'ratio':>6}"
            f"{'seconds':>9}{'processor':>11}{'peak MB':>9}"
        )
        for name, against, command, yardstick, usual in table:
            mine, theirs = paired(command, yardstick, int(sys.argv[1]) if sys.argv[1:] else usual)
            ratio = mine.cpu / theirs.cpu
            took = f"{ratio:6.2f}{mine.wall:9.2f}{mine.cpu:11.2f}{mine.peak:9.0f}"
            print(f"{name:32}{against:31}{took}", flush=True)


if __name__ == "__main__":
    main()
