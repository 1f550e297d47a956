"""Bids like for like: what the whole job costs with each, and what fills the gaps it leaves."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from budget.decide.growing import Laid
from budget.decide.margins import Margin, base_margins
from budget.decide.model import Solved
from budget.decide.pins import Pinned
from budget.decide.plan import BID, METHOD, Line, Priced
from budget.decide.planner import Planner
from budget.decide.situation import CARRY, Situation, step_order
from budget.decide.wording import listed, round_money, value_in_words
from budget.job import BuildUp, Job
from budget.prices.options import Bid
from budget.reference import coefficient
from budget.units import DEPTH, in_words

#: A base that is thinner by less than this is no gap [m].
SAME_DEPTH = 1e-3


@dataclass(frozen=True, slots=True)
class Fill:
    """One gap that a bid leaves, and what fills it."""

    gap: str
    how: str
    cash: int  # cents
    hours: float


@dataclass(frozen=True, slots=True)
class Alike:
    """The whole job with one bid, everything that it leaves out planned as well as can be."""

    bid: str
    firm: str
    covers: tuple[str, ...]  # steps of this job
    leaves: tuple[str, ...]
    price: int  # cents with tax, the bid alone
    supervising: float  # own hours
    fills: tuple[Fill, ...]  # price and supervising with these add up to the totals
    cash: int
    hours: float
    over: float  # total at the hour value less that of the best plan, cents
    risks: tuple[str, ...]  # left with the owner
    missing: int  # costs of this plan that nobody has priced
    chosen: bool  # the best plan takes it
    proved: bool

    def total(self, hour_value: float) -> float:
        """Cash and own hours of the whole job at an hour value [cents]."""
        return self.cash + self.hours * hour_value


@dataclass(frozen=True, slots=True)
class Spread:
    """How far the offers for some steps lie apart, like for like."""

    steps: tuple[str, ...]
    least: str  # the bid with which the whole job costs least
    most: str
    apart: float  # cents, cash and hours together


def alike(job: Job, planner: Planner, best: Solved, laid: Laid) -> tuple[Alike, ...]:
    """Every bid that can be used, by what the whole job then costs; least first.

    The rest is planned anew at the user's hour value with the parts that the best plan keeps.
    A base that the bid makes thinner than the job's is filled at what the missing depth costs
    by own hands, with its dig and spoil.
    """
    plan, value = best.priced.plan, planner.options.hour_value.value
    situation = planner.situation(plan.bedding, planner.optional - plan.parts)
    bids = situation.bids
    found = planner.each(bids, lambda one, bid: _with_bid(one, bid, best, value))
    thin = _Thin(job, planner, best, laid)
    rows = [
        _alike(bid, solved, best, value, planner, thin)
        for bid, solved in zip(bids, found, strict=True)
        if solved is not None
    ]
    return tuple(sorted(rows, key=lambda a: (a.missing, a.total(value), a.bid)))


def spreads(found: Iterable[Alike], hour_value: float) -> tuple[Spread, ...]:
    """For steps with two offers or more, the spread between the whole jobs with them.

    Offers whose plans miss more prices than others are left aside.
    """
    rows = list(found)
    fewest = min((a.missing for a in rows), default=0)
    known = [a for a in rows if a.missing == fewest]
    ends: dict[tuple[str, str], list[str]] = {}
    totals = {a.bid: a.total(hour_value) for a in known}
    for step in dict.fromkeys(s for a in known for s in a.covers):
        offers = sorted((totals[a.bid], a.bid) for a in known if step in a.covers)
        if len(offers) > 1:
            ends.setdefault((offers[0][1], offers[-1][1]), []).append(step)
    result = [
        Spread(tuple(sorted(steps, key=step_order)), low, high, totals[high] - totals[low])
        for (low, high), steps in ends.items()
    ]
    return tuple(sorted(result, key=lambda s: (-s.apart, s.steps)))


def _with_bid(planner: Planner, bid: Bid, best: Solved, hour_value: float) -> Solved | None:
    plan = best.priced.plan
    situation = planner.situation(plan.bedding, planner.optional - plan.parts)
    allowed = {f"step:{s}": frozenset((BID + bid.key,)) for s in situation.covered(bid)}
    pinned = Pinned(allowed, dropped=planner.optional - plan.parts, kept=plan.parts)
    return planner.best(hour_value, pinned)


def _alike(
    bid: Bid, solved: Solved, best: Solved, hour_value: float, planner: Planner, thin: _Thin
) -> Alike:
    priced = solved.priced
    plan = priced.plan
    situation = planner.situation(plan.bedding, planner.optional - plan.parts)
    own = next(line for line in priced.lines if _is_bid(line, bid))
    covers = situation.covered(bid)
    fills = [*_fills(situation, priced, bid), *thin.fill(bid)]
    cash = own.cash + sum(f.cash for f in fills)
    hours = own.own_hours + sum(f.hours for f in fills)
    left = [s for s in plan.steps if s not in covers]
    return Alike(
        bid=bid.key, firm=bid.firm, covers=covers, leaves=tuple(left), price=own.cash,
        supervising=own.own_hours, fills=tuple(fills), cash=cash, hours=hours,
        over=cash + hours * hour_value - best.priced.total(hour_value),
        risks=(*bid.risks, *_hourly(bid, thin.job)), missing=solved.gaps,
        chosen=BID + bid.key in best.priced.plan.steps.values(), proved=solved.proved,
    )  # fmt: skip


def _is_bid(line: Line, bid: Bid) -> bool:
    return line.name == bid.key and line.choice.startswith("step:") and line.supplier == bid.firm


def _hourly(bid: Bid, job: Job) -> Iterator[str]:
    """What an hour more than they reckon with costs."""
    if bid.basis == "hourly":
        hour = bid.price.value * (1 + bid.tax.value)
        money = round_money(hour, job.settings.currency)
        yield f"Each hour more than they reckon with costs you {money}."


def _fills(situation: Situation, priced: Priced, bid: Bid) -> Iterator[Fill]:
    """The lines of a plan beside one bid, gathered by the gap that they fill."""
    gathered: dict[str, list[Line]] = {}
    for line in priced.lines:
        if not _is_bid(line, bid):
            gathered.setdefault(_gap(situation, line, bid), []).append(line)
    for gap in sorted(gathered, key=_gap_order):
        lines = gathered[gap]
        yield Fill(
            gap, listed(dict.fromkeys(_how(line) for line in lines if _how(line))),
            sum(line.cash for line in lines), sum(line.own_hours for line in lines),
        )  # fmt: skip


MATERIALS, OTHER_MATERIALS = "Materials of its steps", "Materials of the other steps"
BRINGING, MACHINES, SPOIL = "Bringing and carrying goods", "Machines", "Soil to be rid of"
OUTSIDE, WORK = "Costs outside any step", "Work it leaves"
_ORDER = (MATERIALS, WORK, OTHER_MATERIALS, BRINGING, MACHINES, SPOIL, OUTSIDE)


def _gap_order(gap: str) -> int:
    return _ORDER.index(gap)


def _gap(situation: Situation, line: Line, bid: Bid) -> str:
    kind, _, subject = line.choice.partition(":")
    match kind:
        case "item":
            steps = {need.step for need in situation.items.get(subject, ())}
            return MATERIALS if steps & set(bid.steps) else OTHER_MATERIALS
        case "step":
            return BRINGING if subject == CARRY else WORK
        case "goods":
            return BRINGING
        case "machine":
            return MACHINES
        case "disposal":
            return SPOIL
    return BRINGING if line.supplier else OUTSIDE


def _how(line: Line) -> str:
    """How one line fills its gap, in words."""
    kind = line.choice.partition(":")[0]
    if kind == "step" and line.cash:
        return f"{line.name} ({line.quantity})"
    if kind == "step":
        return f"{line.name} by {value_in_words(line.choice, METHOD + line.quantity)}"
    return line.name


class _Thin:
    """What the depth of base that a bid leaves out costs, worked out once for the job."""

    def __init__(self, job: Job, planner: Planner, best: Solved, laid: Laid) -> None:
        self.job, self._planner, self._best, self._laid = job, planner, best, laid
        self._rates: tuple[Margin, ...] | None = None

    def fill(self, bid: Bid) -> Iterator[Fill]:
        """The gap of a bid that makes the base thinner than the job's build-ups say."""
        if bid.base_depth is None or "Base" not in bid.steps:
            return
        depth = bid.base_depth.value
        cash = hours = deepest = 0.0
        for row in self.job.build_ups or (None,):
            short = _depth(row) - depth
            rate = self._rate(row)
            if short <= SAME_DEPTH or rate is None:
                continue
            cash += rate.smooth * short / rate.size
            hours += rate.hours * short / rate.size
            deepest = max(deepest, short)
        if deepest:
            words = in_words(deepest, DEPTH, self.job.settings.units)
            yield Fill(
                "Base too thin", f"{words} more of base stone, dug deeper and carted off",
                round(cash), hours,
            )  # fmt: skip

    def _rate(self, row: BuildUp | None) -> Margin | None:
        if self._rates is None:
            self._rates = base_margins(self.job, self._own().priced.plan, self._laid)
        name = row.name if row else ""
        return next((m for m in self._rates if m.subject == name), None)

    def _own(self) -> Solved:
        """The best plan that digs and lays the base by own hands, else the best plan."""
        situation = self._planner.situation(self._best.priced.plan.bedding)
        steps: Mapping[str, frozenset[str]] = {
            f"step:{s}": frozenset(METHOD + m.key for m in situation.methods(s))
            for s in ("Dig", "Base")
            if s in situation.amounts
        }
        plan = self._best.priced.plan
        out = self._planner.optional - plan.parts
        pinned = Pinned(steps, dropped=out, kept=plan.parts)
        value = self._planner.options.hour_value.value
        return self._planner.best(value, pinned) or self._best


def _depth(row: BuildUp | None) -> float:
    if row is None or row.base_depth is None:
        return coefficient("base depth").figure().value
    return row.base_depth
