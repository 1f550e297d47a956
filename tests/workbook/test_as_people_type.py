"""What a person types is read where it can mean one thing only, and else answered with help."""

from __future__ import annotations

import datetime as dt
from typing import Any

import pytest

from budget.workbook import read

AREA = ["Part", "Shape", "Length", "Width", "Paver"]
QUOTE = ["Item", "Supplier", "Price", "Per"]


@pytest.mark.parametrize(
    "typed", ["2026-05-15", "May 15, 2026", "15 may 2026", "15th May 2026", "May 15 2026"]
)
def test_a_date_with_its_month_by_name_is_one_day(make: Any, typed: str) -> None:
    job = read(make({}, {"Start date": typed})).job
    assert job is not None
    assert job.settings.start == dt.date(2026, 5, 15)


@pytest.mark.parametrize("typed", ["5/6/2026", "31 June 2026", "15 Mai 2026", "May 2026"])
def test_a_date_that_is_none_or_two_days_is_asked_about(make: Any, typed: str) -> None:
    found = read(make({}, {"Start date": typed})).problems
    assert [n.code for n in found] == ["not-a-date"]


@pytest.mark.parametrize(
    ("typed", "asked"),
    [
        ("4/1/2026", "Type 2026-01-04 or 2026-04-01, whichever is meant."),
        ("1.4.26", "Type 2026-01-04 or 2026-04-01, whichever is meant."),
        ("4/15/2026", "Type 2026-04-15, if that is meant."),
        ("15-04-2026", "Type 2026-04-15, if that is meant."),
        ("4/4/2026", "Type 2026-04-04, if that is meant."),
        ("31/31/2026", "Type it so."),
        ("soon", "Type it so."),
    ],
)
def test_a_date_in_numbers_is_answered_with_the_days_it_may_mean(
    make: Any, typed: str, asked: str
) -> None:
    assert [n.mend for n in read(make({}, {"Start date": typed})).problems] == [asked]


@pytest.mark.parametrize("typed", ["Sat and Sun", "sat, sun", "Saturday; Sun"])
def test_weekdays_may_be_shortened(make: Any, typed: str) -> None:
    job = read(make({}, {"Working days": typed})).job
    assert job is not None
    assert job.settings.working_days == ("Saturday", "Sunday")


@pytest.mark.parametrize("typed", ["S and S", "T", "Satan"])
def test_what_is_no_weekday_is_asked_about(make: Any, typed: str) -> None:
    assert [n.code for n in read(make({}, {"Working days": typed})).problems] == ["not-a-choice"]


@pytest.mark.parametrize("typed", ["25 dollars", "5.25 per sqft"])
def test_words_beside_money_are_answered_with_how_to_type_it(make: Any, typed: str) -> None:
    sheets = {"Quotes": [QUOTE, ["Base stone", "North Pit", typed, "ton"]]}
    found = read(make(sheets, {})).problems
    assert [n.mend for n in found] == ["Type the amount alone, such as 12.50."]


def test_a_pack_typed_as_its_content_is_told_where_to_put_it(make: Any) -> None:
    sheets = {"Quotes": [QUOTE, ["Base stone", "North Pit", 20, "1/2 ton"]]}
    found = read(make(sheets, {})).problems
    assert [n.mend for n in found] == ["Type pack here, and 1/2 ton into Pack holds."]


def test_a_misspelt_paver_is_told_the_nearest_product(make: Any) -> None:
    sheets = {
        "Areas": [AREA, ["Terrace", "rectangle", 20, 10, "Holand stone"]],
        "Products": [["Item", "Kind", "Length", "Width"], ["Holland stone", "paver", 8, 4]],
    }
    told = [n.mend for n in read(make(sheets, {})).warnings if n.code == "paver-size-assumed"]
    assert [text.endswith("Did you mean Holland stone?") for text in told] == [True]


def test_a_size_in_the_name_of_a_paver_is_asked_for(make: Any) -> None:
    """Whether 60x40 are centimetres, and true ones, only a tape tells."""
    sheets = {"Areas": [AREA, ["Terrace", "rectangle", 20, 10, "Slab 60x40"]]}
    (told,) = (n.mend for n in read(make(sheets, {})).warnings if n.code == "paver-size-assumed")
    assert "says 60x40: type the length and width on Products, as measured." in told
