"""Numbers that parse but cannot be: swapped units, thousand-fold slips, absurd sizes."""

from __future__ import annotations

from tests.battery.case import At, Case, one, with_outcome
from tests.battery.cases_numbers import FT, IN, LB, LENGTH, METRIC_PRICE, MI, PRICE, TON
from tests.battery.package import Book

T, C, F = "terrace", "courtyard", "fire-bowl"
YD3 = 0.9144**3


def absurd() -> list[Case]:
    kind = "absurd sizes"
    far = {"warnings": {"price-far-off@Quotes!C12"}}
    rows = [
        (At(T, "Build-up", "Base depth"), 40, ("~unlikely", 40 * IN)),
        (At(T, "Build-up", "Base depth"), "40 ft", "!cannot-be"),
        (At(T, "Build-up", "Bedding depth"), 10, ("~unlikely", 10 * IN)),
        (At(T, "Build-up", "Base overrun"), 60, ("~unlikely", 60 * IN)),
        (At(T, "Build-up", "Spike spacing"), 1, ("~unlikely", 1 * IN)),
        (At(T, "Job", "Value of an own hour"), 2500, "!cannot-be"),
        (At(T, "Job", "Value of an own hour"), 250, ("~unlikely", 25000.0)),
        (At(C, "Job", "Value of an own hour"), 1500, "!cannot-be"),
        (At(C, "Job", "Helper pay"), 400, ("~unlikely", 40000.0)),
        (At(T, "Job", "Own hours per day"), 16, ("~unlikely", 16.0)),
        (At(T, "Job", "Own hours per day"), 60, "!cannot-be"),
        (At(T, "Job", "Unpaid helpers"), 40, ("~unlikely", 40)),
        (At(T, "Job", "Spending limit"), 6.5, ("~unlikely", 650.0)),
        (At(T, "Job", "Narrowest way in"), "4 in", ("~unlikely", 4 * IN)),
        (At(T, "Job", "Carry from the street"), "1 mi", ("~unlikely", MI)),
        (At(T, "Job", "Distance to the tip"), 900, ("~unlikely", 900 * MI)),
        (At(T, "Vehicles", "Payload"), "30,000 lb", ("~unlikely", 30000 * LB)),
        (At(T, "Vehicles", "Payload"), "140,000 lb", "!cannot-be"),
        (At(T, "Vehicles", "People aboard"), 19000, ("~unlikely", 19000 * LB)),
        (At(T, "Vehicles", "Bed volume"), 60, ("~unlikely", 60 * YD3)),
        (At(T, "Vehicles", "Trailer gross", 2), 90000, ("~unlikely", 90000 * LB)),
        (At(C, "Vehicles", "Payload"), 42000, ("~unlikely", 42000.0)),
        (At(T, "Suppliers", "Distance"), 2400, ("~unlikely", 2400 * MI)),
        (At(T, "Suppliers", "Most per drop"), 150, ("~unlikely", 150 * TON)),
        (At(T, "Suppliers", "Delivery fee", 2), 7000, ("~unlikely", 700000.0)),
        (At(T, "Equipment", "Machine width"), 210, ("~unlikely", 210 * IN)),
        (At(T, "Equipment", "Hours a day"), 80, "!cannot-be"),
        (At(T, "Equipment", "Days a week"), 8, "!cannot-be"),
        (At(T, "Equipment", "Day"), 6400, ("~unlikely", 640000.0)),
        (At(T, "Work", "People at once"), 20, ("~unlikely", 20)),
        (At(T, "Work", "High", 2), 95, 95 / YD3),
        (At(T, "Work", "Low", 2), 4, "!range-upside-down"),
        (At(T, "Bids", "Estimated hours", 5), 6000, ("~unlikely", 6000.0)),
        (At(T, "Disposal", "Volume per load"), "100 cu yd", ("~unlikely", 100 * YD3)),
        (At(T, "Stock", "Cleaning each"), "3 h", ("~unlikely", 3.0)),
        (At(T, "Quotes", "Lead days"), 3000, ("~unlikely", 3000.0)),
        (At(T, "Quotes", "Pack holds", 8), "2", ("~pack-too-small", 2.0)),
        (At(T, "Quotes", "Pack holds", 8), "2 sq ft", ("~pack-too-small", 2 * FT**2)),
        (At(T, "Products", "Joint"), "3 in", ("~unlikely", 3 * IN)),
        (At(T, "Products", "Height"), "2 3/8 ft", ("~unlikely", 2.375 * FT)),
        (At(C, "Products", "Weight each"), 27, "!density-cannot-be"),
        (At(C, "Products", "Weight each"), 0.9, ("~density-unlikely", 0.9)),
        (At(C, "Products", "Weight each"), 6, ("~density-unlikely", 6.0)),
    ]  # fmt: skip
    more = {
        ("Quotes", "2"): {
            "warnings": {"price-far-off@Quotes!C12"},
            "changes": {"quotes[7].measure": "count"},
        },
        ("Quotes", "2 sq ft"): far,
    }
    found = []
    for at, value, outcome in rows:
        extra = more.get((at.sheet, value), {}) if isinstance(value, str) else {}
        found.append(one(kind, at, value, outcome, **extra))
    return found


def bag_weights() -> list[Case]:
    kind = "a density no material has"
    weight = At(T, "Quotes", "Weight per pack", 3)  # half a cubic foot of base stone
    rows = [
        (weight, 20, ("~bag-weight-and-volume", 20 * LB)), (weight, 90, ("~bag-weight-and-volume", 90 * LB)),
        (weight, 300, "!bag-cannot-be"), (weight, 1, "!bag-cannot-be"),
        (At(F, "Quotes", "Weight per pack", 3), 400, "!bag-cannot-be"),
        (At(T, "Quotes", "Weight per pack", 5), 1.5, "!bag-cannot-be"),
        (At(T, "Quotes", "Weight per pack", 21), 70, ("~bag-weight-and-volume", 70 * LB)),
        (At(C, "Quotes", "Weight per pack", 3), 250, ("~bag-weight-and-volume", 250.0)),
    ]  # fmt: skip
    found = []
    for at, value, outcome in rows:
        more = {}
        if value in (300, 400, 250):
            more = {"warnings": {f"unlikely@{at.cell}"}}
        found.append(one(kind, at, value, outcome, **more))
    return found


def thousandfold() -> list[Case]:
    kind = "thousand-fold slips"
    dear = {"warnings": {"price-far-off@Quotes!C5"}}
    rows = [
        (PRICE, 18500, 1850000.0, dear), (PRICE, "18,500", 1850000.0, dear),
        (PRICE, 0.0185, 1.85, {"warnings": {"price-far-off@Quotes!C6"}}),
        (METRIC_PRICE, 24500, 2450000.0, dear),
        (At(T, "Quotes", "Price", 8), 486000, 48600000.0, {"warnings": {"price-far-off@Quotes!C12"}}),
        (At(T, "Vehicles", "Payload"), "1.4 lb", "!cannot-be", {}),
        (At(C, "Vehicles", "Payload"), 0.42, "!cannot-be", {}),
        (At(T, "Build-up", "Base depth"), 4000, "!cannot-be", {}),
        (At(C, "Build-up", "Base depth"), 150000, "!cannot-be", {}),
        (At(C, "Build-up", "Base depth"), 0.15, "!cannot-be", {}),
        (At(C, "Build-up", "Base depth"), "150 cm", ("~unlikely", 1.5), {}),
        (LENGTH, 16000, "!cannot-be", {}), (LENGTH, 0.016, "!cannot-be", {}),
        (At(C, "Areas", "Length"), 7200, "!cannot-be", {}),
        (At(C, "Areas", "Width"), 0.0054, "!cannot-be", {}),
        (At(T, "Suppliers", "Distance"), 24000, "!cannot-be", {}),
        (At(T, "Quotes", "Weight per pack", 8), 3240000, "!cannot-be", {}),
        (At(T, "Quotes", "Weight per pack", 8), 3.24, "!cannot-be", {}),
        (At(T, "Job", "Value of an own hour"), 20000, "!cannot-be", {}),
        (At(C, "Equipment", "Machine width"), 0.5, "!cannot-be", {}),
        (At(T, "Products", "Length"), 8000, "!cannot-be", {}),
        (At(C, "Products", "Length"), 0.2, "!cannot-be", {}),
        (At(C, "Job", "Distance to the tip"), 12000, "!cannot-be", {}),
    ]  # fmt: skip
    return [one(kind, at, value, outcome, **more) for at, value, outcome, more in rows]


def _retitled(sheet: str, old: str, new: str) -> object:
    def damage(book: Book) -> None:
        header, letters = book.header(sheet)
        book.put(sheet, f"{letters[old]}{header}", new)

    return damage


def swapped_units() -> list[Case]:
    """The unit in a title decides what bare numbers mean, and is asked about where absurd."""
    kind = "swapped units in titles"
    areas = At(T, "Areas", "Length")

    def title(sheet: str, old: str, new: str, at: At, outcome: object, **more: object) -> Case:
        name = f"{sheet}: '{old}' becomes '{new}'"
        return with_outcome(kind, name, at, _retitled(sheet, old, new), outcome, **more)  # type: ignore[arg-type]

    distance = {f"suppliers[{n}].distance": v * 1000 for n, v in enumerate((24, 6, 3.5, 13))}
    inches = {"areas[0].width": 12 * IN, "areas[1].width": 8 * FT}
    return [
        title("Areas", "Length", "Length (m)", areas, 16.0),
        title("Areas", "Length", "Length (yd)", areas, 16 * 0.9144),
        title("Areas", "Length", "Length [ft]", areas, 16 * FT),
        title("Areas", "Length", "length", areas, 16 * FT),
        title("Areas", "Length", "Length (feet) *", areas, 16 * FT),
        title("Areas", "Length", "Length (lb)", areas, "!header-unit"),
        title("Areas", "Length", "Length (sq ft)", areas, "!header-unit"),
        title("Areas", "Length", "Length (smoots)", areas, "!header-unit"),
        title("Areas", "Width", "Width (in)", At(T, "Areas", "Width"), 12 * IN, changes=inches),
        title("Areas", "Width", "Width (mm)", At(T, "Areas", "Width"), "!cannot-be"),
        title("Areas", "Length", "Length (km)", areas, "!cannot-be"),
        title("Suppliers", "Distance", "Distance (km)", At(T, "Suppliers", "Distance"), 24000.0, changes=distance),
        title("Suppliers", "Distance", "Distance (ft)", At(T, "Suppliers", "Distance"), 24 * FT,
              changes={f"suppliers[{n}].distance": v * FT for n, v in enumerate((24, 6, 3.5, 13))}),
        title("Build-up", "Base depth", "Base depth (ft)", At(T, "Build-up", "Base depth"), ("~unlikely", 4 * FT)),
        title("Build-up", "Base depth", "Base depth (cm)", At(C, "Build-up", "Base depth"), ("~unlikely", 1.5)),
        title("Build-up", "Base depth", "Base depth (m)", At(C, "Build-up", "Base depth"), "!cannot-be"),
        title("Vehicles", "People aboard", "People aboard (kg)", At(T, "Vehicles", "People aboard"), 190.0,
              changes={"vehicles[1].people": 190.0}),
        title("Quotes", "Price", "Price (EUR)", PRICE, "~header-currency"),
        title("Quotes", "Price", "Price ($)", PRICE, 1850.0),
    ]  # fmt: skip


GROUPS = (absurd, bag_weights, thousandfold, swapped_units)
