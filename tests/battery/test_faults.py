"""What goes wrong around a run: outputs are whole or absent, the message clear, the status right.

Each test names its fault and what happens; ``python tests/battery/faults.py`` prints the table.
"""

from __future__ import annotations

import ctypes
import datetime as dt
import errno
import os
import resource
import shutil
import signal
import subprocess
import sys
import time
import zipfile
from pathlib import Path, PureWindowsPath

import pytest
from click.testing import CliRunner

from budget.cli import main
from budget.job import Place, Spend
from budget.report.files import folder_for
from budget.spend import journal
from budget.spend.journal import Recorded
from budget.workbook import read
from tests.battery.case import sound, values_of
from tests.battery.package import ROOT, demo

fault = pytest.mark.fault
DEMO = ROOT / "workbooks" / "fire-bowl.xlsx"
COMPARE = [sys.executable, "-m", "budget", "compare"]


@pytest.fixture
def job(tmp_path: Path) -> Path:
    return Path(shutil.copy(DEMO, tmp_path / "job.xlsx"))


def _run(job: Path, *more: str, **options: object) -> subprocess.CompletedProcess[str]:
    command = [*COMPARE, str(job), *more]
    return subprocess.run(command, capture_output=True, text=True, cwd=ROOT, **options)  # type: ignore[call-overload, no-any-return]


def _heed_interrupts() -> None:
    """Make a child heed them even where tests run in the background, which ignores them."""
    signal.signal(signal.SIGINT, signal.SIG_DFL)


def _start(job: Path) -> subprocess.Popen[str]:
    return subprocess.Popen(
        [*COMPARE, str(job)], stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, cwd=ROOT,
        preexec_fn=_heed_interrupts,
    )  # fmt: skip


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


@fault("a file where the folder is", "status 3, the path named, nothing written")
def test_a_file_where_the_folder_should_be(job: Path) -> None:
    (job.parent / "reports").write_text("my notes")
    ended = _run(job)
    assert ended.returncode == 3
    assert "reports" in ended.stderr
    assert len(ended.stderr.splitlines()) == 1
    assert (job.parent / "reports").read_text() == "my notes"


#: Linux, prctl(2) and capabilities(7): drop from the bounding set; what lets root pass by the
#: permissions of files, and of folders.
_DROP, _OVERRIDE, _SEARCH = 24, 1, 2


def _heed_permissions() -> None:
    """Make a child heed permissions even where tests run as root."""
    if os.geteuid() == 0:
        for capability in (_OVERRIDE, _SEARCH):
            if ctypes.CDLL(None, use_errno=True).prctl(_DROP, capability, 0, 0, 0) != 0:
                raise OSError(ctypes.get_errno(), "root cannot be made to heed permissions")


@fault("a folder not to write in", "status 3, the file named, nothing written or changed")
def test_a_folder_not_to_write_in(job: Path) -> None:
    folder = job.parent / "reports"
    folder.mkdir()
    old = folder / "job-comparison.xlsx"
    old.write_bytes(b"as it was")
    folder.chmod(0o555)
    ended = _run(job, preexec_fn=_heed_permissions)
    folder.chmod(0o755)
    assert ended.returncode == 3, ended.stderr
    assert ended.stdout == ""
    (line,) = ended.stderr.splitlines()
    assert line.startswith(f"{old}: Permission denied. If it is open in another program, close it")
    assert line.endswith("Nothing was changed.")
    assert old.read_bytes() == b"as it was"
    assert [path.name for path in folder.iterdir()] == [old.name]


@fault("a folder not to write in", "status 3, the file named, nothing written or changed")
def test_a_folder_in_which_none_may_be_made(job: Path) -> None:
    job.parent.chmod(0o555)
    ended = _run(job, preexec_fn=_heed_permissions)
    job.parent.chmod(0o755)
    assert ended.returncode == 3, ended.stderr
    assert ended.stderr.startswith(f"{job.parent / 'reports'}: Permission denied. ")
    assert [path.name for path in job.parent.iterdir()] == [job.name]


@fault("a file not to read", "status 3, the file named")
def test_a_file_not_to_read(job: Path) -> None:
    job.chmod(0o000)
    ended = _run(job, preexec_fn=_heed_permissions)
    assert ended.returncode == 3, ended.stderr
    (line,) = ended.stderr.splitlines()
    assert str(job) in line


@fault("an output open elsewhere", "status 3, the file named, the old outputs stay as they were")
@pytest.mark.parametrize("command", ["compare", "ask", "start", "accept"])
def test_an_output_open_elsewhere(job: Path, monkeypatch: pytest.MonkeyPatch, command: str) -> None:
    """Windows refuses to replace a file that another program holds open."""
    name = {"start": "new.xlsx", "accept": "job-baseline.xlsx"}.get(command)
    folder = job.parent if name else job.parent / "reports"
    folder.mkdir(exist_ok=True)
    target = folder / (name or f"job-{'comparison' if command == 'compare' else 'questions'}.xlsx")
    if command != "accept":
        target.write_bytes(b"as it was")

    def held(self: Path, to: Path) -> None:
        raise PermissionError(errno.EACCES, "The process cannot access the file", str(self), 32, to)

    monkeypatch.setattr(Path, "replace", held)
    asked = [command, str(target), "--force"] if command == "start" else [command, str(job)]
    result = CliRunner().invoke(main, asked)
    assert result.exit_code == 3, result.output
    assert result.stderr.splitlines()[-1].startswith(f"{target}: The process cannot access")
    assert "close it there" in result.stderr
    assert command == "accept" or target.read_bytes() == b"as it was"
    left = [] if command == "accept" else [target.name]
    assert [path.name for path in folder.iterdir() if path != job] == left


@fault("another program's lock file", "written as usual")
def test_a_lock_file_of_another_program(job: Path) -> None:
    folder = job.parent / "reports"
    folder.mkdir()
    locks = [folder / ".~lock.job-comparison.xlsx#", folder / "~$job-comparison.xlsx"]
    for lock in locks:
        lock.write_text(",somebody,their-machine;")
    ended = _run(job)
    assert ended.returncode == 0, ended.stderr
    assert all(lock.exists() for lock in locks)
    assert [name for name in _names(folder) if "lock" not in name and "$" not in name] == [
        "job-comparison.xlsx", "job-summary.html",
    ]  # fmt: skip


def _names(folder: Path) -> list[str]:
    return sorted(path.name for path in folder.iterdir())


@fault("no terminal at all", "the same answer, plain, and the same files")
def test_no_terminal_at_all(job: Path) -> None:
    """Started by a timer: no terminal, nothing to read from, output to a file."""
    bare = {"PATH": os.environ["PATH"], "PYTHONPATH": str(ROOT), "TERM": "dumb"}
    usual = _run(job, stdin=subprocess.DEVNULL, start_new_session=True)
    ended = _run(job, stdin=subprocess.DEVNULL, start_new_session=True, env=bare)
    assert (ended.returncode, ended.stderr) == (0, "")
    assert ended.stdout == usual.stdout
    assert "\x1b" not in ended.stdout
    assert _whole(job.parent / "reports") == ["job-comparison.xlsx", "job-summary.html"]


@fault("no fonts", "the same page and workbook, byte by byte")
def test_no_fonts_at_all(job: Path, tmp_path: Path) -> None:
    nothing = tmp_path / "fonts.conf"
    nothing.write_text('<?xml version="1.0"?><fontconfig></fontconfig>')
    contents = []
    for env in (os.environ, {**os.environ, "FONTCONFIG_FILE": str(nothing)}):
        assert _run(job, env=env).returncode == 0
        folder = job.parent / "reports"
        contents.append([path.read_bytes() for path in sorted(folder.iterdir())])
    assert contents[0] == contents[1]


@fault("no space for a file", "status 3, the old outputs stay as they were, no part left")
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


def _in_little_space(job: Path, script: str) -> subprocess.CompletedProcess[str]:
    """Run a shell script beside a file system of its own that has room for the job and 16 kB."""
    room = (job.stat().st_size // 4096 + 5) * 4096
    whole = f"set -e; mount -t tmpfs -o size={room} none here; set +e; {script}"
    return subprocess.run(
        ["unshare", "--map-root-user", "--mount", "sh", "-c", whole],
        capture_output=True, text=True, cwd=job.parent,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
    )  # fmt: skip


@fault("no space for a file", "status 3, the old outputs stay as they were, no part left")
def test_a_disk_that_is_full(job: Path) -> None:
    """A real one, small; what the job's own folder holds is listed at the end."""
    (job.parent / "here").mkdir()
    if _in_little_space(job, "true").returncode != 0:
        pytest.skip("this system lets nobody mount a file system of his own")
    full = "cp job.xlsx here; cp /dev/zero here/rest 2>/dev/null"
    budget = f"{sys.executable} -m budget"
    outputs = {
        "compare here/job.xlsx": "here/reports/job-comparison.xlsx",
        "start here/new.xlsx": "here/new.xlsx",
        "accept here/job.xlsx": "here/job-baseline.xlsx",
        "record here/job.xlsx Chalk paid 4 --date 2026-05-02 --new-line": "here/job-entries.csv",
    }
    script = ";".join(f"{budget} {each}; echo status $?" for each in outputs)
    left = "find here -type f -size +0 | sort; cmp job.xlsx here/job.xlsx"
    ended = _in_little_space(job, f"{full}; {script}; {left}")
    assert ended.stdout.split() == [*["status", "3"] * 4, "here/job.xlsx", "here/rest"]
    assert ended.stderr.splitlines() == [
        f"{path}: No space left on device. Nothing was changed." for path in outputs.values()
    ]
    assert ended.returncode == 0


@fault("no space for what is printed", "status 3 and a line on standard error, no trace")
@pytest.mark.parametrize("words", ["compare job.xlsx", "check job.xlsx --json", "--help"])
def test_printing_onto_a_full_disk(job: Path, words: str) -> None:
    """Linux, full(4): whatever is written to /dev/full finds no space."""
    command = [sys.executable, "-m", "budget", *words.split()]
    env = {**os.environ, "PYTHONPATH": str(ROOT)}
    with Path("/dev/full").open("w") as full:
        ended = subprocess.run(
            command, stdout=full, stderr=subprocess.PIPE, text=True, cwd=job.parent, env=env
        )
        if words == "--help":  # neither can that be said where standard error is as full
            silent = subprocess.run(command, stdout=full, stderr=full, cwd=job.parent, env=env)
            assert silent.returncode == 3
    assert ended.returncode == 3
    (line,) = ended.stderr.splitlines()
    assert line.startswith("The answer could not be printed: No space left on device.")
    if words.startswith("compare"):
        assert _whole(job.parent / "reports") == ["job-comparison.xlsx", "job-summary.html"]


@fault("nothing to print to", "files written as usual, status as usual")
def test_started_without_any_stream(job: Path) -> None:
    command = f"{sys.executable} -m budget compare {job} <&- >&- 2>&-"
    assert subprocess.run(["sh", "-c", command], cwd=ROOT).returncode == 0
    assert _whole(job.parent / "reports") == ["job-comparison.xlsx", "job-summary.html"]
    command = command.replace("job.xlsx", "nowhere.xlsx")
    assert subprocess.run(["sh", "-c", command], cwd=ROOT).returncode == 3


@fault("killed at any moment", "outputs whole or absent, the workbook untouched")
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


@fault("interrupted, also loading", "status 130, 'Stopped.', outputs whole or absent")
def test_interrupted_at_work(job: Path) -> None:
    running = _start(job)
    _wait_for_the_solver(running)
    running.send_signal(signal.SIGINT)
    _, errors = running.communicate()
    assert (running.returncode, errors.strip()) == (130, "Stopped.")
    _whole(job.parent / "reports")


@fault("interrupted, also loading", "status 130, 'Stopped.', outputs whole or absent")
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


@fault("two runs at once", "both fine, outputs whole")
def test_two_runs_at_once(job: Path) -> None:
    running = [_start(job), _start(job)]
    assert [r.communicate()[1] for r in running] == ["", ""]
    assert [r.returncode for r in running] == [0, 0]
    assert _whole(job.parent / "reports") == ["job-comparison.xlsx", "job-summary.html"]
    assert not list((job.parent / "reports").glob(".*"))


@fault("no home, C locale", "the same answer")
def test_no_home_and_the_plainest_locale(job: Path) -> None:
    bare = {"PATH": os.environ["PATH"], "LC_ALL": "C", "PYTHONPATH": str(ROOT)}
    usual = _run(job, "--no-files")
    for env in (bare, {**bare, "HOME": str(job.parent / "nowhere")}):
        ended = _run(job, "--no-files", env=env)
        assert ended.returncode == 0, ended.stderr
        assert ended.stdout == usual.stdout


@fault("Windows line ends", "workbook and journal with them read the same")
def test_line_ends_of_windows(tmp_path: Path) -> None:
    book = demo("courtyard")
    for name, data in book.parts.items():
        book.parts[name] = data.replace(b"><", b">\r\n<") if name.endswith(".xml") else data
    reading = read(book.save(tmp_path / "job.xlsx"))
    assert reading.job is not None
    assert values_of(reading.job) == sound("courtyard")[0]


@fault("Windows line ends", "workbook and journal with them read the same")
def test_a_journal_saved_by_another_editor(tmp_path: Path) -> None:
    """With a byte order mark and other line ends; what is recorded afterwards is read too."""
    path = tmp_path / "job-entries.csv"
    day = dt.date(2026, 5, 2)
    first, second = (
        Spend(place=Place("journal", 0), date=day, line=f"Sand {n}", amount=100.0 * n)
        for n in (1, 2)
    )
    journal.append(path, [Recorded(first)])
    path.write_bytes(b"\xef\xbb\xbf" + path.read_bytes().replace(b"\n", b"\r\n"))
    journal.append(path, [Recorded(second)])
    found = journal.read(path)
    assert found.warnings == ()
    assert [(e.line, e.amount) for e in found.entries] == [("Sand 1", 100.0), ("Sand 2", 200.0)]


@fault("Windows paths", "folders as everywhere; no name that the system reserves")
@pytest.mark.parametrize(
    ("workbook", "folder"),
    [
        (r"C:\jobs\garden.xlsx", r"C:\jobs\reports"),
        (r"C:\jobs\Workbooks\garden.xlsx", r"C:\jobs\reports"),
        (r"\\house\share\workbooks\garden.xlsx", r"\\house\share\reports"),
        (r"jobs\garden.xlsx", r"jobs\reports"),
    ],
)
def test_folders_on_windows(workbook: str, folder: str) -> None:
    found = folder_for(PureWindowsPath(workbook))  # type: ignore[arg-type]
    assert found == PureWindowsPath(folder)


@fault("Windows paths", "folders as everywhere; no name that the system reserves")
@pytest.mark.parametrize(
    "stem", ["CON", "aux", "job.", "job ", "a&b", "Garten über", "back\\slash"]
)
def test_awkward_names_of_workbooks(tmp_path: Path, stem: str) -> None:
    """The outputs take the workbook's own name with a word behind, which no system reserves."""
    job = Path(shutil.copy(DEMO, tmp_path / f"{stem}.xlsx"))
    result = CliRunner().invoke(main, ["compare", str(job), "--quiet"])
    assert result.exit_code == 0, result.output
    names = [path.name for path in (tmp_path / "reports").iterdir()]
    assert sorted(names) == [f"{stem}-comparison.xlsx", f"{stem}-summary.html"]
    reserved = {
        "con",
        "prn",
        "aux",
        "nul",
        *(f"{d}{n}" for d in ("com", "lpt") for n in "123456789"),
    }
    for name in names:
        assert name.partition(".")[0].rstrip(" .").casefold() not in reserved
        assert not name.endswith((".", " "))
