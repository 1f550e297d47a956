"""The first sheet of the blank workbook: ten lines on what to fill, in which order."""

from __future__ import annotations

from typing import Any

from budget import reference
from budget.workbook.template_sheet import Setting, lines_needed

#: Which sheets a line is about, and what it says.
LINES: tuple[tuple[str, str], ...] = (
    ("Job", "Units, currency, sales tax, and what an hour of your own time is worth to you."),
    ("Areas", "One row for each shape you want to pave, with its sizes."),
    ("Quotes", "One row for each price you were given. A blank price means not yet priced."),
    ("", "Save, then type: budget check FILE for mistakes, budget compare FILE for the answer."),
    ("Suppliers", "How far each seller is and what it asks to deliver. Next most useful."),
    ("Bids", "Offers of people you could hire, for one step or for everything."),
    ("Equipment", "Machines to rent, borrow or buy; on Work, your own pace if you know it."),
    ("Products", "True sizes of your pavers; on Build-up, layers that differ from the usual."),
    ("Checklist", "Costs that are easily forgotten; on Disposal, where the soil goes."),
    ("Spend", "Once work starts: what you ordered and paid, day by day."),
)
_KEY = (
    ("required", "Title with *", "must be filled in every row you use."),
    ("optional", "Other titles", "may stay blank. Click a cell for its note and what blank means."),
)  # fmt: skip
_SIZES = {
    "imperial": "12 ft 6 in, 12' 6 1/2\", 3.8 m, 4 in, 0.5 cu yd, 5 %",
    "metric": "3.8 m, 40 mm, 12 ft 6 in, 0.5 m³, 1.2 tonne, 5 %",
}
_WIDTHS = (5, 16, 92)


def write_start(page: Any, setting: Setting) -> None:
    """Write the ten lines, what the colours mean, and one caution."""
    styles = setting.styles
    page.hide_gridlines(2)
    for number, width in enumerate(_WIDTHS):
        page.set_column(number, number, width)
    page.set_row(0, 28)
    page.write_string(0, 0, "Quotes for a paved outdoor room", styles.look("title"))
    page.write_string(1, 0, "Three sheets are enough to start. What to fill, in this order:")
    for row, (name, text) in enumerate(LINES, 3):
        page.write_number(row, 0, row - 2, styles.look("number"))
        if name:
            page.write_url(row, 1, f"internal:'{name}'!A1", styles.look("link"), name)
        else:
            page.write_string(row, 1, "Save and run", styles.look("plain"))
        page.write_string(row, 2, text, styles.look("words"))
        page.set_row(row, 17 * lines_needed(text, _WIDTHS[2]))
    row = len(LINES) + 4
    for look, title, text in _KEY:
        page.write_string(row, 1, title, styles.look(look))
        page.write_string(row, 2, text, styles.look("words"))
        row += 1
    page.write_string(row, 1, "Sizes", styles.look("plain"))
    sizes = f"Type them as you say them: {_SIZES[setting.system]}."
    page.write_string(row, 2, sizes, styles.look("words"))
    step = reference.steps()["Dig"]
    page.write_string(row + 2, 1, "Before digging", styles.look("plain"))
    caution = f"{step.caution} Follow local rules; gas and electricity are for licensed trades."
    page.write_string(row + 2, 2, caution, styles.look("caution"))
    page.set_row(row + 2, 17 * lines_needed(caution, _WIDTHS[2]))
    setting.print_set_up(page, 0, row + 2, len(_WIDTHS) - 1)
