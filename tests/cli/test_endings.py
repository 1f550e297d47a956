"""How commands end: exit statuses, what goes where, and quiet endings."""

import errno
import json
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import jsonschema
import pytest
from click.testing import Result

Run = Callable[..., Result]
ROOT = Path(__file__).parents[2]


def error_schema() -> dict[str, object]:
    path = ROOT / "budget/report/schema/error-1.json"
    found: dict[str, object] = json.loads(path.read_text(encoding="utf-8"))
    return found


@pytest.fixture
def failing(monkeypatch: pytest.MonkeyPatch) -> Callable[[BaseException], None]:
    """Make the reading of any workbook end in an exception."""

    def fail_with(error: BaseException) -> None:
        def read(_path: object) -> None:
            raise error

        monkeypatch.setattr("budget.workbook.read", read)

    return fail_with


@pytest.mark.parametrize("command", ["check", "quantities", "compare", "spend"])
def test_missing_file_is_3(run: Run, tmp_path: Path, command: str) -> None:
    result = run(command, tmp_path / "nowhere.xlsx")
    assert result.exit_code == 3
    assert "nowhere.xlsx" in result.stderr
    assert result.stdout == ""


def test_file_that_is_no_workbook_is_3(run: Run, tmp_path: Path) -> None:
    path = tmp_path / "letter.xlsx"
    path.write_text("Dear yard, what is a ton of stone?", encoding="utf-8")
    result = run("check", path)
    assert result.exit_code == 3
    assert "Traceback" not in result.output


def test_missing_file_in_json_is_an_object(run: Run, tmp_path: Path) -> None:
    result = run("check", tmp_path / "nowhere.xlsx", "--json")
    assert result.exit_code == 3
    document = json.loads(result.stdout)
    jsonschema.validate(document, error_schema())
    assert document["status"] == 3


def test_wrong_use_is_2(run: Run) -> None:
    assert run("check").exit_code == 2
    assert run("nonsense").exit_code == 2
    assert run("start", "a.xlsx", "--units", "cubits").exit_code == 2


def test_our_own_fault_is_70_and_one_line(run: Run, failing: Callable[..., None]) -> None:
    failing(ZeroDivisionError("division by zero"))
    result = run("check", "any.xlsx")
    assert result.exit_code == 70
    assert len(result.stderr.splitlines()) == 1
    assert "not in your workbook" in result.stderr
    assert "Traceback" not in result.output


def test_debug_shows_the_trace(run: Run, failing: Callable[..., None]) -> None:
    failing(ZeroDivisionError("division by zero"))
    result = run("check", "any.xlsx", "--debug")
    assert result.exit_code == 70
    assert "Traceback" in result.stderr


def test_interruption_is_130(run: Run, failing: Callable[..., None]) -> None:
    failing(KeyboardInterrupt())
    result = run("check", "any.xlsx")
    assert result.exit_code == 130
    assert "Stopped." in result.stderr


def test_disk_trouble_is_3(run: Run, failing: Callable[..., None]) -> None:
    failing(PermissionError(13, "Permission denied", "any.xlsx"))
    result = run("check", "any.xlsx")
    assert result.exit_code == 3
    assert "any.xlsx: Permission denied" in result.stderr


@pytest.mark.parametrize("number", [errno.EACCES, errno.EROFS])
def test_a_folder_that_cannot_be_written_in_is_told_with_the_way_on(
    run: Run, failing: Callable[..., None], number: int
) -> None:
    failing(OSError(number, "Not here", "any.xlsx"))
    result = run("check", "any.xlsx")
    assert result.exit_code == 3
    assert "choose a folder you may write in" in result.stderr


def test_reader_that_goes_away_is_no_trouble(terrace: Path) -> None:
    shell = f"{sys.executable} -m budget quantities '{terrace}' --json | head -c 20"
    ended = subprocess.run(
        ["bash", "-c", f"set -o pipefail; {shell}"], capture_output=True, text=True, check=False
    )
    assert ended.stderr == ""
    assert ended.returncode == 0


def test_narrow_encoding_is_no_trouble(terrace: Path) -> None:
    env = {"PYTHONIOENCODING": "ascii", "PATH": "/usr/bin:/bin"}
    ended = subprocess.run(
        [sys.executable, "-m", "budget", "quantities", str(terrace)],
        capture_output=True, text=True, check=False, env=env,
    )  # fmt: skip
    assert ended.returncode == 0, ended.stderr
