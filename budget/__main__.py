"""``python -m budget`` is the ``budget`` command."""

from __future__ import annotations

import sys

INTERRUPTED = 130  # 128 and the number of the signal, as shells have it


def run() -> None:
    """Load the command and run it; stopped while still loading, it ends as when stopped later.

    >>> run.__module__
    'budget.__main__'
    """
    try:
        from budget.cli import main

        main(prog_name="budget")
    except KeyboardInterrupt:
        sys.stderr.write("Stopped.\n")
        sys.exit(INTERRUPTED)


if __name__ == "__main__":
    run()
