"""Machines in the programme: a column for every pattern of use, way to have it and spells.

For each machine every combination of steps that may use it is laid out with its exact hire.
What a column cannot know beforehand (the days of the steps a kept machine waits through, the
weight it carries) is bounded by the half days that the column pays for.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import lru_cache
from itertools import pairwise
from itertools import product as every_mix

from budget.decide.model.build import Build
from budget.decide.model.chores import CarryWay
from budget.decide.terms.situation import CARRY
from budget.decide.terms.spells import (
    hours_of_day,
    idle_steps,
    out_at_least,
    spell_days,
    spell_ways,
)
from budget.decide.terms.work import MachineUse, crew_method, days_on, machine_use
from budget.figures import Figure, constant, total
from budget.prices.equipment import hire_cost
from budget.prices.options import Machine
from budget.units import DAYS, HOURS, PACK_TOLERANCE, whole_packs

Terms = list[tuple[int, float]]


@dataclass(slots=True)
class Uses:
    """The steps that may use one machine, the methods that do, and the columns that say so."""

    links: dict[tuple[str, str], list[int]] = field(default_factory=dict)
    asked: dict[tuple[str, str], MachineUse] = field(default_factory=dict)  # none for carrying

    @property
    def steps(self) -> dict[str, list[str]]:
        """The methods by step."""
        found: dict[str, list[str]] = {}
        for step, method in self.links:
            found.setdefault(step, []).append(method)
        return found


@dataclass(frozen=True, slots=True)
class Spell:
    """One spell of a pattern: half days that are sure, the least and most of the rest."""

    sure: float  # half days of its own known hours
    idle: Terms  # half days that it waits through, by the column that chooses them
    carried: Terms  # half days for each kg that it carries
    least: int
    most: int

    @property
    def fixed(self) -> bool:
        """Whether its days are known beforehand."""
        return not self.idle and not self.carried


def add_machines(build: Build, carrying: list[CarryWay]) -> None:
    """Columns and rows for every machine that any own method or crew may need."""
    for equipment, uses in sorted(_uses(build, carrying).items()):
        ways = build.situation.options.machines.get(equipment, ())
        fitting = sorted((m for m in ways if m.usable), key=lambda m: m.key)
        if not ways:
            gap = build.choose({}, missing=1)
            for column in {c for columns in uses.links.values() for c in columns}:
                build.programme.row([(column, 1.0), (gap, -1.0)], high=0.0)
        elif not fitting:
            for column in {c for columns in uses.links.values() for c in columns}:
                build.programme.row([(column, 1.0)], high=0.0)
        else:
            _add_machine(build, equipment, uses, fitting)


def _uses(build: Build, carrying: list[CarryWay]) -> dict[str, Uses]:
    situation = build.situation
    found: dict[str, Uses] = {}
    for step, amount in situation.amounts.items():
        crew = crew_method(situation, step)
        for method in situation.methods(step):
            if not method.machine:
                continue
            links = [build.own[step, method.key]]
            if method is crew:
                bids = [b for b in situation.bids if step in b.steps and not b.equipment]
                links += [build.bids[b.key] for b in bids]
            uses = found.setdefault(method.machine, Uses())
            uses.links[step, method.key] = links
            uses.asked[step, method.key] = machine_use(method, amount, situation.options)
    for column, method, _ in carrying:
        if method.machine:
            uses = found.setdefault(method.machine, Uses())
            uses.links.setdefault((CARRY, method.key), []).append(column)
    return found


def _add_machine(build: Build, equipment: str, uses: Uses, ways: list[Machine]) -> None:
    by_use: dict[tuple[str, str, str], list[int]] = {}
    every: list[int] = []
    rooms: dict[tuple[str, str], Terms] = {}
    for pattern in _patterns(uses):
        sure: list[tuple[float, int]] = []  # what the pattern costs for certain, and how
        drawn = len(every)
        for machine in ways:
            for column, room, fixed in _pattern_columns(build, machine, uses, pattern):
                every.append(column)
                if fixed:
                    sure.append((_cash(build, column), column))
                if CARRY in pattern:
                    rooms.setdefault((pattern[CARRY], machine.key), []).append((column, -room))
                for step, method in pattern.items():
                    key = machine.key if step == CARRY else ""
                    by_use.setdefault((step, method, key), []).append(column)
        if sure:  # what is carried is never known beforehand
            cash, best = min(sure)
            dearer = (c for c in every[drawn:] if c != best and _cash(build, c) >= cash)
            build.spare.update(dearer)
    build.programme.row([(c, 1.0) for c in every], high=1.0)
    _carry_rooms(build, ways, rooms)
    for (step, method), links in uses.links.items():
        keys = [m.key for m in ways] if step == CARRY else [""]
        for key, link in zip(keys, _by_way(links, keys), strict=True):
            columns = by_use.get((step, method, key), [])
            terms = [*((c, 1.0) for c in columns), *((x, -1.0) for x in link)]
            build.programme.row(terms, low=0.0, high=0.0)


def _cash(build: Build, column: int) -> float:
    return build.programme.objectives[column].get("cash", 0.0)


def _carry_rooms(build: Build, ways: list[Machine], rooms: dict[tuple[str, str], Terms]) -> None:
    """What one way carries fits in the half days that its columns pay for."""
    for (method, key), terms in sorted(rooms.items()):
        machine = next(m for m in ways if m.key == key)
        build.programme.row([*_carried_terms(build, machine, method), *terms], high=0.0)


def _carried_terms(build: Build, machine: Machine, method: str) -> Terms:
    day = hours_of_day(machine, build.situation.options).value
    flows = build.carried.get(f"{method}|{machine.key}", [])
    return [(flow, 2 * rate / day) for flow, rate in flows]


def _by_way(links: list[int], keys: list[str]) -> list[list[int]]:
    """The linked columns of each way to have the machine (carrying has one column for each)."""
    return [links] if keys == [""] else [[link] for link in links]


def _patterns(uses: Uses) -> Iterator[dict[str, str]]:
    steps = uses.steps
    for mix in every_mix(*([None, *sorted(methods)] for methods in steps.values())):
        pattern = {s: m for s, m in zip(steps, mix, strict=True) if m is not None}
        if pattern:
            yield pattern


def _pattern_columns(
    build: Build, machine: Machine, uses: Uses, pattern: dict[str, str]
) -> Iterator[tuple[int, float, bool]]:
    """The columns of one pattern: handed back over every gap, or kept where that is cheaper.

    Beside each is the room that it leaves for carrying, in half days, and whether it is there
    whatever else is chosen.
    """
    known = [uses.asked[s, m].hours for s, m in pattern.items() if s != CARRY]
    hours = total("machine hours", known, HOURS)
    days = out_at_least(machine, build.situation.options, pattern)
    least = hire_cost(machine, days, hours).value if days else 0.0
    cheapest = math.inf
    for ways in spell_ways(build.situation, list(pattern)):
        spells = [_spell(build, machine, uses, pattern, run) for run in ways]
        for counts in every_mix(*(_levels(machine, spell) for spell in spells)):
            cash = max(least, _hire(machine, counts, hours))
            if cash >= cheapest:
                continue
            fixed = all(spell.fixed for spell in spells)
            if fixed:
                cheapest = cash
            column = build.choose({f"machine:{machine.equipment}": machine.key}, cash=cash)
            yield column, _bound(build, column, spells, counts), fixed


def _spell(
    build: Build, machine: Machine, uses: Uses, pattern: dict[str, str], run: tuple[str, ...]
) -> Spell:
    sure = 2 * _known_days(build, machine, [uses.asked[s, pattern[s]] for s in run if s != CARRY])
    idle: Terms = []
    carried: Terms = []
    least = most = sure
    for step in idle_steps(build.situation, run):
        terms = _idle_terms(build, step)
        idle += terms
        least += min((days for _, days in terms), default=0.0)
        most += max((days for _, days in terms), default=0.0)
    if CARRY in run:
        carried = _carried_terms(build, machine, pattern[CARRY])
        most += sum(rate * build.programme.highs[flow] for flow, rate in carried)
    return Spell(sure, idle, carried, whole_packs(least), whole_packs(most))


def _known_days(build: Build, machine: Machine, asked: list[MachineUse]) -> float:
    """Days of the uses known beforehand, as :func:`budget.decide.terms.spells.spell_days`."""
    if not asked:
        return 0.0
    uses = {str(number): use for number, use in enumerate(asked)}
    return spell_days(machine, build.situation.options, uses, []).value


def _idle_terms(build: Build, step: str) -> Terms:
    """Half days that one step takes, by the column that chooses how it is done."""
    situation = build.situation
    terms = [
        (build.own[step, m.key], 2 * days_on(situation, step, m).value)
        for m in situation.methods(step)
    ]
    crew = 2 * days_on(situation, step, None).value
    return [*terms, *((column, crew) for column in build.bids_on(step))]


def _hire(machine: Machine, counts: tuple[int, ...], hours: Figure) -> float:
    """What so many half days of each spell cost [cents]."""
    return _hired(machine, counts, hours.value)


@lru_cache(maxsize=65536)  # every programme of a job asks for the same ones
def _hired(machine: Machine, counts: tuple[int, ...], hours: float) -> float:
    days = [constant(count / 2, DAYS, "days") for count in counts]
    return hire_cost(machine, days, constant(hours, HOURS, "machine hours")).value


def _levels(machine: Machine, spell: Spell) -> list[int]:
    """The numbers of half days worth paying for: the last before each rise of the hire."""
    counts = range(spell.least, spell.most + 1)
    nothing = constant(0.0, HOURS, "no hours")
    costs = [_hire(machine, (n,), nothing) for n in counts]
    last = [*(a != b for a, b in pairwise(costs)), True]
    return [count for count, keep in zip(counts, last, strict=True) if keep]


def _bound(build: Build, column: int, spells: list[Spell], counts: tuple[int, ...]) -> float:
    """Hold each spell to the half days paid for; the room that is left for carrying."""
    room_to_carry = 0.0
    for spell, count in zip(spells, counts, strict=True):
        room = count - spell.sure + PACK_TOLERANCE
        if spell.carried:
            room_to_carry += room
        if spell.idle and spell.most > count:
            slack = spell.most - spell.sure + 1.0
            terms = [*spell.idle, *spell.carried, (column, slack)]
            build.programme.row(terms, high=slack + room)
    return room_to_carry
