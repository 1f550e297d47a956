"""The packages that the program rests on: declared, bounded, fitting together, and quiet."""

from __future__ import annotations

import ast
import re
import subprocess
import sys
import tomllib
from importlib.metadata import PackageNotFoundError, packages_distributions, version
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
NEEDED: list[str] = PROJECT["dependencies"]
FOR_TESTS: list[str] = PROJECT["optional-dependencies"]["test"]


#: Modules that LibreOffice brings for the scripts it runs itself.
OFFICE = {"com", "uno", "unohelper"}


def name_of(requirement: str) -> str:
    """The package's name as indexes write it. [PEP 503]"""
    return re.sub(r"[-_.]+", "-", re.split(r"[<>=!~ \[;]", requirement)[0]).lower()


def imported(folder: str) -> set[str]:
    """Top-level modules that the code of a folder imports from outside."""
    found = set()
    for path in (ROOT / folder).rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            names = [a.name for a in node.names] if isinstance(node, ast.Import) else []
            if isinstance(node, ast.ImportFrom) and node.module and not node.level:
                names = [node.module]
            found |= {name.partition(".")[0] for name in names}
    own = {"budget", "tests", *(path.stem for path in (ROOT / "tests").rglob("*.py"))}
    return found - sys.stdlib_module_names - own - OFFICE


def packages_of(folder: str) -> set[str]:
    known = packages_distributions()
    return {name_of(known[module][0]) for module in imported(folder)}


def numbers(text: str) -> tuple[int, ...]:
    return tuple(int(part) for part in re.findall(r"\d+", text.partition("+")[0])[:3])


def test_every_package_that_is_imported_is_declared() -> None:
    assert packages_of("budget") - {name_of(r) for r in NEEDED} == set()
    assert packages_of("tests") - {name_of(r) for r in (*NEEDED, *FOR_TESTS)} == set()


def test_every_package_that_the_program_needs_is_imported() -> None:
    by_another = "defusedxml"  # openpyxl reads with it where it is there
    assert {name_of(r) for r in NEEDED} - packages_of("budget") - {by_another} == set()


@pytest.mark.parametrize("requirement", [*NEEDED, *FOR_TESTS])
def test_every_package_has_a_lower_bound_and_is_at_it_or_above(requirement: str) -> None:
    bound = re.fullmatch(r"[A-Za-z0-9_.-]+>=(\d[\d.]*)", requirement)
    assert bound, "a name and a lower bound, from the usual index"
    assert numbers(version(name_of(requirement))) >= numbers(bound[1])


def test_the_packages_fit_together() -> None:
    try:
        version("pip")
    except PackageNotFoundError:
        pytest.fail("pip is not there to tell whether the packages fit together")
    found = subprocess.run([sys.executable, "-m", "pip", "check"], capture_output=True, text=True)
    assert found.returncode == 0, found.stdout


QUIET = """
import sys
heard = []
def listen(event, details):
    if event.startswith(("socket.", "urllib.", "ftplib.", "smtplib.", "http.client", "webbrowser",
                         "subprocess.", "os.system", "os.exec", "os.posix_spawn", "os.fork")):
        heard.append((event, str(details)[:80]))
sys.addaudithook(listen)
from budget.cli import main
for command in (["compare"], ["ask"], ["accept"], ["spend"], ["calendar"]):
    status = main([*command, sys.argv[1], "--quiet"], standalone_mode=False)
    assert status == 0, (command, status)
for module in sys.argv[2:]:
    __import__(module)
print(heard)
"""


def test_nothing_asks_the_network_or_starts_a_program(tmp_path: Path) -> None:
    """No telemetry, no look for updates: no package opens a connection while it is at work."""
    book = tmp_path / "job.xlsx"
    book.write_bytes((ROOT / "workbooks" / "fire-bowl.xlsx").read_bytes())
    command = [sys.executable, "-c", QUIET, str(book), *sorted(imported("budget"))]
    ended = subprocess.run(command, capture_output=True, text=True, cwd=ROOT)
    assert ended.returncode == 0, ended.stderr
    assert ended.stdout.splitlines()[-1] == "[]"
