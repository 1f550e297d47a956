"""What spending is held against: the first accepted plan, what was agreed since, and the plan
as the workbook prices it now.

Without an accepted plan the scenario itself serves as all three.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from budget.decide.brief import plan_of
from budget.decide.outcome import Comparison
from budget.decide.plan import BID, METHOD, Priced, Scenario
from budget.decide.pricing.evaluation import chosen_bids, evaluate
from budget.decide.pricing.goods import share_line
from budget.decide.terms.situation import Situation
from budget.spend.baseline import (
    Baseline,
    PlannedLine,
    PlannedStep,
    planned_lines,
    planned_steps,
)
from budget.spend.finding import folded
from budget.spend.progressing import amounts_of
from budget.units import shown

#: An amount of work may differ by this share before it counts as another scope.
SAME = 1e-9


@dataclass(frozen=True, slots=True)
class Side:
    """The lines of one name in one plan, added up. Cents with tax, own hours."""

    cash: int = 0
    hours: float = 0.0
    packs: float | None = None
    there: bool = False


@dataclass(frozen=True, slots=True)
class PlanLine:
    """One line by name: as first accepted, as agreed since, and as the workbook has it now."""

    name: str
    group: str
    supplier: str
    choice: str
    per: str
    first: Side
    now: Side
    chosen: int = 0  # cents agreed by later accepted plans because it was wished for
    unforeseen: int = 0  # the same because of something met on the way
    agreed_hours: float = 0.0  # own hours that later accepted plans added
    steps: tuple[str, ...] = ()  # the steps it belongs to
    pack: float = 0.0  # packs are sold in multiples of this; 0: any amount
    share: float = 1.0  # of the item's need that the packs meet

    @property
    def agreed(self) -> int:
        """Cents that later accepted plans added."""
        return self.chosen + self.unforeseen


@dataclass(frozen=True, slots=True)
class Yardstick:
    """What spending is held against."""

    title: str
    lines: Mapping[str, PlanLine]  # by folded name, in the plan's order
    latest: Baseline | None
    limit: int | None
    hour_value: float
    amounts: Mapping[str, Mapping[str, float]]  # of steps now, by part
    needs: Mapping[str, float] = field(default_factory=dict)  # of items now, as people read them
    growth: Mapping[str, float] = field(default_factory=dict)  # steps: amount now over first
    now: Priced | None = None  # None: the accepted plan cannot be built from the workbook now
    why_not: str = ""
    number: int = 0  # how many plans were accepted
    hours_per_day: float = 8.0  # own hours of a working day
    proved: bool | None = None  # the plan is proved the best; None: it was accepted
    gap: float = 0.0  # what a better one could save at most, as a share; 0 where proved


def yardstick(
    comparison: Comparison, scenario: Scenario | None, baselines: Sequence[Baseline]
) -> Yardstick:
    """The yardstick of accepted plans, or else of a scenario that can be built."""
    settings = comparison.job.settings
    limit = None if settings.spending_limit is None else round(settings.spending_limit)
    value = comparison.options.hour_value.value
    if not baselines:
        if scenario is None or scenario.priced is None:
            msg = "there is neither an accepted plan nor a scenario"
            raise ValueError(msg)
        lines = planned_lines(scenario, comparison.options)
        steps = planned_steps(comparison.takeoff, scenario, settings.units)
        return Yardstick(
            scenario.title, _lines(comparison, scenario.priced, [lines], lines, ()), None, limit,
            value, amounts_of((s.step, s.part, s.amount) for s in steps),
            needs=_needs(comparison, scenario.priced), now=scenario.priced,
            hours_per_day=comparison.options.hours_per_day.value,
            proved=scenario.proved, gap=scenario.gap,
        )  # fmt: skip
    latest = baselines[-1]
    priced, why = priced_now(comparison, latest)
    here = _as_scenario(latest, priced)
    now = planned_lines(here, comparison.options) if priced else latest.lines
    steps = planned_steps(comparison.takeoff, here, settings.units) if priced else latest.steps
    return Yardstick(
        title=latest.scenario,
        lines=_lines(comparison, priced, [b.lines for b in baselines], now, baselines),
        latest=latest,
        limit=limit if limit is not None else latest.limit,
        hour_value=value,
        amounts=amounts_of((s.step, s.part, s.amount) for s in steps),
        needs=_needs(comparison, priced) if priced else {},
        growth=_growth(baselines[0].steps, steps),
        now=priced,
        why_not=why,
        number=len(baselines),
        hours_per_day=comparison.options.hours_per_day.value,
    )


def _needs(comparison: Comparison, priced: Priced) -> dict[str, float]:
    """How much of each item the plan needs, in the unit that people read."""
    system = comparison.job.settings.units
    found: defaultdict[str, float] = defaultdict(float)
    for need in comparison.takeoff.needs:
        kept = not need.optional or need.optional in priced.plan.parts
        if kept and need.bedding in ("", priced.plan.bedding):
            found[folded(need.item)] += shown(need.order.value, need.order.kind, system)
    return dict(found)


def priced_now(comparison: Comparison, baseline: Baseline) -> tuple[Priced | None, str]:
    """The accepted plan at the workbook's present quotes and amounts, or why it cannot be."""
    try:
        plan = plan_of(baseline.choices)
        return evaluate(plan, comparison.takeoff, comparison.options), ""
    except (ValueError, KeyError, StopIteration) as error:
        return None, str(error)


def _as_scenario(baseline: Baseline, priced: Priced | None) -> Scenario:
    bedding = baseline.choices.get("bedding", "")
    return Scenario(baseline.scenario, bedding, {}, priced is not None, "", priced, True, 0.0)


def _growth(first: Sequence[PlannedStep], now: Sequence[PlannedStep]) -> dict[str, float]:
    before, after = (_sums(steps) for steps in (first, now))
    return {
        step: after[step] / before[step]
        for step in before
        if step in after and before[step] and abs(after[step] / before[step] - 1) > SAME
    }


def _sums(steps: Sequence[PlannedStep]) -> dict[str, float]:
    found: defaultdict[str, float] = defaultdict(float)
    for step in steps:
        found[folded(step.step)] += step.amount
    return dict(found)


def _lines(
    comparison: Comparison,
    priced: Priced | None,
    plans: Sequence[Sequence[PlannedLine]],
    now: Sequence[PlannedLine],
    baselines: Sequence[Baseline],
) -> dict[str, PlanLine]:
    sides = [_by_name(lines) for lines in plans]
    present = _by_name(now)
    heads: dict[str, PlannedLine] = {}
    for lines in (*plans, now):
        for line in lines:
            heads.setdefault(folded(line.line), line)
    belongs = _Belonging(comparison, priced)
    found = {}
    for key, head in heads.items():
        chosen, unforeseen = _agreed(key, sides, baselines)
        last = next((line for line in reversed(now) if folded(line.line) == key), head)
        found[key] = PlanLine(
            name=head.line, group=head.group, supplier=last.supplier, choice=last.choice,
            per=last.per, first=sides[0].get(key, Side()), now=present.get(key, Side()),
            chosen=chosen, unforeseen=unforeseen,
            agreed_hours=sides[-1].get(key, Side()).hours - sides[0].get(key, Side()).hours,
            steps=belongs.steps(last), pack=belongs.pack(last), share=belongs.share(last),
        )  # fmt: skip
    return found


def _agreed(
    key: str, sides: Sequence[Mapping[str, Side]], baselines: Sequence[Baseline]
) -> tuple[int, int]:
    """Cents that later accepted plans added to a line: by choice, and unforeseen."""
    chosen = unforeseen = 0
    for n in range(1, len(sides)):
        more = sides[n].get(key, Side()).cash - sides[n - 1].get(key, Side()).cash
        if baselines[n].because == "unforeseen":
            unforeseen += more
        else:
            chosen += more
    return chosen, unforeseen


def _by_name(lines: Sequence[PlannedLine]) -> dict[str, Side]:
    found: dict[str, Side] = {}
    for line in lines:
        key = folded(line.line)
        side = found.get(key, Side())
        packs = side.packs if line.packs is None else (side.packs or 0.0) + line.packs
        found[key] = Side(side.cash + line.cash, side.hours + line.own_hours, packs, True)
    return found


class _Belonging:
    """Which steps a line belongs to, and in which packs its goods are sold."""

    def __init__(self, comparison: Comparison, priced: Priced | None) -> None:
        self._items: defaultdict[str, list[str]] = defaultdict(list)
        for need in comparison.takeoff.needs:
            if need.step not in self._items[need.item]:
                self._items[need.item].append(need.step)
        self._bids = {bid.key: bid.steps for bid in comparison.options.bids}
        self._machines: defaultdict[str, list[str]] = defaultdict(list)
        for step, value in (priced.plan.steps if priced else {}).items():
            for method in comparison.options.methods.get(step, ()):
                if METHOD + method.key == value and method.machine:
                    self._machines[method.machine].append(step)
        plan = priced.plan if priced else None
        bought = set(plan.offers.values()) if plan else set()
        offers = comparison.options.offers
        self._packs = {o.item: o.step for o in offers if o.key in bought}
        shared = plan.bought - bought if plan else frozenset()
        self._packs |= {share_line(o): o.step for o in offers if o.key in shared}
        self._shares = _rest_shares(comparison, priced) if priced and shared else {}
        self._steps = dict(priced.plan.steps) if priced else {}

    def steps(self, line: PlannedLine) -> tuple[str, ...]:
        kind, _, subject = line.choice.partition(":")
        if kind == "item":
            return tuple(self._items.get(subject, ()))
        if kind == "machine":
            return tuple(self._machines.get(subject, ()))
        if kind == "step":
            covered = self._bids.get(line.line, (subject,))
            taken = tuple(s for s in covered if self._steps.get(s, "").startswith(BID))
            return taken or (subject,)
        return ("Spoil",) if kind == "disposal" else ()

    def pack(self, line: PlannedLine) -> float:
        kind, _, subject = line.choice.partition(":")
        if kind != "item":
            return 0.0
        return self._packs.get(line.line, self._packs.get(subject, 0.0))

    def share(self, line: PlannedLine) -> float:
        return self._shares.get(line.line, 1.0)


def _rest_shares(comparison: Comparison, priced: Priced) -> dict[str, float]:
    """The share of its need that the rest of each item meets of which parts are bought first."""
    plan, options = priced.plan, comparison.options
    situation = Situation(comparison.takeoff, options, plan.bedding, plan.parts)
    bids = chosen_bids(situation, plan)
    supplied = frozenset(step for bid in bids if bid.materials for step in bid.steps)
    offers = {o.key: o for o in options.offers}
    found = {}
    for order in priced.orders:
        if order.item in plan.shares and order.line == order.item:
            offer = offers[order.offer]
            need = situation.demand(order.item, offer.measure, supplied)
            used = order.packs * (1 - order.left_over) * offer.holds.value
            if need is not None and need.value > 0 and used > 0:
                found[order.line] = used / need.value
    return found
