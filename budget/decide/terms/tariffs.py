"""What a bid and a way to be rid of spoil cost in one situation."""

from __future__ import annotations

from budget.decide.terms.situation import CARRY, Situation
from budget.figures import Figure, constant, product
from budget.prices.bids import bid_cost
from budget.prices.disposal import Disposing, disposal_cost
from budget.prices.options import Bid, ChecklistCost, DisposalWay
from budget.prices.tax import NOTHING
from budget.reference import steps as step_kinds
from budget.units import MASS


def bid_money(situation: Situation, bid: Bid, carried: Figure | None = None) -> Figure:
    """What one bid costs here, tax included [cents].

    ``carried`` is the weight of the goods ordered [kg], which a price for carrying counts.
    """
    return bid_cost(bid, _billed(situation, bid, carried), situation.area)


def _billed(situation: Situation, bid: Bid, carried: Figure | None) -> Figure | None:
    """The amount of the step that a price per unit counts; nothing where there is none of it."""
    step = bid.unit_step
    if not step:
        return None
    if step == CARRY:
        return carried or constant(0.0, MASS, "no goods to carry")
    if step in situation.amounts:
        return situation.amounts[step]
    return constant(0.0, step_kinds()[step].measure, f"no {step} in this job")


def cover_price(line: ChecklistCost, bid: Bid) -> Figure | None:
    """What a cost line comes to where a bid is taken: nothing if it is in the price [cents].

    ``None`` where the bid leaves it out, or does not say.
    """
    answer = bid.answer(line.line)
    inside = line.answer == "in bid" and line.bid in (bid.key, bid.offer)
    if inside or (answer and answer.answer == "yes"):
        return NOTHING
    return answer.extra if answer else None


def line_price(line: ChecklistCost) -> Figure | None:
    """What a cost line comes to outside every bid, None where nobody has priced it [cents]."""
    return None if line.answer == "to price" else line.amount


def ridding(situation: Situation, way: DisposalWay, hire: bool = True) -> Disposing:
    """What one way to be rid of all the spoil takes; there must be spoil.

    Without ``hire`` the days of a hired vehicle are left out: trips for goods share them.
    """
    if situation.spoil is None:
        msg = "there is no spoil to be rid of"
        raise ValueError(msg)
    return ridding_of(situation, way, situation.spoil, hire)


def ridding_of(
    situation: Situation, way: DisposalWay, volume: Figure, hire: bool = True
) -> Disposing:
    """The same for some loose volume [m³]."""
    weight = product("weight of the spoil", MASS, volume, situation.takeoff.spoil_density)
    return disposal_cost(way, volume, weight, situation.options.hours_per_day, hire)
