"""``budget compare`` of several workbooks: each in a process of its own, side by side."""

from __future__ import annotations

import os
import signal
from collections.abc import Iterator, Sequence
from concurrent.futures import Future, ProcessPoolExecutor, as_completed
from concurrent.futures.process import BrokenProcessPool
from dataclasses import dataclass
from multiprocessing import get_context
from pathlib import Path

import click

from budget.cli.command import ProblemsError, Show, compared, read_job
from budget.cli.verdict import FINE, OUR_FAULT, PROBLEMS
from budget.cli.verdict import verdict as verdict_of
from budget.report.several import Outcome, best_of


@dataclass(frozen=True, slots=True)
class Wanted:
    """What is asked of every workbook."""

    out: Path | None
    no_files: bool
    thorough: bool
    limit: float  # seconds that each search may take


def sort_out(files: Sequence[Path], out: Path | None) -> list[Path]:
    """The workbooks to compare: each once, without the lock files of open ones.

    :raises click.UsageError: where two would write the same two files.
    """
    kept = {file.resolve(): file for file in reversed(files) if not file.name.startswith("~$")}
    found = [file for file in files if kept.pop(file.resolve(), None) is not None]
    stems = [file.stem.casefold() for file in found]
    if out is not None and len(set(stems)) < len(stems):
        raise click.UsageError(
            "Two of these workbooks have the same name and would write the same files. "
            "Leave out --out, or rename one."
        )
    return found


def compare_all(files: Sequence[Path], wanted: Wanted, quiet: bool) -> list[Outcome]:
    """Compare every workbook, as many at once as there are processors; one may fail alone."""
    from budget.report.terminal.terminal import counting

    outcomes: dict[Path, Outcome] = {}
    with counting("Comparing", len(files), quiet) as tell:
        for outcome in _side_by_side(files, wanted):
            outcomes[outcome.file] = outcome
            tell(outcome.file.name)
    return [outcomes[file] for file in files]


def _side_by_side(files: Sequence[Path], wanted: Wanted) -> Iterator[Outcome]:
    """Outcomes as they come. Processes are started afresh everywhere, as Windows does."""
    at_once = max(1, min(len(files), os.cpu_count() or 1))
    pool = ProcessPoolExecutor(at_once, get_context("spawn"), _be_silent)
    try:
        running = {pool.submit(compare_one, file, wanted): file for file in files}
        for done in as_completed(running):
            yield _outcome(running[done], done)
    finally:
        pool.shutdown(cancel_futures=True)


def _outcome(file: Path, done: Future[Outcome]) -> Outcome:
    try:
        return done.result()
    except BrokenProcessPool:
        why = "A process that compared workbooks was ended from outside. Try this one by itself."
        return Outcome(file, OUR_FAULT, message=why)


def _be_silent() -> None:
    """Leave interruptions to the process that started this one, and its terminal too."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    os.environ["TERM"] = "dumb"


def compare_one(file: Path, wanted: Wanted) -> Outcome:
    """Compare one workbook and write its files; whatever happens ends in an outcome."""
    from budget.decide.programme.search import at_most
    from budget.report import files as output

    try:
        with at_most(wanted.limit):
            comparison = compared(Show(False, True), read_job(file), (), wanted.thorough)
        written = None if wanted.no_files else output.write(comparison, file, wanted.out)
    except ProblemsError as error:
        first, count = error.problems[0], len(error.problems)
        rest = f" {count - 1} more:" if count > 1 else ""
        message = f"{first.cell}: {first.message}{rest} budget check {file}"
        return Outcome(file, PROBLEMS, message=message)
    except Exception as error:
        status, message = verdict_of(error)
        return Outcome(file, status, message=message)
    best = best_of(comparison)
    return Outcome(file, FINE, best, "" if best else "No plan can be built yet.", written)
