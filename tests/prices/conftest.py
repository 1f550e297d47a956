"""Small jobs and takeoffs written by hand for the pricing tests."""

import datetime as dt
from collections.abc import Callable, Iterable
from dataclasses import replace
from typing import Any

import pytest

from budget.figures import Figure, constant, given
from budget.job import (
    Bid,
    BidScope,
    ChecklistLine,
    DeliveryStep,
    Disposal,
    Equipment,
    Job,
    Place,
    Product,
    Quote,
    Row,
    Settings,
    Supplier,
    Vehicle,
    Work,
)
from budget.quantities.takeoff import Bedding, Need, StepAmount, Takeoff
from budget.reference import steps
from budget.units import (
    BULK_DENSITY,
    BULK_MASS,
    COUNT,
    DEPTH,
    LOOSE_VOLUME,
    MASS,
    MONEY,
    RATIO,
    Kind,
)

MEASURE_KINDS: dict[str, Kind] = {"volume": LOOSE_VOLUME, "mass": BULK_MASS, "count": COUNT}

BEDDINGS = tuple(
    Bedding(
        name=name, item=name, filler="Joint sand", depth=constant(0.025, DEPTH, "depth"),
        discouraged=False, allowed=True, note="", source="",
    )
    for name in ("sand", "small gravel")
)  # fmt: skip


class Make:
    """Rows of each sheet with only what a test is about; row numbers count up."""

    def __init__(self) -> None:
        self.row = 1

    def place(self, sheet: str) -> Place:
        self.row += 1
        return Place(sheet, self.row)

    def _row(self, row_type: type[Row], sheet: str, **fields: Any) -> Any:
        return row_type(place=self.place(sheet), **fields)

    def settings(self, **fields: Any) -> Settings:
        fields.setdefault("as_of", dt.date(2030, 5, 1))
        places = {name: f"Job!B{i}" for i, name in enumerate(sorted(fields), start=3)}
        return Settings(place=Place("Job", 2), places=places, **fields)

    def quote(self, item: str, supplier: str, price: float | None, **fields: Any) -> Quote:
        return self._row(Quote, "Quotes", item=item, supplier=supplier, price=price, **fields)

    def supplier(self, supplier: str, **fields: Any) -> Supplier:
        return self._row(Supplier, "Suppliers", supplier=supplier, **fields)

    def delivery(self, supplier: str, basis: str, fee: float, **fields: Any) -> DeliveryStep:
        return self._row(
            DeliveryStep, "Delivery", supplier=supplier, basis=basis, fee=fee, **fields
        )

    def vehicle(self, vehicle: str, **fields: Any) -> Vehicle:
        return self._row(Vehicle, "Vehicles", vehicle=vehicle, **fields)

    def equipment(self, equipment: str, **fields: Any) -> Equipment:
        return self._row(Equipment, "Equipment", equipment=equipment, **fields)

    def work(self, step: str, method: str, **fields: Any) -> Work:
        return self._row(Work, "Work", step=step, method=method, **fields)

    def bid(self, bid: str, **fields: Any) -> Bid:
        return self._row(Bid, "Bids", bid=bid, **fields)

    def scope(self, item: str, **fields: Any) -> BidScope:
        return self._row(BidScope, "Bid scope", item=item, **fields)

    def disposal(self, way: str, **fields: Any) -> Disposal:
        return self._row(Disposal, "Disposal", way=way, **fields)

    def check(self, line: str, **fields: Any) -> ChecklistLine:
        return self._row(ChecklistLine, "Checklist", line=line, **fields)

    def product(self, item: str, kind: str, **fields: Any) -> Product:
        return self._row(Product, "Products", item=item, kind=kind, **fields)

    def need(self, item: str, kind: str, order: float = 1.0, **fields: Any) -> Need:
        """A need of ``order`` (m³ for loose goods at 1,500 kg/m³, else pieces of 10 kg)."""
        loose = kind in ("base", "bedding sand", "small gravel", "screenings")
        name = "volume" if loose else "count"
        amount = given(order, MEASURE_KINDS[name], item, f"need:{item}")
        weight = constant(order * (1500 if loose else 10), MASS, "weight")
        measures: dict[Any, Figure] = {name: amount}
        if loose:
            measures["mass"] = weight
        values = {
            "line": item, "part": "Terrace", "item": item, "kind": kind, "step": "Base",
            "group": "Base", "net": amount, "order": amount,
            "overage": constant(0.0, RATIO, "overage"), "why": "", "measures": measures,
            "weight": weight, **fields,
        }  # fmt: skip
        return Need(**values)

    def takeoff(self, needs: Iterable[Need] = (), **amounts: float) -> Takeoff:
        """A takeoff with some needs and SI amounts of steps."""
        kinds = steps()
        done = tuple(
            StepAmount(step, "Terrace", constant(amount, kinds[step].measure, step))
            for step, amount in amounts.items()
        )
        spoil = constant(amounts.get("Spoil", 0.0), LOOSE_VOLUME, "spoil")
        return Takeoff(
            needs=tuple(needs), steps=done, beddings=BEDDINGS, parts=(),
            spoil=(StepAmount("Spoil", "Terrace", spoil),),
            spoil_density=constant(1250.0, BULK_DENSITY, "loose density of spoil"),
        )  # fmt: skip

    def job(self, **fields: Any) -> Job:
        settings = fields.pop("settings", None) or self.settings()
        return Job(settings=settings, **fields)

    replace = staticmethod(replace)
    money = staticmethod(lambda cents, name="money": constant(float(cents), MONEY, name))


@pytest.fixture
def make() -> Make:
    return Make()


@pytest.fixture
def fixed() -> Callable[..., Figure]:
    """A figure fixed by the test: ``fixed(3, MASS)``."""
    return lambda value, kind, name="figure": constant(value, kind, name)
