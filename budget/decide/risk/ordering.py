"""How much to order when nobody knows exactly how much it takes: the single-order problem.

One more pack costs its price and perhaps comes back for part of it; one pack short costs a
second delivery, lost days and whatever else hangs on it. Every number of packs is priced against
every need that was drawn, and the one that costs least on average is found exactly; time and
memory grow with the draws, not with needs times orders. With costs
for each pack alone this is the newsvendor: the order is the critical ratio's quantile.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import Any

from budget.units import PACK_TOLERANCE


@dataclass(frozen=True, slots=True)
class Stakes:
    """What an order costs if it proves too small or too large, in cents."""

    each: float  # for one pack ordered now, tax included
    again: float  # for one pack ordered later
    short: float = 0.0  # once, when it runs short
    least: int = 1  # packs that a later order has at least
    back: float = 0.0  # paid back for one unopened pack
    bring_back: float = 0.0  # once, for taking any back
    spares: int = 0  # packs left over that are wanted: they are worth what they cost
    breaks: tuple[tuple[int, float], ...] = ()  # from so many packs on, each costs this

    @property
    def lowest(self) -> float:
        """What one pack costs at the least."""
        return min([self.each, *(price for _, price in self.breaks)])

    def price(self, ordered: Any) -> Any:
        """What one pack costs when so many are ordered at once: an array of orders."""
        import numpy as np

        each = np.full(np.shape(ordered), self.each)
        for start, price in self.breaks:
            each = np.where(np.asarray(ordered) >= start, price, each)
        return each


class _Running:
    """Running sums along the last axis, for the sum between any two places."""

    def __init__(self, values: Any) -> None:
        import numpy as np

        self._sums = np.zeros((*values.shape[:-1], values.shape[-1] + 1))
        np.cumsum(values, axis=-1, out=self._sums[..., 1:])

    def between(self, start: Any, end: Any) -> Any:
        """The sum from one place up to another, that one left out."""
        return self._sums[..., end] - self._sums[..., start]


def packs_of(needed: Any, step: float = 1.0) -> Any:
    """Whole steps of packs that needs take, with the one pack tolerance.

    >>> import numpy as np
    >>> packs_of(np.array([2.0000001, 2.1, 0.0])).tolist()
    [2, 3, 0]
    """
    import numpy as np

    steps = np.ceil(np.asarray(needed, dtype=float) / step - PACK_TOLERANCE)
    return np.maximum(0, steps).astype(int)


def costs(ordered: Any, needed: Any, stakes: Stakes) -> Any:
    """What orders come to under needs, both in packs: numbers or arrays that fit each other.

    >>> dear = Stakes(each=100, again=100, short=50, least=2, back=80, bring_back=30)
    >>> [float(costs(5, needed, dear)) for needed in (5, 6, 3)]
    [500.0, 750.0, 370.0]
    >>> float(costs(5, 3, Stakes(each=100, again=100, spares=1)))
    400.0
    """
    import numpy as np

    missing = np.subtract(needed, ordered)
    later = np.where(
        missing > 0, stakes.short + stakes.again * np.maximum(missing, stakes.least), 0
    )
    left = np.maximum(0, -missing)
    kept = np.minimum(left, stakes.spares)
    returned = np.maximum(0.0, stakes.back * (left - kept) - stakes.bring_back)
    worth = stakes.lowest * kept + returned
    return stakes.price(ordered) * np.asarray(ordered) + later - worth


@dataclass(frozen=True)
class Order:
    """One order to decide: the packs that each draw takes, and what is at stake."""

    needed: Any  # whole packs (or steps) for each draw
    stakes: Stakes
    least: int = 0  # packs that the seller delivers at least
    spared: Any = None  # for each draw: of the cost once, what another shortage pays already

    @cached_property
    def levels(self) -> Any:
        """The different needs, rising."""
        import numpy as np

        return np.unique(self.needed)

    @cached_property
    def coded(self) -> Any:
        """Which of :attr:`levels` each draw takes."""
        import numpy as np

        return np.searchsorted(self.levels, self.needed)

    @cached_property
    def choices(self) -> Any:
        """The orders worth looking at.

        These are the least that is sold, every need, every need with the spares, every need less
        what a later order has at least, and every number from which packs are cheaper. Between
        two of them the average cost has no corner that points down, so the cheapest order is
        among them.
        """
        import numpy as np

        starts = [self.least, *(start for start, _ in self.stakes.breaks)]
        levels, stakes = self.levels, self.stakes
        corners = [levels, levels + stakes.spares, levels - stakes.least]
        every = np.concatenate([*corners, np.array(starts, dtype=int)])
        return np.unique(np.maximum(every, self.least))

    @cached_property
    def _spared_by_level(self) -> Any:
        import numpy as np

        if self.spared is None:
            return np.zeros(len(self.levels))
        sums = np.bincount(self.coded, self.spared, minlength=len(self.levels))
        return sums / np.bincount(self.coded, minlength=len(self.levels))

    def sums(self, draws: Any) -> Any:
        """What each of :attr:`choices` costs in all, in cents.

        ``draws`` counts the draws at each of :attr:`levels` (its last axis), so that no table of
        needs by orders is kept: what lies between two needs is a difference of running sums.
        """
        import numpy as np

        ordered, levels, stakes = self.choices, self.levels, self.stakes
        count, need = _Running(draws), _Running(draws * levels)
        spared = _Running(draws * self._spared_by_level)
        none, end = np.zeros_like(ordered), np.full_like(ordered, len(levels))
        all_kept = ordered - stakes.spares
        short = np.searchsorted(levels, ordered, "right")
        over_least = np.maximum(short, np.searchsorted(levels, ordered + stakes.least))
        kept = np.searchsorted(levels, all_kept)
        worth_it = all_kept - stakes.bring_back / stakes.back if stakes.back > 0 else none
        returned = np.searchsorted(levels, worth_it)
        missing = (
            stakes.least * count.between(short, over_least)
            + need.between(over_least, end) - ordered * count.between(over_least, end)
        )  # fmt: skip
        later = (
            stakes.short * count.between(short, end) + stakes.again * missing
            - spared.between(short, end)
        )  # fmt: skip
        spares = (
            stakes.spares * count.between(none, kept)
            + ordered * count.between(kept, short) - need.between(kept, short)
        )  # fmt: skip
        taken_back = all_kept * count.between(none, returned) - need.between(none, returned)
        back = stakes.back * taken_back - stakes.bring_back * count.between(none, returned)
        now = stakes.price(ordered) * ordered * count.between(none, end)
        return now + later - stakes.lowest * spares - back

    @cached_property
    def means(self) -> Any:
        """Average cost of each of :attr:`choices` over all draws."""
        import numpy as np

        return self.sums(np.bincount(self.coded)) / len(self.needed)

    def each(self, ordered: Any) -> Any:
        """What each draw costs with its order, or with one order for all."""
        spared = (self.needed > ordered) * self._spared_by_level[self.coded]
        return costs(ordered, self.needed, self.stakes) - spared

    @property
    def best(self) -> int:
        """The order of least average cost; the smaller of two alike."""
        return int(self.choices[int(self.means.argmin())])

    def mean(self, ordered: int) -> float:
        """Average cost of one order."""
        paid = costs(ordered, self.needed, self.stakes)
        if self.spared is not None:
            paid = paid - (self.needed > ordered) * self.spared
        return float(paid.mean())

    def chance_short(self, ordered: int) -> float:
        """Share of the draws that need more."""
        return float((self.needed > ordered).mean())
