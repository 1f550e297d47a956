"""How cells look: our own few styles, told apart in colour, by colour-blind eyes and in grey.

Kinds of cell differ by border as well as by fill: an input has a thin frame on pale yellow, a
count from a layout a dotted frame on pale blue, a choice of the plan a dashed frame on pale
violet. Formulas have no frame.
"""

from __future__ import annotations

from typing import Any

from budget.numerals import date_format
from budget.report.book.cells import Look

#: A number with as many digits as its column has room for.
GENERAL = "General"
#: The size of letters, in points.
SIZE = 10
INK = "#1C2B33"
QUIET = "#55636B"
RULE = "#C9D1D6"
HEAD = "#E4EAED"

_LOOKS: dict[Look, dict[str, Any]] = {
    "plain": {},
    "strong": {"bold": True},
    "quiet": {"font_color": QUIET, "italic": True},
    "good": {"bold": True, "font_color": "#0B4F6C", "bg_color": "#DCEEF5"},
    "warn": {"bold": True, "font_color": "#7A3E00", "bg_color": "#FCEBD9"},
    "head": {"bold": True, "bg_color": HEAD, "bottom": 2, "bottom_color": INK},
    "over": {"bold": True, "bg_color": HEAD},  # a heading with its unit beneath
    "unit": {
        "font_color": QUIET,
        "italic": True,
        "bg_color": HEAD,
        "bottom": 2,
        "bottom_color": INK,
    },
}
_ORIGINS: dict[str, dict[str, Any]] = {
    "given": {"bg_color": "#FFF6D1", "border": 1, "border_color": "#8A7A2E"},
    "default": {"bg_color": "#FFF6D1", "border": 1, "border_color": "#8A7A2E", "italic": True},
    "laid out": {"bg_color": "#DDEBF7", "border": 4, "border_color": "#2F5F8A"},
    "solved": {"bg_color": "#EDE4F3", "border": 3, "border_color": "#5E3C7A", "italic": True},
    "constant": {"font_color": QUIET},
    "fixed": {"font_color": QUIET},
}
_BASE: dict[str, Any] = {
    "font_name": "Arial",
    "font_size": SIZE,
    "font_color": INK,
    "valign": "top",
}


def _hatched(pattern: str, ink: str, paper: str) -> dict[str, Any]:
    return {"pattern": {"pattern": pattern, "fg_color": ink, "bg_color": paper}}


#: Fills and patterns of chart series: neighbours differ in darkness and in hatching.
SERIES: tuple[dict[str, Any], ...] = (
    {"fill": {"color": "#0B4F6C"}},
    _hatched("wide_upward_diagonal", "#C97B12", "#FCEBD9"),
    {"fill": {"color": "#8FB8CC"}},
    _hatched("wide_downward_diagonal", "#5E3C7A", "#F3EDF7"),
    {"fill": {"color": "#C99A05"}},
    {"fill": {"color": "#F7F4EC"}},
    {"fill": {"color": "#6B6B6B"}},
)


def _dashed(ink: str, mark: str, dash: str = "solid", width: float = 1.75) -> dict[str, Any]:
    paper = "#FFFFFF" if mark == "square" else ink
    return {
        "line": {"color": ink, "width": width, "dash_type": dash},
        "marker": {"type": mark, "size": 6, "border": {"color": ink}, "fill": {"color": paper}},
    }


#: Lines of charts: they differ in mark and dash.
LINES: tuple[dict[str, Any], ...] = (
    _dashed("#0B4F6C", "circle", width=2.25),
    _dashed("#A65A00", "square"),
    _dashed(INK, "none", "dash"),
)


class Styles:
    """The formats of one workbook, each made once."""

    def __init__(self, workbook: Any) -> None:
        """Formats are made on ``workbook``, an XlsxWriter workbook."""
        self._workbook = workbook
        self._known: dict[tuple[object, ...], Any] = {}  # by how it was asked for
        self._made: dict[tuple[tuple[str, Any], ...], Any] = {}

    def text(self, look: Look = "plain", *, ruled: bool = True, **more: Any) -> Any:
        """Words, wrapped within their column."""
        known = (look, ruled, *more.items())
        if known not in self._known:
            wrapped = {"text_wrap": True, "align": "left"}
            self._known[known] = self._make(_rule(ruled) | _LOOKS[look] | wrapped | more)
        return self._known[known]

    def number(self, number_format: str, look: Look = "plain") -> Any:
        """A number on its own line of a table."""
        known = (number_format, look)
        if known not in self._known:
            shown = _number(number_format)
            self._known[known] = self._make(_rule(True) | _LOOKS[look] | shown)
        return self._known[known]

    def input(self, number_format: str, origin: str) -> Any:
        """A number in a cell of one origin; what a person may change is not locked."""
        open_cell = origin not in ("constant", "fixed")
        shown = {**_INDENTED, "num_format": number_format, "locked": not open_cell}
        return self._make(_rule(True) | _ORIGINS[origin] | shown)

    def stored(self, number_format: str, origin: str) -> Any:
        """A number of the stored answer, marked by its origin and locked."""
        return self._make(_rule(True) | _ORIGINS[origin] | _number(number_format))

    def day(self, origin: str) -> Any:
        """A date: stored and marked by its origin; of none where it is worked out in its cell."""
        shown = {"num_format": date_format(), "align": "left", "indent": 1}
        return self._make(_rule(True) | (_ORIGINS[origin] if origin else {}) | shown)

    def title(self) -> Any:
        """The name of a sheet."""
        return self._make({"bold": True, "font_size": 16})

    def heading(self) -> Any:
        """The name of a table."""
        return self._make({"bold": True, "font_size": 12})

    def opening(self) -> Any:
        """What a sheet or table tells, across the sheet."""
        return self._make({"font_color": QUIET, "text_wrap": True})

    def link(self, *, ruled: bool = False) -> Any:
        """A link within the workbook."""
        return self._make(_rule(ruled) | {"font_color": "#0B4F6C", "underline": 1})

    def foot(self, number_format: str = "", **more: Any) -> Any:
        """A line of totals."""
        shown = _number(number_format) if number_format else {}
        line = {"bold": True, "top": 1, "top_color": INK, "text_wrap": True, "align": "left"}
        return self._make(line | shown | more)

    def _make(self, properties: dict[str, Any]) -> Any:
        everything = _BASE | properties
        key = tuple(sorted(everything.items()))
        if key not in self._made:
            self._made[key] = self._workbook.add_format(everything)
        return self._made[key]


#: A number off the edge by an indent.
_INDENTED = {"align": "right", "indent": 1}


def _number(number_format: str) -> dict[str, Any]:
    """To the right, but a digit's width off the edge, so that columns never touch.

    An indent would do the same, but of neighbours alike LibreOffice gives it to the first alone. A
    number with as many digits as fit has one all the same: with anything beside it, it would not
    be cut to fit.
    """
    if number_format == GENERAL:
        return {**_INDENTED, "num_format": GENERAL}
    return {"num_format": f"{number_format}_0", "align": "right"}


def _rule(ruled: bool) -> dict[str, Any]:
    return {"bottom": 4, "bottom_color": RULE} if ruled else {}
