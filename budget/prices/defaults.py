"""Documented defaults that the prices fall back on, each noted once as assumed."""

from __future__ import annotations

from budget.figures import Figure
from budget.job import Assumption, Notice, Row
from budget.reference import coefficient
from budget.units import Kind, System


class Notes:
    """What was assumed and what must be warned about while the options are laid out."""

    def __init__(self, system: System) -> None:
        """Start an empty list; ``system`` is how values are written down."""
        self.system = system
        self._assumed: set[Assumption] = set()
        self._warnings: set[Notice] = set()

    def default(self, name: str, sheet: str = "", words: str = "") -> Figure:
        """A reference coefficient's likely value, noted as assumed.

        ``sheet`` is where a value of one's own would go.

        >>> notes = Notes("imperial")
        >>> notes.default("hours per day", "Job").words("imperial")
        '8 h'
        >>> [a.what for a in notes.assumed]
        ['own hours in a working day']
        """
        found = coefficient(name)
        figure = found.figure(words)
        self.assume(found.what, figure.words(self.system), found.cited, sheet)
        return figure

    def assume(self, what: str, value: str, source: str, sheet: str) -> None:
        """Note one default that was used."""
        self._assumed.add(Assumption(what, value, source, sheet))

    def warn(self, row: Row, field: str, code: str, found: str, expected: str, mend: str) -> None:
        """Note that one field of a row keeps an option from being used as written."""
        place = row.place
        cell = row.cell(field)
        self._warnings.add(
            Notice(place.sheet, place.row, cell, code, found, expected, mend, "warning")
        )

    @property
    def assumed(self) -> tuple[Assumption, ...]:
        """What was assumed, in a fixed order."""
        return tuple(sorted(self._assumed, key=lambda a: (a.sheet, a.what, a.value, a.source)))

    @property
    def warnings(self) -> tuple[Notice, ...]:
        """The warnings, in a fixed order."""
        return tuple(sorted(self._warnings))


def if_filled(row: Row, field: str, kind: Kind, words: str) -> Figure | None:
    """A field of a row as a figure, ``None`` if it is blank."""
    return None if getattr(row, field) is None else row.figure(field, kind, words)


def unique(key: str, taken: set[str]) -> str:
    """``key``, or ``key #2`` and so on where it is taken already; marks it taken.

    >>> taken: set[str] = set()
    >>> unique("borrow", taken), unique("borrow", taken)
    ('borrow', 'borrow #2')
    """
    name, number = key, 1
    while name.casefold() in taken:
        number += 1
        name = f"{key} #{number}"
    taken.add(name.casefold())
    return name
