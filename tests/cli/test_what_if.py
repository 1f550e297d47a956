"""What if and why not on the command line."""

from __future__ import annotations

import json
from collections.abc import Callable
from importlib import resources
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from click.testing import Result

Run = Callable[..., Result]


def read(result: Result, name: str) -> dict[str, Any]:
    """The JSON of a command, held against its schema."""
    assert result.exit_code == 0, result.output
    found: dict[str, Any] = json.loads(result.stdout)
    schema = resources.files("budget.report") / "schema" / f"{name}-1.json"
    jsonschema.validate(found, json.loads(schema.read_text(encoding="utf-8")))
    return found


def test_a_dearer_hour_never_takes_more_own_hours(run: Run, small: Path) -> None:
    vary = "Job:Value of an own hour=0..60 by 30"
    found = read(run("compare", small, "--vary", vary, "--json"), "vary")
    assert [row["value"] for row in found["rows"]] == ["0", "30", "60"]
    hours = [row["own_hours"] for row in found["rows"]]
    assert hours == sorted(hours, reverse=True)


def test_a_changed_value_holds_for_one_run(run: Run, small: Path) -> None:
    before = small.read_bytes()
    change = ("--set", "Job:Value of an own hour=35")
    found = read(run("compare", small, "--no-files", "--json", *change), "compare")
    assert small.read_bytes() == before
    assert {s["hour_value"] for s in found["scenarios"]} == {35}


def test_forcing_what_cannot_be_says_why(run: Run, small: Path) -> None:
    found = read(run("explain", small, "step:Lay=hire", "--json"), "why-not")
    assert found["possible"] or "No bid covers" in found["sentence"]


@pytest.mark.parametrize(
    ("order", "words"),
    [
        (("explain", "step:Lyy=hire"), "did you mean step:Lay"),
        (("compare", "--set", "Nowhere!A1=3"), "There is no sheet named Nowhere"),
        (("compare", "--vary", "Job:Value of an own hour=9..3"), "does not rise"),
    ],
)
def test_what_is_typed_wrongly_is_said(
    run: Run, small: Path, order: tuple[str, ...], words: str
) -> None:
    result = run(order[0], small, *order[1:])
    assert result.exit_code == 2
    assert words in result.stderr
