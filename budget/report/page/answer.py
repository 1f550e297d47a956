"""The first screen: what to do, what it costs, what it saves, where it flips, what is missing."""

from __future__ import annotations

import math
from dataclasses import dataclass

from budget.decide.comparison import SOME_UNPRICED
from budget.decide.plan import Missing, Priced
from budget.decide.wording import so_far
from budget.report import risk, words
from budget.report.page import spend
from budget.report.page.view import View
from budget.spend import Tracking
from budget.spend.standing import Standing
from budget.wording import listed

_MOST_CHANGES = 3


@dataclass(frozen=True, slots=True)
class Fact:
    """One number of the answer."""

    label: str
    figure: str
    note: str = ""


@dataclass(frozen=True, slots=True)
class Said:
    """One line of the answer: what it is about, and what is said."""

    about: str
    text: str


@dataclass(frozen=True, slots=True)
class Answer:
    """Everything the first screen says, and what is told right below it."""

    standing: str  # "Best plan" or "Best so far"
    heading: str
    facts: tuple[Fact, ...]
    brief: tuple[Said, ...]  # what to do, how sure it is, where it flips, what is missing
    sure: str
    flips: tuple[str, ...]
    missing: tuple[Missing, ...]
    next_step: str
    coming: str  # the first thing to do once there is spending
    risks: tuple[str, ...]
    notes: tuple[str, ...] = ()


def answer(view: View, standing: Standing | None = None) -> Answer:
    """The first screen of a comparison; also where no plan can be built yet."""
    comparison = view.comparison
    best = comparison.best
    if best is None or best.priced is None:
        return Answer(
            "No plan yet",
            "No way of building it can be put together from what is filled in so far",
            (),
            (),
            "Each scenario below says what it lacks.",
            (),
            comparison.missing,
            comparison.next_step,
            "",
            (),
        )
    tracking = spend.tracked(view, standing)
    return Answer(
        "Best plan" if comparison.settled else "Best so far",
        best.title,
        _facts(view, best.priced, tracking),
        (*_deeds(best.priced), *_doubts(view)),
        _sure(view, best.proved, best.gap) + (_earns(view) if tracking else ""),
        _flips(view, best.priced),
        comparison.missing,
        comparison.next_step,
        spend.next_step(view, standing),
        best.priced.risks,
        tuple(note for note in comparison.notes if note != SOME_UNPRICED),  # stands above it
    )


def _sure(view: View, proved: bool, gap: float) -> str:
    value = view.money(view.hour_value)
    if view.comparison.options.hour_value.origin == "default":
        value += " (assumed)"
    lacking = len(view.comparison.missing)
    complete = view.comparison.complete
    whole = "at these prices" if complete else "of the plans that lack the fewest prices"
    if proved:
        found = (
            f"Proved the cheapest {'way ' if complete else ''}{whole}, with your hour at {value}."
        )
    else:
        found = (
            f"The cheapest found {whole}, with your hour at {value}, {so_far(gap)}: "
            "that is what a better one could save at most."
        )
    if lacking:
        found += f" {words.count(lacking, 'price')} still to come may turn it to another."
    spread = "; ".join(risk.in_words(view.comparison))
    return f"{found} Cash: {spread}." if spread else found


def _doubts(view: View) -> tuple[Said, ...]:
    """How sure the sum is, where another plan becomes best, and what is still missing."""
    comparison = view.comparison
    lacking = len(comparison.missing)
    if lacking:
        missing = f"{words.count(lacking, 'cost')} not yet priced and not in these sums"
    else:
        missing = "nothing: every cost is priced" if comparison.complete else comparison.next_step
    found = comparison.risk
    sure = ""
    if found is not None:
        safe = view.round_money(found.of(found.best).safe)
        sure = f"{safe} is enough in {risk.cases(found.confidence)}"
    said = (Said("How sure", sure), Said("It flips", _holds(view)), Said("Missing", missing))
    return tuple(line for line in said if line.text)


def _holds(view: View) -> str:
    """Outside which values of an own hour another plan is the best one."""
    here = [p for p in view.comparison.frontier if p.from_value <= view.hour_value <= p.to_value]
    if not here:
        return ""
    low, high = here[0].from_value, here[-1].to_value
    ends = [f"below {view.money(low)}"] if low > 0 else []
    ends += [] if math.isinf(high) else [f"above {view.money(high)}"]
    if not ends:
        return f"never{view.comparison.so_far}: this plan holds whatever your hour is worth"
    return f"when your hour is worth {listed(ends, 'or')}"


def _flips(view: View, best: Priced) -> tuple[str, ...]:
    """What is done otherwise just below and just above the values where the plan is best.

    Without the plans of other values, the flips that change the winner speak for themselves.
    """
    points = view.comparison.frontier
    here = [i for i, p in enumerate(points) if p.priced.plan == best.plan]
    if not here:
        found = [flip.sentence for flip in view.comparison.flips if flip.hour_values]
        return tuple(found[:_MOST_CHANGES])
    low, high = here[0], here[-1]
    sentences = []
    if high + 1 < len(points) and _differ(best, points[high + 1].priced):
        value = words.an_hour(points[high].to_value, view.currency)
        sentences.append(f"Above {value}: {_changes(best, points[high + 1].priced)}.")
    if low > 0 and _differ(best, points[low - 1].priced):
        value = words.an_hour(points[low].from_value, view.currency)
        sentences.append(f"Below {value}: {_changes(best, points[low - 1].priced)}.")
    return tuple(sentences)


def _differ(best: Priced, other: Priced) -> bool:
    """Whether two plans decide anything otherwise."""
    return best.plan.choices() != other.plan.choices()


def _changes(best: Priced, other: Priced) -> str:
    """The choices that another plan makes otherwise, the first few in words."""
    now, then = best.plan.choices(), other.plan.choices()
    names = [n for n in dict.fromkeys([*now, *then]) if now.get(n) != then.get(n)]
    said = [": ".join(words.choice(n, then.get(n, "not needed"))) for n in names]
    more = len(said) - _MOST_CHANGES
    tail = f"; and {words.count(more, 'more change')}" if more > 0 else ""
    return "; ".join(said[:_MOST_CHANGES]) + tail


def _facts(view: View, priced: Priced, tracking: Tracking | None) -> tuple[Fact, ...]:
    """Cash, hours, what they save; then what is spent or, before that, what an own hour earns."""
    facts = (
        Fact("Cash", view.round_money(priced.cash), _deposits(view, priced)),
        Fact("Own work", words.hours(priced.own_hours), _helpers(priced)),
        _saves(view),
    )
    earns = view.comparison.hour_earns
    if tracking is not None:
        spent = spend.in_short(view, tracking)
        return (*facts, Fact("Paid so far", view.round_money(tracking.paid), spent))
    if earns is None:
        return facts
    note = f"you set {words.an_hour(view.hour_value, view.currency)}"
    return (*facts, Fact("An own hour earns", view.money(earns), note))


def _saves(view: View) -> Fact:
    """What own work saves against hiring, where that is known."""
    saving = view.comparison.saving
    if saving is None:
        why = "no bids for the whole job to set it against"
        return Fact("Saves against hiring", "not known", why)
    if view.comparison.all_hired_is_best:
        why = f"hiring the whole job is best{view.comparison.so_far}"
        return Fact("Saves against hiring", "nothing", why)
    label = "Saves against hiring" if saving >= 0 else "Costs more than hiring"
    return Fact(label, view.round_money(abs(saving)), "the whole job hired, in cash")


def _earns(view: View) -> str:
    earns = view.comparison.hour_earns
    return "" if earns is None else f" An own hour earns {view.money(earns)} against hiring."


def _deposits(view: View, priced: Priced) -> str:
    said = ["tax included"]
    if priced.comes_back:
        first = view.round_money(priced.cash + priced.comes_back)
        said.append(f"{first} paid first, the rest comes back for unopened packs")
    if priced.deposits:
        said.append(f"{view.round_money(priced.deposits)} deposits come back")
    return "; ".join(said)


def _helpers(priced: Priced) -> str:
    if priced.helper_hours:
        return f"and {words.hours(priced.helper_hours)} of paid helpers"
    return "by the household"


def _deeds(priced: Priced) -> tuple[Said, ...]:
    own, hired = priced.plan.by_hands()
    firms = [f"{firm} ({', '.join(steps)})" for firm, steps in sorted(hired.items())]
    goods = [f"{a.supplier} ({a.route})" for a in priced.arrivals]
    said = (
        Said("Yourself", ", ".join(own)),
        Said("Hire", "; ".join(firms)),
        Said("Goods", "; ".join(goods)),
        Said("Machines", "; ".join(_machines(priced))),
        Said("Spoil", priced.plan.disposal),
    )
    return tuple(line for line in said if line.text)


def _machines(priced: Priced) -> list[str]:
    """The machines by the way they come, such as ``rent Wet saw``."""
    ways: dict[str, list[str]] = {}
    for name, way in sorted(priced.plan.machines.items()):
        ways.setdefault(way.partition(" ")[0], []).append(name)
    return [f"{way} {listed(names)}" for way, names in ways.items()]
