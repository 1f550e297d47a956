"""What the draws came to: every plan's sums, and what each order takes.

Only what is asked about later is kept of each chunk, so that memory grows with the plans and
not with every figure of every plan.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from budget.decide.risk.draws import changed, draws
from budget.decide.risk.ordering import packs_of
from budget.decide.risk.unknowns import Unknown
from budget.figures import Figure, Recalculation

#: Ranges of equal chance that an unknown is parted into, to ask what knowing it would change.
BINS = 20


@dataclass(frozen=True, slots=True)
class Sums:
    """A plan's cash and own hours as two figures."""

    title: str
    cash: Figure
    hours: Figure


@dataclass(frozen=True, slots=True)
class Drawn:
    """All draws. Cash in cents, hours, packs in steps that they are sold in."""

    count: int
    cash: tuple[Any, ...]  # by plan
    hours: tuple[Any, ...]
    packs: tuple[Any, ...]  # by order
    needed: tuple[Any, ...]  # by order, packs before rounding
    bins: Mapping[str, Any]  # by unknown: which of BINS ranges each draw fell into


def drawn_sums(
    plans: Sequence[Sums],
    orders: Sequence[tuple[Figure, float]],
    found: Sequence[Unknown],
    values: Mapping[str, float],
    count: int,
    seed: int,
) -> Drawn:
    """Price every plan, and count every order, under the same draws.

    :param orders: packs needed, and the step that they are sold in.
    """
    import numpy as np

    keep = _Keep(plans, orders, found)
    figures = [f for plan in plans for f in (plan.cash, plan.hours)]
    figures += [needed for needed, _ in orders]
    again = Recalculation(figures, {key for u in found for key, _ in u.powers})
    for part in draws(found, count, seed):
        size = len(part[found[0].name])
        results = again.run(changed(found, part, values))
        keep.take(part, [np.broadcast_to(result, size).astype(float) for result in results])
    return keep.drawn(count)


class _Keep:
    """Gathers what the chunks come to."""

    def __init__(
        self,
        plans: Sequence[Sums],
        orders: Sequence[tuple[Figure, float]],
        found: Sequence[Unknown],
    ) -> None:
        self._plans, self._orders, self._found = plans, orders, found
        self._columns: list[list[Any]] = [[] for _ in range(2 * len(plans) + len(orders))]
        self._bins: dict[str, list[Any]] = {u.name: [] for u in found}

    def take(self, part: Mapping[str, Any], results: Sequence[Any]) -> None:
        import numpy as np

        for column, result in zip(self._columns, results, strict=True):
            column.append(result)
        for u in self._found:
            share = u.factor.below(part[u.name])
            self._bins[u.name].append(np.minimum(BINS - 1, share * BINS).astype(np.uint8))

    def drawn(self, count: int) -> Drawn:
        import numpy as np

        whole = [np.concatenate(column) for column in self._columns]
        plans = len(self._plans)
        needed = tuple(whole[2 * plans :])
        return Drawn(
            count=count,
            cash=tuple(whole[: 2 * plans : 2]),
            hours=tuple(whole[1 : 2 * plans : 2]),
            packs=tuple(
                packs_of(packs, step) for packs, (_, step) in zip(needed, self._orders, strict=True)
            ),
            needed=needed,
            bins={name: np.concatenate(parts) for name, parts in self._bins.items()},
        )
