"""Early warnings: entries that cannot be right, and lines that go the wrong way."""

from __future__ import annotations

from collections.abc import Sequence

from budget.decide.outcome import Comparison
from budget.job import Notice, Spend
from budget.spend.finding import folded, nearest
from budget.spend.foresight import foresee
from budget.spend.tallying import blank_amounts, notice, twice_entered
from budget.spend.tracking import Tracked, Tracking
from budget.spend.yardstick import Yardstick
from budget.units import money


def warn(
    comparison: Comparison, stick: Yardstick, found: Tracking, entries: Sequence[Spend]
) -> tuple[Notice, ...]:
    """Every warning about the entries, in the order of the sheet. Money in cents."""
    currency = comparison.job.settings.currency
    last: dict[str, Spend] = {folded(entry.line): entry for entry in entries}
    notices = [
        *_unknown(stick, entries),
        *blank_amounts(entries),
        *twice_entered(entries),
        *_overrun(found.lines, last, currency),
        *foresee(comparison.job, found, last),
        *_past_limit(comparison, found),
    ]
    return tuple(sorted(notices))


def _unknown(stick: Yardstick, entries: Sequence[Spend]) -> list[Notice]:
    known = {key: line.name for key, line in stick.lines.items()}
    found = []
    hints: dict[str, str] = {}
    for entry in entries:
        if folded(entry.line) in known:
            continue
        if entry.line not in hints:
            near = nearest(entry.line, known.values())
            hints[entry.line] = (
                f"Did you mean “{near[0]}”? Until then it is counted as not in the plan."
                if near
                else "It is counted as not in the plan; if it is not, leave it so."
            )
        found.append(
            notice(
                entry,
                "line",
                "spend-unknown-line",
                f"“{entry.line}”",
                "a line of the chosen plan",
                hints[entry.line],
            )
        )
    return found


def _overrun(lines: Sequence[Tracked], last: dict[str, Spend], currency: str) -> list[Notice]:
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
                f"“{line.line}” will come to {money(line.will_come_to, currency)}",
                f"at most the plan's {money(line.agreed, currency)}",
                f"It is {money(-line.left, currency)} over; enter a “change agreed” if it was.",
            )
        )
    return found


def _past_limit(comparison: Comparison, tracking: Tracking) -> list[Notice]:
    will, limit = tracking.will_come_to, tracking.limit
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
            f"the job will come to {money(will, currency)}",
            f"at most the spending limit of {money(limit, currency)}",
            f"It is {money(will - limit, currency)} over: see which lines still can change.",
            "warning",
        )
    ]
