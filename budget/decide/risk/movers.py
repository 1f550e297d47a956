"""What moves the best plan most: each unknown's part in the spread, and what it does alone."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from budget.decide.risk.drawn import Moments, Sums
from budget.decide.risk.draws import changed
from budget.decide.risk.result import Mover
from budget.decide.risk.unknowns import Unknown
from budget.figures import recalculate_all


def movers(
    plan: Sums, found: Sequence[Unknown], values: Mapping[str, float], moments: Moments
) -> tuple[Mover, ...]:
    """The unknowns that move the plan, by their share of the spread of its cash.

    What does not move the result alone is left out, though it moves together with others.
    """
    import numpy as np

    alone = {u.name: np.ones(2 * len(found)) for u in found}
    for i, u in enumerate(found):
        alone[u.name][2 * i : 2 * i + 2] = (u.factor.low, u.factor.high)
    cash, hours = (
        np.broadcast_to(result, 2 * len(found))
        for result in recalculate_all((plan.cash, plan.hours), changed(found, alone, dict(values)))
    )
    of_cash, of_hours = moments.shares(0), moments.shares(1)
    said = [
        Mover(
            name=u.name, kind=u.kind, cash_share=of_cash[i], hours_share=of_hours[i],
            cash_low=float(cash[2 * i]), cash_high=float(cash[2 * i + 1]),
            hours_low=float(hours[2 * i]), hours_high=float(hours[2 * i + 1]),
        )
        for i, u in enumerate(found)
    ]  # fmt: skip
    moving = [m for m in said if m.cash_low != m.cash_high or m.hours_low != m.hours_high]
    return tuple(sorted(moving, key=lambda m: (-m.cash_share, -m.hours_share, m.name)))
