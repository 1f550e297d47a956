"""Flips: what forcing one choice the other way does, with the rest planned anew."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from budget.decide.model import Solved
from budget.decide.pins import Pinned, choice_values
from budget.decide.plan import BID, METHOD, Flip, FrontierPoint, Plan
from budget.decide.planner import Planner
from budget.decide.situation import CARRY
from budget.decide.wording import (
    hours_in_words,
    listed,
    round_money,
    subject,
    value_in_words,
)
from budget.prices.options import Drop

#: Differences below this many cents and hours are no difference.
SAME_CASH, SAME_HOURS = 50, 0.1


#: A choice with the values that it is forced to take one of.
Forced = tuple[str, frozenset[str]]


def flips(
    planner: Planner, best: Solved, hour_value: float, points: tuple[FrontierPoint, ...]
) -> tuple[Flip, ...]:
    """One flip for each choice of the best plan that has a real alternative.

    The rest is planned anew at the user's hour value. The hour values at which the winner
    changes are read off the exact frontier: there the best plan of all takes to or leaves the
    value that the choice has now. Sorted by the money at stake, most first.
    """
    plan = best.priced.plan
    asked = [f for f in _alternatives(planner, plan) if f[1]]
    others = planner.each(asked, lambda one, forced: _forced(one, plan, hour_value, forced))
    found: dict[tuple[str, str], Flip] = {}
    for (choice, _), other in zip(asked, others, strict=True):
        flip = _flip(best, hour_value, points, choice, other)
        if flip is not None:
            found.setdefault((choice, flip.alternative), flip)
    return tuple(
        sorted(
            found.values(),
            key=lambda f: (-abs(f.cash + f.hours * hour_value), f.choice, f.alternative),
        )
    )


def _alternatives(planner: Planner, plan: Plan) -> Iterator[Forced]:
    """Each choice with the sets of values that it may be forced to."""
    situation = planner.situation(plan.bedding, planner.optional - plan.parts)
    values = choice_values([situation])
    for choice, value in plan.choices().items():
        kind, _, name = choice.partition(":")
        others = frozenset(values.get(choice, ())) - {value}
        if kind == "bedding":
            for other in planner.sound:
                if other != value:
                    yield choice, frozenset((other,))
        elif kind == "step":
            yield from ((choice, group) for group in _step_groups(value, others))
        elif kind == "goods":
            drops = {r.key for r in planner.options.routes[name] if isinstance(r, Drop)}
            same = drops if value in drops else frozenset(values[choice]) - drops
            yield choice, others - same
            yield choice, others & same
        elif kind in ("machine", "disposal"):
            yield choice, others


def _step_groups(value: str, others: frozenset[str]) -> Iterator[frozenset[str]]:
    """Own hands against hire first, then another method or another bid."""
    own = frozenset(v for v in others if v.startswith(METHOD))
    hired = frozenset(v for v in others if v.startswith(BID))
    yield from (hired, own) if value.startswith(METHOD) else (own, hired)


def _forced(planner: Planner, plan: Plan, hour_value: float, forced: Forced) -> Solved | None:
    """The best plan in which one choice takes one of the values it is forced to."""
    choice, values = forced
    pinned = Pinned(dropped=planner.optional - plan.parts)
    if choice == "bedding":
        pinned = replace(pinned, bedding=next(iter(values)))
    else:
        pinned = replace(pinned, allowed={choice: values})
    return planner.best(hour_value, pinned)


def _flip(
    best: Solved,
    hour_value: float,
    points: tuple[FrontierPoint, ...],
    choice: str,
    other: Solved | None,
) -> Flip | None:
    if other is None or other.gaps > best.gaps:
        return None
    cash = other.priced.cash - best.priced.cash
    hours = other.priced.own_hours - best.priced.own_hours
    value = best.priced.plan.choices()[choice]
    alternative = other.priced.plan.choices().get(choice, "")
    if alternative == value or (choice == f"step:{CARRY}" and not alternative):
        return None
    changing = _winner_changes(points, choice, value)
    sentence = flip_sentence(choice, value, alternative, cash, hours, changing, hour_value)
    return Flip(choice, value, alternative, cash, hours, changing, sentence)


def _winner_changes(
    points: tuple[FrontierPoint, ...], choice: str, value: str
) -> tuple[float, ...]:
    holds = [p.priced.plan.choices().get(choice, "") == value for p in points]
    return tuple(
        p.from_value for p, now, before in zip(points[1:], holds[1:], holds, strict=False)
        if now != before
    )  # fmt: skip


def flip_sentence(
    choice: str,
    value: str,
    alternative: str,
    cash: int,
    hours: float,
    changing: tuple[float, ...],
    hour_value: float,
) -> str:
    """A flip in plain words.

    >>> flip_sentence("goods:North Yard", "deliver to drive", "haul with Pickup", -8400, 5.0,
    ...               (1700.0,), 2000.0)
    'Goods from North Yard: hauling with Pickup instead of delivery to the drive saves 84 and \
takes 5 hours more; delivery to the drive wins while an hour is worth more than about 17.'
    """
    now, then = value_in_words(choice, value), value_in_words(choice, alternative)
    effects = [_cash_words(cash), _hours_words(hours)]
    effect = " and ".join(e for e in effects if e) or "makes next to no difference"
    return f"{subject(choice)}: {then} instead of {now} {effect}; " + _wins(
        now, changing, hour_value
    )


def _cash_words(cash: int) -> str:
    if abs(cash) < SAME_CASH:
        return ""
    return f"saves {round_money(cash)}" if cash < 0 else f"costs {round_money(cash)} more"


def _hours_words(hours: float) -> str:
    if abs(hours) < SAME_HOURS:
        return ""
    more = hours > 0
    return f"takes {hours_in_words(hours)} more" if more else f"saves {hours_in_words(hours)}"


def _wins(now: str, changing: tuple[float, ...], hour_value: float) -> str:
    below = max((v for v in changing if v <= hour_value), default=None)
    above = min((v for v in changing if v > hour_value), default=None)
    if below is None and above is None:
        return f"{now} wins whatever an hour is worth."
    if below is None and above is not None:
        span = f"less than about {round_money(above)}"
    elif above is None and below is not None:
        span = f"more than about {round_money(below)}"
    else:
        span = f"between about {listed([round_money(v) for v in (below or 0.0, above or 0.0)])}"
    return f"{now} wins while an hour is worth {span}."
