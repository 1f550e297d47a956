"""How many small faults the tests notice: ``python tests/mutation/run.py [LAYER] [COUNT]``.

A sample of changes is drawn by a fixed seed from each layer (quantities, prices, decide). For
every change the tests that ran its line are run, until the first that fails. Needs ``coverage``.
"""

from __future__ import annotations

import importlib.abc
import importlib.util
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
#: Seconds after which a changed program counts as noticed: it does not end.
LONGEST = 120
#: At most so many tests for one change.
MOST_TESTS = 60

_RC = """
[run]
source = budget
dynamic_context = test_function
data_file = {data}
"""


def covered(layer: str, folder: Path) -> dict[Path, dict[int, list[str]]]:
    """The tests that run each line of a layer, as pytest names them."""
    import coverage

    data = folder / "data"
    rc = folder / "rc"
    rc.write_text(_RC.format(data=data), encoding="utf-8")
    published = sorted(map(str, (ROOT / "tests/published").glob(f"test_{layer}*.py")))
    tests = [f"tests/{layer}", *published]
    command = [sys.executable, "-m", "coverage", "run", f"--rcfile={rc}", "-m", "pytest", *tests]
    subprocess.run([*command, "-q"], cwd=ROOT, check=False, capture_output=True)
    found = coverage.CoverageData(str(data))
    found.read()
    files = sorted(Path(f) for f in found.measured_files() if f"/budget/{layer}/" in f)
    return {
        file: {
            line: sorted(filter(None, map(_node, names)))
            for line, names in found.contexts_by_lineno(str(file)).items()
        }
        for file in files
    }


def _node(context: str) -> str:
    """``tests.prices.test_bids.test_x`` as ``tests/prices/test_bids.py::test_x``."""
    parts = context.split(".")
    if not parts[-1].startswith("test_") or len(parts) < 2:
        return ""
    path = "/".join(parts[:-1])
    return f"{path}.py::{parts[-1]}" if path.startswith("tests/") else ""


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


def noticed(name: str, source: str, path: Path, tests: list[str]) -> bool:
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
    until = time.monotonic() + LONGEST
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
    tests = {test for found in lines.values() for names in found.values() for test in names}
    if noticed("", "", ROOT, sorted(tests)):
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
        chosen = random.Random(0).sample(tests, min(MOST_TESTS, len(tests)))
        if noticed(name, mutant.source, path, chosen):
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
