"""From records to the typed rows of :mod:`budget.job`."""

from __future__ import annotations

import dataclasses
from dataclasses import dataclass, field
from typing import Any

from budget import job
from budget.workbook.problems import nearest
from budget.workbook.rules import RULES, Row
from budget.workbook.sheets.describe import Sheet, key
from budget.workbook.table import Notes, Record
from budget.workbook.values import currency_of, read_cell


@dataclass
class Draft:
    """One typed row, the record it came from, and the fields that could not be read."""

    row: Any
    record: Record
    bad: set[str] = field(default_factory=set)

    def change(self, **values: Any) -> None:
        """Replace some of the row's values."""
        self.row = dataclasses.replace(self.row, **values)

    def filled(self, name: str) -> bool:
        """Whether the field was filled in (readable or not)."""
        return name in self.record.cells


Drafts = dict[str, list[Draft]]


def settings_draft(sheet: Sheet, record: Record, notes: Notes) -> Draft:
    """The Job sheet. Units and currency are read first: other cells depend on them."""
    for name, attribute in (("units", "system"), ("currency", "currency")):
        cell = record.cells.get(name)
        value = read_cell(sheet.column(name), cell, Notes()) if cell else None
        if value:
            setattr(notes, attribute, str(value).upper() if name == "currency" else value)
    draft = _draft(sheet, record, notes)
    if draft is None:
        raise AssertionError("the Job sheet requires no setting")
    code = draft.row.currency.upper()
    if not (len(code) == 3 and code.isalpha()):
        words = {"expected": "three letters, such as USD or EUR", "mend": "Correct it."}
        notes.about(record, "currency", "not-a-measure", **words)
    places = {name: cell.address for name, cell in record.cells.items()}
    draft.change(currency=code, places=places)
    return draft


def drafts(sheet: Sheet, records: list[Record], notes: Notes) -> list[Draft]:
    """The typed rows of one sheet; a row that lacks what it must have is left out."""
    found = [_draft(sheet, record, notes) for record in records]
    kept = [draft for draft in found if draft is not None]
    _check_unique(sheet, kept, notes)
    return kept


def _draft(sheet: Sheet, record: Record, notes: Notes) -> Draft | None:
    values: dict[str, Any] = {}
    bad: set[str] = set()
    for column in sheet.columns:
        cell = record.cells.get(column.field)
        if cell is None:
            if column.required and column.field in record.letters:
                words = {"title": column.title.lower(), "note": column.note}
                notes.about(record, column.field, "cell-blank", **words)
            if column.required:
                bad.add(column.field)
            continue
        _check_currency(column.value, cell.unit, record, column.field, notes)
        value = read_cell(column, cell, notes)
        if value is None:
            bad.add(column.field)
        else:
            values[column.field] = value
    row = Row(record, values, bad, notes)
    rule = RULES.get(sheet.name)
    if rule:
        rule(row)
    if any(column.required and column.field in bad for column in sheet.columns):
        notes.left_out.setdefault(sheet.name, []).append(values)
        return None
    given = {k: v for k, v in values.items() if v is not None and k not in sheet.helpers}
    place = job.Place(sheet.name, record.row, dict(record.letters))
    return Draft(sheet.row(place=place, **given), record, bad)


def _check_currency(value: str, unit: str, record: Record, name: str, notes: Notes) -> None:
    currency = currency_of(unit, notes.currency) if value == "money" else ""
    if currency in ("", notes.currency) or not notes.first("header-currency"):
        return
    shown = f"titles in {currency}"
    notes.about(record, name, "header-currency", shown, currency=notes.currency)


def _check_unique(sheet: Sheet, kept: list[Draft], notes: Notes) -> None:
    if not sheet.unique:
        return
    seen: dict[tuple[str, ...], int] = {}
    for draft in kept:
        named = tuple(key(str(getattr(draft.row, name))) for name in sheet.unique)
        if not any(named) or draft.bad & set(sheet.unique):
            continue
        if named in seen:
            titles = [sheet.column(name).title.lower() for name in sheet.unique]
            what = " with ".join((titles[0], " and ".join(titles[1:]))) if titles[1:] else titles[0]
            shown = ", ".join(f"'{getattr(draft.row, name)}'" for name in sheet.unique)
            words = {"what": what, "row": str(seen[named])}
            notes.about(draft.record, sheet.unique[0], "name-twice", shown, **words)
        else:
            seen[named] = draft.record.row


def settle_names(sheets: tuple[Sheet, ...], rows: Drafts, notes: Notes) -> None:
    """Write every name as its defining sheet does, and report names nobody defines.

    Where the defining sheet could not be read, or a row of it was left out for another cell, that
    has been said; its names are not doubted.
    """
    unread = notes.unread()
    for sheet in sheets:
        for column in sheet.columns:
            if column.names is None or column.names.sheet in unread:
                continue
            defined = _defined(rows, column.names.sheet, column.names.field, notes)
            for draft in rows.get(sheet.name, ()):
                name = getattr(draft.row, column.field)
                if not name or column.field in draft.bad:
                    continue
                if key(name) in defined:
                    draft.change(**{column.field: defined[key(name)]})
                elif column.names.unknown == "problem":
                    where = column.names.sheet
                    hint = nearest(name, defined.values()) or f"Add it to {where}, or correct it."
                    words = {"sheet": where, "near": hint}
                    notes.about(draft.record, column.field, "name-unknown", **words)


def _defined(rows: Drafts, sheet: str, name: str, notes: Notes) -> dict[str, str]:
    found = [str(getattr(d.row, name)) for d in rows.get(sheet, ())]
    found += [str(values.get(name, "")) for values in notes.left_out.get(sheet, ())]
    return {key(n): n for n in reversed(found) if n}
