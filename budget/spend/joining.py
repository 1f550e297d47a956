"""Entries of the Spend sheet and of the journal, joined so that no row counts twice.

Two rows are the same where date, line, seller, state, quantity, money with tax, own hours and
receipt are the same; case and spacing do not matter, nor the words of *What*. Within one source
such rows count as often as they stand there, for two equal bags may be bought on one day.
Between the sources they are matched one to one: a row on both counts once.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Hashable, Iterable
from dataclasses import replace
from pathlib import Path

from budget.job import Job, Notice, Spend
from budget.spend import journal
from budget.spend.finding import folded
from budget.units import round_half_up


def identity(entry: Spend) -> Hashable:
    """What makes two entries the same row."""
    money = None if entry.amount is None else round_half_up(entry.amount)
    if money is not None:
        money += round_half_up(entry.tax or 0)
    return (
        entry.date, folded(entry.line), folded(entry.supplier), entry.state,
        None if entry.quantity is None else round(entry.quantity, 6), money,
        None if entry.own_hours is None else round(entry.own_hours, 6), folded(entry.receipt),
    )  # fmt: skip


def joined(sheet: Iterable[Spend], recorded: Iterable[Spend]) -> tuple[Spend, ...]:
    """The entries of the sheet, then those of the journal that are not on it already."""
    first = tuple(sheet)
    held = Counter(identity(entry) for entry in first)
    added = []
    for entry in recorded:
        key = identity(entry)
        if held[key] > 0:
            held[key] -= 1
        else:
            added.append(entry)
    return (*first, *added)


def with_journal(job: Job, workbook: Path) -> tuple[Job, tuple[Notice, ...]]:
    """The job with the journal's entries beside those of its Spend sheet, and warnings."""
    found = journal.read(journal.path_for(workbook))
    if not found.rows:
        return job, found.warnings
    return replace(job, spend=joined(job.spend, found.entries)), found.warnings
