"""A quotes workbook filled as a person fills it: text typed into cells of LibreOffice.

Expected rows are those of the committed example tables (CSV), read by another way; drop-downs
and checks are judged by what LibreOffice itself works out.
"""

from __future__ import annotations

import csv
import json
import os
import re
import shutil
import socket
import subprocess
from dataclasses import replace
from importlib import resources
from pathlib import Path
from typing import Any

import openpyxl
import pypdf
import pytest

from budget.job import Job, Place
from budget.workbook import read, write_blank
from budget.workbook.sheets.tabs import SHEETS, sheet
from budget.workbook.table import letter
from budget.workbook.template.feeds import ROOM, feed_of
from budget.workbook.template.filled import column_letter
from budget.workbook.template.styles import AMBER

SCRIPT = Path(__file__).parent / "office_typing.py"
OFFICE_PYTHON = shutil.which("python3", path=os.defpath)


def typed(source: Path, target: Path, edits: dict[str, Any]) -> dict[str, Any]:
    """Type into a workbook in LibreOffice and save it under another name."""
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    plan = target.with_suffix(".json")
    plan.write_text(json.dumps({"type": [], "show": [], "checks": []} | edits))
    command = [
        "soffice", f"-env:UserInstallation={(target.parent / 'profile').as_uri()}", "--headless",
        "--norestore", f"--accept=socket,host=127.0.0.1,port={port};urp;",
    ]  # fmt: skip
    office_program = subprocess.Popen(
        command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, start_new_session=True
    )
    try:
        assert OFFICE_PYTHON is not None
        done = subprocess.run(
            [OFFICE_PYTHON, str(SCRIPT), str(port), str(source), str(target), str(plan)],
            capture_output=True, text=True, timeout=240, check=False,
        )  # fmt: skip
        assert done.returncode == 0, done.stderr
    finally:
        try:
            office_program.wait(timeout=30)
        except subprocess.TimeoutExpired:
            os.killpg(office_program.pid, 15)
            office_program.wait(timeout=30)
    result: dict[str, Any] = json.loads(done.stdout)
    return result


def as_typed(example: str) -> list[list[str]]:
    """Every cell of an example's tables, as somebody types them into the blank workbook."""
    folder = resources.files("budget.workbook") / "examples" / example
    edits = []
    for described in SHEETS:
        path = folder / f"{described.name}.csv"
        if not path.is_file():
            continue
        rows = list(csv.DictReader(path.read_text(encoding="utf-8").splitlines()))
        titles = [c.title for c in described.columns]
        for number, row in enumerate(rows, 5):
            if described.settings:
                edits.append([described.name, f"B{5 + titles.index(row['Setting'])}", row["Value"]])
                continue
            for title, text in row.items():
                if text:
                    at = letter(titles.index(title) + 1)
                    edits.append([described.name, f"{at}{number}", text])
    return edits


def without_places(job: Job) -> Job:
    nowhere = Place("", 0)
    rows = {
        s.target: tuple(replace(row, place=nowhere) for row in getattr(job, s.target))
        for s in SHEETS
        if not s.settings
    }
    return replace(job, settings=replace(job.settings, place=nowhere, places={}), **rows)


SELLERS = [
    ["Suppliers", "A5", "Heron Yard"],
    ["Suppliers", "B5", "6"],
    ["Suppliers", "A6", "Blue Teapot Gardens"],
    ["Suppliers", "B6", "3 1/2 mi"],
]


@pytest.mark.office
def test_a_workbook_typed_in_an_office_program_reads_as_the_example(tmp_path: Path) -> None:
    blank, filled = tmp_path / "blank.xlsx", tmp_path / "typed.xlsx"
    write_blank(blank, "imperial")
    typed(blank, filled, {"type": [*as_typed("fire-bowl"), *SELLERS]})
    reading = read(filled)
    assert reading.problems == ()
    assert reading.job is not None
    assert [(s.supplier, s.distance) for s in reading.job.suppliers] == [
        ("Heron Yard", pytest.approx(6 * 1609.344)),
        ("Blue Teapot Gardens", pytest.approx(3.5 * 1609.344)),
    ]
    write_blank(tmp_path / "example.xlsx", "imperial", "fire-bowl")
    example = read(tmp_path / "example.xlsx").job
    assert example is not None
    # The blank workbook asks its checklist beforehand; sellers were typed on top.
    same = replace(reading.job, suppliers=(), checklist=())
    assert without_places(same) == without_places(replace(example, suppliers=(), checklist=()))


@pytest.mark.office
def test_lists_follow_new_rows_and_checks_fire(tmp_path: Path) -> None:
    blank, filled = tmp_path / "blank.xlsx", tmp_path / "typed.xlsx"
    write_blank(blank, "imperial")
    quotes, areas = sheet("Quotes"), sheet("Areas")
    supplier = column_letter(quotes, "supplier")
    lists = openpyxl.load_workbook(blank)
    source = next(
        rule.formula1
        for rule in lists["Quotes"].data_validations.dataValidation
        if rule.prompt.startswith(quotes.column("supplier").note)
    )
    look = letter(len(quotes.columns) + len(quotes.live))
    one_price = letter(len(quotes.columns) + 1)
    about = letter(len(areas.columns) + 1)
    until, price = (column_letter(quotes, name) for name in ("valid_until", "price"))
    tax = next(5 + i for i, c in enumerate(sheet("Job").columns) if c.field == "sales_tax")
    day = next(5 + i for i, c in enumerate(sheet("Job").columns) if c.field == "as_of")
    items = feed_of(quotes, quotes.column("item"))
    assert items is not None
    item_list = next(
        rule.formula1
        for rule in lists["Quotes"].data_validations.dataValidation
        if rule.prompt.startswith(quotes.column("item").note)
    )
    edits = {
        "type": [
            *SELLERS,
            ["Suppliers", "A9", "North Pit"],  # rows left between
            ["Suppliers", "A10", "heron yard"],  # the same seller again
            ["Job", f"B{day}", "2026-04-06"],
            ["Areas", "A5", "Terrace"],
            ["Areas", f"{column_letter(areas, 'length')}5", "20"],
            ["Areas", f"{column_letter(areas, 'width')}5", "10.5"],
            ["Areas", f"{column_letter(areas, 'paver')}5", "Moon cobble"],
            ["Areas", "A6", "Walk"],
            ["Areas", f"{column_letter(areas, 'length')}6", "12 ft 6 in"],
            ["Areas", f"{column_letter(areas, 'width')}6", "1/2"],
            ["Quotes", "A5", "Base stone"],
            ["Quotes", f"{supplier}5", "Nobody"],
            ["Quotes", f"{column_letter(quotes, 'per')}5", "ton"],
            ["Quotes", f"{until}5", "2026-04-05"],
            ["Quotes", "A6", "Joint sand"],
            ["Quotes", f"{supplier}6", "North Pit"],
            ["Quotes", f"{price}6", "7.5"],
            ["Quotes", f"{column_letter(quotes, 'holds')}6", "50 lb"],
            ["Quotes", f"{column_letter(quotes, 'per')}6", "bag"],
        ],
        "show": [
            ["Lists", source.split("!")[1].replace("$", "")],
            ["Lists", item_list.split("!")[1].replace("$", "")],
            ["Quotes", f"{look}5:{look}7"],
            ["Quotes", f"{one_price}6"],
            ["Areas", f"{about}5:{about}6"],
            ["Areas", f"{column_letter(areas, 'width')}6"],
            ["Quotes", "B3"],
        ],
        "checks": [
            ["Quotes", f"{price}5", -1],
            ["Quotes", f"{price}5", 12],
            ["Job", f"B{tax}", 7],
            ["Job", f"B{tax}", 0.07],
            ["Quotes", f"{until}5", 5],
            ["Suppliers", "L5", 0],
        ],
    }
    result = typed(blank, filled, edits)
    sellers, item_names, looks, one, sizes, half, counted = result["shown"].values()
    assert [name for name in sellers if name] == ["Heron Yard", "Blue Teapot Gardens", "North Pit"]
    assert sellers[0] == ""
    assert len(sellers) == ROOM + 1
    assert "Moon cobble" in item_names
    assert "Base stone" in item_names
    assert looks == [
        "supplier is not on Suppliers; not yet priced; price ran out", "", "",
    ]  # fmt: skip
    assert one == ["0.15 per lb"]
    assert sizes == ["210.0", "see answer"]
    assert half == ["1/2"]
    assert counted == ["Rows filled: 2.  To look at: 1."]
    below, fine, seven, share, no_date, _ = result["checks"]
    assert [c["holds"] for c in (below, fine, seven, share, no_date)] == [
        False, True, False, True, False,
    ]  # fmt: skip
    assert all(c["shown"] for c in (below, seven, no_date))
    assert [c["kind"] for c in (below, seven, no_date)] == ["STOP", "STOP", "WARNING"]
    assert "minus" in below["says"]
    assert "7 %" in seven["says"]
    assert result["checks"][-1]["list"]
    reading = read(filled)
    assert [n.message for n in reading.problems if n.sheet == "Quotes"] == []
    tinted = tints(filled, tmp_path)
    assert [text for text in ("Nobody", "Apr 5, 2026") if not tinted[text]] == []
    assert not tinted["12 ft 6 in"]  # nothing is amiss on Areas


def tints(path: Path, folder: Path) -> dict[str, bool]:
    """Whether the page of Quotes or Areas with a text has tinted cells, as LibreOffice draws it."""
    profile = f"-env:UserInstallation={(folder / 'profile').as_uri()}"
    command = ["soffice", profile, "--headless", "--convert-to", "pdf", "--outdir", str(folder)]
    subprocess.run([*command, str(path)], check=True, capture_output=True, timeout=240)
    pages = pypdf.PdfReader(folder / f"{path.stem}.pdf").pages
    red, green, blue = (f"{int(AMBER[at : at + 2], 16) / 255:.9f}"[:5] for at in (1, 3, 5))
    fill = re.compile(rf"{red}\d* {green}\d* {blue}\d* rg")
    found = {}
    for page in pages:
        text, contents = page.extract_text(), page.get_contents()
        assert contents is not None
        for words in ("Nobody", "Apr 5, 2026", "12 ft 6 in"):
            if words in text and text.startswith(("Quotes Page", "Areas Page")):
                found[words] = bool(fill.search(contents.get_data().decode("latin-1")))
    return found


def _recalculated(path: Path, folder: Path) -> Path:
    """The workbook worked out anew by LibreOffice from formulas without stored results."""
    bare = folder / "bare.xlsx"
    book = openpyxl.load_workbook(path)
    book.save(bare)  # openpyxl drops stored results
    profile = f"-env:UserInstallation={(folder / 'profile').as_uri()}"
    command = ["soffice", profile, "--headless", "--convert-to", "xlsx:Calc MS Excel 2007 XML"]
    out = folder / "out"
    subprocess.run([*command, "--outdir", out, bare], check=True, capture_output=True, timeout=240)
    return out / bare.name


@pytest.mark.office
@pytest.mark.parametrize("name", ["terrace", "courtyard"])
def test_stored_results_are_those_an_office_program_finds(name: str, tmp_path: Path) -> None:
    path = tmp_path / "job.xlsx"
    write_blank(path, "imperial", name)
    formulas = openpyxl.load_workbook(path)
    ours = openpyxl.load_workbook(path, data_only=True)
    theirs = openpyxl.load_workbook(_recalculated(path, tmp_path), data_only=True)
    seen = 0
    for page in formulas:
        for row in page.iter_rows():
            for cell in row:
                if cell.data_type == "f":
                    stored = ours[page.title][cell.coordinate].value
                    found = theirs[page.title][cell.coordinate].value
                    if isinstance(stored, (int, float)):
                        assert found == pytest.approx(stored), (page.title, cell.coordinate)
                    else:
                        assert (found or "") == (stored or ""), (page.title, cell.coordinate)
                    seen += bool(stored)
    assert seen > 60
