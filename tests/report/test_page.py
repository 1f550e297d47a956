"""The summary page: its words equal the comparison, and nothing in it asks a network."""

from __future__ import annotations

import base64
import dataclasses
import hashlib
import itertools
import re
from collections.abc import Callable
from html.parser import HTMLParser

import pytest

from budget.decide.outcome import Comparison
from budget.decide.plan import Missing
from budget.report import words
from budget.report.page import hour as page_hour
from budget.report.page.page import render
from budget.report.page.view import View

Build = Callable[..., Comparison]
VOID = {"meta", "link", "input", "br", "img", "hr"}


class Node:
    def __init__(self, name: str, attributes: dict[str, str], parent: Node | None) -> None:
        self.name, self.attributes, self.parent = name, attributes, parent
        self.children: list[Node] = []
        self.pieces: list[str | Node] = []

    @property
    def text(self) -> str:
        joined = "".join(p if isinstance(p, str) else f" {p.text} " for p in self.pieces)
        return " ".join(joined.split())

    def all(self, name: str = "", class_: str = "") -> list[Node]:
        found = []
        for child in self.children:
            if (not name or child.name == name) and (
                not class_ or class_ in child.attributes.get("class", "").split()
            ):
                found.append(child)
            found += child.all(name, class_)
        return found

    def id(self, key: str) -> Node:
        (found,) = [n for n in self.all() if n.attributes.get("id") == key]
        return found


class Reader(HTMLParser):
    """Reads a page into nodes and fails on tags that do not match."""

    def __init__(self) -> None:
        super().__init__()
        self.root = self.here = Node("", {}, None)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        node = Node(tag, {k: v or "" for k, v in attrs}, self.here)
        self.here.children.append(node)
        self.here.pieces.append(node)
        if tag not in VOID:
            self.here = node

    def handle_endtag(self, tag: str) -> None:
        assert self.here.name == tag, f"</{tag}> closes <{self.here.name}>"
        assert self.here.parent is not None
        self.here = self.here.parent

    def handle_data(self, data: str) -> None:
        self.here.pieces.append(data)


def read(html: str) -> Node:
    reader = Reader()
    reader.feed(html)
    reader.close()
    assert reader.here is reader.root
    return reader.root


def cells(table: Node) -> list[list[str]]:
    return [
        [c.text for c in row.children]
        for body in table.all("tbody")
        for row in body.children
        if "how-row" not in row.attributes.get("class", "")
    ]


def table_under(page: Node, caption_key: str) -> Node:
    (found,) = [
        t for t in page.all("table") if t.attributes["aria-labelledby"] == f"{caption_key}-caption"
    ]
    return found


@pytest.fixture
def comparison(small_comparison: Build) -> Comparison:
    return small_comparison()


@pytest.fixture
def page(comparison: Comparison) -> Node:
    return read(render(comparison))


def test_nothing_is_asked_of_any_network(comparison: Comparison) -> None:
    html = render(comparison)
    for node in read(html).all():
        for name, value in node.attributes.items():
            if name in ("src", "href", "action", "poster", "srcset", "data", "xlink:href"):
                assert value.startswith(("#", "data:,")), (node.name, name, value)
    assert set(re.findall(r"url\(([^)]*)\)", html)) <= {
        f"#{kind}-{i}" for kind in ("stripes", "dots", "grid") for i in range(4)
    }
    assert "@import" not in html
    assert "http" not in re.sub(r'http-equiv="Content-Security-Policy"', "", html)


def test_only_the_script_of_the_page_may_run(comparison: Comparison) -> None:
    page = read(render(comparison))
    (policy,) = [m.attributes["content"] for m in page.all("meta") if "http-equiv" in m.attributes]
    (script,) = [s for s in page.all("script") if s.attributes.get("type") != "application/json"]
    text = "".join(p for p in script.pieces if isinstance(p, str))
    digest = base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()
    assert "default-src 'none'" in policy
    assert f"script-src 'sha256-{digest}'" in policy


def test_the_page_is_one_document_with_sound_structure(page: Node) -> None:
    ids = [n.attributes["id"] for n in page.all() if "id" in n.attributes]
    assert len(ids) == len(set(ids))
    for node in page.all():
        for key in ("aria-labelledby", "for"):
            assert set(node.attributes.get(key, "").split()) <= set(ids)
        if node.attributes.get("href", "").startswith("#"):
            assert node.attributes["href"][1:] in ids
    levels = [int(n.name[1]) for n in page.all() if re.fullmatch("h[1-6]", n.name)]
    assert levels[0] == 1
    assert levels.count(1) == 1
    assert all(b - a <= 1 for a, b in itertools.pairwise(levels))
    assert len(page.all("main")) == len(page.all("nav")) == len(page.all("header")) == 1
    assert page.all("html")[0].attributes["lang"] == "en"


def test_every_drawing_is_named_or_hidden_from_readers(page: Node) -> None:
    drawings = page.all("svg")
    assert len([d for d in drawings if d.attributes.get("role") == "img"]) >= 5
    for drawing in drawings:
        if drawing.attributes.get("aria-hidden") == "true":
            continue
        assert drawing.attributes["role"] == "img"
        assert drawing.children[0].name == "title"
        assert drawing.children[0].text


def test_every_table_has_heads_for_columns_and_rows(page: Node) -> None:
    for table in page.all("table"):
        heads = table.all("thead")[0].all("th")
        assert all(h.text and h.attributes["scope"] == "col" for h in heads)
        for row in table.all("tbody")[0].children:
            if "how-row" in row.attributes.get("class", ""):
                continue
            assert len(row.children) == len(heads)
            assert row.children[0].name == "th"
            assert row.children[0].text


def test_the_first_screen_says_what_the_comparison_says(page: Node, comparison: Comparison) -> None:
    best, hired = comparison.best, comparison.hired
    assert best is not None
    assert best.priced is not None
    assert hired is not None
    assert hired.priced is not None
    saving = hired.priced.cash - best.priced.cash
    hours = best.priced.own_hours - hired.priced.own_hours
    assert page.all("h1")[0].text == "Mixed hands, sand bedding"
    assert [n.text for n in page.all("span", "big")] == [
        words.money_round(best.priced.cash, "USD"),
        words.hours(best.priced.own_hours),
        words.money_round(saving, "USD"),
        words.money(saving / hours, "USD"),
    ]
    answer = page.id("answer").text
    flip = words.money(saving / hours, "USD")  # the two plans cost the same at this value
    for text in (
        "Best plan",
        "Proved the cheapest",
        f"when your hour is worth above {flip}",
        "nothing: every cost is priced",
        f"Above {flip} an hour: Dig: hire Earth & Stone",
    ):
        assert text in answer
    assert comparison.flips[0].sentence in page.id("steps").text
    assert comparison.flips[1].sentence in page.id("sellers").text


def test_the_scenario_table_equals_the_scenarios(page: Node, comparison: Comparison) -> None:
    rows = cells(table_under(page, "scenarios-table"))
    expected = [
        [
            words.money(s.priced.cash, "USD"),
            words.hours(s.priced.own_hours),
            words.money(s.priced.cash + 2000 * s.priced.own_hours, "USD"),
        ]
        for s in comparison.scenarios
        if s.priced
    ]
    assert [row[1:] for row in rows] == expected
    assert "no bid covers Lay" in page.id("scenarios").text


def amount(text: str) -> int:
    return round(100 * float(text.replace("$", "").replace(",", "")))


def test_groups_behind_the_chart_add_up_to_each_plan(page: Node, comparison: Comparison) -> None:
    rows = cells(table_under(page, "groups-table"))
    plans = [s.priced for s in comparison.scenarios if s.priced]
    for i, plan in enumerate(plans, 1):
        assert sum(amount(row[i]) for row in rows) == plan.cash


def test_lines_shown_add_up_to_the_cash(page: Node, comparison: Comparison) -> None:
    assert comparison.best is not None
    assert comparison.best.priced is not None
    shown = [row for row in cells(table_under(page, "lines-table")) if not row[0].endswith(", all")]
    assert len(shown) == len(comparison.best.priced.lines)
    assert sum(amount(row[2]) for row in shown) == comparison.best.priced.cash


def test_quantities_show_net_and_order_in_peoples_units(page: Node, comparison: Comparison) -> None:
    rows = cells(table_under(page, "quantities-1"))
    need = comparison.takeoff.needs[0]
    # 20 m² x 0.1 m = 2 m³ = 2 / 0.764555 cu yd; 2 m³ x 2,200 kg/m³ = 4,400 kg = 9,700 lb
    assert rows[0][1:] == ["2.62 cu yd", "5 %", "9,700 lb", "9,700 lb"]
    assert rows[0][0].startswith(need.line)
    steps = page.id("quantities").all("details", "how")[0].all("li")
    assert [step.all("i")[0].text for step in steps] == [
        "area of the base", "base depth", "compacted base", "density", "base stone",
    ]  # fmt: skip
    assert steps[-1].all("b")[0].text == "= 9,700 lb"


def test_the_control_stands_on_the_plan_that_is_best_at_each_value(comparison: Comparison) -> None:
    hour = page_hour.hour_value(View(comparison))
    assert hour is not None
    assert hour.stops[hour.start].cents == 2000
    plans = [p.priced for p in comparison.frontier]
    seen = set()
    for stop in hour.stops:
        sums = [p.cash + p.own_hours * stop.cents for p in plans]
        assert sums[stop.plan] == pytest.approx(min(sums))
        assert stop.total == words.money(min(sums), "USD")
        assert stop.words == words.an_hour(stop.cents, "USD")
        seen.add(stop.plan)
    assert seen == {0, 1}


def test_a_hostile_workbook_is_shown_as_text(small_comparison: Build) -> None:
    nasty = "<script>alert(1)</script>\"'><img src=x onerror=alert(2)>\u202e\u2066</title>{{ 7*7 }}"
    page = read(render(small_comparison(job_name=nasty, part=nasty)))
    assert len(page.all("script")) == 2
    assert page.all("img") == []
    shown = nasty.replace("\u202e", "").replace("\u2066", "")
    assert page.all("header")[0].all("bdi")[0].text == shown
    assert shown in page.id("quantities").text


def test_an_incomplete_answer_says_what_is_missing(small_comparison: Build) -> None:
    gap = Missing("Permit", "Checklist", "Ask the town hall.")
    full = small_comparison()
    page = read(
        render(
            dataclasses.replace(
                full, complete=False, missing=(gap,), next_step="Price the permit next."
            )
        )
    )
    answer = page.id("answer").text
    for text in ("Best so far", "Price the permit next.", "Permit", "Ask the town hall."):
        assert text in answer


def test_a_comparison_without_any_plan_still_gives_a_page(small_comparison: Build) -> None:
    full = small_comparison()
    page = read(
        render(
            dataclasses.replace(
                full, best=None, hired=None, complete=False, frontier=(), flips=(),
                scenarios=full.scenarios[-1:], next_step="Fill the Bids sheet.",
            )
        )
    )  # fmt: skip
    assert "Fill the Bids sheet." in page.id("answer").text
    assert "no bid covers Lay" in page.id("scenarios").text
    assert page.id("quantities").all("table")


def test_the_page_is_the_same_each_time(small_comparison: Build) -> None:
    assert render(small_comparison()) == render(small_comparison())


def brightness(colour: str) -> float:
    """Relative luminance (WCAG 2.2, definition of relative luminance)."""
    channels = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(a: str, b: str) -> float:
    low, high = sorted((brightness(a), brightness(b)))
    return (high + 0.05) / (low + 0.05)


def themes(html: str) -> list[dict[str, str]]:
    """The colour tokens of each theme: light, dark and paper."""
    style = html[html.index("<style>") : html.index("</style>")]
    blocks = re.findall(r":root \{([^}]*)\}", style)
    found = [
        {
            name: "#" + "".join(2 * c for c in value) if len(value) == 3 else f"#{value}"
            for name, value in re.findall(r"--([\w-]+): #([0-9a-f]{3,6})\b", block)
        }
        for block in blocks
    ]
    return [found[0] | theme for theme in found]


def test_contrast_in_light_dark_and_print(comparison: Comparison) -> None:
    # WCAG 2.2: text 4.5:1 (SC 1.4.3), graphics 3:1 (SC 1.4.11)
    found = themes(render(comparison))
    assert len(found) == 3
    assert contrast("#ffffff", "#000000") == pytest.approx(21)
    for theme in found:
        for text in ("ink", "quiet", "accent"):
            for ground in ("paper", "wash"):
                assert contrast(theme[text], theme[ground]) >= 4.5, (text, ground)
        for shape in ("fill-0", "fill-1", "fill-2", "fill-3", "line"):
            assert contrast(theme[shape], theme["paper"]) >= 3, shape
