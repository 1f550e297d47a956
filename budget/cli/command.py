"""What every command shares: options, how results are shown, and how a command ends.

Only click is imported at start-up; every stage is imported where it is needed.
"""

from __future__ import annotations

import contextlib
import functools
import os
import sys
from collections.abc import Callable, Collection, Iterable, Iterator, Sequence
from typing import TYPE_CHECKING, Any, NamedTuple

import click

from budget.cli.verdict import FILE_TROUBLE, FINE, INTERRUPTED, PROBLEMS, verdict

if TYPE_CHECKING:
    from pathlib import Path

    from budget.decide.outcome import Comparison
    from budget.job import Job, Notice, Pin
    from budget.report.terminal.blocks import Block
    from budget.workbook import Reading


class _FilePath(click.Path):
    """Gives a ``Path``, which is loaded once a command has one to give."""

    def coerce_path_result(self, value: str | os.PathLike[str]) -> Path:
        from pathlib import Path

        return Path(value)


#: A file's path. Whether it can be read is told by the stage that reads it, as any file trouble.
WORKBOOK = _FilePath(readable=False)
#: The path of a folder that need not be there yet.
FOLDER = _FilePath(file_okay=False)


class InOrder(click.Group):
    """A group that lists its commands in the order of the work, and says how it ended."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """Commands in the order they were written."""
        return list(self.commands)

    def main(
        self,
        args: Sequence[str] | None = None,
        prog_name: str | None = None,
        complete_var: str | None = None,
        standalone_mode: bool = True,
        **extra: Any,
    ) -> Any:
        """Run, and end with one of the documented exit statuses."""
        _make_streams_ready()
        try:
            status = self._status(args, prog_name, complete_var, **extra)
        except OSError as error:  # commands tell of their own files: this is about printing
            status = _unprinted(error)
        if standalone_mode:
            sys.exit(status)
        return status

    def _status(
        self, args: Sequence[str] | None, name: str | None, complete: str | None, **extra: Any
    ) -> int:
        try:
            status = super().main(args, name, complete, False, **extra)
        except click.ClickException as error:
            _wrapped(error).show()
            return error.exit_code
        except click.Abort:
            click.echo("Stopped.", err=True)
            return INTERRUPTED
        return status if isinstance(status, int) else FINE


def _wrapped(error: click.ClickException) -> click.ClickException:
    """The same error with its words in lines that a window holds, as click prints it whole."""
    from shutil import get_terminal_size

    text, columns = error.format_message(), get_terminal_size().columns
    known = isinstance(error, click.UsageError) and "\n" not in text
    if not known or not sys.stderr.isatty() or len(text) < columns:
        return error
    lines = click.wrap_text(f"Error: {text}", columns).removeprefix("Error: ")
    return click.UsageError(lines, getattr(error, "ctx", None))


def _make_streams_ready() -> None:
    """Let streams print any letter, and have a program that was started without them run too."""
    for name in ("stdout", "stderr"):
        if getattr(sys, name) is None:
            setattr(sys, name, open(os.devnull, "w", encoding="utf-8"))  # noqa: PTH123, SIM115
        reconfigure = getattr(getattr(sys, name), "reconfigure", None)
        if reconfigure is not None:
            reconfigure(errors="replace")


class UnprintedError(OSError):
    """An answer that could not be printed, such as into a file on a full disk."""


@contextlib.contextmanager
def _printing() -> Iterator[None]:
    """Tell trouble with standard output from trouble with files. A reader gone is neither."""
    try:
        yield
    except BrokenPipeError:
        raise
    except OSError as error:
        raise UnprintedError(error.errno, error.strerror) from error


def _unprinted(error: OSError) -> int:
    """Say that the answer could not be printed, if that can be said at all."""
    _print_nothing_more()
    with contextlib.suppress(OSError):
        click.echo(
            f"The answer could not be printed: {error.strerror}. Files written before are whole.",
            err=True,
        )
    return FILE_TROUBLE


class ProblemsError(Exception):
    """Problems in the workbook, which must be mended before it can be worked with."""

    def __init__(self, reading: Reading, beyond: Sequence[Notice] = ()) -> None:
        """Keep what was read, and problems that showed beyond reading."""
        self.reading = reading
        self.problems = (*reading.problems, *beyond)
        super().__init__("problems in the workbook")


class Show(NamedTuple):
    """How results are shown: in words, or as one JSON object."""

    as_json: bool
    quiet: bool

    def result(self, blocks: Callable[[], Iterable[Block]], document: Callable[[], Any]) -> None:
        """Print one or the other on standard output."""
        if self.as_json:
            self.json(document())
            return
        from budget.report.terminal.terminal import show

        found = list(blocks())
        if found:
            with _printing():
                show(found)

    def json(self, document: Any) -> None:
        """Print one JSON object."""
        import json

        text = json.dumps(document, ensure_ascii=False, indent=2, allow_nan=False)
        with _printing():
            click.echo(text)

    def aside(self, text: str) -> None:
        """Say something beside the result, on standard error."""
        if not self.quiet:
            _tell(text)


def common(command: Callable[..., int]) -> Callable[..., int]:
    """Options and endings that every command shares. The command gets a :class:`Show`."""

    @click.option("--json", "as_json", is_flag=True, help="Print one JSON object, nothing else.")
    @click.option("--quiet", "-q", is_flag=True, help="Print the bare result, without remarks.")
    @click.option("--debug", is_flag=True, help="Show where in the program a fault happened.")
    @functools.wraps(command)
    def run(as_json: bool, quiet: bool, debug: bool, **values: Any) -> int:
        show = Show(as_json, quiet)
        try:
            _load(quiet)
            status = command(show, **values)
            with _printing():
                sys.stdout.flush()
        except BrokenPipeError:  # whoever read the answer has stopped reading
            _print_nothing_more()
            return FINE
        except (click.ClickException, click.Abort, click.exceptions.Exit, UnprintedError):
            raise
        except ProblemsError as error:
            return _problems(show, error.reading)
        except Exception as error:
            if _interrupted(error):
                raise click.Abort from error
            return _ended(show, error, debug)
        return status

    return run


#: What stands on a terminal while plans are searched for, and while the search is loaded.
_COMPARING = "Comparing plans ..."

#: What a terminal is told before anything is loaded: that takes half a second itself.
_FIRST_SIGN = "One moment ..."


def _load(quiet: bool) -> None:
    """Load what every command needs; a terminal is told at once, and the words taken away."""
    told = not quiet and sys.stderr.isatty()
    if told:
        sys.stderr.write(_FIRST_SIGN)
        sys.stderr.flush()
    try:
        import budget.report.terminal.terminal
        import budget.workbook  # noqa: F401
    finally:
        if told:
            sys.stderr.write(f"\r{' ' * len(_FIRST_SIGN)}\r")
            sys.stderr.flush()


def limited(command: Callable[..., int]) -> Callable[..., int]:
    """The option that stops every search for a plan after so many seconds."""

    @click.option(
        "--limit",
        type=click.FloatRange(min=0, min_open=True),
        metavar="SECONDS",
        help="Stop each search after so long, and say how far off it may be.  [default: 60]",
    )
    @functools.wraps(command)
    def run(show: Show, limit: float | None, **values: Any) -> int:
        from budget.decide.programme.search import at_most

        with at_most(limit):
            return command(show, **values)

    return run


def _interrupted(error: BaseException | None) -> bool:
    """Whether an interruption lies behind: a library stopped while loading hides it."""
    while error is not None and not isinstance(error, KeyboardInterrupt):
        error = error.__cause__ or error.__context__
    return error is not None


def _print_nothing_more() -> None:
    """Let what is still to be printed go nowhere, so that the end is quiet."""
    os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


def _problems(show: Show, reading: Reading) -> int:
    """Tell every problem: as the JSON of ``check``, or in words on standard error."""
    from budget.report import listings, review
    from budget.report.documents import commands
    from budget.report.terminal import terminal

    found = review.review(reading)
    if show.as_json:
        show.json(commands.check(found))
    terminal.show(listings.problems(found.problems), sys.stderr)
    return PROBLEMS


def _ended(show: Show, error: Exception, debug: bool) -> int:
    status, message = verdict(error)
    if debug:
        import traceback

        traceback.print_exception(error)
    if show.as_json:
        from budget.report.documents import commands

        show.json(commands.error(status, message))
    _tell(message)
    return status


def _tell(message: str) -> None:
    """Say something on standard error, in a window without breaking words."""
    from budget.report.terminal.blocks import Text
    from budget.report.terminal.terminal import show

    show([Text(line) for line in message.splitlines()], sys.stderr)


class Sound(NamedTuple):
    """A workbook without problems."""

    job: Job
    warnings: tuple[Notice, ...]
    reading: Reading

    def stop_at(self, found: Iterable[Notice]) -> None:
        """Raise :class:`ProblemsError` if one of some notices is a problem.

        A shape that cannot be, or a piece longer than its stock, is left out of the quantities:
        an answer without it would be one for another job.
        """
        problems = [notice for notice in found if notice.severity == "problem"]
        if problems:
            raise ProblemsError(self.reading, problems)


def read_job(
    file: Path, may_be_empty: Collection[str] = (), changes: Sequence[str] = ()
) -> Sound:  # fmt: skip
    """Read a workbook; raises :class:`ProblemsError` with all its problems.

    ``may_be_empty`` names required sheets that this command can do without; ``changes`` such
    as ``Quotes!C12=4.10`` stand in for what the file says.
    """
    from budget.report.terminal.terminal import working
    from budget.workbook import read
    from budget.workbook.changes import parse

    wanted = parse(changes)
    with working("Reading the workbook ..."):
        reading = read(file, may_be_empty=may_be_empty, changes=wanted)
    if reading.job is None or reading.problems:
        raise ProblemsError(reading)
    write_numbers_of(reading.job)
    return Sound(reading.job, reading.warnings, reading)


def write_numbers_of(job: Job) -> None:
    """Write as the job does until the command ends; in a worker, until the next job."""
    from budget.numerals import from_now_on, written

    context = click.get_current_context(silent=True)
    if context:
        context.with_resource(written(job.settings.manner))
    else:
        from_now_on(job.settings.manner)


def compared(
    show: Show,
    sound: Sound,
    pins: tuple[Pin, ...] = (),
    thorough: bool = False,
) -> Comparison:
    """Compare every scenario of a sound workbook, with its warnings beside.

    ``thorough`` draws many more cases to say how sure the answer is, and adds margins, bids
    like for like and every trade of cash against own hours.
    """
    from budget.report.terminal.terminal import planning, working

    with working(_COMPARING, show.quiet):
        from budget.decide import compare
        from budget.decide.brief import laid_out
        from budget.decide.deeper import deepen, more_draws
        from budget.decide.whynot import check_pins
        from budget.garbage import collected_later
        from budget.report.pinned import with_pins
        from budget.report.review import with_warnings

    with planning(_COMPARING, show.quiet), collected_later():
        if pins:
            check_pins(laid_out(sound.job), {pin.choice: pin.value for pin in pins})
        comparison = compare(with_pins(sound.job, pins))
        sound.stop_at(comparison.warnings)
        comparison = deepen(more_draws(comparison)) if thorough else comparison
    return with_warnings(comparison, sound.warnings)
