"""Spend tracking: entries of the Spend sheet against the lines of the chosen plan.

The rules are set out in :mod:`budget.spend.rules`.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence

from budget.decide.plan import Comparison, Line, Priced
from budget.job import Spend
from budget.spend.advice import warn
from budget.spend.finding import find_scenario, folded, priced
from budget.spend.rules import will_come_to
from budget.spend.tallying import amount, in_time, tally
from budget.spend.tracking import Tally, Tracked, Tracking
from budget.units import round_half_up

UNPLANNED = "Not in the plan"


def track(comparison: Comparison, scenario: str | None = None) -> Tracking:
    """Set the Spend sheet's entries against the plan of ``scenario`` (the best plan if None).

    Money is in cents with tax, hours are own hours. Raises
    :class:`budget.spend.finding.UnknownNameError` for a scenario that does not exist and
    :class:`budget.spend.finding.NoPlanError` for one that cannot be built.
    """
    chosen = find_scenario(comparison, scenario)
    plan = priced(chosen)
    entries = in_time(comparison.job.spend)
    lines = _lines(plan, _by_line(entries))
    will = sum(t.will_come_to for t in lines)
    agreed = sum(t.agreed for t in lines)
    limit = _limit(comparison)
    return Tracking(
        scenario=chosen,
        lines=lines,
        planned=sum(t.planned for t in lines),
        changes=sum(t.changes for t in lines),
        ordered=sum(t.ordered for t in lines),
        paid=sum(t.paid for t in lines),
        to_come=sum(t.to_come for t in lines),
        will_come_to=will,
        limit=limit,
        left=(agreed if limit is None else limit) - will,
        refund_due=sum(t.refund_due for t in lines),
        planned_hours=sum(t.planned_hours for t in lines),
        spent_hours=sum(t.spent_hours for t in lines),
        hours_to_come=sum(max(0.0, t.planned_hours - t.spent_hours) for t in lines),
        deposits_out=_deposits(entries, "deposit paid"),
        deposits_back=_deposits(entries, "deposit back"),
        deposits_planned=plan.deposits,
        entries=len(entries),
        warnings=warn(comparison, lines, entries, limit),
        unpriced=tuple(m.what for m in plan.missing),
    )


def _limit(comparison: Comparison) -> int | None:
    limit = comparison.job.settings.spending_limit
    return None if limit is None else round_half_up(limit)


def _by_line(entries: Sequence[Spend]) -> dict[str, list[Spend]]:
    found: defaultdict[str, list[Spend]] = defaultdict(list)
    for entry in entries:
        found[folded(entry.line)].append(entry)
    return dict(found)


def _lines(plan: Priced, by_line: Mapping[str, Sequence[Spend]]) -> tuple[Tracked, ...]:
    """The plan's lines in its order, those of one name together, then what it has not."""
    planned: defaultdict[str, list[Line]] = defaultdict(list)
    for line in plan.lines:
        planned[folded(line.name)].append(line)
    packs = _packs(plan)
    lines = [
        _planned(own, tally(by_line.get(key, ())), packs.get(key)) for key, own in planned.items()
    ]
    strays = sorted(set(by_line) - set(planned))
    return (*lines, *(_stray(by_line[key]) for key in strays if _counts(by_line[key])))


def _counts(entries: Sequence[Spend]) -> bool:
    return any(not e.state.startswith("deposit") for e in entries)


def _packs(plan: Priced) -> dict[str, float]:
    packs: defaultdict[str, float] = defaultdict(float)
    for order in plan.orders:
        packs[folded(order.item)] += order.packs
    return dict(packs)


def _planned(lines: Sequence[Line], done: Tally, packs: float | None) -> Tracked:
    cash = sum(line.cash for line in lines)
    hours = sum(line.own_hours for line in lines)
    will = will_come_to(cash, done, packs)
    return _tracked(lines[0].name, lines[0].group, cash, hours, done, will, in_plan=True)


def _stray(entries: Sequence[Spend]) -> Tracked:
    done = tally(entries)
    will = max(done.owing, done.paid_net)
    return _tracked(entries[0].line, UNPLANNED, 0, 0.0, done, will, in_plan=False)


def _tracked(
    name: str, group: str, cash: int, hours: float, done: Tally, will: int, *, in_plan: bool
) -> Tracked:
    return Tracked(
        line=name,
        group=group,
        planned=cash,
        changes=done.changes,
        ordered=done.ordered - done.returned,
        paid=done.paid_net,
        to_come=will - done.paid_net,
        will_come_to=will,
        left=cash + done.changes - will,
        refund_due=max(0, done.returned - done.refunded),
        planned_hours=hours,
        spent_hours=done.own_hours,
        in_plan=in_plan,
    )


def _deposits(entries: Sequence[Spend], state: str) -> int:
    return sum(amount(e) for e in entries if e.state == state)
