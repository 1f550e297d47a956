"""Why not: what forcing some choices would do to cash, hours and the other choices."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from budget.decide.outcome import Comparison
from budget.decide.parts import leave_out, worths
from budget.decide.pins import Pinned, read_pins
from budget.decide.plan import Plan, Priced
from budget.decide.planner import Planner
from budget.decide.scenarios import why_not
from budget.decide.wording import changed_choices, hours_in_words, round_money


@dataclass(frozen=True, slots=True)
class Forced:
    """The best plan with some choices forced, against the free best plan."""

    asked: Mapping[str, str]
    priced: Priced | None  # None: it cannot be built
    cash: int  # forced less free, cents
    hours: float
    changes: tuple[str, ...]  # what else changes, in words
    sentence: str
    proved: bool = True  # both plans are
    gap: float = 0.0  # the larger share of a total that a better plan could save at most


def force(comparison: Comparison, asked: Mapping[str, str]) -> Forced:
    """Plan once more with some choices forced, at the user's hour value.

    :param asked: pins as people write them, such as ``{"step:Dig": "hire"}``.
    :raises budget.decide.pins.UnknownPin: for a choice or value that is not there.
    """
    options = comparison.options
    value, currency = options.hour_value.value, comparison.job.settings.currency
    planner = Planner(comparison.takeoff, options)
    leave_out(planner, worths(comparison.job), value)
    pinned = read_pins(planner.situations(), asked)
    free, found = planner.best(value), planner.best(value, pinned)
    if found is None or free is None:
        bedding = pinned.bedding or planner.sound[0]
        situation = planner.situation(bedding, planner.dropped(pinned))
        return Forced(asked, None, 0, 0.0, (), why_not(situation, pinned))
    cash = found.priced.cash - free.priced.cash
    hours = found.priced.own_hours - free.priced.own_hours
    changes = changed_choices(free.priced.plan, found.priced.plan)
    return Forced(
        asked, found.priced, cash, hours, changes,
        _already(free.priced.plan, pinned)
        or _sentence(cash, hours, value, found.gaps - free.gaps, currency, free.proved),
        found.proved and free.proved, max(found.gap, free.gap),
    )  # fmt: skip


def check_pins(comparison: Comparison, asked: Mapping[str, str]) -> None:
    """Refuse pins that name a choice or a value that this job has not.

    :raises budget.decide.pins.UnknownPin: with the nearest that is there.
    """
    read_pins(Planner(comparison.takeoff, comparison.options).situations(), asked)


def _already(free: Plan, pinned: Pinned) -> str:
    """Said where the best plan does what was asked."""
    choices = free.choices()
    held = all(choices.get(choice) in values for choice, values in pinned.allowed.items())
    held = held and pinned.bedding in (None, free.bedding)
    held = held and pinned.kept <= free.parts and not pinned.dropped & free.parts
    return "The best plan does this already." if held else ""


def _sentence(
    cash: int, hours: float, value: float, gaps: int, currency: str, proved: bool = True
) -> str:
    """The difference in one sentence.

    >>> _sentence(45000, -4.0, 2000.0, 0, "USD")
    'It costs $450 more in cash and saves 4 hours of own work: at your value of an hour it is \
$370 worse than the best plan.'
    >>> _sentence(0, 4.0, 2000.0, 0, "USD")
    'It takes 4 hours more of own work: at your value of an hour it is $80 worse than the best \
plan.'
    >>> _sentence(-45000, 40.0, 2000.0, 2, "USD")
    'It saves $450 in cash and takes 40 hours more of own work, and 2 more of its prices are not \
known.'
    >>> _sentence(4000, -2.0, 2000.0, 0, "USD")
    'It costs $40 more in cash and saves 2 hours of own work: at your value of an hour it is as \
good as the best plan.'
    >>> _sentence(0, 0.04, 2000.0, 0, "USD")
    'It makes no difference: a plan with it is as good as the best plan.'
    """
    best = "the best plan" if proved else "the best plan so far"
    if abs(cash) < 1 and abs(hours) < 0.05:
        return f"It makes no difference: a plan with it is as good as {best}."
    told = []
    if abs(cash) >= 1:
        money = round_money(cash, currency)
        told.append(f"costs {money} more in cash" if cash > 0 else f"saves {money} in cash")
    if abs(hours) >= 0.05:
        labour = hours_in_words(hours)
        told.append(f"takes {labour} more" if hours > 0 else f"saves {labour}")
        told[-1] += " of own work"
    text = f"It {' and '.join(told)}"
    if gaps > 0:
        return f"{text}, and {gaps} more of its prices {'is' if gaps == 1 else 'are'} not known."
    stake = cash + hours * value
    if abs(stake) < 1:
        return f"{text}: at your value of an hour it is as good as {best}."
    worse = f"{round_money(stake, currency)} {'worse' if stake > 0 else 'better'}"
    return f"{text}: at your value of an hour it is {worse} than {best}."
