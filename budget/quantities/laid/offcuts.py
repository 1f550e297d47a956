"""Which pieces of cut pavers come out of one paver, so that its offcut serves.

Two pieces come out of one paver if one straight cut parts them, each where it lies in the paver
or turned by half a turn (a paver has a top, so it is not turned over). The blade's width comes
out of the joint. Each paver gives at most two pieces that are used: a smaller rest is waste.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any

from budget.quantities.laid.matching import most_pairs

if TYPE_CHECKING:
    from numpy.typing import NDArray

#: Directions in which a parting cut is looked for, over half a turn.
DIRECTIONS = 16
_FIT = 1e-4  # m, what two pieces may overlap: less than a blade takes
#: Pieces up to this many are paired as often as they can be; more of them nearly as often.
MOST_EXACT = 800


def spans(
    points: NDArray[Any], piece: NDArray[Any], count: int
) -> tuple[NDArray[Any], NDArray[Any]]:
    """From where to where each piece reaches in each direction [m].

    :param points: corners in the paver's own frame, one a row
    :param piece: to which piece each belongs, in rising order
    :param count: number of pieces
    """
    import numpy as np

    angles = np.arange(DIRECTIONS) * math.pi / DIRECTIONS
    along = points @ np.vstack([np.cos(angles), np.sin(angles)])
    if not count:
        return along, along
    starts = np.searchsorted(piece, np.arange(count))
    return np.minimum.reduceat(along, starts), np.maximum.reduceat(along, starts)


def pairs(
    low: NDArray[Any], high: NDArray[Any], areas: NDArray[Any], face: tuple[float, float]
) -> int:
    """How many pavers give two pieces: as many as can, so that no order is larger than need be.

    Of very many pieces the largest is paired first, with the largest that fits: for cuts of one
    direction that is as many, else a few less. Pieces of one size and place in the paver are
    looked at together.

    :param low: where each piece starts in each direction, of :func:`spans`
    :param high: where it ends
    :param areas: area of each piece [m²]
    :param face: length and width of a paver [m]
    """
    import numpy as np

    if not len(areas):
        return 0
    looks = np.round(np.column_stack([areas, low, high]), 5)
    _, first, counts = np.unique(looks, axis=0, return_index=True, return_counts=True)
    order = np.argsort(-looks[first, 0], kind="stable")
    first, counts = first[order], counts[order]
    fits = _fits(low[first], high[first], areas[first], face)
    if len(areas) > MOST_EXACT:
        return _largest_first(fits, counts.tolist())
    each = np.repeat(np.arange(len(counts)), counts)
    return most_pairs(fits[np.ix_(each, each)])


def _fits(
    low: NDArray[Any], high: NDArray[Any], areas: NDArray[Any], face: tuple[float, float]
) -> NDArray[Any]:
    """Which two kinds of piece come out of one paver."""
    import numpy as np

    angles = np.arange(DIRECTIONS) * math.pi / DIRECTIONS
    middle = face[0] * np.cos(angles) + face[1] * np.sin(angles)  # twice the middle
    whole = face[0] * face[1] * (1 + 1e-6)
    found = np.zeros((len(areas), len(areas)), dtype=bool)
    for i in range(len(areas)):
        apart = _parted(low[i], high[i], low[i:], high[i:], middle)
        found[i, i:] = apart & (areas[i:] + areas[i] <= whole)
    found |= found.T
    return found


def _largest_first(fits: NDArray[Any], left: list[int]) -> int:
    """Pairs of kinds of piece, the largest first with the largest that fits."""
    import numpy as np

    found = 0
    for i in range(len(left)):
        for j in (np.flatnonzero(fits[i, i:]) + i).tolist():
            taken = left[i] // 2 if j == i else min(left[i], left[j])
            left[i] -= taken
            left[j] -= taken
            found += taken
            if not left[i]:
                break
    return found


def _parted(
    low: NDArray[Any],
    high: NDArray[Any],
    others_low: NDArray[Any],
    others_high: NDArray[Any],
    middle: NDArray[Any],
) -> NDArray[Any]:
    """Which other pieces, as they lie or half turned, lie across a straight cut from this one."""
    as_it_lies = (others_low >= high - _FIT) | (others_high <= low + _FIT)
    turned = (middle - others_high >= high - _FIT) | (middle - others_low <= low + _FIT)
    apart: NDArray[Any] = (as_it_lies | turned).any(axis=1)
    return apart
