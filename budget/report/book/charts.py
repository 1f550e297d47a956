"""Native charts of the comparison workbook, with titles and units on both axes.

Neighbouring series differ in darkness, hatching, dash or mark, never in colour alone.
"""

from __future__ import annotations

import math
from typing import Any

from budget.report.book.cells import Chart
from budget.report.book.styles import INK, LINES, SERIES

_TYPES = {
    "stacked bars": {"type": "bar", "subtype": "stacked"},
    "columns": {"type": "column"},
    "lines": {"type": "line"},
    "outlines": {"type": "scatter", "subtype": "straight"},
}
_DARK, _OPEN = {"fill": {"color": INK}}, {"fill": {"none": True}}
#: How each kind of line and sign of the measured drawing is drawn: its line, then its mark.
_PLAN: dict[str, tuple[dict[str, Any], dict[str, Any]]] = {
    "outline": ({"width": 1.5}, {}),
    "optional": ({"width": 1.25, "dash_type": "long_dash"}, {}),
    "optional outline": ({"width": 1.25, "dash_type": "long_dash"}, {}),
    "name": ({}, {}),  # a placed outline: its edges are drawn by kind
    "cut": ({"width": 1.0, "dash_type": "dash"}, {}),
    "held": ({"width": 1.5}, {}),
    "joined": ({"width": 1.0, "dash_type": "round_dot"}, {}),
    "house": ({"width": 5.0}, {}),
    "standing": ({"width": 2.25}, {}),
    "run": ({"width": 0.75, "dash_type": "dash_dot"}, {}),
    "length": ({}, {}),
    "fall": ({"width": 1.0}, {}),
    "ground": ({}, {"type": "x", **_OPEN}),
    "sill": ({}, {"type": "triangle", **_DARK}),
    "drop": ({}, {"type": "square", **_DARK}),
}
#: Where the words of signs stand: heights above, so that a sill on the same spot is read below.
_BESIDE = {"ground": "above", "sill": "below", "drop": "right", "fall": "right"}
#: Shares of a drawing's width and height that its plan takes.
_WIDE, _HIGH = 0.86, 0.78
#: Pixels of a drawing around its plot: for the title, the values of an upright axis, what stands
#: along the lower one, the a line of the legend, the right edge; and of a letter of a name.
_TITLE, _VALUES, _ALONG, _LEGEND, _RIGHT, _LETTER = 40, 90, 52, 26, 25, 6
#: So many names stand on one line of the legend.
_NAMES = 4


def add_chart(workbook: Any, chart: Chart, size: tuple[int, int]) -> Any:
    """A chart of an XlsxWriter workbook, to be put on a sheet; ``size`` in pixels."""
    drawn = workbook.add_chart(dict(_TYPES[chart.kind]))
    for number, (name, values) in enumerate(chart.series):
        drawn.add_series(
            {
                "name": [chart.sheet, *name],
                "categories": [chart.sheet, *(chart.xs[number] if chart.xs else chart.categories)],
                "values": [chart.sheet, *values],
                **_look(chart, number),
            }
        )
    drawn.set_title({"name": chart.title, "name_font": {"size": 12}})
    values_axis = {"name": chart.axis, "num_format": chart.number_format}
    if chart.kind == "stacked bars":
        drawn.set_x_axis(values_axis | {"min": 0})
        drawn.set_y_axis(
            {"reverse": True, "crossing": "max", "interval_unit": 1, "num_font": {"size": 8}}
        )
    elif chart.kind == "outlines":
        _one_scale(drawn, chart, size)
    else:
        along = {"name": chart.along, "label_position": "low", "text_axis": True}
        shown = {"num_format": chart.along_format} if chart.along_format else {}
        drawn.set_x_axis(along | shown)
        drawn.set_y_axis(values_axis | {"major_gridlines": {"visible": True}})
    told = chart.kind != "outlines" and len(chart.series) > 1
    drawn.set_legend({"position": "bottom"} if told else {"none": True})
    if chart.kind != "outlines":
        drawn.set_plotarea({"layout": _layout(chart, size, told)})
    return drawn


def _layout(chart: Chart, size: tuple[int, int], told: bool) -> dict[str, float]:
    """Where the plot lies in its drawing, so that its names and no empty space stand around it."""
    wide, high = size
    left = min(_LETTER * chart.longest + 20, wide // 2) if chart.longest else _VALUES
    below = _ALONG + _LEGEND * math.ceil(len(chart.series) / _NAMES) * told
    return {
        "x": left / wide, "y": _TITLE / high,
        "width": (wide - left - _RIGHT) / wide, "height": (high - _TITLE - below) / high,
    }  # fmt: skip


def _one_scale(drawn: Any, chart: Chart, size: tuple[int, int]) -> None:
    """Axes on which a foot across is as long as a foot up, from whole steps on."""
    left, right, low, high = chart.spans
    most = max(right - left, high - low)
    wide, tall = _WIDE * size[0], _HIGH * size[1]
    step = next(s for s in (1, 2, 5, 10, 20, 50, 100, 10**6) if most <= 15 * s)
    scale = max((right - left + 2 * step) / wide, (high - low + 2 * step) / tall)
    layout = {"x": 0.09, "y": 0.1, "width": _WIDE, "height": _HIGH}
    drawn.set_plotarea({"layout": layout})
    for start, pixels, name, said in (
        (left, wide, chart.along, drawn.set_x_axis),
        (low, tall, chart.axis, drawn.set_y_axis),
    ):
        first = (math.ceil(start / step) - 1) * step
        said({
            "name": name, "num_format": chart.number_format, "min": first,
            "max": first + scale * pixels, "major_unit": step, "label_position": "low",
            "major_gridlines": {"visible": True, "line": {"color": "#DDDDDD", "width": 0.5}},
        })  # fmt: skip


def _look(chart: Chart, number: int) -> dict[str, Any]:
    if chart.kind == "outlines":
        return _on_plan(chart, number)
    if chart.kind == "lines":
        return LINES[number % len(LINES)]
    edge = {"border": {"color": INK, "width": 0.75}}
    return {"gap": 60, **edge, **SERIES[number % len(SERIES)]}


def _on_plan(chart: Chart, number: int) -> dict[str, Any]:
    """A line or a sign of the measured drawing, with its name or its words."""
    line, mark = _PLAN[chart.looks[number]]
    look = {
        "line": {"color": INK, **line} if line else {"none": True},
        "marker": {"size": 7, "border": {"color": INK}, **mark} if mark else {"type": "none"},
    }
    words = chart.labels[number]
    if any(words):
        custom = [{"value": _as_words(text)} if text else {"delete": True} for text in words]
        place = _BESIDE.get(chart.looks[number], "center")
        return look | {"data_labels": {"value": True, "position": place, "custom": custom}}
    return look


def _as_words(text: str) -> str:
    """A label that stays one: the library reads ``Bed!A1`` as a cell, but not with a word joiner,
    which shows nothing, after the mark."""
    return text.replace("!", "!\u2060")
