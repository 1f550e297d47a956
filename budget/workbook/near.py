"""The known names nearest to one that nobody knows, found in little time among thousands."""

from __future__ import annotations

import difflib
from bisect import bisect
from collections.abc import Callable, Iterable
from functools import lru_cache
from itertools import islice

#: Up to so many names, each is compared; of more, so many that begin or end alike.
_FEW = 120


def near_names(
    name: str, known: Iterable[str], folded: Callable[[str], str], most: int, cutoff: float
) -> list[str]:
    """The known names most like ``name``, best first; likeness is that of :mod:`difflib`.

    ``folded`` writes names as they are compared. Of names that are compared as one, the first in
    order of the alphabet stands for all. A slip of the pen leaves the beginning or the end of a
    name as it was: of many names only the neighbours in either order are compared, so that
    thousands of unknown names do not take each a look at all the others.

    >>> near_names("bse stone", ["Base stone", "Bedding sand"], str.casefold, 3, 0.6)
    ['Base stone']
    """
    by_key, forward, backward = _ordered(tuple(known), folded)
    typed = folded(name)
    keys = forward
    if len(forward) > _FEW:
        ends = [key[::-1] for key in _around(backward, typed[::-1])]
        keys = tuple(sorted({*_around(forward, typed), *ends}))
    return [by_key[key] for key in difflib.get_close_matches(typed, keys, most, cutoff)]


def names_holding(
    name: str, known: Iterable[str], folded: Callable[[str], str]
) -> list[str]:  # fmt: skip
    """The known names that have ``name`` in them, in order.

    >>> names_holding("stone", ["Base stone", "Bedding sand"], str.casefold)
    ['Base stone']
    """
    by_key, forward, _ = _ordered(tuple(known), folded)
    typed = folded(name)
    return [by_key[key] for key in forward if typed and typed in key]


@lru_cache(maxsize=16)
def _ordered(
    known: tuple[str, ...], folded: Callable[[str], str]
) -> tuple[dict[str, str], tuple[str, ...], tuple[str, ...]]:
    """Names by how they are compared, and these in order from the front and from the back."""
    by_key = {folded(name): name for name in sorted(known, reverse=True)}
    return by_key, tuple(sorted(by_key)), tuple(sorted(key[::-1] for key in by_key))


def _around(names: tuple[str, ...], name: str) -> Iterable[str]:
    """The names next to where one would stand in order."""
    start = max(0, bisect(names, name) - _FEW // 4)
    return islice(names, start, start + _FEW // 2)
