"""The choices still open, planned anew from where the job stands.

What is ordered, paid or begun stays as it is; all the rest is free again, at the workbook's
present quotes. Parts stay kept or left out as agreed: to change them is to change the job, not
to save on it. Goods already bought cost the same in both plans, so what the change saves is
what can still be saved.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from budget.decide.brief import best_of
from budget.decide.outcome import Comparison
from budget.decide.pins import Pinned
from budget.decide.plan import BID, Plan, Priced
from budget.decide.planner import Planner
from budget.prices.options import Options
from budget.spend.finding import folded
from budget.spend.tracking import Tracked, Tracking
from budget.spend.yardstick import Yardstick


@dataclass(frozen=True, slots=True)
class Change:
    """One choice that the new plan makes otherwise; blank: the plan has no such choice."""

    choice: str
    before: str
    after: str


@dataclass(frozen=True, slots=True)
class Again:
    """What planning anew would change. Cents and own hours that it saves; below zero: costs."""

    changes: tuple[Change, ...]
    cash: int
    hours: float
    total: float  # cents, own hours at the user's value
    fixed: tuple[str, ...]  # the choices held because they are bought or begun
    why_not: str = ""  # why it cannot be planned anew
    proved: bool = True  # nothing better is to be had
    gap: float = 0.0  # share of the new plan's total that a better one could save at most


def plan_again(comparison: Comparison, stick: Yardstick, found: Tracking) -> Again:
    """Plan the open choices anew."""
    if stick.now is None:
        return Again((), 0, 0.0, 0.0, (), f"The accepted plan no longer fits: {stick.why_not}")
    bedding = next(
        (b.item for b in comparison.takeoff.beddings if b.name == stick.now.plan.bedding), ""
    )
    held = held_choices(comparison.options, stick.now, found, folded(bedding))
    planner = Planner(comparison.takeoff, comparison.options)
    kept = planner.optional & stick.now.plan.parts
    pinned = Pinned(
        allowed={choice: values for choice, values in held.items() if choice != "bedding"},
        bedding=_bedding(held),
        dropped=planner.optional - kept,
        kept=kept,
    )
    best = best_of(planner, stick.hour_value, pinned)
    if best is None or best.priced is None:
        return Again((), 0, 0.0, 0.0, tuple(sorted(held)), "No other plan fits what is done.")
    saved = stick.now.total(stick.hour_value) - best.priced.total(stick.hour_value)
    if saved < 1.0:
        fixed = tuple(sorted(held))
        return Again((), 0, 0.0, 0.0, fixed, proved=best.proved, gap=best.gap)
    return Again(
        changes=_changes(stick.now.plan, best.priced.plan),
        cash=stick.now.cash - best.priced.cash,
        hours=stick.now.own_hours - best.priced.own_hours,
        total=saved,
        fixed=tuple(sorted(held)),
        proved=best.proved,
        gap=best.gap,
    )


def _bedding(held: Mapping[str, frozenset[str]]) -> str | None:
    return next(iter(held["bedding"])) if "bedding" in held else None


def held_choices(
    options: Options, now: Priced, found: Tracking, bedding_item: str
) -> dict[str, frozenset[str]]:
    """The choices that are bought or begun, with the values they keep."""
    plan, shares = now.plan, found.step_shares
    touched = {folded(t.line) for t in found.lines if _touched(t)}
    held: dict[str, frozenset[str]] = {}
    choices, kept = plan.choices(), set[str]()
    for item, offer in plan.offers.items():
        lines = [item, *(order.line for order in now.orders if order.item == item)]
        if touched.intersection(folded(line) for line in lines):
            held[f"item:{item}"] = frozenset((choices[f"item:{item}"],))
            kept.update((offer, *plan.shares.get(item, {})))
    sellers = sorted({o.supplier for o in options.offers if o.key in kept})
    held |= {f"goods:{s}": frozenset((plan.routes[s],)) for s in sellers if s in plan.routes}
    for step, value in plan.steps.items():
        bid = value[len(BID) :] if value.startswith(BID) else ""
        if shares.get(folded(step), 0.0) > 0 or folded(bid or step) in touched:
            held[f"step:{step}"] = frozenset((value,))
    for equipment, machine in plan.machines.items():
        if folded(equipment) in touched:
            held[f"machine:{equipment}"] = frozenset((machine,))
    if bedding_item in touched or shares.get("bed", 0.0) > 0:
        held["bedding"] = frozenset((plan.bedding,))
    return held


def _touched(line: Tracked) -> bool:
    tally = line.tally
    return bool(tally.orders or tally.paid or tally.delivered_quantity or tally.own_hours)


def _changes(before: Plan, after: Plan) -> tuple[Change, ...]:
    old, new = before.choices(), after.choices()
    return tuple(
        Change(choice, old.get(choice, ""), new.get(choice, ""))
        for choice in sorted({*old, *new})
        if old.get(choice) != new.get(choice)
    )
