"""The descriptions of the sheets against the typed rows of the job."""

from __future__ import annotations

import dataclasses
import re
import typing

import pytest

from budget import job
from budget.units import MONEY, System
from budget.workbook.rules import bases
from budget.workbook.sheets.describe import Column, Sheet, key
from budget.workbook.sheets.tabs import SHEETS
from budget.workbook.template.cell_checks import note_of


def _named(described: Sheet | Column) -> str:
    return described.name if isinstance(described, Sheet) else described.title


COLUMNS = [(sheet, column) for sheet in SHEETS for column in sheet.columns]


@pytest.mark.parametrize("sheet", SHEETS, ids=lambda s: s.name)
def test_columns_and_fields_are_the_same(sheet: Sheet) -> None:
    fields = {f.name for f in dataclasses.fields(sheet.row)} - {"place", "places"}
    described = {c.field for c in sheet.columns} - set(sheet.helpers) | set(sheet.worked_out)
    assert described == fields


@pytest.mark.parametrize("sheet", SHEETS, ids=lambda s: s.name)
def test_a_field_without_a_default_is_a_required_column(sheet: Sheet) -> None:
    needed = {
        f.name
        for f in dataclasses.fields(sheet.row)
        if f.default is dataclasses.MISSING and f.default_factory is dataclasses.MISSING
    }
    required = {c.field for c in sheet.columns if c.required}
    assert needed - {"place"} <= required


@pytest.mark.parametrize("sheet", SHEETS, ids=lambda s: s.name)
def test_titles_of_one_sheet_differ(sheet: Sheet) -> None:
    titles = [key(c.title) for c in sheet.columns]
    assert len(set(titles)) == len(titles)


def test_every_list_of_rows_in_the_job_has_its_sheet() -> None:
    targets = {f.name for f in dataclasses.fields(job.Job)}
    assert {sheet.target for sheet in SHEETS} == targets


@pytest.mark.parametrize(
    ("sheet", "column"), COLUMNS, ids=lambda x: getattr(x, "title", "") or x.name
)
def test_choices_are_those_of_the_typed_field(sheet: Sheet, column: Column) -> None:
    hint = typing.get_type_hints(sheet.row).get(column.field)
    if typing.get_origin(hint) is typing.Literal and column.value == "choice":
        assert set(column.options()) == set(typing.get_args(hint))
    if hint is bool:
        assert column.value == "flag"


@pytest.mark.parametrize(
    ("sheet", "column"), COLUMNS, ids=lambda x: getattr(x, "title", "") or x.name
)
def test_notes_fit_a_cell_note_and_are_there(sheet: Sheet, column: Column) -> None:
    assert column.note.endswith(".")
    assert len(note_of(column)) <= 255  # the limit of an input message
    assert len(column.title) <= 32
    if column.value == "measure":
        assert column.kind is not None
    if column.value == "money":
        assert column.kind is not None
        assert column.kind.dimension[3] == MONEY.dimension[3]


@pytest.mark.parametrize(
    ("sheet", "column"), COLUMNS, ids=lambda x: getattr(x, "title", "") or x.name
)
def test_names_point_at_a_column_that_defines_them(sheet: Sheet, column: Column) -> None:
    if column.names is not None:
        defining = next(s for s in SHEETS if s.name == column.names.sheet)
        assert defining.column(column.names.field).value == "text"


@pytest.mark.parametrize("system", typing.get_args(System))
def test_the_note_of_a_fee_names_every_basis_offered(system: System) -> None:
    delivery = next(sheet for sheet in SHEETS if sheet.name == "Delivery")
    told = {word.strip() for word in re.split(r"[:,.()]", delivery.column("basis").note)}
    assert set(bases(system)) <= told


def test_every_basis_of_a_fee_can_be_chosen() -> None:
    assert set(typing.get_args(job.DeliveryBasis)) <= set(bases("imperial"))


def test_the_three_required_sheets_come_first() -> None:
    assert [s.name for s in SHEETS if s.required] == ["Job", "Areas", "Quotes"]
    assert [s.name for s in SHEETS[:3]] == ["Job", "Areas", "Quotes"]
