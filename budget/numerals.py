"""How numbers are written in words for people: one style for a whole run.

The style comes from the job, never from the machine, so that results do not depend on a locale.
Numbers that programs read (JSON, cells of workbooks) are not touched by it.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

#: What stands between thousands, and before decimals. A comma and a point are the English way;
#: the others are usual in much of Europe (BIPM, SI Brochure, 9th edition, section 5.4.4, allows
#: either mark of the decimal and thin spaces for thousands).
STYLES = {
    "comma and point": (",", "."),
    "point and comma": (".", ","),
    "space and comma": ("\u202f", ","),
    "apostrophe and point": ("\u2019", "."),
}
ENGLISH = "comma and point"

_used = [ENGLISH]  # the last one is in use, in every thread of the run


@contextmanager
def numbers_as(style: str) -> Iterator[None]:
    """Write numbers in one style inside a ``with`` block.

    >>> with numbers_as("point and comma"):
    ...     grouped(1234.5, 2)
    '1.234,50'

    :raises KeyError: for a style that is not one of :data:`STYLES`
    """
    STYLES[style]
    _used.append(style)
    try:
        yield
    finally:
        _used.pop()


def from_now_on(style: str) -> None:
    """Write numbers in one style until told otherwise.

    :raises KeyError: for a style that is not one of :data:`STYLES`
    """
    STYLES[style]
    _used[-1] = style


def style() -> str:
    """The style in use."""
    return _used[-1]


def sign_after() -> bool:
    """Whether the sign of a currency stands after the number: with a comma for decimals."""
    return STYLES[_used[-1]][1] == ","


def grouped(number: float, places: int = 0) -> str:
    """A number with its thousands apart.

    >>> grouped(1234567), grouped(0.5, 2)
    ('1,234,567', '0.50')
    """
    return localised(f"{number:,.{places}f}")


def trimmed(number: float, places: int = 2) -> str:
    """A number without the noughts that end its decimals.

    >>> trimmed(1200), trimmed(2.5)
    ('1,200', '2.5')
    """
    text = f"{number:,.{places}f}"
    return localised(text.rstrip("0").rstrip(".") if "." in text else text)


def localised(text: str) -> str:
    """A number written the English way in the style in use.

    >>> with numbers_as("apostrophe and point"):
    ...     localised("-1,234.5")
    '-1’234.5'
    """
    between, before = STYLES[_used[-1]]
    return text.translate({ord(","): between, ord("."): before})
