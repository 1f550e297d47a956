"""Each unknown's share of the spread of a result: its Shapley effect.

Whole loads, days of hire and free deliveries hang on several unknowns at once: what two of them
do together belongs to neither alone. An unknown's share is the part of the variance that goes once
it is known, averaged over all orders in which the unknowns could become known, one after the
other. What comes in steps is so parted fairly among those it hangs on, and the shares add up to
one.

Sources: A. B. Owen 2014, Sobol' indices and Shapley value, SIAM/ASA Journal on Uncertainty
Quantification 2 (from memory); found from pairs of draws as T. Goda 2021, A simple algorithm for
global sensitivity analysis with Shapley effects (arXiv:2009.00874, abstract read).
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

#: Rows priced at once: enough to keep numpy busy, few enough to stay in a processor's cache.
_ROWS = 10_000


@dataclass(frozen=True, slots=True)
class Share:
    """A share of a result's variance, and the standard error that the draws leave in it."""

    share: float
    error: float


def shares(
    priced: Callable[[slice, Sequence[Any]], Sequence[Any]], players: int, pairs: int, random: Any
) -> list[list[Share]]:
    """For each result, the share of each player.

    Every pair of independent draws is turned from the one into the other, one player at a time
    in a random order. Half the average product of the whole change and the change at one player's
    turn is that player's part of the variance; the whole path read backwards is another such
    path, which makes the two ends count alike.

    :param priced: the results for a slice of the pairs, each repeated ``players + 1`` times, where
        each player's booleans say which rows take its second draw.
    :param random: a numpy generator, for the orders.

    >>> import numpy as np
    >>> random = np.random.default_rng(1)
    >>> one, other = random.normal(size=(2, 2, 5000)) * [[3.0], [1.0]]
    >>> def added(at, turned):
    ...     return [sum(np.where(turned[i], np.tile(other[i, at], 3), np.tile(one[i, at], 3))
    ...                 for i in range(2))]
    >>> [round(s.share, 1) for s in shares(added, 2, 5000, random)[0]]
    [0.9, 0.1]
    """
    import numpy as np

    steps = np.arange(players + 1)[:, None]
    size = max(1, _ROWS // (players + 1))
    parts: list[list[Any]] = []
    for start in range(0, pairs, size):
        at = slice(start, min(pairs, start + size))
        turn = random.random((at.stop - start, players)).argsort(axis=1).argsort(axis=1).T
        turned = [(places < steps).ravel() for places in turn]
        for i, result in enumerate(priced(at, turned)):
            if i == len(parts):
                parts.append([])
            path = np.asarray(result, dtype=float).reshape(players + 1, -1)
            changes = np.diff(path, axis=0)
            parts[i].append(np.take_along_axis(changes, turn, axis=0))
    return [_shares(np.concatenate(changes, axis=1)) for changes in parts]


def _shares(changes: Any) -> list[Share]:
    """From the change at each player's turn (rows) in every pair (columns)."""
    import numpy as np

    whole = changes.sum(axis=0)
    variance = float((whole * whole).mean())
    if variance <= 1e-9:
        return [Share(0.0, 0.0)] * len(changes)
    mine = changes * whole
    raw = mine.mean(axis=1) / variance
    around = mine - raw[:, None] * whole * whole
    errors = around.std(axis=1) / len(whole) ** 0.5 / variance
    none_below = np.maximum(raw, 0.0)
    found = none_below / none_below.sum()
    return [Share(float(s), float(e)) for s, e in zip(found, errors, strict=True)]
