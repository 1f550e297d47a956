"""Numbers: as words, as text, in other units and marks, as shares, and as dates."""

from __future__ import annotations

import datetime as dt

from tests.battery.case import At, Case, one, with_outcome
from tests.battery.package import Book

FT, IN, YD, MI, LB, TON = 0.3048, 0.0254, 0.9144, 1609.344, 0.45359237, 907.18474
T, C, F = "terrace", "courtyard", "fire-bowl"

PRICE = At(T, "Quotes", "Price")
METRIC_PRICE = At(C, "Quotes", "Price")
LENGTH = At(T, "Areas", "Length")
METRIC_LENGTH = At(C, "Areas", "Length")
TAX = At(T, "Job", "Sales tax")


def text_in_numbers() -> list[Case]:
    kind = "text in numbers"
    places = [
        PRICE, LENGTH, At(T, "Areas", "Width", 2), At(T, "Areas", "Diameter", 3),
        At(T, "Suppliers", "Distance"), At(T, "Suppliers", "Delivery fee", 2),
        At(T, "Vehicles", "Payload"), At(T, "Equipment", "Day"), At(T, "Equipment", "Machine width"),
        At(T, "Work", "Likely"), At(T, "Bids", "Price"), At(T, "Bids", "Estimated hours", 4),
        At(T, "Disposal", "Price per load"), At(T, "Checklist", "Amount"),
        At(T, "Outline", "X"), At(T, "Build-up", "Base depth"), At(T, "Stock", "Count"),
        At(T, "Products", "Height"), At(T, "Job", "Value of an own hour"),
        At(T, "Job", "Distance to the tip"), At(T, "Extras", "Quantity"), At(T, "Spend", "Amount"),
        At(C, "Quotes", "Price", 2), At(C, "Areas", "Length"), At(F, "Areas", "Diameter"),
    ]  # fmt: skip
    words = ["about 20", "call them", "?", "n/a", "tbd"]
    found = [one(kind, at, words[i % len(words)], "!not-a-measure") for i, at in enumerate(places)]
    odd = [
        "12-14",
        "18.5 or 19",
        "1.2.3",
        "~18",
        "<20",
        "--5",
        "1e",
        "O.5",
        "l8",
        "18..5",
        "#",
        "-",
    ]
    return found + [one(kind, PRICE, text, "!not-a-measure") for text in odd]


def numbers_as_text() -> list[Case]:
    kind = "numbers as text"
    rows = [
        (PRICE, "19.25", 1925.0), (PRICE, " 19.25 ", 1925.0), (PRICE, "$19.25", 1925.0),
        (PRICE, "USD 19.25", 1925.0), (PRICE, "19.25 USD", 1925.0), (PRICE, "19.25 $", 1925.0),
        (PRICE, "usd19.25", 1925.0), (PRICE, "+19.25", 1925.0), (PRICE, "19.", 1900.0),
        (PRICE, "19 1/2", 1950.0), (PRICE, "19½", 1950.0), (PRICE, "１９.２５", 1925.0),
        (PRICE, "١٩", 1900.0), (PRICE, "19\u00a0", 1900.0), (PRICE, "\t19\n", 1900.0),
        (LENGTH, "17", 17 * FT), (LENGTH, "17 ft", 17 * FT), (LENGTH, "17' 6\"", 17.5 * FT),
        (LENGTH, "17’ 6 1/2”", (17 + 6.5 / 12) * FT), (LENGTH, "5 m", 5.0),
        (LENGTH, "5.5 yd", 5.5 * YD), (LENGTH, "17 FEET", 17 * FT), (LENGTH, "17ft 6in", 17.5 * FT),
        (At(T, "Suppliers", "Distance"), "24 miles", 24 * MI),
        (At(T, "Suppliers", "Distance"), "40 km", 40000.0),
        (At(T, "Vehicles", "Payload"), "0.7 ton", 0.7 * TON),
        (At(T, "Vehicles", "Payload"), "650 kg", 650.0),
        (At(T, "Stock", "Cleaning each"), "90 min", 1.5),
        (At(T, "Job", "Narrowest way in"), "3 ft 6 in", 42 * IN),
        (At(T, "Extras", "Quantity"), "2", 2.0), (At(T, "Job", "Unpaid helpers"), "2", 2),
        (METRIC_LENGTH, "720 cm", 7.2), (METRIC_LENGTH, "24 ft", 24 * FT),
    ]  # fmt: skip
    return [one(kind, at, text, value) for at, text, value in rows]


def decimal_marks() -> list[Case]:
    kind = "other decimal marks"
    rows = [
        (PRICE, "19,25", 1925.0), (PRICE, "1,250", 125000.0), (PRICE, "1,250.75", 125075.0),
        (PRICE, "1.250,75", 125075.0), (PRICE, "1 250.75", 125075.0), (PRICE, ".75", 75.0),
        (PRICE, "1\u202f250", 125000.0), (PRICE, "0,125", 12.5),
        (METRIC_PRICE, "24,5", 2450.0), (METRIC_PRICE, "24.5", 2450.0),
        (METRIC_PRICE, "1.250,75", 125075.0), (METRIC_PRICE, "1 250,75", 125075.0),
        (METRIC_PRICE, "€ 24,50", 2450.0), (METRIC_PRICE, "24,50 €", 2450.0),
        (METRIC_LENGTH, "7,25 m", 7.25), (METRIC_LENGTH, "0,725", 0.725),
        (METRIC_PRICE, "1.250", "!unit-unclear"), (METRIC_PRICE, "1,250", "!unit-unclear"),
        (METRIC_LENGTH, "7.250", "!unit-unclear"), (METRIC_LENGTH, "7,250 m", "!unit-unclear"),
        (PRICE, "1,25,0", "!not-a-measure"), (PRICE, "1.2,3.4", "!not-a-measure"),
        (PRICE, "1'250", "!not-a-measure"), (METRIC_PRICE, "1'250", "!not-a-measure"),
        (PRICE, "19,25,75", "!not-a-measure"),
    ]  # fmt: skip
    far = {125000.0: "Quotes!C5", 125075.0: "Quotes!C5", 12.5: "Quotes!C6"}
    return [
        one(kind, at, text, value, warnings={f"price-far-off@{far[value]}"})
        if at is PRICE and value in far
        else one(kind, at, text, value)
        for at, text, value in rows
    ]


def percent_or_fraction() -> list[Case]:
    kind = "percent against fraction"
    restocking = At(T, "Quotes", "Restocking fee", 8)
    card = At(T, "Suppliers", "Card surcharge", 4)
    waiver = At(T, "Equipment", "Damage waiver")
    usable = At(T, "Stock", "Usable share")
    rows = [
        (TAX, 0.07, "General", ("~share-read-as", 0.07)), (TAX, 7, "General", 0.07),
        (TAX, 7.25, "General", 0.0725), (TAX, "7 %", "", 0.07), (TAX, "7", "", 0.07),
        (TAX, "7 percent", "", 0.07), (TAX, "7,25 %", "", 0.0725), (TAX, 0, "General", 0.0),
        (TAX, 0.07, "0.0%", 0.07), (TAX, 7, "0%", "!share-too-large"),
        (TAX, 0.4, "General", "!share-unclear"), (TAX, "700 %", "", "!share-too-large"),
        (TAX, 700, "General", "!share-unclear"), (TAX, 70, "General", "!share-unclear"),
        (TAX, -0.07, "0%", "!negative"), (TAX, "-7 %", "", "!negative"),
        (TAX, 1, "General", 0.01), (TAX, "seven %", "", "!not-a-measure"),
        (restocking, 25, "General", 0.25), (restocking, 0.25, "General", ("~share-read-as", 0.25)),
        (restocking, 250, "General", "!share-unclear"), (restocking, "120 %", "", "!share-too-large"),
        (card, 3, "General", 0.03), (card, 0.03, "General", ("~share-read-as", 0.03)),
        (card, 40, "General", "!share-unclear"), (waiver, 12, "General", 0.12),
        (waiver, "60 %", "", "!share-too-large"), (usable, 80, "General", 0.8),
        (usable, 0.8, "General", ("~share-read-as", 0.8)), (usable, "110 %", "", "!share-too-large"),
    ]  # fmt: skip
    return [one(kind, at, value, outcome, form) for at, value, form, outcome in rows]


def dates() -> list[Case]:
    kind = "dates as text"
    until = At(T, "Quotes", "Valid until")
    as_of, start = At(T, "Job", "As-of date"), At(T, "Job", "Start date")
    rows = [
        (until, "2026-07-31", "", dt.date(2026, 7, 31)), (start, "2026-05-09", "", dt.date(2026, 5, 9)),
        (until, "30.6.2026", "", "!not-a-date"), (until, "6/30/2026", "", "!not-a-date"),
        (until, "30/06/2026", "", "!not-a-date"), (until, "June 30", "", "!not-a-date"),
        (until, "2026-02-30", "", "!not-a-date"), (until, "2026-6-30", "", "!not-a-date"),
        (until, "20260630", "", "!not-a-date"), (until, "end of June", "", "!not-a-date"),
        (until, 46203, "General", "!not-a-date"), (until, 46203, "yyyy-mm-dd", dt.date(2026, 6, 30)),
        (until, 46203.75, "d mmm yyyy hh:mm", dt.date(2026, 6, 30)), (start, "soon", "", "!not-a-date"),
        (as_of, "2026-13-01", "", "!not-a-date"), (until, True, "", "!not-a-date"),
        (PRICE, 46113, "d-mmm", "!became-a-date"), (LENGTH, 46113, "yyyy-mm-dd", "!became-a-date"),
        (At(T, "Products", "Joint"), 46025, "d-mmm", "!became-a-date"),
        (At(T, "Quotes", "Pack holds", 3), 46024, "d-mmm", "!became-a-date"),
        (At(T, "Stock", "Cleaning each"), 0.0625, "h:mm", 1.5),
    ]  # fmt: skip
    found = [one(kind, at, value, outcome, form) for at, value, form, outcome in rows]
    iso = "<v>2026-07-31</v>"

    def as_iso(book: Book) -> None:
        book.raw("Quotes", until.ref, "d", iso)

    return [*found, with_outcome(kind, "ISO 8601 cell type", until, as_iso, dt.date(2026, 7, 31))]


def expired() -> list[Case]:
    kind = "expired dates"
    rows = [
        (At(T, "Quotes", "Valid until"), dt.date(2026, 4, 5), True),
        (At(T, "Quotes", "Valid until"), dt.date(2026, 4, 6), False),
        (At(T, "Quotes", "Valid until", 2), dt.date(2025, 5, 31), True),
        (At(T, "Bids", "Valid until"), dt.date(2026, 4, 5), True),
        (At(T, "Equipment", "Valid until"), dt.date(1999, 12, 31), True),
        (At(C, "Quotes", "Valid until"), dt.date(2026, 5, 3), True),
        (At(C, "Bids", "Valid until"), dt.date(2026, 5, 4), False),
    ]  # fmt: skip
    return [
        one(kind, at, day.isoformat(), ("~expired", day) if late else day) for at, day, late in rows
    ]


def signs_and_sizes() -> list[Case]:
    kind = "negative and zero"
    negative = [
        (PRICE, -18.5), (PRICE, "-18.50"), (PRICE, "−18.50"), (At(T, "Suppliers", "Distance"), -3),
        (At(T, "Bids", "Price"), -1), (At(T, "Equipment", "Day"), -64), (At(T, "Work", "Likely"), -2),
        (At(T, "Checklist", "Amount"), -85), (At(T, "Job", "Value of an own hour"), -20),
        (At(T, "Areas", "Edge against the house"), -16), (At(T, "Stock", "Count"), -48),
        (At(T, "Job", "Unpaid helpers"), -1), (At(T, "Delivery", "Fee"), -48),
    ]  # fmt: skip
    zero = [
        (LENGTH, 0), (LENGTH, -16), (At(T, "Areas", "Diameter", 3), 0), (At(T, "Vehicles", "Payload"), 0),
        (At(T, "Products", "Length"), 0), (At(T, "Quotes", "Sold in steps of"), 0),
        (At(T, "Quotes", "Weight per pack", 3), 0), (At(T, "Build-up", "Base depth"), -4),
        (At(T, "Quotes", "Pack holds", 3), "0 cu ft"), (At(T, "Extras", "Quantity"), 0),
        (At(T, "Work", "People at once"), 0), (At(C, "Areas", "Width"), 0),
    ]  # fmt: skip
    found = [one(kind, at, value, "!negative") for at, value in negative]
    return found + [one(kind, at, value, "!not-positive") for at, value in zero]


def wrong_units() -> list[Case]:
    kind = "unit of the wrong kind"
    rows = [
        (LENGTH, "16 lb"), (LENGTH, "16 sq ft"), (LENGTH, "16 h"), (LENGTH, "16 stone"),
        (PRICE, "18.5 ft"), (PRICE, "18.5 per ton of it"), (At(T, "Vehicles", "Payload"), "1400 ft"),
        (At(T, "Suppliers", "Distance"), "24 h"), (At(T, "Suppliers", "Distance"), "24 lb"),
        (At(T, "Quotes", "Weight per pack", 3), "0.5 cu ft"), (At(T, "Build-up", "Base depth"), "4 tons"),
        (At(T, "Job", "Own hours per day"), "6 ft"), (At(T, "Stock", "Cleaning each"), "2 lb"),
        (At(T, "Vehicles", "Bed volume"), "1.8 yd"), (At(T, "Areas", "Area", 7), "24 ft"),
        (At(T, "Products", "Joint"), "3/16 lb"), (At(T, "Extras", "Quantity"), "1 ton"),
        (METRIC_LENGTH, "7.2 kg"), (At(C, "Vehicles", "Payload"), "420 m"),
        (At(T, "Disposal", "Volume per load"), "10 sq yd"),
    ]  # fmt: skip
    unclear = [
        (At(T, "Quotes", "Per"), "t"), (At(T, "Quotes", "Per"), "yd"), (LENGTH, "12' 6"),
        (At(T, "Quotes", "Pack holds", 21), "0.02 t"), (At(T, "Suppliers", "Most per drop"), "15 t"),
        (At(C, "Quotes", "Per"), "ton"), (At(C, "Disposal", "Weight included"), "10 ton"),
        (At(C, "Suppliers", "Most per drop"), "14 tons"),
    ]  # fmt: skip
    found = [one(kind, at, text, "!not-a-measure") for at, text in rows]
    found += [one("unit with two meanings", at, text, "!unit-unclear") for at, text in unclear]
    currencies = [(PRICE, "€18.50"), (PRICE, "18.50 EUR"), (PRICE, "£18"), (METRIC_PRICE, "$24")]
    return found + [one("other currency", at, text, "!other-currency") for at, text in currencies]


def wrong_types() -> list[Case]:
    kind = "wrong type of cell"
    rows = [
        (PRICE, True, "!not-a-measure"), (LENGTH, False, "!not-a-measure"),
        (At(T, "Job", "Unpaid helpers"), 1.5, "!not-whole"), (At(T, "Outline", "Order"), 1.25, "!not-whole"),
        (At(T, "Quotes", "Taxed"), 3, "!not-a-choice"), (At(T, "Areas", "Shape"), 4, "!not-a-choice"),
        (At(T, "Quotes", "Taxed"), True, True), (At(T, "Quotes", "Taxed"), "Y", True),
        (At(T, "Quotes", "Note"), 12, "12"), (At(T, "Quotes", "Note"), True, "yes"),
        (At(T, "Bids", "Steps", 3), 7, "!not-a-choice"), (At(T, "Job", "Units"), 1, "!not-a-choice"),
        (PRICE, 1e308, "!cannot-be"), (LENGTH, 1e300, "!cannot-be"), (PRICE, "9" * 400, "!cannot-be"),
        (At(T, "Job", "Unpaid helpers"), 1e22, "!cannot-be"), (PRICE, 1e-300, 0.0),
    ]  # fmt: skip
    return [one(kind, at, value, outcome) for at, value, outcome in rows]


GROUPS = (
    text_in_numbers, numbers_as_text, decimal_marks, percent_or_fraction, dates, expired,
    signs_and_sizes, wrong_units, wrong_types,
)  # fmt: skip
