"""One writer at a time: an advisory lock on an open file, on every system Python runs on."""

from __future__ import annotations

import contextlib
import os
import sys
import time
from collections.abc import Iterator

#: How long a second writer waits for the first, in seconds.
PATIENCE = 30.0


@contextlib.contextmanager
def locked(handle: int) -> Iterator[None]:
    """Hold an open file for one writer; the lock goes with the process if it dies.

    Raises ``TimeoutError`` if another writer holds it for longer than :data:`PATIENCE`.
    """
    end = time.monotonic() + PATIENCE
    while not _try(handle):
        if time.monotonic() > end:
            msg = "another program has been writing to it for too long"
            raise TimeoutError(msg)
        time.sleep(0.02)
    try:
        yield
    finally:
        _release(handle)


if sys.platform == "win32":
    import msvcrt

    #: A byte far past any journal: a lock on Windows forbids reading what it covers.
    _FAR = 2**30

    def _try(handle: int) -> bool:
        os.lseek(handle, _FAR, os.SEEK_SET)
        try:
            msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)
        except OSError:
            return False
        return True

    def _release(handle: int) -> None:
        os.lseek(handle, _FAR, os.SEEK_SET)
        msvcrt.locking(handle, msvcrt.LK_UNLCK, 1)

else:
    import fcntl

    def _try(handle: int) -> bool:
        try:
            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            return False
        return True

    def _release(handle: int) -> None:
        fcntl.flock(handle, fcntl.LOCK_UN)
