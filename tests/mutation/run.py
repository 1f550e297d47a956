"""How many small faults the tests notice.

``python tests/mutation/run.py [LAYER...] [COUNT] [SEED]``

A sample of changes is drawn by a seed from each layer: a larger COUNT holds the smaller one, and
a change of the program elsewhere leaves it as it is. For every change the tests that ran its line
are run, those first that noticed another change of the module and then the quickest, until one
fails. Changes that leave the program doing the same are listed with the reason in ``argued.csv``
and do not count. Needs ``coverage``. A test that fails without any change is left
out.
"""

from __future__ import annotations

import ast
import csv
import hashlib
import importlib.abc
import importlib.util
import json
import os
import signal
import subprocess
import sys
import tempfile
import time
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).parents[2]
sys.path.insert(0, str(ROOT))

from tests.mutation.forked import LONGEST, TIMES, Forked, Trial  # noqa: E402
from tests.mutation.mutate import Mutant, mutants, mutated  # noqa: E402

LAYERS = ("quantities", "prices", "decide", "spend")
#: The tests for one change take at most so many processor seconds together, the quickest first.
SECONDS_EACH = 20.0
#: Demos that a layer's tests compare and none of its changes can alter.
WARM = {"spend": ("terrace",)}
#: How pytest is run for a change.
OPTIONS = ("-q", "-p", "no:cacheprovider", "-p", "no:xdist", "-p", "tests.mutation.profile")
#: Tests of whole large jobs, too slow to be run once for every change.
SLOW = ("test_large_jobs.py", "test_findings.py")

_RC = """
[run]
source = budget
data_file = {data}
"""

#: File, text of the line, character of the line, and change.
Key = tuple[str, str, int, str]
#: The tests that run each line of each module of a layer, the quickest first, with their seconds.
Lines = dict[Path, dict[int, list[tuple[float, str]]]]


def covered(layer: str, folder: Path) -> tuple[Lines, set[tuple[Path, int]]]:
    """The tests that run each line of a layer, and pass; and the lines run before any test."""
    import coverage

    data, rc, seconds_to = folder / "data", folder / "rc", folder / "seconds"
    rc.write_text(_RC.format(data=data), encoding="utf-8")
    tests = [*(ROOT / "tests" / layer).glob("test_*.py"), ROOT / "budget" / layer]
    tests += (ROOT / "tests/published").glob(f"test_{layer}*.py")
    chosen = sorted(str(test) for test in tests if test.name not in SLOW)
    command = [sys.executable, "-m", "coverage", "run", f"--rcfile={rc}", "-m", "pytest", "-p"]
    command += ["tests.mutation.contexts", "-p", "tests.mutation.profile", "-p", "no:cacheprovider"]
    command += chosen
    env = {**os.environ, "PYTHONPATH": str(ROOT), "SECONDS_TO": str(seconds_to)}
    subprocess.run(command, cwd=ROOT, check=False, capture_output=True, env=env)
    seconds = json.loads(seconds_to.read_text(encoding="utf-8"))
    found = coverage.CoverageData(str(data))
    found.read()
    files = sorted(Path(f) for f in found.measured_files() if f"/budget/{layer}/" in f)
    names_of = {file: found.contexts_by_lineno(str(file)) for file in files}
    lines = {
        file: {
            line: sorted((seconds[name], name) for name in names if name in seconds)
            for line, names in by_line.items()
        }
        for file, by_line in names_of.items()
    }
    early = {
        (file, n) for file, each in names_of.items() for n, names in each.items() if "" in names
    }
    return lines, early


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
    """Whether a test fails, or the changed program does not end, in a process that starts anew."""
    import pytest

    child = os.fork()
    if child == 0:
        os.setsid()
        quiet = os.open(os.devnull, os.O_WRONLY)
        os.dup2(quiet, 1)
        os.dup2(quiet, 2)
        sys.meta_path.insert(0, Changed(name, source, path))
        os._exit(int(pytest.main(["-x", *OPTIONS, *tests])))
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


@dataclass(frozen=True)
class Drawn:
    """One change of a sample."""

    path: Path
    mutant: Mutant

    @property
    def file(self) -> str:
        """The module, seen from the folder of the project."""
        return self.path.relative_to(ROOT).as_posix()

    @property
    def told(self) -> str:
        """Where and what."""
        return f"{self.file}:{self.mutant.line}  {self.mutant.what}"

    @property
    def key(self) -> Key:
        """File, text of the line, character of the line, and change."""
        line = self.path.read_text(encoding="utf-8").splitlines()[self.mutant.line - 1]
        return self.file, line.strip(), self.mutant.at, self.mutant.what

    def rank(self, seed: str) -> bytes:
        """Its place in the order of a seed."""
        return hashlib.sha256(repr((seed, self.key)).encode()).digest()

    def tree(self) -> ast.Module:
        """The changed module."""
        return mutated(self.path.read_text(encoding="utf-8"), self.mutant)


def drawn(layer: str, count: int, seed: str) -> list[Drawn]:
    """A sample of the changes of a layer, in the order of its modules and lines."""
    paths = sorted((ROOT / "budget" / layer).rglob("*.py"))
    every = [Drawn(path, m) for path in paths for m in mutants(path.read_text(encoding="utf-8"))]
    found = sorted(every, key=lambda d: d.rank(seed))[:count]
    return sorted(found, key=lambda d: (d.file, d.mutant.line, d.mutant.index))


def argued() -> set[Key]:
    """Those that leave the program doing the same."""
    with (Path(__file__).parent / "argued.csv").open(encoding="utf-8", newline="") as file:
        rows = csv.DictReader(file)
        return {(row["file"], row["line"], int(row["at"]), row["change"]) for row in rows}


def stale() -> list[str]:
    """Argued changes that cannot be made any more: they are to be argued anew."""
    known = argued()
    paths = {ROOT / file for file, *_ in known}
    there = {
        Drawn(path, m).key
        for path in paths
        if path.exists()
        for m in mutants(path.read_text(encoding="utf-8"))
    }
    return ["  ".join(map(str, key)) for key in sorted(known - there)]


def tried(
    trials: Sequence[Trial], tests: Sequence[str], folder: Path, warm: Sequence[str]
) -> list[bool]:
    """Whether each change is noticed, in one process whose children run the tests."""
    import pytest

    told, log = folder / "noticed", folder / "log"
    told.touch()
    child = os.fork()
    if child == 0:
        for stream in (1, 2):
            os.dup2(os.open(log, os.O_WRONLY | os.O_CREAT | os.O_APPEND), stream)
        with told.open("a", encoding="utf-8") as file:
            plugin = Forked(trials, lambda _, found: print(int(found), file=file, flush=True), warm)
            os._exit(int(pytest.main([*OPTIONS, *tests], plugins=[plugin])))
    os.waitpid(child, 0)
    found = [line == "1" for line in told.read_text(encoding="utf-8").split()]
    if len(found) < len(trials):
        raise RuntimeError(log.read_text(encoding="utf-8", errors="replace")[-2000:])
    return found


def score(layer: str, count: int, seed: str) -> tuple[int, int, int, int]:
    """Changes noticed, argued, not noticed, and on lines that no test of the layer runs."""
    known = argued()
    sample = drawn(layer, count, seed)
    open_ = [d for d in sample if d.key not in known]
    with tempfile.TemporaryDirectory() as folder:
        lines, early = covered(layer, Path(folder))
        tests = [lines.get(d.path, {}).get(d.mutant.line, []) for d in open_]
        found = [(d, *quickest(each)) for d, each in zip(open_, tests, strict=True) if each]
        trials = [Trial(d.path, d.tree, chosen, seconds) for d, seconds, chosen in found]
        files = sorted({name.partition("::")[0] for trial in trials for name in trial.tests})
        seen = tried(trials, files, Path(folder), WARM.get(layer, ()))
    alone = [d for d, each in zip(open_, tests, strict=True) if not each]
    lived = []
    for (d, seconds, chosen), was in zip(found, seen, strict=True):
        again = not was and (d.path, d.mutant.line) in early
        source = ast.unparse(d.tree()) if again else ""
        if not was and not (again and noticed(_name(d.path), source, d.path, chosen, seconds)):
            lived.append(d)
    for what, which in (("no test    ", alone), ("not noticed", lived)):
        for d in which:
            print(f"{what}  {d.told}", flush=True)
    return len(found) - len(lived), len(sample) - len(open_), len(lived), len(alone)


def _name(path: Path) -> str:
    name = ".".join(path.relative_to(ROOT).with_suffix("").parts)
    return name.removesuffix(".__init__")


def main() -> None:
    """Print what was not noticed, and the score of each layer."""
    os.chdir(ROOT)
    layers = [a for a in sys.argv[1:] if a in LAYERS] or list(LAYERS)
    for row in stale():
        print(f"no such change {row}", flush=True)
    numbers = [a for a in sys.argv[1:] if a.isdigit()]
    count, seed = int(numbers[0]) if numbers else 50, numbers[1] if len(numbers) > 1 else "1"
    for layer in layers:
        killed, same, lived, alone = score(layer, count, seed)
        whole = killed + lived + alone
        print(
            f"{layer:12} {killed} of {whole} noticed ({killed / max(1, whole):.1%}); {lived} not "
            f"noticed, {alone} where no test of the layer runs the line; {same} more argued; "
            f"seed {seed}",
            flush=True,
        )


if __name__ == "__main__":
    main()
