"""Cells and settings changed for one run: what is read, and what is refused."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from budget.workbook import read
from budget.workbook.changes import ChangeError, parse

Make = Callable[..., Path]


def test_a_cell_is_read_as_if_typed(make: Make) -> None:
    path = make()
    before = path.read_bytes()
    job = read(path, changes=parse(["Quotes!C2=31.50"])).job
    assert job is not None
    assert [q.price for q in job.quotes] == [3150, 3200]
    assert path.read_bytes() == before


def test_a_setting_is_found_by_its_name(make: Make) -> None:
    path = make(job={"Value of an own hour": 20})
    job = read(path, changes=parse(["job: value of an own hour = 35"])).job
    assert job is not None
    assert job.settings.hour_value == 3500


def test_text_with_a_unit_is_understood(make: Make) -> None:
    job = read(make(), changes=parse(["Areas!C2=12' 6\""])).job
    assert job is not None
    assert job.areas[0].length == pytest.approx(12.5 * 0.3048)


@pytest.mark.parametrize("typed", ["1.990", "1,990", "1.99", "1,99", "1990", "1.9900"])
@pytest.mark.parametrize("units", ["imperial", "metric"])
def test_a_mark_before_three_digits_means_what_it_would_in_the_cell(
    make: Make, typed: str, units: str
) -> None:
    """Of a metric job it is asked about, since thousands may be marked so."""
    changes = parse([f"Quotes!C2={typed}", f"Job:Units={units}"])
    found = read(make(job={"Units": "imperial"}), changes=changes)
    about = [n.code for n in found.problems if n.cell == "Quotes!C2"]
    asked = units == "metric" and typed in ("1.990", "1,990")
    assert about == (["unit-unclear"] if asked else [])


def test_a_value_that_does_not_read_is_a_problem_of_its_cell(make: Make) -> None:
    reading = read(make(), changes=parse(["Quotes!C2=cheap"]))
    assert reading.job is None
    assert [p.cell for p in reading.problems] == ["Quotes!C2"]


@pytest.mark.parametrize("formula", ["=C2*2", "=SUM(C1:C2)", "=Quotes!$C$2+1", '=INDIRECT("C2")'])
def test_a_cell_that_a_formula_rests_on_is_refused(make: Make, formula: str) -> None:
    quotes = [
        ["Item", "Supplier", "Price (USD)", "Per"],
        ["Base stone", "North Pit", 30, "ton"],
        ["Base stone", "South Pit", formula, "ton"],
    ]
    with pytest.raises(ChangeError, match="the formula in Quotes!C3"):
        read(make({"Quotes": quotes}), changes=parse(["Quotes!C2=31"]))


def test_a_formula_reached_by_way_of_another_sheet_is_refused(make: Make) -> None:
    quotes = [
        ["Item", "Supplier", "Price (USD)", "Per"],
        ["Base stone", "North Pit", 30, "ton"],
        ["Base stone", "South Pit", "=Notes!A1", "ton"],
    ]
    with pytest.raises(ChangeError, match=r"Quotes!C3 depends on it"):
        read(make({"Quotes": quotes, "Notes": [["=Quotes!C2"]]}), changes=parse(["Quotes!C2=1"]))


def test_a_formula_that_is_not_read_does_not_matter(make: Make) -> None:
    job = read(make({"Notes": [["=Quotes!C2"]]}), changes=parse(["Quotes!C2=1"])).job
    assert job is not None
    assert job.quotes[0].price == 100


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("Quotes", "is not a change"),
        ("Quotes!C2=", "is not a change"),
        ("Qoutes!C2=1", "There is no sheet named Qoutes. Did you mean Quotes"),
        ("Job:Sales tx=5", "There is no setting named Sales tx. Did you mean Sales tax"),
        ("Quotes!C1=7", "Nothing is read from Quotes!C1"),
        ("Quotes!AZ2=7", "Nothing is read from Quotes!AZ2"),
        ("Job:Spending limit=500", "has no row for Spending limit"),
    ],
)
def test_what_cannot_be_changed_is_said(make: Make, text: str, words: str) -> None:
    with pytest.raises(ChangeError, match=words):
        read(make(), changes=parse([text]))
