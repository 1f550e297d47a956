"""What every row of a sheet knows: where it was read."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from budget.figures import Figure, given
from budget.units import Kind


@dataclass(frozen=True, slots=True)
class Place:
    """Where a row was read: its sheet, its row number, and the column letter of each field."""

    sheet: str
    row: int
    columns: Mapping[str, str] = field(default_factory=dict)

    def cell(self, name: str) -> str:
        """The address of one field, such as ``Areas!D5`` (the row if it has no column)."""
        return f"{self.sheet}!{self.columns.get(name, 'A')}{self.row}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One row of a sheet."""

    place: Place

    def cell(self, name: str) -> str:
        """The address of one field of this row."""
        return self.place.cell(name)

    def figure(self, name: str, kind: Kind, words: str) -> Figure:
        """A numeric field as a figure that knows its cell. The field must not be blank."""
        value = getattr(self, name)
        if value is None:
            msg = f"{self.cell(name)} is blank"
            raise ValueError(msg)
        return given(float(value), kind, words, self.cell(name))
