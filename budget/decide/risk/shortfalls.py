"""Running short: each order of the plan against the order that costs least on average."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

from budget.decide.risk.demand import Demand
from budget.decide.risk.ordering import Order, packs_of
from budget.decide.risk.result import PERCENTILES, Shortfall, percentile
from budget.decide.risk.shortage import Loss
from budget.decide.risk.unknowns import Unknown

#: Times that orders are weighed again with the others as they stand.
_ROUNDS = 5


@dataclass(frozen=True, slots=True)
class Decision:
    """One order that is not sure: what it is for, what is at stake, and what the draws took."""

    demand: Demand
    loss: Loss
    order: Order
    planned: int  # steps of packs that the plan orders
    needed: Any  # packs of each draw, before rounding


def decisions(
    demands: Sequence[Demand], losses: Sequence[Loss], packs: Sequence[Any], needed: Sequence[Any]
) -> tuple[Decision, ...]:
    """The orders to decide on: those whose need is not the same in every draw."""
    return tuple(
        Decision(
            demand, loss, Order(steps, loss.stakes, least_steps(demand)),
            int(packs_of([demand.order.packs], demand.offer.step)[0]), each,
        )
        for demand, loss, steps, each in zip(demands, losses, packs, needed, strict=True)
        if each.min() != each.max()
    )  # fmt: skip


def jointly(decided: Sequence[Decision]) -> tuple[Decision, ...]:
    """The same orders, with what runs short together paid for together.

    Two goods of one seller that are used at one step are missed on the same day: one trip brings
    both, and the day is lost once. Beginning with each order as it is best alone, each is weighed
    again with the others as they stand until none changes; no order grows by that.
    """
    alone = [d.order.best for d in decided]
    found = [*decided]
    mates = [_mates(decided, i) for i in range(len(decided))]
    for _ in range(_ROUNDS):
        before = [*alone]
        for i in (i for i, others in enumerate(mates) if others):
            spared = _spared(decided, i, mates[i], alone)
            order = replace(decided[i].order, spared=spared)
            found[i], alone[i] = replace(decided[i], order=order), order.best
        if alone == before:
            break
    return tuple(found)


def _mates(decided: Sequence[Decision], here: int) -> tuple[int, ...]:
    mine = decided[here].demand
    return tuple(
        i
        for i, other in enumerate(decided)
        if i != here
        and other.demand.order.supplier == mine.order.supplier
        and set(other.demand.steps) & set(mine.steps)
    )


def _spared(
    decided: Sequence[Decision], here: int, mates: Sequence[int], ordered: Sequence[int]
) -> Any:
    """For each draw, the cents of a trip and a day that another shortage pays already."""
    import numpy as np

    paid = [
        np.where(decided[i].order.needed > ordered[i], decided[i].loss.shared, 0.0) for i in mates
    ]
    return np.minimum(decided[here].loss.shared, np.maximum.reduce(paid))


def least_steps(demand: Demand) -> int:
    """The steps of packs that the seller delivers at least."""
    return int(packs_of([demand.offer.least], demand.offer.step)[0])


def shortfall(decision: Decision, found: tuple[Unknown, ...]) -> Shortfall:
    """What is said about one order."""
    import numpy as np

    demand, order = decision.demand, decision.order
    best, step = order.best, demand.offer.step
    chance = order.chance_short(decision.planned)
    rising = np.sort(decision.needed)
    loss = decision.loss
    return Shortfall(
        item=demand.order.item,
        supplier=demand.order.supplier,
        per=demand.order.per,
        ordered=demand.order.packs,
        bare=demand.bare(found),
        spares=demand.spares * step,
        needed=tuple(percentile(rising, p / 100) for p in PERCENTILES),
        chance=chance,
        chance_error=float((chance * (1 - chance) / len(rising)) ** 0.5),
        best=best * step,
        best_chance=order.chance_short(best),
        saves=max(0.0, order.mean(decision.planned) - order.mean(best)),
        one_short=loss.one_short,
        one_over=float(loss.stakes.price(decision.planned)) - loss.stakes.back,
        bring_back=loss.stakes.bring_back,
        again=loss.again,
        note=loss.note,
    )


def shortfalls(
    found: tuple[Unknown, ...], decided: Sequence[Decision]
) -> tuple[Shortfall, ...]:  # fmt: skip
    """All of them, what saves most first; then what is likeliest to run short."""
    said = [shortfall(decision, found) for decision in decided]
    return tuple(sorted(said, key=lambda s: (-s.saves, -s.chance * s.short, s.item, s.supplier)))
