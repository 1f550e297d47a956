"""The most pairs that can be made of some things, when it is known which two go together.

A matching is largest if no path leads from one free thing to another that takes turns between
pairs not made and pairs made (Berge, Two theorems in graph theory, 1957). Such paths are searched
as Edmonds told (Paths, trees, and flowers, 1965): an odd ring met on the way is shrunk to one
point. What a search without success has reached is never looked at again.
"""

from __future__ import annotations

from collections import deque
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from numpy.typing import NDArray

_NONE = -1


def most_pairs(fits: NDArray[Any]) -> int:
    """How many pairs can be made at most.

    :param fits: square and even about its diagonal: whether two things go together; what stands
        on the diagonal does not count, for nothing pairs with itself

    >>> import numpy as np
    >>> ring_of_five = np.array([[abs(i - j) in (1, 4) for i in range(5)] for j in range(5)])
    >>> most_pairs(ring_of_five)
    2
    """
    import numpy as np

    rows = enumerate(fits)
    near = [[o for o in np.flatnonzero(row).tolist() if o != one] for one, row in rows]
    search = _Search(near)
    search.pair_greedily()
    for root in range(len(search.near)):
        if search.mate[root] == _NONE:
            search.from_free(root)
    return sum(mate != _NONE for mate in search.mate) // 2


class _Search:
    """The pairs made so far, and the tree of one search."""

    def __init__(self, near: list[list[int]]) -> None:
        count = len(near)
        self.near = near
        self.mate = [_NONE] * count
        self._done = [False] * count  # reached by a search without success
        self._came = [_NONE] * count  # from where, along a pair not made
        self._base = list(range(count))  # of the ring a point is shrunk into, else itself
        self._even = [False] * count
        self._reached: list[int] = []

    def pair_greedily(self) -> None:
        """The first with the first free one that it goes with, and so on."""
        for one, others in enumerate(self.near):
            if self.mate[one] == _NONE:
                free = next((o for o in others if self.mate[o] == _NONE), _NONE)
                if free != _NONE:
                    self.mate[one], self.mate[free] = free, one

    def from_free(self, root: int) -> None:
        """Make one pair more if a path leads from a free point to another; else leave its tree."""
        self._even[root] = True
        self._reached = [root]
        end = self._grow(root)
        if end == _NONE:
            for point in self._reached:
                self._done[point] = True
        else:
            self._turn(end)
        for point in self._reached:
            self._came[point], self._base[point] = _NONE, point
            self._even[point] = False

    def _grow(self, root: int) -> int:
        """Grow a tree from a free point; the free point it reaches, or none."""
        queue = deque([root])
        while queue:
            here = queue.popleft()
            for there in self.near[here]:
                if self._done[there] or self._base[here] == self._base[there]:
                    continue
                if self._even[there]:
                    queue.extend(self._shrink(here, there))
                elif self._came[there] == _NONE:
                    self._came[there] = here
                    self._reached.append(there)
                    mate = self.mate[there]
                    if mate == _NONE:
                        return there
                    self._even[mate] = True
                    self._reached.append(mate)
                    queue.append(mate)
        return _NONE

    def _shrink(self, one: int, other: int) -> list[int]:
        """Shrink the odd ring that two even points close; the points that become even."""
        base = self._meet(one, other)
        ring: set[int] = set()
        self._mark(one, base, other, ring)
        self._mark(other, base, one, ring)
        new = []
        for point in self._reached:
            if self._base[point] in ring:
                self._base[point] = base
                if not self._even[point]:
                    self._even[point] = True
                    new.append(point)
        return new

    def _meet(self, one: int, other: int) -> int:
        """Where the ways of two even points back to the root meet."""
        passed = set()
        at = self._base[one]
        while True:
            passed.add(at)
            if self.mate[at] == _NONE:
                break
            at = self._base[self._came[self.mate[at]]]
        at = self._base[other]
        while at not in passed:
            at = self._base[self._came[self.mate[at]]]
        return at

    def _mark(self, point: int, base: int, toward: int, ring: set[int]) -> None:
        """Note the bases from a point back to that of the ring, and the way round it."""
        while self._base[point] != base:
            mate = self.mate[point]
            ring |= {self._base[point], self._base[mate]}
            self._came[point] = toward
            toward = mate
            point = self._came[mate]

    def _turn(self, end: int) -> None:
        """Make the pairs along a path that were not made, and part those that were."""
        while end != _NONE:
            before = self._came[end]
            after = self.mate[before]
            self.mate[end], self.mate[before] = before, end
            end = after
