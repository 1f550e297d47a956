"""What comes before what: the usual order of work, the user's own, and waits."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import cast

from budget.decide.calendar.network import Link, Wet
from budget.decide.terms.situation import Situation
from budget.job import Assumption, Job, Work
from budget.numerals import trimmed
from budget.reference import coefficient, rows

BUILD, JOINT, EDGE = "Build", "Joint", "Edge"


@dataclass(frozen=True, slots=True)
class Usual:
    """What must usually be done before a step, and what a wet day does to it."""

    after: tuple[str, ...]
    wet: Wet
    source: str


@dataclass(frozen=True, slots=True)
class Order:
    """The links of every step of one plan."""

    links: Mapping[str, tuple[Link, ...]]
    notes: tuple[str, ...]
    assumed: tuple[Assumption, ...]


@lru_cache(maxsize=1)
def usual() -> dict[str, Usual]:
    """The usual order of work by step."""
    return {
        row["step"]: Usual(
            tuple(s.strip() for s in row["after"].split(",") if s.strip()),
            cast(Wet, row["wet"]),
            f"{row['source']} ({row['standing']})",
        )
        for row in rows("order_of_work")
    }


def order_of(job: Job, situation: Situation, steps: Sequence[str], own: Mapping[str, str]) -> Order:
    """The links between the steps that a plan has.

    :param own: the own method of each step that is done by own hands.
    """
    before = {step: _usual_before(job, step) for step in usual()}
    asked = dict(before)
    for step in steps:
        rows_of = [w for w in job.work if w.step == step and w.after]
        asked |= {step: _of_method(rows_of, own.get(step, "")).after} if rows_of else {}
    notes: tuple[str, ...] = ()
    if _circle(asked):
        circle = ", ".join(sorted(_circle(asked)))
        notes = (f"Work: the column After goes in a circle ({circle}); the usual order is shown.",)
        asked = before
    waits, assumed = _waits(job, situation, steps, own)
    links = {
        step: tuple(Link(b, waits.get(b, 0.0)) for b in _present(asked, step, steps))
        for step in steps
    }
    return Order(links, notes, assumed)


def _of_method(rows_of: Sequence[Work], method: str) -> Work:
    """The row of the method that is used, else the first."""
    return min(rows_of, key=lambda w: (w.method.casefold() != method.casefold(), w.method))


def _usual_before(job: Job, step: str) -> tuple[str, ...]:
    """Features wait for the joints if any stands on the paving, or may: extras and pieces do."""
    on_paving = (
        job.extras or job.pieces or any(wall.stands == "on the paving" for wall in job.walls)
    )
    return (JOINT,) if step == BUILD and on_paving else usual()[step].after


def _circle(before: Mapping[str, Sequence[str]]) -> set[str]:
    """The steps that can never start, none where the order is sound."""
    left = {step: set(names) & set(before) for step, names in before.items()}
    while True:
        free = {step for step, names in left.items() if not names}
        if not free:
            return set(left)
        left = {s: names - free for s, names in left.items() if s not in free}


def _present(
    before: Mapping[str, Sequence[str]], step: str, steps: Collection[str]
) -> tuple[str, ...]:
    """What comes before a step, those that the plan does not have replaced by what is before."""
    found: list[str] = []
    for name in before.get(step, ()):
        names = (name,) if name in steps else _present(before, name, steps)
        found += [n for n in names if n not in found]
    return tuple(found)


def _waits(
    job: Job, situation: Situation, steps: Sequence[str], own: Mapping[str, str]
) -> tuple[dict[str, float], tuple[Assumption, ...]]:
    """Hours to wait after each step: as the Work sheet says, else what sets in it."""
    kinds = {(need.step, need.kind) for need in situation.needs}
    sets = {JOINT: ("polymeric sand", "wait polymeric"), EDGE: ("concrete mix", "wait haunch")}
    found: dict[str, float] = {}
    assumed: list[Assumption] = []
    for step in steps:
        rows_of = [w for w in job.work if w.step == step and w.wait is not None]
        kind, name = sets.get(step, ("", ""))
        if rows_of:
            found[step] = _of_method(rows_of, own.get(step, "")).wait or 0.0
        elif (step, kind) in kinds:
            rule = coefficient(name)
            found[step] = rule.likely
            assumed.append(Assumption(rule.what, f"{trimmed(rule.likely)} h", rule.cited, "Work"))
    return found, tuple(assumed)
