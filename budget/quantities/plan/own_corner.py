"""Shapes seen from a corner of their own: equal ones are laid out once, wherever they lie."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

Point = tuple[float, float]
Ring = tuple[Point, ...]
Rings = tuple[Ring, ...]

#: Decimals of a metre that count from the corner: a millionth of a millimetre, still far more
#: than arithmetic far out on a plan loses, and far less than a saw cuts to.
GRAIN = 9
_DRAWN = 4  # decimals of a metre in a drawing


def from_corner(outline: Sequence[Ring]) -> tuple[Point, Rings]:
    """The lower left corner of the rectangle around an outline, and its rings as seen from it.

    :param outline: the outer ring, then holes [m]

    >>> from_corner((((3.0, 5.1), (4.0, 5.1), (4.0, 6.2)),))
    ((3.0, 5.1), (((0.0, 0.0), (1.0, 0.0), (1.0, 1.1)),))
    """
    left, low = min(x for x, _ in outline[0]), min(y for _, y in outline[0])
    return (left, low), tuple(
        tuple((round(x - left, GRAIN), round(y - low, GRAIN)) for x, y in ring) for ring in outline
    )


@dataclass(frozen=True, slots=True)
class Drawn:
    """Pavers of one shape to draw: rings of corners [m] as seen from ``corner`` of the shape.

    >>> Drawn((), (((0.0, 0.0), (0.2, 0.0), (0.0, 0.1)),), (3.0, 5.1)).cut
    (((3.0, 5.1), (3.2, 5.1), (3.0, 5.2)),)
    """

    seen_whole: Rings = ()
    seen_cut: Rings = ()
    corner: Point = (0.0, 0.0)

    @property
    def whole(self) -> Rings:
        """Whole pavers as they lie on the plan [m]; none where there are very many."""
        return self._on_plan(self.seen_whole)

    @property
    def cut(self) -> Rings:
        """Cut pavers as they lie on the plan [m]."""
        return self._on_plan(self.seen_cut)

    def _on_plan(self, rings: Rings) -> Rings:
        left, low = self.corner
        return tuple(
            tuple((round(x + left, _DRAWN), round(y + low, _DRAWN)) for x, y in ring)
            for ring in rings
        )
