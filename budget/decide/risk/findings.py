"""What it is worth to find something out before the last order and the last choice.

An unknown is parted into ranges of equal chance. Knowing it means to order, and to choose the
plan, by the range that it falls into. The decision of each range is made on one half of the draws
and judged on the other, so that luck in the draws is not taken for knowledge.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from budget.decide.risk.drawn import BINS
from budget.decide.risk.result import Finding, rank_of
from budget.decide.risk.shortfalls import Decision
from budget.decide.risk.unknowns import Unknown
from budget.figures import Figure, inputs
from budget.reference import UNIT_TEXTS, rows

#: Savings below so many standard errors of the draws count as none.
_SURE = 2.0


def findings(
    found: Sequence[Unknown],
    bins: Mapping[str, Any],
    decided: Sequence[Decision],
    totals: Sequence[tuple[str, Any]],
    best: int,
    cash: Any,
    confidence: float,
    hour_value: float,
) -> tuple[Finding, ...]:
    """Each unknown that can be found out, what is worth most first.

    :param bins: for each unknown the range of every draw.
    :param totals: title and cents of each draw of every plan that may be called best.
    :param best: which of them is the best plan. :param cash: its cash in every draw.
    :param hour_value: cents an own hour.
    """
    ways = {row["kind"]: row for row in rows("findings")}
    keys = [_keys(d.demand.needed) for d in decided]
    said = []
    for u in found:
        way = ways.get(u.kind)
        if way is None:
            continue
        where = bins[u.name]
        touched = [d for d, k in zip(decided, keys, strict=True) if k & {p[0] for p in u.powers}]
        plan, instead = _by_plan(where, totals, best)
        said.append(
            Finding(
                name=u.name, kind=u.kind, how=way["how"],
                order=sum(_by_order(where, d) for d in touched),
                plan=plan, instead=instead,
                set_aside=_set_aside(where, cash, confidence),
                effort=float(way["hours"]) * UNIT_TEXTS[way["unit"]][1] * hour_value,
            )
        )  # fmt: skip
    return tuple(sorted(said, key=lambda f: (-f.worth, -f.set_aside, f.name)))


def _keys(figure: Figure) -> set[str]:
    return {leaf.key for leaf in inputs(figure)}


def _halves(where: Any) -> Any:
    """A number for each draw: its range, and which half of the draws it is in."""
    import numpy as np

    return where.astype(int) * 2 + np.arange(len(where)) % 2


def _other(choice: Any, cells: Any) -> Any:
    """For each draw, the choice that the other half of its range makes."""
    return choice[cells ^ 1]


def _by_order(where: Any, decision: Decision) -> float:
    """Cents saved on average by ordering to the range that an unknown falls into."""
    import numpy as np

    order, cells = decision.order, _halves(where)
    levels = len(order.levels)
    weight = np.bincount(cells * levels + order.coded, minlength=2 * BINS * levels)
    choice = order.choices[order.sums(weight.reshape(2 * BINS, levels)).argmin(axis=1)]
    return _if_sure(order.each(order.best) - order.each(_other(choice, cells)))


def _by_plan(where: Any, totals: Sequence[tuple[str, Any]], best: int) -> tuple[float, str]:
    """Cents saved on average by choosing the plan to the range, and the plan it may turn to."""
    import numpy as np

    cells = _halves(where)
    sums = np.stack([np.bincount(cells, each, minlength=2 * BINS) for _, each in totals])
    middle = min(range(len(totals)), key=lambda i: (float(sums[i].sum()), i != best, totals[i][0]))
    choice = _other(sums.argmin(axis=0), cells)
    saved = (
        totals[middle][1] - np.stack([each for _, each in totals])[choice, np.arange(len(cells))]
    )
    gain = _if_sure(saved)
    turned = np.bincount(choice, minlength=len(totals))
    turned[best] = 0
    return gain, totals[int(turned.argmax())][0] if gain else ""


def _if_sure(saved: Any) -> float:
    mean, error = float(saved.mean()), float(saved.std()) / len(saved) ** 0.5
    return mean if mean > _SURE * error and mean >= 1 else 0.0


def _set_aside(where: Any, cash: Any, confidence: float) -> float:
    """Cents by which the safe sum falls, on average, once an unknown is known.

    The middle stays where it is on average, so that as much less is set aside beyond it.
    """
    import numpy as np

    def safe(part: Any) -> float:
        rank = rank_of(len(part), confidence)
        return float(np.partition(part, rank)[rank])

    counts = np.bincount(where, minlength=BINS)
    by_range = cash[np.argsort(where, kind="stable")]
    parts = np.split(by_range, np.cumsum(counts)[:-1])
    known = sum(safe(part) * len(part) for part in parts if len(part)) / len(cash)
    return max(0.0, safe(cash) - known)
