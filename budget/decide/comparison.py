"""The whole answer: scenarios, the best plan, flips, the frontier, and what is still missing."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import replace

from budget.decide.advice import next_step
from budget.decide.calendar.again import asked_again
from budget.decide.calendar.result import Calendar
from budget.decide.calendar.schedule import schedule
from budget.decide.calendar.told import short_of_hire, still_away
from budget.decide.flips import flips
from budget.decide.frontier import frontier
from budget.decide.model.model import Solved
from budget.decide.outcome import Comparison
from budget.decide.parts import fit, leave_out, part_flips, with_parts, worths
from budget.decide.plan import Flip, FrontierPoint, Scenario
from budget.decide.planner import Planner, rank, so_far, still_open
from budget.decide.pricing.returns import going_back
from budget.decide.risk.result import Risk
from budget.decide.risk.simulate import risk_of
from budget.decide.scenarios import ALL_HIRED, BEST, scenarios
from budget.decide.wording import round_money
from budget.job import Assumption, Job, Notice
from budget.prices import flatten
from budget.prices.options import Options
from budget.quantities import take_off
from budget.quantities.takeoff import Takeoff

#: The note on a plan that lacks prices.
SOME_UNPRICED = "Some costs are not yet priced: this is the best plan so far."


def compare(job: Job, limit: float | None = None) -> Comparison:
    """Answer a job: take off the quantities, lay out the options, and plan every scenario.

    Each search for a plan stops after ``limit`` seconds with the best found until then; after
    those of :func:`budget.decide.programme.search.at_most` if None.

    The best plan is the best mix over the beddings that are not discouraged (or are allowed),
    with fewest missing prices, then least cash plus own hours at the user's hour value. It is
    called best only as far as the solver has proved it; :attr:`Scenario.proved` says so.
    """
    takeoff = take_off(job)
    return compare_options(job, takeoff, flatten(job, takeoff), limit)


def compare_options(
    job: Job, takeoff: Takeoff, options: Options, limit: float | None = None,
    said: tuple[str, ...] = (),
) -> Comparison:  # fmt: skip
    """The same for quantities and options that are laid out already.

    A machine that the calendar of the best plan needs on days on which it cannot be had is left
    out, one that is out longer than its hire pays for is priced for those days, and all is
    planned again; ``said`` are the notes about those so far.
    """
    hour_value, currency = options.hour_value.value, job.settings.currency
    planner = Planner(takeoff, options, limit)
    worth = worths(job)
    leave_out(planner, worth, hour_value)
    found = scenarios(planner, hour_value, job.pins)
    found = _weighed(found, BEST, hour_value)
    best = _least(found, BEST, hour_value)
    calendar = None
    if best is not None and best.priced is not None:
        calendar = schedule(job, takeoff, options, best.priced, best.title)
    again = asked_again(options, calendar) if calendar is not None else None
    if again is not None:
        answer = compare_options(job, takeoff, again[0], limit, (*said, *again[1]))
        if answer.best is not None:
            return answer
    hired = _least(found, ALL_HIRED, hour_value)
    solved = None
    if best is not None and best.priced is not None:
        solved = Solved(best.priced, best.proved, best.gap)
    points = frontier(planner, hour_value) if solved else ()
    fitted = fit(planner, job, worth, solved, hour_value) if solved else None
    turned: tuple[Flip, ...] = ()
    if solved is not None:
        turned = with_parts(
            flips(planner, solved, hour_value, points, currency),
            part_flips(planner, solved, worth, hour_value, currency),
            hour_value,
        )
    missing = best.priced.missing if best is not None and best.priced is not None else ()
    beyond = calendar.beyond if calendar else ()
    risk = risk_of(job, takeoff, options, found, best, beyond=beyond)
    return Comparison(
        job=job,
        takeoff=takeoff,
        options=options,
        scenarios=found,
        best=best,
        hired=hired,
        complete=best is not None and not missing,
        flips=turned,
        frontier=points,
        warnings=tuple(sorted({*takeoff.warnings, *options.warnings, *_unweighed(options)})),
        assumed=_assumed(takeoff, options, risk, calendar),
        missing=missing,
        next_step=next_step(job, planner, solved, found, hour_value),
        notes=(
            *_notes(found, best, hired),
            *unproved(found, points, hour_value, currency),
            *(going_back(job, options, solved.priced) if solved else []),
            *([fitted.sentence] if fitted else []),
            *said,
            *short_of_hire(calendar, currency),
            *still_away(calendar),
        ),
        fit=fitted,
        risk=risk,
        calendar=calendar,
    )


def _rivals(found: Iterable[Scenario], name: str) -> list[Scenario]:
    """One scenario under every bedding that it may be had with, discouraged ones left out."""
    return [s for s in found if s.name == name and s.priced is not None and not s.discouraged]


def _least(found: Iterable[Scenario], name: str, hour_value: float) -> Scenario | None:
    """The best of one scenario over its beddings."""
    return min(_rivals(found, name), key=lambda s: rank(_solved(s), hour_value), default=None)


def _solved(scenario: Scenario) -> Solved:
    if scenario.priced is None:
        msg = f"{scenario.title} has no plan"
        raise ValueError(msg)
    return Solved(scenario.priced, scenario.proved, scenario.gap)


def _weighed(found: tuple[Scenario, ...], name: str, hour_value: float) -> tuple[Scenario, ...]:
    """The scenarios, the best of one name not proved where a search under another bedding was
    stopped that may still go below it."""
    best = _least(found, name, hour_value)
    if best is None:
        return found
    rivals = [_solved(s) for s in _rivals(found, name)]
    chosen = _solved(best)
    told = so_far(chosen, hour_value, still_open(chosen, rivals, hour_value))
    if told.proved == best.proved:
        return found
    changed = replace(best, proved=told.proved, gap=told.gap)
    return tuple(changed if s is best else s for s in found)


def _assumed(
    takeoff: Takeoff, options: Options, risk: Risk | None, calendar: Calendar | None
) -> tuple[Assumption, ...]:
    every = {*takeoff.assumed, *options.assumed, *(risk.assumed if risk else ())}
    every |= {*(calendar.assumed if calendar else ())}
    return tuple(sorted(every, key=lambda a: (a.sheet, a.what, a.value, a.source)))


def _unweighed(options: Options) -> list[Notice]:
    """A warning for each quote whose goods have no known weight."""
    return [
        Notice(
            sheet="Quotes", row=_row(o.cell), cell=o.cell, code="weight-not-known",
            found=f"{o.item} from {o.supplier} without a weight",
            expected="the weight of a pack",
            mend="Until it is known, it counts as nothing in trips, loads and carrying.",
            severity="warning",
        )
        for o in options.offers
        if o.weight is None
    ]  # fmt: skip


def _row(cell: str) -> int:
    return int("".join(c for c in cell.rpartition("!")[2] if c.isdigit()))


def _notes(found: tuple[Scenario, ...], best: Scenario | None, hired: Scenario | None) -> list[str]:
    notes = []
    if best is not None and best.priced is not None and best.priced.missing:
        notes.append(SOME_UNPRICED)
    if best is not None and hired is not None and best.priced and hired.priced:
        if {m.what for m in best.priced.missing} != {m.what for m in hired.priced.missing}:
            notes.append(
                "The best plan and hiring the whole job do not miss the same prices: the "
                "difference between them is not yet like for like."
            )
        if any(line.name == "Carry" for line in hired.priced.lines):
            notes.append("Hiring the whole job still leaves the goods for you to carry in.")
    discouraged = sorted({s.bedding for s in found if s.discouraged})
    notes += [
        f"{bedding.capitalize()} bedding is worked out and shown, but published notes discourage "
        "it as it is joined here, so it is never called best."
        for bedding in discouraged
    ]
    return notes


def unproved(
    found: tuple[Scenario, ...], points: tuple[FrontierPoint, ...], hour_value: float, currency: str
) -> list[str]:
    """A sentence for each scenario whose search was stopped before its proof was complete.

    And one about the plans at other hour values, where a search for any was.
    """
    notes = []
    for scenario in found:
        if scenario.proved or scenario.priced is None:
            continue
        within = "not proved to be the best"
        if math.isfinite(scenario.gap):
            most = scenario.gap * scenario.priced.total(hour_value)
            within = f"within {round_money(most, currency)} of the best possible"
        notes.append(f"{scenario.title}: best so far, {within}.")
    if notes:
        notes.append(
            "The search was stopped, so the other plans and turning points shown may also be "
            "improved on; --limit gives it more time."
        )
    elif not all(point.proved for point in points):
        notes.append(
            "A search for plans at other values of an own hour was stopped, so those and the "
            "turning points shown may be improved on; --limit gives it more time."
        )
    return notes
