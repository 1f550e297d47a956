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
from typing import NamedTuple

from budget.job import Job, Notice, Spend
from budget.numerals import date
from budget.spend import journal
from budget.spend.finding import folded
from budget.spend.journal import Recorded
from budget.spend.tallying import amount, notice
from budget.units import round_half_up

#: A payment entered by hand may stand this many days from the bank's date.
DAYS = 5


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


class Joined(NamedTuple):
    """A job with the entries of both places."""

    job: Job
    warnings: tuple[Notice, ...]
    on_both: int = 0  # entries of the journal that are on the sheet too, counted once


def with_journal(job: Job, workbook: Path) -> Joined:
    """The job with the journal's entries beside those of its Spend sheet, and warnings."""
    found = journal.read(journal.path_for(workbook))
    if not found.rows:
        return Joined(job, found.warnings)
    warnings = (*found.warnings, *maybe_twice(job.spend, found.rows))
    entries = joined(job.spend, found.entries)
    on_both = len(job.spend) + len(found.rows) - len(entries)
    return Joined(replace(job, spend=entries), warnings, on_both)


def maybe_twice(sheet: Iterable[Spend], rows: Iterable[Recorded]) -> tuple[Notice, ...]:
    """A warning for each payment from a statement that looks like one entered by hand.

    Same line, same kind and same money within :data:`DAYS` days, but not the same day or seller,
    so that nobody can be sure. Not where both carry a receipt of their own.
    """
    told = tuple(rows)
    by_hand = [*sheet, *(row.entry for row in told if not row.source)]
    near: dict[Hashable, list[Spend]] = {}
    for entry in by_hand:
        near.setdefault(_money(entry), []).append(entry)
    found = []
    for row in told:
        if not row.source:
            continue
        twins = [e for e in near.get(_money(row.entry), ()) if _near(e, row.entry)]
        if twins:
            twin = min(twins, key=lambda e: (abs((e.date - row.entry.date).days), e.place.row))
            found.append(_twice(row.entry, twin))
            near[_money(row.entry)].remove(twin)
    return tuple(found)


def _money(entry: Spend) -> Hashable:
    return (folded(entry.line), entry.state, amount(entry))


def _near(entry: Spend, other: Spend) -> bool:
    if entry.receipt.strip() and other.receipt.strip():
        return False
    same = identity(entry) == identity(other)  # counted once already
    return not same and abs((entry.date - other.date).days) <= DAYS


def _twice(entry: Spend, twin: Spend) -> Notice:
    return notice(
        entry, "amount", "spend-maybe-twice",
        f"“{entry.line}” {entry.state}, from a statement",
        f"each payment once; row {twin.place.row} of {twin.place.sheet} has the same money on "
        f"{date(twin.date)}",
        "Both are counted. If it is one payment, delete the row of the sheet, or record it once "
        "more with a minus.",
    )  # fmt: skip
