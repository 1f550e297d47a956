"""What to take care of, in the words of an explanation."""

from __future__ import annotations

from budget.decide.outcome import Comparison
from budget.quantities.needs.consumables import BLADES
from budget.spend.finding import folded


def way_remarks(comparison: Comparison, typed: str) -> list[str]:
    """Which way of cutting suits, where cutting or its blades are asked about."""
    said = comparison.takeoff.way_to_cut
    return [said] if said and typed in ("cut", "step:cut", folded(BLADES)) else []


def care_remarks(comparison: Comparison, typed: str) -> list[str]:
    """The cautions of a step by its name, or of the step that something needed is used in.

    Building is many things; what is used in it does not tell which of its cautions are meant.
    """
    takeoff = comparison.takeoff
    steps = {need.step for need in takeoff.needs if typed in (folded(need.line), folded(need.item))}
    steps -= {"Build"}
    return [
        f"Take care: {text} ({source})" if source else f"Take care: {text}"
        for step, text, source in takeoff.cautions
        if step in steps or typed in (folded(step), folded(f"step:{step}"))
    ]
