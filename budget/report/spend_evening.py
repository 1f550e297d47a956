"""What ``spend`` prints of an evening: one window of sums, what is next, and what to look at."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from itertools import groupby

from budget.decide.wording import so_far
from budget.job import Notice
from budget.numerals import short_date
from budget.report import words
from budget.report.terminal.blocks import Block, Gap, Heading, Pair, Text, fitted, table
from budget.spend.again import Again
from budget.spend.coming import Coming
from budget.spend.standing import Standing
from budget.spend.tracking import Tracking, Why

#: Things to do, and warnings, that are shown; ``--full`` shows all.
NEXT, LOOK_AT = 6, 2
_WIDTH = 64  # columns beside the labels of a window of 80

DO = {
    "order": "Order", "book": "Book", "expect": "Expect", "pay": "Pay",
    "deposit": "Get back deposit on", "refund": "Get refunded for",
    "return": "Take back by then", "expires": "Price ends for", "waits": "Waits:",
}  # fmt: skip
#: What can be late.
_TO_DO = ("order", "book", "pay")
#: Warnings that make the sums above wrong, shown before the others.
_WRONG = ("spend-refund-over-paid", "spend-twice", "spend-maybe-twice", "spend-no-amount")
_REASONS = (
    ("quantity", "more needed", "less needed"),
    ("price", "dearer", "cheaper"),
    ("scope", "work added", "work left out"),
    ("pace", "longer hire or help", "shorter hire or help"),
)


def evening(found: Standing) -> list[Block]:
    """The sums, the lines above the plan and why, what comes next, and the first warnings."""
    tracking, currency = found.tracking, found.job.settings.currency
    blocks: list[Block] = [Heading(_head(found)), *_sums(tracking, currency)]
    blocks += _above(tracking, currency)
    blocks += _next(found.coming, tracking.day, currency)
    blocks += _look_at(tracking.warnings)
    if found.again is not None and found.again.changes:
        cash, hours = words.money(found.again.cash, currency), words.hours(found.again.hours)
        blocks.append(Text(f"The choices still open, planned anew, would save {cash} and {hours}."))
    if found.again is not None and not found.again.proved:
        blocks.append(Text(again_so_far(found.again), "warning"))
    return [*blocks, Text("--full shows every line, the reasons, the weeks and all warnings.")]


def again_so_far(again: Again) -> str:
    """What is known of a plan made anew whose search was stopped."""
    return f"Planned anew it is the {so_far(again.gap)}; --limit gives the search more time."


def _head(found: Standing) -> str:
    tracking, name = found.tracking, found.job.settings.name
    day = words.date(tracking.day)
    if tracking.accepted_on is None:
        sure = "" if found.stick.proved else f"; this one is the {so_far(found.stick.gap)}"
        return f"{name} on {day}; no plan is accepted yet (“budget accept”){sure}"
    return (
        f"{name} on {day}, against plan {tracking.accepted} of {words.date(tracking.accepted_on)}"
    )


def _sums(found: Tracking, currency: str) -> list[Block]:
    def cash(cents: int) -> str:
        return words.money(cents, currency)

    against = "the plan" if found.limit is None else f"your limit of {cash(found.limit)}"
    side = f"{cash(abs(found.left))} {'under' if found.left >= 0 else 'OVER'} {against}"
    hours = (
        f"{words.hours(found.spent_hours)} done, {words.hours(found.hours_to_come)} to come; "
        f"{words.hours(found.planned_hours)} planned"
    )
    blocks: list[Block] = [
        Pair("Will come to", f"{cash(found.will_come_to)}; {side}"),
        Pair("Paid", f"{cash(found.paid)}; still to come {cash(found.to_come)}"),
        Pair("Own hours", hours),
    ]
    if found.contingency is not None and found.contingency > 0:
        left = f"{cash(found.left)} left of {cash(found.contingency)} above the plan"
        if found.left > found.contingency:
            left = f"{cash(found.left)} above the plan; {cash(found.contingency)} at first"
        if found.work_done is not None:
            left += f"; {words.percent(round(found.work_done, 2))} of the work done"
        blocks.append(Pair("Room", left))
    if found.unpriced:
        blocks.append(Pair("Not priced", fitted(found.unpriced, _WIDTH, 2, ", ")))
    return blocks


def _above(found: Tracking, currency: str) -> list[Block]:
    """Lines that will pass what was planned and agreed, the most first, and why in all."""
    over = sorted((t for t in found.lines if t.left < 0), key=lambda t: (t.left, t.line))
    if not over:
        return []
    items = [f"{t.line} {words.money(-t.left, currency)}" for t in over]
    blocks: list[Block] = [Pair("Above plan", fitted(items, _WIDTH, 2, ", "))]
    said = _reasons(found.why, currency)
    return [*blocks, Pair("Why, in all", said)] if said else blocks


def _reasons(why: Why, currency: str) -> str:
    parts = []
    for name, more, less in _REASONS:
        cents = getattr(why, name)
        if cents:
            parts.append(f"{more if cents > 0 else less} {words.money(abs(cents), currency)}")
    return ", ".join(parts)


def _next(coming: Sequence[Coming], today: dt.date, currency: str) -> list[Block]:
    if not coming:
        return []
    told = _together(coming)
    rows = [
        (
            short_date(c.day) if c.day else "no date",
            _said(c, today),
            words.money(c.cents, currency) if c.cents else "",
        )
        for c in told[:NEXT]
    ]
    left = len(told) - NEXT
    title = "What" + (f" (and {left} more)" if left > 0 else "")
    return [Gap(), table(("Next", title, ""), rows, right=(2,))]


def _together(coming: Sequence[Coming]) -> list[Coming]:
    """What comes next, with the orders of one day from one seller as one thing to do."""
    found: list[Coming] = []
    for (kind, day, who), group in groupby(coming, lambda c: (c.kind, c.day, c.who)):
        same = list(group)
        if kind != "order" or len(same) == 1:
            found += same
            continue
        goods, cents = ", ".join(c.line for c in same), sum(c.cents for c in same)
        found.append(Coming("order", day, f"from {who}: {goods}", "", cents, ""))
    return found


def _said(c: Coming, today: dt.date) -> str:
    """What to do, on what and with whom, short enough for one line of a window."""
    who = f", {c.who}" if c.who else ""
    note = f": {c.note}" if c.note and not c.cents and c.kind != "waits" else ""
    text = f"{DO[c.kind]} {c.line}{who}{note}" if c.kind != "waits" else f"{c.line} {c.note}"
    if c.kind == "expires" and c.day is not None and c.day < today:
        text = text.replace("Price ends for", "Price ended for", 1)
    if c.kind in _TO_DO and c.day is not None and c.day < today:
        text = f"Late: {text[0].lower()}{text[1:]}"
    if len(text) <= _WIDTH - 10:
        return text
    return text[: _WIDTH - 11].rpartition(" ")[0].rstrip(" ,:;") + " …"


def _what(warning: Notice) -> str:
    """What was found; of a blank, what should be there."""
    return warning.found or f"blank; expected {warning.expected}"


def _look_at(warnings: Sequence[Notice]) -> list[Block]:
    """The first warnings that the sums above do not tell already."""
    others = [w for w in warnings if w.code not in ("spend-over-plan", "spend-over-limit")]
    if not others:
        return []
    others.sort(key=lambda w: w.code not in _WRONG and not w.code.startswith("journal-"))
    shown: list[Block] = [
        Text(f"{w.cell or w.sheet}: {_what(w)}. {w.mend}", w.severity) for w in others[:LOOK_AT]
    ]
    more = f", and {len(others) - LOOK_AT} more" if len(others) > LOOK_AT else ""
    return [Gap(), Heading(f"Look at{more}"), *shown]
