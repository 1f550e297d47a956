"""The ``budget`` command: parse, call, print. No arithmetic here."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

from budget.cli_spend import add_to
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
@click.option(
    "--from",
    "earlier",
    type=_WORKBOOK,
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
        path, example = Path(example), ""
    if path is None:
        raise click.UsageError("Say which workbook to write, such as: budget start my-patio.xlsx")
    from budget.report import documents
    from budget.report.starting import begin, begin_from

    if earlier is not None and (units or example is not None):
        raise click.UsageError("--from brings its own units and rows: leave out the other options.")
    if earlier is not None:
        begun = begin_from(path, earlier, force)
    else:
        begun = begin(path, units, example, force)
    if show.as_json:
        show.json(documents.start(begun))
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
@click.option(
    "--thorough",
    is_flag=True,
    help="Tell as well how likely each order of the best plan runs short.",
)
@common
def quantities(show: Show, file: Path, thorough: bool) -> int:
    """Tell how much of everything is needed, and in how many packs it comes.

    \b
    Examples:
      budget quantities my-patio.xlsx
      budget quantities my-patio.xlsx --thorough
    """
    from budget.report import documents, listings, needs, short

    sound = read_job(file)
    job = sound.job
    found = needs.quantities_of(job)
    comparison = compared(show, sound, thorough=True) if thorough else None
    show.result(
        lambda: [
            *listings.quantities(job, found, show.quiet),
            *(short.blocks(comparison) if comparison else ()),
        ],
        lambda: documents.quantities(job, found, comparison),
    )
    return FINE


@main.command(short_help="Write questions to print or send to sellers and firms.")
@click.argument("file", type=_WORKBOOK)
@click.option(
    "--out",
    type=click.Path(file_okay=False, path_type=Path),
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
    from budget.report import asking, documents
    from budget.report.blocks import Text

    sound = read_job(file, may_be_empty=("Quotes",))
    asked = asking.write(sound.job, file, out)
    show.result(
        lambda: [Text(str(asked.path) if show.quiet else asked.sentence)],
        lambda: documents.ask(asked),
    )
    return FINE


@main.command(short_help="Find the best plan; write a workbook and a page.")
@click.argument("files", type=_WORKBOOK, nargs=-1, required=True, metavar="FILE...")
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
@click.option(
    "--set",
    "changes",
    multiple=True,
    metavar="CELL=VALUE",
    help="Change one cell or setting for this run; the file stays as it is. May be repeated.",
)
@click.option(
    "--vary",
    metavar="CELL=RANGE",
    help="Only list the best plan at each value of one cell or setting; draw it on a page.",
)
@click.option(
    "--thorough",
    is_flag=True,
    help="Draw 100,000 cases, not 2,000; add what a little more costs, bids like for like and "
    "every trade of cash against own hours.",
)
@click.option(
    "--limit",
    type=click.FloatRange(min=0, min_open=True),
    metavar="SECONDS",
    help="Stop each search after so long, and say how far off it may be.  [default: 60]",
)
@common
def compare(
    show: Show,
    files: tuple[Path, ...],
    out: Path | None,
    no_files: bool,
    plan: str | None,
    pins: tuple[str, ...],
    changes: tuple[str, ...],
    vary: str | None,
    thorough: bool,
    limit: float | None,
) -> int:
    """Find the best plan, and write a comparison workbook and a page about it.

    The two files go to a folder named reports inside the workbook's folder. A workbook that
    lies in a folder named workbooks has them in reports beside that folder.

    Several workbooks are compared side by side, with a table of all at the end; one that fails
    does not stop the others, and the exit status is the worst of all.

    \b
    Examples:
      budget compare my-patio.xlsx
      budget compare my-patio.xlsx --plan best
      budget compare my-patio.xlsx --pin "step:Dig=hire" --pin "bedding=sand"
      budget compare my-patio.xlsx --set "Quotes!F12=4.10"
      budget compare my-patio.xlsx --vary "Job:Value of an own hour=10..40 by 5"
      budget compare jobs/*.xlsx
    """
    if len(files) > 1:
        if plan or pins or changes or vary:
            raise click.UsageError("--plan, --pin, --set and --vary are for one workbook.")
        return _several(show, files, out, no_files, thorough)
    (file,) = files
    from budget.report import answer, deeper, document, full_plan, pinned, terminal
    from budget.report import files as output
    from budget.report.blocks import Text
    from budget.spend import find_scenario

    if vary:
        _varied(show, file, vary, changes, None if no_files else (out,))
        return FINE
    wanted = pinned.parse(pins)
    comparison = compared(show, read_job(file, changes=changes), wanted, thorough, limit)
    chosen = find_scenario(comparison, plan) if plan else None
    with terminal.working("Writing the two files ...", show.quiet or no_files):
        written = None if no_files else output.write(comparison, file, out)

    def blocks() -> list[Block]:
        if show.quiet:
            return [Text(answer.in_one_line(comparison))]
        if chosen is not None:
            return [*full_plan.full_plan(comparison, chosen), *answer.where(written)]
        window = terminal.window(sys.stdout)
        found, more = answer.answer(comparison, written, window), deeper.blocks(comparison)
        return [*more, *found] if window else [*found, *more]  # a window shows the end

    show.result(blocks, lambda: document.as_json(comparison, written))
    return FINE


def _several(
    show: Show, files: tuple[Path, ...], out: Path | None, no_files: bool, thorough: bool
) -> int:
    """Compare several workbooks side by side."""
    from budget.cli_several import Wanted, compare_all, sort_out
    from budget.report import several

    found = compare_all(sort_out(files, out), Wanted(out, no_files, thorough), show.quiet)
    show.result(
        lambda: several.in_lines(found) if show.quiet else several.blocks(found),
        lambda: several.as_json(found),
    )
    return several.worst(found)


def _varied(
    show: Show, file: Path, vary: str, changes: tuple[str, ...], to: tuple[Path | None] | None
) -> None:
    """List the best plan at each value of one input; ``to`` is where a page shall go, if any."""
    from budget.decide.varying import vary as varied
    from budget.report import page_varied, whatif

    target, values = whatif.varied_range(vary)
    job = read_job(file, changes=changes).job
    found = varied(
        values, lambda value: read_job(file, changes=(*changes, f"{target}={value}")).job
    )
    page = None if to is None else page_varied.write(target, found, job, file, *to)
    show.result(
        lambda: whatif.varied_blocks(target, found, job, page),
        lambda: whatif.varied_document(target, found, page),
    )


@main.command("calendar", short_help="Tell when what is done, and what to order by when.")
@click.argument("file", type=_WORKBOOK)
@click.option("--plan", metavar="NAME", help="Of this scenario.  [default: best]")
@common
def when(show: Show, file: Path, plan: str | None) -> int:
    """Tell when each step is done, what to order by when, and what to pay in which week.

    Start date, working days and hours a day are settings of Job; lead days are on Suppliers,
    Quotes and Bids; the order of steps and waits on Work; wet days on Weather.

    \b
    Examples:
      budget calendar my-patio.xlsx
      budget calendar my-patio.xlsx --plan "All own hands"
    """
    from budget.decide.brief import plan_briefly
    from budget.decide.calendar.schedule import schedule
    from budget.report import calendar, calendar_document
    from budget.spend import find_scenario
    from budget.spend.finding import priced

    job = read_job(file).job
    comparison = plan_briefly(job, every=plan is not None)
    chosen = find_scenario(comparison, plan)
    found = schedule(job, comparison.takeoff, comparison.options, priced(chosen), chosen.title)
    settings = job.settings
    show.result(
        lambda: calendar.blocks(found, settings.name, settings.currency, show.quiet),
        lambda: calendar_document.as_json(job, found),
    )
    return FINE


@main.command(short_help="Show how one figure came about.")
@click.argument("file", type=_WORKBOOK)
@click.argument("line", required=False)
@click.option("--scenario", metavar="NAME", help="Explain it in this scenario.  [default: best]")
@common
def explain(show: Show, file: Path, line: str | None, scenario: str | None) -> int:
    """Show how one figure came about, step by step, with the source of every number.

    LINE is something needed, a piece of work, a line of the plan, or a choice. A choice with a
    value, such as step:Dig=hire, tells what deciding so would change; bid: with the name of a
    bid tells what it leaves out and what fills that. Without LINE, the names are listed.

    \b
    Examples:
      budget explain my-patio.xlsx
      budget explain my-patio.xlsx "Base stone"
      budget explain my-patio.xlsx Dig
      budget explain my-patio.xlsx step:Dig --scenario "All own hands"
      budget explain my-patio.xlsx step:Dig=hire
      budget explain my-patio.xlsx "bid:Whole job"
    """
    from budget.report import deeper, documents, listings, whatif
    from budget.report.explain import explain as explained

    if line is None:
        _names(show, file, scenario)
        return FINE
    asked = whatif.forced_pins(line)
    if asked is not None:
        _forced(show, file, asked)
        return FINE
    bid = deeper.asked_bid(line)
    if bid is not None:
        _bid(show, file, bid)
        return FINE
    comparison = compared(show, read_job(file))
    found = explained(comparison, line, scenario)
    show.result(
        lambda: listings.explanation(found, show.quiet),
        lambda: documents.explanation(comparison.job, found),
    )
    return FINE


def _names(show: Show, file: Path, scenario: str | None) -> None:
    """List what can be explained."""
    from budget.report import explain_names

    comparison = compared(show, read_job(file))
    found = explain_names.names(comparison, scenario)
    show.result(
        lambda: explain_names.blocks(found, file.name, show.quiet),
        lambda: explain_names.document(comparison.job, found),
    )


def _forced(show: Show, file: Path, asked: dict[str, str]) -> None:
    """Tell what deciding one choice so would change."""
    from budget.decide.brief import laid_out
    from budget.decide.whynot import force
    from budget.report import whatif

    job = read_job(file).job
    found = force(laid_out(job), asked)
    show.result(
        lambda: whatif.forced_blocks(found, job, show.quiet),
        lambda: whatif.forced_document(found),
    )


def _bid(show: Show, file: Path, name: str) -> None:
    """Tell what one bid leaves out, and what the whole job costs with it."""
    from budget.decide.deeper import bids_alike
    from budget.report import deeper, deeper_document

    comparison, bids = bids_alike(read_job(file).job)
    found = deeper.find_bid(bids, name)
    show.result(
        lambda: deeper.bid_blocks(comparison, found, show.quiet),
        lambda: deeper_document.bid_document(comparison, found),
    )


add_to(main)
