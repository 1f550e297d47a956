"""Looking for garbage later, where much is made that is kept until the end anyway."""

from __future__ import annotations

import contextlib
import gc
from collections.abc import Iterator


@contextlib.contextmanager
def collected_later() -> Iterator[None]:
    """Do not look for cyclic garbage meanwhile.

    Reading or writing a long sheet makes millions of objects that live until the work is done;
    walking through all of them again and again takes longer than a third of the work.

    >>> with collected_later():
    ...     gc.isenabled()
    False
    >>> gc.isenabled()
    True
    """
    was = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was:
            gc.enable()
