"""A filled workbook and a way to run commands on it."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from budget.cli import main

Run = Callable[..., Result]


@pytest.fixture
def run() -> Run:
    """Run ``budget`` with arguments; standard output and error are kept apart."""

    def call(*args: object, **env: str | None) -> Result:
        return CliRunner(env=env).invoke(main, [str(arg) for arg in args])

    return call


@pytest.fixture(scope="session")
def small(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The small example on its three sheets, in a folder of its own."""
    return _example(tmp_path_factory.mktemp("small") / "bowl.xlsx", "fire-bowl")


@pytest.fixture(scope="session")
def terrace(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The terrace example, in a folder of its own."""
    return _example(tmp_path_factory.mktemp("terrace") / "terrace.xlsx", "terrace")


def _example(path: Path, name: str) -> Path:
    result = CliRunner().invoke(main, ["start", str(path), "--example", name])
    assert result.exit_code == 0, result.output
    return path
