"""``python -m budget`` is the ``budget`` command."""

from __future__ import annotations

import signal
import sys


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
        sys.exit(128 + signal.SIGINT)


if __name__ == "__main__":
    run()
