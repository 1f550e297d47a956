"""What goes wrong around a run: outputs are whole or absent, the message clear, the status right.

=========================== ==========================================================
fault                       what happens
=========================== ==========================================================
a file where the folder is  status 3, the path named, nothing written
no space for a file         status 3, the old outputs stay as they were, no part left
killed at any moment        outputs whole or absent, the workbook untouched
interrupted, also loading   status 130, "Stopped.", outputs whole or absent
two runs at once            both fine, outputs whole
no home, C locale           the same answer
Windows line ends           a workbook's XML with them reads the same
=========================== ==========================================================
"""

from __future__ import annotations

import os
import resource
import shutil
import signal
import subprocess
import sys
import time
import zipfile
from pathlib import Path

import pytest

from budget.workbook import read
from tests.battery.case import sound, values_of
from tests.battery.package import ROOT, demo

DEMO = ROOT / "workbooks" / "fire-bowl.xlsx"
COMPARE = [sys.executable, "-m", "budget", "compare"]


@pytest.fixture
def job(tmp_path: Path) -> Path:
    return Path(shutil.copy(DEMO, tmp_path / "job.xlsx"))


def _run(job: Path, *more: str, **options: object) -> subprocess.CompletedProcess[str]:
    command = [*COMPARE, str(job), *more]
    return subprocess.run(command, capture_output=True, text=True, cwd=ROOT, **options)  # type: ignore[call-overload, no-any-return]


def _start(job: Path) -> subprocess.Popen[str]:
    return subprocess.Popen(
        [*COMPARE, str(job)], stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, cwd=ROOT
    )


def _whole(folder: Path) -> list[str]:
    """The outputs that are there, each opened to the end."""
    found = sorted(path.name for path in folder.glob("*") if not path.name.startswith("."))
    for name in found:
        path = folder / name
        if path.suffix == ".xlsx":
            with zipfile.ZipFile(path) as parts:
                assert parts.testzip() is None
        else:
            assert path.read_text(encoding="utf-8").rstrip().endswith("</html>")
    return found


def test_a_file_where_the_folder_should_be(job: Path) -> None:
    (job.parent / "reports").write_text("my notes")
    ended = _run(job)
    assert ended.returncode == 3
    assert "reports" in ended.stderr
    assert len(ended.stderr.splitlines()) == 1
    assert (job.parent / "reports").read_text() == "my notes"


def test_no_space_left_keeps_what_was_there(job: Path) -> None:
    folder = job.parent / "reports"
    folder.mkdir()
    old = folder / "job-comparison.xlsx"
    old.write_bytes(b"as it was")

    def little_space() -> None:
        signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
        resource.setrlimit(resource.RLIMIT_FSIZE, (2000, 2000))

    ended = _run(job, preexec_fn=little_space)
    assert ended.returncode == 3, ended.stderr
    assert "Traceback" not in ended.stderr
    assert old.read_bytes() == b"as it was"
    assert [path.name for path in folder.iterdir()] == [old.name]


@pytest.mark.parametrize("after", [0.3, 0.8, 1.4])
def test_killed_at_any_moment(job: Path, after: float) -> None:
    before = job.read_bytes()
    running = _start(job)
    time.sleep(after)
    running.kill()
    running.communicate()
    assert _whole(job.parent / "reports") in (
        [], ["job-comparison.xlsx"], ["job-comparison.xlsx", "job-summary.html"]
    )  # fmt: skip
    assert job.read_bytes() == before


def _wait_for_the_solver(running: subprocess.Popen[str]) -> None:
    """Until the solver's library is loaded: then a run is in the midst of its work."""
    while "highs" not in Path(f"/proc/{running.pid}/maps").read_text():
        assert running.poll() is None, "it ended before the solver was loaded"
        time.sleep(0.005)


def test_interrupted_at_work(job: Path) -> None:
    running = _start(job)
    _wait_for_the_solver(running)
    running.send_signal(signal.SIGINT)
    _, errors = running.communicate()
    assert (running.returncode, errors.strip()) == (130, "Stopped.")
    _whole(job.parent / "reports")


def test_interrupted_while_loading() -> None:
    interrupt = """
import sys
class Interrupt:
    def find_spec(self, name, path=None, target=None):
        if name == "click":
            raise KeyboardInterrupt
sys.meta_path.insert(0, Interrupt())
from budget.__main__ import run
run()
"""
    ended = subprocess.run(
        [sys.executable, "-c", interrupt], capture_output=True, text=True, cwd=ROOT
    )
    assert (ended.returncode, ended.stderr.strip()) == (130, "Stopped.")


def test_two_runs_at_once(job: Path) -> None:
    running = [_start(job), _start(job)]
    assert [r.communicate()[1] for r in running] == ["", ""]
    assert [r.returncode for r in running] == [0, 0]
    assert _whole(job.parent / "reports") == ["job-comparison.xlsx", "job-summary.html"]
    assert not list((job.parent / "reports").glob(".*"))


def test_no_home_and_the_plainest_locale(job: Path) -> None:
    bare = {"PATH": os.environ["PATH"], "LC_ALL": "C", "PYTHONPATH": str(ROOT)}
    ended = _run(job, "--no-files", env=bare)
    assert ended.returncode == 0, ended.stderr
    assert "best plan so far" in ended.stdout


def test_line_ends_of_windows(tmp_path: Path) -> None:
    book = demo("courtyard")
    for name, data in book.parts.items():
        book.parts[name] = data.replace(b"><", b">\r\n<") if name.endswith(".xml") else data
    reading = read(book.save(tmp_path / "job.xlsx"))
    assert reading.job is not None
    assert values_of(reading.job) == sound("courtyard")[0]
