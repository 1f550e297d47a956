"""Optional parts: which are worth what they add, and which to keep within a spending limit."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from itertools import combinations

from budget.decide.frontier import LEAST_VALUE
from budget.decide.model.model import Model, Solved
from budget.decide.pins import Pinned
from budget.decide.plan import Addable, Fit, Flip
from budget.decide.planner import Planner, rank
from budget.decide.terms.situation import Situation
from budget.decide.wording import changes, hours_in_words, round_money, so_far
from budget.job import CutPiece, Extra, Job, Wall
from budget.quantities.needs.feature import optional_part
from budget.wording import listed

#: Sets of optional parts are all tried up to this many parts with a worth.
MOST_PARTS = 6


def worths(job: Job) -> dict[str, float]:
    """What each optional part is worth to the user [cents]; parts without a worth left out.

    Shapes and items of one part are added up.
    """
    found: dict[str, float] = {}
    named = [(a.part, a.worth) for a in job.areas if a.optional and not a.cut_out]
    features: tuple[Extra | Wall | CutPiece, ...] = (*job.extras, *job.walls, *job.pieces)
    named += [(optional_part(row, job.areas), row.worth) for row in features]
    for name, worth in named:
        if name and worth is not None:
            found[name] = found.get(name, 0.0) + worth
    return dict(sorted(found.items()))


def leave_out(planner: Planner, worth: Mapping[str, float], hour_value: float) -> None:
    """Leave the parts out of every plan that are not worth what they add.

    A part is kept when its worth is at least what it adds in cash and own hours at the hour
    value, everything else planned anew; parts that share a delivery or a machine are weighed
    together. A part without a worth is kept, and so is one that would change which prices are
    missing, since totals with unequal gaps are not compared. Of more than ``MOST_PARTS`` parts
    only the ``MOST_PARTS`` of least worth are weighed.
    """
    names = sorted(planner.optional & set(worth), key=lambda n: (worth[n], n))[:MOST_PARTS]
    every = planner.best(hour_value)
    if every is None or not names:
        return
    sets = list(_sets(names))
    tried = planner.each(sets, lambda one, out: one.best(hour_value, Pinned(dropped=out)))
    chosen, least = frozenset[str](), every.priced.total(hour_value)
    for out, found in zip(sets, tried, strict=True):
        if found is None or found.gaps != every.gaps:
            continue
        total = found.priced.total(hour_value) + sum(worth[name] for name in out)
        if total < least:
            chosen, least = out, total
    planner.leave_out(chosen)


def _sets(names: Iterable[str]) -> Iterator[frozenset[str]]:
    """Every set of some names but the empty one, the smallest first."""
    order = list(names)
    for count in range(1, len(order) + 1):
        yield from (frozenset(found) for found in combinations(order, count))


def part_flips(
    planner: Planner, best: Solved, worth: Mapping[str, float], hour_value: float, currency: str
) -> list[Flip]:
    """For each optional part, what leaving it out (or keeping it) changes."""
    kept = best.priced.plan.parts
    names = sorted(planner.optional)
    sets = [planner.optional - (kept ^ {name}) for name in names]
    pins = [Pinned(dropped=out, kept=planner.optional - out) for out in sets]
    others = planner.each(pins, lambda one, pinned: one.best(hour_value, pinned))
    return [
        _part_flip(best, other, name, worth.get(name), hour_value, currency)
        for name, other in zip(names, others, strict=True)
        if other is not None
    ]


def _part_flip(
    best: Solved, other: Solved, name: str, worth: float | None, hour_value: float, currency: str
) -> Flip:
    cash = other.priced.cash - best.priced.cash
    hours = other.priced.own_hours - best.priced.own_hours
    kept = name in best.priced.plan.parts
    added, labour = (-cash, -hours) if kept else (cash, hours)
    cost = added + labour * hour_value
    sentence = (
        f"{name}: having it adds {round_money(added, currency)} in cash and "
        f"{hours_in_words(labour)} of own work, {round_money(cost, currency)} together"
    )
    if other.gaps != best.gaps:
        sentence += ", as far as prices are known; it is kept."
    elif worth is None:
        sentence += "; it is kept, since you have not said what it is worth to you."
    else:
        verdict = "kept" if kept else "left out"
        sentence += f"; you put its worth at {round_money(worth, currency)}, so it is {verdict}."
    if not other.proved:
        sentence += f" The other way is the {so_far(other.gap)}."
    stake = cost - (worth or 0.0)
    return Flip(
        choice=f"part:{name}",
        value="keep" if kept else "drop",
        alternative="drop" if kept else "keep",
        cash=cash,
        hours=hours,
        hour_values=_turning(added, labour, worth),
        sentence=sentence,
        choices=(f"part:{name}",),
        small=abs(stake) < 0.01 * best.priced.total(hour_value),
        priced=other.priced,
    )


def _turning(added: float, hours: float, worth: float | None) -> tuple[float, ...]:
    """The hour value at which a part would cost what it is worth, by these two plans."""
    if worth is None or abs(hours) < 1e-9 or (worth - added) / hours <= 0:
        return ()
    return ((worth - added) / hours,)


def fit(
    planner: Planner, job: Job, worth: Mapping[str, float], best: Solved, hour_value: float
) -> Fit | None:
    """What can be had within the spending limit, where the best plan does not hold it.

    The parts given up, of those that the best plan has, are those of least worth together
    without which some plan holds the limit; a part without a worth counts as worth nothing
    here. The plan is the best of those that hold it, which may take more own work.
    """
    limit = job.settings.spending_limit
    if limit is None or best.priced.cash <= limit:
        return None
    kept = best.priced.plan.parts
    never = planner.optional - kept
    names = sorted(kept, key=lambda n: (worth.get(n, 0.0), n))[:MOST_PARTS]
    sets = [frozenset[str](), *_sets(names)]
    sets.sort(key=lambda out: (sum(worth.get(n, 0.0) for n in out), len(out), sorted(out)))
    for out in sets:
        found = _within(planner, never | out, limit, hour_value, best.gaps)
        if found is not None:
            adds = _to_add(planner, never, out, limit, worth)
            sentence = _fit_sentence(found, out, adds, job.settings.currency)
            more = adds[0].more if adds else 0.0
            change = changes(best.priced.plan, found.priced.plan)
            return Fit(limit, tuple(sorted(out)), found.priced, more, sentence, adds, change)
    short = _least_of(planner, best, never, sets) - limit
    money = round_money(short, job.settings.currency)
    who = "No plan that lacks as few prices" if best.priced.missing else "No plan"
    sentence = f"{who} holds the spending limit: {money} more is needed even for the least."
    return Fit(limit, tuple(sorted(names)), None, short, sentence)


def _within(
    planner: Planner, out: frozenset[str], limit: float, hour_value: float, gaps: int
) -> Solved | None:
    """The best plan without some parts whose cash holds a limit."""
    found = []
    for bedding in planner.sound:
        situation = Situation(planner.takeoff, planner.options, bedding, planner.optional - out)
        ceiling = limit
        for _ in range(3):  # lines that round a sum may lift the cash by a few cents
            solved = Model(situation, ceiling, planner.limit).solve(hour_value)
            if solved is None or solved.gaps > gaps:
                break
            if solved.priced.cash <= limit:
                found.append(solved)
                break
            ceiling -= solved.priced.cash - limit
    return min(found, key=lambda s: rank(s, hour_value), default=None)


def _least_cash(planner: Planner, out: frozenset[str]) -> float | None:
    pinned = Pinned(dropped=out, kept=planner.optional - out)
    found = planner.best(LEAST_VALUE, pinned)
    return None if found is None else float(found.priced.cash)


def _least_of(
    planner: Planner, best: Solved, never: frozenset[str], sets: Iterable[frozenset[str]]
) -> float:
    """The least cash of any plan: without all the parts, unless a seller brings no less."""
    least = _least_cash(planner, never | frozenset().union(*sets))
    if least is not None:
        return least
    found = (_least_cash(planner, never | out) for out in sets)
    return min([float(best.priced.cash), *(cash for cash in found if cash is not None)])


def _to_add(
    planner: Planner,
    never: frozenset[str],
    out: frozenset[str],
    limit: float,
    worth: Mapping[str, float],
) -> tuple[Addable, ...]:
    """The parts given up, by how much more money the least plan with each of them takes.

    Of parts that take the same, the one of most worth comes first.
    """
    found = []
    for name in sorted(out):
        cost = _least_cash(planner, never | (out - {name}))
        if cost is not None:
            found.append(Addable(name, max(0.0, cost - limit), worth.get(name)))
    return tuple(sorted(found, key=lambda a: (a.more, -(a.worth or 0.0), a.part)))


def _fit_sentence(
    found: Solved, out: frozenset[str], adds: tuple[Addable, ...], currency: str
) -> str:
    plan = found.priced
    what = f"without {listed(sorted(out))}" if out else "with every part of the best plan"
    text = (
        f"Within the spending limit {what}: {round_money(plan.cash, currency)} in cash and "
        f"{hours_in_words(plan.own_hours)} of own work."
    )
    if adds:
        text += f" With {round_money(adds[0].more, currency)} more, add {adds[0].part} next."
    return text


def with_parts(flips: Iterable[Flip], parts: Iterable[Flip], hour_value: float) -> tuple[Flip, ...]:
    """Both kinds of flips in one order: the money at stake, most first."""
    both = [*flips, *parts]
    both.sort(key=lambda f: (-abs(f.cash + f.hours * hour_value), f.choice, f.alternative))
    return tuple(both)
