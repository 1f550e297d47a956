"""How much of the work should be done by a day, by the accepted plan.

By the days of the calendar that the plan was accepted with: each day on which a step is worked
at has an equal share of it. Where another finish was said than the calendar's, its days are
stretched to it. An accepted plan without such days follows the usual order of steps between the
start and the planned finish, each for as long as its own hours take in the plan; a step that a
firm does is given one working day (common practice for jobs of this size: nobody has said how
long it takes).
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from budget.spend.baseline import PlannedDays
from budget.spend.finding import folded
from budget.spend.yardstick import PlanLine, Yardstick

#: From which share of the whole time to which a piece of a step is done.
Span = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Schedule:
    """The shares of the whole time in which the equal pieces of each step (folded) are done."""

    spans: Mapping[str, Sequence[Span]]
    gone: float  # share of the whole time that has gone by

    def share(self, steps: Sequence[str]) -> float:
        """The share of some steps that should be done by now; of no steps, that of the time.

        >>> plan = Schedule({"dig": [(0.0, 0.25)], "lay": [(0.25, 0.3), (0.9, 1.0)]}, 0.4)
        >>> plan.share(["Dig"]), plan.share(["Lay"]), plan.share(["Dig", "Lay"]), plan.share([])
        (1.0, 0.5, 0.75, 0.4)
        """
        known = [self._done(self.spans[folded(s)]) for s in steps if folded(s) in self.spans]
        return sum(known) / len(known) if known else self.gone

    def _done(self, spans: Sequence[Span]) -> float:
        return sum(map(self._gone_of, spans)) / len(spans)

    def _gone_of(self, span: Span) -> float:
        begin, end = span
        if end <= begin:
            return 1.0 if self.gone >= end else 0.0
        return max(0.0, min(1.0, (self.gone - begin) / (end - begin)))


def schedule(stick: Yardstick, order: Sequence[str], day: dt.date) -> Schedule | None:
    """The schedule of the latest accepted plan on a day; None without a start and a finish.

    ``order`` is the usual order of steps.
    """
    latest = stick.latest
    if latest is None or latest.start is None or latest.finish is None:
        return None
    days = (latest.finish - latest.start).days + 1
    if days <= 0:
        return None
    gone = max(0.0, min(1.0, ((day - latest.start).days + 1) / days))
    spans = _by_days(latest.days, latest.start) if latest.days else _in_order(stick, order)
    return Schedule(spans, gone)


def _by_days(steps: Sequence[PlannedDays], start: dt.date) -> dict[str, tuple[Span, ...]]:
    whole = (max(day for step in steps for day in step.days) - start).days + 1
    return {
        folded(step.step): tuple(
            ((day - start).days / whole, ((day - start).days + 1) / whole) for day in step.days
        )
        for step in steps
    }


def _in_order(stick: Yardstick, order: Sequence[str]) -> dict[str, tuple[Span, ...]]:
    hours = _hours(stick)
    place = {folded(step): n for n, step in enumerate(order)}
    steps = sorted(hours, key=lambda step: (place.get(step, len(place)), step))
    whole = sum(hours.values())
    found: dict[str, tuple[Span, ...]] = {}
    before = 0.0
    for step in steps:
        share = hours[step] / whole if whole else 1.0 / len(steps)
        found[step] = ((before, before + share),)
        before += share
    return found


def _hours(stick: Yardstick) -> dict[str, float]:
    """Hours that each step takes: own hours where it is own work, else one working day."""
    steps = dict.fromkeys(folded(s) for line in stick.lines.values() for s in line.steps)
    own = {key: _own(stick.lines.get(key)) for key in steps}
    return {key: hours or stick.hours_per_day for key, hours in own.items()}


def _own(line: PlanLine | None) -> float:
    return 0.0 if line is None else line.first.hours + line.agreed_hours
