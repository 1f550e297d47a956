"""Seeded draws of the unknowns, the same for every plan that is compared.

Each unknown has a stream of random numbers of its own, found from the seed and its name, so
that neither the order of rows nor a new row moves the draws of another unknown.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterator, Mapping, Sequence
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


def draws(
    found: Sequence[Unknown], count: int, seed: int = SEED, chunk: int = 10_000
) -> Iterator[dict[str, Any]]:
    """Factors of every unknown by name, in chunks of draws; the chunk size changes no number.

    The pace of each own step takes the common pace with a probability whose square is
    :data:`PACE_CORRELATION`, else a pace of its own. Each pace keeps its range exactly, and
    two paces of alike ranges have that correlation.
    """
    import numpy as np

    common = stream(seed, "the common pace")
    own = {u.name: stream(seed, u.name) for u in found}
    mixing = {u.name: stream(seed, f"common or own: {u.name}") for u in found}
    share = PACE_CORRELATION**0.5
    for start in range(0, count, chunk):
        size = min(chunk, count - start)
        shared = common.random(size)
        drawn = {}
        for u in found:
            where = own[u.name].random(size)
            if u.together == PACE:
                where = np.where(mixing[u.name].random(size) < share, shared, where)
            drawn[u.name] = u.factor.at(where)
        yield drawn


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
