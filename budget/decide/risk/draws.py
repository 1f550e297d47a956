"""Seeded draws of the unknowns, the same for every plan that is compared.

Each unknown has a stream of random numbers of its own, found from the seed and its name, so
that neither the order of rows nor a new row moves the draws of another unknown.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from budget.decide.risk.unknowns import PACE, Unknown
from budget.figures import Figure

SEED = 20_001

#: How strongly the paces of two own steps move together.
PACE_CORRELATION = 0.5


def stream(seed: int, name: str) -> Any:
    """The random numbers of one name."""
    import numpy as np

    digest = hashlib.sha256(name.encode()).digest()
    return np.random.default_rng([seed, *digest])


@dataclass(frozen=True, slots=True)
class Roll:
    """One chunk of random numbers between 0 and 1, before they become factors."""

    shared: Any  # of the common pace
    own: dict[str, Any]  # of every unknown
    joins: dict[str, Any]  # of every pace: whether it takes the common one

    def factor(self, u: Unknown) -> Any:
        """The factor of one unknown in every draw."""
        import numpy as np

        where = self.own[u.name]
        if u.together == PACE:
            where = np.where(self.joins[u.name], self.shared, where)
        return u.factor.at(where)


def rolls(
    found: Sequence[Unknown], count: int, seed: int = SEED, chunk: int = 10_000
) -> Iterator[Roll]:
    """The random numbers behind :func:`draws`, in chunks; the chunk size changes no number."""
    common = stream(seed, "the common pace")
    own = {u.name: stream(seed, u.name) for u in found}
    mixing = {u.name: stream(seed, f"common or own: {u.name}") for u in found if u.together == PACE}
    share = PACE_CORRELATION**0.5
    for start in range(0, count, chunk):
        size = min(chunk, count - start)
        yield Roll(
            common.random(size),
            {name: each.random(size) for name, each in own.items()},
            {name: each.random(size) < share for name, each in mixing.items()},
        )


def draws(
    found: Sequence[Unknown], count: int, seed: int = SEED, chunk: int = 10_000
) -> Iterator[dict[str, Any]]:
    """Factors of every unknown by name, in chunks of draws; the chunk size changes no number.

    The pace of each own step takes the common pace with a probability whose square is
    :data:`PACE_CORRELATION`, else a pace of its own. Each pace keeps its range exactly, and
    two paces of alike ranges have that correlation.
    """
    for roll in rolls(found, count, seed, chunk):
        yield {u.name: roll.factor(u) for u in found}


def changed(
    found: Sequence[Unknown], factors: Mapping[str, Any], values: Mapping[str, float]
) -> dict[str, Any]:
    """The inputs under some factors: what :func:`budget.figures.recalculate` takes.

    An input that two unknowns touch is multiplied by both.
    """
    inputs: dict[str, Any] = {}
    for u in found:
        factor = factors[u.name]
        for key, power in u.powers:
            inputs[key] = inputs.get(key, values[key]) * factor**power
    return inputs


def written(figures: Sequence[Figure]) -> dict[str, float]:
    """The value of every input by key."""
    from budget.figures import in_order

    values: dict[str, float] = {}
    seen: set[int] = set()
    for figure in figures:
        for node in in_order(figure, seen):
            seen.add(id(node))
            if not node.args and node.key:
                values.setdefault(node.key, node.value)
    return values
