"""``python -m budget`` is the ``budget`` command."""

from budget.cli import main

if __name__ == "__main__":
    main(prog_name="budget")
