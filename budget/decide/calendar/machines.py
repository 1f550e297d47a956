"""Rental spells on the calendar: placed so that the fewest hire days are paid for nothing.

The plan prices spells by the hours of the steps; the calendar checks them against the days on
which the work really falls.
"""

from __future__ import annotations

import datetime as dt
import itertools
from collections.abc import Mapping, Sequence

from budget.decide.calendar.days import DAY, Days
from budget.decide.calendar.network import Booked, day_of
from budget.decide.calendar.result import Had, Use
from budget.decide.plan import Hire, Priced
from budget.figures import constant
from budget.prices.equipment import hire_cost
from budget.prices.options import Machine, Options
from budget.prices.terms import cheapest_terms
from budget.units import DAYS, HOURS, round_half_up

#: Machine hours that half a day of hire covers: the shortest usual term.
HALF_DAY = 4.0


def use_of(equipment: str, booked: Mapping[str, Booked], days: Mapping[str, Days]) -> Use:
    """On which days the tasks that need a machine are worked on."""
    tasks = [b for b in booked.values() if b.task.machine == equipment]
    found: dict[int, float] = {}
    for b in tasks:
        own = days[b.task.days]
        first, last = day_of(b.start), day_of(b.finish, end=True)
        begun, done = own.done(b.start), own.done(b.finish)
        for day in (d for d in range(first, max(first, last) + 1) if own.open[d]):
            worked = min(done, own.before[day + 1]) - max(begun, own.before[day])
            found[day] = found.get(day, 0.0) + max(0.0, worked)
    short = frozenset(day for day, worked in found.items() if worked <= HALF_DAY)
    hours = sum(b.task.machine_hours for b in tasks)
    return Use(tuple(sorted(found)), hours, short, frozenset(b.task.step for b in tasks))


def ways_of(priced: Priced, options: Options) -> dict[str, Machine]:
    """The way in which a plan has each machine, by equipment."""
    chosen = {hire.equipment: hire.machine for hire in priced.hires}
    return {
        m.equipment: m
        for equipment, key in chosen.items()
        for m in options.machines.get(equipment, ())
        if m.key == key
    }


def had(
    priced: Priced, options: Options, booked: Mapping[str, Booked], days: Mapping[str, Days],
    start: dt.date | None = None,
) -> tuple[Had, ...]:  # fmt: skip
    """Every machine of a plan as the calendar has it; ``start`` is the date of its first day."""
    found = []
    ways = ways_of(priced, options)
    for hire in priced.hires:
        machine = ways.get(hire.equipment)
        use = use_of(hire.equipment, booked, days)
        if machine is not None and use.days:
            found.append(_had(hire, machine, use, start))
    return tuple(found)


def _gone(machine: Machine, use: Use, start: dt.date | None) -> int | None:
    """The last day on which a machine can be had, if the work needs it longer."""
    if start is None or machine.there_to is None:
        return None
    last = (machine.there_to - start).days
    return last if last < use.days[-1] else None


def _had(hire: Hire, machine: Machine, use: Use, start: dt.date | None) -> Had:
    spells = best_spells(machine, use) if machine.terms else ((use.days[0], use.days[-1]),)
    whole = Use(use.days, use.hours)  # half days are for what is rented
    out = [days_out(spell, use if machine.terms else whole) for spell in spells]
    figures = [constant(d, DAYS, "days out") for d in out]
    cash = hire_cost(machine, figures, constant(use.hours, HOURS, "machine hours"))
    return Had(
        hire.equipment, hire.machine, machine.way, spells, len(use.days), sum(out),
        round_half_up(cash.value), hire.cash, hire.spells, _gone(machine, use, start), use=use,
    )  # fmt: skip


def days_out(spell: tuple[int, int], use: Use) -> float:
    """Days that a spell is paid for: half a day where it begins or ends with a short day.

    >>> use = Use((0, 1, 7), 9.5, short=frozenset((1, 7)))
    >>> days_out((0, 1), use), days_out((7, 7), use), days_out((0, 7), use)
    (1.5, 0.5, 7.5)
    """
    first, last = spell
    return last - first + 1 - sum(0.5 for day in {first, last} if day in use.short)


def best_spells(machine: Machine, use: Use) -> tuple[tuple[int, int], ...]:
    """The days of use parted into spells: cheapest, then fewest days, then fewest spells.

    Exact: the cheapest way to cover the first days is built up from shorter ones.
    """
    prices: dict[float, float] = {}
    best: list[tuple[float, float, int, tuple[tuple[int, int], ...]]] = [(0.0, 0.0, 0, ())]
    for end in range(len(use.days)):
        ways = []
        for start in range(end + 1):
            spell = (use.days[start], use.days[end])
            out = days_out(spell, use)
            if out not in prices:
                prices[out] = _rent(machine, out)
            cash, days, count, before = best[start]
            ways.append((cash + prices[out], days + out, count + 1, (*before, spell)))
        best.append(min(ways))
    return best[-1][3]


def _rent(machine: Machine, days: float) -> float:
    """Rent of one spell with its waiver, cleaning and transport, cents before tax."""
    waiver = machine.waiver.value if machine.waiver else 0.0
    rent = cheapest_terms(machine.terms, days).price.value
    return rent * (1 + waiver) + machine.per_spell.value


def longer_costs(machine: Machine, days: float, most: int) -> list[float]:
    """What 0, 1, ... days more cost on top of some days out, tax included [cents].

    The machine is kept at its cheapest terms, or handed back and had for a day once more.
    """
    tax, before = 1 + machine.tax.value, _rent(machine, days)
    again = _rent(machine, 1.0)
    kept = (max(0.0, _rent(machine, days + more) - before) for more in range(most + 1))
    return [min(again, cost) * tax for cost in kept]


def next_mornings(
    booked: Mapping[str, Booked], days: Mapping[str, Days], equipment: Sequence[str]
) -> list[tuple[str, float]]:
    """Tasks with a rented machine, and the morning of the working day after their start."""
    found = []
    for b in booked.values():
        if b.task.machine not in equipment:
            continue
        opened = days[b.task.days].open
        later = range(day_of(b.start) + 1, len(opened))
        following = next((d for d in later if opened[d]), None)
        if following is not None:
            found.append((b.task.name, following * DAY))
    return found


def fresh_starts(
    booked: Mapping[str, Booked], days: Mapping[str, Days], equipment: str
) -> list[tuple[str, float]]:
    """Tasks with one machine, and the next mornings that follow on a day without work.

    Work that begins there has a whole stretch of working days before it.
    """
    found = []
    for b in (b for b in booked.values() if b.task.machine == equipment):
        opened = days[b.task.days].open
        later = range(day_of(b.start) + 1, len(opened))
        mornings = (d for d in later if opened[d] and not opened[d - 1])
        found += [(b.task.name, d * DAY) for d in itertools.islice(mornings, 1)]
    return found
