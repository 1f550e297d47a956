"""Where the answer flips, in few words: the plan as a whole, then choice by choice."""

from __future__ import annotations

from collections.abc import Iterable

from budget.decide.outcome import Comparison
from budget.decide.wording import round_money
from budget.report import words


def flip_points(comparison: Comparison) -> list[str]:
    """Between which values of an own hour the plan is best, then where each choice changes.

    Choices stand in order of how near to the user's value of an hour they change; those that
    never do are not named. Where nothing changes, that is said.
    """
    value = comparison.options.hour_value.value
    currency = comparison.job.settings.currency
    plan = _plan_holds(comparison)
    points: dict[tuple[str, str], set[float]] = {}
    for flip in comparison.flips:
        points.setdefault((flip.choice, flip.value), set()).update(flip.hour_values)
    far = {key: min(abs(v - value) for v in found) for key, found in points.items() if found}
    if points and not far and not plan:
        return [f"nothing{comparison.so_far}: this plan holds whatever an hour is worth"]
    choices = [
        f"{words.choice(*key)[0]} {_ends(points[key], value, currency)}"
        for key in sorted(far, key=lambda key: (far[key], key))
    ]
    return [*plan, *choices]


def _plan_holds(comparison: Comparison) -> list[str]:
    """The values of an hour at which another plan is best, read off the exact frontier."""
    best, points = comparison.best, comparison.frontier
    if best is None or best.priced is None:
        return []
    here = [i for i, point in enumerate(points) if point.priced.plan == best.priced.plan]
    if not here:
        return []
    changes = [points[i].from_value for i in range(1, len(points)) if i == here[0]]
    changes += [points[i].to_value for i in range(len(points) - 1) if i == here[-1]]
    if not changes:
        return []
    value, currency = comparison.options.hour_value.value, comparison.job.settings.currency
    return [f"another plan is best{comparison.so_far} {_ends(changes, value, currency)}"]


def _ends(found: Iterable[float], value: float, currency: str) -> str:
    """The nearest values on both sides of the user's, such as ``under $14 or over $30/h``."""
    below = [v for v in found if v <= value]
    above = [v for v in found if v > value]
    ends = [f"under {_money(max(below), value, currency)}"] if below else []
    ends += [f"over {_money(min(above), value, currency)}"] if above else []
    return f"{' or '.join(ends)}/h"


def _money(cents: float, value: float, currency: str) -> str:
    """Whole units, but to the cent where it would look like the user's own value."""
    near = abs(cents - value) < 100
    return words.money(cents, currency) if near else round_money(cents, currency)
