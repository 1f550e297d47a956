"""The commands before planning: start, check, ask."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING

import click

from budget.cli.command import FOLDER, WORKBOOK, Show, common, read_job, write_numbers_of
from budget.cli.verdict import FINE, PROBLEMS

if TYPE_CHECKING:
    from pathlib import Path

    from budget.units import System


@click.command(short_help="Write a quotes workbook to fill.")
@click.argument("path", type=WORKBOOK, required=False)
@click.option(
    "--units",
    type=click.Choice(["imperial", "metric"]),
    help="Feet and tons, or metres and tonnes.  [default: imperial]",
)
@click.option(
    "--example",
    is_flag=False,
    flag_value="",
    metavar="[NAME]",
    help="Fill it with a worked job: terrace (the default), courtyard or fire-bowl.",
)
@click.option(
    "--from",
    "earlier",
    type=WORKBOOK,
    metavar="OLD",
    help="Carry on sellers, vehicles, machines, products and paces from this workbook.",
)
@click.option("--force", "-f", is_flag=True, help="Overwrite a workbook that is there already.")
@common
def start(
    show: Show,
    path: Path | None,
    units: System | None,
    example: str | None,
    earlier: Path | None,
    force: bool,
) -> int:
    """Write a blank quotes workbook to fill.

    Open it in Excel, LibreOffice or Google Sheets. Its first sheet says what to fill.

    \b
    Examples:
      budget start my-patio.xlsx
      budget start my-patio.xlsx --units metric
      budget start try-it.xlsx --example terrace
      budget start next-job.xlsx --from my-patio.xlsx
    """
    if path is None and example and example.endswith(".xlsx"):
        from pathlib import Path

        path, example = Path(example), ""
    if path is None:
        raise click.UsageError("Say which workbook to write, such as: budget start my-patio.xlsx")
    from budget.report.starting import begin, begin_from
    from budget.report.terminal.terminal import working

    if earlier is not None and (units or example is not None):
        raise click.UsageError("--from brings its own units and rows: leave out the other options.")
    with working("Writing the workbook ...", show.quiet):
        if earlier is not None:
            begun = begin_from(path, earlier, force)
        else:
            begun = begin(path, units, example, force)
    if show.as_json:
        from budget.report.documents import commands

        show.json(commands.start(begun))
    else:
        show.aside(begun.sentence)
    return FINE


@click.command(short_help="List problems and warnings, with how to mend them.")
@click.argument("file", type=WORKBOOK)
@click.option("--full", is_flag=True, help="List the values taken for blanks in a window too.")
@common
def check(show: Show, file: Path, full: bool) -> int:
    """List every problem and warning in a workbook, with its cell and how to mend it.

    Values taken where the workbook leaves a blank are counted in a window, and listed with
    their sources in a pipe and with --full.

    \b
    Examples:
      budget check my-patio.xlsx
      budget check my-patio.xlsx --full
    """
    from budget.report import listings
    from budget.report.documents import commands
    from budget.report.review import review
    from budget.report.terminal.terminal import attached, working
    from budget.workbook import read

    with working("Checking the workbook ...", show.quiet):
        reading = read(file)
        if reading.job is not None:
            write_numbers_of(reading.job)
        found = review(reading)
    window = attached(sys.stdout)
    show.result(
        lambda: listings.check(found, show.quiet, window, full or not window),
        lambda: commands.check(found),
    )
    return PROBLEMS if found.problems else FINE


@click.command(short_help="Write questions to print or send to sellers and firms.")
@click.argument("file", type=WORKBOOK)
@click.option(
    "--out",
    type=FOLDER,
    metavar="DIR",
    help="Folder for the file.  [default: a folder named reports, as for compare]",
)
@common
def ask(show: Show, file: Path, out: Path | None) -> int:
    """Write a workbook with a sheet for each seller, rental shop and firm to print or send.

    It says what to quote, in which amounts, and what to ask about delivery, rent and the scope
    of hired work. It needs Areas only; Quotes may still be empty.

    \b
    Example:
      budget ask my-patio.xlsx
    """
    from budget.report import asking
    from budget.report.documents import commands
    from budget.report.terminal.blocks import Text

    sound = read_job(file, may_be_empty=("Quotes",))
    asked = asking.write(sound.job, file, out)
    show.result(
        lambda: [Text(str(asked.path) if show.quiet else asked.sentence)],
        lambda: commands.ask(asked),
    )
    return FINE
