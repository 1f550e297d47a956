"""Flips: what forcing one choice the other way does, with the rest planned anew."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from budget.decide.model.model import Solved
from budget.decide.pins import Pinned, choice_values
from budget.decide.plan import BID, METHOD, Flip, FrontierPoint, Plan
from budget.decide.planner import Planner
from budget.decide.terms.situation import CARRY
from budget.decide.wording import (
    hours_in_words,
    round_money,
    so_far,
    subject,
    value_in_words,
)
from budget.wording import listed

#: Differences below this many cents and hours are no difference.
SAME_CASH, SAME_HOURS = 50, 0.1

#: Flips that move less than this share of the plan's total are small.
SMALL = 0.01

#: A choice with the values that it is forced to take one of.
Forced = tuple[str, frozenset[str]]


def flips(
    planner: Planner,
    best: Solved,
    hour_value: float,
    points: tuple[FrontierPoint, ...],
    currency: str = "",
) -> tuple[Flip, ...]:
    """What the best other way costs for each choice of the best plan that has one.

    The rest is planned anew at the user's hour value. A step has a second flip where its best
    other way stays on the same side of own hands and hire: the best way on the other side.
    Steps that one bid moves together are one flip. The hour values at which the winner changes
    are read off the exact frontier: there the best plan of all takes to or leaves the value
    that the choice has now.
    """
    plan = best.priced.plan
    found: dict[tuple[object, ...], Flip] = {}
    asked = list(_alternatives(planner, plan))
    while asked:
        others = planner.each(asked, lambda one, forced: _forced(one, plan, hour_value, forced))
        again: list[Forced] = []
        for (choice, values), other in zip(asked, others, strict=True):
            if other is None:
                continue
            flip = _flip(best, hour_value, points, choice, other, currency)
            if flip is not None:
                found.setdefault((flip.choices, flip.alternative, flip.cash, flip.hours), flip)
            again += _other_side(choice, values, plan, other)
        asked = again
    return tuple(_once(found.values()))


def _once(found: Iterable[Flip]) -> list[Flip]:
    """The flips without machines done without, where a step's flip tells the same change."""
    flips = list(found)
    steps = {(f.cash, f.hours) for f in flips if f.choice.startswith("step:")}
    return [
        f for f in flips
        if f.alternative or not f.choice.startswith("machine:") or (f.cash, f.hours) not in steps
    ]  # fmt: skip


def _alternatives(planner: Planner, plan: Plan) -> Iterator[Forced]:
    """Each choice with the values that it may be forced to."""
    situation = planner.situation(plan.bedding, planner.optional - plan.parts)
    values = choice_values([situation])
    for choice, value in plan.choices().items():
        kind = choice.partition(":")[0]
        others = frozenset(values.get(choice, ())) - {value}
        if kind == "bedding":
            others = frozenset(planner.sound) - {value}
        if others and kind in ("bedding", "step", "goods", "machine", "disposal"):
            yield choice, others


def _other_side(choice: str, values: frozenset[str], plan: Plan, other: Solved) -> Iterator[Forced]:
    """A step whose best other way is no change from own hands to hire or back: that change."""
    value, taken = plan.choices()[choice], other.priced.plan.choices().get(choice, "")
    start = METHOD if value.startswith(METHOD) else BID
    if choice.startswith("step:") and value != taken and taken.startswith(start):
        across = frozenset(v for v in values if not v.startswith(start))
        if across:
            yield choice, across


def _forced(planner: Planner, plan: Plan, hour_value: float, forced: Forced) -> Solved | None:
    """The best plan in which one choice takes one of the values it is forced to."""
    choice, values = forced
    pinned = Pinned(dropped=planner.optional - plan.parts, kept=plan.parts)
    if choice == "bedding":
        return planner.best(hour_value, pinned, sorted(values))
    return planner.best(hour_value, replace(pinned, allowed={choice: values}))


def _flip(
    best: Solved,
    hour_value: float,
    points: tuple[FrontierPoint, ...],
    choice: str,
    other: Solved,
    currency: str,
) -> Flip | None:
    if other.gaps > best.gaps:
        return None
    cash = other.priced.cash - best.priced.cash
    hours = other.priced.own_hours - best.priced.own_hours
    if choice == f"step:{CARRY}" and choice not in other.priced.plan.choices():
        return None
    moved = _moved(choice, best.priced.plan, other.priced.plan)
    changing = _winner_changes(points, moved[0], best.priced.plan.choices()[moved[0]])
    words = Words(
        _about(moved, best.priced.plan),
        _together(moved, best.priced.plan),
        _together(moved, other.priced.plan),
    )
    stake = cash + hours * hour_value
    return Flip(
        choice=moved[0],
        value=best.priced.plan.choices()[moved[0]],
        alternative=other.priced.plan.choices().get(moved[0], ""),
        cash=cash,
        hours=hours,
        hour_values=changing,
        sentence=flip_sentence(words, cash, hours, changing, hour_value, currency)
        + ("" if other.proved else f" The other way is the {so_far(other.gap)}."),
        choices=moved,
        small=abs(stake) < SMALL * best.priced.total(hour_value),
        priced=other.priced,
        proved=other.proved,
        gap=other.gap,
    )


def _moved(choice: str, best: Plan, other: Plan) -> tuple[str, ...]:
    """The steps that one bid takes over or leaves together, else the choice alone."""
    if not choice.startswith("step:"):
        return (choice,)
    now, then = best.choices(), other.choices()
    old, new = now[choice], then.get(choice, "")
    moved = [
        c for c in now
        if c.startswith("step:") and now[c] != then.get(c, "")
        and ((new.startswith(BID) and then.get(c) == new)
             or (old.startswith(BID) and not new.startswith(BID) and now[c] == old))
    ]  # fmt: skip
    return tuple(moved) if choice in moved else (choice,)


def _about(moved: tuple[str, ...], plan: Plan) -> str:
    """What moves together, in words."""
    steps = {choice for choice in plan.choices() if choice.startswith("step:")}
    every = len(moved) > 1 and steps <= set(moved)
    return "All the work" if every else listed([subject(c) for c in moved])


def _together(moved: tuple[str, ...], plan: Plan) -> str:
    """How one plan does these choices, in one phrase."""
    values = {value_in_words(c, plan.choices().get(c, "")) for c in moved}
    if len(values) == 1:
        return values.pop()
    chosen = [plan.choices().get(c, "") for c in moved]
    hired = {value_in_words(c, v) for c, v in zip(moved, chosen, strict=True) if v.startswith(BID)}
    own = ["own hands"] if any(v.startswith(METHOD) for v in chosen) else []
    return listed([*own, *sorted(hired)])


def _winner_changes(
    points: tuple[FrontierPoint, ...], choice: str, value: str
) -> tuple[float, ...]:
    holds = [p.priced.plan.choices().get(choice, "") == value for p in points]
    return tuple(
        p.from_value for p, now, before in zip(points[1:], holds[1:], holds, strict=False)
        if now != before
    )  # fmt: skip


@dataclass(frozen=True, slots=True)
class Words:
    """What a flip is about, as it is now and as it would be."""

    about: str
    now: str
    then: str


def flip_sentence(
    words: Words,
    cash: int,
    hours: float,
    changing: tuple[float, ...],
    hour_value: float,
    currency: str,
) -> str:
    """A flip in plain words.

    >>> words = Words("Goods from North Yard", "delivery to the drive", "hauling with Pickup")
    >>> flip_sentence(words, -8400, 5.0, (1700.0,), 2000.0, "USD")
    'Goods from North Yard: hauling with Pickup instead of delivery to the drive saves $84 and \
takes 5 hours more; delivery to the drive wins while an hour is worth more than about $17.'
    """
    effects = [_cash_words(cash, currency), _hours_words(hours)]
    effect = " and ".join(e for e in effects if e) or "makes next to no difference"
    return f"{words.about}: {words.then} instead of {words.now} {effect}; " + _wins(
        words.now, changing, hour_value, currency
    )


def _cash_words(cash: int, currency: str) -> str:
    if abs(cash) < SAME_CASH:
        return ""
    money = round_money(cash, currency)
    return f"saves {money}" if cash < 0 else f"costs {money} more"


def _hours_words(hours: float) -> str:
    if abs(hours) < SAME_HOURS:
        return ""
    more = hours > 0
    return f"takes {hours_in_words(hours)} more" if more else f"saves {hours_in_words(hours)}"


def _wins(now: str, changing: tuple[float, ...], hour_value: float, currency: str) -> str:
    below = max((v for v in changing if v <= hour_value), default=None)
    above = min((v for v in changing if v > hour_value), default=None)
    if below is not None and above is not None:
        span = f"between about {listed([round_money(v, currency) for v in (below, above)])}"
    elif above is not None:
        span = f"less than about {round_money(above, currency)}"
    elif below is not None:
        span = f"more than about {round_money(below, currency)}"
    else:
        return f"{now} wins whatever an hour is worth."
    return f"{now} wins while an hour is worth {span}."
