"""How often a machine is had: uses joined into spells, kept through the steps between or not."""

from __future__ import annotations

import itertools
from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass

from budget.decide.terms.situation import CARRY, Situation, step_order
from budget.decide.terms.work import MachineUse
from budget.figures import Figure, constant, largest, ratio, total
from budget.prices.equipment import hire_cost
from budget.prices.options import Machine, Options
from budget.units import DAYS, HOURS

#: Spells as runs of step names, each in order of work.
Spells = tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True)
class Hired:
    """One machine for all its uses, at its cheapest number of spells."""

    cash: Figure  # cents, tax included
    spells: Spells
    days: tuple[Figure, ...]


def between(situation: Situation, first: str, last: str) -> tuple[str, ...]:
    """The steps of the job strictly between two others. Carrying goes on beside the work."""
    low, high = step_order(first), step_order(last)
    return tuple(
        step for step in situation.amounts if low < step_order(step) < high and step != CARRY
    )


def spell_ways(situation: Situation, used: Sequence[str]) -> Iterator[Spells]:
    """Every way to part the steps that use a machine into spells.

    Steps with no other step between them are always one spell; over any other gap the machine
    may be kept or handed back. The way with most spells comes first.
    """
    gaps = [bool(between(situation, a, b)) for a, b in itertools.pairwise(used)]
    free = [i for i, gap in enumerate(gaps) if gap]
    for mask in range(2 ** len(free)):
        kept = {gap for bit, gap in enumerate(free) if mask >> bit & 1}
        runs: list[list[str]] = [[used[0]]]
        for i, step in enumerate(used[1:]):
            if gaps[i] and i not in kept:
                runs.append([step])
            else:
                runs[-1].append(step)
        yield tuple(tuple(run) for run in runs)


def idle_steps(situation: Situation, spell: Sequence[str]) -> tuple[str, ...]:
    """The steps during which a machine kept through a spell stands idle."""
    inside = between(situation, spell[0], spell[-1])
    return tuple(step for step in inside if step not in spell)


def hours_of_day(machine: Machine, options: Options) -> Figure:
    """Machine hours that fit in one day of hire: the shop's, or the household's if fewer."""
    own = options.hours_per_day
    return own if own.value < machine.hours_a_day.value else machine.hours_a_day


def spell_days(
    machine: Machine, options: Options, uses: Mapping[str, MachineUse], idle: Sequence[Figure]
) -> Figure:
    """Days of one spell: of use, of carrying, and those on which it stands idle.

    The days of use are its machine hours at so many a day, or the working days that its steps
    go on, if these are more: a machine that runs only now and then must be there all the same.

    :param uses: what each step of the spell asks of it.
    """
    day = hours_of_day(machine, options)
    known = [use for step, use in uses.items() if step != CARRY]
    parts = [] if not known else [_days_of_use(options, known, day)]
    if CARRY in uses:
        parts.append(ratio("days of carrying", DAYS, uses[CARRY].hours, day))
    parts += idle
    return parts[0] if len(parts) == 1 else total("days it is kept", parts)


def _days_of_use(options: Options, uses: Sequence[MachineUse], day: Figure) -> Figure:
    run = ratio("days of use", DAYS, _added("machine hours", [use.hours for use in uses]), day)
    if all(use.clock is None for use in uses):
        return run
    there = _added("hours by the clock of its steps", [use.there for use in uses])
    stays = ratio("working days of its steps", DAYS, there, options.hours_per_day)
    return largest("days it is wanted", run, stays)


def hired(
    situation: Situation,
    machine: Machine,
    uses: Mapping[str, MachineUse],
    days_of: Callable[[str], Figure],
) -> Hired:
    """Price one machine for its uses, keeping it or handing it back as is cheaper.

    :param uses: what each step asks of it, in order of work.
    :param days_of: the working days that another step takes.
    """
    hours = _added("machine hours in all", [use.hours for use in uses.values()])
    best: Hired | None = None
    for spells in spell_ways(situation, list(uses)):
        days = tuple(
            spell_days(
                machine, situation.options, {s: uses[s] for s in spell},
                [days_of(s) for s in idle_steps(situation, spell)],
            )
            for spell in spells
        )  # fmt: skip
        cash = hire_cost(machine, days, hours)
        if best is None or cash.value < best.cash.value:
            best = Hired(cash, spells, days)
    if best is None:
        msg = f"{machine.equipment} is not used"
        raise ValueError(msg)
    return _at_least(best, machine, situation.options, tuple(uses), hours)


def out_at_least(machine: Machine, options: Options, steps: Collection[str]) -> tuple[Figure, ...]:
    """The days of each spell that a machine is out for some steps as the working days fall.

    Empty where no calendar has found that these are more than the hours of the steps ask for.
    """
    return next(
        (
            tuple(constant(days, DAYS, "days out as the working days fall") for days in out.days)
            for out in options.days_out
            if out.equipment == machine.equipment
            and out.machine == machine.key
            and out.steps == frozenset(steps)
        ),
        (),
    )


def _at_least(
    found: Hired, machine: Machine, options: Options, steps: tuple[str, ...], hours: Figure
) -> Hired:
    """The same hire, or what the days out on the calendar cost if that is more."""
    days = out_at_least(machine, options, steps)
    if not days:
        return found
    out = hire_cost(machine, days, hours).called(f"{machine.equipment} as the working days fall")
    cash = largest(machine.equipment, found.cash, out)
    if out.value <= found.cash.value:
        return Hired(cash, found.spells, found.days)
    whole = days[0] if len(days) == 1 else total("days out as the working days fall", days)
    return Hired(cash, (steps,), (whole,))


def _added(name: str, figures: Sequence[Figure]) -> Figure:
    return figures[0] if len(figures) == 1 else total(name, figures, HOURS)
