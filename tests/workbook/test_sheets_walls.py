"""The Walls and Pieces sheets, and what Products says of units, timber and tubes."""

import pytest

from budget.units import FOOT, INCH, POUND
from budget.workbook import read

WALLS = [
    ["Part", "Name", "Kind", "Length (ft)", "Diameter (in)", "Height (in)", "Unit", "Cap",
     "Stands", "Glued", "Free ends", "Alike"],
    ["Terrace", "seat wall", None, 12, None, 18, "Block", "Coping", None, "every course", 1, 2],
    ["Terrace", "ring", "ring", None, 48, 12, "block", None, "in the paving", None, None, None],
]  # fmt: skip
PIECES = [
    ["Part", "Piece", "Cut from", "Length (in)", "Count", "Fixings each", "Drilled first",
     "Goes into (in)", "Load", "Free span"],
    ["Bench", "slat", "2x4", 48, 5, 4, "no", "3 9/16", "200 lb", "46 in"],
]  # fmt: skip
PRODUCTS = [
    ["Item", "Kind", "Length", "Width (in)", "Back length (in)", "Size", "Wall thickness (in)",
     "Piece or roll"],
    ["Slate", "paver", "8 in", 4, None, None, None, None],
    ["Block", "wall unit", "12 in", 8, 9, None, None, None],
    ["Board", "timber", "8 ft", None, None, "2 x 4", None, None],
    ["Tube", "steel section", "20 ft", 2, None, None, "3/16", None],
    ["Glue", "adhesive", None, None, None, None, None, "48.7 cu in"],
]  # fmt: skip


@pytest.fixture
def reading(make):
    def run(walls=WALLS, pieces=PIECES, products=PRODUCTS):
        return read(make({"Walls": walls, "Pieces": pieces, "Products": products}))

    return run


def test_a_wall_and_a_ring(reading):
    found = reading()
    assert found.problems == ()
    wall, ring = found.job.walls
    assert (wall.kind, wall.glue, wall.ends, wall.count) == ("wall", "every course", 1, 2)
    assert (wall.length, wall.height) == pytest.approx((12 * FOOT, 18 * INCH))
    assert (wall.stands, wall.cap, wall.cell("height")) == (
        "beside the paving", "Coping", "Walls!F2",
    )  # fmt: skip
    assert (ring.kind, ring.unit, ring.circle, ring.stands) == (
        "ring", "Block", "outer", "in the paving",
    )  # fmt: skip
    assert ring.diameter == pytest.approx(48 * INCH)


def test_pieces_and_what_they_are_cut_from(reading):
    found = reading()
    (slat,) = found.job.pieces
    assert (slat.stock, slat.count, slat.fixings, slat.pilot) == ("2x4", 5, 4, False)
    assert (slat.pocket, slat.span, slat.load) == pytest.approx(
        (3.5625 * INCH, 46 * INCH, 200 * POUND)
    )
    by_item = {p.item: p for p in found.job.products}
    assert by_item["Board"].length == pytest.approx(8 * FOOT)
    assert by_item["Board"].size == "2 x 4"
    assert by_item["Block"].back_width == pytest.approx(9 * INCH)
    assert by_item["Tube"].wall == pytest.approx(3 / 16 * INCH)
    assert by_item["Glue"].holds == pytest.approx(48.7 * INCH**3)


def test_each_kind_needs_its_sizes(reading):
    walls = [WALLS[0], ["Terrace", "a", "ring", 12, None, 8, "Block"],
             ["Terrace", "b", None, None, None, 8, "Block"]]  # fmt: skip
    assert [(n.code, n.cell) for n in reading(walls=walls).problems] == [
        ("size-missing", "Walls!E2"), ("size-missing", "Walls!D3"),
    ]  # fmt: skip


def test_pieces_name_a_known_stock_with_its_length(reading):
    pieces = [PIECES[0], ["Bench", "leg", "4x4", 16, 4], ["Bench", "rail", "Plank", 40, 1]]
    products = [*PRODUCTS, ["Plank", "timber", None, None, None, "2x6"]]
    assert [(n.code, n.cell) for n in reading(pieces=pieces, products=products).problems] == [
        ("name-unknown", "Pieces!C2"), ("size-missing", "Products!C7"),
    ]  # fmt: skip


def test_blank_sheets_change_nothing(make):
    without = read(make())
    blank = read(make({"Walls": [WALLS[0]], "Pieces": [PIECES[0]]}))
    assert (blank.job.walls, blank.job.pieces) == ((), ())
    assert blank.job == without.job
