"""Pieces too heavy for one person, by the weight of one."""

from __future__ import annotations

from collections.abc import Iterable

from budget.quantities.feature_needs import Caution
from budget.quantities.takeoff import Need
from budget.reference import coefficient
from budget.units import MASS, System, in_words

#: Kinds lifted by hand one at a time.
_LIFTED = ("paver", "wall unit", "cap", "timber", "steel section", "extra")


def lifting(needs: Iterable[Need], system: System) -> list[Caution]:
    """Cautions about pieces above the lifting guideline: two people, or a machine.

    One caution a step, which names the pieces with their weights.
    """
    limit = coefficient("lifting guideline")
    heavy: dict[str, dict[str, float]] = {}
    for need in needs:
        count, mass = need.measures.get("count"), need.measures.get("mass")
        if need.kind not in _LIFTED or count is None or mass is None or count.value <= 0:
            continue
        one = mass.value / count.value
        if one > limit.likely * (1 + 1e-9):
            heavy.setdefault(need.step, {})[need.item] = one
    return [
        (step, _text(found, limit.likely, system), limit.cited)
        for step, found in sorted(heavy.items())
    ]


def _text(found: dict[str, float], limit: float, system: System) -> str:
    shown = [f"{item} ({in_words(one, MASS, system)})" for item, one in sorted(found.items())]
    two = "Two people, counted as two, lift" if max(found.values()) <= 2 * limit else (
        "Two people lift (and a machine or a cart the heaviest of)"
    )  # fmt: skip
    return f"{two} each {', '.join(shown)}: over {in_words(limit, MASS, system)}."
