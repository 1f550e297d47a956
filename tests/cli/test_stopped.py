"""Searches stopped before their proof: every command says that its plan is the best so far."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from click.testing import Result

from budget.decide.planner import Planner
from budget.decide.programme.milp import Programme
from budget.decide.programme.search import Answer

Run = Callable[..., Result]


@pytest.fixture
def stopped(monkeypatch: pytest.MonkeyPatch) -> None:
    """Every search ends with its answer, but without the last of its proof."""
    solved = Programme.solve

    def unproved(self: Programme, *args: Any, **more: Any) -> Answer | None:
        found = solved(self, *args, **more)
        return None if found is None else replace(found, proved=False, gap=0.013)

    monkeypatch.setattr(Programme, "solve", unproved)


@pytest.mark.usefixtures("stopped")
@pytest.mark.parametrize(
    "words",
    [
        ["compare", "FILE", "--no-files"],
        ["compare", "FILE", "--no-files", "--quiet"],
        ["compare", "FILE", "--no-files", "--plan", "best"],
        ["compare", "FILE", "--no-files", "--vary", "Job:Value of an own hour=10,20"],
        ["explain", "FILE", "bedding=sand"],
        ["calendar", "FILE"],
        ["spend", "FILE"],
        ["spend", "FILE", "--full"],
    ],
    ids=" ".join,
)
def test_the_plan_is_called_best_so_far(run: Run, small: Path, words: list[str]) -> None:
    result = run(*(str(small) if word == "FILE" else word for word in words))
    assert result.exit_code == 0, result.output
    assert "best so far, gap" in result.stdout.lower()


def test_nothing_is_said_where_all_is_proved(run: Run, small: Path) -> None:
    for words in (["explain", small, "bedding=sand"], ["calendar", small], ["spend", small]):
        assert "gap" not in run(*words).stdout


@pytest.mark.parametrize(
    "words", [["explain", "FILE", "bedding=sand"], ["calendar", "FILE"], ["spend", "FILE"]]
)
def test_the_limit_reaches_every_search(
    run: Run, small: Path, words: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    limits: list[float] = []
    begun = Planner.__init__

    def begin(self: Planner, *args: Any, **more: Any) -> None:
        begun(self, *args, **more)
        limits.append(self.limit)

    monkeypatch.setattr(Planner, "__init__", begin)
    result = run(*(str(small) if word == "FILE" else word for word in words), "--limit", "2.5")
    assert result.exit_code == 0, result.output
    assert limits
    assert set(limits) == {2.5}
