"""Every code of the catalogue, raised by a workbook that has just that mistake."""

from __future__ import annotations

import datetime as dt
from typing import Any

import pytest

from budget.workbook import read
from budget.workbook.problems import CODES

A = ["Part", "Shape", "Length", "Width", "Paver"]
ROW = ["Terrace", "rectangle", 20, 10, "Slate"]
P = ["Item", "Kind", "Length (in)", "Width (in)"]
B = ["Bid", "Steps", "Price", "Basis"]
Q = ["Item", "Supplier", "Price", "Per", "Pack holds", "Weight per pack"]


def _areas(*rows: list[Any], titles: list[Any] | None = None) -> dict[str, Any]:
    return {"Areas": [titles or A, *rows]}


def _quotes(*rows: list[Any]) -> dict[str, Any]:
    return {"Quotes": [Q, *rows]}


#: code, sheets, settings, and the cell where it must be found.
CASES: list[tuple[str, dict[str, Any], dict[str, Any], str]] = [
    ("sheet-missing", {"Quotes": None, "Quotse": [Q]}, {}, "Quotes!A1"),
    ("sheet-twice", {"quotes ": [Q]}, {}, "quotes !A1"),
    ("sheet-empty", {"Quotes": [Q]}, {}, "Quotes!A2"),
    ("sheet-not-read", {"My notes": [["milk"]]}, {}, "My notes!A1"),
    ("header-missing", {"Areas": [["Terrace", 20, 10]]}, {}, "Areas!A1"),
    ("column-missing", _areas(["rectangle", 1, 1, "Slate"], titles=A[1:]), {}, "Areas!A1"),
    ("column-missing", {"Job": [["Setting", "Amount", "Note"], ["Sales tax", 7]]}, {}, "Job!A1"),
    ("column-misspelt", _areas(ROW, titles=[*A[:3], "Widht", "Paver"]), {}, "Areas!D1"),
    ("column-twice", _areas([*ROW, 5], titles=[*A, "length (m)"]), {}, "Areas!F1"),
    ("column-not-read", _areas([*ROW, 5], titles=[*A, "Colour of the sky"]), {}, "Areas!F1"),
    ("column-untitled", _areas([*ROW, None, 5]), {}, "Areas!G1"),
    ("title-error", _areas([*ROW, 5], titles=[*A, "#REF!"]), {}, "Areas!F1"),
    ("header-unit", _areas(ROW, titles=["Part", "Shape", "Length (lb)", "Width"]), {}, "Areas!C2"),
    ("header-currency", {"Quotes": [["Item", "Supplier", "Price (EUR)", "Per"],
                                    ["Base stone", "North Pit", 3, "ton"]]}, {}, "Quotes!C2"),
    ("rows-beyond-gap", _areas(ROW, *[[]] * 220, ROW), {}, "Areas!A223"),
    ("cell-blank", _areas([None, *ROW[1:]]), {}, "Areas!A2"),
    ("cell-error", _areas(["Terrace", "rectangle", "#DIV/0!", 10, "Slate"]), {}, "Areas!C2"),
    ("formula-not-calculated", _areas([*ROW[:2], "=2*10", 10, "Slate"]), {}, "Areas!C2"),
    ("formula-as-text", _areas([*ROW[:2], "'=2*10", 10, "Slate"]), {}, "Areas!C2"),
    ("not-a-measure", _areas([*ROW[:2], "long", 10, "Slate"]), {}, "Areas!C2"),
    ("unit-unclear", _areas([*ROW[:2], "12' 6", 10, "Slate"]), {}, "Areas!C2"),
    ("became-a-date", _areas([*ROW[:2], dt.date(2026, 1, 2), 10, "Slate"]), {}, "Areas!C2"),
    ("not-a-date", {}, {"Start date": "6 April"}, "Job!B5"),
    ("not-a-choice", _areas(["Terrace", "rektangle", 20, 10, "Slate"]), {}, "Areas!B2"),
    ("not-whole", {}, {"Unpaid helpers": 1.5}, "Job!B5"),
    ("negative", {}, {"Spending limit": -5}, "Job!B5"),
    ("not-positive", _areas([*ROW[:2], 0, 10, "Slate"]), {}, "Areas!C2"),
    ("share-unclear", {}, {"Sales tax": 0.4}, "Job!B4"),  # 0.4 % and 40 % are both unlikely
    ("share-too-large", {}, {"Sales tax": "120 %"}, "Job!B4"),
    ("unlikely", {}, {"Value of an own hour": 500}, "Job!B5"),
    ("cannot-be", {}, {"Value of an own hour": 2500}, "Job!B5"),
    ("pack-too-small", _quotes(["Slate", "North Pit", 480, "pallet", 2]), {}, "Quotes!E2"),
    ("density-unlikely", {"Products": [[*P, "Height (in)", "Weight each (lb)"],
                                       ["Slate", "paver", 8, 4, 2, 0.9]]}, {}, "Products!F2"),
    ("density-cannot-be", {"Products": [[*P, "Height (in)", "Weight each (lb)"],
                                        ["Slate", "paver", 8, 4, 2, 540]]}, {}, "Products!F2"),
    ("bag-cannot-be", _quotes(["Base stone", "North Pit", 5, "bag", "0.5 cu ft", 500]), {},
     "Quotes!F2"),
    ("price-far-off", _quotes(["Base stone", "North Pit", 30, "ton"],
                              ["Base stone", "South Pit", 32000, "ton"]), {}, "Quotes!C3"),
    ("share-read-as", {}, {"Sales tax": 0.07}, "Job!B4"),
    ("other-currency", _quotes(["Base stone", "North Pit", "€30", "ton"]), {}, "Quotes!C2"),
    ("setting-twice", {"Job": [["Setting", "Value"], ["Sales tax", 0], ["sales-tax", "7 %"]]}, {},
     "Job!A3"),
    ("setting-unknown", {}, {"Sale tax": 5}, "Job!A5"),
    ("tax-not-said", {"Job": [["Setting", "Value"], ["Units", "imperial"]]}, {}, "Job!B1"),
    ("tax-not-said", {"Job": [["Setting", "Value"], ["Units", "imperial"], ["Sales tax"]]}, {},
     "Job!B3"),
    ("name-unknown", _areas([*ROW, "Garden"], titles=[*A, "Build-up"]), {}, "Areas!F2"),
    ("pin-unknown", {"Scenarios": [["Scenario", "Choice", "Value"], ["Mine", "step:Digg", "hire"]]},
     {}, "Scenarios!B2"),
    ("pin-unknown", {"Scenarios": [["Scenario", "Choice", "Value"], ["Mine", "colour", "red"]]},
     {}, "Scenarios!B2"),
    ("equipment-not-listed",
     {"Work": [["Step", "Method", "Equipment"], ["Dig", "by machine", "Digger"]]},
     {}, "Work!C2"),
    ("no-delivery-known", _quotes(["Base stone", "Nort Pit", 30, "ton"]), {}, "Quotes!B2"),
    ("look-alike", _quotes(["Base st\u043ene", "North Pit", 30, "ton"]), {}, "Quotes!A2"),
    ("item-read-as", _quotes(["Crusher run", "North Pit", 30, "ton"]), {}, "Quotes!A2"),
    ("item-not-needed", _quotes(["Base stoen", "North Pit", 30, "ton"]), {}, "Quotes!A2"),
    ("paver-size-assumed", {"Products": None}, {}, "Areas!E2"),
    ("size-missing", _areas(["Terrace", "circle", 20, 10, "Slate"], titles=[*A, "Diameter"]), {},
     "Areas!F2"),
    ("size-unknown", {"Products": [["Item", "Kind", "Length (in)", "Size"],
                                   ["Slat stock", "timber", 96, "3x5"]]}, {}, "Products!D2"),
    ("ring-upside-down", _areas(["Ring", "ring", 3, 4, "Slate"],
                                titles=["Part", "Shape", "Diameter", "Inner diameter", "Paver"]),
     {}, "Areas!D2"),
    ("corners-missing", _areas(["Walk", "polygon", None, None, "Slate"]), {}, "Areas!B2"),
    ("half-placed", _areas([*ROW, 3], titles=[*A, "X"]), {}, "Areas!A2"),
    ("corners-not-used", {"Outline": [["Area", "Order", "X", "Y"], ["Terrace", 1, 0, 0]]}, {},
     "Outline!A2"),
    ("pack-holds-missing", _quotes(["Joint sand", "North Pit", 5, "bag"]), {}, "Quotes!E2"),
    ("pack-holds-unit", _quotes(["Joint sand", "North Pit", 5, "bag", 50]), {}, "Quotes!E2"),
    ("pack-holds-contradicts", _quotes(["Base stone", "North Pit", 5, "ton", "50 lb"]), {},
     "Quotes!E2"),
    ("bag-weight-and-volume", _quotes(["Base stone", "North Pit", 5, "bag", "0.5 cu ft", 20]), {},
     "Quotes!F2"),
    ("bag-weight-and-volume", _quotes(["Base stone", "North Pit", 5, "bag", "50 lb", 80]), {},
     "Quotes!F2"),
    ("range-upside-down",
     {"Work": [["Step", "Method", "Low", "Likely", "High"], ["Dig", "by hand", 3, 2, 5]]},
     {}, "Work!C2"),
    ("range-upside-down",
     {"Suppliers": [["Supplier", "Lead days", "Lead days at most"], ["North Pit", 5, 3]]},
     {}, "Suppliers!C2"),
    ("paid-twice",
     {"Bids": [["Bid", "Steps", "Price", "Paid on your yes", "Paid at the start"],
               ["Crew", "Dig", 900, 0.6, 0.5]]}, {}, "Bids!E2"),
    *((code, {"Bids": [["Bid", "Steps", "Price", "Would leave out", "Deduct"],
                       ["Crew", "Dig, Base", 900, left, deduct]]}, {}, f"Bids!{column}2")
      for code, left, deduct, column in (
          ("deduct-of-nothing", None, 50, "D"), ("deduct-missing", "Base", None, "E"),
          ("deduct-outside", "Lay", 50, "D"), ("deduct-outside", "Base, Dig", 50, "D"))),
    *((code, {"Bids": [["Bid", "Steps", "Price"], ["Crew", "Dig, Base", 900]],
              "Bid scope": [["Bid", "Item", "Deduct"], [bid, item, 50]]}, {},
       f"Bid scope!{column}2")
      for code, bid, item, column in (
          ("deduct-of-no-bid", None, "Dig", "A"), ("deduct-outside", "Crew", "Lay", "B"),
          ("deduct-outside", "Crew", "dig, base", "B"))),
    *(("price-breaks",
       {"Quotes": [["Item", "Supplier", "Price", "Per", "Price breaks"],
                   ["Base stone", "North Pit", 30, "ton", text]]}, {}, "Quotes!E2")
      for text in ("10 or more", "10: 31", "10: 28; 20: 29", "10: 28; 10: 27", "0: 28", "5: -1")),
    ("one-seller", _quotes(["Base stone", "North Pit", 5, "ton"]), {}, "Quotes!A2"),
    ("expired", {"Quotes": [["Item", "Supplier", "Per", "Valid until"],
                            ["Base stone", "North Pit", "ton", dt.date(2026, 4, 5)]]}, {},
     "Quotes!D2"),
    ("expired", {"Bids": [["Bid", "Steps", "Valid until"], ["Digger", "Dig", "2026-04-05"]]}, {},
     "Bids!C2"),
    ("unit-not-of-step", {"Work": [["Step", "Method", "Likely", "Per unit"],
                                   ["Dig", "by hand", 3, "sq ft"]]}, {}, "Work!D2"),
    ("answer-without-amount",
     {"Checklist": [["Line", "Answer", "Amount"], ["Drainage", "priced", None]]},
     {}, "Checklist!C2"),
    ("scope-says-otherwise",
     {"Bids": [["Bid", "Steps", "Price"], ["Dug", "Dig", 900]],
      "Checklist": [["Line", "Answer", "Amount", "Bid"], ["Drainage", "in bid", 90, "Dug"]],
      "Bid scope": [["Bid", "Item", "In the price"], ["Dug", "drainage", "no"]]},
     {}, "Bid scope!C2"),
    ("extra-without-price",
     {"Bids": [["Bid", "Steps", "Price"], ["Dug", "Dig", 900]],
      "Bid scope": [["Bid", "Item", "In the price", "Extra price"],
                    ["Dug", "Drainage", "extra", None]]},
     {}, "Bid scope!D2"),
    ("size-missing", {"Areas": [A, ["Terrace", "polygon", None, None, "Slate"]],
                      "Outline": [["Area", "Order", "X", "Y"], ["Terrace", 1, 0, 0],
                                  ["Terrace", 2, 10, 0], ["Terrace", 3, 10, None]]}, {},
     "Outline!D4"),
    ("size-missing", {"Walls": [["Part", "Name", "Kind", "Height", "Unit"],
                                ["Terrace", "Seat", "wall", 18, "Block"]]}, {}, "Walls!A2"),
    ("half-placed", {"Walls": [["Part", "Name", "Kind", "Length", "Height", "Unit", "X", "Y"],
                               ["Terrace", "Seat", "wall", 10, 18, "Block", 3, None]]}, {},
     "Walls!H2"),
    ("not-a-measure", {"Work": [["Step", "Method", "Likely", "Per unit"],
                                ["Dig", "by hand", 3, "shovelful"]]}, {}, "Work!D2"),
    ("not-a-measure", {"Bids": [[*B, "Unit"], ["Laid", "Lay", 12, "per unit", "barrowful"]]}, {},
     "Bids!E2"),
    ("not-a-measure", {"Bids": [[*B, "Unit"], ["Laid", "Lay", 12, "per unit", "h"]]}, {},
     "Bids!E2"),
    ("cell-blank", {"Bids": [[*B, "Unit"], ["Laid", "Lay", 12, "per unit", None]]}, {},
     "Bids!E2"),
    ("cell-blank", {"Bids": [[*B, "Estimated hours"], ["Laid", "Lay", 60, "hourly", None]]}, {},
     "Bids!E2"),
    ("range-upside-down",
     {"Delivery": [["Supplier", "Basis", "From", "To", "Fee"], ["North Pit", "mile", 9, 5, 4]]},
     {}, "Delivery!D2"),
    ("unit-unclear", {"Delivery": [["Supplier", "Basis", "Fee"], ["North Pit", "ton", 4]],
                      **_quotes(["Base stone", "North Pit", 30, "tonne"])},
     {"Units": "metric"}, "Delivery!B2"),
    ("name-twice", {"Suppliers": [["Supplier", "Distance"], ["North Pit", 1], ["north pit", 2]]},
     {}, "Suppliers!A3"),
]  # fmt: skip


@pytest.mark.parametrize(
    ("code", "sheets", "job", "cell"), CASES, ids=[f"{c[0]}-{i}" for i, c in enumerate(CASES)]
)
def test_a_mistake_is_named_with_its_cell(
    make: Any, code: str, sheets: dict[str, Any], job: dict[str, Any], cell: str
) -> None:
    reading = read(make(sheets, job))
    notices = [n for n in (*reading.problems, *reading.warnings) if n.code == code]
    assert [n.cell for n in notices] == [cell]
    assert notices[0].expected
    assert notices[0].severity == CODES[code].severity
    assert "{" not in notices[0].message
    if CODES[code].severity == "problem":
        assert reading.job is None


def test_hidden_rows_and_sheets_are_named(make: Any) -> None:
    import openpyxl

    path = make(_areas(ROW, ["Walk", *ROW[1:]]))
    book = openpyxl.load_workbook(path)
    book["Areas"].row_dimensions[3].hidden = True
    book["Suppliers"].sheet_state = "hidden"
    book.save(path)
    found = [(n.code, n.cell) for n in read(path).warnings]
    assert ("rows-hidden", "Areas!A3") in found
    assert ("sheet-hidden", "Suppliers!A1") in found


def test_merged_cells_are_named(make: Any) -> None:
    import openpyxl

    path = make(_areas(ROW, ROW))
    book = openpyxl.load_workbook(path)
    book["Areas"].merge_cells("A2:A3")
    book.save(path)
    reading = read(path)
    found = [(n.code, n.cell) for n in reading.problems]
    assert ("merged-cells", "Areas!A2:A3") in found


def test_every_code_of_the_catalogue_is_raised_by_a_test() -> None:
    assert {case[0] for case in CASES} | {"merged-cells", "rows-hidden", "sheet-hidden"} == set(
        CODES
    )


@pytest.mark.parametrize(
    ("sheets", "hint"),
    [
        ({"Quotes": None, "Quotse": [Q]}, "Is it the sheet named Quotse?"),
        (_areas(["Terrace", "rektangle", 20, 10, "Slate"]), "Did you mean rectangle?"),
        (_areas([*ROW, "Gardn"], titles=[*A, "Build-up"])
         | {"Build-up": [["Build-up", "Base depth"], ["Garden", 6]]}, "Did you mean Garden?"),
        (_quotes(["Base stoen", "North Pit", 30, "ton"]), "Did you mean Base stone?"),
        ({"Bids": [["Bid", "Steps"], ["Digger", "Digg"]]}, "Did you mean Dig?"),
        (_quotes(["Slate", "North Pit", 30, "palet", "5 sq ft"]), "Did you mean pallet?"),
    ],
)  # fmt: skip
def test_the_nearest_known_name_is_offered(make: Any, sheets: dict[str, Any], hint: str) -> None:
    reading = read(make(sheets))
    assert any(hint in n.message for n in (*reading.problems, *reading.warnings))


def test_one_wrong_title_is_reported_once_not_for_every_row(make: Any) -> None:
    titles = ["Part", "Shape", "Length (lb)", "Width"]
    reading = read(make(_areas(ROW, ROW, ROW, titles=titles)))
    assert [n.code for n in reading.problems].count("header-unit") == 1


def test_an_unreadable_size_is_not_called_missing_too(make: Any) -> None:
    reading = read(make(_areas([*ROW[:2], "long", 10, "Slate"])))
    assert [n.code for n in reading.problems] == ["not-a-measure"]


@pytest.mark.parametrize("item", ["Base stone", "BASE STONE"])
def test_a_bag_that_agrees_with_its_weight_is_not_doubted(make: Any, item: str) -> None:
    # half a cubic foot at 1.3 to 1.75 ton per cu yd (96 to 130 lb per cu ft) weighs 48 to 65 lb
    reading = read(make(_quotes([item, "North Pit", 5, "bag", "0.5 cu ft", 52])))
    assert "bag-weight-and-volume" not in [n.code for n in reading.warnings]
