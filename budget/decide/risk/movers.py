"""What moves the best plan most: each unknown's share of the spread, and what it does alone."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from budget.decide.risk.drawn import Sums
from budget.decide.risk.draws import Roll, changed, rolls, stream
from budget.decide.risk.result import Mover
from budget.decide.risk.shares import Share, shares
from budget.decide.risk.unknowns import PACE, Unknown
from budget.figures import Recalculation, inputs, recalculate_all

#: What moves together at all own steps. The pace of one step is what it strays beyond that.
COMMON = "pace of all own work"

#: Pairs of draws from which shares are found at the most; more would rank alike.
MOST_PAIRS = 10_000


@dataclass(frozen=True, slots=True)
class _Source:
    """One thing that strays by itself: an unknown, or the pace that own steps have in common."""

    name: str
    kind: str
    moves: tuple[Unknown, ...]  # what goes to its end with it


def movers(
    plan: Sums, found: Sequence[Unknown], values: Mapping[str, float], pairs: int, seed: int
) -> tuple[Mover, ...]:
    """What moves a plan, by its share of the spread of the plan's cash.

    :param pairs: how many pairs of draws the shares are found from.
    """
    keys = {leaf.key for figure in (plan.cash, plan.hours) for leaf in inputs(figure)}
    here = [u for u in found if any(key in keys for key, _ in u.powers)]
    if not here:
        return ()
    sources = _sources(here)
    of_cash, of_hours = _shares(plan, here, sources, values, pairs, seed)
    cash, hours = _ends(plan, sources, values)
    said = [
        Mover(
            name=source.name, kind=source.kind,
            cash_share=of_cash[i].share, hours_share=of_hours[i].share,
            cash_error=of_cash[i].error, hours_error=of_hours[i].error,
            cash_low=float(cash[2 * i]), cash_high=float(cash[2 * i + 1]),
            hours_low=float(hours[2 * i]), hours_high=float(hours[2 * i + 1]),
        )
        for i, source in enumerate(sources)
    ]  # fmt: skip
    return tuple(
        sorted(
            (m for m in said if m.cash_share or m.hours_share),
            key=lambda m: (-m.cash_share, -m.hours_share, m.name),
        )
    )


def _sources(here: Sequence[Unknown]) -> list[_Source]:
    """Every unknown; the common pace stands for itself where several steps have it in common."""
    found = [_Source(u.name, u.kind, (u,)) for u in here]
    paces = tuple(u for u in here if u.together == PACE)
    return [*found, _Source(COMMON, PACE, paces)] if len(paces) > 1 else found


def _ends(
    plan: Sums, sources: Sequence[_Source], values: Mapping[str, float]
) -> tuple[Any, Any]:  # fmt: skip
    """Cash and hours with each source at its low and its high end, the rest as written."""
    import numpy as np

    count = 2 * len(sources)
    found = [u for source in sources for u in source.moves if len(source.moves) == 1]
    ends = {u.name: np.ones(count) for u in found}
    for i, source in enumerate(sources):
        for u in source.moves:
            ends[u.name][2 * i : 2 * i + 2] = (u.factor.low, u.factor.high)
    results = recalculate_all((plan.cash, plan.hours), changed(found, ends, dict(values)))
    cash, hours = (np.broadcast_to(result, count) for result in results)
    return cash, hours


def _shares(
    plan: Sums, here: Sequence[Unknown], sources: Sequence[_Source],
    values: Mapping[str, float], pairs: int, seed: int,
) -> list[list[Share]]:  # fmt: skip
    """The shares of cash and of hours, by source."""
    again = Recalculation([plan.cash, plan.hours], {key for u in here for key, _ in u.powers})
    one, other = (next(rolls(here, pairs, s, pairs)) for s in (seed, seed + 1))
    table = [_Turned(u, one, other) for u in here]
    places = {source.name: i for i, source in enumerate(sources)}
    common = places.get(COMMON)

    def priced(at: slice, turned: Sequence[Any]) -> Sequence[Any]:
        repeats = len(sources) + 1
        factors = {
            each.name: each.factor(at, repeats, turned[i], turned[i if common is None else common])
            for i, each in enumerate(table)
        }
        results = again.run(changed(here, factors, values))
        return [_rows(result, len(turned[0])) for result in results]

    return shares(priced, len(sources), pairs, stream(seed, "orders of becoming known"))


def _rows(result: Any, count: int) -> Any:
    import numpy as np

    return np.broadcast_to(result, count)


class _Turned:
    """The factor of one unknown in pairs of draws, with its own part or the common part turned."""

    def __init__(self, u: Unknown, one: Roll, other: Roll) -> None:
        self.name = u.name
        both = (one, other)
        self._own = [u.factor.at(roll.own[u.name]) for roll in both]
        self._pace = u.together == PACE
        if self._pace:
            self._joins = [roll.joins[u.name] for roll in both]
            self._shared = [u.factor.at(roll.shared) for roll in both]

    def factor(self, at: slice, repeats: int, mine: Any, common: Any) -> Any:
        """For a slice of the pairs, so often repeated; booleans say what is turned."""
        import numpy as np

        def taken(pair: Sequence[Any], turned: Any) -> Any:
            first, second = (np.tile(each[at], repeats) for each in pair)
            return np.where(turned, second, first)

        own = taken(self._own, mine)
        if not self._pace:
            return own
        return np.where(taken(self._joins, mine), taken(self._shared, common), own)
