"""The commands in a real terminal window of 24 lines by 80, and in a pipe."""

import fcntl
import os
import pty
import re
import shutil
import struct
import subprocess
import sys
import termios
from pathlib import Path

import pytest

CODES = re.compile(r"\x1b\[[0-9;?]*[A-Za-z]")


def in_a_window(
    *args: object, lines: int = 24, columns: int = 80, asides: bool = False, **env: str
) -> str:
    """What a terminal of this size receives from ``budget``, with what it says beside or not."""
    ours, theirs = pty.openpty()
    fcntl.ioctl(theirs, termios.TIOCSWINSZ, struct.pack("HHHH", lines, columns, 0, 0))
    inherited = {k: v for k, v in os.environ.items() if k not in ("NO_COLOR", "COLUMNS", "LINES")}
    child = subprocess.Popen(
        [sys.executable, "-m", "budget", *map(str, args)],
        stdin=theirs, stdout=theirs, stderr=theirs if asides else subprocess.DEVNULL,
        env=inherited | {"TERM": "xterm-256color"} | env,
    )  # fmt: skip
    os.close(theirs)
    received = bytearray()
    while True:
        try:
            block = os.read(ours, 65536)
        except OSError:
            break
        if not block:
            break
        received += block
    os.close(ours)
    assert child.wait() == 0
    return received.decode("utf-8").replace("\r\n", "\n")


@pytest.mark.parametrize("example", ["terrace", "small"])
def test_answer_fits_the_window(example: str, request: pytest.FixtureRequest) -> None:
    path: Path = request.getfixturevalue(example)
    text = CODES.sub("", in_a_window("compare", path, "--out", path.parent / "window"))
    shown = text.rstrip("\n").split("\n")
    assert len(shown) < 24, text
    assert max(len(line.rstrip()) for line in shown) <= 80


def test_what_is_next_stands_on_a_line_of_its_own(tmp_path: Path) -> None:
    book = tmp_path / "new.xlsx"
    text = CODES.sub("", in_a_window("start", book, asides=True, columns=200))
    assert text.rstrip("\n").split("\n")[-1] == f"Next: budget check {book}"


DIARY = Path(__file__).parents[2] / "workbooks" / "terrace-diary.xlsx"


@pytest.mark.parametrize("day", ["2026-04-05", "2026-05-03", "2026-05-31", "2026-06-14"])
def test_an_evening_fits_the_window(day: str) -> None:
    text = CODES.sub("", in_a_window("spend", DIARY, "--date", day))
    shown = text.rstrip("\n").split("\n")
    assert len(shown) <= 24, text
    assert max(len(line.rstrip()) for line in shown) <= 80
    assert shown[1].split()[:3] == ["Will", "come", "to"]


@pytest.mark.parametrize(
    "command",
    [
        ("check",),
        ("quantities",),
        ("calendar",),
        ("spend",),
        ("spend", "--full"),
        ("explain", "Dig"),
        ("compare", "--full", "--no-files"),
    ],
    ids=" ".join,
)
def test_other_commands_fit_its_width(small: Path, command: tuple[str, ...]) -> None:
    text = CODES.sub("", in_a_window(command[0], small, *command[1:]))
    assert max(len(line.rstrip()) for line in text.split("\n")) <= 80


def test_check_ends_with_its_warnings_in_a_window(terrace: Path) -> None:
    shown = CODES.sub("", in_a_window("check", terrace)).split("\n")
    assert "Assumed, because the workbook leaves it blank:" not in shown
    assert "--full lists" in " ".join(shown[-3:])
    whole = CODES.sub("", in_a_window("check", terrace, "--full")).split("\n")
    assert whole.index("Assumed, because the workbook leaves it blank:") < whole.index(shown[0])
    assert whole[whole.index(shown[0]) :][:9] == shown[:9]


def test_colour_in_a_window_and_none_when_unwanted(terrace: Path) -> None:
    colour = re.compile(r"\x1b\[[0-9;]*3[0-7]m")
    assert colour.search(in_a_window("check", terrace))
    assert not colour.search(in_a_window("check", terrace, NO_COLOR="1"))
    assert "\x1b" not in in_a_window("check", terrace, TERM="dumb")


def test_json_in_a_window_is_bare(terrace: Path) -> None:
    assert "\x1b" not in in_a_window("check", terrace, "--json")


def test_pipe_has_no_codes_and_cuts_nothing(terrace: Path) -> None:
    ended = subprocess.run(
        [sys.executable, "-m", "budget", "check", str(terrace)],
        capture_output=True, text=True, check=True,
    )  # fmt: skip
    assert "\x1b" not in ended.stdout
    assert "…" not in ended.stdout


LOADED = """
import sys
class Terminal:
    encoding = "utf-8"
    def isatty(self): return True
    def flush(self): pass
    def write(self, text):
        loaded = {"openpyxl", "numpy", "rich", "shapely", "highspy"} & set(sys.modules)
        print(repr(text), sorted(loaded))
sys.stderr = Terminal()
import os
os.environ["TERM"] = "dumb"
from budget.cli import main
main(sys.argv[1:], standalone_mode=False)
"""


@pytest.mark.parametrize(
    "command", ["check", "quantities", "ask", "compare", "calendar", "accept", "spend", "start"]
)
def test_a_terminal_is_told_before_anything_is_loaded(
    small: Path, tmp_path: Path, command: str
) -> None:
    book = tmp_path / "new.xlsx" if command == "start" else shutil.copy(small, tmp_path)
    run = [sys.executable, "-c", LOADED, command, str(book)]
    told = subprocess.run(run, capture_output=True, text=True, check=True).stdout.split("\n")
    assert told[0] == "'One moment ...' []"
    assert told[1].startswith(repr("\r" + " " * len("One moment ...") + "\r"))
    quiet = subprocess.run([*run, "--quiet", *["-f"] * (command == "start")], capture_output=True)
    assert quiet.returncode == 0
    assert b"moment" not in quiet.stdout
