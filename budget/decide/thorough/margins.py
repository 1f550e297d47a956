"""Margins: what a little more costs at the chosen plan, smooth and with its jumps."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from budget.decide.plan import BID, Plan, Priced
from budget.decide.pricing.evaluation import evaluate
from budget.decide.thorough.growing import Growth, Laid, between, growths, lay_out
from budget.job import Job

#: A rise of one line counts as a jump from this many times what the smooth rate gives there.
JUMP = 4.0

#: Jumps of fewer cents are not worth telling.
LEAST_JUMP = 500


@dataclass(frozen=True, slots=True)
class Jump:
    """One line of the plan that rises at once: a pack, a trip, a drop, a day of hire."""

    line: str
    before: str  # how much of it before, in words
    then: str
    after: float  # units that fit before it rises
    cash: int  # cents


@dataclass(frozen=True, slots=True)
class Margin:
    """What one unit more costs with every choice as it is."""

    what: str  # paving, base, wall
    subject: str
    unit: str
    size: float  # SI size of that unit
    smooth: float  # cents a unit, without the jumps of packs
    hours: float  # own hours a unit
    next_cash: int  # cents that the very next unit adds, packs and drops counted
    span: int  # units that were looked at
    jumps: tuple[Jump, ...]  # within the span, nearest first
    ends: float | None  # units beyond which the plan does not hold; None: not within the span
    lump: tuple[str, ...]  # lump-sum bids of the plan, which are taken to stay as they are


def margins(job: Job, plan: Plan, laid: Laid) -> tuple[Margin, ...]:
    """What a little more of everything costs, every choice of the plan as it is.

    Quantities are worked out anew for one unit more and at the end of a span; between these
    they lie in proportion. Packs, trips, drops, days and cents are priced anew at every place.
    The smooth rate counts goods by what is used up of each pack, and everything else by its
    rise over the span.
    """
    all_of_them = [_margin(growth, plan, laid) for growth in growths(job, plan.parts)]
    return tuple(m for m in all_of_them if m is not None)


def _margin(growth: Growth, plan: Plan, laid: Laid) -> Margin | None:
    ends = (lay_out(growth.grown(1.0)), lay_out(growth.grown(float(growth.span))))
    walk = _Walk(growth, plan, laid, ends)
    start, one = walk.at(0.0), walk.at(1.0)
    if start is None or one is None:
        return None
    places = list(walk.places())
    last, far = places[-1]
    smooth = (_used_up(far) - _used_up(start)) / last
    if abs(smooth) < 1.0 and one.cash == start.cash and far.own_hours == start.own_hours:
        return None  # nothing of the plan rests on it
    least = max(LEAST_JUMP, JUMP * growth.grain * smooth)
    return Margin(
        what=growth.what, subject=growth.subject, unit=growth.unit, size=growth.size,
        smooth=smooth, hours=(far.own_hours - start.own_hours) / last,
        next_cash=one.cash - start.cash, span=growth.span, jumps=tuple(_jumps(places, least)),
        ends=None if last >= growth.span else last, lump=_lump(plan, laid),
    )  # fmt: skip


@dataclass(frozen=True, slots=True)
class _Walk:
    """The plan priced at one place after another along a growth."""

    growth: Growth
    plan: Plan
    start: Laid
    ends: tuple[Laid, Laid]  # one unit more, and the whole span

    def at(self, units: float) -> Priced | None:
        """The plan with so many units more, None where it does not hold."""
        one, far = self.ends
        span = self.growth.span
        if units <= 1.0:
            takeoff = between(self.start.takeoff, one.takeoff, units)
        else:
            takeoff = between(one.takeoff, far.takeoff, (units - 1.0) / (span - 1.0))
        try:
            return evaluate(self.plan, takeoff, far.options)
        except ValueError:
            return None

    def places(self) -> Iterator[tuple[float, Priced]]:
        """Every place along the span, as far as the plan holds."""
        for number in range(round(self.growth.span / self.growth.grain) + 1):
            units = number * self.growth.grain
            priced = self.at(units)
            if priced is None:
                return
            yield units, priced


def _used_up(priced: Priced) -> float:
    """Cash with goods counted by what is used up of their packs, and nothing going back [cents]."""
    wasted = sum((o.price + o.tax) * o.left_over - o.credit for o in priced.orders)
    return priced.cash - wasted


_Key = tuple[str, str, str, str]


def _lines(priced: Priced) -> dict[_Key, tuple[int, str]]:
    """Cash and amount of every line; lines of one name are added up."""
    found: dict[_Key, tuple[int, str]] = {}
    for line in priced.lines:
        key = (line.name, line.supplier, line.group, line.choice)
        cash = found.get(key, (0, ""))[0]
        found[key] = (cash + line.cash, line.quantity)
    return found


def _jumps(places: list[tuple[float, Priced]], least: float) -> Iterator[Jump]:
    """The first jump of each line, nearest first."""
    told: set[_Key] = set()
    before, held = _lines(places[0][1]), places[0][0]
    for units, priced in places[1:]:
        now = _lines(priced)
        for key in sorted(now):
            old, amount = before.get(key, (0, ""))
            cash, more = now[key]
            if key not in told and cash - old >= least:
                told.add(key)
                yield Jump(key[0], amount, more, held, cash - old)
        before, held = now, units


def _lump(plan: Plan, laid: Laid) -> tuple[str, ...]:
    taken = {v.removeprefix(BID) for v in plan.steps.values() if v.startswith(BID)}
    return tuple(sorted(b.key for b in laid.options.bids if b.key in taken and b.basis == "lump"))
