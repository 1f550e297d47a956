"""The summary pages of the demo jobs, made by the real pipeline and opened in a browser."""

from __future__ import annotations

import functools
import re
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, sync_playwright

from budget.decide import compare
from budget.decide.plan import Comparison
from budget.report import page_hour
from budget.report.document import as_json
from budget.report.page import render
from budget.report.page_view import View
from budget.workbook import read

pytestmark = pytest.mark.browser

WORKBOOKS = Path(__file__).parents[2] / "workbooks"
DEMOS = ("terrace", "courtyard", "fire-bowl")
ARGUMENTS = ["--no-sandbox", "--disable-gpu", "--disable-background-networking"]


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("demos")


@functools.cache
def made(folder: Path, name: str) -> tuple[Comparison, Path]:
    """The comparison of one demo and its page on disk, made once."""
    reading = read(WORKBOOKS / f"{name}.xlsx")
    assert reading.job is not None, reading.problems
    comparison = compare(reading.job)
    path = folder / f"{name}.html"
    path.write_text(render(comparison), encoding="utf-8")
    return comparison, path


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    chromium = shutil.which("chromium")
    assert chromium, "install Chromium to run the browser tests"
    with sync_playwright() as playwright:
        running = playwright.chromium.launch(executable_path=chromium, args=ARGUMENTS)
        yield running
        running.close()


@pytest.mark.parametrize("demo", DEMOS)
def test_a_demo_page_is_quiet_light_and_fits(browser: Browser, folder: Path, demo: str) -> None:
    _, path = made(folder, demo)
    assert path.stat().st_size < 1_000_000
    for width in (320, 360, 820, 1440):
        for scheme in ("light", "dark"):
            page = browser.new_page(
                viewport={"width": width, "height": 800},
                color_scheme=scheme,  # type: ignore[arg-type]
            )
            heard: list[str] = []
            page.on("console", lambda message, heard=heard: heard.append(message.text))
            page.on("pageerror", lambda fault, heard=heard: heard.append(str(fault)))
            page.on("request", lambda request, heard=heard: heard.append(request.url))
            page.goto(path.as_uri())
            page.evaluate("document.querySelectorAll('details').forEach(d => { d.open = true; })")
            assert page.evaluate("document.documentElement.scrollWidth") <= width
            assert [h for h in heard if h != path.as_uri() and not h.startswith("data:")] == []
            page.close()


def amounts(text: str) -> list[int]:
    return [round(100 * float(m.replace(",", ""))) for m in re.findall(r"-?[\d,]+\.\d\d", text)]


@pytest.mark.parametrize("demo", DEMOS)
def test_a_demo_page_agrees_with_the_json(browser: Browser, folder: Path, demo: str) -> None:
    comparison, path = made(folder, demo)
    document = as_json(comparison)
    page = browser.new_page()
    page.goto(path.as_uri())
    rows = page.locator("table[aria-labelledby='scenarios-table-caption'] tbody tr").all()
    built = [s for s in document["scenarios"] if s["feasible"]]
    assert len(rows) == len(built)
    for row, scenario in zip(rows, built, strict=True):
        assert amounts(row.inner_text())[0] == round(100 * scenario["cash"])
    cash = page.locator(
        "table[aria-labelledby='lines-table-caption'] tbody tr:not(.sums):not(.how-row) "
        "td[data-label='Cash']"
    )
    assert comparison.best is not None
    assert comparison.best.priced is not None
    shown = [amounts(text)[0] for text in cash.all_text_contents()]
    assert sum(shown) == comparison.best.priced.cash
    assert len(shown) == len(comparison.best.priced.lines)
    page.close()


@pytest.mark.parametrize("demo", DEMOS)
def test_each_stop_of_a_demo_shows_the_cheapest_stored_plan(
    browser: Browser, folder: Path, demo: str
) -> None:
    comparison, path = made(folder, demo)
    hour = page_hour.hour_value(View(comparison))
    assert hour is not None
    page = browser.new_page()
    page.goto(path.as_uri())
    control = page.locator("#hour-value")
    shown_plans = set()
    for i, stop in enumerate(hour.stops):
        control.evaluate(
            "(c, i) => { c.value = i; c.dispatchEvent(new Event('input', {bubbles: true})); }", i
        )
        (shown,) = [p for p in page.locator("[data-panel]").all() if p.is_visible()]
        plan = int(shown.get_attribute("data-panel") or -1)
        sums = [p.priced.total(stop.cents) for p in comparison.frontier]
        assert sums[plan] == pytest.approx(min(sums), abs=1)
        assert amounts(page.locator("#hour-total").inner_text()) == [
            pytest.approx(min(sums), abs=1)
        ]
        shown_plans.add(plan)
    assert shown_plans == set(range(len(comparison.frontier)))
    page.close()


#: Words and kinds of rules that axe-core is asked for: WCAG 2.0 to 2.2, A and AA, and good habits.
AXE_TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("demo", DEMOS)
def test_a_demo_page_has_no_barrier_that_axe_finds(
    browser: Browser, folder: Path, demo: str, scheme: str
) -> None:
    from axe_playwright_python.sync_playwright import Axe

    _, path = made(folder, demo)
    page = browser.new_page(
        viewport={"width": 360, "height": 800},
        color_scheme=scheme,  # type: ignore[arg-type]
        bypass_csp=True,  # the checker puts its script into the page
    )
    page.goto(path.as_uri())
    page.evaluate("document.querySelectorAll('details').forEach(d => { d.open = true; })")
    # What is not colour is the same in both themes, and is asked for once.
    asked = AXE_TAGS if scheme == "light" else ["cat.color"]
    options = {"runOnly": asked, "resultTypes": ["violations"]}
    found = Axe().run(page, options=options).response
    passed = {rule["id"] for rule in found["passes"]}
    assert "color-contrast" in passed
    assert scheme == "dark" or len(passed) > 20
    assert [(v["id"], v["nodes"][0]["html"][:200]) for v in found["violations"]] == []
    page.close()


@pytest.mark.parametrize("demo", DEMOS)
def test_the_control_of_a_demo_agrees_with_the_json(
    browser: Browser, folder: Path, demo: str
) -> None:
    comparison, path = made(folder, demo)
    plans = as_json(comparison)["frontier"]
    page = browser.new_page(viewport={"width": 820, "height": 900})
    page.goto(path.as_uri())
    control = page.locator("#hour-value")

    def agrees() -> int:
        (shown,) = [p for p in page.locator("[data-panel]").all() if p.is_visible()]
        index = int(shown.get_attribute("data-panel") or -1)
        cash = amounts(shown.locator(".pair dd").first.inner_text())
        assert cash == [round(100 * plans[index]["cash"])]
        (value,) = amounts(page.locator("#hour-words").inner_text())
        sums = [round(100 * p["cash"]) + p["own_hours"] * value for p in plans]
        assert sums[index] == pytest.approx(min(sums), abs=value * 0.01 + 1)
        current = page.locator(".point.current")
        assert current.get_attribute("data-point") == str(index)
        assert current.locator(".spot-text").is_visible()
        return index

    control.focus()
    page.keyboard.press("Home")
    assert agrees() == 0
    for _ in range(10):
        page.keyboard.press("ArrowRight")
        agrees()
    page.keyboard.press("End")
    assert agrees() == len(plans) - 1
    box = control.bounding_box()
    assert box is not None
    for share in (0.1, 0.5, 0.9):
        page.mouse.click(box["x"] + box["width"] * share, box["y"] + box["height"] / 2)
        agrees()
    page.close()


@pytest.mark.parametrize("demo", DEMOS)
def test_a_demo_page_fits_at_twice_the_text_size(browser: Browser, folder: Path, demo: str) -> None:
    # WCAG 2.2 SC 1.4.4 and 1.4.10: text at 200 %, and 320 px without scrolling sideways
    _, path = made(folder, demo)
    page = browser.new_page(viewport={"width": 640, "height": 800})
    page.goto(path.as_uri())
    page.evaluate("document.documentElement.style.fontSize = '200%'")
    page.evaluate("document.querySelectorAll('details').forEach(d => { d.open = true; })")
    assert page.evaluate("document.documentElement.scrollWidth") <= 640
    page.close()


def test_a_metric_demo_in_euro_says_how_its_numbers_are_written(folder: Path) -> None:
    _, path = made(folder, "courtyard")
    text = path.read_text(encoding="utf-8")
    assert "as in €1,234.56" in text
    assert "Lengths are in metres, money in EUR." in text
    assert "Prices as of 4 May 2026" in text
