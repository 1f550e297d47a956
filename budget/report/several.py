"""Several quotes workbooks compared at once: one line of answer each, and one document of all."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from budget.decide.wording import so_far
from budget.report import words
from budget.report.documents import document, parts
from budget.report.terminal.blocks import Block, Gap, Text, table

if TYPE_CHECKING:
    from budget.decide.outcome import Comparison

SCHEMA = "outdoor-room-budget/compare-several/1"


@dataclass(frozen=True, slots=True)
class Best:
    """The best plan of one workbook: cash in cents, own hours, whether every line is priced."""

    job: str
    currency: str
    plan: str
    cash: int
    own_hours: float
    complete: bool
    proved: bool = True
    gap: float = 0.0  # share of the total that a better plan could save at most


@dataclass(frozen=True, slots=True)
class Outcome:
    """How one workbook ended: its exit status, its best plan or why there is none."""

    file: Path
    status: int
    best: Best | None = None
    message: str = ""
    files: document.Files | None = None


def best_of(comparison: Comparison) -> Best | None:
    """What the table says of a comparison, None where no plan can be built yet."""
    best = comparison.best
    if best is None or best.priced is None:
        return None
    settings = comparison.job.settings
    return Best(
        job=settings.name,
        currency=settings.currency,
        plan=best.title,
        cash=best.priced.cash,
        own_hours=best.priced.own_hours,
        complete=comparison.complete,
        proved=best.proved,
        gap=best.gap,
    )


def worst(outcomes: Iterable[Outcome]) -> int:
    """The exit status of all: the worst of each."""
    return max((outcome.status for outcome in outcomes), default=0)


def blocks(outcomes: Sequence[Outcome]) -> list[Block]:
    """A table of all, in the order given, then what went wrong and where."""
    titles = ("Workbook", "Best plan", "Cash", "Own work")
    found: list[Block] = [table(titles, map(_row, outcomes), right=(2, 3))]
    failed = [outcome for outcome in outcomes if outcome.message]
    if failed:
        found.append(Gap())
    found += [Text(_why(o), "problem" if o.status else "plain") for o in failed]
    return found


def _why(outcome: Outcome) -> str:
    """What went wrong with which workbook, its path named once."""
    path = str(outcome.file)
    named = path in outcome.message and outcome.status not in (0, 1)
    return outcome.message if named else f"{path}: {outcome.message}"


def _row(outcome: Outcome) -> tuple[str, str, str, str]:
    best = outcome.best
    if best is None:
        return str(outcome.file), "not compared, see below", "", ""
    cash = words.money(best.cash, best.currency)
    return (
        str(outcome.file),
        f"{best.plan}{_unsure(best, ' (so far)')}",
        cash,
        words.hours(best.own_hours),
    )


def _unsure(best: Best, incomplete: str) -> str:
    """What is to be said where a best plan is not complete, or was not proved."""
    if not best.proved:
        return f" ({so_far(best.gap)})"
    return "" if best.complete else incomplete


def in_lines(outcomes: Sequence[Outcome]) -> list[Block]:
    """The answers of ``--quiet``: one line for each workbook."""
    return [Text(_line(outcome)) for outcome in outcomes]


def _line(outcome: Outcome) -> str:
    best = outcome.best
    if best is None:
        return _why(outcome)
    cash = words.money(best.cash, best.currency)
    return (
        f"{outcome.file}: best{_unsure(best, ' so far')}: {best.plan}: {cash} cash, "
        f"{words.hours(best.own_hours)} of own work."
    )


def as_json(outcomes: Sequence[Outcome]) -> dict[str, Any]:
    """One document of all workbooks; ``status`` is the worst of theirs."""
    return {
        "schema": SCHEMA,
        "status": worst(outcomes),
        "workbooks": [_entry(outcome) for outcome in outcomes],
    }


def _entry(outcome: Outcome) -> dict[str, Any]:
    best, files = outcome.best, outcome.files
    return {
        "file": outcome.file.as_posix(),
        "status": outcome.status,
        "message": outcome.message,
        "best": None
        if best is None
        else {
            "job": best.job,
            "currency": best.currency,
            "plan": best.plan,
            "cash": parts.money(best.cash),
            "own_hours": parts.number(best.own_hours),
            "complete": best.complete,
            "proved": best.proved,
        },
        "files": None
        if files is None
        else {"workbook": files.workbook.as_posix(), "page": files.page.as_posix()},
    }
