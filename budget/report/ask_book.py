"""The workbook of questions: a sheet to print or send for each seller, shop and firm."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from copy import deepcopy
from pathlib import Path
from typing import IO, Any

from budget.job import Job
from budget.numerals import date
from budget.report.letters import Letter
from budget.units import DEPTH, LENGTH, in_words
from budget.whole_file import whole_bytes
from budget.workbook.template import paper
from budget.workbook.template.sheet import lines_needed, tall
from budget.workbook.template.styles import DEFAULT, Styles

_OPTIONS = {
    "in_memory": True,
    "strings_to_formulas": False,
    "strings_to_urls": False,
    "strings_to_numbers": False,
    "default_format_properties": DEFAULT,
}
_KNOWN = (("What", 20), ("Amount", 9), ("Unit", 8), ("Remarks", 24), ("Said so far", 16))
#: What the one who is asked fills in; titles as on the quotes workbook.
_TO_FILL = {
    "seller": ("Price", "Per", "Pack holds", "Weight per pack", "Lead days", "Valid until"),
    "rental": ("4 hours", "Day", "Weekend", "Week", "4 weeks", "Hours a day"),
    "hired": ("Included?", "Price", "Per", "Days"),
}
_OPENING = {
    "seller": "Please quote what you sell of this. Amounts hold the usual waste.",
    "rental": "Please quote these machines, or what you have that does the same.",
    "hired": "Please quote these steps, together or apart, and answer each question.",
}
_WIDTHS = {"seller": 10, "rental": 10, "hired": 15}
#: Printed at this scale (percent), a landscape page has so many points from top to bottom.
_SCALE, _PAGE = 84, 600
#: A page that is longer by no more than this is shrunk, so that no row stands alone on the next.
_SQUEEZE = 1.25
#: Points of the titles of the questions; fewer questions than so many are not torn off.
_TITLES, _FEW = 20.0, 4


def write(job: Job, letters: Sequence[Letter], path: Path) -> None:
    """Write the questions, whole or not at all. Raises ``OSError``."""
    with whole_bytes(path) as buffer:
        _write(job, letters, buffer)


def _write(job: Job, letters: Sequence[Letter], into: IO[bytes]) -> None:
    import xlsxwriter

    book = xlsxwriter.Workbook(into, deepcopy(_OPTIONS))
    created = dt.datetime.combine(job.settings.as_of, dt.time(12))
    book.set_properties({"title": f"{job.settings.name}: questions", "created": created})
    styles = Styles(book)
    contents = book.add_worksheet("Contents")
    named = list(zip(sheet_names([letter.name for letter in letters]), letters, strict=True))
    for title, letter in named:
        _letter(book.add_worksheet(title), letter, job, styles)
    _contents(contents, named, job, styles)
    contents.activate()
    book.close()


def sheet_names(names: Sequence[str]) -> list[str]:
    """Names that a sheet may have: 31 letters, no signs that formulas use, each once.

    >>> sheet_names(["North Yard", "north yard", "A/B: *sand*"])
    ['North Yard', 'north yard 2', 'A B sand']
    """
    taken, found = {"contents", "history"}, []
    for name in names:
        plain = "".join(" " if c in "[]:*?/\\" else c for c in name)
        plain = " ".join(plain.split()).strip("'")[:28] or "Seller"
        title, count = plain, 1
        while title.casefold() in taken:
            count += 1
            title = f"{plain[:27]} {count}"
        taken.add(title.casefold())
        found.append(title)
    return found


def _contents(page: Any, named: Sequence[tuple[str, Letter]], job: Job, styles: Styles) -> None:
    widths = (32, 16, 12, 60)
    page.hide_gridlines(2)
    for number, width in enumerate(widths):
        page.set_column(number, number, width)
    page.write_string(0, 0, f"Questions: {job.settings.name}", styles.look("title"))
    text = "A sheet for each who is asked, to print or send. Answers go into the quotes workbook."
    page.write_string(1, 0, text, styles.look("said"))
    page.set_row(3, 34)
    for number, title in enumerate(("Sheet", "Who", "Rows to price", "What it is for")):
        page.write_string(3, number, title, styles.look("optional"))
    what = {
        "seller": ("seller", "Prices of goods, and delivery."),
        "rental": ("rental shop", "Rents of machines, and what they mean."),
        "hired": ("hired help", "Steps of work, and what the price leaves out."),
    }
    for row, (title, letter) in enumerate(named, 4):
        who, purpose = what[letter.kind]
        page.write_url(row, 0, f"internal:'{_escaped(title)}'!A1", styles.look("link"), title)
        page.write_string(row, 1, who, styles.look("said"))
        page.write_number(row, 2, len(letter.goods), styles.look("count"))
        page.write_string(row, 3, purpose, styles.look("said"))
    paper.set_up(page, job.settings.units, widths, 3, len(named) + 4)


def _escaped(title: str) -> str:
    return title.replace("'", "''")


def _letter(page: Any, letter: Letter, job: Job, styles: Styles) -> None:
    fills = _TO_FILL[letter.kind]
    widths = [width for _, width in _KNOWN] + [_WIDTHS[letter.kind]] * len(fills)
    page.hide_gridlines(2)
    for number, width in enumerate(widths):
        page.set_column(number, number, width)
    row = _head(page, letter, job, len(widths) - 1, styles)
    questions, height = _goods(page, row, letter, fills, styles)
    heights = _questions(page, questions, letter, len(widths) - 1, widths, styles)
    row = questions + len(heights)
    beyond, longest = _turn(height, heights)
    over = longest / _PAGE if longest <= _PAGE * _SQUEEZE else 1.0
    paper.set_up(page, job.settings.units, widths, 0, row, int(_SCALE / max(1.0, over)))
    if beyond is not None:
        page.set_h_pagebreaks([questions + beyond])
        page.repeat_rows(questions)  # their titles stand again on each page that follows


def _turn(height: float, heights: Sequence[float]) -> tuple[int | None, float]:
    """How many rows of questions come before the second page, and how high the higher page is.

    None where one page holds all; nothing before it where the goods fill the first page. The
    first page is full, unless the second would then be too long: both are alike.

    >>> _turn(400, [25.0] * 12), _turn(700, [25.0] * 12), _turn(300, [25.0] * 30)
    ((None, 720.0), (0, 700.0), (12, 595.0))
    >>> _turn(400, [25.0] * 38), _turn(520, [25.0] * 30), _turn(500, [25.0] * 99)
    ((12, 695.0), (6, 665.0), (0, 2495.0))
    """
    whole = height + _TITLES + sum(heights)
    if whole <= _PAGE * _SQUEEZE:
        return None, whole

    def longest(before: int) -> float:
        first = height + (_TITLES + sum(heights[:before]) if before else 0.0)
        return max(first, _TITLES + sum(heights[before:]))

    torn = [*range(len(heights) - _FEW, _FEW - 1, -1), 0]
    before = min(torn, key=lambda n: max(_PAGE, longest(n)))
    if longest(before) > _PAGE * _SQUEEZE:  # more than two pages: the first one full
        fit = [n for n in torn if height + _TITLES + sum(heights[:n]) <= _PAGE]
        before = fit[0] if fit else 0
    return before and before + 1, longest(before)


def _head(page: Any, letter: Letter, job: Job, last: int, styles: Styles) -> int:
    settings = job.settings
    page.set_row(0, 26)
    page.write_string(0, 0, letter.name, styles.look("title"))
    facts = [settings.name, f"asked {date(settings.as_of)}", f"prices in {settings.currency}"]
    if letter.kind != "seller":
        facts.append(f"ground: {settings.ground}")
    if settings.way_in_width is not None:
        facts.append(f"narrowest way in: {in_words(settings.way_in_width, DEPTH, settings.units)}")
    if letter.kind == "seller" and settings.carry_drive is not None:
        facts.append(
            f"from drive to work: {in_words(settings.carry_drive, LENGTH, settings.units)}"
        )
    lines = ["; ".join(facts), _OPENING[letter.kind], "To (place): ", "Answered by, date, phone: "]
    for row, text in enumerate(lines, 1):
        page.merge_range(row, 0, row, last, "", styles.look("said"))
        page.write_string(row, 0, text, styles.look("said"))
        page.set_row(row, 18)
    return len(lines) + 2


def _goods(
    page: Any, row: int, letter: Letter, fills: Sequence[str], styles: Styles
) -> tuple[int, float]:
    """The table to fill; the row after it, and how high the sheet is so far."""
    height = 170.0
    for number, (title, _) in enumerate(_KNOWN):
        page.write_string(row, number, title, styles.look("optional"))
    for number, title in enumerate(fills, len(_KNOWN)):
        page.write_string(row, number, title, styles.look("required"))
    page.set_row(row, 34)
    boxed = styles.look("asked boxed")
    for wanted in letter.goods:
        row += 1
        texts = (wanted.what, None, wanted.unit, wanted.remarks, wanted.so_far)
        for number, text in enumerate(texts):
            if text is not None:
                page.write_string(row, number, text, boxed)
        if wanted.amount is None:
            page.write_blank(row, 1, None, boxed)
        else:
            page.write_number(row, 1, wanted.amount, styles.amount(wanted.amount))
        for number in range(len(_KNOWN), len(_KNOWN) + len(fills)):
            page.write_blank(row, number, None, styles.look("answer"))
        lines = max(lines_needed(t, _KNOWN[i][1]) for i, t in enumerate(texts) if t is not None)
        page.set_row(row, tall(lines, least=20))
        height += tall(lines, least=20)
    if not letter.goods:
        row += 1
        _across(page, row, 0, len(_KNOWN) + len(fills) - 1, "Nothing is wanted yet.", boxed)
        height += 20
    return row + 2, height


def _questions(
    page: Any, row: int, letter: Letter, last: int, widths: Sequence[int], styles: Styles
) -> list[float]:
    """The questions below their titles; how high each is."""
    heights = []
    hired = letter.kind == "hired"
    why = "If not, add" if hired else "Why"
    # A shop is not told why: what it said so far, of each machine, has that room too.
    cells = [("Question", 0, 2), (why, 3, 3), ("Said so far", 4, 4), ("Answer", 5, last)]
    if not any(question.if_not for question in letter.questions):
        cells[1:3] = [("Said so far", 3, 4)]
    for title, first, end in cells:
        look = styles.look("required" if title == "Answer" else "optional")
        _across(page, row, first, end, title, look)
    boxed, answer = styles.look("asked boxed"), styles.look("answer")
    for question in letter.questions:
        row += 1
        texts = {"Question": question.text, why: question.if_not, "Said so far": question.noted}
        lines = 1
        for title, first, end in cells:
            text = texts.get(title, "")
            _across(page, row, first, end, text, answer if title == "Answer" else boxed)
            lines = max(lines, lines_needed(text, sum(widths[first : end + 1])))
        heights.append(tall(lines, least=22))
        page.set_row(row, heights[-1])
    return heights


def _across(page: Any, row: int, first: int, last: int, text: str, look: Any) -> None:
    if last > first:
        page.merge_range(row, first, row, last, "", look)
    page.write_string(row, first, text, look)
