"""The calendar in the terminal, in JSON, on the page and in the workbook says the same."""

from __future__ import annotations

import dataclasses
import json
import re
from collections.abc import Callable
from dataclasses import replace
from html import unescape
from importlib import resources
from pathlib import Path

import jsonschema
import openpyxl
import pytest

from budget.decide import compare
from budget.decide.calendar.result import Calendar
from budget.decide.calendar.schedule import schedule
from budget.decide.outcome import Comparison
from budget.job import Place, Weather
from budget.report import answer, calendar
from budget.report.book import book
from budget.report.documents import calendar as calendar_document
from budget.report.documents import document
from budget.report.files import write
from budget.report.page import page
from budget.report.terminal.blocks import Pair, plain
from budget.report.terminal.screen import lines
from budget.report.words import unbroken

Demo = Callable[[str], Comparison]
MONTHS = ("May", "June", "July", "August")


@pytest.fixture(scope="module")
def terrace(demo_comparison: Demo) -> Comparison:
    """The terrace with rain."""
    found = demo_comparison("terrace")
    assert found.best is not None
    assert found.best.priced is not None
    place = Place("Weather", 2)
    rain = tuple(Weather(place=place, month=m, wet=0.3) for m in MONTHS)
    job = replace(found.job, weather=rain)
    booked = schedule(job, found.takeoff, found.options, found.best.priced, found.best.title)
    return replace(found, job=job, calendar=booked)


def found_in(comparison: Comparison) -> Calendar:
    assert comparison.calendar is not None
    return comparison.calendar


@pytest.mark.parametrize("name", ["terrace", "courtyard", "fire-bowl"])
def test_json_keeps_its_schema_and_the_plan_its_sums(demo_comparison: Demo, name: str) -> None:
    comparison = demo_comparison(name)
    told = calendar_document.as_json(comparison.job, found_in(comparison))
    path = resources.files("budget.report") / "schema" / "calendar-2.json"
    schema = json.loads(path.read_text(encoding="utf-8"))
    read = json.loads(json.dumps(told, allow_nan=False))
    jsonschema.validate(read, schema, jsonschema.Draft202012Validator)
    assert comparison.best is not None
    assert comparison.best.priced is not None
    cash = sum(week["cash"] for week in told["weeks"])
    assert cash == pytest.approx(comparison.best.priced.cash / 100)
    hours = sum(task["own_hours"] for task in told["tasks"])
    assert hours == pytest.approx(comparison.best.priced.own_hours, abs=1e-4)
    assert (told["finish"]["date"] is None) == (comparison.job.settings.start is None)


def test_json_with_rain_keeps_its_schema(terrace: Comparison) -> None:
    told = calendar_document.as_json(terrace.job, found_in(terrace))
    path = resources.files("budget.report") / "schema" / "calendar-2.json"
    jsonschema.validate(told, json.loads(path.read_text(encoding="utf-8")))
    assert told["delays"]["p50"]["date"] <= told["delays"]["p80"]["date"]


def test_comparison_carries_the_same_calendar(terrace: Comparison) -> None:
    within = document.as_json(terrace)["calendar"]
    alone = calendar_document.as_json(terrace.job, found_in(terrace))
    assert within == {k: v for k, v in alone.items() if k not in ("schema", "job")}
    path = resources.files("budget.report") / "schema" / "compare-2.json"
    schema = json.loads(path.read_text(encoding="utf-8"))
    shape = {"$ref": "#/$defs/calendar", "$defs": schema["$defs"]}
    jsonschema.validate(within, shape, jsonschema.Draft202012Validator)


def test_a_wait_for_cheaper_hire_is_told_with_what_not_waiting_costs(demo_comparison: Demo) -> None:
    """Eleven hours of cutting, seven with the splitter, do not fit what is left of a weekend.

    Sheet Equipment of the courtyard: the splitter is 27 a day and 40 a weekend, with 8 % for the
    waiver. 7.1 machine hours are more than a working day of 7, so the plan has a weekend: 43.20.
    Begun on Sunday, of which under four hours are left, it is four hours at 19 and a weekend:
    19 x 1.08 = 20.52 more, for a day sooner.
    """
    found = demo_comparison("courtyard")
    assert found.calendar is not None
    (told,) = [
        t for t in calendar.remarks(found.calendar, "EUR") if t.startswith("Paver splitter: C")
    ]
    assert "Cut waits until Sat 4 Jul" in told
    assert "Begun on Sun 28 Jun it costs €20.52 more and the work ends Sat 11 Jul." in told
    assert found.calendar.certain == 0
    assert calendar.hire_days(found.calendar, "EUR") == []
    (splitter,) = [m for m in found.calendar.machines if m.equipment == "Paver splitter"]
    assert (splitter.cash, splitter.planned) == (4320, 4320)
    (machine,) = [
        m
        for m in document.as_json(found)["calendar"]["machines"]
        if m["equipment"] == "Paver splitter"
    ]
    assert machine["wait"]["saves"] == 20.52
    assert unbroken(told) in unescape(page.render(found))


def test_hire_that_is_still_short_is_a_warning_on_the_terminal(demo_comparison: Demo) -> None:
    """What the calendar needs beyond the plan's cash after planning again stands beside the sum."""
    found = demo_comparison("courtyard")
    assert found.calendar is not None
    machines = [
        dataclasses.replace(m, cash=m.cash + 2916, out=3.0, wait=None)
        if m.equipment == "Paver splitter"
        else m
        for m in found.calendar.machines
    ]
    short = dataclasses.replace(found.calendar, machines=tuple(machines))
    (row,) = calendar.hire_days(short, "EUR")
    assert row == "Paver splitter: 3 days, €29.16 more than in the cash"
    told = plain(answer.answer(dataclasses.replace(found, calendar=short)))
    assert re.sub(r"\s+", " ", told).count(row) == 1


def test_terminal_tells_every_task_order_and_week(terrace: Comparison) -> None:
    found = found_in(terrace)
    text = plain(calendar.blocks(found, "Terrace", "USD", quiet=False))
    for words in (
        *(e.name for e in found.entries), *(o.who for o in found.orders),
        *(calendar.day(found, w.first) for w in found.weeks), "in 8 of 10", "Rain and late",
    ):  # fmt: skip
        assert words in text
    assert plain(calendar.blocks(found, "Terrace", "USD", quiet=True)).startswith("Ends ")


def test_a_narrow_window_has_low_rows_and_the_finish_last(terrace: Comparison) -> None:
    found = found_in(terrace)
    told = calendar.blocks(found, "Terrace", "USD", quiet=False, columns=80)
    first = lines(told[0], 80)
    assert len(first) < 2 * (1 + len(found.entries))
    text = ["".join(piece.text for piece in line) for line in first]
    for entry in found.entries:
        begins = f"  {calendar.day(found, entry.first)}"
        assert any(line.startswith(begins) for line in text)
    assert [block.label for block in told if isinstance(block, Pair)][-2:] == ["Ends", "Set by"]
    assert isinstance(told[-1], Pair)


def test_page_draws_a_bar_for_each_task_with_its_days_in_scale(terrace: Comparison) -> None:
    found = found_in(terrace)
    html = page.render(terrace)
    chart = re.search(r'<svg role="img" aria-labelledby="calendar-bars-name".*?</svg>', html, re.S)
    assert chart is not None
    bars = re.findall(
        r"<rect [^>]*?x=\"([\d.]+)%\" [^>]*?width=\"([\d.]+)%\"[^>]*><title>(.*?)</title>",
        chart[0].replace('class="fill-0" ', "").replace('class="fill-5" ', ""),
    )
    drawn = {unescape(title).partition(":")[0]: (float(x), float(w)) for x, w, title in bars}
    days = max([found.finish, *(s[1] for m in found.machines for s in m.spells)]) + 1
    told = [e for e in found.entries if e.hours >= 0.05]
    assert len(told) > 5
    for e in told:
        start, wide = drawn[e.name]
        assert start == pytest.approx(100 * e.first / days, abs=0.01)
        assert wide == pytest.approx(100 * (e.last + 1 - e.first) / days, abs=0.01)
    assert f"The work ends {calendar.ends(found)}." in unescape(html).replace("\u00a0", " ")


def test_workbook_has_the_calendar_and_the_days_to_order(
    terrace: Comparison, tmp_path: Path
) -> None:
    path = tmp_path / "book.xlsx"
    book.write(terrace, path)
    read = openpyxl.load_workbook(path, data_only=True)
    cells = [c for row in read["Calendar"].values for c in row if c is not None]
    found = found_in(terrace)
    assert {e.name for e in found.entries} <= set(cells)
    assert sum(w.cash for w in found.weeks) / 100 in [
        round(c, 2) for c in cells if isinstance(c, float)
    ]
    buying = [c for row in read["Buying list"].values for c in row if isinstance(c, str)]
    for order in found.orders:
        if not order.hired:
            assert calendar.order_told(found, order) in buying


def test_a_plan_that_pays_nothing_has_no_week_to_pay_in(demo_comparison: Demo, tmp_path: Path):
    """A job of which nobody has quoted anything yet: own hands alone, in every output."""
    job = replace(
        demo_comparison("fire-bowl").job, quotes=(), suppliers=(), delivery=(), equipment=(),
        bids=(), checklist=(), disposal=(),
    )  # fmt: skip
    comparison = compare(job)
    assert comparison.best is not None
    assert comparison.best.priced is not None
    assert (comparison.best.priced.cash, found_in(comparison).weeks) == (0, ())
    written = write(comparison, tmp_path / "job.xlsx")
    html = written.page.read_text(encoding="utf-8")
    assert "The work ends" in html
    assert "Cash by week" not in html
    titles = {str(row[0].value) for row in openpyxl.load_workbook(written.workbook)["Calendar"]}
    assert "Cash by week" not in titles
    told = plain(calendar.blocks(found_in(comparison), "Bowl", "USD", quiet=False))
    assert "Cash by week" not in told
