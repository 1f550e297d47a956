"""Planning on two cores: tasks shared out to planners in a fixed way.

The solver runs outside Python's lock, so that two planners in two threads take little more time
than one. Who does which task never depends on which is quicker, so answers do not either.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from concurrent.futures import ThreadPoolExecutor
from typing import TypeVar

from budget.decide.planner import Planner

Task = TypeVar("Task")
Result = TypeVar("Result")

#: Planners that work at the same time.
PLANNERS = 2


class Crew:
    """A planner and its twins."""

    def __init__(self, planner: Planner) -> None:
        """Twin the planner with what it knows by now."""
        self.planners = (planner, *(planner.twin() for _ in range(PLANNERS - 1)))

    def each(self, tasks: Sequence[Task], work: Callable[[Planner, Task], Result]) -> list[Result]:
        """The results of all tasks, in their order; every planner takes every other one."""

        def share(number: int) -> list[Result]:
            return [work(self.planners[number], task) for task in tasks[number::PLANNERS]]

        with ThreadPoolExecutor(PLANNERS) as pool:
            shares = list(pool.map(share, range(PLANNERS)))
        return [shares[i % PLANNERS][i // PLANNERS] for i in range(len(tasks))]
