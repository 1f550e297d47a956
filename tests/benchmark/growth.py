"""How time and memory grow with the job: ``python tests/benchmark/growth.py [LARGEST]``.

The terrace demo with all its shapes, quotes and spend entries 1, 10, 100 ... times over, each
size in a process of its own. Prints a table and draws ``reports/growth.svg``. A stage that grows
in step with the job has the same time for each of its rows.
"""

from __future__ import annotations

import copy
import json
import math
import re
import resource
import subprocess
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).parents[2]
sys.path.insert(0, str(ROOT))
STAGES = ("read and check", "quantities", "prices")
#: Sheets whose rows are repeated, with their filled rows and the columns that name them.
_REPEATED = {"Areas": (7, "AB"), "Outline": (6, "A"), "Quotes": (36, "B"), "Suppliers": (4, "A"),
             "Spend": (5, "")}  # fmt: skip
#: Feet from one job to the next, and how many lie side by side: none lies upon another.
_APART, _ABREAST = 60, 32


def larger(times: int, to: Path) -> int:
    """The demo so many times over, each copy with names of its own; gives its rows."""
    from tests.battery.package import demo

    book = demo("terrace")
    for sheet, (count, named) in _REPEATED.items():
        data = book.data(sheet)
        first = [row for row in data if 5 <= int(row.get("r", "0")) < 5 + count]
        for row in [row for row in data if int(row.get("r", "0")) >= 5 + count]:
            data.remove(row)
        places = [_place(book, n) if sheet == "Areas" else {} for n in range(1, count + 1)]
        for number in range(1, times):
            for row, place in zip(first, places, strict=True):
                data.append(_renamed(book, row, number, count, named, place))
    book.save(to)
    return times * sum(count for count, _ in _REPEATED.values())


def _place(book, number: int) -> dict[str, int]:  # type: ignore[no-untyped-def]
    """The columns of a shape's place with their direction: 0 along the street, 1 away from it."""
    cells = [book.at("Areas", name, number) for name in ("X", "Y")]
    return {re.sub(r"\d", "", cell): which for which, cell in enumerate(cells)}


def _renamed(book, row, number: int, count: int, named: str, place: dict[str, int]):  # type: ignore[no-untyped-def]
    """A copy of a row further down, with names of its own, and its place further along."""
    steps = number % _ABREAST, number // _ABREAST
    made = copy.deepcopy(row)
    at = int(row.get("r", "0")) + number * count
    made.set("r", str(at))
    for cell in made:
        letters = re.sub(r"\d", "", cell.get("r", ""))
        text = book.shown(cell)
        cell.set("r", f"{letters}{at}")
        if letters and letters in named and text and cell.get("t") == "s":
            _type(cell, "str", f"{text} {number}")
        elif letters in place and text:
            _type(cell, "n", str(float(text) + _APART * steps[place[letters]]))
    return made


def _type(cell, kind: str, text: str) -> None:  # type: ignore[no-untyped-def]
    """Put a text or a number into a cell, whatever was in it."""
    address = cell.get("r")
    cell.clear()
    cell.set("r", address)
    cell.set("t", kind)
    value = cell.makeelement(cell.tag[: cell.tag.index("}") + 1] + "v", {})
    value.text = text
    cell.append(value)


def measured(path: Path) -> dict[str, float]:
    """Seconds of each stage on one workbook, and the most memory [MB]."""
    from budget.prices import flatten
    from budget.quantities import take_off
    from budget.workbook import read

    # Another demo first: what is imported late is then there, and nothing of this job is kept.
    demo = read(ROOT / "workbooks" / "courtyard.xlsx").job
    assert demo is not None
    flatten(demo, take_off(demo))
    times = [time.process_time()]
    job = read(path).job
    assert job is not None, read(path).problems[:3]
    times.append(time.process_time())
    takeoff = take_off(job)
    times.append(time.process_time())
    flatten(job, takeoff)
    times.append(time.process_time())
    found = {stage: b - a for stage, a, b in zip(STAGES, times, times[1:], strict=False)}
    return found | {"MB": resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024}


def drawn(sizes: list[tuple[int, dict[str, float]]]) -> str:
    """Seconds against rows, both in steps of ten, one line a stage; a dotted line is in step."""

    def at(rows: float, seconds: float) -> str:
        across, up = math.log10(rows) - 1, math.log10(seconds) + 2
        return f"{90 + 130 * across:.1f},{330 - 60 * up:.1f}"

    parts = ['<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 690 400" '
             'font-family="sans-serif" font-size="13">',
             "<title>Seconds of each stage against rows of the job</title>",
             '<rect width="690" height="400" fill="#fff"/>']  # fmt: skip
    for power in range(-2, 3):
        x, y = at(10, 10**power).split(",")
        parts.append(f'<path d="M{x} {y}H610" stroke="#ddd"/><text x="80" y="{y}" '
                     f'text-anchor="end">{10.0**power:g} s</text>')  # fmt: skip
    for power in range(1, 6):
        x = at(10**power, 1).split(",")[0]
        parts.append(f'<text x="{x}" y="380" text-anchor="middle">{10**power:,} rows</text>')
    for stage, dash, below in zip(STAGES, ("", "8 4", "2 3"), (-4, 14, 4), strict=True):
        points = [at(rows, max(0.001, found[stage])) for rows, found in sizes]
        x, y = points[-1].split(",")
        parts.append(f'<polyline points="{" ".join(points)}" fill="none" stroke="#222" '
                     f'stroke-width="2" stroke-dasharray="{dash}"/>'
                     f'<text x="{float(x) + 8}" y="{float(y) + below}">'
                     f'{stage}</text>')  # fmt: skip
    first = sizes[0][0]
    ends = " ".join(at(rows, 0.02 * rows / first) for rows, _ in (sizes[0], sizes[-1]))
    parts.append(f'<polyline points="{ends}" fill="none" stroke="#888" stroke-dasharray="1 5"/>')
    return "\n".join([*parts, "</svg>\n"])


def main() -> None:
    """Measure every size in a process of its own, print, draw."""
    if sys.argv[1:2] == ["--one"]:
        print(json.dumps(measured(Path(sys.argv[2]))))
        return
    largest = int(sys.argv[1]) if sys.argv[1:] else 1000
    sizes: list[tuple[int, dict[str, float]]] = []
    print(f"{'times':>6}{'rows':>9}" + "".join(f"{s:>18}" for s in STAGES) + f"{'MB':>8}  ms a row")
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "job.xlsx"
        for times in [10**n for n in range(6) if 10**n <= largest]:
            rows = larger(times, path)
            command = [sys.executable, __file__, "--one", str(path)]
            ended = subprocess.run(command, capture_output=True, text=True, cwd=ROOT, check=True)
            found = json.loads(ended.stdout)
            sizes.append((rows, found))
            each = ", ".join(f"{found[s] / rows * 1000:.2f}" for s in STAGES)
            cells = "".join(f"{found[s]:18.2f}" for s in STAGES)
            print(f"{times:6}{rows:9,}{cells}{found['MB']:8.0f}  {each}", flush=True)
    (ROOT / "reports" / "growth.svg").write_text(drawn(sizes), encoding="utf-8")


if __name__ == "__main__":
    main()
