"""The Drawing sheet: its corners enclose what is paved, and both axes have one scale."""

import itertools
from collections import defaultdict
from pathlib import Path

import pytest
import xlsxwriter

from budget.quantities import take_off
from budget.report.book_cells import Stored
from budget.report.book_charts import add_chart
from budget.report.book_drawing import DRAWING, drawing_sheet
from budget.workbook import read

DEMOS = Path(__file__).parent.parent.parent / "workbooks"


def shoelace(corners: list[tuple[float, float]]) -> float:
    pairs = itertools.pairwise(corners)
    return abs(sum(x * v - u * y for (x, y), (u, v) in pairs)) / 2


def test_the_corners_enclose_the_paved_area():
    job = read(DEMOS / "courtyard.xlsx").job
    takeoff = take_off(job)
    sheet = drawing_sheet(takeoff, "metric")
    assert sheet is not None
    rings: dict[str, list[tuple[float, float]]] = defaultdict(list)
    for name, what, _, x, y in sheet.tables[1].rows:
        assert isinstance(x, Stored)
        assert isinstance(y, Stored)
        rings[f"{name} {what}"].append((x.value, y.value))
    assert all(ring[0] == ring[-1] for ring in rings.values())
    yard = next(part.area.value for part in takeoff.parts if part.part == "Yard")
    drawn = shoelace(rings["Yard outline, Yard"]) - shoelace(rings["cut out cut-out, Yard"])
    assert drawn == pytest.approx(yard, rel=1e-3)


def test_a_metre_across_is_as_long_as_a_metre_up(tmp_path):
    size = (800, 460)
    sheet = drawing_sheet(take_off(read(DEMOS / "courtyard.xlsx").job), "metric")
    assert sheet is not None
    assert sheet.tables[0].chart is not None
    with xlsxwriter.Workbook(tmp_path / "c.xlsx") as book:
        book.add_worksheet(DRAWING)
        drawn = add_chart(book, sheet.tables[0].chart, size)
        book.get_worksheet_by_name(DRAWING).insert_chart("A1", drawn)
    across, up = (float(axis["max"]) - float(axis["min"]) for axis in (drawn.x_axis, drawn.y_axis))
    room = drawn.plotarea["layout"]
    assert across / (size[0] * float(room["width"])) == pytest.approx(
        up / (size[1] * float(room["height"]))
    )
    left, right, low, high = sheet.tables[0].chart.spans
    assert float(drawn.x_axis["min"]) < left < right < float(drawn.x_axis["max"])
    assert float(drawn.y_axis["min"]) < low < high < float(drawn.y_axis["max"])
