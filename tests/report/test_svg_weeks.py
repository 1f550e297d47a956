"""Charts over weeks, checked against the numbers they draw."""

from __future__ import annotations

import xml.etree.ElementTree as ET
from itertools import pairwise

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from budget.report.drawing import weeks as svg_weeks
from budget.report.drawing.weeks import Bars, Trace, ticks

DATES = ("3 May", "10 May", "17 May", "24 May", "31 May", "7 June", "14 June")


def parsed(picture: object) -> ET.Element:
    return ET.fromstring(str(picture))


def scale_of(root: ET.Element, say: dict[str, float]) -> tuple[float, float]:
    """Pixels per unit and the height of nought, from two labels of the scale."""
    at = {t.text: float(t.get("y") or 0) - 4 for t in root.iter("text")}
    (low, a), (high, b) = [(value, at[name]) for name, value in say.items()]
    per = (b - a) / (high - low)
    return per, a - low * per


def drawn(values: list[float | None]) -> ET.Element:
    trace = Trace("Will come to", values, [f"{v}" for v in values])
    return parsed(svg_weeks.lines("k", "t", DATES[: len(values)], [trace], lambda v: f"{v:g}"))


@example(0.0, 5e-324)
@example(-1e-300, 1e-300)
@given(st.floats(-1e7, 1e7), st.floats(-1e7, 1e7))
def test_the_scale_holds_both_ends_and_nought_in_even_steps(a: float, b: float) -> None:
    marks = ticks(min(a, b), max(a, b))
    assert 0.0 in marks
    slack = 1e-6 * (abs(a) + abs(b))  # far less than a pixel
    assert marks[0] <= min(a, b) + slack
    assert marks[-1] >= max(a, b) - slack
    assert 2 <= len(marks) <= 7
    steps = {round((y - x) / (marks[1] - marks[0]), 6) for x, y in pairwise(marks)}
    assert steps == {1.0}


def test_points_stand_where_their_values_are() -> None:
    values: list[float | None] = [5931.0, 5954.0, 6198.0, 6463.0]
    root = drawn(values)
    per, nought = scale_of(root, {"0": 0, "8000": 8000})
    points = list(root.iter("circle"))
    heights = [(float(p.get("cy") or 0) - nought) / per for p in points]
    assert heights == pytest.approx(values, abs=0.5)
    across = [float((p.get("cx") or "").rstrip("%")) for p in points]
    gaps = [b - a for a, b in pairwise(across)]
    assert gaps == pytest.approx([gaps[0]] * 3, abs=0.02)


def test_a_week_nobody_knows_is_left_out_and_not_nought() -> None:
    root = drawn([None, 0.2, 0.5])
    told = [title.text for point in root.iter("circle") for title in point]
    assert told == ["0.2", "0.5"]


def test_lines_differ_without_their_colours() -> None:
    traces = [Trace(f"line {n}", [n, n + 1], ["", ""]) for n in range(3)]
    root = parsed(svg_weeks.lines("k", "t", DATES[:2], traces, str))
    groups = [g for g in root if (g.get("class") or "").startswith("trace")]
    marks = [{e.tag for e in g.iter() if e.tag in ("circle", "rect")} for g in groups]
    assert marks[0] == {"circle"}
    assert marks[1] == {"rect"}
    assert {c.get("class") for c in groups[2].iter("circle")} == {"bare"}


def test_columns_are_as_high_as_their_money_and_returns_hang_below() -> None:
    out = Bars("Out", [100.0, 250.0, 0.0], ["a", "b", "c"], 0)
    back = Bars("In", [0.0, -50.0, -25.0], ["d", "e", "f"], 5)
    root = parsed(svg_weeks.columns("k", "t", DATES[:3], [out, back], lambda v: f"{v:g}"))
    per, nought = scale_of(root, {"0": 0, "200": 200})
    shapes = list(root.iter("rect"))
    heights = [float(r.get("height") or 0) / -per for r in shapes]
    assert heights == pytest.approx([100, 250, 0, 0, 50, 25], abs=0.1)
    tops = [float(r.get("y") or 0) for r in shapes]
    assert all(top <= nought for top in tops[:3])
    assert all(top == pytest.approx(nought, abs=0.02) for top in tops[3:])


@pytest.mark.parametrize("weeks", [1, 2, 5, 7])
def test_the_last_date_is_always_told(weeks: int) -> None:
    root = drawn([float(n) for n in range(weeks)])
    told = [t.text for t in root.iter("text") if t.text in DATES]
    assert told[-1] == DATES[weeks - 1]
    assert len(told) <= 3


def test_text_of_the_user_stays_text() -> None:
    trace = Trace("<b>", [1.0, 2.0], ["<script>", "&"])
    root = parsed(svg_weeks.lines("k", "<t>", ("<3 May>", "x"), [trace], lambda v: f"<{v}>"))
    assert {e.tag for e in root.iter()} <= {"svg", "g", "line", "circle", "rect", "text", "title"}
