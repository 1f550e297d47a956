"""100,000 draws over twelve scenarios against drawing the same numbers with numpy alone.

``python tests/benchmark/draws.py`` prints the ratio, the seconds and the peak of memory. Both are
measured in one process, in turn, and medians are compared. The yardstick draws a triangle for
every unknown from a generator of its own, and does nothing else.
"""

from __future__ import annotations

import statistics
import time
import tracemalloc
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

from budget.decide import compare
from budget.decide.deeper import more_draws
from budget.decide.outcome import Comparison
from budget.decide.risk.draws import SEED, stream
from budget.decide.risk.simulate import THOROUGH_DRAWS
from budget.decide.risk.unknowns import Unknown, unknowns
from budget.job import Pin, Place
from budget.workbook import read

DEMO = Path(__file__).parent.parent.parent / "workbooks" / "terrace.xlsx"
#: Scenarios of one's own beside those of the demo: both with two beddings but the last.
PINS = (("Dig hired", "step:Dig", "hire"), ("Small bed", "bedding", "small gravel"))


def twelve() -> Comparison:
    """The terrace demo with scenarios of one's own until twelve plans can be built."""
    job = read(DEMO).job
    place = Place("Scenarios", 0)
    pins = [Pin(place=place, scenario=s, choice=c, value=v) for s, c, v in PINS]
    comparison = compare(replace(job, pins=(*job.pins, *pins)))
    built = [s for s in comparison.scenarios if s.priced is not None]
    if len(built) < 12:
        msg = f"only {len(built)} scenarios can be built"
        raise SystemExit(msg)
    return comparison


def found_in(comparison: Comparison) -> tuple[Unknown, ...]:
    """Every unknown of every plan."""
    priced = [s.priced for s in comparison.scenarios if s.priced is not None]
    lines = [line for plan in priced for line in plan.lines]
    return unknowns(comparison.job, [f for x in lines for f in (x.money, x.time) if f is not None])


def alone(found: tuple[Unknown, ...]) -> None:
    """The same random numbers, drawn and thrown away."""
    for u in found:
        stream(SEED, u.name).triangular(u.factor.low, 1.0, u.factor.high, THOROUGH_DRAWS)


def seconds(work: Callable[[], object]) -> float:
    """Wall time of one call."""
    start = time.perf_counter()
    work()
    return time.perf_counter() - start


def main() -> None:
    """Measure and print."""
    comparison = twelve()
    found = found_in(comparison)
    runs = [
        (seconds(lambda: more_draws(comparison)), seconds(lambda: alone(found))) for _ in range(5)
    ]
    mine, theirs = (statistics.median(column) for column in zip(*runs, strict=True))
    tracemalloc.start()
    more_draws(comparison)
    peak = tracemalloc.get_traced_memory()[1]
    built = sum(s.priced is not None for s in comparison.scenarios)
    print(f"{THOROUGH_DRAWS:,} draws of {len(found)} unknowns over {built} scenarios")
    print(f"ratio to numpy alone {mine / theirs:.1f}, seconds {mine:.2f}, peak {peak / 1e6:.0f} MB")


if __name__ == "__main__":
    main()
