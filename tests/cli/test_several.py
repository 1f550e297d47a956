"""Several workbooks in one command: each its own answer, one failing without the others."""

from __future__ import annotations

import json
import shutil
from collections.abc import Callable
from importlib import resources
from pathlib import Path

import jsonschema
import pytest
from click.testing import Result

Run = Callable[..., Result]


@pytest.fixture(scope="module")
def street(tmp_path_factory: pytest.TempPathFactory, small: Path) -> Path:
    """A folder with two good workbooks, one that is none, and the lock file of an open one."""
    folder = tmp_path_factory.mktemp("street")
    shutil.copy(small, folder / "a.xlsx")
    shutil.copy(small, folder / "c.xlsx")
    (folder / "b.xlsx").write_text("Item,Price\n", encoding="utf-8")
    (folder / "~$a.xlsx").write_bytes(b"\x05user")
    return folder


def test_one_failing_does_not_stop_the_others(run: Run, street: Path) -> None:
    result = run("compare", *sorted(street.glob("*.xlsx")), "--json")
    assert result.exit_code == 3
    document = json.loads(result.stdout)
    path = resources.files("budget.report") / "schema" / "compare-several-1.json"
    jsonschema.validate(document, json.loads(path.read_text(encoding="utf-8")))
    assert [Path(w["file"]).name for w in document["workbooks"]] == ["a.xlsx", "b.xlsx", "c.xlsx"]
    assert [w["status"] for w in document["workbooks"]] == [0, 3, 0]
    first, second, third = document["workbooks"]
    assert first["best"] == third["best"]
    assert second["best"] is None
    assert "not an Excel workbook" in second["message"]
    alone = json.loads(run("compare", street / "a.xlsx", "--json", "--no-files").stdout)
    assert first["best"]["cash"] == alone["best"]["cash"]
    assert all(
        Path(path).is_file() for path in (*first["files"].values(), *third["files"].values())
    )


def test_the_table_names_each_and_what_went_wrong(run: Run, street: Path) -> None:
    files = [street / "a.xlsx", street / "a.xlsx", street / "nowhere.xlsx"]
    result = run("compare", *files, "--no-files")
    assert result.exit_code == 3
    assert result.stdout.count("a.xlsx") == 1
    assert "There is no file" in result.stdout


def test_what_is_for_one_workbook_only_is_refused(run: Run, street: Path) -> None:
    files = [street / "a.xlsx", street / "c.xlsx"]
    assert run("compare", *files, "--plan", "best").exit_code == 2
    assert run("compare", *files, "--set", "Job:Sales tax=7 %").exit_code == 2
    twins = [street / "a.xlsx", street / "b" / "A.xlsx"]
    assert run("compare", *twins, "--out", street / "out").exit_code == 2
