"""What a search for a plan finds, how long it may take, who is told how it goes, and its end.

All but the first hold for a whole command: searches are begun deep inside, in threads of their own.
"""

from __future__ import annotations

import contextlib
import time
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass

#: Seconds after which a search stops and says that it has not proved its answer.
TIME_LIMIT = 60.0

#: Seconds of one search before anybody is told, and from one telling to the next.
TOLD_AFTER, TOLD_EVERY = 0.5, 0.2

#: Told of one search: seconds so far, and the share of the total by which the best plan found
#: may be improved on (infinity while none is found).
Tell = Callable[[float, float], None]

#: Seconds that the thread which asks has worked; by the clock where a platform does not tell.
worked: Callable[[], float] = getattr(time, "thread_time", time.monotonic)


class NothingFoundError(Exception):
    """A solve was stopped before it had any answer at all."""


class GivenUpError(Exception):
    """Nobody waits for a search any more."""


@dataclass(frozen=True, slots=True)
class Answer:
    """One solve: the value of each column, the objective, and what is proved about it."""

    values: tuple[float, ...]
    objective: float
    proved: bool
    gap: float


@dataclass(frozen=True, slots=True)
class Seconds:
    """How long a search may take, and how long at most where it has found nothing by then."""

    first: float
    last: float


@dataclass(slots=True)
class _Search:
    limit: float = TIME_LIMIT
    tell: Tell | None = None
    told_at: float = 0.0
    given_up: bool = False


_NOW = _Search()


@contextlib.contextmanager
def at_most(seconds: float | None) -> Iterator[None]:
    """Stop every search begun meanwhile after so many seconds; the usual limit where None.

    >>> with at_most(2.5):
    ...     limit()
    2.5
    >>> limit()
    60.0
    """
    before = _NOW.limit
    _NOW.limit = before if seconds is None else seconds
    try:
        yield
    finally:
        _NOW.limit = before


def limit() -> float:
    """Seconds that a search begun now may take."""
    return _NOW.limit


@contextlib.contextmanager
def told(tell: Tell) -> Iterator[None]:
    """Tell how searches go meanwhile, those that take longer than a moment."""
    before, _NOW.tell = _NOW.tell, tell
    try:
        yield
    finally:
        _NOW.tell = before


def report(began: float, gap: float) -> None:
    """Tell of a search that began at a time of :func:`time.monotonic`, if it is time to."""
    now = time.monotonic()
    if _NOW.tell and now - began >= TOLD_AFTER and now - _NOW.told_at >= TOLD_EVERY:
        _NOW.told_at = now
        _NOW.tell(now - began, gap)


@contextlib.contextmanager
def side_by_side(threads: int) -> Iterator[ThreadPoolExecutor]:
    """Threads to search in. They end soon where waiting for them is interrupted.

    >>> with side_by_side(2) as pool:
    ...     list(pool.map(abs, (-1, 2)))
    [1, 2]
    """
    pool = ThreadPoolExecutor(threads)
    interrupted = False
    try:
        yield pool
    except KeyboardInterrupt:
        interrupted = _NOW.given_up = True
        raise
    finally:
        pool.shutdown()
        if interrupted:
            _NOW.given_up = False


def given_up() -> bool:
    """Whether nobody waits for the searches under way any more."""
    return _NOW.given_up


def end_if_given_up() -> None:
    """Asked between the steps of a search.

    :raises GivenUpError: where nobody waits for it any more.
    """
    if _NOW.given_up:
        raise GivenUpError
