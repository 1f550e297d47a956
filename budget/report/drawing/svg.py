"""Inline drawings as text: the one small module behind every chart and plan of the page.

A drawing is built from :func:`tag` and closed by :func:`picture`, which gives it a role, a
title as its first child and an id of its own. Text stays text. Colours come from the page's
style sheet by class, so that one drawing serves light, dark and paper.
"""

from __future__ import annotations

import textwrap
import unicodedata
from collections.abc import Iterable
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from markupsafe import Markup

#: Fills of the style sheet and :func:`patterns`: four colours, plain and in three textures.
COLOURS = 4
FILLS = 16

_KEPT = "\n\t"
_TURNS = frozenset("\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")


def clean(text: object) -> str:
    """Text without control characters, those that turn the reading direction included.

    >>> clean("stone\\u202eenots\\x00")
    'stoneenots'
    """
    text = str(text)
    if text.isprintable():  # neither control characters nor turns of the reading direction
        return text
    return "".join(
        c
        for c in text
        if c in _KEPT or (c not in _TURNS and unicodedata.category(c) not in ("Cc", "Cs"))
    )


def tag(name: str, *children: object, **attributes: object) -> Markup:
    """One element; text and attributes are escaped, ``class_`` and ``font_size`` renamed.

    >>> str(tag("text", "2 < 3", class_="small", x=4.25))
    '<text class="small" x="4.25">2 &lt; 3</text>'
    """
    from markupsafe import Markup, escape

    words = Markup("").join(
        Markup(' {}="{}"').format(key.rstrip("_").replace("_", "-"), _attribute(value))
        for key, value in attributes.items()
        if value is not None and value != ""
    )
    inner = Markup("").join(
        child if isinstance(child, Markup) else escape(clean(child)) for child in children
    )
    return Markup("<{0}{1}>{2}</{0}>").format(Markup(name), words, inner)


def _attribute(value: object) -> str:
    if isinstance(value, float):
        return f"{value:.2f}".rstrip("0").rstrip(".") if round(value, 2) else "0"
    return clean(value)


def share(part: float, whole: float) -> str:
    """A length along the drawing as a percentage of its width.

    >>> share(1, 8)
    '12.5%'
    """
    return f"{_attribute(100 * part / whole if whole else 0.0)}%"


def picture(key: str, title: str, *children: object, **attributes: object) -> Markup:
    """A whole drawing: an image with a title that is read out, and an id from ``key``."""
    return tag(
        "svg",
        tag("title", title, id=f"{key}-name"),
        *children,
        role="img",
        aria_labelledby=f"{key}-name",
        **attributes,
    )


def lettering(x: object, y: object, words: object, class_: str = "", **more: object) -> Markup:
    """A line of text in a drawing."""
    return tag("text", words, x=x, y=y, class_=class_, **more)


#: Letters of a name that a drawing on the narrowest phone has room for in one line.
_LETTERS = 46
LINE = 16  # px between the lines of a name


def lines_of(names: Iterable[str]) -> int:
    """How many lines the longest of some names takes on the narrowest phone.

    >>> lines_of(["Dig", "extra sand for settling and for what sifts into the base"])
    2
    """
    return max((len(_broken(name)) for name in names), default=1)


def _broken(name: str) -> list[str]:
    return textwrap.wrap(clean(name), _LETTERS) or [""]


def name_above(y: float, name: str, class_: str = "") -> Markup:
    """A name whose last line stands at ``y``, broken where it is too long for a phone."""
    broken = _broken(name)
    if len(broken) == 1:
        return lettering(0, y, name, class_)
    first = y - LINE * (len(broken) - 1)
    lines = [tag("tspan", text + " ", x=0, y=first + LINE * i) for i, text in enumerate(broken)]
    return tag("text", *lines, class_=class_)


def fill(number: int) -> str:
    """The class of the fill for the ``number``-th thing of a chart, counted from 0."""
    return f"fill-{number % FILLS}"


def patterns() -> Markup:
    """The textures that the fills use, to be put once at the top of a page."""
    shapes = []
    for colour in range(COLOURS):
        ground = tag("rect", width=8, height=8, class_=f"wash-{colour}")
        stroke = {"class_": f"thread-{colour}", "stroke_width": 3}
        stripes = tag("line", x1=0, y1=4, x2=8, y2=4, **stroke)
        dots = tag("circle", cx=4, cy=4, r=2.6, class_=f"fill-{colour}")
        shapes.append(_pattern(f"stripes-{colour}", 45, ground, stripes))
        shapes.append(_pattern(f"dots-{colour}", 0, ground, dots))
        upright = tag("line", x1=4, y1=0, x2=4, y2=8, class_=f"thread-{colour}", stroke_width=2)
        across = tag("line", x1=0, y1=4, x2=8, y2=4, class_=f"thread-{colour}", stroke_width=2)
        shapes.append(_pattern(f"grid-{colour}", 0, ground, upright, across))
    return tag(
        "svg",
        tag("defs", *shapes),
        class_="patterns",
        width=0,
        height=0,
        aria_hidden="true",
        focusable="false",
    )


def _pattern(key: str, turn: int, *children: Markup) -> Markup:
    return tag(
        "pattern",
        *children,
        id=key,
        width=8,
        height=8,
        patternUnits="userSpaceOnUse",
        patternTransform=f"rotate({turn})" if turn else None,
    )


def swatch(number: int) -> Markup:
    """A small square of one fill, for a key beside a chart."""
    return tag(
        "svg",
        tag("rect", width=16, height=16, class_=fill(number)),
        class_="swatch",
        width=16,
        height=16,
        aria_hidden="true",
        focusable="false",
    )
