"""How far the work is: what the Progress sheet says on a day, step by step.

A row without a part speaks for the whole job; a later row with a part overrules it there. A
quantity is set against the need measured again, else against the amount of the plan.
"""

from __future__ import annotations

import datetime as dt
from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field

from budget.job import Progress
from budget.spend.finding import folded

#: For each step (folded), the amount in each part, in the unit people read.
Amounts = Mapping[str, Mapping[str, float]]


@dataclass(frozen=True, slots=True)
class Done:
    """What is known about progress on one day, by folded names of steps and items."""

    shares: Mapping[str, float] = field(default_factory=dict)  # of steps, 0 to 1
    needs: Mapping[str, float] = field(default_factory=dict)  # measured again, steps and items

    def share(self, name: str) -> float | None:
        """The share of a step that is done, None if nobody has said."""
        return self.shares.get(folded(name))

    def need(self, name: str) -> float | None:
        """What is needed in all after measuring again, None if it was not."""
        return self.needs.get(folded(name))


def amounts_of(steps: Iterable[tuple[str, str, float]]) -> dict[str, dict[str, float]]:
    """Amounts by folded step and part, those of one part added up."""
    found: defaultdict[str, dict[str, float]] = defaultdict(dict)
    for step, part, amount in steps:
        parts = found[folded(step)]
        parts[folded(part)] = parts.get(folded(part), 0.0) + amount
    return dict(found)


def done_on(rows: Sequence[Progress], amounts: Amounts, day: dt.date) -> Done:
    """What the rows up to a day say."""
    by_line: defaultdict[str, list[Progress]] = defaultdict(list)
    for row in sorted(rows, key=lambda r: (r.date, r.line, r.part, r.place.row)):
        if row.date <= day:
            by_line[folded(row.line)].append(row)
    shares: dict[str, float] = {}
    needs: dict[str, float] = {}
    for line, said in by_line.items():
        parts = amounts.get(line, {})
        need = _needed(said, parts)
        if need is not None:
            needs[line] = need
        share = _share(said, parts)
        if share is not None:
            shares[line] = share
    return Done(shares, needs)


def _needed(said: Sequence[Progress], amounts: Mapping[str, float]) -> float | None:
    """The need measured again: of the whole, or of parts with the plan's amount elsewhere."""
    whole: float | None = None
    parts: dict[str, float] = {}
    for row in said:
        if row.need is None:
            continue
        if row.part:
            parts[folded(row.part)] = row.need
        else:
            whole, parts = row.need, {}
    if not parts:
        return whole
    if whole is not None:
        return whole + sum(need - amounts.get(part, need) for part, need in parts.items())
    return sum({**amounts, **parts}.values())


def _share(said: Sequence[Progress], amounts: Mapping[str, float]) -> float | None:
    whole: float | None = None
    parts: dict[str, float] = {}
    needs = dict(amounts)
    total: float | None = None
    for row in said:
        part = folded(row.part)
        if row.need is not None:
            if row.part:
                needs[part] = row.need
            else:
                total = row.need
        share = _said(row, needs.get(part) if row.part else (total or sum(needs.values())))
        if share is None:
            continue
        if row.part:
            parts[part] = share
        else:
            whole, parts = share, {}
    if whole is None and not parts:
        return None
    if not parts or not sum(needs.values()):
        return whole if whole is not None else max(parts.values())
    weighed = sum(parts.get(part, whole or 0.0) * amount for part, amount in needs.items())
    return min(1.0, weighed / sum(needs.values()))


def _said(row: Progress, of: float | None) -> float | None:
    if row.percent is not None:
        return min(1.0, row.percent)
    if row.quantity is not None and of:
        return min(1.0, row.quantity / of)
    return None
