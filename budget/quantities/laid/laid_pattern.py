"""The pavers of some shapes counted by laying their pattern out on the outline.

The order an estimator would sign: whole pavers and cut pavers of the least lucky start, less
the cut pieces that come out of another paver's offcut, never less than the area asks for; then
some for those that break, for cuts that are spoiled, and spares to keep for later repair.

A larger rectangle never uses up fewer pavers than a smaller one, breaks fewer or keeps fewer
spares: all three follow the count, and what paves the larger one, cut down, paves the smaller.
Its order falls below the smaller one's by no more than the smaller one's spoiled cuts, and then
rightly: in whole modules nothing is cut, so nothing is spoiled.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from budget.figures import Figure, laid_out, largest, minus, product, ratio, total
from budget.numerals import grouped
from budget.quantities.formulas.spares import in_words, to_order
from budget.quantities.laid.bonds import BONDS, Unit, unit_for
from budget.quantities.plan.outlines import drawing
from budget.quantities.plan.parts import Part, Piece, Ring, add
from budget.quantities.plan.regions import rings, union
from budget.quantities.takeoff import PatternDrawing
from budget.reference import coefficient
from budget.units import COUNT, DEPTH, LENGTH, NUMBER, System

if TYPE_CHECKING:
    from budget.quantities.laid.layout import Laying, Layout


#: The pattern of several sizes together.
RANDOM = "random"
_BY = ("where laying starts", "how the sizes are drawn")
#: Chords of a curve fall short of it by less than this share.
_ROUNDING = 1e-3
_STRAIGHT = 1e-6  # m, how far a corner must stand out to be one


@dataclass(frozen=True, slots=True)
class LaidPattern:
    """One paver in one pattern on the outline of some shapes."""

    part: str
    item: str
    pattern: str
    unit: Unit
    outlines: tuple[tuple[Ring, ...], ...]
    layouts: tuple[Layout, ...]

    @property
    def _key(self) -> str:
        return f"layout of {self.item}, {self.part}, {self.pattern}"

    def _worst(self) -> list[Laying]:
        return [layout.worst for layout in self.layouts]

    def _counted(self, what: str, name: str) -> Figure:
        count = sum(getattr(laying, what) for laying in self._worst())
        source = f"{self.pattern} laid out on the outline"
        return laid_out(count, COUNT, name, f"{self._key}: {what}", source)

    @property
    def fewest(self) -> int:
        """Pavers used up from the luckiest start."""
        return sum(min(lay.units for lay in layout.layings) for layout in self.layouts)

    @property
    def most(self) -> int:
        """Pavers used up from the least lucky start."""
        return sum(laying.units for laying in self._worst())

    def needed(self, neat: Figure) -> Figure:
        """Pavers used up, at least what the area asks for [count]."""
        laid = total("pavers laid", (self._counted("whole", "whole pavers"), self.cuts()))
        used = minus("pavers used up", laid, self._counted("reused", "pieces from offcuts"))
        return largest("pavers needed", used, neat)

    def cuts(self) -> Figure:
        """Cut pavers [count]."""
        return self._counted("cut", "cut pavers")

    def order(self, neat: Figure, spares: Figure) -> Figure:
        """Pavers needed, with broken and spoiled ones and the share of spares to keep [count]."""
        return to_order(self.item, self.needed(neat), self.cuts(), spares)

    def cut_length(self, pieces: Sequence[Piece]) -> Figure:
        """Length of cuts [m].

        Of shapes without a place, less the share of the edge against other paving: some of it
        may be between themselves, where nothing is cut. On the plan such edges are inside.
        """
        length = sum(laying.cut_length for laying in self._worst())
        source = f"{self.pattern} laid out on the outline"
        around = sum(_around(ring) for outline in self.outlines for ring in outline)
        free = add(
            "edge not against other paving",
            [f for p in pieces for f in (p.edges.free_straight, p.edges.free_curved)],
        )
        known = all(piece.placed for piece in pieces)
        if known or free.value >= around * (1 - _ROUNDING):
            return laid_out(length, LENGTH, "edge to cut", f"{self._key}: cut length", source)
        cut = laid_out(length, LENGTH, "cuts all round", f"{self._key}: cut length", source)
        edge = laid_out(around, LENGTH, "edge as laid out", f"{self._key}: edge", source)
        share = ratio("share not against other paving", NUMBER, free, edge)
        return product("edge to cut", LENGTH, cut, share)

    def why(self, rule: str, neat: Figure, spares: Figure) -> str:
        """How the order came about, in words; ``rule`` is what a rule of thumb would add."""
        worst = self._worst()
        whole, cut = (sum(getattr(lay, name) for lay in worst) for name in ("whole", "cut"))
        reused = sum(lay.reused for lay in worst)
        where = (
            f"{grouped(self.most)} wherever laying starts"
            if self.fewest == self.most
            else f"{grouped(self.fewest)} to {grouped(self.most)} by {_BY[self.pattern == RANDOM]}"
        )
        cuts = f" and {grouped(cut)} cut, {grouped(reused)} of them from offcuts"
        laid = f"{grouped(whole)} whole{cuts if cut else ', none cut'}"
        how = (
            "Random, in courses drawn by lot,"
            if self.pattern == RANDOM
            else self.pattern.capitalize()
        )
        return (
            f"{how} laid out on the outline: {laid}; {where}. "
            f"{in_words(self.needed(neat), spares)} A rule of thumb would add {rule}."
        )

    def drawing(self) -> PatternDrawing:
        """The pattern from the best start, to draw."""
        starts = {layout.drawn_from or layout.best.start for layout in self.layouts}
        return PatternDrawing(
            item=self.item,
            pattern=self.pattern,
            start=starts.pop() if len(starts) == 1 else "",
            outlines=tuple(ring for outline in self.outlines for ring in outline),
            shapes=tuple(layout.drawn for layout in self.layouts),
            counted=(
                sum(laying.whole for laying in self._worst()),
                sum(laying.cut for laying in self._worst()),
            ),
        )

    @property
    def slivers(self) -> int:
        """Strips too narrow to lay, from the best start."""
        return sum(layout.best.slivers for layout in self.layouts)

    @property
    def narrowest(self) -> Figure:
        """The narrowest strip from the best start [m]."""
        found = min(layout.best.narrowest for layout in self.layouts)
        return laid_out(found, DEPTH, "narrowest strip", f"{self._key}: narrowest")


def _around(ring: Ring) -> float:
    return sum(math.dist(*pair) for pair in zip(ring, (*ring[1:], ring[0]), strict=True))


def lay_pattern(
    part: str,
    item: str,
    outlines: tuple[tuple[Ring, ...], ...],
    pattern: str,
    sizes: tuple[Figure, Figure, Figure],
) -> LaidPattern | None:
    """Lay a pattern out on outlines; nothing if there are none or the pattern does not fit.

    :param sizes: true length and width of the paver and its joint [m]
    """
    unit = unit_for(pattern, *(size.value for size in sizes))
    if unit is None or not outlines or pattern not in BONDS:
        return None
    from budget.quantities.laid.layout import lay_out

    sliver = coefficient("smallest piece").likely
    layouts = tuple(lay_out(outline, pattern, unit, sliver) for outline in outlines)
    return LaidPattern(part, item, pattern, unit, outlines, layouts)


def outlines_of(
    part: str, added: Sequence[Piece], cut_out: Sequence[Piece], system: System
) -> tuple[tuple[Ring, ...], ...]:
    """The outlines of shapes as drawn, touching ones together: outer ring, then holes [m].

    Nothing where one of them is given by its area alone.
    """
    if any(piece.row.shape == "measured" for piece in (*added, *cut_out)):
        return ()
    from shapely import Polygon

    outlines, holes, _ = drawing(Part(part, tuple(added), tuple(cut_out)), system)
    region = union([Polygon(ring) for ring in outlines])
    if holes:
        region = region.difference(union([Polygon(ring) for ring in holes]))
    return rings(region.simplify(_STRAIGHT))
