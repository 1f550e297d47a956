"""How planning time grows with the job: ``python tests/benchmark/scale.py`` prints the table.

Jobs of 1, 2, 4 and 8 times 40 needs, 8 sellers, 200 quotes, 25 steps, 30 bids and 12 machines,
made by rule. Seconds are those of building the programme and of proving its optimum, the median
of some jobs of each size.
"""

from __future__ import annotations

import statistics
import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "decide"))

from large_jobs import large_job

from budget.decide.model.model import Model
from budget.decide.terms.situation import Situation

SIZES = (1, 2, 4, 8)
SEEDS = range(5)
HOUR_VALUE = 2000.0


def measured(size: int, seed: int) -> tuple[float, float, int, bool]:
    """Seconds to build and to solve, columns, and whether the optimum is proved."""
    takeoff, options = large_job(size, seed)
    start = time.perf_counter()
    model = Model(Situation(takeoff, options, "sand", frozenset()))
    built = time.perf_counter()
    found = model.solve(HOUR_VALUE)
    done = time.perf_counter()
    proved = found is not None and found.proved
    return built - start, done - built, model.columns, proved


def main() -> None:
    """Measure and print."""
    print(f"{'size':>5}{'columns':>9}{'build s':>9}{'solve s':>9}{'worst s':>9}  proved")
    for size in SIZES:
        runs = [measured(size, seed) for seed in SEEDS]
        build, solve = (statistics.median(run[i] for run in runs) for i in (0, 1))
        worst = max(run[0] + run[1] for run in runs)
        columns = statistics.median(run[2] for run in runs)
        proved = sum(run[3] for run in runs)
        print(
            f"{size:4}x{columns:9.0f}{build:9.2f}{solve:9.2f}{worst:9.2f}  {proved} of {len(runs)}"
        )


if __name__ == "__main__":
    main()
