"""How wide words are in the workbooks' font, so that rows are as high as their text needs.

Arial is as wide, character by character, as Helvetica; the widths are those of Adobe's *Core 14
AFM* files, Helvetica and Helvetica-Bold, in thousandths of the size. Slanted ones are the same.
"""

from __future__ import annotations

import unicodedata
from functools import lru_cache

#: Pixels of 1/96 inch to a thousandth of a font of 10 points.
_PIXELS = 10 / 72 * 96 / 1000

#: Widths of the characters from the space to the tilde.
_PLAIN = (
    278, 278, 355, 556, 556, 889, 667, 191, 333, 333, 389, 584, 278, 333, 278, 278,
    556, 556, 556, 556, 556, 556, 556, 556, 556, 556, 278, 278, 584, 584, 584, 556,
    1015, 667, 667, 722, 722, 667, 611, 778, 722, 278, 500, 667, 556, 833, 722, 778,
    667, 778, 722, 667, 611, 722, 667, 944, 667, 667, 611, 278, 278, 278, 469, 556,
    333, 556, 556, 500, 556, 556, 278, 556, 556, 222, 222, 500, 222, 833, 556, 556,
    556, 556, 333, 500, 278, 556, 500, 722, 500, 500, 500, 334, 260, 334, 584,
)  # fmt: skip
_BOLD = (
    278, 333, 474, 556, 556, 889, 722, 238, 333, 333, 389, 584, 278, 333, 278, 278,
    556, 556, 556, 556, 556, 556, 556, 556, 556, 556, 333, 333, 584, 584, 584, 611,
    975, 722, 722, 722, 722, 667, 611, 778, 722, 278, 556, 722, 611, 833, 722, 778,
    667, 778, 722, 667, 611, 722, 667, 944, 667, 667, 611, 333, 278, 333, 584, 556,
    333, 556, 611, 556, 611, 556, 333, 611, 611, 278, 278, 556, 278, 889, 611, 611,
    611, 611, 389, 556, 333, 611, 556, 778, 556, 556, 500, 389, 280, 389, 584,
)  # fmt: skip
#: Signs outside that range which our sheets use.
_SIGNS = {"–": 556, "−": 584, "×": 584, "÷": 584, "“": 400, "”": 400, "’": 250, "…": 1000}
#: A character that is not known is counted this wide; signs of East Asia fill a square.
_UNKNOWN, _SQUARE = 611, 1000


def _table(widths: tuple[int, ...]) -> dict[str, float]:
    known = {chr(code): width for code, width in enumerate(widths, start=32)}
    return {sign: width * _PIXELS for sign, width in (known | _SIGNS).items()}


_WIDTHS = {False: _table(_PLAIN), True: _table(_BOLD)}


@lru_cache(maxsize=65536)
def wide(words: str, bold: bool = False) -> float:
    """The width of words on one line, in pixels of 1/96 inch at 10 points.

    >>> round(wide("0000000000"), 1), round(wide("Garden paver"), 1)
    (74.1, 81.5)
    """
    known = _WIDTHS[bold]
    return sum(known[c] if c in known else _other(c, bold) for c in words)


def _other(sign: str, bold: bool) -> float:
    base = unicodedata.normalize("NFD", sign)[0]  # a letter with an accent is as wide as without
    if base in _WIDTHS[bold]:
        return _WIDTHS[bold][base]
    square = unicodedata.east_asian_width(sign) in "WF"
    return (_SQUARE if square else _UNKNOWN) * _PIXELS


@lru_cache(maxsize=16384)
def lines(words: str, room: float, bold: bool = False) -> int:
    """How many lines words take where a line holds ``room`` pixels; a longer word is torn.

    >>> lines("Garden paver", 85), lines("Garden paver", 80), lines("one\\ntwo", 99)
    (1, 2, 2)
    """
    return sum(_wrapped(line, room, bold) for line in words.split("\n"))


def _wrapped(words: str, room: float, bold: bool) -> int:
    if wide(words, bold) <= room:
        return 1
    gap = wide(" ", bold)
    found, used = 1, 0.0
    for word in words.split(" "):
        length = wide(word, bold)
        if used and used + gap + length > room:
            found, used = found + 1, 0.0
        used += length + (gap if used else 0.0)
        torn = int(used // room) if used > room else 0
        found += torn
        used -= torn * room
    return found
