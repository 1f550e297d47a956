"""What the draws came to: every plan's sums, what each order takes, and sums of products.

Only what is asked about later is kept of each chunk, so that memory grows with the plans and
not with every figure of every plan.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from budget.decide.risk.draws import changed, draws
from budget.decide.risk.ordering import packs_of
from budget.decide.risk.unknowns import Unknown
from budget.figures import Figure, Recalculation

#: Ranges of equal chance that an unknown is parted into, to ask what knowing it would change.
BINS = 20

#: Draws from which shares of the spread are found; more would tell the same.
FITTED = 10_000


@dataclass(frozen=True, slots=True)
class Sums:
    """A plan's cash and own hours as two figures."""

    title: str
    cash: Figure
    hours: Figure


@dataclass(slots=True)
class Moments:
    """Sums over draws of the factors and one result, away from where they started."""

    factors: Any  # sum of each factor less 1
    crossed: Any  # sum of products of two factors less 1
    count: int = 0
    start: tuple[float, ...] = ()
    results: list[float] = field(default_factory=list)
    squares: list[float] = field(default_factory=list)
    mixed: list[Any] = field(default_factory=list)

    def add(self, factors: Any, results: Sequence[Any]) -> None:
        """Take in one chunk: a column for each factor, and the results.

        Products are summed by ``einsum``: a matrix product would start threads of its own, which
        cost more than they save at this size.
        """
        import numpy as np

        away = factors - 1.0
        self.count += len(away)
        self.factors = self.factors + away.sum(axis=0)
        self.crossed = self.crossed + np.einsum("ij,ik->jk", away, away)
        for i, result in enumerate(results):
            beyond = result - self.start[i]
            self.results[i] += float(beyond.sum())
            self.squares[i] += float(np.einsum("i,i->", beyond, beyond))
            self.mixed[i] = self.mixed[i] + np.einsum("ij,i->j", away, beyond)

    def shares(self, which: int) -> list[float]:
        """Each factor's share of one result's variance, by a straight-line fit of all at once.

        A share is the fitted slope times the covariance with the result, over the variance.
        What whole packs and trips add beyond straight lines belongs to no factor, so that the
        shares add up to one or less.
        """
        import numpy as np

        mean = self.factors / self.count
        ours = self.results[which] / self.count
        variance = self.squares[which] / self.count - ours * ours
        if variance <= 1e-9:
            return [0.0] * len(mean)
        spread = self.crossed / self.count - np.outer(mean, mean)
        together = self.mixed[which] / self.count - mean * ours
        slopes = np.linalg.lstsq(spread, together, rcond=None)[0]
        return [max(0.0, float(share)) for share in slopes * together / variance]


@dataclass(frozen=True, slots=True)
class Drawn:
    """All draws. Cash in cents, hours, packs in steps that they are sold in."""

    count: int
    cash: tuple[Any, ...]  # by plan
    hours: tuple[Any, ...]
    packs: tuple[Any, ...]  # by order
    needed: tuple[Any, ...]  # by order, packs before rounding
    bins: Mapping[str, Any]  # by unknown: which of BINS ranges each draw fell into
    moments: Moments  # of one plan's cash and hours


def drawn_sums(
    plans: Sequence[Sums],
    watched: int,
    orders: Sequence[tuple[Figure, float]],
    found: Sequence[Unknown],
    values: Mapping[str, float],
    count: int,
    seed: int,
) -> Drawn:
    """Price every plan, and count every order, under the same draws.

    :param watched: the plan whose moments are kept.
    :param orders: packs needed, and the step that they are sold in.
    """
    import numpy as np

    keep = _Keep(plans, watched, orders, found)
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
        self, plans: Sequence[Sums], watched: int, orders: Sequence[tuple[Figure, float]],
        found: Sequence[Unknown],
    ) -> None:  # fmt: skip
        import numpy as np

        self._plans, self._watched, self._orders, self._found = plans, watched, orders, found
        self._columns: list[list[Any]] = [[] for _ in range(2 * len(plans) + len(orders))]
        self._bins: dict[str, list[Any]] = {u.name: [] for u in found}
        size = len(found)
        start = (plans[watched].cash.value, plans[watched].hours.value)
        nothing = [np.zeros(size), np.zeros(size)]
        self._moments = Moments(
            np.zeros(size), np.zeros((size, size)), 0, start, [0.0, 0.0], [0.0, 0.0], nothing
        )

    def take(self, part: Mapping[str, Any], results: Sequence[Any]) -> None:
        import numpy as np

        for column, result in zip(self._columns, results, strict=True):
            column.append(result)
        for u in self._found:
            share = u.factor.below(part[u.name])
            self._bins[u.name].append(np.minimum(BINS - 1, share * BINS).astype(np.uint8))
        if self._moments.count >= FITTED:
            return
        factors = np.column_stack([part[u.name] for u in self._found])
        self._moments.add(factors, results[2 * self._watched : 2 * self._watched + 2])

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
            moments=self._moments,
        )
