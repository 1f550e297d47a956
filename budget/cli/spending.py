"""The commands for the weeks of work: accept, record, statement, spend."""

from __future__ import annotations

import datetime as dt
import re
import sys
from typing import TYPE_CHECKING, Any, get_args

import click

from budget.cli.command import WORKBOOK, Show, common, limited, read_job
from budget.cli.verdict import FINE

if TYPE_CHECKING:
    from pathlib import Path

    from budget.job import Job
    from budget.spend.matching import Proposal

    _DateType = click.ParamType[dt.date]
    _MoneyType = click.ParamType[float]
else:
    _DateType = _MoneyType = click.ParamType


class _Day(_DateType):
    name = "date"

    def convert(
        self, value: Any, param: click.Parameter | None, ctx: click.Context | None
    ) -> dt.date:
        """A date such as 2026-05-02."""
        if isinstance(value, dt.date):
            return value
        from budget.typed_dates import as_date, meant

        day = as_date(value)
        if day is None:
            days = " or ".join(found.isoformat() for found in meant(value))
            hint = f" Is {days} meant?" if days else ""
            wrong = f"“{value}” is not a date such as 2026-05-02 or 2 May 2026.{hint}"
            self.fail(wrong, param, ctx)
        return day


class _Money(_MoneyType):
    name = "money"

    def convert(
        self, value: Any, param: click.Parameter | None, ctx: click.Context | None
    ) -> float:
        """An amount in cents; a minus takes an earlier entry back.

        A comma or point before two digits at the end is a decimal sign, as cents have two.
        """
        from budget.workbook.measures import UnreadableError, number

        text = str(value).strip("$€£ ")
        wrong = f"“{value}” is not an amount such as 362.50."
        if re.fullmatch(r"-?[1-9]\d{0,2}\.\d{3}", text):
            self.fail(f"{wrong} Write no sign between thousands.", param, ctx)
        try:
            cents = number(text, "imperial") * 100
        except UnreadableError:
            self.fail(wrong, param, ctx)
        if "/" in text or abs(cents - round(cents)) > 1e-6:
            self.fail(wrong, param, ctx)
        return float(round(cents))


def _today() -> dt.date:
    return dt.datetime.now().astimezone().date()


@click.command(short_help="Accept a plan, to hold the spending against.")
@click.argument("file", type=WORKBOOK)
@click.option("--scenario", metavar="NAME", help="Accept this scenario.  [default: best]")
@click.option("--reason", default="", metavar="TEXT", help="Why, in your own words.")
@click.option("--unforeseen", is_flag=True, help="It differs because of something nobody wished.")
@click.option("--finish", type=_Day(), metavar="DATE",
              help="When the work should be done.  [default: by the calendar]")  # fmt: skip
@click.option(
    "--date", "day", type=_Day(), metavar="DATE",
    help="Accepted on.  [default: as on Job; a later plan: the last day told of]",
)  # fmt: skip
@common
@limited
def accept(
    show: Show,
    file: Path,
    scenario: str | None,
    reason: str,
    unforeseen: bool,
    finish: dt.date | None,
    day: dt.date | None,
) -> int:
    """Accept a plan: write it down beside the workbook, to hold the spending against.

    Accepting another later keeps those before it, with their dates and reasons.

    \b
    Examples:
      budget accept my-patio.xlsx
      budget accept my-patio.xlsx --reason "path made wider"
    """
    from budget.decide.brief import plan_briefly
    from budget.report import spend_words
    from budget.report.documents import spend as spend_document
    from budget.report.terminal.terminal import planning
    from budget.spend import baseline_book, find_scenario
    from budget.spend.baseline import Accepting, acceptance_day, baseline_of
    from budget.spend.joining import with_journal

    sound = read_job(file)
    job = sound.job
    with planning("Planning ...", show.quiet):
        comparison = plan_briefly(job)
    sound.stop_at(comparison.takeoff.warnings)
    path = baseline_book.path_for(file)
    earlier = baseline_book.read(path)
    if day is not None and earlier and day < earlier[-1].accepted:
        raise click.UsageError(
            f"Plan {earlier[-1].number} was accepted on {earlier[-1].accepted}: "
            "one that follows it cannot be older."
        )
    on = day or acceptance_day(with_journal(job, file)[0], earlier)
    said = Accepting(on, reason, "unforeseen" if unforeseen else "chosen", finish)
    number = earlier[-1].number + 1 if earlier else 1
    found = baseline_of(comparison, find_scenario(comparison, scenario), said, number)
    baseline_book.write((*earlier, found), path, job.settings.units)
    if show.as_json:
        show.json(spend_document.accepted(job, found, path))
    else:
        show.aside(spend_words.accepted(found, str(path)))
        show.aside(
            "Write down what you order, pay and do with “budget record”; “budget spend” tells how "
            "it stands."
        )
    return FINE


def _states() -> tuple[str, ...]:
    from budget.job import SpendState

    return get_args(SpendState)


class _TakingBack(click.Command):
    """A command whose amount may be below zero, which click takes for an option."""

    def parse_args(self, ctx: click.Context, args: list[str]) -> list[str]:
        """As click does, with words on how to type a minus."""
        try:
            return super().parse_args(ctx, args)
        except click.NoSuchOption as error:
            if not error.option_name[1:].isdigit():
                raise
            raise click.UsageError(
                "To take an entry back, put -- before the minus, at the end of the line: "
                'budget record my-patio.xlsx "Base stone" paid -- -412.50',
                ctx,
            ) from error


def _state(line: str, text: str, amount: float | None, rest: dict[str, Any]) -> str:
    """The state that a text names after a line, which has what it needs to be counted."""
    from budget.spend.tallying import NEEDS_AMOUNT
    from budget.workbook.near import near_names

    known = {name.replace(" ", "-"): name for name in _states()}
    found = known.get(text.strip().casefold().replace(" ", "-"))
    if found is None:
        near = near_names(text, _states(), str.casefold, 1, 0.6)
        hint = f" Did you mean {near[0]}?" if near else ""
        if line.strip().casefold() in _states():
            hint = f' The line comes first: "{text}" {line.strip().casefold()}.'
        known_are = ", ".join(_states())
        raise click.UsageError(f"“{text}” is not a state.{hint} It is one of: {known_are}.")
    told = (amount, rest["hours"], rest["quantity"])
    if found in NEEDS_AMOUNT and all(number is None for number in told):
        raise click.UsageError(f"“{found}” needs an amount after it, such as: {found} 362.50")
    return found


@click.command(cls=_TakingBack, short_help="Write down what was ordered, paid or done.")
@click.argument("file", type=WORKBOOK)
@click.argument("line")
@click.argument("state", metavar="STATE")
@click.argument("amount", type=_Money(), required=False)
@click.option("--tax", type=_Money(), metavar="MONEY", help="The tax on it.")
@click.option("--date", "day", type=_Day(), metavar="DATE", help="The day.  [default: today]")
@click.option("--quantity", type=float, metavar="N", help="How many packs, days or miles.")
@click.option("--hours", type=float, metavar="N", help="Own hours it took.")
@click.option("--supplier", default="", metavar="NAME", help="Who was paid.")
@click.option("--what", default="", metavar="TEXT", help="In your own words.")
@click.option("--receipt", default="", metavar="TEXT", help="Number of the receipt.")
@click.option("--unforeseen", is_flag=True, help="Of a change: nobody wished for it.")
@click.option("--due", type=_Day(), metavar="DATE", help="Comes, or must be paid, on.")
@click.option("--new-line", is_flag=True, help="The plan has no such line, and that is right.")
@click.option("--again", is_flag=True, help="The same happened twice.")
@common
def record(
    show: Show,
    file: Path,
    line: str,
    state: str,
    amount: float | None,
    day: dt.date | None,
    unforeseen: bool,
    new_line: bool,
    again: bool,
    **rest: Any,
) -> int:
    """Write down one thing that was ordered, paid or done, in the journal beside the workbook.

    STATE is ordered, delivered, paid, "final payment" (nothing more will come on this line),
    returned, refunded, "deposit paid", "deposit back", "change agreed", worked or driven.
    AMOUNT is before tax; to take an entry back, write it again with a minus (after --).

    \b
    Examples:
      budget record my-patio.xlsx "Base stone" ordered 362.50 --quantity 12.5
      budget record my-patio.xlsx Dig worked --hours 4
    """
    from budget.job import Place, Spend
    from budget.report import spend_words
    from budget.report.documents import spend as spend_document
    from budget.spend import baseline_book, recording

    chosen = _state(line, state, amount, rest)
    sound = read_job(file)
    job = sound.job
    if not new_line:
        line = recording.line_called(line, recording.known_lines(job, file, sound.stop_at))
    entry = Spend(
        place=Place("journal", 0), date=day or _today(), line=line, state=chosen,  # type: ignore[arg-type]
        amount=amount, own_hours=rest.pop("hours"), reason="unforeseen" if unforeseen else None,
        **rest,
    )  # fmt: skip
    path = recording.record(job, file, entry, again)
    if show.as_json:
        show.json(spend_document.recorded(job, [entry], path))
    else:
        show.aside(spend_words.recorded(entry, job.settings.currency, str(path)))
    if baseline_book.path_for(file).exists():
        _warn_of_problems(show, job)
    return FINE


def _warn_of_problems(show: Show, job: Job) -> None:
    """Say what will stop “budget spend”: what was paid is written down all the same."""
    from budget.quantities import take_off

    problems = [w for w in take_off(job).warnings if w.severity == "problem"]
    if problems:
        first = f"{problems[0].cell or problems[0].sheet}: found {problems[0].found}"
        show.aside(
            f"The entry is written down, but the workbook has a problem ({first}): mend it before "
            "“budget spend”; “budget check” says how."
        )


@click.command(short_help="Take payments over from a bank's statement.")
@click.argument("file", type=WORKBOOK)
@click.argument("csv_file", metavar="STATEMENT", type=WORKBOOK)
@click.option("--yes", is_flag=False, flag_value="90", type=click.IntRange(1, 100),
              metavar="[PERCENT]",
              help="Take rows at least this sure unasked.  [default: 90]")  # fmt: skip
@click.option("--date-column", default="", metavar="TITLE", help="Title of the column of dates.")
@click.option("--text-column", default="", metavar="TITLE", help="Title of the column of texts.")
@click.option("--amount-column", default="", metavar="TITLE", help="Title of the amounts.")
@click.option("--day-first/--month-first", default=None, help="How to read 03/04/2026.")
@click.option("--spent-positive", is_flag=True, help="Amounts above zero are money spent.")
@common
def statement(
    show: Show,
    file: Path,
    csv_file: Path,
    yes: int | None,
    date_column: str,
    text_column: str,
    amount_column: str,
    day_first: bool | None,
    spent_positive: bool,
) -> int:
    """Take payments over from the statement of a bank or card (CSV).

    Each row that fits a line of the plan is put to you as a question with its reason. With
    --yes, rows that are sure enough are taken unasked and the others are listed.

    \b
    Examples:
      budget statement my-patio.xlsx may.csv
      budget statement my-patio.xlsx may.csv --yes 95
    """
    from budget.report import spend_words
    from budget.report.documents import spend as spend_document
    from budget.spend import journal, matching, recording
    from budget.spend import statement as statements
    from budget.spend.standing import stand

    sound = read_job(file)
    job = sound.job
    columns = statements.Columns(date_column, text_column, amount_column, day_first, spent_positive)
    rows = statements.read(csv_file, columns)
    left_out = statements.sums(csv_file, columns)
    last = max((row.date for row in rows), default=None)
    day = max(last, _today()) if last else None
    standing = stand(job, file, day=day, check=sound.stop_at)
    sources = frozenset(row.source for row in journal.read(journal.path_for(file)).rows)
    proposals = matching.match(rows, standing.tracking, standing.job.spend, sources)
    taken = [p for p in proposals if _agreed(show, p, yes, job)]
    path = recording.take(file, taken)
    currency = job.settings.currency
    show.result(
        lambda: [] if show.quiet else spend_words.matched(proposals, taken, currency),
        lambda: spend_document.matched(job, proposals, taken, path, left_out),
    )
    if left_out:
        show.aside(spend_words.left_out(left_out))
    return FINE


#: What click puts behind a question.
_YES_OR_NO = " [y/N]: y"


def _agreed(show: Show, proposal: Proposal, yes: int | None, job: Job) -> bool:
    """Whether a row is taken: sure enough with --yes, else as the person answers."""
    from budget.report import spend_words
    from budget.report.terminal.terminal import COLUMNS, LINES, window

    if proposal.entered or not proposal.line:
        return False
    if yes is not None:
        return proposal.sure >= yes
    if show.as_json or not sys.stdin.isatty():
        return False
    columns, _ = window(sys.stderr) or (COLUMNS, LINES)
    text = spend_words.question(proposal, job.settings.currency, columns - len(_YES_OR_NO))
    return click.confirm(text, default=proposal.sure >= 90, err=True)


@click.command(short_help="Set what was paid against the plan.")
@click.argument("file", type=WORKBOOK)
@click.option("--scenario", metavar="NAME", help="Set against this one, if none is accepted.")
@click.option("--date", "day", type=_Day(), metavar="DATE", help="As it stood on this day.")
@click.option("--full", is_flag=True, help="Show every line, the reasons, the weeks.")
@click.option("--earned-value", is_flag=True, help="Show the earned-value figures too.")
@common
@limited
def spend(
    show: Show,
    file: Path,
    scenario: str | None,
    day: dt.date | None,
    full: bool,
    earned_value: bool,
) -> int:
    """Set what you ordered and paid (sheet Spend, and the journal) against the plan.

    An order settles its line; with a quantity, it settles that quantity and the rest stays
    planned. A payment alone counts as a part payment until the work on that line is done, or
    until a final payment. Deposits stand beside the money.

    \b
    Examples:
      budget spend my-patio.xlsx
      budget spend my-patio.xlsx --full
      budget spend my-patio.xlsx --date 2026-05-17 --earned-value
    """
    from budget.report import spend_words
    from budget.report.documents import spend as spend_document
    from budget.report.terminal.terminal import planning
    from budget.spend.standing import stand

    sound = read_job(file)
    with planning("Looking at the entries ...", show.quiet):
        found = stand(sound.job, file, scenario, day, sound.stop_at)
    show.result(
        lambda: spend_words.spend(found, show.quiet, earned_value, full),
        lambda: spend_document.spend(found),
    )
    return FINE
