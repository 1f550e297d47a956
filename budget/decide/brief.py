"""Plans without flips and frontier: what an evening's look at the money needs."""

from __future__ import annotations

from collections.abc import Mapping

from budget.decide.calendar.again import asked_again
from budget.decide.calendar.schedule import schedule
from budget.decide.outcome import Comparison
from budget.decide.parts import leave_out, worths
from budget.decide.pins import Pinned
from budget.decide.plan import Plan, Scenario
from budget.decide.planner import Planner
from budget.decide.scenarios import BEST, scenarios
from budget.decide.shares import read_shared
from budget.job import Job
from budget.prices import flatten
from budget.prices.options import Options
from budget.quantities import take_off
from budget.quantities.takeoff import Takeoff


def plan_briefly(job: Job, *, every: bool = True) -> Comparison:
    """The best plan and, if ``every``, the other scenarios; no flips, frontier or margins.

    Plans are those that :func:`budget.decide.compare` finds.
    """
    takeoff = take_off(job)
    planner, best = _agreed(job, takeoff, flatten(job, takeoff))
    options = planner.options
    found = scenarios(planner, options.hour_value.value, job.pins) if every else ()
    missing = best.priced.missing if best is not None and best.priced is not None else ()
    return Comparison(
        job=job, takeoff=takeoff, options=options, scenarios=found or ((best,) if best else ()),
        best=best, hired=None, complete=best is not None and not missing, flips=(), frontier=(),
        warnings=(), assumed=(), missing=missing, next_step="",
    )  # fmt: skip


def _agreed(job: Job, takeoff: Takeoff, options: Options) -> tuple[Planner, Scenario | None]:
    """The best plan once its calendar agrees with the hire that it pays for."""
    planner = Planner(takeoff, options)
    value = options.hour_value.value
    leave_out(planner, worths(job), value)
    best = best_of(planner, value)
    if best is None or best.priced is None:
        return planner, best
    asked = asked_again(options, schedule(job, takeoff, options, best.priced, draws=0))
    if asked is not None:
        again = _agreed(job, takeoff, asked[0])
        if again[1] is not None:
            return again
    return planner, best


def laid_out(job: Job) -> Comparison:
    """The quantities and options of a job without any plan: enough to price a fixed plan."""
    takeoff = take_off(job)
    return Comparison(
        job=job, takeoff=takeoff, options=flatten(job, takeoff), scenarios=(), best=None,
        hired=None, complete=False, flips=(), frontier=(), warnings=(), assumed=(), missing=(),
        next_step="",
    )  # fmt: skip


def best_of(
    planner: Planner, hour_value: float, pinned: Pinned | None = None
) -> Scenario | None:  # fmt: skip
    """The best plan over the sound beddings, as a scenario; None if nothing fits the pins."""
    solved = planner.best(hour_value, pinned)
    if solved is None:
        return None
    pins = {c: " or ".join(sorted(v)) for c, v in sorted((pinned or Pinned()).allowed.items())}
    return Scenario(
        name=BEST, bedding=solved.priced.plan.bedding, pins=pins, feasible=True, why_not="",
        priced=solved.priced, proved=solved.proved, gap=solved.gap,
    )  # fmt: skip


def plan_of(choices: Mapping[str, str]) -> Plan:
    """The plan whose :meth:`~budget.decide.plan.Plan.choices` these are.

    >>> choices = {"bedding": "sand", "part:Path": "keep", "step:Dig": "own: by hand"}
    >>> plan_of(choices).choices() == choices
    True
    """
    kinds: dict[str, dict[str, str]] = {}
    for choice, value in choices.items():
        kind, _, subject = choice.partition(":")
        kinds.setdefault(kind, {})[subject] = value
    items = {item: read_shared(value) for item, value in kinds.get("item", {}).items()}
    return Plan(
        bedding=choices["bedding"],
        parts=frozenset(kinds.get("part", {})),
        offers={item: rest for item, (rest, _) in items.items()},
        routes=kinds.get("goods", {}),
        steps=kinds.get("step", {}),
        machines=kinds.get("machine", {}),
        disposal=choices.get("disposal", ""),
        shares={item: shares for item, (_, shares) in items.items() if shares},
    )
