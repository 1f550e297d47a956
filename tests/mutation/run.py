"""How many small faults the tests notice: ``python tests/mutation/run.py [LAYER] [COUNT]``.

A sample of changes is drawn by a fixed seed from each layer (quantities, prices, decide). For
every change the tests that ran its line are run, the quickest first, until one fails. Needs
``coverage``. A test that fails without any change is left out.
"""

from __future__ import annotations

import importlib.abc
import importlib.util
import json
import os
import random
import signal
import subprocess
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).parents[2]
sys.path.insert(0, str(ROOT))
LAYERS = ("quantities", "prices", "decide")
#: Seconds after which a changed program counts as noticed: it does not end. Beside it, how often
#: the tests' own time is waited for.
LONGEST, TIMES = 60, 5
#: The tests for one change take at most so many seconds together, the quickest first.
SECONDS_EACH = 12.0
#: Tests of whole large jobs, too slow to be run once for every change.
SLOW = ("test_large_jobs.py", "test_findings.py", "test_deeper.py")

_RC = """
[run]
source = budget
data_file = {data}
"""

#: The tests that run each line of each module of a layer, the quickest first, with their seconds.
Lines = dict[Path, dict[int, list[tuple[float, str]]]]


def covered(layer: str, folder: Path) -> Lines:
    """The tests that run each line of a layer, and pass."""
    import coverage

    data, rc, seconds_to = folder / "data", folder / "rc", folder / "seconds"
    rc.write_text(_RC.format(data=data), encoding="utf-8")
    tests = [*(ROOT / "tests" / layer).glob("test_*.py"), ROOT / "budget" / layer]
    tests += (ROOT / "tests/published").glob(f"test_{layer}*.py")
    chosen = sorted(str(test) for test in tests if test.name not in SLOW)
    command = [sys.executable, "-m", "coverage", "run", f"--rcfile={rc}", "-m", "pytest", "-p"]
    command += ["tests.mutation.contexts", "-p", "no:cacheprovider", *chosen]
    env = {**os.environ, "PYTHONPATH": str(ROOT), "SECONDS_TO": str(seconds_to)}
    subprocess.run(command, cwd=ROOT, check=False, capture_output=True, env=env)
    seconds = json.loads(seconds_to.read_text(encoding="utf-8"))
    found = coverage.CoverageData(str(data))
    found.read()
    files = sorted(Path(f) for f in found.measured_files() if f"/budget/{layer}/" in f)
    return {
        file: {
            line: sorted((seconds[name], name) for name in names if name in seconds)
            for line, names in found.contexts_by_lineno(str(file)).items()
        }
        for file in files
    }


def quickest(tests: list[tuple[float, str]]) -> tuple[float, list[str]]:
    """As many of the tests as fit into the time for one change (one at least), and their time."""
    chosen: list[str] = []
    spent = 0.0
    for seconds, name in tests:
        if chosen and spent + seconds > SECONDS_EACH:
            break
        chosen.append(name)
        spent += seconds
    return spent, chosen


class Changed(importlib.abc.MetaPathFinder, importlib.abc.Loader):
    """Imports one module from changed source."""

    def __init__(self, name: str, source: str, path: Path) -> None:
        self.name, self.source, self.path = name, source, path

    def find_spec(self, name, path=None, target=None):  # type: ignore[no-untyped-def]
        if name != self.name:
            return None
        return importlib.util.spec_from_file_location(name, self.path, loader=self)

    def exec_module(self, module) -> None:  # type: ignore[no-untyped-def]
        exec(compile(self.source, str(self.path), "exec"), module.__dict__)


def noticed(name: str, source: str, path: Path, tests: list[str], seconds: float) -> bool:
    """Whether a test fails, or the changed program does not end, in a process of its own."""
    import pytest

    child = os.fork()
    if child == 0:
        os.setsid()
        quiet = os.open(os.devnull, os.O_WRONLY)
        os.dup2(quiet, 1)
        os.dup2(quiet, 2)
        sys.meta_path.insert(0, Changed(name, source, path))
        options = ["-x", "-q", "-p", "no:cacheprovider", "-p", "no:xdist", "--hypothesis-seed=0"]
        os._exit(int(pytest.main([*options, *tests])))
    until = time.monotonic() + LONGEST + TIMES * seconds
    while time.monotonic() < until:
        ended, status = os.waitpid(child, os.WNOHANG)
        if ended:
            code = os.waitstatus_to_exitcode(status)
            if code in (pytest.ExitCode.USAGE_ERROR, pytest.ExitCode.NO_TESTS_COLLECTED):
                raise RuntimeError(f"these tests cannot be run: {tests}")
            return code != 0
        time.sleep(0.05)
    os.killpg(child, signal.SIGKILL)
    os.waitpid(child, 0)
    return True


def score(layer: str, count: int) -> tuple[int, int, int]:
    """Changes noticed, not noticed, and on lines that no test of the layer runs."""
    from tests.mutation.mutate import mutants

    with tempfile.TemporaryDirectory() as folder:
        lines = covered(layer, Path(folder))
    each = {test for found in lines.values() for tests in found.values() for test in tests}
    if noticed("", "", ROOT, sorted(name for _, name in each), sum(test[0] for test in each)):
        raise RuntimeError(f"the tests of {layer} fail without any change")
    every = [(path, m) for path in lines for m in mutants(path.read_text(encoding="utf-8"))]
    drawn = random.Random(f"{layer} 1").sample(every, min(count, len(every)))
    killed = lived = alone = 0
    for path, mutant in sorted(drawn, key=lambda d: (d[0], d[1].line, d[1].what)):
        tests = lines[path].get(mutant.line, [])
        place = f"{path.relative_to(ROOT)}:{mutant.line}"
        if not tests:
            alone += 1
            print(f"no test      {place}  {mutant.what}", flush=True)
            continue
        name = ".".join(path.relative_to(ROOT).with_suffix("").parts).removesuffix(".__init__")
        seconds, chosen = quickest(tests)
        if noticed(name, mutant.source, path, chosen, seconds):
            killed += 1
        else:
            lived += 1
            print(f"not noticed  {place}  {mutant.what}", flush=True)
    return killed, lived, alone


def main() -> None:
    """Print what was not noticed, and the score of each layer."""
    os.chdir(ROOT)
    layers = [a for a in sys.argv[1:] if a in LAYERS] or list(LAYERS)
    count = next((int(a) for a in sys.argv[1:] if a.isdigit()), 50)
    for layer in layers:
        killed, lived, alone = score(layer, count)
        share = killed / max(1, killed + lived + alone)
        print(
            f"{layer:12} {killed} of {killed + lived + alone} noticed ({share:.0%}); "
            f"{lived} not noticed, {alone} where no test of the layer runs the line",
            flush=True,
        )


if __name__ == "__main__":
    main()
