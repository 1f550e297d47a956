"""Warnings before the money is gone: orders that fall short, firms paid ahead of their work,
payments nobody ordered, and room that goes faster than the work."""

from __future__ import annotations

from collections.abc import Mapping

from budget.decide.pricing.work import HIRED_HELP
from budget.job import Job, Notice, Spend
from budget.numerals import percent, trimmed
from budget.spend.finding import folded
from budget.spend.rules import settled_quantity
from budget.spend.tallying import notice
from budget.spend.tracking import Tracked, Tracking
from budget.units import PACK_TOLERANCE

#: A firm is paid ahead, or room goes too fast, from this share above the work done.
AHEAD = 0.1


def foresee(job: Job, found: Tracking, last: Mapping[str, Spend]) -> list[Notice]:
    """Every such warning; ``last`` is the latest entry of each line by folded name."""
    notices = []
    for line in found.lines:
        entry = last.get(folded(line.line))
        if entry is None:
            continue
        notices += _refunded(line, entry)
        if line.in_plan:
            notices += [*_short(line, entry), *_unordered(line, entry), *_paid_ahead(line, entry)]
    return [*notices, *_room(job, found)]


def _short(line: Tracked, entry: Spend) -> list[Notice]:
    """Fewer packs ordered than are needed since the need has grown.

    An order of a part, the rest to follow, is no mistake; days of hire come as they come.
    """
    tally = line.tally
    if not tally.orders or tally.ordered_quantity is None or line.need is None:
        return []
    if line.planned_need is not None and line.need <= line.planned_need + PACK_TOLERANCE:
        return []
    if line.per in ("day", "hour") or settled_quantity(tally) >= line.need - PACK_TOLERANCE:
        return []
    if tally.final or tally.work_done:
        return []
    missing = line.need - settled_quantity(tally)
    return [
        notice(
            entry, "quantity", "spend-order-short",
            f"{_packs(settled_quantity(tally), line)} of “{line.line}” ordered",
            f"the {_packs(line.need, line)} that are needed now",
            f"Order {_packs(line.to_buy or missing, line)} more, while the same lot is to be had; "
            "if that is too many, look at “Need measured again” on Progress, which is in the unit "
            "of “budget quantities”.",
        )
    ]  # fmt: skip


def _packs(many: float, line: Tracked) -> str:
    return f"{trimmed(many)} {line.per}".replace(" each", "")


def _unordered(line: Tracked, entry: Spend) -> list[Notice]:
    """Money for goods or a firm that nobody ordered, and that settles no quantity."""
    tally = line.tally
    bought = line.group == HIRED_HELP or (line.need is not None and line.per not in ("day", "hour"))
    if not bought or tally.orders or not tally.paid or tally.paid_quantity or tally.final:
        return []
    taken = (
        "Its work is done, so this is taken as the last payment: enter the order if more is owed."
        if tally.work_done
        else "Enter the order: until then it counts as a part payment and the rest of the plan "
        "is still to come."
    )
    return [
        notice(
            entry, "state", "spend-no-order", f"“{line.line}” paid without an order",
            "an order, the quantity paid for, or “final payment” as its state", taken,
        )
    ]  # fmt: skip


def _paid_ahead(line: Tracked, entry: Spend) -> list[Notice]:
    if line.group != HIRED_HELP or line.will_come_to <= 0 or not line.paid:
        return []
    paid, done = line.paid / line.will_come_to, line.done or 0.0
    if paid <= done + AHEAD:
        return []
    return [
        notice(
            entry, "amount", "spend-paid-ahead", f"“{line.line}” paid to {percent(paid)}",
            f"payment behind the work, of which {percent(done)} is done",
            "Hold the next payment until the work has caught up, or say on Progress how far "
            "it is.",
        )
    ]  # fmt: skip


def _refunded(line: Tracked, entry: Spend) -> list[Notice]:
    """More money back than was ever paid on the line."""
    if line.tally.refund_above_paid <= 0:
        return []
    return [
        notice(
            entry, "amount", "spend-refund-over-paid",
            f"more refunded on “{line.line}” than was paid for it",
            "refunds of no more than the payments before them",
            "Until you enter the payment that is missing, or take the refund back with a minus, no "
            "more is counted as refunded than was paid.",
        )
    ]  # fmt: skip


def _room(job: Job, found: Tracking) -> list[Notice]:
    """The room above the plan going faster than the work."""
    room = found.contingency
    if room is None or room <= 0 or found.work_done is None or found.contingency_used <= 0:
        return []
    used = found.contingency_used / room
    if used <= found.work_done + AHEAD:
        return []
    settings = job.settings
    return [
        Notice(
            settings.place.sheet, settings.place.row, settings.cell("spending_limit"),
            "spend-room-going", f"{percent(used)} of the room above the plan used",
            f"no more than the share of the work done, {percent(found.work_done)}",
            "See which of the choices still open could cost less.", "warning",
        )
    ]  # fmt: skip
