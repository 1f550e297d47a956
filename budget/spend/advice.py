"""Early warnings from the entries: unknown lines, overruns, what is paid beyond an order."""

from __future__ import annotations

from collections.abc import Sequence

from budget.decide.plan import Comparison
from budget.job import Notice, Spend
from budget.spend.finding import folded, nearest
from budget.spend.tallying import blank_amounts, notice, twice_entered
from budget.spend.tracking import Tracked
from budget.units import MONEY, in_words


def warn(
    comparison: Comparison, lines: Sequence[Tracked], entries: Sequence[Spend], limit: int | None
) -> tuple[Notice, ...]:
    """Every warning about the entries, in the order of the sheet. Money in cents."""
    currency = comparison.job.settings.currency
    found = [
        *_unknown(lines, entries),
        *blank_amounts(entries),
        *twice_entered(entries),
        *_overrun(lines, entries, currency),
        *_past_limit(comparison, lines, limit),
    ]
    return tuple(sorted(found))


def _amount(cents: int, currency: str) -> str:
    return f"{in_words(cents, MONEY, 'metric')} {currency}"


def _unknown(lines: Sequence[Tracked], entries: Sequence[Spend]) -> list[Notice]:
    known = {folded(t.line): t.line for t in lines if t.in_plan}
    found = []
    for entry in entries:
        if folded(entry.line) in known:
            continue
        near = nearest(entry.line, known.values())
        hint = f"Did you mean “{near[0]}”?" if near else "“budget spend” lists the plan's lines."
        found.append(
            notice(
                entry,
                "line",
                "spend-unknown-line",
                f"“{entry.line}”",
                "a line of the chosen plan",
                f"{hint} Until then it is counted as not in the plan.",
            )
        )
    return found


def _overrun(lines: Sequence[Tracked], entries: Sequence[Spend], currency: str) -> list[Notice]:
    last = {folded(e.line): e for e in entries}
    found = []
    for line in lines:
        entry = last.get(folded(line.line))
        if entry is None or not line.in_plan or line.left >= 0:
            continue
        found.append(
            notice(
                entry,
                "amount",
                "spend-over-plan",
                f"“{line.line}” will come to {_amount(line.will_come_to, currency)}",
                f"at most the plan's {_amount(line.agreed, currency)}",
                f"It is {_amount(-line.left, currency)} over; enter a “change agreed” if it was.",
            )
        )
    return found


def _past_limit(
    comparison: Comparison, lines: Sequence[Tracked], limit: int | None
) -> list[Notice]:
    will = sum(t.will_come_to for t in lines)
    if limit is None or will <= limit:
        return []
    settings = comparison.job.settings
    currency = settings.currency
    return [
        Notice(
            settings.place.sheet,
            settings.place.row,
            settings.cell("spending_limit"),
            "spend-over-limit",
            f"the job will come to {_amount(will, currency)}",
            f"at most the spending limit of {_amount(limit, currency)}",
            f"It is {_amount(will - limit, currency)} over: see which lines still can change.",
            "warning",
        )
    ]
