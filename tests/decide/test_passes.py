"""Forward and backward pass against longest paths that networkx finds."""

from __future__ import annotations

import random

import networkx as nx
import pytest

from budget.decide.calendar.days import Days
from budget.decide.calendar.network import Link, Task, backward, finish_of, forward, sequence


def _random_tasks(r: random.Random) -> list[Task]:
    """Tasks of two crews, and of nobody, with links and waits between them."""
    tasks: list[Task] = []
    for i in range(r.randint(2, 20)):
        before = [task.name for task in tasks if r.random() < 0.2]
        links = tuple(Link(name, r.choice([0.0, 0.0, 24.0])) for name in before)
        who = r.choice(["", "own", "crew"])
        tasks.append(Task(f"{i:02}", "", r.uniform(0.5, 30.0), r.random(), who=who, after=links))
    return tasks


@pytest.mark.parametrize("seed", range(20))
def test_both_passes_are_the_longest_paths_to_a_task_and_from_it(seed: int) -> None:
    """Working day and night. Tasks of one crew follow each other in the order of the sequence."""
    tasks = sequence(_random_tasks(random.Random(seed)), lambda t: t.order)
    graph = nx.DiGraph()
    last: dict[str, Task] = {}
    for task in tasks:
        graph.add_edge("start", task.name, weight=0.0)
        graph.add_edge(task.name, "end", weight=task.hours)
        for link in task.after:
            hours = next(t.hours for t in tasks if t.name == link.task)
            graph.add_edge(link.task, task.name, weight=hours + link.wait)
        before = last.get(task.who) if task.who else None
        if before is not None and not graph.has_edge(before.name, task.name):
            graph.add_edge(before.name, task.name, weight=before.hours)
        last[task.who] = task
    days = {"": Days([True] * 200, 24.0, morning=0.0)}
    booked = forward(tasks, days, {})
    latest = backward(booked, days)
    reverse = graph.reverse()
    for task in tasks:
        to, off = (_longest(g, end, task.name) for g, end in ((graph, "start"), (reverse, "end")))
        assert booked[task.name].start == pytest.approx(to, abs=1e-5)
        assert latest[task.name] == pytest.approx(finish_of(booked) - off, abs=1e-5)


def _longest(graph: nx.DiGraph, start: str, end: str) -> float:
    """The heaviest path between two nodes."""
    between = nx.descendants(graph, start) & nx.ancestors(graph, end) | {start, end}
    return float(nx.dag_longest_path_length(graph.subgraph(between), weight="weight"))


def test_work_of_nothing_ends_at_once() -> None:
    assert finish_of({}) == 0.0
