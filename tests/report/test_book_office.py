"""The comparison workbook recalculated by LibreOffice: an independent check of every formula."""

from __future__ import annotations

import datetime as dt
import random
import re
import shutil
import subprocess
from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any

import openpyxl
import pypdf
import pytest

from budget.decide import evaluate
from budget.decide.brief import plan_briefly
from budget.decide.outcome import Comparison
from budget.decide.plan import Line, Priced
from budget.figures import (
    Figure,
    cents,
    constant,
    default,
    given,
    in_order,
    largest,
    minus,
    product,
    ratio,
    recalculate,
    smallest,
    tier,
    total,
    whole,
)
from budget.prices import flatten
from budget.quantities import take_off
from budget.report.book import book
from budget.report.book.figures import FIRST_ROW, sheet_unit
from budget.report.book.plans import stored_plans
from budget.spend.standing import stand
from budget.units import (
    AREA,
    DEPTH,
    FOOT,
    LOOSE_VOLUME,
    MONEY,
    NUMBER,
    System,
    per,
    round_half_up,
)
from budget.workbook import read

pytestmark = pytest.mark.office

#: The row of the first plan on Scenarios, below the row of units.
FIRST_PLAN = FIRST_ROW + 1

Build = Callable[..., Comparison]
Cells = dict[tuple[str, str], Any]

#: Recalculate on load, always: a stored value must never pass for a calculated one.
_HARD = """<?xml version="1.0" encoding="UTF-8"?>
<oor:items xmlns:oor="http://openoffice.org/2001/registry">
<item oor:path="/org.openoffice.Office.Calc/Formula/Load">
<prop oor:name="OOXMLRecalcMode" oor:op="fuse"><value>0</value></prop></item>
</oor:items>
"""


@pytest.fixture(scope="module")
def profile(tmp_path_factory: pytest.TempPathFactory) -> Path:
    assert shutil.which("soffice"), "install LibreOffice to run the office tests"
    home = tmp_path_factory.mktemp("office")
    (home / "user").mkdir()
    (home / "user" / "registrymodifications.xcu").write_text(_HARD, encoding="utf-8")
    return home


def converted(profile: Path, path: Path, into: str, out: Path) -> Path:
    command = [
        "soffice", f"-env:UserInstallation={profile.as_uri()}", "--headless",
        "--convert-to", into, "--outdir", str(out), str(path),
    ]  # fmt: skip
    done = subprocess.run(command, check=True, capture_output=True, text=True, timeout=240)
    assert "Error" not in done.stderr
    return out / path.with_suffix(f".{into.partition(':')[0]}").name


@pytest.fixture
def recalculated(profile: Path, tmp_path: Path) -> Callable[[Path], Cells]:
    """Open a workbook in LibreOffice, calculate everything, and read the values back."""

    def convert(path: Path) -> Cells:
        kind = "xlsx:Calc MS Excel 2007 XML"
        return values(converted(profile, path, kind, tmp_path / "recalculated"))

    return convert


def values(path: Path) -> Cells:
    workbook = openpyxl.load_workbook(path, data_only=True)
    return {
        (sheet.title, cell.coordinate): cell.value
        for sheet in workbook.worksheets
        for row in sheet.iter_rows()
        for cell in row
        if cell.value is not None
    }


def formulas(path: Path) -> Iterator[tuple[str, str]]:
    """Sheet and address of every formula."""
    for sheet in openpyxl.load_workbook(path).worksheets:
        for row in sheet.iter_rows():
            for cell in row:
                if cell.data_type == "f":
                    yield sheet.title, cell.coordinate


def differences(path: Path, calculated: Cells) -> list[str]:
    """Formula cells whose calculated value is not the stored one."""
    stored = values(path)
    found = []
    for sheet, address in formulas(path):
        ours = stored.get((sheet, address), "")
        theirs = calculated.get((sheet, address), "")
        if not (isinstance(ours, (int, float)) and isinstance(theirs, (int, float))):
            same = ours == theirs and not str(theirs).startswith("#")  # words, dates
        else:
            same = abs(ours - theirs) <= 1e-9 * max(1.0, abs(ours))
        if not same:
            found.append(f"{sheet}!{address}: stored {ours!r}, calculated {theirs!r}")
    return found


def test_libreoffice_finds_every_stored_value(
    small_comparison: Build, recalculated: Callable[[Path], Cells], tmp_path: Path
) -> None:
    path = tmp_path / "small-comparison.xlsx"
    book.write(small_comparison(), path)
    assert differences(path, recalculated(path)) == []


def edited(path: Path, changes: Mapping[str, float]) -> Path:
    """The workbook with some inputs changed, found by the cell of the quotes workbook."""
    workbook = openpyxl.load_workbook(path)
    sheet = workbook["Inputs"]
    rows = {row[4].value: row for row in sheet.iter_rows(min_row=FIRST_ROW)}
    for key, value in changes.items():
        rows[key][2].value = value
    target = path.with_name(f"changed-{path.name}")
    workbook.save(target)
    return target


def plan_totals(cells: Cells) -> list[tuple[float, float]]:
    """Cash and hours of each plan as the Scenarios sheet shows them, in order."""
    found = []
    for row in range(FIRST_PLAN, 60):
        number = cells.get(("Scenarios", f"B{row}"))
        if not isinstance(number, (int, float)) or not isinstance(
            cells.get(("Scenarios", f"A{row}")), str
        ):
            break
        found.append((cells["Scenarios", f"C{row}"], cells["Scenarios", f"D{row}"]))
    return found


def expected_totals(
    comparison: Comparison, changes: Mapping[str, float]
) -> list[tuple[float, float]]:
    """What the figures of the stored plans come to under changed inputs (SI and cents)."""
    return [changed_totals(plan.priced, changes) for plan in stored_plans(comparison)]


def changed_totals(priced: Priced, changes: Mapping[str, float]) -> tuple[float, float]:
    cash, hours = 0.0, 0.0
    for line in priced.lines:
        cash += round_half_up(recalculate(line.money, changes)) if line.money else line.cash
        hours += recalculate(line.time, changes) if line.time else line.own_hours
    return cash / 100, hours


def flip_totals(cells: Cells) -> list[tuple[float, float]]:
    """More cash and more hours of each flip as the Hour value sheet shows them, in order."""
    title = next(a for (sheet, a), v in cells.items() if (sheet, v) == ("Hour value", "What flips"))
    row, found = int(title[1:]) + 4, []
    while isinstance(cells.get(("Hour value", f"A{row}")), (int, float)):
        found.append((cells["Hour value", f"D{row}"], cells["Hour value", f"E{row}"]))
        row += 1
    return found


def expected_flips(
    comparison: Comparison, changes: Mapping[str, float]
) -> list[tuple[float, float]]:
    """The same from the figures of the best plan and of each plan with its choice forced."""
    assert comparison.best is not None
    assert comparison.best.priced is not None
    cash, hours = changed_totals(comparison.best.priced, changes)
    found = []
    for flip in comparison.flips:
        assert flip.priced is not None
        theirs = changed_totals(flip.priced, changes)
        found.append((theirs[0] - cash, theirs[1] - hours))
    return found


def test_a_changed_price_moves_every_plan_as_the_figures_do(
    small_comparison: Build, recalculated: Callable[[Path], Cells], tmp_path: Path
) -> None:
    comparison = small_comparison()
    path = tmp_path / "small-comparison.xlsx"
    book.write(comparison, path)
    workbook = openpyxl.load_workbook(path)
    sheet = workbook["Inputs"]
    price = next(
        r
        for r in sheet.iter_rows(min_row=FIRST_ROW)
        if r[4].value == "Quotes!C2" and r[2].value == 40
    )
    price[2].value = 44.44
    workbook.save(tmp_path / "changed.xlsx")
    cells = recalculated(tmp_path / "changed.xlsx")
    # Five packs at 4.44 more, in each of the three plans.
    before = [(plan.priced.cash / 100, plan.priced.own_hours) for plan in stored_plans(comparison)]
    assert plan_totals(cells) == [
        (pytest.approx(cash + 5 * 4.44, abs=0.001), pytest.approx(hours)) for cash, hours in before
    ]
    assert cells["Checks", "B17"] == "OK"


def test_a_changed_hour_value_tells_which_stored_plan_wins(
    small_comparison: Build, recalculated: Callable[[Path], Cells], tmp_path: Path
) -> None:
    path = tmp_path / "small-comparison.xlsx"
    book.write(small_comparison(), path)
    # Hiring costs 1,410.00 more and saves 40.25 hours: it wins above 35.03 an hour.
    for an_hour, winner in (
        (35.0, "Mixed hands, sand bedding"),
        (35.1, "Machine work hired, sand bedding"),
    ):
        cells = recalculated(edited(path, {"Job!B9": an_hour}))
        said = [cells["Answer", f"B{address[1:]}"] for (sheet, address), value in cells.items()
                if sheet == "Answer" and value == "Stored plan that wins now"]  # fmt: skip
        assert said == [winner]


def random_money(draw: random.Random, depth: int, number: int) -> Figure:
    """Money from random arithmetic over every operation, in two unit systems' awkward units."""
    if depth == 0:
        key = f"Quotes!C{draw.randint(2, 400)}{number:03}"
        return given(draw.choice([0, 5, 1234, 99999, 250000.5]), MONEY, "price", key)

    def more() -> Figure:
        return random_money(draw, depth - 1, number)

    area = given(draw.uniform(0.1, 90), AREA, "area", f"Areas!D{draw.randint(2, 99)}{number:03}")
    deep = default(draw.uniform(0.01, 0.4), DEPTH, "depth", f"reference:depth {number}", "a guide")
    weight = product("volume", LOOSE_VOLUME, area, deep)
    match draw.choice(["sum", "minus", "largest", "smallest", "tier", "whole", "ratio", "cents"]):
        case "sum":
            return total("together", [more() for _ in range(draw.randint(1, 5))])
        case "minus":
            return minus("less", more(), more())
        case "largest":
            return largest("largest", more(), more(), more())
        case "smallest":
            return smallest("smallest", more(), more())
        case "tier":
            starts = [constant(at, MONEY, "from") for at in (0, 100, 5000, 100000)]
            return tier("step", more(), [(start, more()) for start in starts[: draw.randint(1, 4)]])
        case "whole":
            each = given(draw.uniform(0.1, 2), LOOSE_VOLUME, "a load", f"Quotes!F{number:03}")
            loads = whole("loads", ratio("loads", NUMBER, weight, each))
            return product("loads at the price", MONEY, loads, more())
        case "ratio":
            rate = ratio("rate", per(MONEY, LOOSE_VOLUME), more(), weight)
            return product("at the rate", MONEY, rate, weight)
    return cents("to the cent", more())


@pytest.mark.parametrize("units", ["imperial", "metric"])
def test_every_operation_means_the_same_in_libreoffice(
    units: System, small_comparison: Build, recalculated: Callable[[Path], Cells], tmp_path: Path
) -> None:
    draw = random.Random(20260406)
    comparison = small_comparison()
    assert comparison.best is not None
    assert comparison.best.priced is not None
    money = [cents(f"Line {n}", random_money(draw, 3, n)) for n in range(120)]
    lines = [
        Line("", "Paving", f"Line {n}", int(figure.value), 0.0, figure, None)
        for n, figure in enumerate(money)
    ]
    ops = {node.op for figure in money for node in in_order(figure)} - {""}
    assert ops == {
        "sum", "minus", "product", "ratio", "largest", "smallest", "whole", "cents", "tier",
    }  # fmt: skip
    priced = replace(
        comparison.best.priced, lines=tuple(lines), cash=sum(x.cash for x in lines), own_hours=0.0
    )
    best = replace(comparison.best, priced=priced)
    settings = replace(comparison.job.settings, units=units)
    changed = replace(
        comparison,
        job=replace(comparison.job, settings=settings),
        scenarios=(best, *comparison.scenarios[1:]),
        best=best,
        frontier=(),
        flips=(),
    )
    path = tmp_path / f"{units}.xlsx"
    book.write(changed, path)
    assert differences(path, recalculated(path)) == []


DEMOS = ("terrace", "courtyard", "fire-bowl")
WORKBOOKS = Path(__file__).parents[2] / "workbooks"


@pytest.mark.parametrize("name", DEMOS)
def test_libreoffice_finds_every_stored_value_of_a_demo(
    name: str, demo_comparison: Build, recalculated: Callable[[Path], Cells], tmp_path: Path
) -> None:
    path = tmp_path / f"{name}.xlsx"
    book.write(demo_comparison(name), path)
    cells = recalculated(path)
    assert differences(path, cells) == []
    assert len(list(formulas(path))) > 300
    assert "OK" in [value for (sheet, _), value in cells.items() if sheet == "Answer"]


def changed_inputs(comparison: Comparison) -> dict[str, float]:
    """An hour value, a tax rate, a size and a price, each moved, in SI and cents by cell."""
    settings, area = comparison.job.settings, comparison.job.areas[0]
    size = next(n for n in ("length", "diameter", "area") if getattr(area, n) is not None)
    assert comparison.best is not None
    assert comparison.best.priced is not None
    chosen = set(comparison.best.priced.plan.offers.values())
    offer = max((o for o in comparison.options.offers if o.key in chosen), key=lambda o: o.key)
    assert settings.hour_value is not None
    return {
        settings.cell("hour_value"): settings.hour_value * 1.5,
        settings.cell("sales_tax"): settings.sales_tax + 0.025,
        area.cell(size): getattr(area, size) * 1.17,
        offer.cell: offer.price.value * 1.31,
    }


@pytest.mark.parametrize("name", DEMOS)
def test_changed_inputs_move_a_demo_as_its_figures_move(
    name: str, demo_comparison: Build, recalculated: Callable[[Path], Cells], tmp_path: Path
) -> None:
    comparison = demo_comparison(name)
    path = tmp_path / f"{name}.xlsx"
    book.write(comparison, path)
    system = comparison.job.settings.units
    leaves = {
        leaf.key: leaf
        for plan in stored_plans(comparison)
        for line in plan.priced.lines
        for figure in (line.money, line.time)
        if figure is not None
        for leaf in in_order(figure)
        if leaf.origin == "given"
    }
    leaves[comparison.options.hour_value.key] = comparison.options.hour_value
    changes = {k: v for k, v in changed_inputs(comparison).items() if k in leaves}
    assert len(changes) >= 3
    cells = recalculated(
        edited(path, {k: v / sheet_unit(leaves[k].kind, system).size for k, v in changes.items()})
    )
    expected = expected_totals(comparison, changes)
    assert expected != [(p.priced.cash / 100, p.priced.own_hours) for p in stored_plans(comparison)]
    assert plan_totals(cells) == [
        (pytest.approx(cash, abs=0.001), pytest.approx(hours, rel=1e-9)) for cash, hours in expected
    ]
    an_hour = changes[comparison.options.hour_value.key] / 100
    totals = [
        cells["Scenarios", f"E{row}"] for row in range(FIRST_PLAN, FIRST_PLAN + len(expected))
    ]
    assert totals == [pytest.approx(cash + hours * an_hour) for cash, hours in expected]
    flips = expected_flips(comparison, changes)
    assert flip_totals(cells) == [
        (pytest.approx(cash, abs=0.001), pytest.approx(hours, abs=1e-9)) for cash, hours in flips
    ]
    if name == "terrace":
        moved = [
            f for f, old in zip(flips, comparison.flips, strict=True) if f[0] != old.cash / 100
        ]
        assert len(moved) >= 3


def test_a_changed_price_in_the_quotes_workbook_gives_the_same_plan_cost(
    demo_comparison: Build, recalculated: Callable[[Path], Cells], tmp_path: Path
) -> None:
    """The living workbook against the tool run anew on a changed quotes workbook."""
    comparison = demo_comparison("terrace")
    assert comparison.best is not None
    assert comparison.best.priced is not None
    plan = comparison.best.priced.plan
    offer = next(o for o in comparison.options.offers if o.key == plan.offers["Base stone"])
    price = round(offer.price.value * 1.4) / 100

    quotes = openpyxl.load_workbook(WORKBOOKS / "terrace.xlsx")
    sheet, _, cell = offer.cell.partition("!")
    quotes[sheet][cell].value = price
    quotes.save(tmp_path / "dearer.xlsx")
    job = read(tmp_path / "dearer.xlsx").job
    assert job is not None
    takeoff = take_off(job)
    anew = evaluate(plan, takeoff, flatten(job, takeoff))

    path = tmp_path / "terrace-comparison.xlsx"
    book.write(comparison, path)
    cells = recalculated(edited(path, {offer.cell: price}))
    assert anew.cash != comparison.best.priced.cash
    assert cells["Scenarios", f"C{FIRST_PLAN}"] == pytest.approx(anew.cash / 100, abs=0.001)
    assert cells["Scenarios", f"D{FIRST_PLAN}"] == pytest.approx(anew.own_hours)


def test_parts_of_a_need_follow_a_changed_size_and_price(
    recalculated: Callable[[Path], Cells], tmp_path: Path
) -> None:
    """Sand of which some bags come from another seller: the rest is worked out anew."""
    job = read(WORKBOOKS / "terrace.xlsx").job
    assert job is not None
    quotes = tuple(replace(q, in_part=q.item == "Joint sand") for q in job.quotes)
    comparison = plan_briefly(replace(job, quotes=quotes), every=False)
    assert comparison.best is not None
    priced = comparison.best.priced
    assert priced is not None
    lines = {x.name: x for x in priced.lines if x.choice == "item:Joint sand"}
    assert len(lines) == 2
    part = next(key for key in priced.plan.shares["Joint sand"])
    offer = next(o for o in comparison.options.offers if o.key == part)
    area = job.areas[0]
    assert area.length is not None
    changes = {offer.cell: offer.price.value * 1.3, area.cell("length"): area.length * 1.8}
    path = tmp_path / "parts.xlsx"
    book.write(comparison, path)
    assert differences(path, recalculated(path)) == []
    sizes = {offer.cell: 100.0, area.cell("length"): FOOT}
    cells = recalculated(edited(path, {k: v / sizes[k] for k, v in changes.items()}))
    ((cash, hours),) = expected_totals(comparison, changes)
    assert cash != priced.cash / 100
    assert plan_totals(cells) == [(pytest.approx(cash, abs=0.001), pytest.approx(hours, rel=1e-9))]
    money = lines["Joint sand"].money
    assert money is not None
    assert recalculate(money, changes) > lines["Joint sand"].cash  # more bags of the rest


def test_no_number_is_too_wide_for_its_column_on_paper(
    demo_comparison: Build, profile: Path, tmp_path: Path
) -> None:
    path = tmp_path / "terrace.xlsx"
    book.write(demo_comparison("terrace"), path)
    pages = pypdf.PdfReader(converted(profile, path, "pdf", tmp_path / "paper")).pages
    text = [page.extract_text() for page in pages]
    assert any("Best plan" in page for page in text)
    assert [number for number, page in enumerate(text, start=1) if "###" in page] == []
    widths = {float(page.mediabox.width) for page in pages}
    assert widths == {612.0, 792.0}  # Letter, upright and lying


@pytest.mark.parametrize("name", ["courtyard", "fire-bowl"])
def test_pages_begin_where_they_are_told_and_hold_more_than_a_title(
    name: str, demo_comparison: Build, profile: Path, tmp_path: Path
) -> None:
    """A sheet too wide for its page would go over more pages than it has breaks."""
    path = tmp_path / f"{name}.xlsx"
    book.write(demo_comparison(name), path)
    pages = pypdf.PdfReader(converted(profile, path, "pdf", tmp_path / "paper")).pages
    text = [page.extract_text().strip() for page in pages]
    bare = [n for n, words in enumerate(text) if len(words.splitlines()) < 7]
    assert [n + 1 for n in bare if not pages[n].images] == []
    footers = [re.search(r"(.*?) *Page \d+ of \d+", words) for words in text]
    for sheet in openpyxl.load_workbook(path).worksheets:
        many = sum(found is not None and found[1].endswith(sheet.title) for found in footers)
        assert many == len(sheet.row_breaks.brk) + 1, sheet.title


def test_spending_adds_up_the_entries_and_follows_a_changed_one(
    recalculated: Callable[[Path], Cells], tmp_path: Path
) -> None:
    for source in WORKBOOKS.glob("terrace-diary*"):
        shutil.copy(source, tmp_path / source.name)
    quotes = tmp_path / "terrace-diary.xlsx"
    job = read(quotes).job
    assert job is not None
    standing = stand(job, quotes)
    path = tmp_path / "diary.xlsx"
    book.write(plan_briefly(job, every=False), path, standing)
    assert differences(path, recalculated(path)) == []
    workbook = openpyxl.load_workbook(path)
    rows = [r for r in workbook["Entries"].iter_rows(min_row=7) if r[5].value == "paid"]
    line, week = rows[0][2].value, rows[0][1].value
    rows[0][8].value += 12.34
    workbook.save(tmp_path / "changed.xlsx")
    before, after = values(path), recalculated(tmp_path / "changed.xlsx")
    heads = {
        address[1:]: value
        for (sheet, address), value in before.items()
        if sheet == "Spending" and re.fullmatch(r"A\d+", address)
    }
    moved: dict[str, dict[Any, float]] = {}
    for (sheet, address), value in before.items():
        if sheet == "Spending" and isinstance(value, (int, float)):
            more = after[sheet, address] - value
            if abs(more) > 0.001:
                moved.setdefault(address[0], {})[heads[address[1:]]] = more
    assert set(moved) == {"B", "D", "E", "F"}  # cash out, and paid so far; paid, and to come
    later = {end for end in heads.values() if isinstance(end, dt.datetime) and end >= week}
    for column, where in (
        ("B", {week}), ("D", later), ("E", {line, "Together"}), ("F", {line, "Together"}),
    ):  # fmt: skip
        assert set(moved[column]) == where
        sign = -1 if column == "F" else 1
        assert list(moved[column].values()) == [pytest.approx(sign * 12.34)] * len(where)
