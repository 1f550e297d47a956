"""What bids cover, leave out or do not say, in words: shared by terminal, page and workbook."""

from __future__ import annotations

import string
from collections.abc import Sequence
from dataclasses import replace

from budget.decide.outcome import Comparison
from budget.decide.terms.situation import Situation, optional_parts
from budget.decide.thorough.matrix import (
    COSTS,
    EXTRA,
    NO,
    NO_MATTER,
    NOT_SAID,
    RISKS,
    YES,
    Cell,
    Matrix,
    matrix,
)
from budget.report import words

NOTE = (
    "“not said” is reckoned as left to you: ask, and enter the answer on the Bid scope sheet. "
    "A dash is no matter of that bid. What a bid says holds without the steps it may leave out."
)
SCOPE = (COSTS, RISKS)
_MARKS = {YES: "yes", NO: "no", NOT_SAID: "not said", NO_MATTER: "–"}


def bids_side_by_side(comparison: Comparison) -> Matrix | None:
    """The bids of a job under its best plan's bedding and parts; None where there is no bid."""
    best = comparison.best.priced if comparison.best else None
    takeoff, options = comparison.takeoff, comparison.options
    if not options.bids:
        return None
    bedding = best.plan.bedding if best else takeoff.beddings[0].name
    parts = best.plan.parts if best else optional_parts(takeoff)
    found = matrix(Situation(takeoff, options, bedding, parts))
    return found if found.bids else None


def scope_side_by_side(comparison: Comparison) -> Matrix | None:
    """The same for costs and risks: a bid's smaller forms, which say the same, are left out."""
    found = bids_side_by_side(comparison)
    if found is None:
        return None
    smaller = {bid.key for bid in comparison.options.bids if bid.deduct}
    whole = [number for number, bid in enumerate(found.bids) if bid not in smaller]
    rows = (replace(row, cells=tuple(row.cells[n] for n in whole)) for row in found.rows)
    return Matrix(
        tuple(found.bids[n] for n in whole), tuple(row for row in rows if row.group in SCOPE)
    )


def apart(found: Matrix) -> tuple[Matrix, list[str]]:
    """The rows of which any bid says something, and the names of the others."""
    told = [any(c.answer not in (NOT_SAID, NO_MATTER) for c in row.cells) for row in found.rows]
    said = tuple(row for row, any_ in zip(found.rows, told, strict=True) if any_)
    unsaid = [row.item for row, any_ in zip(found.rows, told, strict=True) if not any_]
    return Matrix(found.bids, said), unsaid


def cell(found: Cell, currency: str) -> str:
    """One cell in words.

    >>> cell(Cell("yes"), "USD"), cell(Cell("extra", 9500.0), "USD"), cell(Cell(""), "USD")
    ('yes', '+ $95', '–')
    """
    if found.answer == EXTRA:
        return f"+ {words.money_round(found.extra, currency)}"
    return _MARKS[found.answer]


def rows(found: Matrix, currency: str, groups: Sequence[str] = ()) -> list[tuple[str, ...]]:
    """The rows of some groups (all if none is named): the thing, then a cell for each bid."""
    return [
        (row.item, *(cell(c, currency) for c in row.cells))
        for row in found.rows
        if not groups or row.group in groups
    ]


def letters(count: int) -> list[str]:
    """Short names for so many bids.

    >>> letters(3), letters(28)[-2:]
    (['A', 'B', 'C'], ['AA', 'AB'])
    """
    one = string.ascii_uppercase
    return [("" if n < 26 else one[n // 26 - 1]) + one[n % 26] for n in range(count)]


def in_sentences(found: Matrix, bid: str, currency: str) -> list[str]:
    """What one bid says of costs and risks, a sentence for each answer."""
    said: dict[str, list[str]] = {}
    for row, what in found.of(bid):
        if row.group not in SCOPE or what.answer == NO_MATTER:
            continue
        extra = f" ({words.money_round(what.extra, currency)})" if what.answer == EXTRA else ""
        said.setdefault(what.answer, []).append(f"{row.item}{extra}")
    titles = {YES: "In the price", EXTRA: "For an extra", NO: "Left to you", NOT_SAID: "Not said"}
    return [f"{titles[a]}: {', '.join(said[a])}." for a in titles if a in said]
