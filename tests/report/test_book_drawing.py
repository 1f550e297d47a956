"""The Drawing sheet: its corners enclose what is paved, and both axes have one scale."""

import itertools
import math
import re
import struct
import zipfile
import zlib
from collections import defaultdict
from dataclasses import replace
from pathlib import Path
from xml.etree import ElementTree

import pytest
import xlsxwriter
from shapely import LineString, box

from budget.font_widths import wide
from budget.job import Level, Place
from budget.quantities import take_off
from budget.report.book.cells import Picture, Stored
from budget.report.book.charts import add_chart
from budget.report.book.drawing import DRAWING, drawing_sheet
from budget.report.book.plan import drawn
from budget.report.laid import laid_of, laid_words
from budget.workbook import read

#: Pixels that a capital of Arial at 10 points is high: 0.716 of its size (Adobe's metrics).
CAPITAL = 0.716 * 10 / 72 * 96
DEMOS = Path(__file__).parent.parent.parent / "workbooks"


def shoelace(corners: list[tuple[float, float]]) -> float:
    pairs = itertools.pairwise(corners)
    return abs(sum(x * v - u * y for (x, y), (u, v) in pairs)) / 2


def test_the_corners_enclose_the_paved_area():
    job = read(DEMOS / "courtyard.xlsx").job
    takeoff = take_off(job)
    sheet = drawing_sheet(job, takeoff)
    assert sheet is not None
    rings: dict[str, list[tuple[float, float]]] = defaultdict(list)
    for _, what, _, x, y in sheet.tables[-1].rows:
        assert isinstance(x, Stored)
        assert isinstance(y, Stored)
        rings[what].append((x.value, y.value))
    closed = [ring for what, ring in rings.items() if what.startswith(("outline", "cut-out"))]
    assert len(closed) == 3
    assert all(ring[0] == ring[-1] for ring in closed)
    yard = next(part.area.value for part in takeoff.parts if part.part == "Yard")
    drawn = shoelace(rings["outline, Yard"]) - shoelace(rings["cut-out, Yard"])
    assert drawn == pytest.approx(yard, rel=1e-3)


def test_lengths_edges_and_names_stand_on_the_drawing():
    """The yard of 7.2 x 5.4 m with a bay of 3.2 m across, and the way of 6.5 x 1.2 m beside it."""
    job = read(DEMOS / "courtyard.xlsx").job
    found = drawn(job, take_off(job))
    words = [text for each in found for text in each.words]
    assert {"7.20", "5.40", "6.50", "1.20", "R 1.60", "2.00"} <= set(words)
    assert {"Yard", "Side way", "Seat wall", "cut out 0.80 × 0.80"} <= set(words)
    looks = {each.look for each in found}
    assert {"held", "joined", "house", "cut", "standing"} <= looks
    house = [each.points for each in found if each.look == "house"]
    assert sum(math.dist(*pair) for line in house for pair in itertools.pairwise(line)) == (
        pytest.approx(12.6, abs=0.02)  # to what a tape tells
    )


def test_heights_drop_points_and_falls_are_signs_with_words():
    job = read(DEMOS / "courtyard.xlsx").job
    place = Place("Levels", 2)
    spots = (
        Level(place=place, x=0.5, y=0.5, level=-0.02, what="sill"),
        Level(place=place, part="Yard", x=7.0, y=5.0, level=-0.11),
        Level(place=place, where="Street", x=3.0, y=-2.0, what="drop point"),
    )
    found = {each.look: each for each in drawn(replace(job, levels=spots), take_off(job))}
    assert found["sill"].words == ("-0.02",)
    assert found["ground"].words == ("-0.11",)
    assert (found["drop"].words, found["drop"].points) == (("Street",), ((3.0, -2.0),))


def dots(png: bytes) -> list[list[int]]:
    """The greys of a picture of 4 bits, read as the standard says."""
    width, height, depth, colour = struct.unpack(">IIBB", png[16:26])
    assert (depth, colour) == (4, 0)
    start = png.index(b"IDAT")
    (long,) = struct.unpack(">I", png[start - 4 : start])
    data = zlib.decompress(png[start + 4 : start + 4 + long])
    line = 1 + (width + 1) // 2
    assert len(data) == line * height
    rows = [data[i * line + 1 : (i + 1) * line] for i in range(height)]
    return [[n for byte in row for n in (byte >> 4, byte & 15)][:width] for row in rows]


def test_the_laid_pattern_is_a_picture_of_every_paver():
    """Grey dots take the share of the picture that cut pavers have of the yard's face."""
    job = read(DEMOS / "courtyard.xlsx").job
    takeoff = take_off(job)
    sheet = drawing_sheet(job, takeoff)
    assert sheet is not None
    [table] = [each for each in sheet.tables if each.title.startswith("Side way")]
    picture = table.chart
    assert isinstance(picture, Picture)
    seen = dots(picture.png)
    [way] = [laid for part in takeoff.parts if part.part == "Side way" for laid in part.laid]
    scale = (len(seen[0]) - 24) / 6.5  # dots a metre, less what is left free
    cut = sum(shoelace([*ring, ring[0]]) for ring in way.cut) * scale**2
    grey = sum(row.count(12) for row in seen)
    assert grey == pytest.approx(cut, rel=0.2)  # lines take some of it
    assert "341 whole pavers and 49 cut pieces (grey)" in str(table.rows[0][0])


@pytest.mark.parametrize("name", ["terrace", "courtyard", "fire-bowl"])
def test_a_drawing_says_why_the_order_counts_otherwise(name):
    """What is drawn and what the order's own reason counts differ by where laying starts."""
    takeoff = take_off(read(DEMOS / f"{name}.xlsx").job)
    why = {(need.part, need.item): need.why for need in takeoff.needs if need.step == "Lay"}
    seen = 0
    for part, laid in laid_of(takeoff):
        ordered = re.search(r"outline: ([\d,]+ whole and [\d,]+ cut)", why[part, laid.item])
        assert ordered is not None
        drawn = f"{len(laid.whole):,} whole and {len(laid.cut):,} cut"
        words = laid_words(laid, "grey")
        assert (ordered[1] in words) == ("least lucky" in words) == (drawn != ordered[1])
        seen += 1
    assert seen


@pytest.mark.parametrize("name", ["terrace", "courtyard", "fire-bowl"])
def test_no_words_stand_on_a_line(name, tmp_path):
    """By the widths of the letters and the scale of the chart; another library intersects."""
    job = read(DEMOS / f"{name}.xlsx").job
    takeoff = take_off(job)
    chart = drawing_sheet(job, takeoff).tables[0].chart
    size = (840, 460)
    with xlsxwriter.Workbook(tmp_path / "c.xlsx") as book:
        book.add_worksheet(DRAWING)
        axis = add_chart(book, chart, size)
        book.get_worksheet_by_name(DRAWING).insert_chart("A1", axis)
    metre = size[0] * float(axis.plotarea["layout"]["width"])
    metre /= float(axis.x_axis["max"]) - float(axis.x_axis["min"])
    if job.settings.units == "imperial":
        metre /= 0.3048  # the chart is in feet
    found = drawn(job, takeoff)
    lines = [LineString(each.points) for each in found if len(each.points) > 1 and not each.words]
    words = [pair for each in found if each.look == "length"
             for pair in zip(each.points, each.words, strict=True)]  # fmt: skip
    assert words
    on_a_line = []
    for (x, y), text in words:
        across, up = 0.5 * wide(text) / metre, 0.5 * CAPITAL / metre
        letters = box(x - across, y - up, x + across, y + up)
        on_a_line += [text for line in lines if line.intersects(letters)]
    assert on_a_line == []


def test_a_metre_across_is_as_long_as_a_metre_up(tmp_path):
    size = (800, 460)
    job = read(DEMOS / "courtyard.xlsx").job
    sheet = drawing_sheet(job, take_off(job))
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


@pytest.mark.parametrize("name", ["Bed!A1", "=Bed!A1", "+evil|' /C calc'!$A$0 0", "Job!B3"])
def test_a_part_that_is_named_like_a_cell_is_no_formula(name, tmp_path):
    """Its name stands in the chart as words, and refers to nothing."""
    job = read(DEMOS / "courtyard.xlsx").job
    takeoff = take_off(job)
    chart = drawing_sheet(job, takeoff).tables[0].chart
    chart = replace(chart, labels=tuple(tuple(t and name for t in each) for each in chart.labels))
    path = tmp_path / "c.xlsx"
    with xlsxwriter.Workbook(path) as book:
        sheet = book.add_worksheet(DRAWING)
        sheet.insert_chart("A1", add_chart(book, chart, (800, 460)))
    with zipfile.ZipFile(path) as parts:
        drawn = ElementTree.fromstring(parts.read("xl/charts/chart1.xml"))
    labels = drawn.findall(".//{*}dLbl/{*}tx")
    assert labels
    assert drawn.findall(".//{*}dLbl//{*}f") == []
    assert {"".join(label.itertext()).replace("\u2060", "") for label in labels} == {name}
