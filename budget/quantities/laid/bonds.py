"""Laying patterns as cells: where each paver with its joint lies, in the pattern's own frame.

A cell is the room of one paver with its share of the joints. Cells of one pattern fill the
plane without a gap. numpy is imported where it is used, because a job without a known outline
does without.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from numpy.typing import NDArray

#: A joint wider than this (m) to make a pattern close is none that a mason would leave.
WIDEST_JOINT = 0.0127


@dataclass(frozen=True, slots=True)
class Unit:
    """One paver: its true length and width, and the cell it lies in with its joints, in m."""

    length: float
    width: float
    cell_length: float
    cell_width: float

    @property
    def face(self) -> float:
        """Area of its face [m²]."""
        return self.length * self.width

    @property
    def cell(self) -> float:
        """Area of its cell [m²]."""
        return self.cell_length * self.cell_width

    @property
    def joint(self) -> float:
        """The narrower of its joints, and never below a millimetre [m]."""
        gaps = self.cell_length - self.length, self.cell_width - self.width
        return max(0.001, min(gaps))


def unit_for(pattern: str, length: float, width: float, joint: float) -> Unit | None:
    """The paver in the cell that a pattern gives it; nothing if the pattern cannot close.

    :param length: true length [m], the longer side is taken
    :param width: true width [m]
    :param joint: joint [m]

    Pavers that lie both ways close only if two widths make a length, joints included. Where
    they nearly do, joints open and close a little so that the cell keeps its area.

    >>> unit = unit_for("herringbone 90", 0.2, 0.1, 0.004)
    >>> round(unit.cell_length, 4), round(unit.cell_width, 4)
    (0.206, 0.103)
    >>> unit_for("herringbone 90", 0.2, 0.2, 0.004) is None
    True
    """
    long, short = max(length, width), min(length, width)
    a, b = long + joint, short + joint
    if pattern in BONDS and BONDS[pattern].both_ways:
        b = math.sqrt(a * b / 2)
        a = 2 * b
    slack = 1e-6
    if a < long - slack or b < short - slack:
        return None
    if max(a - long, b - short) > max(joint, WIDEST_JOINT) + slack:
        return None
    return Unit(long, short, a, b)


def cells(pattern: str, unit: Unit, box: tuple[float, float, float, float]) -> NDArray[Any]:
    """The cells that cover a box [m], one a row: lower left corner x, y, and 1 if turned.

    The pattern starts with a whole paver at 0, 0. A turned paver stands upright.

    >>> found = cells("running bond", Unit(2, 1, 2, 1), (0, 0, 3.9, 1.9))
    >>> sorted((float(x), float(y)) for x, y, _ in found if x < 4 and 0 <= y < 2 and x >= -1)
    [(-1.0, 1.0), (0.0, 0.0), (1.0, 1.0), (2.0, 0.0), (3.0, 1.0)]
    """
    a, b = unit.cell_length, unit.cell_width
    found: NDArray[Any] = BONDS[pattern].lay(a, b, box)
    return found


def _grid(box: tuple[float, float, float, float], dx: float, dy: float) -> tuple[Any, Any]:
    """Whole-numbered positions of a grid that covers a box."""
    import numpy as np

    i = np.arange(math.floor(box[0] / dx), math.ceil(box[2] / dx))
    j = np.arange(math.floor(box[1] / dy), math.ceil(box[3] / dy))
    columns, rows = np.meshgrid(i, j)
    return columns.ravel(), rows.ravel()


def _stack(a: float, b: float, box: tuple[float, float, float, float]) -> NDArray[Any]:
    import numpy as np

    i, j = _grid(box, a, b)
    return np.column_stack([i * a, j * b, np.zeros(len(i))])


def _running(a: float, b: float, box: tuple[float, float, float, float]) -> NDArray[Any]:
    return _staggered(a, b, box, 2)


def _third(a: float, b: float, box: tuple[float, float, float, float]) -> NDArray[Any]:
    return _staggered(a, b, box, 3)


def _staggered(
    a: float, b: float, box: tuple[float, float, float, float], courses: int
) -> NDArray[Any]:
    """Each course set back by one part of a paver, until the first joint comes round again."""
    import numpy as np

    i, j = _grid((box[0], box[1], box[2] + a, box[3]), a, b)
    return np.column_stack([i * a - (j % courses) * a / courses, j * b, np.zeros(len(i))])


def _basket(a: float, b: float, box: tuple[float, float, float, float]) -> NDArray[Any]:
    import numpy as np

    i, j = _grid(box, a, a)
    upright = (i + j) % 2
    first = np.column_stack([i * a, j * a, upright])
    second = first + np.column_stack([upright * b, (1 - upright) * b, np.zeros(len(i))])
    return np.vstack([first, second])


def _herringbone(a: float, b: float, box: tuple[float, float, float, float]) -> NDArray[Any]:
    """On squares of one width: those with x - y = 0 (mod 4) start a lying paver, 3 an upright."""
    import numpy as np

    i, j = _grid((box[0] - a, box[1] - a, box[2], box[3]), b, b)
    turn = (i - j) % 4
    kept = (turn == 0) | (turn == 3)
    found: NDArray[Any] = np.column_stack([i * b, j * b, turn == 3])[kept]
    return found


@dataclass(frozen=True, slots=True)
class Bond:
    """How a pattern is laid: the places of its cells, and what it asks of its pavers."""

    lay: Callable[[float, float, tuple[float, float, float, float]], NDArray[Any]]
    both_ways: bool = False  # they must be twice as long as wide, joints included
    slant: float = 0.0  # degrees between its lines and the edge


#: Patterns that are laid out; any other is counted by a percentage.
BONDS = {
    "stack bond": Bond(_stack),
    "running bond": Bond(_running),
    "third bond": Bond(_third),
    "basket weave": Bond(_basket, both_ways=True),
    "herringbone 90": Bond(_herringbone, both_ways=True),
    "herringbone 45": Bond(_herringbone, both_ways=True, slant=45.0),
}
