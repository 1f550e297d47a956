"""The summary page as a browser shows it."""

from __future__ import annotations

import shutil
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, sync_playwright

from budget.decide.outcome import Comparison
from budget.report.page import hour as page_hour
from budget.report.page.page import render
from budget.report.page.view import View

pytestmark = pytest.mark.browser

Build = Callable[..., Comparison]
ARGUMENTS = ["--no-sandbox", "--disable-gpu", "--disable-background-networking"]


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    chromium = shutil.which("chromium")
    assert chromium, "install Chromium to run the browser tests"
    with sync_playwright() as playwright:
        running = playwright.chromium.launch(executable_path=chromium, args=ARGUMENTS)
        yield running
        running.close()


@pytest.fixture
def address(tmp_path: Path, small_comparison: Build) -> str:
    path = tmp_path / "summary.html"
    path.write_text(render(small_comparison()), encoding="utf-8")
    return path.as_uri()


def opened(
    browser: Browser, address: str, width: int = 820, scheme: str = "light"
) -> tuple[Page, list[str]]:
    """The page, and everything it complained about or asked for beside itself."""
    page = browser.new_page(
        viewport={"width": width, "height": 800},
        color_scheme=scheme,  # type: ignore[arg-type]
    )
    heard: list[str] = []
    page.on("console", lambda message: heard.append(message.text))
    page.on("pageerror", lambda fault: heard.append(str(fault)))
    page.on("dialog", lambda dialog: heard.append(dialog.message))
    page.on(
        "request",
        lambda r: None if r.url == address or r.url.startswith("data:") else heard.append(r.url),
    )
    page.goto(address)
    return page, heard


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("width", [320, 360, 820, 1440])
def test_the_page_opens_quietly_and_fits(
    browser: Browser, address: str, width: int, scheme: str
) -> None:
    page, heard = opened(browser, address, width, scheme)
    for summary in page.locator("summary").all():
        summary.click()
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    assert heard == []
    dark = page.evaluate("getComputedStyle(document.body).backgroundColor") == "rgb(21, 25, 28)"
    assert dark == (scheme == "dark")
    page.close()


def test_the_hour_value_by_keyboard_shows_the_stored_plan(
    browser: Browser, address: str, small_comparison: Build
) -> None:
    hour = page_hour.hour_value(View(small_comparison()))
    assert hour is not None
    page, heard = opened(browser, address)
    control = page.locator("#hour-value")
    control.focus()
    page.keyboard.press("Home")
    for i, stop in enumerate(hour.stops):
        if i:
            page.keyboard.press("ArrowRight")
        assert control.input_value() == str(i)
        assert page.locator("#hour-words").inner_text() == stop.words
        assert page.locator("#hour-total").inner_text() == stop.total
        assert control.get_attribute("aria-valuetext") == f"{stop.words}, plan {stop.plan + 1}"
        visible = [p for p in page.locator("[data-panel]").all() if p.is_visible()]
        assert [p.get_attribute("data-panel") for p in visible] == [str(stop.plan)]
        panel = visible[0].inner_text()
        assert hour.panels[stop.plan].cash in panel
        assert hour.panels[stop.plan].hours in panel
        assert page.locator(".point.current").get_attribute("data-point") == str(stop.plan)
    assert heard == []
    page.close()


def test_the_hour_value_by_pointer(browser: Browser, address: str) -> None:
    page, _ = opened(browser, address)
    control = page.locator("#hour-value")
    control.scroll_into_view_if_needed()
    box = control.bounding_box()
    assert box is not None
    page.mouse.click(box["x"] + box["width"] - 2, box["y"] + box["height"] / 2)
    assert page.locator("[data-panel='1']").is_visible()
    page.locator("[data-point='0'] .spot-text").click()
    assert page.locator("[data-panel='0']").is_visible()
    assert not page.locator("[data-panel='1']").is_visible()
    page.close()


def test_without_scripts_every_plan_is_there_to_read(browser: Browser, address: str) -> None:
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(address)
    assert all(panel.is_visible() for panel in page.locator("[data-panel]").all())
    assert not page.locator("#hour-value").is_visible()
    context.close()


def test_targets_are_large_enough_to_hit(browser: Browser, address: str) -> None:
    # WCAG 2.2 SC 2.5.8: 24 by 24 CSS px
    page, _ = opened(browser, address, 360)
    for target in page.locator("summary, .contents a, input").all():
        box = target.bounding_box() if target.is_visible() else None
        if box is not None:
            assert min(box["height"], box["width"]) >= 24
    page.close()


def test_the_skip_link_is_the_first_stop_of_the_keyboard(browser: Browser, address: str) -> None:
    page, _ = opened(browser, address)
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.className") == "skip"
    page.keyboard.press("Enter")
    assert page.evaluate("document.activeElement.id") == "main"
    page.close()


def test_a_hostile_workbook_runs_nothing(
    browser: Browser, tmp_path: Path, small_comparison: Build
) -> None:
    nasty = "<script>alert(1)</script>\"'><img src=x onerror=alert(2)>\u202e</style></title>"
    path = tmp_path / "hostile.html"
    path.write_text(render(small_comparison(job_name=nasty, part=nasty)), encoding="utf-8")
    page, heard = opened(browser, path.as_uri(), 360)
    assert heard == []
    assert "<script>alert(1)</script>" in page.locator("header").inner_text()
    assert page.evaluate("document.documentElement.scrollWidth") <= 360
    page.close()


@pytest.mark.parametrize("paper", ["Letter", "A4"])
def test_paper_loses_nothing(browser: Browser, address: str, tmp_path: Path, paper: str) -> None:
    from pypdf import PdfReader

    page, _ = opened(browser, address, 820, "dark")
    path = tmp_path / "page.pdf"
    page.pdf(path=path, format=paper)
    text = " ".join(" ".join(p.extract_text() for p in PdfReader(path).pages).split())
    title = "Mixed hands, sand bedding"
    for words in (title, "The parts of the job", "Plan 2", "Demo terrace"):
        assert words in text
    assert not page.locator("details[open]").count()  # closed again after printing
    page.close()
