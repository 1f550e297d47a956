"""Native charts of the comparison workbook, with titles and units on both axes.

Neighbouring series differ in darkness, hatching, dash or mark, never in colour alone.
"""

from __future__ import annotations

from typing import Any

from budget.report.book_cells import Chart
from budget.report.book_styles import INK, LINES, SERIES

_TYPES = {
    "stacked bars": {"type": "bar", "subtype": "stacked"},
    "columns": {"type": "column"},
    "lines": {"type": "line"},
}


def add_chart(workbook: Any, chart: Chart) -> Any:
    """A chart of an XlsxWriter workbook, to be put on a sheet."""
    drawn = workbook.add_chart(dict(_TYPES[chart.kind]))
    for number, (name, values) in enumerate(chart.series):
        drawn.add_series(
            {
                "name": [chart.sheet, *name],
                "categories": [chart.sheet, *chart.categories],
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
    else:
        drawn.set_x_axis({"name": chart.along, "label_position": "low"})
        drawn.set_y_axis(values_axis | {"major_gridlines": {"visible": True}})
    drawn.set_legend({"position": "bottom"})
    return drawn


def _look(chart: Chart, number: int) -> dict[str, Any]:
    if chart.kind == "lines":
        return LINES[number % len(LINES)]
    edge = {"border": {"color": INK, "width": 0.75}}
    return {"gap": 60, **edge, **SERIES[number % len(SERIES)]}
