"""Help is there for every command, quick, and with an example to copy."""

import os
import re
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest
from click.testing import Result

from budget.cli import main

Run = Callable[..., Result]
COMMANDS = ["start", "check", "quantities", "ask", "compare", "calendar", "explain", "accept",
            "record", "statement", "spend"]  # fmt: skip


def test_commands_stand_in_the_order_of_the_work(run: Run) -> None:
    listed = run("--help").output.split("Commands:")[1].split("\n")
    assert [line.split()[0] for line in listed if line.strip()] == COMMANDS


def test_overview_is_not_cut(run: Run) -> None:
    assert "..." not in run("--help").output.split("Commands:")[1]


def test_version_names_the_program_and_python(run: Run) -> None:
    result = run("--version")
    assert result.exit_code == 0
    assert re.fullmatch(r"budget .+, Python 3\.\d+\.\d+.*\n", result.output)


@pytest.mark.parametrize("option", ["-h", "--help"])
@pytest.mark.parametrize("command", COMMANDS)
def test_help_has_a_worked_example(run: Run, command: str, option: str) -> None:
    result = run(command, option)
    assert result.exit_code == 0
    assert "Example" in result.output
    assert f"budget {command} " in result.output.split("Example")[1]
    assert max(len(line) for line in result.output.splitlines()) <= 80


@pytest.mark.parametrize("command", COMMANDS)
def test_every_command_takes_the_common_options(run: Run, command: str) -> None:
    output = run(command, "--help").output
    assert all(option in output for option in ("--json", "--quiet", "--debug"))


def test_every_option_is_explained() -> None:
    for command in main.commands.values():
        for parameter in command.params:
            if parameter.param_type_name == "option":
                assert getattr(parameter, "help", None), (command.name, parameter.name)


def test_exit_statuses_are_told(run: Run) -> None:
    output = run("--help").output
    assert all(status in output for status in ("0 fine", "1 problems", "2 ", "3 ", "70 ", "130 "))


def test_misspelt_command_and_option_offer_the_nearest(run: Run) -> None:
    command = run("chek", "a.xlsx")
    assert command.exit_code == 2
    assert "check" in command.stderr
    option = run("check", "a.xlsx", "--quite")
    assert option.exit_code == 2
    assert "--quiet" in option.stderr


def test_help_imports_nothing_heavy() -> None:
    script = (
        "import sys\n"
        "import click\n"
        "before = set(sys.modules)\n"
        "from budget.cli import main\n"
        "main(['compare', '--help'], standalone_mode=False)\n"
        "heavy = {'openpyxl', 'pandas', 'pint', 'highspy', 'shapely', 'jinja2', 'xlsxwriter',\n"
        "         'rich', 'numpy', 'defusedxml', 'pathlib'}\n"
        "ours = {m for m in sys.modules if m.startswith('budget.')}\n"
        "print(sorted(heavy & set(sys.modules) - before), sorted(ours))\n"
    )
    ended = subprocess.run(
        [sys.executable, "-c", script], capture_output=True, text=True, check=True
    )
    assert ended.stdout.splitlines()[-1] == (
        "[] ['budget.cli', 'budget.cli.command', 'budget.cli.comparing', 'budget.cli.filling', "
        "'budget.cli.looking', 'budget.cli.spending', 'budget.cli.verdict']"
    )


@pytest.mark.parametrize(
    ("command", "idle"),
    [("start", {"highspy", "numpy", "shapely", "jinja2"}), ("quantities", {"highspy", "jinja2"})],
)
def test_commands_leave_alone_what_they_do_not_use(
    terrace: Path, command: str, idle: set[str]
) -> None:
    script = (
        "import sys\n"
        "from budget.cli import main\n"
        "main(sys.argv[1:], standalone_mode=False)\n"
        "print(sorted(sys.modules))\n"
    )
    book = terrace.parent / "new.xlsx" if command == "start" else terrace
    run = [sys.executable, "-c", script, command, str(book), "--quiet"]
    ended = subprocess.run(run, capture_output=True, text=True, check=True)
    loaded = ended.stdout.splitlines()[-1]
    assert "'budget.workbook'" in loaded
    assert not {name for name in idle if f"'{name}'" in loaded}


def test_runs_as_a_module() -> None:
    ended = subprocess.run(
        [sys.executable, "-m", "budget", "--help"], capture_output=True, text=True, check=True
    )
    assert ended.stdout.startswith("Usage: budget ")


@pytest.mark.parametrize("shell", ["bash", "zsh", "fish"])
def test_completion_script_can_be_had(shell: str) -> None:
    env = os.environ | {"_BUDGET_COMPLETE": f"{shell}_source"}
    ended = subprocess.run(
        [sys.executable, "-m", "budget"], capture_output=True, text=True, env=env, check=False
    )
    assert "_budget_completion" in ended.stdout


def test_completion_offers_commands() -> None:
    env = os.environ | {
        "_BUDGET_COMPLETE": "bash_complete", "COMP_WORDS": "budget com", "COMP_CWORD": "1",
    }  # fmt: skip
    ended = subprocess.run(
        [sys.executable, "-m", "budget"], capture_output=True, text=True, env=env, check=False
    )
    assert ended.stdout.split() == ["plain,compare"]
