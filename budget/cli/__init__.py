"""The ``budget`` command: parse, call, print. No arithmetic here."""

from __future__ import annotations

import click

from budget.cli.command import InOrder
from budget.cli.comparing import compare
from budget.cli.filling import ask, check, start
from budget.cli.looking import explain, quantities, when
from budget.cli.spending import accept, record, spend, statement


def _version(ctx: click.Context, _option: click.Parameter, asked: bool) -> None:
    """Say which version this is, and stop."""
    if not asked or ctx.resilient_parsing:
        return
    from importlib.metadata import PackageNotFoundError, version
    from platform import python_version

    try:
        number = version("outdoor-room-budget")
    except PackageNotFoundError:
        number = "run from its source folder, not installed"
    click.echo(f"budget {number}, Python {python_version()}")
    ctx.exit()


@click.group(
    name="budget",
    cls=InOrder,
    context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 88},
)
@click.option(
    "--version",
    is_flag=True,
    is_eager=True,
    expose_value=False,
    callback=_version,
    help="Say which version this is.",
)
def main() -> None:
    """Quantities, quotes and the best plan for a paved outdoor room.

    You fill a workbook with your sketch and your quotes; this tells what to order, what to do
    yourself, what to hire, and what it costs.

    \b
    Example:
      budget start my-patio.xlsx        writes a workbook to fill
      budget compare my-patio.xlsx      tells the best plan

    \b
    Exit status: 0 fine, 1 problems in the workbook, 2 command typed wrongly,
    3 a file cannot be read or written, 70 a fault of the program, 130 stopped.
    """


#: In the order of the work; help lists them so.
_COMMANDS = (
    start, check, quantities, ask, compare, when, explain, accept, record, statement, spend,
)  # fmt: skip

for _command in _COMMANDS:
    main.add_command(_command)
