"""What a calendar asks a plan to be made again for: machines away, and hire that is too short."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from budget.decide.calendar.machines import best_spells, days_out
from budget.decide.calendar.result import Calendar, Had, Use
from budget.decide.calendar.told import counted, left_out
from budget.decide.terms.situation import CARRY
from budget.prices.options import DaysOut, Options

#: Times that a plan is made again for hire that its calendar finds too short. What is left then
#: is told beside the answer.
_ROUNDS = 3


def asked_again(options: Options, calendar: Calendar) -> tuple[Options, tuple[str, ...]] | None:
    """The options to plan with once more, and why in words; None if the calendar agrees.

    A machine that is not there when the work needs it is left out. What the days out cost beyond
    the hire that the plan has, where no wait spares it, is no risk but a cost: plans with that
    machine for those steps are then priced with the days that it is out.
    """
    if calendar.away:
        return _without_away(options, calendar)
    if len(options.days_out) >= _ROUNDS * len(options.machines):
        return None
    found = with_days_out(options, calendar)
    return None if found is None else (found[0], tuple(counted(calendar, m) for m in found[1]))


def with_days_out(options: Options, calendar: Calendar) -> tuple[Options, tuple[Had, ...]] | None:
    """The options with the days that machines are out beyond the hire that a plan has, and which.

    None where there is nothing new. Carrying is left to what is told: its hours hang on what
    is bought.
    """
    known = {(o.equipment, o.steps) for o in options.days_out}
    short = tuple(
        m
        for m in calendar.machines
        if m.cash > m.planned
        and CARRY not in m.use.steps
        and (m.equipment, m.use.steps) not in known
    )
    if not short:
        return None
    found = [out for m in short for out in _at_each_shop(options, m.equipment, m.use)]
    return replace(options, days_out=(*options.days_out, *found)), short


def _without_away(options: Options, calendar: Calendar) -> tuple[Options, tuple[str, ...]]:
    gone = {(m.equipment, m.machine) for m in calendar.away}
    machines = {
        equipment: tuple(replace(m, away=m.away or (equipment, m.key) in gone) for m in ways)
        for equipment, ways in options.machines.items()
    }
    return replace(options, machines=machines), tuple(left_out(calendar))


def _at_each_shop(options: Options, equipment: str, use: Use) -> Iterator[DaysOut]:
    """The days out at every shop: each has other terms, so that other spells are cheapest."""
    for machine in options.machines[equipment]:
        if machine.terms:
            spells = best_spells(machine, use)
            out = tuple(days_out(spell, use) for spell in spells)
            yield DaysOut(equipment, machine.key, use.steps, out)
