"""What a workbook says, cell by cell: SI, cents, ratios, dates, names and addresses."""

from __future__ import annotations

import datetime as dt
from typing import Any

import pytest

from budget.job import Area, Quote
from budget.reference import steps
from budget.units import LENGTH
from budget.workbook import read
from budget.workbook.reading import Reading

FT, IN, LB = 0.3048, 0.0254, 0.45359237


def _codes(reading: Reading) -> list[str]:
    return [n.code for n in (*reading.problems, *reading.warnings)]


def _job(make: Any, *args: Any, **kw: Any) -> Any:
    reading = read(make(*args, **kw))
    assert reading.problems == ()
    assert reading.job is not None
    return reading.job


def test_a_sound_workbook_has_no_problem_and_no_warning(make: Any) -> None:
    reading = read(make())
    assert _codes(reading) == []
    assert reading.job is not None


def test_numbers_are_in_the_unit_of_the_header_and_know_their_cell(make: Any) -> None:
    area: Area = _job(make).areas[0]
    assert area.length == pytest.approx(20 * FT)
    assert area.cell("length") == "Areas!C2"
    assert area.figure("length", LENGTH, "side").key == "Areas!C2"


def test_the_header_may_stand_lower_and_in_any_order_and_case(make: Any) -> None:
    rows = [
        ["My shapes", None, None],
        [],
        ["width [ft]", "PART *", "Length, long side", "  shape ", "LENGTH (ft)", "Paver"],
        [10, "Terrace", None, "Rectangle", 20, "Slate"],
    ]
    area = _job(make, {"Areas": rows}).areas[0]
    assert (area.width, area.length) == pytest.approx((10 * FT, 20 * FT))
    assert area.shape == "rectangle"


@pytest.mark.parametrize(
    ("title", "value", "metres"),
    [
        ("Length (ft)", 20, 20 * FT),
        ("Length", 20, 20 * FT),
        ("Length (m)", 6, 6.0),
        ("Length (in)", 240, 240 * IN),
        ("Length (ft)", "12' 6 1/2\"", 12 * FT + 6.5 * IN),
        ("Length (ft)", "3.8 m", 3.8),
        ("Length (m)", "12 ft", 12 * FT),
        ("Length (ft)", " 20\u00a0", 20 * FT),
        ("Length (ft)", "20", 20 * FT),
    ],
)
def test_lengths(make: Any, title: str, value: Any, metres: float) -> None:
    rows = [["Part", title, "Width (ft)", "Paver"], ["Terrace", value, 10, "Slate"]]
    assert _job(make, {"Areas": rows}).areas[0].length == pytest.approx(metres)


def test_a_metric_job_reads_bare_numbers_in_metres(make: Any) -> None:
    rows = [["Part", "Length", "Width", "Paver"], ["Terrace", 6, "3,5", "Slate"]]
    quotes = [["Item", "Supplier", "Price", "Per"], ["Base stone", "North Pit", 30, "tonne"]]
    area = _job(make, {"Areas": rows, "Quotes": quotes}, job={"Units": "Metric"}).areas[0]
    assert (area.length, area.width) == (6.0, 3.5)


def test_units_default_to_imperial_and_the_as_of_date_to_today(make: Any) -> None:
    path = make({"Job": [["Setting", "Value"], ["Sales tax", 0]]})
    reading = read(path, today=dt.date(2026, 2, 3))
    assert reading.job is not None
    assert reading.job.settings.units == "imperial"
    assert reading.job.settings.as_of == dt.date(2026, 2, 3)


def test_settings_know_their_cells(make: Any) -> None:
    settings = _job(make, job={"Own hours per day": "90 min", "Spending limit": 7500}).settings
    assert settings.hours_per_day == 1.5
    assert settings.spending_limit == 750000
    assert settings.cell("spending_limit") == "Job!B6"


@pytest.mark.parametrize(
    ("value", "ratio"),
    [(7, 0.07), (0.07, 0.07), ("7 %", 0.07), ("7,5 %", 0.075), (0, 0.0), (6.5, 0.065)],
)
def test_sales_tax_as_people_write_it(make: Any, value: Any, ratio: float) -> None:
    assert _job(make, job={"Sales tax": value}).settings.sales_tax == pytest.approx(ratio)


def test_a_percent_cell_holds_a_ratio(make: Any) -> None:
    import openpyxl

    path = make(job={"Sales tax": 0.0725})
    book = openpyxl.load_workbook(path)
    book["Job"]["B4"].number_format = "0.00%"
    book.save(path)
    reading = read(path)
    assert reading.job is not None
    assert reading.job.settings.sales_tax == 0.0725
    assert "share-read-as" not in _codes(reading)


@pytest.mark.parametrize(
    ("value", "cents"),
    [(12.5, 1250), ("$12.50", 1250), ("12.50 USD", 1250), ("1,200.50", 120050), ("12,5", 1250),
     (0, 0), (0.415, 41.5), (19.99, 1999)],
)  # fmt: skip
def test_money_becomes_cents(make: Any, value: Any, cents: float) -> None:
    rows = [["Item", "Supplier", "Price (USD)", "Per"], ["Base stone", "North Pit", value, "ton"]]
    assert _job(make, {"Quotes": rows}).quotes[0].price == cents


def test_a_blank_price_is_not_yet_priced_and_never_zero(make: Any) -> None:
    rows = [["Item", "Supplier", "Price", "Per"], ["Base stone", "North Pit", None, "ton"]]
    assert _job(make, {"Quotes": rows}).quotes[0].price is None


@pytest.mark.parametrize(
    ("per", "holds", "measure", "si"),
    [
        ("each", None, "count", 1.0),
        (None, None, "count", 1.0),
        ("ton", None, "mass", 2000 * LB),
        ("tonne", None, "mass", 1000.0),
        ("cu yd", None, "volume", 0.9144**3),
        ("CY", None, "volume", 0.9144**3),
        ("m³", None, "volume", 1.0),
        ("sq ft", None, "area", FT**2),
        ("100 sq ft", None, "area", 100 * FT**2),
        ("ft", None, "length", FT),
        ("Bag", "0.5 cu ft", "volume", 0.5 * FT**3),
        ("bags", "50 lb", "mass", 50 * LB),
        ("pallet", "120 sq ft", "area", 120 * FT**2),
        ("piece", "8 ft", "length", 8 * FT),
        ("box", 50, "count", 50.0),
        ("box", "50", "count", 50.0),
        ("roll", "300 sq ft", "area", 300 * FT**2),
        ("ton", "2000 lb", "mass", 2000 * LB),
    ],
)
def test_per_and_pack_holds_decide_the_measure(
    make: Any, per: Any, holds: Any, measure: str, si: float
) -> None:
    rows = [
        ["Item", "Supplier", "Price", "Per", "Pack holds"],
        ["Slate", "North Pit", 5, per, holds],
    ]
    quote: Quote = _job(make, {"Quotes": rows}).quotes[0]
    assert (quote.measure, quote.holds) == (measure, pytest.approx(si))


def test_one_word_for_one_unit(make: Any) -> None:
    rows = [
        ["Item", "Supplier", "Price", "Per"],
        *(["Base stone", "North Pit", 5, per] for per in ("CY", "yd3", "cubic yards", "cu yd")),
    ]
    assert {q.per for q in _job(make, {"Quotes": rows}).quotes} == {"cu yd"}


def test_the_unit_in_the_title_of_pack_holds_counts(make: Any) -> None:
    rows = [
        ["Item", "Supplier", "Price", "Per", "Pack holds (cu ft)"],
        ["Joint sand", "North Pit", 5, "bag", 0.5],
    ]
    quote = _job(make, {"Quotes": rows}).quotes[0]
    assert (quote.measure, quote.holds) == ("volume", pytest.approx(0.5 * FT**3))


@pytest.mark.parametrize(
    ("step", "unit", "si_size"),
    [
        ("Dig", "cu yd", 0.9144**3),
        ("Dig", "m³", 1.0),
        ("Dig", None, 0.9144**3),
        ("Lay", "100 sq ft", 100 * FT**2),
        ("Edge", "ft", FT),
        ("Carry", "ton", 2000 * LB),
        ("Build", "h", 1.0),
    ],
)
def test_paces_become_hours_per_si_unit(make: Any, step: str, unit: Any, si_size: float) -> None:
    rows = [
        ["Step", "Method", "Low", "Likely", "High", "Per unit", "Machine hours"],
        [step, "own way", 2, 3, "240 min", unit, 0.5],
    ]
    work = _job(make, {"Work": rows}).work[0]
    found = (work.low, work.likely, work.high, work.machine_hours)
    assert found == pytest.approx((2 / si_size, 3 / si_size, 4 / si_size, 0.5 / si_size))


@pytest.mark.parametrize(
    ("basis", "start", "fee", "si_start", "si_fee"),
    [
        ("drop", None, 60, 0.0, 6000),
        ("order value", 500, 40, 50000, 4000),
        ("pallet", 2, "$18", 2.0, 1800),
        ("ton", 5, 9, 5 * 2000 * LB, 900 / (2000 * LB)),
        ("tonne", 5, 9, 5000.0, 0.9),
        ("volume", 3, 12, 3 * 0.9144**3, 1200 / 0.9144**3),
        ("mile", 0, 3, 0.0, 300 / 1609.344),
        ("Mile beyond", 10, "4.50 per mile", 16093.44, 450 / 1609.344),
        ("km beyond", 10, 2, 10000.0, 0.2),
    ],
)
def test_fee_steps_count_what_their_basis_says(
    make: Any, basis: str, start: Any, fee: Any, si_start: float, si_fee: float
) -> None:
    rows = [["Supplier", "Basis", "From", "Fee"], ["north pit", basis, start, fee]]
    step = _job(make, {"Delivery": rows}).delivery[0]
    assert (step.start, step.fee) == (pytest.approx(si_start), pytest.approx(si_fee))
    assert step.supplier == "North Pit"


def test_bids_name_their_steps_and_units(make: Any) -> None:
    rows = [
        ["Bid", "Steps", "Price", "Basis", "Unit", "Rain on the owner"],
        ["Diggers", "spoil, dig", 54, "per unit", "CY", "yes"],
        ["All in", "All", 9000, None, None, None],
    ]
    one, everything = _job(make, {"Bids": rows}).bids
    assert one.steps == ("Dig", "Spoil")
    assert (one.unit, one.unit_size) == ("cu yd", pytest.approx(0.9144**3))
    assert (one.rain_on_owner, everything.rain_on_owner) == (True, None)
    assert everything.steps == tuple(steps())
    assert everything.basis == "lump"


def test_names_are_written_as_their_own_sheet_writes_them(make: Any) -> None:
    rows = [
        ["Item", "Supplier", "Price", "Per"],
        ["base  STONE", "north pit ", 30, "ton"],
        ["slate", "South-Pit", 5, "each"],
    ]
    quotes = _job(make, {"Quotes": rows}).quotes
    assert [(q.item, q.supplier) for q in quotes] == [
        ("Base stone", "North Pit"),
        ("Slate", "South Pit"),
    ]


def test_a_shape_without_a_name_goes_by_its_part(make: Any) -> None:
    rows = [["Part", "Length", "Width", "Paver"], *[["Walk", 3, 4, "Slate"]] * 2]
    assert [a.name for a in _job(make, {"Areas": rows}).areas] == ["Walk", "Walk 2"]


def test_corners_come_in_their_order(make: Any) -> None:
    sheets = {
        "Areas": [["Part", "Shape", "Paver"], ["Walk", "polygon", "Slate"]],
        "Outline": [
            ["Area", "Order", "X (ft)", "Y (ft)"],
            ["walk", 3, 10, 10],
            ["walk", 1, 0, 0],
            ["walk", 2, "10 ft", -1],
        ],
    }
    corners = _job(make, sheets).corners
    assert [c.order for c in corners] == [1, 2, 3]
    assert corners[1].y == pytest.approx(-FT)
    assert {c.area for c in corners} == {"Walk"}


def test_blank_rows_between_rows_do_not_end_the_sheet(make: Any) -> None:
    row = ["Base stone", "North Pit", 30, "ton"]
    rows = [["Item", "Supplier", "Price", "Per"], row, *[[]] * 40, row]
    quotes = _job(make, {"Quotes": rows}).quotes
    assert [q.place.row for q in quotes] == [2, 43]


def test_a_formula_with_a_saved_result_is_read(make: Any, tmp_path: Any) -> None:
    import xlsxwriter

    path = tmp_path / "formulas.xlsx"
    book = xlsxwriter.Workbook(str(path))
    for name, rows in {
        "Job": [["Setting", "Value"], ["Sales tax", "0 %"]],
        "Quotes": [["Item", "Supplier", "Per"], ["Base stone", "North Pit", "ton"]],
    }.items():
        page = book.add_worksheet(name)
        for i, row in enumerate(rows):
            page.write_row(i, 0, row)
    page = book.add_worksheet("Areas")
    page.write_row(0, 0, ["Part", "Length", "Width"])
    page.write_row(1, 0, ["Terrace"])
    page.write_formula("B2", "=2*10", None, 20)
    page.write_formula("C2", "=B2/2", None, 10)
    book.close()
    reading = read(path)
    assert reading.job is not None
    assert reading.job.areas[0].length == pytest.approx(20 * FT)


def test_dates_are_cells_or_year_month_day_in_both_date_systems(make: Any) -> None:
    import openpyxl

    path = make(job={"As-of date": dt.date(2026, 4, 6), "Start date": "2026-05-02"})
    book = openpyxl.load_workbook(path)
    book.epoch = openpyxl.utils.datetime.CALENDAR_MAC_1904
    book["Job"]["B4"].value = dt.date(2026, 4, 6)
    book.save(path)
    settings = read(path).job.settings  # type: ignore[union-attr]
    assert settings.as_of == dt.date(2026, 4, 6)
    assert settings.start == dt.date(2026, 5, 2)


def test_all_problems_are_reported_at_once_in_the_order_of_the_sheets(make: Any) -> None:
    reading = read(
        make(
            {
                "Quotes": [["Item", "Supplier", "Price"], ["Base stone", None, "cheap"]],
                "Areas": [["Part", "Length", "Width"], ["Terrace", -1, "x"], [None, 3, 4]],
            },
            job={"Ground": "moon dust"},
        )
    )
    assert reading.job is None
    assert [(n.cell, n.code) for n in reading.problems] == [
        ("Job!B5", "not-a-choice"),
        ("Areas!B2", "not-positive"),
        ("Areas!C2", "not-a-measure"),
        ("Areas!A3", "cell-blank"),
        ("Quotes!B2", "cell-blank"),
        ("Quotes!C2", "not-a-measure"),
    ]


def test_reading_does_not_depend_on_row_order_but_for_the_rows_themselves(
    make: Any, sound: Any
) -> None:
    first = read(make()).job
    sound["Suppliers"][1:] = reversed(sound["Suppliers"][1:])
    second = read(make(sound)).job
    assert first is not None
    assert second is not None
    by_name = lambda job: {s.supplier: s.distance for s in job.suppliers}  # noqa: E731
    assert by_name(first) == by_name(second)
