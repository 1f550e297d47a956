"""The commands that look at one side of the job: quantities, calendar, explain."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING

import click

from budget.cli.command import WORKBOOK, Show, common, compared, limited, read_job
from budget.cli.verdict import FINE

if TYPE_CHECKING:
    from pathlib import Path

    from budget.report.terminal.blocks import Block


@click.command(short_help="Tell how much of everything is needed.")
@click.argument("file", type=WORKBOOK)
@click.option(
    "--thorough",
    is_flag=True,
    help="Tell as well how likely each order of the best plan runs short.",
)
@common
@limited
def quantities(show: Show, file: Path, thorough: bool) -> int:
    """Tell how much of everything is needed, and in how many packs it comes.

    It needs Areas only; Quotes may still be empty.

    \b
    Examples:
      budget quantities my-patio.xlsx
      budget quantities my-patio.xlsx --thorough
    """
    from budget.report import listings, needs, short
    from budget.report.documents import commands

    sound = read_job(file, may_be_empty=() if thorough else ("Quotes",))
    job = sound.job
    found = needs.quantities_of(job)
    sound.stop_at(found.warnings)
    comparison = compared(show, sound, thorough=True) if thorough else None
    show.result(
        lambda: [
            *listings.quantities(job, found, show.quiet),
            *(short.blocks(comparison) if comparison else ()),
        ],
        lambda: commands.quantities(job, found, comparison),
    )
    return FINE


@click.command("calendar", short_help="Tell what is done when, and what to order by when.")
@click.argument("file", type=WORKBOOK)
@click.option(
    "--scenario", "--plan", "plan", metavar="NAME", help="Of this scenario.  [default: best]"
)
@common
@limited
def when(show: Show, file: Path, plan: str | None) -> int:
    """Tell when each step is done, what to order by when, and what to pay in which week.

    Start date, working days and hours a day are settings of Job; lead days are on Suppliers,
    Quotes and Bids; the order of steps and waits on Work; wet days on Weather.

    \b
    Examples:
      budget calendar my-patio.xlsx
      budget calendar my-patio.xlsx --scenario "All own hands"
    """
    from budget.decide.brief import plan_briefly
    from budget.decide.calendar.schedule import schedule
    from budget.decide.wording import so_far
    from budget.report import calendar
    from budget.report.documents import calendar as calendar_document
    from budget.report.terminal.blocks import Text
    from budget.report.terminal.terminal import planning, window
    from budget.spend import find_scenario
    from budget.spend.finding import priced

    sound = read_job(file)
    job = sound.job
    with planning("Planning ...", show.quiet):
        comparison = plan_briefly(job, every=plan is not None)
    sound.stop_at(comparison.takeoff.warnings)
    chosen = find_scenario(comparison, plan)
    found = schedule(job, comparison.takeoff, comparison.options, priced(chosen), chosen.title)
    settings = job.settings
    unsure = [] if chosen.proved else [Text(f"Its plan is the {so_far(chosen.gap)}.", "warning")]
    size = window(sys.stdout)
    columns = size[0] if size else None

    def blocks() -> list[Block]:
        told = calendar.blocks(found, settings.name, settings.currency, show.quiet, columns)
        return [*told, *unsure]

    show.result(
        blocks,
        lambda: calendar_document.as_json(job, found),
    )
    return FINE


@click.command(short_help="Show how one figure came about.")
@click.argument("file", type=WORKBOOK)
@click.argument("line", required=False)
@click.option("--scenario", metavar="NAME", help="Explain it in this scenario.  [default: best]")
@common
@limited
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
    from budget.report import deeper, listings, whatif
    from budget.report.documents import commands
    from budget.report.explain.lines import explain as explained

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
        lambda: commands.explanation(comparison.job, found),
    )
    return FINE


def _names(show: Show, file: Path, scenario: str | None) -> None:
    """List what can be explained."""
    from budget.report.documents import commands
    from budget.report.explain import names

    comparison = compared(show, read_job(file))
    found = names.names(comparison, scenario)
    show.result(
        lambda: names.blocks(found, file.name, show.quiet),
        lambda: commands.names(comparison.job, found),
    )


def _forced(show: Show, file: Path, asked: dict[str, str]) -> None:
    """Tell what deciding one choice so would change."""
    from budget.decide.brief import laid_out
    from budget.decide.whynot import force
    from budget.report import whatif
    from budget.report.terminal.terminal import planning

    sound = read_job(file)
    job = sound.job
    with planning("Planning ...", show.quiet):
        counted = laid_out(job)
        sound.stop_at(counted.takeoff.warnings)
        found = force(counted, asked)
    show.result(
        lambda: whatif.forced_blocks(found, job, show.quiet),
        lambda: whatif.forced_document(found),
    )


def _bid(show: Show, file: Path, name: str) -> None:
    """Tell what one bid leaves out, and what the whole job costs with it."""
    from budget.decide.deeper import bids_alike
    from budget.report import deeper
    from budget.report.documents import deeper as deeper_document
    from budget.report.terminal.terminal import planning

    sound = read_job(file)
    with planning("Planning with each bid ...", show.quiet):
        comparison, bids = bids_alike(sound.job)
    sound.stop_at(comparison.takeoff.warnings)
    found = deeper.find_bid(bids, name)
    show.result(
        lambda: deeper.bid_blocks(comparison, found, show.quiet),
        lambda: deeper_document.bid_document(comparison, found),
    )
