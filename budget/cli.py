"""The ``budget`` command: parse, call, print. No arithmetic here."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

from budget.command import FINE, PROBLEMS, InOrder, Show, common, compared, read_job

if TYPE_CHECKING:
    from budget.report.blocks import Block
    from budget.units import System

_WORKBOOK = click.Path(path_type=Path)


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


@main.command(short_help="Write a quotes workbook to fill.")
@click.argument("path", type=_WORKBOOK, required=False)
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
@click.option("--force", "-f", is_flag=True, help="Overwrite a workbook that is there already.")
@common
def start(
    show: Show, path: Path | None, units: System | None, example: str | None, force: bool
) -> int:
    """Write a blank quotes workbook to fill.

    Open it in Excel, LibreOffice or Google Sheets. Its first sheet says what to fill.

    \b
    Examples:
      budget start my-patio.xlsx
      budget start my-patio.xlsx --units metric
      budget start try-it.xlsx --example terrace
    """
    if path is None and example and example.endswith(".xlsx"):
        path, example = Path(example), ""
    if path is None:
        raise click.UsageError("Say which workbook to write, such as: budget start my-patio.xlsx")
    from budget.report import documents
    from budget.report.starting import begin

    begun = begin(path, units, example, force)
    if show.as_json:
        show.json(documents.start(begun.path, begun.units, begun.example))
    else:
        show.aside(begun.sentence)
    return FINE


@main.command(short_help="List problems and warnings, with how to mend them.")
@click.argument("file", type=_WORKBOOK)
@common
def check(show: Show, file: Path) -> int:
    """List every problem and warning in a workbook, with its cell and how to mend it.

    \b
    Example:
      budget check my-patio.xlsx
    """
    from budget.report import documents, listings
    from budget.report.review import review
    from budget.workbook import read

    found = review(read(file))
    show.result(lambda: listings.check(found, show.quiet), lambda: documents.check(found))
    return PROBLEMS if found.problems else FINE


@main.command(short_help="Tell how much of everything is needed.")
@click.argument("file", type=_WORKBOOK)
@common
def quantities(show: Show, file: Path) -> int:
    """Tell how much of everything is needed, and in how many packs it comes.

    \b
    Example:
      budget quantities my-patio.xlsx
    """
    from budget.report import documents, listings, needs

    job = read_job(file).job
    found = needs.quantities_of(job)
    show.result(
        lambda: listings.quantities(job, found, show.quiet),
        lambda: documents.quantities(job, found),
    )
    return FINE


@main.command(short_help="Find the best plan; write a workbook and a page.")
@click.argument("file", type=_WORKBOOK)
@click.option(
    "--out",
    type=click.Path(file_okay=False, path_type=Path),
    metavar="DIR",
    help="Folder for the two files.  [default: a folder named reports, see above]",
)
@click.option("--no-files", is_flag=True, help="Print the answer, write no files.")
@click.option(
    "--plan", metavar="NAME", help="Show one scenario in full, such as 'best' or 'All own hands'."
)
@click.option(
    "--pin",
    "pins",
    multiple=True,
    metavar="CHOICE=VALUE",
    help="Plan once more with this decided, as a scenario of its own. May be repeated.",
)
@common
def compare(
    show: Show,
    file: Path,
    out: Path | None,
    no_files: bool,
    plan: str | None,
    pins: tuple[str, ...],
) -> int:
    """Find the best plan, and write a comparison workbook and a page about it.

    The two files go to a folder named reports inside the workbook's folder. A workbook that
    lies in a folder named workbooks has them in reports beside that folder.

    \b
    Examples:
      budget compare my-patio.xlsx
      budget compare my-patio.xlsx --plan best
      budget compare my-patio.xlsx --pin "step:Dig=hire" --pin "bedding=sand"
    """
    from budget.report import answer, document, files, full_plan, pinned, terminal
    from budget.report.blocks import Text
    from budget.spend import find_scenario

    wanted = pinned.parse(pins)
    comparison = compared(show, read_job(file), wanted)
    chosen = find_scenario(comparison, plan) if plan else None
    written = None if no_files else files.write(comparison, file, out)

    def blocks() -> list[Block]:
        if show.quiet:
            return [Text(answer.in_one_line(comparison))]
        if chosen is not None:
            return [*full_plan.full_plan(comparison, chosen), *answer.where(written)]
        return answer.answer(comparison, written, terminal.window(sys.stdout))

    show.result(blocks, lambda: document.as_json(comparison, written))
    return FINE


@main.command(short_help="Show how one figure came about.")
@click.argument("file", type=_WORKBOOK)
@click.argument("line")
@click.option("--scenario", metavar="NAME", help="Explain it in this scenario.  [default: best]")
@common
def explain(show: Show, file: Path, line: str, scenario: str | None) -> int:
    """Show how one figure came about, step by step, with the source of every number.

    LINE is something needed, a piece of work, a line of the plan, or a choice.

    \b
    Examples:
      budget explain my-patio.xlsx "Base stone"
      budget explain my-patio.xlsx Dig
      budget explain my-patio.xlsx step:Dig --scenario "All own hands"
    """
    from budget.report import documents, listings
    from budget.report.explain import explain as explained

    comparison = compared(show, read_job(file))
    found = explained(comparison, line, scenario)
    show.result(
        lambda: listings.explanation(found, show.quiet),
        lambda: documents.explanation(comparison.job, found),
    )
    return FINE


@main.command(short_help="Set what was paid against the plan.")
@click.argument("file", type=_WORKBOOK)
@click.option("--scenario", metavar="NAME", help="Set against this scenario.  [default: best]")
@common
def spend(show: Show, file: Path, scenario: str | None) -> int:
    """Set what you ordered and paid (sheet Spend) against the plan, line by line.

    An order settles its line; with a quantity, it settles that quantity and the rest stays
    planned. A payment alone counts as a part payment. Deposits stand beside the money.

    \b
    Example:
      budget spend my-patio.xlsx
    """
    from budget.report import documents, listings
    from budget.spend import track

    comparison = compared(show, read_job(file))
    found = track(comparison, scenario)
    show.result(
        lambda: listings.spend(comparison.job, found, show.quiet),
        lambda: documents.spend(comparison.job, found),
    )
    return FINE
