"""Risks that a plan leaves with the owner, as money: how likely each is times what it costs.

They stand beside a plan's cash and the draws of :mod:`budget.decide.risk`, and in neither: the
draws vary amounts, paces and prices of what is planned; these may come up, or not, besides.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from budget.decide.plan import BID, Plan
from budget.decide.terms.situation import CARRY, Situation, step_order
from budget.decide.terms.tariffs import bid_money
from budget.decide.terms.work import person_hours
from budget.prices.options import Answer, Bid, Risk
from budget.units import round_half_up
from budget.wording import listed

OWN_WORK, NOT_SAID, LEFT, EXTRA = (
    "your own work",
    "not said by",
    "left to you by",
    "for an extra by",
)


@dataclass(frozen=True, slots=True)
class Left:
    """One risk of a plan that somebody has to be paid for."""

    item: str
    whose: tuple[tuple[str, str], ...]  # why it is the owner's, and which bid makes it so
    chance: float  # ratio; 1 for an extra
    cost: int  # cents if it comes up
    money: int  # cents on average
    guess: bool  # chance or cost are not the user's own

    @property
    def who(self) -> str:
        """Why it is the owner's, in words."""
        bids: dict[str, list[str]] = {}
        for reason, bid in self.whose:
            bids.setdefault(reason, []).append(bid)
        return "; ".join(f"{reason} {listed(names)}".strip() for reason, names in bids.items())


def worths(situation: Situation) -> dict[str, float]:
    """What each step costs hired [cents], as the bids of this job have it.

    The least price among the bids that cover a step with fewest others; of those that cover
    several, the share that the step has in their own hours.
    """
    found: dict[str, tuple[int, float]] = {}
    for bid in situation.bids:
        covered = situation.covered(bid)
        price = bid_money(situation, bid).value
        for step, share in _shares(situation, covered).items():
            rank = (len(covered), price * share)
            found[step] = min(found.get(step, rank), rank)
    return {step: found[step][1] for step in sorted(found, key=step_order)}


def _shares(situation: Situation, steps: tuple[str, ...]) -> dict[str, float]:
    hours = {step: _hours(situation, step) for step in steps}
    whole = sum(hours.values())
    if not whole:
        return dict.fromkeys(steps, 1.0 / len(steps))
    return {step: hours[step] / whole for step in steps}


def _hours(situation: Situation, step: str) -> float:
    """Person-hours of the fastest own way."""
    if step == CARRY or step not in situation.amounts:
        return 0.0
    amount = situation.amounts[step]
    return min((person_hours(m, amount).value for m in situation.methods(step)), default=0.0)


def left_with_owner(situation: Situation, plan: Plan, worth: Mapping[str, float]) -> list[Left]:
    """The risks of one plan that are the owner's, in the order of the table.

    A risk hangs on its steps: where a bid does one, on what the bid says of it; where own hands
    do, on whether it falls on them too. What a bid does not say counts as left to the owner. A
    cost that is given for every bid is shared out to the steps by what they cost hired; one that
    is given for a bid is its own.
    """
    by_name = {bid.key: bid for bid in situation.bids}
    doing: dict[str, list[str]] = {}
    for step, value in plan.steps.items():
        doing.setdefault(value[len(BID) :] if value.startswith(BID) else "", []).append(step)
    found: list[Left] = []
    for risk in situation.options.risks:
        for name in sorted(doing):
            steps = [s for s in doing[name] if not risk.steps or s in risk.steps]
            if steps and (name or risk.own):
                part = _part(risk, steps, plan, worth)
                found += _left(risk, by_name.get(name), part, sum(worth.get(s, 0.0) for s in steps))
    return [one for one in _together(found) if one.money]


def _part(risk: Risk, steps: list[str], plan: Plan, worth: Mapping[str, float]) -> float:
    """The share that some steps have in all that a risk hangs on."""
    every = [s for s in plan.steps if not risk.steps or s in risk.steps]
    whole = sum(worth.get(s, 0.0) for s in every)
    if not whole:
        return len(steps) / len(every)
    return sum(worth.get(s, 0.0) for s in steps) / whole


def _left(risk: Risk, bid: Bid | None, part: float, hired: float) -> Iterator[Left]:
    """What one doer leaves of a risk; ``hired`` is what its steps cost hired [cents]."""
    answer = bid.answer(risk.item) if bid else None
    if answer is not None and answer.answer == "yes":
        return
    if bid is not None and answer is not None and answer.extra is not None:
        asked = round_half_up(answer.extra.value)
        yield Left(risk.item, ((EXTRA, bid.key),), 1.0, asked, asked, False)
        return
    chance = risk.chance if answer is None or answer.chance is None else answer.chance
    given = None if risk.cost is None else risk.cost * part
    given = given if answer is None or answer.cost is None else answer.cost
    cost = risk.share * hired if given is None else given
    yield Left(
        risk.item, _who(bid, answer), chance, round_half_up(cost), round_half_up(chance * cost),
        _guessed(risk, answer, given),
    )  # fmt: skip


def _guessed(risk: Risk, answer: Answer | None, cost: float | None) -> bool:
    own_chance = answer is not None and answer.chance is not None
    return cost is None or (risk.guess and not own_chance)


def _who(bid: Bid | None, answer: Answer | None) -> tuple[tuple[str, str], ...]:
    if bid is None:
        return ((OWN_WORK, ""),)
    return ((LEFT if answer is not None and answer.said else NOT_SAID, bid.key),)


def _together(found: list[Left]) -> Iterator[Left]:
    """Parts of one risk that differ only in whose they are, as one."""
    by_risk: dict[tuple[str, float, bool], list[Left]] = {}
    for one in found:
        by_risk.setdefault((one.item, one.chance, one.guess), []).append(one)
    for (item, chance, guess), parts in by_risk.items():
        cost, money = sum(p.cost for p in parts), sum(p.money for p in parts)
        whose = tuple(dict.fromkeys(who for p in parts for who in p.whose))
        yield Left(item, whose, chance, cost, money, guess)
