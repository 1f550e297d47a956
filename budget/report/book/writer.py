"""Writes described sheets with XlsxWriter: cells, widths, protection, names, page set-up."""

from __future__ import annotations

import datetime as dt
import functools
import io
from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from budget.page_breaks import BOTTOM, ROW, SIDE, TOP, Paper, Stretch, falls
from budget.report.book.cells import (
    CHART_ROW,
    NONE,
    TOP_ROWS,
    Across,
    Cell,
    Chart,
    Day,
    Entered,
    Formula,
    Go,
    Live,
    Look,
    Picture,
    Sheet,
    Stored,
    SumAbove,
    Table,
    Text,
    UnitOf,
    letter,
    quoted,
)
from budget.report.book.charts import add_chart
from budget.report.book.figures import Register
from budget.report.book.sizes import Sizes
from budget.report.book.styles import SIZE, Styles
from budget.units import RATIO

_LETTER, _A4 = 1, 9
#: Dates are counted from here (ECMA-376, the 1900 date system, after February 1900).
_DAY_NOUGHT = dt.date(1899, 12, 30)
_LONGEST = 32000  # characters that a cell holds


@functools.cache
def plain_worksheet() -> type:
    """XlsxWriter's worksheet, that looks for functions only in formulas that call one.

    The library tries some thirty expressions on every formula for functions newer than the file
    format; most of ours are sums and products of cells.
    """
    from xlsxwriter.worksheet import Worksheet

    class Plain(Worksheet):  # type: ignore[misc]
        def _prepare_formula(self, formula: str, *more: Any, **named: Any) -> Any:
            if formula.startswith("=") and "(" not in formula and "}" not in formula:
                return formula[1:]
            return super()._prepare_formula(formula, *more, **named)

    return Plain


class Writer:
    """Puts sheets into one XlsxWriter workbook."""

    def __init__(self, workbook: Any, register: Register, job_name: str) -> None:
        """``register`` must be settled: every figure has its cell."""
        self._workbook = workbook
        self._register = register
        self._styles = Styles(workbook)
        self._sizes = Sizes(register)
        self._job_name = job_name
        self._sheets: dict[str, Any] = {}
        self._heights: dict[int, float] = {}  # of the rows of the sheet being written, in points

    def open(self, names: Sequence[str]) -> None:
        """Make the sheets in their order; they are filled in any order."""
        for name in names:
            self._sheets[name] = self._workbook.add_worksheet(name, plain_worksheet())

    def fill(self, sheet: Sheet) -> None:
        """Write one sheet."""
        page = self._sheets[sheet.name]
        self._heights = {}
        widths = self._sizes.widths(sheet)
        for number, width in enumerate(widths):
            page.set_column(number, number, width)
        self._top(page, sheet, widths)
        row = TOP_ROWS
        stretches: list[Stretch] = []
        for number, table in enumerate(sheet.tables):
            first = sheet.first_row(number) - 1
            self._table(page, sheet, table, first, widths)
            row = first + len(table.body) + len(table.foot)
            top = first - table.heading_rows if stretches else 0  # the sheet's title stays with it
            again = 0 if table.headless else 1 + table.measured
            head, goes_on = first - top, table.goes_on
            stretches.append(Stretch(top, row - 1, table.new_page, head, again, goes_on))
            if table.chart is not None:
                self._chart(page, table.chart, row + 1, widths)
                last = row + table.chart.rows - 1
                if isinstance(table.chart, Picture):  # with its heading
                    stretches[-1] = Stretch(top, last, table.new_page)
                else:
                    stretches.append(Stretch(row, last, stays=table.chart.stays))
                row = last + 1
        self._page_setup(page, sheet, row, len(widths))
        self._break_pages(page, sheet, widths, stretches)

    def _break_pages(
        self, page: Any, sheet: Sheet, widths: Sequence[int], stretches: Sequence[Stretch]
    ) -> None:
        """One page across; as many down as the tables need.

        Excel takes no notice of breaks in a sheet that is fitted to pages, so that one of several
        pages is printed at a scale instead.
        """
        paper = Paper(self._register.system, sheet.upright, widths)
        last = sheet.last_on_paper() or stretches[-1].last if stretches else 0
        printed = [replace(s, last=min(s.last, last)) for s in stretches if s.first <= last]
        scale, found = falls(paper, printed, self._heights, sheet.least_size / SIZE)
        if not found:
            page.fit_to_pages(1, 1)
            return
        page.set_print_scale(paper.percent(scale))
        page.set_h_pagebreaks(found)
        self._heads_again(page, sheet, printed, found)

    def _heads_again(
        self, page: Any, sheet: Sheet, printed: Sequence[Stretch], found: Sequence[int]
    ) -> None:
        """The headings of a table that goes over pages stand on each of them.

        A program repeats the same rows on all pages that follow them, so that this is done for
        the last table of a sheet, which a long one must be.
        """
        last = printed[-1]
        if last.again and any(row > last.first for row in found):
            first = last.first + last.head - last.again
            page.repeat_rows(first, first + last.again - 1)

    def _tall(self, page: Any, row: int, height: float) -> None:
        page.set_row(row, height)
        self._heights[row] = height

    def _top(self, page: Any, sheet: Sheet, widths: list[int]) -> None:
        page.write_string(0, 0, sheet.title, self._styles.title())
        self._tall(page, 0, 24)
        self._across(page, 1, sheet.opening, widths)
        if sheet.name == "Answer":
            self._tall(page, 2, 3)
        else:
            self._link(page, 2, 0, Go("Answer", "Back to the answer"), ruled=False)

    def _across(self, page: Any, row: int, words: str, widths: list[int]) -> None:
        self._spread(page, row, 0, Across(words), widths, self._styles.opening())
        self._tall(page, row, self._sizes.height([Across(words)], widths))

    def _spread(
        self, page: Any, row: int, column: int, cell: Across, widths: list[int], style: Any
    ) -> None:
        if len(widths) > column + 1:
            page.merge_range(row, column, row, len(widths) - 1, "", style)
        if cell.formula:
            page.write_formula(row, column, cell.formula, style, cell.words)
        else:
            page.write_string(row, column, cell.words[:_LONGEST], style)

    def _padded(self, table: Table, row: Sequence[Cell], widths: list[int]) -> Sequence[Cell]:
        """The row with blanks to the end of its table, so that its rule runs through."""
        if row and isinstance(row[-1], Across):
            return row
        wanted = len(widths) if table.headless else len(table.columns)
        return [*row, *[None] * (wanted - len(row))]

    def _table(self, page: Any, sheet: Sheet, table: Table, first: int, widths: list[int]) -> None:
        head = first - (not table.headless) - table.measured
        if table.remark:
            self._across(page, head - 1, table.remark, widths)
        if table.title:
            page.write_string(head - 1 - bool(table.remark), 0, table.title, self._styles.heading())
        if not table.headless:
            self._head(page, table, head)
            self._tall(page, head, self._sizes.head_height(table, widths))
        if table.measured:
            self._units(page, table, head + 1)
        if not table.headless and any(row and isinstance(row[-1], Across) for row in table.body):
            self._rest_of_head(page, table, (head, first), len(widths))
        last = first + len(table.body) - 1
        for number, row in enumerate(table.body, start=first):
            self._tall(page, number, self._sizes.height(row, widths))
            for column, cell in enumerate(self._padded(table, row, widths)):
                if isinstance(cell, Across):
                    style = self._styles.text(cell.look, indent=int(column > 0))
                    self._spread(page, number, column, cell, widths, style)
                elif cell == NONE:
                    self._none(page, number, column, table)
                else:
                    self._cell(page, number, column, cell)
        for number, row in enumerate(table.foot):
            for column, cell in enumerate([*row, *[""] * (len(table.columns) - len(row))]):
                self._foot(page, last + 1 + number, column, cell, (first, last))
        if table.filters and table.rows:
            page.autofilter(first - 1, 0, last, len(table.columns) - 1)
        self._name_columns(sheet, table, first, max(first, last))

    def _head(self, page: Any, table: Table, row: int) -> None:
        for number, column in enumerate(table.columns):
            align = "right" if column.right else "left"
            indent = int(number > 0 or column.right)
            more = {"text_wrap": False} if table.runs_on(number) else {}
            look: Look = "over" if table.measured else "head"
            style = self._styles.text(look, ruled=False, align=align, indent=indent, **more)
            page.write_string(row, number, column.title, style)
            if column.note:
                page.write_comment(row, number, column.note, {"x_scale": 1.6, "author": "budget"})

    def _rest_of_head(self, page: Any, table: Table, rows: tuple[int, int], wide: int) -> None:
        """The band of the headings runs as far as sentences beneath it do."""
        for row in range(*rows):
            look: Look = "head" if row == rows[1] - 1 else "over"
            for number in range(len(table.columns), wide):
                page.write_blank(row, number, None, self._styles.text(look, ruled=False))

    def _units(self, page: Any, table: Table, row: int) -> None:
        """The row of units; where a button to filter stands over it, it keeps clear of that."""
        for number, column in enumerate(table.columns):
            aside = 2 if table.filters and column.right else 1
            align = "right" if column.right else "left"
            style = self._styles.text("unit", ruled=False, align=align, indent=aside)
            page.write_string(row, number, self._sizes.unit_under(table, number), style)

    def _name_columns(self, sheet: Sheet, table: Table, first: int, last: int) -> None:
        for number, column in enumerate(table.columns):
            if column.name:
                cells = f"${letter(number)}${first + 1}:${letter(number)}${last + 1}"
                self._workbook.define_name(column.name, f"={quoted(sheet.name)}!{cells}")

    def _cell(self, page: Any, row: int, column: int, cell: Cell) -> None:
        styles, register = self._styles, self._register
        match cell:
            case None:
                page.write_blank(row, column, None, styles.text())
            case str():
                style = styles.text(indent=int(column > 0))
                page.write_string(row, column, cell[:_LONGEST], style)
            case Text(words, look):
                style = styles.text(look, indent=int(column > 0))
                page.write_string(row, column, words[:_LONGEST], style)
            case UnitOf(kind):
                page.write_string(
                    row, column, self._sizes.unit(kind), styles.text("quiet", indent=1)
                )
            case Live(figure, look, _):
                style = styles.number(self._sizes.format(figure.kind, figure.value), look)
                page.write_formula(
                    row,
                    column,
                    register.link(figure),
                    style,
                    self._sizes.shown(figure.value, figure.kind),
                )
            case Stored(value, kind, origin):
                style = styles.stored(self._sizes.fixed(kind, value), origin)
                page.write_number(row, column, self._sizes.shown(value, kind), style)
            case Day():
                self._day(page, row, column, cell)
            case Formula():
                self._formula(page, row, column, cell)
            case Entered():
                self._entered(page, row, column, cell)
            case Go():
                self._link(page, row, column, cell, ruled=True)
            case SumAbove() | Across():
                msg = f"{cell} does not belong here"
                raise TypeError(msg)

    def _none(self, page: Any, row: int, column: int, table: Table) -> None:
        """A dash, where the others of its column stand."""
        numbers = table.columns[column].right
        placed = {"align": "right", "indent": 1} if numbers else {"indent": int(column > 0)}
        page.write_string(row, column, NONE, self._styles.text(**placed))

    def _day(self, page: Any, row: int, column: int, cell: Day) -> None:
        style = self._styles.day("" if cell.formula else cell.origin)
        serial = (cell.date - _DAY_NOUGHT).days
        if cell.formula:
            text = cell.formula.replace("{row}", str(row + 1))
            page.write_formula(row, column, text, style, serial)
        else:
            page.write_number(row, column, serial, style)

    def _formula(self, page: Any, row: int, column: int, cell: Formula) -> None:
        text = cell.text.replace("{row}", str(row + 1))
        if cell.kind is None or isinstance(cell.value, str):
            look = "plain" if cell.look == "plain" else cell.look
            style = (
                self._styles.text(look, indent=int(column > 0))
                if isinstance(cell.value, str)
                else self._styles.number("0", look)
            )
            page.write_formula(row, column, text, style, cell.value)
            return
        style = self._styles.number(self._sizes.format(cell.kind, cell.value), cell.look)
        page.write_formula(row, column, text, style, self._sizes.shown(cell.value, cell.kind))

    def _entered(self, page: Any, row: int, column: int, cell: Entered) -> None:
        shown_as = "General" if self._as_typed(cell) else self._sizes.format(cell.kind, cell.value)
        style = self._styles.input(shown_as, cell.origin)
        page.write_number(row, column, self._sizes.shown(cell.value, cell.kind), style)
        if cell.name:
            address = f"{quoted(page.get_name())}!${letter(column)}${row + 1}"
            self._workbook.define_name(cell.name, f"={address}")
        if cell.origin != "constant" and cell.value >= 0:
            unit = self._sizes.unit(cell.kind)
            page.data_validation(
                row, column, row, column,
                {
                    "validate": "decimal", "criteria": ">=", "value": 0,
                    "input_title": "An input", "input_message": cell.hint[:250],
                    "error_title": "A number, please",
                    "error_message": f"Give a number of zero or more ({unit}), without the unit.",
                },
            )  # fmt: skip

    def _as_typed(self, cell: Entered) -> bool:
        """Whether a number is short enough to show every digit of it, as a person would type."""
        if cell.kind.name == RATIO.name or cell.kind.dimension[3]:
            return False  # per cent and money are shown in their own way
        shown = self._sizes.shown(cell.value, cell.kind)
        return bool(cell.name) or abs(shown - round(shown, 4)) < 1e-12 * max(1.0, abs(shown))

    def _link(self, page: Any, row: int, column: int, cell: Go, *, ruled: bool) -> None:
        target = f"internal:'{cell.sheet}'!{cell.cell}"
        style = self._styles.link(ruled=ruled)
        page.write_url(row, column, target, style, cell.words or cell.sheet)

    def _foot(self, page: Any, row: int, column: int, cell: Cell, rows: tuple[int, int]) -> None:
        if isinstance(cell, SumAbove):
            first, last = rows
            name = letter(column)
            style = self._styles.foot(self._sizes.format(cell.kind, cell.value))
            text = f"=SUM({name}{first + 1}:{name}{last + 1})"
            page.write_formula(row, column, text, style, self._sizes.shown(cell.value, cell.kind))
        elif isinstance(cell, Formula) and cell.kind is not None:
            style = self._styles.foot(self._sizes.format(cell.kind, float(cell.value)))
            text = cell.text.replace("{row}", str(row + 1))
            page.write_formula(
                row, column, text, style, self._sizes.shown(float(cell.value), cell.kind)
            )
        elif isinstance(cell, UnitOf):
            page.write_string(row, column, self._sizes.unit(cell.kind), self._styles.foot(indent=1))
        elif cell is None or isinstance(cell, str):
            page.write_string(row, column, cell or "", self._styles.foot())
        else:
            self._cell(page, row, column, cell)

    def _chart(self, page: Any, chart: Chart | Picture, row: int, widths: list[int]) -> None:
        for number in range(row, row + chart.rows):
            self._tall(page, number, ROW)  # said, so that every program draws it as high
        if isinstance(chart, Picture):
            self._picture(page, chart, row)
            return
        size = (min(1200, 7 * sum(widths)), (chart.rows - 2) * CHART_ROW)
        drawn = add_chart(self._workbook, chart, size)
        drawn.set_size({"width": size[0], "height": size[1]})
        page.insert_chart(row, 0, drawn, {"object_position": 2, "description": chart.title})

    def _picture(self, page: Any, picture: Picture, row: int) -> None:
        dots = int.from_bytes(picture.png[16:20], "big")  # its width, as PNG files say it
        page.insert_image(
            row, 0, f"{picture.title}.png",
            {
                "image_data": io.BytesIO(picture.png), "object_position": 2,
                "x_scale": picture.width / dots, "y_scale": picture.width / dots,
                "description": picture.title,
            },
        )  # fmt: skip

    def _page_setup(self, page: Any, sheet: Sheet, last_row: int, columns: int) -> None:
        page.hide_gridlines(2)
        if not sheet.upright:
            page.set_landscape()
        page.set_paper(_LETTER if self._register.system == "imperial" else _A4)
        page.set_margins(left=SIDE, right=SIDE, top=TOP, bottom=BOTTOM)
        last = sheet.last_on_paper() or max(last_row, 1)
        page.print_area(0, 0, last, max(columns - 1, 0))
        name = self._job_name.replace("&", "&&")[:100]
        page.set_footer(f"&L{name}&C&A&RPage &P of &N")
        if sheet.tables and not sheet.tables[0].headless and sheet.frozen:
            page.freeze_panes(sheet.first_row() - 1, 0)
        page.protect(
            "",
            {
                "autofilter": True, "sort": True, "format_columns": True, "format_rows": True,
                "select_locked_cells": True, "select_unlocked_cells": True,
            },
        )  # fmt: skip
