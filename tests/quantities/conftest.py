"""Small jobs to take quantities off, sizes in feet and inches."""

import pytest

from budget.job import (
    Area,
    BuildUp,
    Corner,
    CutPiece,
    Extra,
    Job,
    Place,
    Product,
    Quote,
    Settings,
    Stock,
    Wall,
)
from budget.units import FOOT, INCH

SHEETS = {
    Area: "Areas",
    BuildUp: "Build-up",
    Corner: "Outline",
    CutPiece: "Pieces",
    Extra: "Extras",
    Product: "Products",
    Quote: "Quotes",
    Stock: "Stock",
    Wall: "Walls",
}
IN_FEET = {
    "length", "width", "diameter", "inner_diameter", "perimeter", "house_edge", "joined_edge",
    "x", "y", "holds", "roll_width",
}  # fmt: skip
IN_INCHES = {
    "base_depth",
    "bedding_depth",
    "overrun",
    "turned_up",
    "spike_spacing",
    "joint",
    "height",
}


IN_INCHES_OF = {
    Product: {"length", "width", "back_width", "wall"},
    Wall: {"diameter", "tread", "pad", "liner"},
    CutPiece: {"length", "width", "pocket", "span"},
}


class Maker:
    """Rows with made-up places; lengths are given in feet, thin things in inches."""

    def __init__(self):
        self.row = 1

    def _make(self, kind, values):
        self.row += 1
        inch = IN_INCHES | (IN_INCHES_OF.get(kind) or set())
        read = {}
        for name, value in values.items():
            size = INCH if name in inch else FOOT if name in IN_FEET else 1
            read[name] = value * size if isinstance(value, (int, float)) and size != 1 else value
        if "area" in values and kind is Area:
            read["area"] = values["area"] * FOOT**2
        if kind is Quote:
            read["holds"] = values.get("holds", 1.0)
        columns = {name: chr(ord("A") + i) for i, name in enumerate(values)}
        return kind(place=Place(SHEETS[kind], self.row, columns), **read)

    def area(self, part="Terrace", **values):
        return self._make(Area, {"part": part, **values})

    def build_up(self, name="standard", **values):
        return self._make(BuildUp, {"name": name, **values})

    def corners(self, area, *points):
        return tuple(
            self._make(Corner, {"area": area, "order": i, "x": x, "y": y})
            for i, (x, y) in enumerate(points)
        )

    def extra(self, part, item, quantity, **values):
        return self._make(Extra, {"part": part, "item": item, "quantity": quantity, **values})

    def product(self, item, kind, **values):
        return self._make(Product, {"item": item, "kind": kind, **values})

    def quote(self, item, supplier="North Yard", **values):
        return self._make(Quote, {"item": item, "supplier": supplier, "price": 100.0, **values})

    def wall(self, name="seat wall", part="Terrace", **values):
        return self._make(Wall, {"part": part, "name": name, "unit": "Block", **values})

    def piece(self, name, stock, count, part="Bench", **values):
        return self._make(CutPiece, {"part": part, "name": name, "stock": stock, "count": count,
                                     **values})  # fmt: skip

    def stock(self, item, count, **values):
        return self._make(Stock, {"item": item, "count": count, **values})

    def job(self, *areas, settings=None, **sheets):
        place = Place("Job", 1)
        return Job(settings=Settings(place=place, **(settings or {})), areas=areas, **sheets)


@pytest.fixture
def make():
    return Maker()


@pytest.fixture(scope="module")
def make_many():
    """For property tests, which call a test many times with one fixture."""
    return Maker()
