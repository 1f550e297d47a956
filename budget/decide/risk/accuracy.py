"""A cross-check: the spread that was drawn against published ranges of estimates as far defined."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from budget.decide.plan import Line
from budget.decide.risk.result import Accuracy
from budget.decide.risk.unknowns import Unknown
from budget.figures import inputs
from budget.reference import rows


def firm_share(lines: Iterable[Line], found: Iterable[Unknown]) -> float:
    """The share of a plan's cash that rests on firm prices: none guessed and none assumed."""
    guessed = {key for u in found if u.kind == "price" for key, _ in u.powers}
    firm = every = 0
    for line in lines:
        every += line.cash
        leaves = inputs(line.money) if line.money is not None else []
        priced = [leaf for leaf in leaves if leaf.kind.dimension[3] and leaf.value]
        if not any(leaf.key in guessed or leaf.origin == "default" for leaf in priced):
            firm += line.cash
    return firm / every if every else 0.0


def class_of(firm: float) -> dict[str, str]:
    """The published class whose range of definition lies nearest about a share.

    >>> class_of(0.98)["class"], class_of(0.5)["class"], class_of(0.0)["class"]
    ('1', '2', '5')
    """

    def away(row: dict[str, str]) -> tuple[bool, float]:
        low, high = float(row["definition_low"]) / 100, float(row["definition_high"]) / 100
        return (not low <= firm <= high, abs(firm - (low + high) / 2))

    return min(rows("estimate_classes"), key=away)


def accuracy(firm: float, cash: Sequence[float]) -> Accuracy:
    """The drawn range against the published one.

    :param firm: share of the cash at firm prices.
    :param cash: at 10, 50, 80 and 90 per cent of all cases [cents].
    """
    row = class_of(firm)
    low, middle, high = cash[0], cash[1], cash[3]
    ends = {n: float(row[n]) / 100 for n in ("low_near", "low_far", "high_near", "high_far")}
    return Accuracy(
        firm=firm,
        level=int(row["class"]),
        low=1 - low / middle if middle else 0.0,
        high=high / middle - 1 if middle else 0.0,
        published_low=(ends["low_near"], ends["low_far"]),
        published_high=(ends["high_near"], ends["high_far"]),
        source=f"{row['source']} ({row['standing']})",
    )
