"""Writing entries down: from a person's words, and from the rows of a statement."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from pathlib import Path

from budget.decide.brief import plan_briefly
from budget.job import Job, Notice, Spend
from budget.spend import baseline_book, journal
from budget.spend.finding import NoPlanError, UnknownNameError, called
from budget.spend.joining import identity, joined
from budget.spend.journal import Recorded
from budget.spend.matching import Proposal

#: What to do where no line is near.
_INSTEAD = "“budget spend” with --full lists the lines; --new-line writes down one beside the plan."


class TwiceError(Exception):
    """An entry that is there already; ``str`` says where."""


def known_lines(
    job: Job, workbook: Path, check: Callable[[Sequence[Notice]], None] = lambda notices: None
) -> tuple[str, ...]:
    """The names of the lines that entries can be for: of the accepted plans, or the best plan.

    ``check`` sees what the quantities of a plan not yet accepted tell, and raises where that
    must stop the work. Raises :class:`NoPlanError` if there is no plan.
    """
    baselines = baseline_book.read(baseline_book.path_for(workbook))
    if baselines:
        return tuple(dict.fromkeys(line.line for b in baselines for line in b.lines))
    comparison = plan_briefly(job, every=False)
    check((*comparison.takeoff.warnings, *comparison.options.warnings))
    best = comparison.best
    if best is None or best.priced is None:
        msg = "No plan can be built from this workbook yet, so it has no lines."
        raise NoPlanError(msg)
    return tuple(dict.fromkeys(line.name for line in best.priced.lines))


def line_called(name: str, known: Iterable[str]) -> str:
    """A line's name as the plan writes it. Raises :class:`UnknownNameError` with the nearest."""
    names = tuple(known)
    line = called(name, names)
    if line is None:
        raise UnknownNameError("line", name, names, _INSTEAD)
    return line


def record(job: Job, workbook: Path, entry: Spend, again: bool = False) -> Path:
    """Append one entry to the journal beside a workbook, and give the journal's path.

    Raises :class:`TwiceError` for an entry that is there already, unless ``again``.
    """
    path = journal.path_for(workbook)
    entry = journal.settled(entry)
    recorded = journal.read(path).entries
    same = [e for e in joined(job.spend, recorded) if _same(e, entry)]
    if same and not again:
        place = same[0].place
        msg = (
            f"This entry is in {place.sheet}, row {place.row}, already. "
            "If it happened twice, add --again."
        )
        raise TwiceError(msg)
    # rows of the sheet answer for as many of the journal, so that one more must stand beside those
    missing = len(same) - sum(_same(e, entry) for e in recorded)
    journal.append(path, [Recorded(entry)] * (missing + 1))
    return path


def _same(entry: Spend, settled: Spend) -> bool:
    return identity(journal.settled(entry)) == identity(settled)


def take(workbook: Path, proposals: Sequence[Proposal]) -> Path:
    """Append the entries of the proposals that were agreed to, all in one go."""
    path = journal.path_for(workbook)
    journal.append(path, [Recorded(e, p.booked.source) for p in proposals for e in p.entries()])
    return path
