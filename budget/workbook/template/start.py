"""The first sheet of the blank workbook: three sheets to fill, then questions that name others.

The answers help to find the way; they are never read back.
"""

from __future__ import annotations

from typing import Any

from budget import reference
from budget.workbook.sheets.tabs import SHEETS
from budget.workbook.sheets.tabs import sheet as sheet_named
from budget.workbook.template import paper
from budget.workbook.template.filled import HEADER, LAST_ROW, column_letter, quoted
from budget.workbook.template.sheet import Setting, lines_needed, tall

#: What to fill first, in this order.
FIRST: tuple[tuple[str, str], ...] = (
    ("Job", "Units, currency, sales tax, and what an hour of your own time is worth to you."),
    ("Areas", "One row for each shape you want to pave, with its sizes."),
    ("Quotes", "One row for each price you were given. A blank price means not yet priced."),
    ("Save and run", "Type: budget check FILE for mistakes, budget compare FILE for the answer."),
    ("Go deeper", "Answer the questions below; each yes names a sheet that sharpens the answer."),
)
#: The question behind each sheet that may stay empty, the most useful first.
QUESTIONS: tuple[tuple[str, str], ...] = (
    ("Suppliers", "Do you know how far each seller is, or what it asks to deliver?"),
    ("Bids", "Has anybody offered to do some of the work, or all of it, for money?"),
    ("Bid scope", "Do offers differ in what they leave to you: rock, rain, drains, clearing up?"),
    ("Equipment", "Will you rent, borrow or buy a machine?"),
    ("Vehicles", "Could you fetch goods with a vehicle or trailer of your own, or a hired one?"),
    ("Products", "Do you know the true size of your pavers or blocks?"),
    ("Disposal", "Must soil be taken away, or do you know what that costs?"),
    ("Checklist", "Have you priced permits, drainage, lawn repair and the like?"),
    ("Build-up", "Are your layers other than the usual ones, or different between parts?"),
    ("Delivery", "Does a delivery fee depend on weight, distance, pallets or the order?"),
    ("Outline", "Is a shape a polygon, walked round with a tape, or curved?"),
    ("Levels", "Is the ground uneven, or have you measured heights?"),
    ("Trenches", "Does a pipe, cable or drain go under the paving?"),
    ("Walls", "Are there walls, rings, columns or steps to build?"),
    ("Pieces", "Is anything cut from boards, tubes or bars, such as a bench?"),
    ("Extras", "Are there things to count one by one, such as a fire bowl or lamps?"),
    ("Stock", "Do you own or salvage some pavers or material already?"),
    ("Work", "Have you timed how fast you work?"),
    ("Weather", "Do you want to know how far rain may push the finish?"),
    ("Scenarios", "Would you like to see one particular plan beside the others?"),
    ("Spend", "Have you ordered or paid anything yet?"),
    ("Progress", "Has work begun?"),
)
_KEY = (
    ("required", "Title with *", "must be filled in every row you use."),
    ("optional", "Other titles", "may stay blank. Click a cell for its note and what blank means."),
    ("live title", "Grey slanted", "worked out by the sheet while you type; never read back."),
    ("marked", "Tinted cells", "are blank, unknown or out of date: see the last column on screen."),
)  # fmt: skip
_SIZES = {
    "imperial": "12 ft 6 in, 12' 6 1/2\", 3.8 m, 4 in, 0.5 cu yd, 5 %",
    "metric": "3.8 m, 40 mm, 12 ft 6 in, 0.5 m³, 1.2 tonne, 5 %",
}
_WIDTHS = (5, 16, 68, 12, 12, 18)
_TITLES = ("", "Sheet", "Question", "Your answer", "Rows filled", "What next")
#: Columns that are counted where the first one is filled beforehand.
_COUNTED = {"Job": "", "Checklist": "answer"}


def write_start(page: Any, setting: Setting) -> None:
    """Write what to fill first, the questions, what the looks mean, and one caution."""
    styles = setting.styles
    page.hide_gridlines(2)
    for number, width in enumerate(_WIDTHS):
        page.set_column(number, number, width)
    page.set_row(0, 26)
    page.write_string(0, 0, "Quotes for a paved outdoor room", styles.look("title"))
    page.write_string(1, 0, "Three sheets are enough to start:", styles.look("said"))
    for row, (name, text) in enumerate(FIRST, 2):
        _line(page, row, name, text, setting)
        page.write_number(row, 0, row - 1, styles.look("number"))
        if name in {sheet.name for sheet in SHEETS}:
            _count(page, row, name, setting)
    row = _questions(page, len(FIRST) + 3, setting)
    row = _key(page, row + 1, setting)
    step = reference.steps()["Dig"]
    caution = f"{step.caution} Follow local rules; gas and electricity are for licensed trades."
    page.write_string(row, 1, "Before digging", styles.look("plain"))
    page.merge_range(row, 2, row, 5, "", styles.look("caution"))
    page.write_string(row, 2, caution, styles.look("caution"))
    page.set_row(row, tall(lines_needed(caution, sum(_WIDTHS[2:]))) + 3)
    paper.set_up(page, setting.system, _WIDTHS, 0, row)
    page.fit_to_pages(1, 1)


def _line(page: Any, row: int, name: str, text: str, setting: Setting) -> None:
    styles = setting.styles
    if any(sheet.name == name for sheet in SHEETS):
        page.write_url(row, 1, f"internal:'{name}'!A1", styles.look("link"), name)
    else:
        page.write_string(row, 1, name, styles.look("plain"))
    page.write_string(row, 2, text, styles.look("asked"))
    page.set_row(row, tall(lines_needed(text, _WIDTHS[2]), least=18))


def _questions(page: Any, row: int, setting: Setting) -> int:
    """The questions with their answers; the row after the last."""
    styles = setting.styles
    for number, title in enumerate(_TITLES):
        if title:
            page.write_string(row, number, title, styles.look("optional"))
    page.set_row(row, 34)
    known = {sheet.name for sheet in SHEETS}
    first = row + 1
    asked = [(name, text) for name, text in QUESTIONS if name in known]
    for at, (name, text) in enumerate(asked, first):
        _line(page, at, name, text, setting)
        rows = _count(page, at, name, setting)
        answer = "yes" if rows else ""
        page.write_string(at, 3, answer, styles.look("answer"))
        cells = f"$D${at + 1}", f"$E${at + 1}"
        formula = f'=IF({cells[0]}="yes",IF({cells[1]}=0,"fill this sheet","being filled"),"")'
        said = "being filled" if rows else ""
        page.write_formula(at, 5, formula, styles.look("said"), said)
    last = first + len(asked) - 1
    page.data_validation(first, 3, last, 3, {
        "validate": "list", "source": ["yes", "no"], "input_title": "Your answer",
        "input_message": "yes shows which sheet to fill next. It is never read back.",
        "error_title": "Your answer", "error_message": "yes or no", "error_type": "warning",
    })  # fmt: skip
    criteria = f'=$F{first + 1}="fill this sheet"'
    rule = {"type": "formula", "criteria": criteria, "format": styles.marked()}
    page.conditional_format(first, 1, last, 5, rule)
    return last + 1


def _count(page: Any, row: int, name: str, setting: Setting) -> int:
    """The live count of rows of one sheet."""
    sheet = sheet_named(name)
    counted = _COUNTED.get(name, sheet.columns[0].field)
    if sheet.settings:
        cells = f"$B${HEADER + 1}:$B${HEADER + len(sheet.columns)}"
        settings = {"units": "", "currency": ""} | dict(next(iter(setting.filled.of(name)), {}))
        found = len(settings)
    else:
        at = column_letter(sheet, counted)
        cells = f"${at}${HEADER + 1}:${at}${LAST_ROW}"
        found = sum(counted in row for row in setting.filled.of(name))
    formula = f"=COUNTA({quoted(name)}!{cells})"
    page.write_formula(row, 4, formula, setting.styles.look("count"), found)
    return found


def _key(page: Any, row: int, setting: Setting) -> int:
    """What the looks of cells mean, and how sizes are typed; the row after the last."""
    styles = setting.styles
    for look, title, text in _KEY:
        made = styles.key_mark() if look == "marked" else styles.look(look)
        page.write_string(row, 1, title, made)
        page.write_string(row, 2, text, styles.look("asked"))
        row += 1
    page.write_string(row, 1, "Sizes", styles.look("plain"))
    sizes = f"Type them as you say them: {_SIZES[setting.system]}."
    page.write_string(row, 2, sizes, styles.look("asked"))
    return row + 1
