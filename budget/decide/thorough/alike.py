"""Bids like for like: what the whole job costs with each, and what fills the gaps it leaves."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from budget.decide.model.model import Solved
from budget.decide.pins import Pinned
from budget.decide.plan import BID, METHOD, Line, Priced
from budget.decide.planner import Planner
from budget.decide.pricing.work import THIN
from budget.decide.terms.situation import CARRY, Situation, step_order
from budget.decide.thorough.leftover import Left, left_with_owner, worths
from budget.decide.wording import round_money, value_in_words
from budget.job import Job
from budget.prices.bids import ESTIMATE
from budget.prices.options import Bid


@dataclass(frozen=True, slots=True)
class Fill:
    """One gap that a bid leaves, and what fills it."""

    gap: str
    how: tuple[str, ...]  # each line that fills it, in words
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
    over: float  # total at the hour value less that of the best plan, risks in both, cents
    risks: tuple[str, ...]  # left with the owner, in words
    hourly: str  # what an hour more than they reckon with costs; blank where it is not hourly
    left: tuple[Left, ...]  # the same as money, wherever somebody can say what it costs
    missing: int  # costs of this plan that nobody has priced
    chosen: bool  # the best plan takes it
    proved: bool
    gap: float = 0.0  # share of the total that better filling could save at most

    @property
    def risk(self) -> int:
        """What the risks left with the owner come to on average, beside the cash [cents]."""
        return sum(one.money for one in self.left)

    def total(self, hour_value: float) -> float:
        """Cash, own hours and risks of the whole job at an hour value [cents]."""
        return self.cash + self.hours * hour_value + self.risk


@dataclass(frozen=True, slots=True)
class Spread:
    """How far the offers for some steps lie apart, like for like."""

    steps: tuple[str, ...]
    least: str  # the bid with which the whole job costs least
    most: str
    apart: float  # cents, cash and hours together


def alike(job: Job, planner: Planner, best: Solved) -> tuple[Alike, ...]:
    """Every bid that can be used, by what the whole job then costs; least first.

    The rest is planned anew at the user's hour value with the parts that the best plan keeps.
    The risks that each whole job leaves with the owner are counted as money beside its cash,
    and so are those of the best plan that it is held against.
    """
    plan, value = best.priced.plan, planner.options.hour_value.value
    situation = planner.situation(plan.bedding, planner.optional - plan.parts)
    bids = situation.bids
    found = planner.each(bids, lambda one, bid: _with_bid(one, bid, best, value))
    worth = worths(situation)
    risk = sum(one.money for one in left_with_owner(situation, plan, worth))
    start = _Start(job, planner, best, value, best.priced.total(value) + risk, worth)
    rows = [
        _alike(bid, solved, start)
        for bid, solved in zip(bids, found, strict=True)
        if solved is not None
    ]
    return tuple(sorted(rows, key=lambda a: (a.missing, a.total(value), a.bid)))


@dataclass(frozen=True, slots=True)
class _Start:
    """What every bid is held against."""

    job: Job
    planner: Planner
    best: Solved
    hour_value: float
    total: float  # of the best plan with its risks, cents
    worth: Mapping[str, float]  # what each step costs hired, cents


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


def _alike(bid: Bid, solved: Solved, start: _Start) -> Alike:
    priced, planner = solved.priced, start.planner
    plan = priced.plan
    situation = planner.situation(plan.bedding, planner.optional - plan.parts)
    own = next(line for line in priced.lines if _is_bid(line, bid))
    covers = situation.covered(bid)
    left = left_with_owner(situation, plan, start.worth)
    total = priced.total(start.hour_value) + sum(one.money for one in left)
    return Alike(
        bid=bid.key, firm=bid.firm, covers=covers,
        leaves=tuple(s for s in plan.steps if s not in covers), price=own.cash,
        supervising=own.own_hours, fills=tuple(_fills(situation, priced, bid)),
        cash=priced.cash, hours=priced.own_hours, over=total - start.total,
        risks=tuple(r for r in bid.risks if r != ESTIMATE),
        hourly=_hourly(bid, start.job), left=tuple(left), missing=solved.gaps,
        chosen=BID + bid.key in start.best.priced.plan.steps.values(), proved=solved.proved,
        gap=solved.gap,
    )  # fmt: skip


def _is_bid(line: Line, bid: Bid) -> bool:
    return line.name == bid.key and line.choice.startswith("step:") and line.supplier == bid.firm


def _hourly(bid: Bid, job: Job) -> str:
    """What an hour more than they reckon with costs."""
    if bid.basis != "hourly":
        return ""
    money = round_money(bid.price.value * (1 + bid.tax.value), job.settings.currency)
    return f"The hours are an estimate: each one more than they reckon with costs you {money}."


def _fills(situation: Situation, priced: Priced, bid: Bid) -> Iterator[Fill]:
    """The lines of a plan beside one bid, gathered by the gap that they fill."""
    gathered: dict[str, list[Line]] = {}
    for line in priced.lines:
        if not _is_bid(line, bid):
            gathered.setdefault(_gap(situation, line, bid), []).append(line)
    for gap in sorted(gathered, key=_gap_order):
        lines = gathered[gap]
        yield Fill(
            gap, tuple(dict.fromkeys(_how(line) for line in lines if _how(line))),
            sum(line.cash for line in lines), sum(line.own_hours for line in lines),
        )  # fmt: skip


MATERIALS, OTHER_MATERIALS = "Materials of its steps", "Materials of the other steps"
BRINGING, MACHINES, SPOIL = "Bringing and carrying goods", "Machines", "Soil to be rid of"
OUTSIDE, WORK = "Costs outside any step", "Work it leaves"
TOO_THIN = "Base too thin"
_ORDER = (TOO_THIN, MATERIALS, WORK, OTHER_MATERIALS, BRINGING, MACHINES, SPOIL, OUTSIDE)


def _gap_order(gap: str) -> int:
    return _ORDER.index(gap)


def _gap(situation: Situation, line: Line, bid: Bid) -> str:
    kind, _, subject = line.choice.partition(":")
    if line.name == THIN:
        return TOO_THIN
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
    if line.name == THIN:
        return "the missing depth dug, bought and laid as an order of its own"
    if kind == "step" and line.cash:
        return f"{line.name} ({line.quantity})"
    if kind == "step":
        return f"{line.name} by {value_in_words(line.choice, METHOD + line.quantity)}"
    return line.name
