"""The summary pages of the demo jobs, made by the real pipeline and opened in a browser."""

from __future__ import annotations

import functools
import itertools
import re
import shutil
import unicodedata
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, sync_playwright

from budget.decide import compare
from budget.decide.outcome import Comparison
from budget.numerals import written
from budget.report import files
from budget.report.documents.document import as_json
from budget.report.page import hour as page_hour
from budget.report.page.page import render
from budget.report.page.view import View
from budget.workbook import read

pytestmark = pytest.mark.browser

WORKBOOKS = Path(__file__).parents[2] / "workbooks"
DEMOS = ("terrace", "courtyard", "fire-bowl")
DIARY = "terrace-diary"  # a job with money spent
ARGUMENTS = ["--no-sandbox", "--disable-gpu", "--disable-background-networking"]


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("demos")


@functools.cache
def made(folder: Path, name: str) -> tuple[Comparison, Path]:
    """The comparison of one demo and its page on disk, made once, with what was spent on it."""
    book = WORKBOOKS / f"{name}.xlsx"
    reading = read(book)
    assert reading.job is not None, reading.problems
    path = folder / f"{name}.html"
    with written(reading.job.settings.manner):
        comparison, standing = files.with_spending(compare(reading.job), book)
        path.write_text(render(comparison, standing), encoding="utf-8")
    return comparison, path


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    chromium = shutil.which("chromium")
    assert chromium, "install Chromium to run the browser tests"
    with sync_playwright() as playwright:
        running = playwright.chromium.launch(executable_path=chromium, args=ARGUMENTS)
        yield running
        running.close()


@pytest.mark.parametrize("demo", [*DEMOS, DIARY])
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
    """Sums of money in cents, however their thousands and decimals are set apart."""
    found = re.findall(r"-?\d[\d.,\u202f\u2019]*[.,]\d\d(?!\d)", text)
    return [int(re.sub(r"[^\d-]", "", money)) for money in found]


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
#: Every page, width and theme once or more; a run takes long, all of them are for ``thorough``.
AXE_ALWAYS = {
    (DIARY, 360, "light"),
    ("terrace", 1440, "dark"),
    ("courtyard", 1440, "light"),
    ("courtyard", 360, "dark"),
    ("fire-bowl", 360, "light"),
}


@pytest.mark.parametrize(
    ("demo", "width", "scheme"),
    [
        pytest.param(*case, marks=() if case in AXE_ALWAYS else pytest.mark.thorough)
        for case in itertools.product((*DEMOS, DIARY), (360, 1440), ("light", "dark"))
    ],
)
def test_a_demo_page_has_no_barrier_that_axe_finds(
    browser: Browser, folder: Path, demo: str, width: int, scheme: str
) -> None:
    from axe_playwright_python.sync_playwright import Axe

    _, path = made(folder, demo)
    page = browser.new_page(
        viewport={"width": width, "height": 800},
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
    text = path.read_text(encoding="utf-8").replace("\u00a0", " ")
    assert "as is usual with EUR: 1.234,56 €, 4 May 2026." in text
    assert "Money is in EUR, lengths are in metres." in text
    assert "Prices as of 4 May 2026" in text
    _, path = made(folder, "terrace")
    text = path.read_text(encoding="utf-8").replace("\u00a0", " ")
    assert "as is usual with USD: $1,234.56, April 6, 2026." in text


@pytest.mark.parametrize("demo", [*DEMOS, DIARY])
def test_the_first_screen_of_a_phone_says_all_that_matters(
    browser: Browser, folder: Path, demo: str
) -> None:
    comparison, path = made(folder, demo)
    page = browser.new_page(viewport={"width": 360, "height": 740})
    page.goto(path.as_uri())

    def seen(selector: str) -> list[str]:
        """Texts that end above the lower edge of the screen."""
        found = []
        for part in page.locator(selector).all():
            box = part.bounding_box()
            assert box is not None
            if box["y"] + box["height"] <= 740:
                found.append(part.inner_text())
        return found

    facts, brief = seen("#answer .block dt"), seen("#answer .brief dt")
    assert facts[:3] == ["Cash", "Own work", "Saves against hiring"]
    assert ("Paid so far" in facts) == bool(comparison.job.spend)
    assert "Yourself" in brief  # what to do
    assert brief[-3:] == ["How sure", "It flips", "Missing"]
    missing = page.locator("#answer .brief dd").last.inner_text()
    assert missing.startswith("nothing" if comparison.complete else str(len(comparison.missing)))
    page.close()


@pytest.mark.parametrize("demo", DEMOS)
def test_a_demo_page_says_each_flip_once(folder: Path, demo: str) -> None:
    from markupsafe import escape

    comparison, path = made(folder, demo)
    text = path.read_text(encoding="utf-8")
    # a sentence may begin another, longer one: it is counted with the tags around it
    told = {f.sentence: text.count(f">{escape(f.sentence)}<") for f in comparison.flips}
    assert set(told.values()) <= {0, 1}
    assert sum(told.values()) > len(told) / 2


@pytest.mark.parametrize("demo", DEMOS)
def test_every_control_of_a_demo_is_reached_and_its_focus_seen(
    browser: Browser, folder: Path, demo: str
) -> None:
    # WCAG 2.2 SC 2.1.1, 2.4.7 and 1.4.11: by keyboard, with an outline that can be seen
    _, path = made(folder, demo)
    page = browser.new_page(viewport={"width": 360, "height": 740})
    page.goto(path.as_uri())
    wanted = page.evaluate(
        "[...document.querySelectorAll('a[href], summary, input, [tabindex=\"0\"]')]"
        ".filter(e => e.checkVisibility()).length"
    )
    seen = 0
    while page.keyboard.press("Tab") or page.evaluate("document.activeElement !== document.body"):
        wide, style = page.evaluate(
            "(s => [parseFloat(s.outlineWidth), s.outlineStyle])"
            "(getComputedStyle(document.activeElement))"
        )
        assert wide >= 2
        assert style == "solid"
        seen += 1
        assert seen <= wanted
    assert seen == wanted
    page.close()


@pytest.mark.parametrize("demo", DEMOS)
def test_a_demo_page_in_the_readers_own_colours_and_at_rest(
    browser: Browser, folder: Path, demo: str
) -> None:
    _, path = made(folder, demo)
    page = browser.new_page(
        viewport={"width": 360, "height": 740}, forced_colors="active", reduced_motion="reduce"
    )
    page.goto(path.as_uri())
    moving = page.evaluate(
        "[...document.querySelectorAll('*')].filter(e => { const s = getComputedStyle(e);"
        " return s.animationName !== 'none' || parseFloat(s.transitionDuration) > 0"
        " || s.scrollBehavior === 'smooth'; }).length"
    )
    assert moving == 0
    # words of charts, their strokes, and bars keep away from the ground that the reader chose
    ground = page.evaluate("getComputedStyle(document.body).backgroundColor")
    for selector, painted in (
        ("svg text", "fill"), (".outline", "stroke"), (".hours-bar", "fill"), (".link", "stroke"),
    ):  # fmt: skip
        colours = page.evaluate(
            f"[...document.querySelectorAll('{selector}')].filter(e => e.checkVisibility())"
            f".map(e => getComputedStyle(e).{painted})"
        )
        assert ground not in set(colours)
    page.close()


#: The width of a page less the margins of 13 mm at 96 pixels an inch.
PAPER_WIDTH = {"A4": round((210 - 26) / 25.4 * 96), "Letter": round((215.9 - 26) / 25.4 * 96)}

#: Dates and other short cells that take more than one line, and tables wider than the paper.
TORN = """width => {
  document.querySelector(".sheet").style.width = width + "px";
  const range = document.createRange();
  const lines = e => { range.selectNodeContents(e);
    return new Set([...range.getClientRects()].map(r => Math.round(r.bottom))).size; };
  const date = /^((Mon|Tue|Wed|Thu|Fri|Sat|Sun) )?(\\d+ \\w{3}|\\w{3} \\d+)(,? \\d{4})?$/;
  const cells = [...document.querySelectorAll("tbody th bdi, td.text")]
    .filter(e => e.getClientRects().length && date.test(e.textContent.trim()) && lines(e) > 1);
  const wide = [...document.querySelectorAll("table")].filter(e => e.offsetWidth > width + 1);
  return [...cells, ...wide].map(e => e.textContent.slice(0, 40));
}"""


@pytest.mark.parametrize(
    ("demo", "paper"),
    [
        ("courtyard", "A4"),
        ("fire-bowl", "Letter"),
        pytest.param("terrace", "A4", marks=pytest.mark.thorough),
        pytest.param("terrace", "Letter", marks=pytest.mark.thorough),
    ],
)
def test_a_demo_on_paper_has_no_dark_blocks_and_repeats_its_heads(
    browser: Browser, folder: Path, tmp_path: Path, demo: str, paper: str
) -> None:
    from pypdf import PdfReader

    comparison, path = made(folder, demo)
    page = browser.new_page(color_scheme="dark")
    page.goto(path.as_uri())
    page.emulate_media(media="print", color_scheme="dark")
    grounds = page.evaluate(
        "[...new Set([...document.querySelectorAll('body, section, table, tr, th, td, dl, div')]"
        ".map(e => getComputedStyle(e).backgroundColor))]"
    )
    clear = {"rgba(0, 0, 0, 0)", "rgb(255, 255, 255)", "rgb(102, 102, 102)"}  # the last: hairlines
    assert set(grounds) <= clear
    heads = page.evaluate(
        "[...document.querySelectorAll('thead')].map(e => getComputedStyle(e).display)"
    )
    assert set(heads) == {"table-header-group"}
    assert not page.evaluate(TORN, PAPER_WIDTH[paper])
    out = tmp_path / "page.pdf"
    page.pdf(path=out, format=paper)
    # letters drawn as one, such as the ff of "off", are read as two
    pages = [unicodedata.normalize("NFKC", p.extract_text()) for p in PdfReader(out).pages]
    texts = [" ".join(text.split()) for text in pages]
    assert all(len(text) > 40 for text in texts)  # no page all but blank
    whole = " ".join(texts)
    assert comparison.best is not None
    assert comparison.best.priced is not None
    for line in comparison.best.priced.lines:
        assert " ".join(line.name.split()) in whole
    page.close()


def test_the_first_screen_of_a_begun_job_agrees_with_what_spend_says(
    browser: Browser, folder: Path
) -> None:
    comparison, path = made(folder, DIARY)
    _, standing = files.with_spending(comparison, WORKBOOKS / f"{DIARY}.xlsx")
    assert standing is not None
    limit = comparison.job.settings.spending_limit
    assert limit is not None
    paid = standing.tracking.paid
    comes = sum(line.will_come_to for line in standing.tracking.lines)
    page = browser.new_page(viewport={"width": 360, "height": 740})
    page.goto(path.as_uri())
    fact = page.locator("#answer .block > div").last.inner_text()
    assert f"${round(paid / 100):,}" in fact
    assert f"comes to ${round(comes / 100):,}; ${round((limit - comes) / 100):,} under" in fact
    assert page.locator("#answer a[href='#spending']").is_visible()
    page.close()
