"""The house rules that a machine can check: style, types, import direction, layout."""

import re
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
ALLOWED = {
    "README.md", "DEVELOPERS.md", "pyproject.toml", "budget", "tests", "workbooks", "reports",
}  # fmt: skip


@pytest.mark.parametrize(
    "command",
    [
        [sys.executable, "-m", "ruff", "check", "."],
        [sys.executable, "-m", "ruff", "format", "--check", "."],
        [sys.executable, "-m", "mypy"],
        [str(Path(sys.executable).parent / "lint-imports")],
    ],
    ids=["lint", "format", "types", "imports one way"],
)
def test_static_checks_pass(command: list[str]) -> None:
    result = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)
    assert result.returncode == 0, result.stdout + result.stderr


def tracked_files() -> list[str]:
    listing = subprocess.run(
        ["git", "ls-files"], cwd=ROOT, capture_output=True, text=True, check=True
    )
    return listing.stdout.splitlines()


def test_top_level_holds_nothing_else() -> None:
    top = {name.split("/")[0] for name in tracked_files()}
    assert {name for name in top if not name.startswith(".")} <= ALLOWED


def test_modules_stay_small() -> None:
    long = {
        path.relative_to(ROOT): lines
        for path in (ROOT / "budget").rglob("*.py")
        if (lines := len(path.read_text(encoding="utf-8").splitlines())) > 600
    }
    assert not long


def test_every_dependency_has_its_reason() -> None:
    import tomllib

    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    names = [
        re.split(r"[<>=!~ \[]", dependency)[0]
        for dependency in [*project["dependencies"], *project["optional-dependencies"]["test"]]
    ]
    developers = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    assert [name for name in names if f"`{name}`" not in developers] == []
