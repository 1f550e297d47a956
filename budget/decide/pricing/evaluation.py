"""The price of one fixed plan: its lines of money and own hours, to the cent."""

from __future__ import annotations

from budget.decide.plan import BID, METHOD, Plan, Priced
from budget.decide.pricing.goods import add_goods
from budget.decide.pricing.ledger import Ledger
from budget.decide.pricing.work import (
    add_bids,
    add_carrying,
    add_checklist,
    add_disposal,
    add_helpers,
    add_machines,
    add_steps,
)
from budget.decide.terms.situation import Situation
from budget.prices.options import Bid, Options
from budget.quantities.takeoff import Takeoff


def evaluate(plan: Plan, takeoff: Takeoff, options: Options) -> Priced:
    """Price a fixed plan.

    Packs, drops or trips, spells of hire and cents follow from the plan's choices. Each line is
    in whole cents, tax included, rounded half up; totals are the sums of the lines. What nobody
    has priced is listed as missing and adds nothing.

    :raises ValueError: if the plan does not do every step exactly once, names something that is
        not there, or buys less than a seller delivers.
    """
    return evaluate_in(Situation(takeoff, options, plan.bedding, plan.parts), plan)


def evaluate_in(situation: Situation, plan: Plan) -> Priced:
    """The same for a situation that is worked out already."""
    bids = chosen_bids(situation, plan)
    check(situation, plan, bids)
    ledger = Ledger()
    bought = add_goods(ledger, situation, plan, bids)
    add_steps(ledger, situation, plan)
    carried = add_carrying(ledger, situation, plan, bought)
    add_disposal(ledger, situation, plan, bids)
    add_machines(ledger, situation, plan, bids, carried)
    add_bids(ledger, situation, bids, bought)
    add_helpers(ledger, situation)
    add_checklist(ledger, situation, bids)
    return ledger.priced(plan)


def chosen_bids(situation: Situation, plan: Plan) -> tuple[Bid, ...]:
    """The bids that a plan takes, by name."""
    names = {value[len(BID) :] for value in plan.steps.values() if value.startswith(BID)}
    found = tuple(bid for bid in situation.bids if bid.key in names)
    unknown = sorted(names - {bid.key for bid in found})
    if unknown:
        msg = f"no bid of this job is called {unknown[0]!r}"
        raise ValueError(msg)
    return found


def check(situation: Situation, plan: Plan, bids: tuple[Bid, ...]) -> None:
    """``ValueError`` unless every step is done once, by an own method or by one bid."""
    taken: dict[str, str] = {}
    forms = [bid.offer or bid.key for bid in bids]
    if len(set(forms)) < len(forms):
        msg = "two forms of one bid are taken"
        raise ValueError(msg)
    for bid in bids:
        for step in situation.covered(bid):
            if step in taken:
                msg = f"{step} is covered twice, by {taken[step]} and {bid.key}"
                raise ValueError(msg)
            taken[step] = bid.key
    for step in (*situation.amounts, *(s for s in plan.steps if s not in situation.amounts)):
        value = plan.steps.get(step, "")
        if value.startswith(BID):
            if taken.get(step) != value[len(BID) :]:
                msg = f"{value} does not cover {step}"
                raise ValueError(msg)
        elif step in taken:
            msg = f"{step} is covered by {taken[step]}, and the plan says {value or 'nothing'}"
            raise ValueError(msg)
        elif not any(METHOD + m.key == value for m in situation.methods(step)):
            msg = f"no way to do {step} is called {value!r}"
            raise ValueError(msg)
