"""Own work: person-hours, clock hours, and how they fall on the household and on paid helpers."""

from __future__ import annotations

from dataclasses import dataclass

from budget.decide.terms.situation import Situation
from budget.figures import Figure, constant, product, ratio, smallest, total
from budget.prices.options import Method, Options
from budget.units import COUNT, DAYS, HOURS, MONEY, RATIO


@dataclass(frozen=True, slots=True)
class Work:
    """Hours of one piece of own work."""

    own: Figure  # hours of the owner and unpaid helpers
    clock: Figure  # hours by the clock, with everybody who fits at it
    paid: Figure | None  # hours of paid helpers, None if there are none


@dataclass(frozen=True, slots=True)
class Team:
    """Who works at once at one method."""

    unpaid: int
    paid: int

    @property
    def people(self) -> int:
        """Everybody together."""
        return self.unpaid + self.paid


def team(method: Method, options: Options) -> Team:
    """The people at one method: as many as fit, the household first, then paid helpers."""
    room = max(1, method.people)
    unpaid = min(room, max(1, options.people))
    return Team(unpaid, min(room - unpaid, options.paid_helpers))


def shared(name: str, person_hours: Figure, people: Team) -> Work:
    """Split person-hours: each person at the work takes an equal part.

    >>> work = shared("Dig", constant(12, HOURS, "digging"), Team(unpaid=2, paid=1))
    >>> work.own.value, work.clock.value, work.paid.value
    (8.0, 4.0, 4.0)
    """
    if people.people == 1:
        return Work(person_hours, person_hours, None)
    clock = ratio(
        f"{name}: hours by the clock", HOURS, person_hours,
        constant(people.people, COUNT, "people at it"),
    )  # fmt: skip
    if not people.paid:
        return Work(person_hours, clock, None)
    own = product(
        f"{name}: own hours", HOURS, clock, constant(people.unpaid, COUNT, "own people at it")
    )
    paid = product(
        f"{name}: helpers' hours", HOURS, clock,
        constant(people.paid, COUNT, "paid helpers at it"),
    )  # fmt: skip
    return Work(own, clock, paid)


def person_hours(method: Method, amount: Figure) -> Figure:
    """Person-hours of one method for an amount of its step, with what is done twice."""
    if method.second is None:
        return _at_its_pace(method, amount)
    return total(f"{method.step}: hours of both", _of_two(method, amount, method.second))


def _of_two(method: Method, amount: Figure, share: Figure) -> tuple[Figure, Figure]:
    """Hours of the one who works at a method, and of a second for a share of them."""
    one = _at_its_pace(method, amount)
    return one, product(f"{method.step}: a second at heavy pavers", HOURS, one, share)


def _at_its_pace(method: Method, amount: Figure) -> Figure:
    name = f"{method.step}: person-hours"
    if method.reworked is None or method.reworked.value == 0:
        return product(name, HOURS, method.rate, amount)
    return product(name, HOURS, method.rate, amount, rework(method))


def rework(method: Method) -> Figure:
    """One plus the share of a method's work that is done again."""
    once = constant(1.0, RATIO, "once")
    return total("with rework", [once, *([method.reworked] if method.reworked else [])])


def own_work(method: Method, amount: Figure, options: Options) -> Work:
    """One step done by one own method.

    A second who joins for a share of the hours adds none by the clock, unless nobody is there to
    help: then all are the owner's. A paid one is paid for that share.
    """
    if method.second is not None:
        one, second = _of_two(method, amount, method.second)
        if options.people < 2 and options.paid_helpers:
            return Work(one, one, second)
        both = person_hours(method, amount)
        return Work(both, one if options.people > 1 else both, None)
    return shared(method.step, person_hours(method, amount), team(method, options))


def machine_hours(method: Method, amount: Figure, options: Options) -> Figure:
    """Machine hours of one method: its own rate, else the hours by the clock."""
    if method.machine_rate is not None:
        name = f"{method.step}: machine hours"
        return product(name, HOURS, method.machine_rate, amount)
    return own_work(method, amount, options).clock.called(f"{method.step}: machine hours")


@dataclass(frozen=True, slots=True)
class MachineUse:
    """What one step asks of its machine."""

    hours: Figure  # machine hours
    clock: Figure | None  # hours by the clock of its step, where it runs only part of them

    @property
    def there(self) -> Figure:
        """Hours for which it must be there."""
        return self.clock or self.hours


def machine_use(method: Method, amount: Figure, options: Options) -> MachineUse:
    """Machine hours of one method, and how long the step goes on beside it."""
    hours = machine_hours(method, amount, options)
    if method.machine_rate is None:
        return MachineUse(hours, None)
    return MachineUse(hours, own_work(method, amount, options).clock)


def helper_cost(paid: Figure, pay: Figure) -> Figure:
    """What paid helpers' hours cost, cents not yet rounded."""
    return product("helpers' pay", MONEY, paid, pay)


def crew_method(situation: Situation, step: str) -> Method | None:
    """The own method whose machine a crew without machines needs: the fastest with a machine."""
    found = [m for m in situation.methods(step) if m.machine]
    return min(found, key=lambda m: (m.rate.value, m.key), default=None)


def days_on(situation: Situation, step: str, method: Method | None) -> Figure:
    """Working days that one step takes while a machine waits.

    ``method`` is the own method, or None for a hired crew, which is taken to need no longer
    than the fastest own way.
    """
    amount = situation.amounts[step]
    options = situation.options
    ways = [method] if method else list(situation.methods(step))
    clocks = [own_work(m, amount, options).clock for m in ways]
    if not clocks:
        return constant(0.0, DAYS, f"days of {step}, not known")
    fastest = clocks[0] if len(clocks) == 1 else smallest(f"{step}: fastest own way", *clocks)
    return ratio(f"days of {step}", DAYS, fastest, options.hours_per_day)
