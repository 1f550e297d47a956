"""How the blank workbook looks: a few calm formats, made once per workbook."""

from __future__ import annotations

from typing import Any

from budget.numerals import cell_date
from budget.units import DEPTH, LENGTH
from budget.workbook.sheets.describe import Column

INK = "#26332D"
MOSS = "#3E5C50"
PALE = "#DDE6DF"
LINE = "#D5D9D3"
GREY = "#5F6B65"
SAND = "#F6F3EA"
AMBER = "#F7DFA5"
#: A font that every program has, or one as wide; its digits are what widths of columns count in.
FONT, SIZE = "Arial", 10
#: What a workbook is opened with.
DEFAULT = {"font_name": FONT, "font_size": SIZE}

#: After a number: so much room as a digit takes, so that it never touches what stands beside it.
ROOM = "_0"

_BASE = {"font_name": FONT, "font_size": SIZE, "font_color": INK, "valign": "top"}
_LOOKS: dict[str, dict[str, Any]] = {
    "title": {"bold": True, "font_size": 15, "font_color": MOSS, "valign": "vcenter"},
    "sheet name": {"bold": True, "font_size": 12, "font_color": MOSS, "valign": "vcenter"},
    "purpose": {"bold": True, "text_wrap": True, "valign": "vcenter", "font_color": MOSS},
    "worth": {"text_wrap": True, "font_color": GREY, "valign": "top"},
    "required": {
        "bold": True, "text_wrap": True, "bg_color": MOSS, "font_color": "#FFFFFF",
        "valign": "vcenter", "border": 1, "border_color": MOSS, "align": "left", "indent": 1,
    },
    "optional": {
        "bold": True, "text_wrap": True, "bg_color": PALE, "font_color": INK,
        "valign": "vcenter", "border": 1, "border_color": LINE, "align": "left", "indent": 1,
    },
    "line": {"bottom": 1, "border_color": LINE},
    "mark": {"bg_color": AMBER},
    "band": {"font_color": GREY, "valign": "vcenter"},
    "live title": {
        "italic": True, "text_wrap": True, "font_color": GREY, "valign": "vcenter",
        "border": 1, "border_color": LINE, "align": "left", "indent": 1,
    },
    "answer": {"border": 1, "border_color": LINE, "align": "center", "valign": "vcenter"},
    "said": {"font_color": GREY, "align": "left", "indent": 1, "valign": "vcenter"},
    "count": {"font_color": GREY, "align": "center", "valign": "vcenter"},
    "asked": {"text_wrap": True, "valign": "vcenter"},
    "asked boxed": {
        "text_wrap": True, "valign": "vcenter", "border": 1, "border_color": LINE,
        "align": "left", "indent": 1,
    },
    "amount boxed": {"valign": "vcenter", "align": "right", "border": 1, "border_color": LINE},
    "words": {"text_wrap": True},
    "grey": {"text_wrap": True, "font_color": GREY, "valign": "vcenter", "indent": 1},
    "label": {"bold": True, "valign": "vcenter", "align": "left", "indent": 1},
    "plain": {"bold": True, "valign": "vcenter"},
    "number": {"align": "center", "font_color": GREY, "valign": "vcenter"},
    "link": {"bold": True, "font_color": MOSS, "underline": 1, "valign": "vcenter"},
    "caution": {"text_wrap": True, "bg_color": SAND},
    "list": {"num_format": "@", "align": "left", "indent": 1},
}  # fmt: skip


class Styles:
    """The formats of one workbook, each made when first asked for."""

    def __init__(self, book: Any) -> None:
        """``book`` is the XlsxWriter workbook."""
        self._book = book
        self._made: dict[str, Any] = {}

    def look(self, name: str) -> Any:
        """A named look."""
        return self._make(name, _LOOKS[name])

    def header(self, column: Column) -> Any:
        """The format of a column's title."""
        name = "required" if column.required else "optional"
        if not to_the_right(column):
            return self.look(name)
        return self._make(f"{name} right", _LOOKS[name] | {"align": "right"})

    def amount(self, amount: float) -> Any:
        """A boxed number with the decimals that it has, a digit's width off the edge."""
        places = len(f"{amount:.9f}".rstrip("0").partition(".")[2])
        shown = "#,##0" + "." * bool(places) + "0" * places + ROOM
        return self._make(f"amount {places}", _LOOKS["amount boxed"] | {"num_format": shown})

    def line(self) -> Any:
        """A thin rule below a row, for a conditional format (which takes no font)."""
        return self._conditional("line")

    def marked(self) -> Any:
        """A cell to look at, for a conditional format."""
        return self._conditional("mark")

    def key_mark(self) -> Any:
        """A cell that shows what a cell to look at looks like."""
        return self._make("key mark", _LOOKS["mark"] | {"align": "left", "indent": 1})

    def _conditional(self, name: str) -> Any:
        if f"conditional {name}" not in self._made:
            self._made[f"conditional {name}"] = self._book.add_format(dict(_LOOKS[name]))
        return self._made[f"conditional {name}"]

    def live(self, number_format: str) -> Any:
        """A cell that a formula of the sheet fills."""
        right = number_format != "@"
        shown = number_format if right else "General"
        look: dict[str, Any] = {"num_format": shown, "font_color": GREY}
        look |= {"align": "right"} if right else {"align": "left", "indent": 1}
        return self._make(f"live {number_format}", look)

    def cell(self, column: Column, boxed: bool = False) -> Any:
        """The format of a column's cells; ``boxed`` draws a border, as on the Job sheet."""
        name = f"cell {number_format(column)} {column.value} {boxed}"
        look: dict[str, Any] = {"num_format": number_format(column), "align": "left", "indent": 1}
        if to_the_right(column):  # no indent: LibreOffice gives it to one of two neighbours alike
            look |= {"align": "right", "indent": 0}
        if column.width >= 20:
            look["text_wrap"] = True
        if boxed:
            look |= {
                "border": 1,
                "border_color": LINE,
                "align": "left",
                "indent": 1,
                "valign": "vcenter",
            }
        return self._make(f"{name} {column.width >= 20}", look)

    def _make(self, name: str, look: dict[str, Any]) -> Any:
        if name not in self._made:
            self._made[name] = self._book.add_format(_BASE | look)
        return self._made[name]


def to_the_right(column: Column) -> bool:
    """Whether the column's numbers stand at the right of their cells."""
    return column.value in ("number", "whole", "money", "measure", "share")


def number_format(column: Column) -> str:
    """Text where a size such as 1/2 would turn into a date; else a plain number format."""
    if column.value == "money":
        return f"#,##0.00{ROOM}"
    if column.value == "share":
        return f"0.0%{ROOM}"
    if column.value == "date":
        return cell_date()
    if column.value in ("number", "whole") or (
        column.value == "measure" and column.kind not in (LENGTH, DEPTH)
    ):
        return "General"
    return "@"
