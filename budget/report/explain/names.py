"""What the explain command can explain, by kind."""

from __future__ import annotations

from budget.decide.outcome import Comparison
from budget.report.terminal.blocks import Block, Gap, Pair, Text
from budget.spend.finding import find_scenario, folded, priced

Names = dict[str, tuple[str, ...]]


def names(comparison: Comparison, scenario: str | None = None) -> Names:
    """Every name that can be explained, by kind; one name stands under one kind only.

    Raises :class:`budget.spend.finding.UnknownNameError` when no scenario is called so.
    """
    plan = priced(find_scenario(comparison, scenario))
    kinds = {
        "Materials": [need.line for need in comparison.takeoff.needs],
        "Work": [amount.step for amount in comparison.takeoff.steps],
        "Lines of the plan": [line.name for line in plan.lines],
        "Choices": list(plan.plan.choices()),
        "Bids": [f"bid:{bid.key}" for bid in comparison.options.bids],
    }
    seen: set[str] = set()
    found: Names = {}
    for kind, every in kinds.items():
        new = {name: None for name in sorted(every) if name and folded(name) not in seen}
        seen |= {folded(name) for name in new}
        if new:
            found[kind] = tuple(new)
    return found


def blocks(found: Names, file: str, quiet: bool) -> list[Block]:
    """The names in lists, and how to ask for one; bare, one name a line."""
    if quiet:
        return [Text(name) for every in found.values() for name in every]
    rows: list[Block] = [Text("These can be explained; put a name with spaces in quotes."), Gap()]
    rows += [Pair(kind, "; ".join(every)) for kind, every in found.items()]
    first = next(iter(found.values()))[0]
    return [*rows, Gap(), Text(f'Next: budget explain {file} "{first}"')]
