"""Tasks with what must come before them: forward pass, backward pass, and the chain that binds.

The forward and backward pass of the critical path method. Tasks that the same hands do follow
each other in one fixed sequence, so that less time or more open days never end later.
"""

from __future__ import annotations

import heapq
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from budget.decide.calendar.days import DAY, TINY, Days

Wet = Literal["stops", "ground", "goes on"]


@dataclass(frozen=True, slots=True)
class Link:
    """Something that must be done before, and the hours to wait after it."""

    task: str
    wait: float = 0.0


@dataclass(frozen=True, slots=True)
class Task:
    """One piece of work by one pair of hands: ``hours`` by the clock, ``own_hours`` of people."""

    name: str
    step: str
    hours: float
    order: float  # where it comes among tasks that are free to start
    who: str = ""  # own hands, or a hired crew's name; one does one task at a time; blank: nobody
    days: str = ""  # on whose days: own, crew, or those of a seller; as keys of the calendars
    after: tuple[Link, ...] = ()
    goods: tuple[str, ...] = ()  # sellers whose goods must be there
    own_hours: float = 0.0
    how: str = ""  # the method or the bid, in words
    wet: Wet = "stops"
    machine: str = ""
    machine_hours: float = 0.0
    whole: bool = False  # done in one go on one day, if it fits one


@dataclass(frozen=True, slots=True)
class Because:
    """What a task waited for."""

    kind: Literal["start", "after", "hands", "goods", "crew", "machine", "hire"]
    name: str = ""
    wait: float = 0.0


@dataclass(frozen=True, slots=True)
class Booked:
    """One task in time: when it starts and ends, and what it waited for."""

    task: Task
    start: float
    finish: float
    because: Because


def sequence(tasks: Sequence[Task], key: Callable[[Task], float]) -> tuple[Task, ...]:
    """The tasks in an order that keeps what must come before; of several free, least ``key``.

    :raises ValueError: if the links go in a circle; it names the tasks.

    >>> a, b = Task("a", "", 1, 2), Task("b", "", 1, 1, after=(Link("a"),))
    >>> [t.name for t in sequence([b, a], lambda t: t.order)]
    ['a', 'b']
    """
    named = {task.name: task for task in tasks}
    left = {task.name: len(task.after) for task in tasks}
    follows: dict[str, list[str]] = {task.name: [] for task in tasks}
    for task in tasks:
        for link in task.after:
            follows[link.task].append(task.name)
    free = [(key(named[n]), n) for n, count in left.items() if not count]
    heapq.heapify(free)
    found: list[Task] = []
    while free:
        _, name = heapq.heappop(free)
        found.append(named[name])
        for later in follows[name]:
            left[later] -= 1
            if not left[later]:
                heapq.heappush(free, (key(named[later]), later))
    if len(found) < len(tasks):
        msg = ", ".join(sorted(set(named) - {t.name for t in found}))
        raise ValueError(msg)
    return tuple(found)


def forward(
    tasks: Sequence[Task], days: Mapping[str, Days], releases: Mapping[str, tuple[float, Because]],
    start: float = 0.0,
) -> dict[str, Booked]:  # fmt: skip
    """Book each task as early as it can be, in the order given.

    :param releases: the moment before which a task cannot start, and why.
    """
    found: dict[str, Booked] = {}
    busy: dict[str, Booked] = {}
    for task in tasks:
        bounds = [(start, Because("start"))]
        bounds += [
            (found[k.task].finish + k.wait, Because("after", k.task, k.wait)) for k in task.after
        ]
        if task.name in releases:
            bounds.append(releases[task.name])
        if task.who in busy:
            last = busy[task.who]
            bounds.append((last.finish, Because("hands", last.task.name)))
        ready = max(moment for moment, _ in bounds)
        because = next(b for moment, b in bounds if moment >= ready - TINY)
        found[task.name] = Booked(
            task, *days[task.days].advance(ready, task.hours, task.whole), because
        )
        if task.who:
            busy[task.who] = found[task.name]
    return found


def backward(booked: Mapping[str, Booked], days: Mapping[str, Days]) -> dict[str, float]:
    """The latest start of each task that leaves the finish where it is."""
    due = dict.fromkeys(booked, finish_of(booked))
    latest: dict[str, float] = {}
    next_of: dict[str, str] = {}
    for name in reversed(list(booked)):
        task = booked[name].task
        if task.who in next_of:
            due[name] = min(due[name], latest[next_of[task.who]])
        latest[name], _ = days[task.days].retreat(due[name], task.hours, task.whole)
        for link in task.after:
            due[link.task] = min(due[link.task], latest[name] - link.wait)
        if task.who:
            next_of[task.who] = name
    return latest


def finish_of(booked: Mapping[str, Booked]) -> float:
    """When the last task ends."""
    return max((b.finish for b in booked.values()), default=0.0)


def binding(booked: Mapping[str, Booked]) -> tuple[Booked, ...]:
    """The chain of tasks that sets the finish, first to last."""
    if not booked:
        return ()
    finish = finish_of(booked)
    at = next(b for b in booked.values() if b.finish >= finish - TINY)
    chain = [at]
    while at.because.kind in ("after", "hands"):
        at = booked[at.because.name]
        chain.append(at)
    return tuple(reversed(chain))


def day_of(moment: float, end: bool = False) -> int:
    """The day that a moment lies on; an ``end`` at midnight still belongs to the day before."""
    return int((moment - (TINY if end else -TINY)) // DAY)
