"""The laid pattern as a drawing: every paver in its place, cut ones shaded."""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Iterable, Sequence
from typing import TYPE_CHECKING

from budget.report.drawing.outline import Point, box
from budget.report.drawing.svg import picture, tag

if TYPE_CHECKING:
    from markupsafe import Markup

    from budget.quantities.takeoff import PatternDrawing

Ring = tuple[Point, ...]

_WIDE, _TALL, _FREE = 700.0, 900.0, 4.0  # px


def pattern(key: str, title: str, laid: PatternDrawing) -> Markup:
    """The drawing of one pattern, to scale; it shrinks with the screen."""
    low, high = box([point for ring in laid.outlines for point in ring])
    across, up = high[0] - low[0], high[1] - low[1]
    scale = min(_WIDE / across, _TALL / up)
    width, height = math.ceil(across * scale + 2 * _FREE), math.ceil(up * scale + 2 * _FREE)

    def at(point: Point) -> Point:
        return (point[0] - low[0]) * scale + _FREE, (high[1] - point[1]) * scale + _FREE

    return picture(
        key,
        title,
        tag("path", d=_path((*laid.whole, *laid.border_whole), at), class_="paver"),
        tag("path", d=_path((*laid.cut, *laid.border_cut), at), class_="paver cut"),
        tag("path", d=_path(laid.outlines, at), class_="outline"),
        class_="laid",
        viewBox=f"0 0 {width} {height}",
        width=width,
    )


def _path(rings: Iterable[Ring], at: Callable[[Point], Point]) -> str:
    """Closed rings as one path, each from its first corner by steps of a tenth of a px."""
    return "".join(_ring([at(point) for point in ring]) for ring in rings)


def _ring(points: Sequence[Point]) -> str:
    tenths = [(round(x * 10), round(y * 10)) for x, y in points]
    text = [f"M{tenths[0][0] / 10:g} {tenths[0][1] / 10:g}l"]
    for (x1, y1), (x2, y2) in itertools.pairwise(tenths):
        text.append(f"{(x2 - x1) / 10:g} {(y2 - y1) / 10:g} ")
    return "".join(text).rstrip() + "z"
