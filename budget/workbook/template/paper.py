"""How sheets print: legible; a wide one on several pages, each with its first column.

Where the first column does not tell rows apart, the numbers of rows do, which stand on each page.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from budget.units import System

#: Points to a page and smaller print would be hard to read: the least scale in percent.
LEAST_SCALE = 75
#: A sheet that fits on one page at this scale is not spread over two that are half empty.
ALONE = 74
#: What a landscape page holds across in pixels of 1/96 inch, margins of half an inch off.
PAGE = {"imperial": 960, "metric": 1026}
#: The same of an upright page, and how many rows of 15 points it takes at that scale.
UPRIGHT = {"imperial": 720, "metric": 698}
ROWS = {"imperial": 62, "metric": 66}
_LETTER, _A4 = 1, 9
#: Pixels that the numbers of rows take. LibreOffice draws a digit of Arial by its true width, a
#: seventeenth more than the whole pixels of Excel.
NUMBERS = 40


def pixels(width: float) -> int:
    """The width of a column of so many characters, at the size our sheets use.

    >>> pixels(11)
    82
    """
    return round(7 * width) + 5


def page_starts(
    widths: Sequence[float], wide: int, scale: int = LEAST_SCALE, *, again: bool = True
) -> list[int]:
    """The columns (from 0) at which a page begins, pages as alike in width as may be.

    ``wide`` is what a page holds across in pixels. With ``again``, every page after the first
    repeats column 0.

    >>> page_starts([20] * 8, 960), page_starts([20] * 9, 960)
    ([0], [0, 5])
    """
    if sum(pixels(width) for width in widths) <= wide * 100 // ALONE:
        return [0]
    room = wide * 100 // scale * 17 // 18 - NUMBERS
    fewest = _starts(widths, room, again)
    tried = [_starts(widths, narrower, again) for narrower in range(room, room // 3, -10)]
    return max((t for t in tried if len(t) == len(fewest)), key=lambda t: _least_page(widths, t))


def _least_page(widths: Sequence[float], starts: Sequence[int]) -> int:
    """How wide the narrowest page is, without the repeated column."""
    ends = [*starts[1:], len(widths)]
    return min(
        sum(pixels(w) for w in widths[start:end]) for start, end in zip(starts, ends, strict=True)
    )


def _starts(widths: Sequence[float], room: int, again: bool) -> list[int]:
    starts, used = [0], 0
    for number, width in enumerate(widths):
        if number and used + pixels(width) > room:
            starts.append(number)
            used = pixels(widths[0]) if again else 0
        used += pixels(width)
    return starts


def first_page(widths: Sequence[float], system: System) -> int:
    """The last column (from 0) of the first page."""
    starts = [*page_starts(widths, PAGE[system]), len(widths)]
    return starts[1] - 1


def set_up(
    page: Any,
    system: System,
    widths: Sequence[float],
    header: int,
    last_row: int,
    scale: int | None = None,
) -> None:
    """Landscape on the country's paper; the row of titles on every page; rows from 0.

    A ``scale`` in percent is for a sheet that is known to fit across at it.
    """
    _sheet_of(page, system, widths, last_row)
    if header:
        page.repeat_rows(header)
    if scale is not None:
        page.set_print_scale(scale)
        return
    starts = page_starts(widths, PAGE[system])
    if len(starts) == 1:
        page.fit_to_pages(1, 0)
        return
    page.set_print_scale(LEAST_SCALE)
    page.repeat_columns(0)
    page.print_row_col_headers()
    page.set_v_pagebreaks(starts[1:])
    page.print_across()


def side_by_side(page: Any, system: System, widths: Sequence[float], last_row: int) -> None:
    """Columns that have nothing to do with one another, each whole on one upright page."""
    _sheet_of(page, system, widths, last_row)
    page.set_portrait()
    scale = min(LEAST_SCALE, LEAST_SCALE * ROWS[system] // (last_row + 1))
    page.set_print_scale(scale)
    page.set_v_pagebreaks(page_starts(widths, UPRIGHT[system], scale, again=False)[1:])


def _sheet_of(page: Any, system: System, widths: Sequence[float], last_row: int) -> None:
    page.set_landscape()
    page.set_paper(_LETTER if system == "imperial" else _A4)
    page.set_margins(left=0.5, right=0.5, top=0.6, bottom=0.6)
    page.set_footer("&L&A&RPage &P of &N")
    page.print_area(0, 0, last_row, len(widths) - 1)
