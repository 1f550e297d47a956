"""Writing a file so that it is there whole or, after a fault, as it was before."""

from __future__ import annotations

import contextlib
import io
import os
import tempfile
from collections.abc import Iterator
from pathlib import Path


@contextlib.contextmanager
def whole_file(path: Path) -> Iterator[Path]:
    """A file beside ``path`` to write to, which takes its place once all is written.

    It is safe on the disk before it does. Whatever goes wrong, ``path`` stays as it was and
    nothing is left beside it. An ``OSError`` names the file that was asked for.

    >>> import tempfile
    >>> path = Path(tempfile.mkdtemp()) / "note.txt"
    >>> with whole_file(path) as scratch:
    ...     _ = scratch.write_text("all of it")
    >>> path.read_text(), len(list(path.parent.iterdir()))
    ('all of it', 1)
    """
    scratch = None
    try:
        handle, name = tempfile.mkstemp(f"{path.suffix}", f".{path.stem}-", path.parent)
        os.close(handle)
        scratch = Path(name)
        yield scratch
        _settle(scratch)
        scratch.replace(path)
    except OSError as error:
        if error.errno is not None:
            error.filename, error.filename2 = str(path), None
        raise
    finally:
        if scratch is not None:
            scratch.unlink(missing_ok=True)


@contextlib.contextmanager
def whole_bytes(path: Path) -> Iterator[io.BytesIO]:
    """The same for what a library writes: into memory first.

    A library that meets a full disk while it packs a file leaves the half of it open, and says
    so once more when the program ends.

    >>> import tempfile
    >>> path = Path(tempfile.mkdtemp()) / "note.txt"
    >>> with whole_bytes(path) as buffer:
    ...     _ = buffer.write(b"all of it")
    >>> path.read_text()
    'all of it'
    """
    with whole_file(path) as scratch:
        buffer = io.BytesIO()
        yield buffer
        scratch.write_bytes(buffer.getbuffer())


def _settle(scratch: Path) -> None:
    """Give a file the usual permissions and see it onto the disk."""
    mask = os.umask(0)
    os.umask(mask)
    scratch.chmod(0o666 & ~mask)
    with scratch.open("rb+") as file:
        os.fsync(file.fileno())
