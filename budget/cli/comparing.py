"""``budget compare``: of one workbook, of several, and over a range of one input."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING

import click

from budget.cli.command import FOLDER, WORKBOOK, Show, common, compared, limited, read_job
from budget.cli.verdict import FINE

if TYPE_CHECKING:
    from pathlib import Path

    from budget.report.terminal.blocks import Block


@click.command(short_help="Find the best plan; write a workbook and a page.")
@click.argument("files", type=WORKBOOK, nargs=-1, required=True, metavar="FILE...")
@click.option(
    "--out",
    type=FOLDER,
    metavar="DIR",
    help="Folder for the two files.  [default: a folder named reports, see above]",
)
@click.option("--no-files", is_flag=True, help="Print the answer, write no files.")
@click.option(
    "--plan", metavar="NAME", help="Show one scenario in full, such as 'best' or 'All own hands'."
)
@click.option("--full", is_flag=True, help="Print all of the answer, however small the window.")
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
@common
@limited
def compare(
    show: Show,
    files: tuple[Path, ...],
    out: Path | None,
    no_files: bool,
    plan: str | None,
    full: bool,
    pins: tuple[str, ...],
    changes: tuple[str, ...],
    vary: str | None,
    thorough: bool,
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
      budget compare my-patio.xlsx --set "Quotes!C12=4.10"
      budget compare my-patio.xlsx --vary "Job:Value of an own hour=10..40 by 5"
      budget compare jobs/*.xlsx
    """
    if len(files) > 1:
        if plan or pins or changes or vary:
            raise click.UsageError("--plan, --pin, --set and --vary are for one workbook.")
        return _several(show, files, out, no_files, thorough)
    (file,) = files
    from budget.report import answer, deeper, full_plan, pinned
    from budget.report import files as output
    from budget.report.documents import document
    from budget.report.terminal import terminal
    from budget.report.terminal.blocks import Text
    from budget.spend import find_scenario

    if vary:
        _varied(show, file, vary, changes, None if no_files else (out,))
        return FINE
    wanted = pinned.parse(pins)
    comparison = compared(show, read_job(file, changes=changes), wanted, thorough)
    chosen = find_scenario(comparison, plan) if plan else None
    with terminal.working("Writing the two files ...", show.quiet or no_files):
        written = None if no_files else output.write(comparison, file, out)

    def blocks() -> list[Block]:
        if show.quiet:
            return [Text(answer.in_one_line(comparison))]
        if chosen is not None:
            return [*full_plan.full_plan(comparison, chosen), *answer.where(written)]
        window = terminal.window(sys.stdout)
        found = answer.answer(comparison, written, None if full else window)
        more = deeper.blocks(comparison)
        return [*more, *found] if window else [*found, *more]  # a window shows the end

    show.result(blocks, lambda: document.as_json(comparison, written))
    return FINE


def _several(
    show: Show, files: tuple[Path, ...], out: Path | None, no_files: bool, thorough: bool
) -> int:
    """Compare several workbooks side by side."""
    from budget.cli.several import Wanted, compare_all, sort_out
    from budget.decide.programme.search import limit
    from budget.report import several

    wanted = Wanted(out, no_files, thorough, limit())
    found = compare_all(sort_out(files, out), wanted, show.quiet)
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
    from budget.report import files, whatif
    from budget.report.page import varied as page_varied
    from budget.report.terminal import terminal

    target, values = whatif.varied_range(vary)
    job = read_job(file, changes=changes).job
    with terminal.planning("Planning at each value ...", show.quiet):
        found = varied(
            values, lambda value: read_job(file, changes=(*changes, f"{target}={value}")).job
        )
    page = None
    if to is not None:
        page = files.write_varied(page_varied.render(target, found, job), file, *to)
    show.result(
        lambda: whatif.varied_blocks(target, found, job, page),
        lambda: whatif.varied_document(target, found, page),
    )
