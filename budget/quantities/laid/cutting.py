"""Cutting pieces out of stock lengths: the cheapest cutting, and the proof that it is.

One dimension: every piece is as wide as its stock. A saw takes its kerf between two pieces, so
a piece counts its length and one kerf, and a stock length has one kerf more to give. A simple
cutting that meets a simple bound is the best there is; otherwise an exact integer programme
decides, on the flow of pieces along a stock length (arc-flow formulation, Valério de Carvalho
1999, Annals of Operations Research 86, 629-659).
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from budget.units import INCH

#: Lengths are counted in whole steps (m): of 1/64 in where all are whole in these, else of a
#: fortieth of a millimetre, which 1/8 in is whole in too. What is not whole rounds to the safe
#: side: pieces up, stock down.
STEP = 2.5e-5
#: Branches after which the programme stops and says that its answer is not proved.
MOST_NODES = 20_000
#: Arcs beyond which the programme is not tried: so many different lengths are never sawn by hand.
MOST_ARCS = 30_000
#: How the programme is solved: costs are whole cents, so that half a cent apart is proved.
_OPTIONS = {
    "output_flag": False, "threads": 1, "mip_rel_gap": 0.0, "mip_abs_gap": 0.5,
    "mip_max_nodes": MOST_NODES, "random_seed": 1,
}  # fmt: skip

#: One stock length cut up: which stock, and the pieces in it, longest first.
Pattern = tuple[int, tuple[int, ...]]


@dataclass(frozen=True, slots=True)
class Cutting:
    """How often each pattern is cut, and what is proved about it."""

    patterns: tuple[tuple[Pattern, int], ...]  # the stock and pieces by their numbers, and times
    cost: int
    proved: bool
    bound: str

    @property
    def stock_used(self) -> dict[int, int]:
        """Lengths used of each stock, by its number."""
        used: Counter[int] = Counter()
        for (stock, _), times in self.patterns:
            used[stock] += times
        return dict(sorted(used.items()))


def cut(
    pieces: Sequence[float],
    counts: Sequence[int],
    stocks: Sequence[float],
    kerf: float,
    costs: Sequence[int] | None = None,
) -> Cutting:
    """The cheapest cutting of ``counts`` of ``pieces`` [m] out of ``stocks`` [m].

    ``costs`` are whole numbers, one a stock (cents); without them the least length of stock is
    bought. Of equal cuttings the one found first counts, the same on every machine.

    :raises ValueError: if a piece is longer than every stock

    >>> inch = 0.0254
    >>> two = cut([96 * inch], [2], [192 * inch], 0.125 * inch)  # the saw takes its part
    >>> two.stock_used, two.proved
    ({0: 2}, True)
    """
    step = _step([*pieces, *stocks, kerf])
    sizes = [_up(length + kerf, step) for length in pieces]
    rooms = [_down(length + kerf, step) for length in stocks]
    prices = list(costs) if costs else [_down(length, step) for length in stocks]
    for length, size in zip(pieces, sizes, strict=True):
        if all(size > room for room in rooms):
            msg = f"a piece of {length:g} m is longer than every stock length"
            raise ValueError(msg)
    wanted = {i: n for i, n in enumerate(counts) if n > 0}
    if not wanted:
        return Cutting((), 0, True, "nothing to cut")
    simple = _best_fit(sizes, wanted, rooms, prices)
    least = _least_cost(sizes, wanted, rooms, prices)
    if _cost(simple, prices) <= least:
        return _result(simple, prices, True, "no cutting can need less: the lengths add up to it")
    found, proved = _arc_flow(sizes, wanted, rooms, prices) or (simple, False)
    best = min(simple, found, key=lambda way: _cost(way, prices))
    words = "an exact search found none better" if proved else "good, but not proved the best"
    return _result(best, prices, proved, words)


def _step(lengths: Sequence[float]) -> float:
    fine = INCH / 64
    return fine if all(abs(n / fine - round(n / fine)) < 1e-5 for n in lengths) else STEP


def _up(length: float, step: float) -> int:
    return math.ceil(length / step - 1e-4)


def _down(length: float, step: float) -> int:
    return math.floor(length / step + 1e-4)


def _cost(patterns: Mapping[Pattern, int], prices: Sequence[int]) -> int:
    return sum(prices[stock] * times for (stock, _), times in patterns.items())


def _result(
    patterns: Mapping[Pattern, int], prices: Sequence[int], proved: bool, bound: str
) -> Cutting:
    return Cutting(tuple(sorted(patterns.items())), _cost(patterns, prices), proved, bound)


def _cheapest(size: int, rooms: Sequence[int], prices: Sequence[int]) -> int:
    """The cheapest stock that has this much room, the shortest of equal ones."""
    fit = [i for i, room in enumerate(rooms) if room >= size]
    return min(fit, key=lambda i: (prices[i], rooms[i], i))


def _least_cost(
    sizes: Sequence[int], wanted: Mapping[int, int], rooms: Sequence[int], prices: Sequence[int]
) -> int:
    """What no cutting can go below: all lengths laid end to end in the cheapest stock."""
    total = sum(sizes[i] * n for i, n in wanted.items())
    if len(rooms) == 1:
        pairs = sum(n for i, n in wanted.items() if 2 * sizes[i] > rooms[0])
        return max(-(-total // rooms[0]), pairs) * prices[0]
    dear = min(range(len(rooms)), key=lambda i: prices[i] / rooms[i])
    return -(-total * prices[dear] // rooms[dear])


def _best_fit(
    sizes: Sequence[int], wanted: Mapping[int, int], rooms: Sequence[int], prices: Sequence[int]
) -> dict[Pattern, int]:
    """Longest piece first, each into the fullest length that still takes it.

    Tried with every stock as the one to start from, the longest first; what ends up in a length
    then moves to the cheapest stock that has room for it.
    """
    starts = sorted(set(rooms), reverse=True)
    ways = [_moved(_filled(sizes, wanted, room), sizes, rooms, prices) for room in starts]
    return min(ways, key=lambda way: _cost(way, prices))


def _filled(sizes: Sequence[int], wanted: Mapping[int, int], room: int) -> list[list[int]]:
    """Lengths of one room filled; a piece that is longer has one of its own."""
    bins: list[list[int]] = []
    left: list[int] = []
    for piece in sorted(wanted, key=lambda i: (-sizes[i], i)):
        for _ in range(wanted[piece]):
            open_bins = [b for b in range(len(bins)) if left[b] >= sizes[piece]]
            if open_bins:
                chosen = min(open_bins, key=lambda b: (left[b], b))
            else:
                bins.append([])
                left.append(room)
                chosen = len(bins) - 1
            bins[chosen].append(piece)
            left[chosen] -= sizes[piece]
    return bins


def _moved(
    bins: Sequence[Sequence[int]], sizes: Sequence[int], rooms: Sequence[int], prices: Sequence[int]
) -> dict[Pattern, int]:
    found: Counter[Pattern] = Counter()
    for pieces in bins:
        stock = _cheapest(sum(sizes[i] for i in pieces), rooms, prices)
        found[stock, tuple(pieces)] += 1
    return dict(found)


def _arcs(
    sizes: Sequence[int], wanted: Mapping[int, int], most: int
) -> tuple[list[tuple[int, int, int]], list[int]]:
    """Arcs (from, to, piece) and the points that they reach, pieces in falling order."""
    reached = {0}
    arcs: dict[tuple[int, int, int], None] = {}
    for piece in sorted(wanted, key=lambda i: (-sizes[i], i)):
        for start in sorted(reached):
            at = start
            for _ in range(wanted[piece]):
                if at + sizes[piece] > most:
                    break
                arcs[at, at + sizes[piece], piece] = None
                at += sizes[piece]
                reached.add(at)
    return list(arcs), sorted(reached)


def _arc_flow(
    sizes: Sequence[int], wanted: Mapping[int, int], rooms: Sequence[int], prices: Sequence[int]
) -> tuple[dict[Pattern, int], bool] | None:
    """The exact programme: as many flows from 0 as stock lengths, each ending where it is full.

    And whether it is proved; nothing where it is too large or finds nothing.
    """
    arcs, points = _arcs(sizes, wanted, max(rooms))
    if len(arcs) > MOST_ARCS:
        return None
    ends = {at: _cheapest(at, rooms, prices) for at in points if at}
    costs = [0.0] * len(arcs)
    costs += [float(prices[stock]) for stock in ends.values()]
    most = float(sum(wanted.values()))
    rows: list[tuple[dict[int, float], float, float]] = []
    balance: dict[int, dict[int, float]] = {at: {} for at in points if at}
    covered: dict[int, dict[int, float]] = {piece: {} for piece in wanted}
    for column, (start, end, piece) in enumerate(arcs):
        balance[end][column] = 1.0
        if start:
            balance[start][column] = -1.0
        covered[piece][column] = 1.0
    for column, at in enumerate(ends, len(arcs)):
        balance[at][column] = -1.0
    rows += [(terms, 0.0, 0.0) for terms in balance.values()]
    rows += [(terms, float(wanted[piece]), math.inf) for piece, terms in covered.items()]
    solved = _solve(costs, most, rows)
    if solved is None:
        return None
    values, proved = solved
    flows = {arc: n for arc, n in zip(arcs, values, strict=False) if n}
    return _patterns(flows, dict(zip(ends, values[len(arcs) :], strict=True)), ends, wanted), proved


def _patterns(
    flows: dict[tuple[int, int, int], int],
    stops: dict[int, int],
    ends: Mapping[int, int],
    wanted: Mapping[int, int],
) -> dict[Pattern, int]:
    """Walks the flows from 0 to where they end; pieces beyond those wanted are left out."""
    left = dict(wanted)
    found: Counter[Pattern] = Counter()
    for _ in range(sum(stops.values())):
        at, pieces = 0, []
        while not stops.get(at):
            arc = min(a for a, n in flows.items() if a[0] == at and n)
            flows[arc] -= 1
            at = arc[1]
            if left[arc[2]]:
                left[arc[2]] -= 1
                pieces.append(arc[2])
        stops[at] -= 1
        if pieces:
            found[ends[at], tuple(pieces)] += 1
    return dict(found)


def _solve(
    costs: Sequence[float], most: float, rows: Sequence[tuple[dict[int, float], float, float]]
) -> tuple[list[int], bool] | None:
    import highspy
    import numpy as np

    lp = highspy.HighsLp()
    lp.num_col_, lp.num_row_ = len(costs), len(rows)
    lp.col_cost_ = np.array(costs)
    lp.col_lower_, lp.col_upper_ = np.zeros(len(costs)), np.full(len(costs), most)
    lp.row_lower_ = np.array([low for _, low, _ in rows])
    lp.row_upper_ = np.array([high for _, _, high in rows])
    lp.integrality_ = [highspy.HighsVarType.kInteger] * len(costs)
    entries = [sorted(terms.items()) for terms, _, _ in rows]
    lp.a_matrix_.format_ = highspy.MatrixFormat.kRowwise
    lp.a_matrix_.start_ = np.cumsum([0, *(len(e) for e in entries)])
    lp.a_matrix_.index_ = np.array([c for e in entries for c, _ in e], dtype=np.int32)
    lp.a_matrix_.value_ = np.array([f for e in entries for _, f in e])
    solver: Any = highspy._Highs()  # type: ignore[attr-defined]  # without its banner
    for name, value in _OPTIONS.items():
        solver.setOptionValue(name, value)
    solver.passModel(lp)
    solver.run()
    solution = solver.getSolution()
    if not solution.value_valid:
        return None
    proved = solver.getModelStatus() == highspy.HighsModelStatus.kOptimal
    return [round(v) for v in solution.col_value], proved
