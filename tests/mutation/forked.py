"""Plugin for pytest: the tests are collected once; each change is tried in a forked process.

Only what functions do is changed, so that it is enough to give the functions of the module, which
is imported already, their changed code. What a module works out while it is imported keeps its
old value: a change of a line that runs before any test, and that is not noticed here, is tried once
more in a fresh process (``run.py``).
"""

from __future__ import annotations

import ast
import functools
import gc
import os
import resource
import signal
import time
import types
from collections import Counter, defaultdict
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

import pytest

#: Seconds after which a changed program counts as noticed: it does not end. Beside it, how often
#: the tests' own processor time is waited for.
LONGEST, TIMES = 30, 10
#: Bytes that a changed program may take.
MEMORY = 6 * 2**30
#: Exit status of a process that could not be given its change.
UNTRIED = 3


@dataclass(frozen=True)
class Trial:
    """One change of one module, the tests that run its line, and their seconds."""

    path: Path
    tree: Callable[[], ast.Module]
    tests: Sequence[str]
    seconds: float


class Forked:
    """Runs the trials instead of the tests, and tells of each whether a test failed.

    ``warm`` names demos that are compared once, before anything is changed: only where no change
    can alter what comparing gives.
    """

    def __init__(
        self, trials: Sequence[Trial], told: Callable[[int, bool], None], warm: Sequence[str] = ()
    ) -> None:
        self.trials, self.told, self.warm = trials, told, warm
        self._killers: defaultdict[Path, Counter[str]] = defaultdict(Counter)

    @pytest.hookimpl(tryfirst=True)
    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        items = {item.nodeid: item for item in session.items}
        for plugin in session.config.pluginmanager.get_plugins():
            for demo in self.warm if hasattr(plugin, "compared") else ():
                plugin.compared(demo)
        functions = _functions({str(trial.path) for trial in self.trials})
        gc.freeze()
        for number, trial in enumerate(self.trials):
            first = self._killers[trial.path]
            names = sorted(trial.tests, key=lambda name: -first[name])
            chosen = [items[name] for name in names]
            killer = _tried(session, trial, chosen, functions[str(trial.path)])
            if killer:
                first[killer] += 1
            self.told(number, killer is not None)
        self._sound(session, items)
        return True

    def _sound(self, session: pytest.Session, items: dict[str, pytest.Item]) -> None:
        """Each test that noticed a change must pass by itself without one."""
        for name in sorted({name for each in self._killers.values() for name in each}):
            if _tried(session, None, [items[name]], ()) is not None:
                msg = f"{name} fails without any change"
                raise RuntimeError(msg)


def _tried(
    session: pytest.Session, trial: Trial | None, items: Sequence[pytest.Item],
    functions: Sequence[types.FunctionType],
) -> str | None:  # fmt: skip
    """The test that failed ("" if the program did not end), None if none did."""
    reads, writes = os.pipe()
    child = os.fork()
    if child == 0:
        os.close(reads)
        status = 1
        try:
            status = _child(session, trial, items, functions, writes)
        finally:  # nothing of a child may go on as if it were the parent
            os._exit(status)
    os.close(writes)
    until = time.monotonic() + LONGEST + TIMES * (trial.seconds if trial else LONGEST)
    try:
        while time.monotonic() < until:
            ended, status = os.waitpid(child, os.WNOHANG)
            if ended:
                failed = os.read(reads, 65536).decode()
                return failed if os.waitstatus_to_exitcode(status) not in (0, UNTRIED) else None
            time.sleep(0.02)
        os.killpg(child, signal.SIGKILL)
        os.waitpid(child, 0)
        return ""
    finally:
        os.close(reads)


def _child(
    session: pytest.Session, trial: Trial | None, items: Sequence[pytest.Item],
    functions: Sequence[types.FunctionType], writes: int,
) -> int:  # fmt: skip
    os.setsid()
    quiet = os.open(os.devnull, os.O_WRONLY)
    os.dup2(quiet, 1)
    os.dup2(quiet, 2)
    resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))
    if trial is not None:
        try:
            give(trial.tree(), str(trial.path), functions)
        except Exception:
            return UNTRIED
    try:
        for item, after in zip(items, [*items[1:], None], strict=True):
            item.config.hook.pytest_runtest_protocol(item=item, nextitem=after)
            if session.testsfailed:
                os.write(writes, item.nodeid.encode())
                return 1
    except BaseException:  # whatever a changed program does to pytest itself
        return 1
    return 0


def give(tree: ast.Module, path: str, functions: Sequence[types.FunctionType]) -> None:
    """Give functions the code of the same place in a changed module; forget what is cached.

    What tests keep stays: the plugin alone may have filled that, with what cannot change.
    """
    code = compile(tree, path, "exec")
    new = {(c.co_qualname, c.co_firstlineno): c for c in _codes(code)}
    for function in functions:
        old = function.__code__
        function.__code__ = new.get((old.co_qualname, old.co_firstlineno), old)
    for cached in gc.get_objects():
        if isinstance(cached, functools._lru_cache_wrapper) and _ours(cached):
            cached.cache_clear()


def _ours(function: object) -> bool:
    return str(getattr(function, "__module__", "")).partition(".")[0] == "budget"


def _codes(code: types.CodeType) -> Iterator[types.CodeType]:
    yield code
    for constant in code.co_consts:
        if isinstance(constant, types.CodeType):
            yield from _codes(constant)


def _functions(paths: set[str]) -> dict[str, list[types.FunctionType]]:
    """Every function alive of some modules, wrapped ones and methods too."""
    found: dict[str, list[types.FunctionType]] = {path: [] for path in paths}
    for thing in gc.get_objects():
        if isinstance(thing, types.FunctionType) and thing.__code__.co_filename in paths:
            found[thing.__code__.co_filename].append(thing)
    return found
