"""Lines and branches that the fast tests run, by layer: ``python tests/coverage/run.py [TEST...]``.

Without arguments all tests but those that need a spreadsheet program, a browser or much time.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
import tempfile
from collections import defaultdict
from pathlib import Path

ROOT = Path(__file__).parents[2]
FAST = "not office and not browser and not thorough"


def layer_of(file: str) -> str:
    """The folder below ``budget/``, or units and figures for the modules beside the folders.

    >>> layer_of("budget/prices/packs.py"), layer_of("budget/units.py")
    ('prices', 'units and figures')
    """
    parts = Path(file).parts
    return parts[1] if len(parts) > 2 else "units and figures"


def measured(folder: Path, tests: list[str]) -> dict[str, list[int]]:
    """Lines, lines run, branches, branches run and modules of each layer."""
    import coverage

    data = folder / "data"
    command = [sys.executable, "-m", "coverage", "run", "--branch", "--source=budget"]
    command += [f"--data-file={data}", "-m", "pytest", "-m", FAST, "-p", "no:cacheprovider"]
    env = {**os.environ, "PYTHONPATH": str(ROOT)}
    subprocess.run([*command, *tests], cwd=ROOT, check=False, env=env)
    os.chdir(ROOT)
    runs = coverage.Coverage(data_file=str(data), config_file=False)
    runs.load()
    report = folder / "report.json"
    runs.json_report(outfile=str(report), ignore_errors=True)
    found: dict[str, list[int]] = defaultdict(lambda: [0, 0, 0, 0, 0])
    for file, told in json.loads(report.read_text(encoding="utf-8"))["files"].items():
        sums = told["summary"]
        counts = ("num_statements", "covered_lines", "num_branches", "covered_branches")
        for at, value in enumerate((*(sums[count] for count in counts), 1)):
            found[layer_of(file)][at] += value
    return found


def share(part: int, whole: int) -> str:
    """A share in words; nothing of nothing is all of it."""
    return f"{part / whole:7.1%}" if whole else f"{'-':>7}"


def main() -> None:
    """Run the tests and print the table."""
    with tempfile.TemporaryDirectory() as folder:
        found = measured(Path(folder), sys.argv[1:])
    found["all"] = [sum(counts) for counts in zip(*found.values(), strict=True)]
    print(f"{'layer':24}{'modules':>8}{'lines':>8}{'run':>8}{'branches':>10}{'run':>8}")
    for layer, (lines, ran, branches, taken, modules) in found.items():
        print(f"{layer:24}{modules:8}{lines:8,} {share(ran, lines)}{branches:10,} "
              f"{share(taken, branches)}")  # fmt: skip


if __name__ == "__main__":
    main()
